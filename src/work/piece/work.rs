//! What is to be made: the parts list with the layouts that it follows, the rack, and the choices made
//! on the way to boards. Screens send [`WorkEdit`]s; nothing else changes it.

use super::draft::Draft;
use super::edit::{Row, WorkEdit};
use super::made::{LOOSE, Piece};
use super::shared::Shared;
use super::shop::Shop;
use crate::cutlist::{
    Entry, Jobs, KeptBoard, NearlyFits, Pasted, Planned, PutAway, Summary, no_room, paste_into,
};
use crate::rack::{Owned, Rack, Sold, Stock, Written};
use offsquare_units::{Length, Unit, grouped};
use std::collections::BTreeSet;

/// A layout that entries come from, with its inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    pub id: u32,
    /// The piece that its parts belong to.
    pub piece: u32,
    pub draft: Draft,
    /// The layout's screen shows this draft now: what is typed there is followed here.
    pub live: bool,
    /// Parts (name, and which of that name) that the maker took off the list.
    pub off: Vec<(String, usize)>,
}

impl Default for Source {
    /// A source without a layout: what a broken row of a file becomes before it is set aside.
    fn default() -> Source {
        Source {
            id: 0,
            piece: LOOSE,
            draft: Draft {
                layout: String::new(),
                form: String::new(),
                typed: Vec::new(),
                way: None,
                give: None,
                others: Vec::new(),
                touched: false,
            },
            live: false,
            off: Vec::new(),
        }
    }
}

/// Everything from parts to boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// What is made; *Loose parts* stands first, always.
    pub pieces: Shared<Piece>,
    /// The parts of all pieces.
    pub parts: Shared<Entry>,
    pub sources: Shared<Source>,
    pub rack: Rack,
    /// The plain plan is the one that is cut.
    pub plain: bool,
    pub kept: Vec<KeptBoard>,
    /// Where the ids of what is put in here begin; not kept, and no part of what the document says.
    pub ids: Ids,
}

/// Ids of one tab: what two tabs put in at the same time has ids that differ.
#[derive(Clone, Copy, Debug, Default)]
pub struct Ids(pub u32);

impl PartialEq for Ids {
    fn eq(&self, _: &Ids) -> bool {
        true
    }
}

impl Ids {
    /// How many each tab has.
    pub const EACH: u32 = 1_000_000;
    /// How many tabs have their own.
    pub const TABS: u32 = u32::MAX / 2 / Ids::EACH;

    /// An id that none of these has: the one after the greatest of this tab.
    pub fn next(self, all: impl Iterator<Item = u32>) -> u32 {
        let first = self.0 % Ids::TABS * Ids::EACH;
        let last = first + Ids::EACH - 1;
        let most = all.filter(|id| (first..=last).contains(id)).max().unwrap_or(first);
        most.saturating_add(1)
    }
}

impl Default for Work {
    fn default() -> Work {
        Work {
            pieces: vec![Piece::default()].into(),
            parts: Shared::default(),
            sources: Shared::default(),
            rack: Rack::default(),
            plain: false,
            kept: Vec::new(),
            ids: Ids::default(),
        }
    }
}

/// Most layouts that a list follows, each solved again when the saw changes.
pub const MOST_SOURCES: usize = 1_000;

impl Work {
    pub fn part(&self, id: u32) -> Option<&Entry> {
        self.parts.iter().find(|e| e.id == id)
    }

    /// The planner's jobs for all that is planned: one buy, each piece as often as it is made.
    pub fn jobs(&self, shop: &Shop) -> Jobs {
        let times = |e: &Entry| self.piece(e.piece).map_or(0, Piece::times);
        Jobs::planned(&self.parts, &self.rack, shop.saw.kerf, &times, &self.kept)
    }

    /// Those of one piece, made so often and bought by itself.
    pub fn jobs_of(&self, piece: u32, times: u32, shop: &Shop) -> Jobs {
        let times = |e: &Entry| if e.piece == piece { times } else { 0 };
        Jobs::planned(&self.parts, &self.rack, shop.saw.kerf, &times, &[])
    }

    /// What the boards screen shows.
    pub fn summary(&self, jobs: &Jobs, planned: &Planned) -> Summary {
        Summary::of(jobs, planned, self.plain, &self.rack, &self.parts)
    }

    /// Why the list takes so many kinds of parts more no longer, if it does not.
    pub fn no_room(&self, more: usize) -> Option<String> {
        no_room(self.parts.len(), more)
    }

    /// The same for the parts of a layout, which the list would follow.
    pub fn no_room_to_follow(&self, more: usize) -> Option<String> {
        self.no_room(more).or_else(|| self.no_room_for_sources(1))
    }

    pub(super) fn no_room_for_sources(&self, more: usize) -> Option<String> {
        let full = self.sources.len() + more > MOST_SOURCES;
        full.then(|| {
            let most = grouped(MOST_SOURCES as u64);
            format!("The list follows {most} layouts, which is the most. Remove some first.")
        })
    }

    fn next_part(&self) -> u32 {
        self.ids.next(self.parts.iter().map(|e| e.id))
    }

    /// Into its piece, if there is that piece.
    pub(super) fn put(&mut self, mut entry: Entry) {
        if self.no_room(1).is_none() && self.piece(entry.piece).is_some() {
            entry.id = self.next_part();
            self.parts.push(entry);
        }
    }

    /// Whether a text would be taken, or what would be right.
    pub fn try_part(&self, id: u32, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut entry = self.part(id).cloned().unwrap_or_default();
        entry.write(key, text, unit)
    }

    /// The same for a row of the rack.
    pub fn try_rack(&self, row: Row, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut rack = self.rack.clone();
        write_row(&mut rack, row, key, text, unit)
    }

    /// A field of the rack as text.
    pub fn rack_text(&self, row: Row, key: &str, unit: Unit) -> String {
        let rack = &self.rack;
        match row {
            Row::Settings => rack.text(key, unit),
            Row::Stock(id) => rack.stock(id).map(|s| s.text(key, unit)).unwrap_or_default(),
            Row::Sold(id, i) => rack
                .stock(id)
                .and_then(|s| s.sold.get(i))
                .map(|s| s.text(key, unit))
                .unwrap_or_default(),
            Row::Owned(id, i) => rack
                .stock(id)
                .and_then(|s| s.owned.get(i))
                .map(|o| o.text(key, unit))
                .unwrap_or_default(),
        }
    }

    /// What a pasted text would come to.
    pub fn pasted(&self, text: &str, unit: Unit) -> Pasted {
        paste_into(self.parts.len(), text, &self.rack, unit)
    }

    /// The one place that changes it.
    pub fn apply(&mut self, edit: WorkEdit, shop: &Shop) {
        let unit = shop.unit;
        match edit {
            WorkEdit::AddPart(piece) => {
                let own = |e: &&Entry| e.piece == piece && e.from.is_none();
                let like = self.parts.iter().rev().find(own);
                let stock = like.and_then(|e| e.stock).or(self.rack.stocks.first().map(|s| s.id));
                self.put(Entry { piece, stock, give: usual_give(unit), ..Entry::default() });
            }
            WorkEdit::Part { id, key, text } => self.write_part(id, key, &text, unit),
            WorkEdit::CutFrom { id, stock } => self.cut_from(id, stock),
            WorkEdit::CopyPart(id) => {
                if let Some(e) = self.part(id).cloned() {
                    self.put(Entry { from: None, stale: false, ..e });
                }
            }
            WorkEdit::RemovePart(id) => self.remove_part(id),
            WorkEdit::ClearParts(piece) => {
                self.clear(|work, e| e.piece == piece && work.pattern_of(e).is_none());
            }
            WorkEdit::Done { id, done } => {
                if let Some(e) = self.parts.iter_mut().find(|e| e.id == id) {
                    e.done = done;
                }
            }
            WorkEdit::LetGo(id) => self.let_go(id),
            WorkEdit::Paste(piece, text) => {
                for entry in self.pasted(&text, unit).entries {
                    self.put(Entry { piece, ..entry });
                }
            }
            WorkEdit::Follow(piece, draft) => self.follow_new(piece, draft, shop),
            WorkEdit::Example(piece, i) => self.put_example(piece, i),
            WorkEdit::AddPiece { pattern } => self.add_piece(pattern, shop),
            WorkEdit::Piece { id, key, text } => {
                if let Some(piece) = self.piece_mut(id) {
                    // A text that says nothing yet stays in its field, with its sentence.
                    let _ = piece.write(key, &text, unit);
                }
            }
            WorkEdit::PlanPiece { id, planned } => {
                if let Some(piece) = self.piece_mut(id) {
                    piece.planned = planned;
                }
            }
            WorkEdit::PlanOnly(id) => {
                for piece in &mut self.pieces {
                    piece.planned = piece.id == id;
                }
            }
            WorkEdit::CopyPiece(id) => self.copy_piece(id),
            WorkEdit::RemovePiece(id) => self.remove_piece(id),
            WorkEdit::AsMade { piece, at, key } => self.as_made(piece, at, key, shop),
            WorkEdit::Plain(plain) => self.plain = plain,
            WorkEdit::Keep(kept) => self.kept.push(*kept),
            WorkEdit::Release(i) => {
                if i < self.kept.len() {
                    self.kept.remove(i);
                }
            }
            WorkEdit::NearlyFits { job, nearly } => self.nearly(job, &nearly, shop),
            WorkEdit::PutAway(all) => {
                for one in all {
                    self.put_away(one);
                }
            }
            edit => self.edit_rack(edit, unit),
        }
        let from = self.parts.iter().filter_map(|e| e.from.as_ref().map(|f| f.source));
        let used: BTreeSet<u32> =
            from.chain(self.pieces.iter().filter_map(|p| p.pattern)).collect();
        self.sources.retain(|s| used.contains(&s.id));
    }

    fn edit_rack(&mut self, edit: WorkEdit, unit: Unit) {
        match edit {
            WorkEdit::Rack { row, key, text } => {
                // A text that says nothing yet stays in its field, with its sentence.
                let _ = write_row(&mut self.rack, row, key, &text, unit);
            }
            // Where one of these is full, its key says so and asks for none.
            WorkEdit::AddStock if self.rack.no_stock().is_some() => {}
            WorkEdit::AddSold(_) | WorkEdit::AddOwned(_) if self.rack.no_row().is_some() => {}
            WorkEdit::AddStock => {
                let id = self.ids.next(self.rack.stocks.iter().map(|s| s.id));
                self.rack.stocks.push(Stock {
                    id,
                    name: format!("Stock {id}"),
                    thickness: Length(0.75),
                    width: Length(3.5),
                    ..Stock::default()
                });
            }
            WorkEdit::AddSold(id) => {
                if let Some(s) = self.rack.stock_mut(id) {
                    s.sold.push(Sold { length: Length(96.0), ..Sold::default() });
                }
            }
            WorkEdit::AddOwned(id) => {
                if let Some(s) = self.rack.stock_mut(id) {
                    s.owned.push(Owned { length: Length(48.0), count: 1, ..Owned::default() });
                }
            }
            WorkEdit::RemoveRow(row) => self.remove(row),
            // The rest are none of the rack's.
            _ => {}
        }
    }

    fn remove(&mut self, row: Row) {
        match row {
            Row::Settings => {}
            Row::Stock(id) => self.rack.stocks.retain(|s| s.id != id),
            Row::Sold(id, i) => {
                if let Some(s) = self.rack.stock_mut(id)
                    && i < s.sold.len()
                {
                    s.sold.remove(i);
                }
            }
            Row::Owned(id, i) => {
                if let Some(s) = self.rack.stock_mut(id)
                    && i < s.owned.len()
                {
                    s.owned.remove(i);
                }
            }
        }
    }

    /// Applies what nearly fits: parts are cut smaller, or the yard's boards measure more.
    fn nearly(&mut self, job: usize, nearly: &NearlyFits, shop: &Shop) {
        let mut jobs = self.jobs(shop).jobs;
        if job >= jobs.len() {
            return;
        }
        let job = jobs.swap_remove(job);
        if nearly.over {
            if let Some(stock) = self.rack.stock_mut(job.stock) {
                for sold in stock.sold.iter_mut().filter(|_| nearly.long) {
                    sold.over += nearly.by;
                }
                if nearly.wide {
                    stock.width += nearly.by;
                }
            }
            return;
        }
        let mut seen: Vec<u32> = Vec::new();
        for (part, (shorter, narrower)) in job.parts.iter().zip(job.given(nearly)) {
            if (shorter > 0.0 || narrower > 0.0)
                && !seen.contains(&part.entry)
                && let Some(e) = self.parts.iter_mut().find(|e| e.id == part.entry)
            {
                seen.push(part.entry);
                e.shortened += Length(shorter);
                e.narrowed += Length(narrower);
            }
        }
    }

    fn put_away(&mut self, one: PutAway) {
        let Some(stock) = self.rack.stock_mut(one.stock) else {
            return;
        };
        for (i, n) in one.bought {
            if let Some(left) = stock.sold.get_mut(i).and_then(|s| s.left.as_mut()) {
                *left = left.saturating_sub(n);
            }
        }
        for (i, n) in one.cut {
            if let Some(o) = stock.owned.get_mut(i) {
                o.count = o.count.saturating_sub(n);
            }
        }
        stock.owned.retain(|o| o.count > 0);
        for piece in one.kept {
            let same = stock.owned.iter_mut().find(|o| {
                (o.length - piece.length).abs().0 < 1e-9
                    && o.width == piece.width
                    && o.bad.is_empty()
                    && o.trim_left == piece.trim_left
                    && o.trim_right == piece.trim_right
            });
            match same {
                Some(o) => o.count += piece.count,
                None => stock.owned.push(piece),
            }
        }
        self.kept.retain(|k| k.stock != one.stock);
        for e in &mut self.parts {
            e.done |= one.done.contains(&e.id);
        }
    }
}

/// What a part of a new list may give: 1/8 in, or 3 mm.
fn usual_give(unit: Unit) -> Length {
    if unit.is_metric() { Length::mm(3.0) } else { Length(0.125) }
}

fn write_row(rack: &mut Rack, row: Row, key: &str, text: &str, unit: Unit) -> Result<(), String> {
    match row {
        Row::Settings => rack.write(key, text, unit),
        Row::Stock(id) => rack.stock_mut(id).map_or(Ok(()), |s| s.write(key, text, unit)),
        Row::Sold(id, i) => {
            let Some(stock) = rack.stock_mut(id) else {
                return Ok(());
            };
            let Some(sold) = stock.sold.get_mut(i) else {
                return Ok(());
            };
            sold.write(key, text, unit)?;
            if key == "price" {
                stock.sample = false;
            }
            Ok(())
        }
        Row::Owned(id, i) => rack
            .stock_mut(id)
            .and_then(|s| s.owned.get_mut(i))
            .map_or(Ok(()), |o| o.write(key, text, unit)),
    }
}
