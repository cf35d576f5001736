//! Pieces put in, copied and taken out, and what is overridden of their patterns' parts.

use super::draft::Draft;
use super::examples::{EXAMPLES, example, examples};
use super::follow::chosen;
use super::made::{LOOSE, MOST_PIECES, Override, Piece, with_changes};
use super::shop::Shop;
use super::source::Source;
use super::work::Work;
use crate::cutlist::{Entry, From, MOST_PARTS, fit};
use crate::rack::Written;
use offsquare_units::num::Gather;
use offsquare_units::{Unit, grouped};
use std::collections::BTreeSet;

/// The first id that a piece, a source or a part by itself gets.
const FIRST: u32 = LOOSE + 1;

impl Work {
    pub fn piece(&self, id: u32) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.id == id)
    }

    pub(super) fn piece_mut(&mut self, id: u32) -> Option<&mut Piece> {
        self.pieces.iter_mut().find(|p| p.id == id)
    }

    pub fn parts_of(&self, piece: u32) -> impl Iterator<Item = &Entry> {
        self.parts.iter().filter(move |e| e.piece == piece)
    }

    /// The source that is a piece's pattern.
    pub fn pattern(&self, piece: u32) -> Option<&Source> {
        let pattern = self.piece(piece)?.pattern?;
        self.sources.iter().find(|s| s.id == pattern)
    }

    /// The only piece that is planned and has parts: what a batch of it costs can be asked.
    pub fn alone(&self) -> Option<&Piece> {
        let has_parts = |p: &&Piece| p.planned && self.parts_of(p.id).next().is_some();
        let mut all = self.pieces.iter().filter(has_parts);
        all.next().filter(|_| all.next().is_none())
    }

    /// The id that the next piece gets.
    pub fn next_piece(&self) -> u32 {
        self.ids.next(self.pieces.iter().map(|p| p.id))
    }

    /// Why no piece can be added, if none can.
    pub fn no_room_for_piece(&self) -> Option<String> {
        let full = self.pieces.len() > MOST_PIECES;
        full.then(|| {
            let most = grouped(MOST_PIECES as u64);
            format!("There are {most} pieces, which is the most. Remove some first.")
        })
    }

    /// Whether a text would be taken, or what would be right.
    pub fn try_piece(&self, id: u32, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut piece = self.piece(id).cloned().unwrap_or_default();
        piece.write(key, text, unit)
    }

    /// The name itself, or with the first number that no piece has: "Gate", "Gate 2", and after that "Gate 3".
    pub(super) fn free_name(&self, name: &str) -> String {
        let taken = |name: &str| self.pieces.iter().any(|p| p.called() == name);
        let numbered = name.rsplit_once(' ').filter(|(_, n)| n.bytes().all(|b| b.is_ascii_digit()));
        let stem = numbered.map(|(stem, _)| stem).filter(|stem| taken(stem)).unwrap_or(name);
        let all = (2..).map(|n| format!("{stem} {n}"));
        let mut all = core::iter::once(name.to_owned()).chain(all);
        all.find(|name| !taken(name)).unwrap_or_default()
    }

    /// A piece like that one; named after its pattern where it has no name.
    pub(super) fn add_piece(&mut self, like: Piece, pattern: Option<Draft>, shop: &Shop) {
        if self.no_room_for_piece().is_some() {
            return;
        }
        let mut piece = Piece { id: self.next_piece(), ..like };
        let Some(draft) = pattern else {
            self.pieces.push(piece);
            return;
        };
        let Some(layout) = draft.layout().filter(|_| self.can_follow(&draft, shop).is_some())
        else {
            return;
        };
        let name = if piece.name.is_empty() { layout.question() } else { &piece.name };
        piece.name = self.free_name(name);
        piece.pattern = Some(self.next_source());
        let id = piece.id;
        self.pieces.push(piece);
        self.start_following(id, draft, shop);
    }

    /// Nothing where its pattern has not come yet.
    pub(super) fn open_example(&mut self, which: usize, shop: &Shop) {
        let Some(example) = examples().get(which) else { return };
        let (name, note) = (example.name.to_owned(), example.note.to_owned());
        let like = Piece { name, note, batch: example.batch, ..Piece::default() };
        if let Some(draft) = example.draft() {
            self.add_piece(like, Some(draft), shop);
        }
    }

    /// One piece by itself: its parts, its layouts, and of the rack the stock that they name. Its ids count from 1, but
    /// for those of stock; nothing of it is cut yet, and no screen shows it.
    pub fn only(&self, id: u32) -> Option<Work> {
        let piece = self.piece(id)?;
        let sources: Vec<&Source> = self.sources.iter().filter(|s| s.piece == id).gather();
        let moved = |old: u32| {
            let at = sources.iter().position(|s| s.id == old)?;
            Some(FIRST.saturating_add(at as u32))
        };
        let renumbered = |(entry, id): (&Entry, u32)| {
            let mut entry = Entry { id, piece: FIRST, done: false, ..entry.clone() };
            entry.from = entry.from.and_then(|f| Some(From { source: moved(f.source)?, ..f }));
            entry
        };
        let parts = self.parts_of(id).zip(FIRST..).map(renumbered).gather();
        let named: BTreeSet<u32> = parts
            .iter()
            .filter_map(|e| e.stock)
            .chain(piece.overrides.iter().filter_map(|o| o.stock))
            .collect();
        let mut work = Work { parts: parts.into(), ..Work::default() };
        work.rack.stocks.clear();
        let stocks = self.rack.stocks.iter().filter(|s| named.contains(&s.id));
        work.rack.stocks.extend(stocks.cloned());
        let pattern = piece.pattern.and_then(moved);
        let name = piece.called();
        let mut piece = Piece { id: FIRST, name, pattern, clock: 0, ..piece.clone() };
        // It has not been offered yet.
        piece.priced.tried.clear();
        work.pieces.push(piece);
        work.sources = sources
            .iter()
            .zip(FIRST..)
            .map(|(s, id)| Source { id, piece: FIRST, live: false, ..(*s).clone() })
            .gather()
            .into();
        Some(work)
    }

    /// Why there is no room for a piece of so many kinds of parts and layouts, if there is none.
    pub(super) fn no_room_for(&self, parts: usize, sources: usize) -> Option<String> {
        self.no_room_for_piece()
            .or_else(|| self.no_room(parts))
            .or_else(|| self.no_room_for_sources(sources))
    }

    /// Puts in a piece that stands by itself; `stock`: what its stock is called in this rack.
    pub(super) fn put_in(&mut self, one: &Work, planned: bool, stock: &dyn Fn(u32) -> Option<u32>) {
        let full = self.no_room_for(one.parts.len(), one.sources.len());
        let Some(piece) = one.piece(FIRST).filter(|_| full.is_none()) else { return };
        let (id, first) = (self.next_piece(), self.next_source());
        let moved = |old: u32| first.saturating_add(old.saturating_sub(FIRST));
        let name = self.free_name(&piece.called());
        let pattern = piece.pattern.map(moved);
        let mut piece = Piece { id, name, pattern, planned, ..piece.clone() };
        for over in &mut piece.overrides {
            over.stock = over.stock.and_then(stock);
        }
        self.pieces.push(piece);
        for entry in &one.parts {
            let mut entry =
                Entry { piece: id, stock: entry.stock.and_then(stock), ..entry.clone() };
            if let Some(from) = entry.from.as_mut() {
                from.source = moved(from.source);
            }
            self.put(entry);
        }
        for source in &one.sources {
            self.sources.push(Source { id: moved(source.id), piece: id, ..source.clone() });
        }
    }

    /// A variant: the same sizes, parts and overrides, followed by themselves.
    pub(super) fn copy_piece(&mut self, id: u32) {
        if let Some(one) = self.only(id) {
            self.put_in(&one, false, &Some);
        }
    }

    /// An example's parts; a piece that has no name yet is called after it.
    pub(super) fn put_example(&mut self, id: u32, which: usize) {
        for entry in example(which, &self.rack) {
            self.put(Entry { piece: id, ..entry });
        }
        let name = EXAMPLES.get(which).map(|name| self.free_name(name));
        if let Some(piece) = self.piece_mut(id).filter(|p| p.id != LOOSE && p.name.is_empty()) {
            piece.name = name.unwrap_or_default();
        }
    }

    pub(super) fn remove_piece(&mut self, id: u32) {
        if id != LOOSE {
            self.clear(|_, e| e.piece == id);
            self.sources.retain(|s| s.piece != id);
            self.pieces.retain(|p| p.id != id);
        }
    }

    /// Takes these parts off the list, and lets go of kept boards that hold any of them.
    pub(super) fn clear(&mut self, goes: impl Fn(&Work, &Entry) -> bool) {
        let gone: Vec<u32> = self.parts.iter().filter(|e| goes(self, e)).map(|e| e.id).gather();
        self.parts.retain(|e| !gone.contains(&e.id));
        self.kept.retain(|k| !k.parts.iter().any(|p| gone.contains(&p.entry)));
    }

    /// The piece whose pattern this part follows.
    pub fn pattern_of(&self, entry: &Entry) -> Option<&Piece> {
        let from = entry.from.as_ref()?;
        self.piece(entry.piece).filter(|p| p.pattern == Some(from.source))
    }

    /// The override that holds on a part, and its place among its piece's.
    pub fn overridden(&self, part: u32) -> Option<(usize, &Override)> {
        let entry = self.part(part)?;
        let from = entry.from.as_ref()?;
        let all = &self.pattern_of(entry)?.overrides;
        let at = all.iter().position(|o| o.is_of(from))?;
        Some((at, &all[at]))
    }

    /// What stands of a part now is the maker's: it is kept as an override where it follows a pattern.
    fn note(&mut self, part: u32, key: &str) {
        let Some(entry) = self.part(part).cloned() else { return };
        let Some(piece) = self.pattern_of(&entry).map(|p| p.id) else { return };
        let at = self.overridden(part).map(|o| o.0);
        let (Some(from), Some(piece)) = (&entry.from, self.piece_mut(piece)) else { return };
        let at = at.unwrap_or(piece.overrides.len());
        if at == piece.overrides.len() && at < MOST_PARTS {
            piece.overrides.push(Override::of(from));
        }
        if let Some(over) = piece.overrides.get_mut(at) {
            over.set(key, Some(&entry));
        }
        piece.overrides.retain(|o| !o.keys().is_empty());
    }

    pub(super) fn write_part(&mut self, id: u32, key: &str, text: &str, unit: Unit) {
        // A text that says nothing yet stays in its field, with its sentence.
        let part = self.parts.iter_mut().find(|e| e.id == id);
        if part.is_some_and(|e| e.write(key, text, unit).is_ok())
            && let Some(key) = Override::key_of(key)
        {
            self.note(id, key);
        }
    }

    /// One part, or all that have no stock and fit this one, are cut from it.
    pub(super) fn cut_from(&mut self, id: Option<u32>, stock: Option<u32>) {
        let fits = |e: &Entry| self.rack.stock_of(stock).is_none_or(|s| fit(s, e).is_ok());
        let own = |e: &&Entry| match id {
            Some(id) => e.id == id,
            None => self.rack.stock_of(e.stock).is_none() && fits(e),
        };
        let all: Vec<u32> = self.parts.iter().filter(own).map(|e| e.id).gather();
        for id in all {
            if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                e.stock = stock;
            }
            self.note(id, "stock");
        }
    }

    /// A part that follows a layout is not followed again; a pattern's is left out.
    pub(super) fn remove_part(&mut self, id: u32) {
        let Some(entry) = self.part(id).cloned() else { return };
        if self.pattern_of(&entry).is_some() {
            return self.write_part(id, "count", "0", Unit::Inch);
        }
        self.take_off(&entry);
        self.parts.retain(|e| e.id != id);
    }

    /// The part is the maker's own from now on.
    pub(super) fn let_go(&mut self, id: u32) {
        let Some(entry) = self.part(id).cloned() else { return };
        if let Some((at, _)) = self.overridden(id)
            && let Some(piece) = self.piece_mut(entry.piece)
        {
            piece.overrides.remove(at);
        }
        self.take_off(&entry);
        if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
            e.from = None;
            e.stale = false;
        }
    }

    /// Its source makes this part no more.
    fn take_off(&mut self, entry: &Entry) {
        if let Some(from) = &entry.from
            && let Some(s) = self.sources.iter_mut().find(|s| s.id == from.source)
        {
            s.off.push((from.part.clone(), from.nth));
        }
    }

    pub(super) fn as_made(&mut self, id: u32, at: usize, key: Option<&'static str>, shop: &Shop) {
        let Some(piece) = self.piece_mut(id) else { return };
        let Some(over) = piece.overrides.get_mut(at) else { return };
        match key {
            Some(key) => over.set(key, None),
            None => {
                let (part, which) = (over.part.clone(), over.which);
                *over = Override { part, which, ..Override::default() };
            }
        }
        let kept = over.clone();
        piece.overrides.retain(|o| !o.keys().is_empty());
        let Some(pattern) = piece.pattern else { return };
        let is = |e: &&mut Entry| {
            let own = |f: &From| f.source == pattern && kept.is_of(f);
            e.from.as_ref().is_some_and(own)
        };
        if let Some(e) = self.parts.iter_mut().find(is) {
            // Its stock is found again, as the pattern's.
            e.stock = kept.stock;
            e.count = e.from.as_ref().map_or(e.count, |f| f.count);
        }
        self.follow(pattern, shop);
    }

    /// The overrides of a piece that no longer fit, each by its place, and why.
    pub fn strays(&self, piece: u32, shop: &Shop) -> Vec<(usize, String)> {
        let Some(piece) = self.piece(piece).filter(|p| !p.overrides.is_empty()) else {
            return Vec::new();
        };
        let draft = self.pattern(piece.id).map(|s| &s.draft);
        let solved = draft.and_then(|draft| chosen(draft, shop));
        let misfits = solved.map(|s| with_changes(&s.solution, &piece.overrides).1);
        let misfits = misfits.unwrap_or_default();
        let of = |(i, over): (usize, &Override)| {
            let is = |e: &&Entry| {
                let own = |f: &From| Some(f.source) == piece.pattern && over.is_of(f);
                e.from.as_ref().is_some_and(own)
            };
            let part = match over.line() {
                0 => format!("\u{201c}{}\u{201d}", over.part),
                n => format!("\u{201c}{}\u{201d} ({})", over.part, n + 1),
            };
            if !self.parts_of(piece.id).any(|e| is(&e)) {
                return Some(format!(
                    "The piece has no {part} any more: what you changed of it is kept and does nothing."
                ));
            }
            if over.stock.is_some_and(|id| self.rack.stock(id).is_none()) {
                return Some(format!(
                    "The stock that you picked for {part} is no longer in the rack."
                ));
            }
            let misfit = misfits.iter().find(|m| m.change == i);
            misfit.map(|m| m.text.render(&shop.style()))
        };
        let all = piece.overrides.iter().enumerate();
        all.filter_map(|(i, over)| Some((i, of((i, over))?))).gather()
    }
}
