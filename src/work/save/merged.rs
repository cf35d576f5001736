//! A file's document added to the one that is here: nothing that is here changes, what is the same is not put in twice.

use super::Bench;
use crate::cutlist::{Entry, From};
use crate::piece::{LOOSE, Piece, Source, Work};
use crate::price::{MOST_LINES, Opened, Rates};
use offsquare_units::grouped;
use offsquare_units::num::Gather;
use std::collections::BTreeMap;

/// What of a file is new here.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Added {
    pub pieces: usize,
    /// Loose parts.
    pub parts: usize,
    pub stocks: usize,
    /// The maker's usual figures, where there were none here.
    pub rates: bool,
    /// Packs and cans that are opened.
    pub opened: usize,
    /// Drafts, recent answers, lines of sums.
    pub answers: usize,
    /// Pieces and parts for which there is no room.
    pub left_out: usize,
}

impl Added {
    /// In words: "2 pieces, 1 kind of stock", or nothing.
    pub fn words(&self) -> String {
        let counted = [
            (self.pieces, "piece", "pieces"),
            (self.parts, "loose part", "loose parts"),
            (self.stocks, "kind of stock", "kinds of stock"),
            (usize::from(self.rates), "set of usual figures", ""),
            (self.opened, "opened pack or can", "opened packs and cans"),
            (self.answers, "answer", "answers"),
        ];
        words(&counted)
    }
}

fn words(counted: &[(usize, &str, &str)]) -> String {
    let all = counted.iter().filter(|(n, ..)| *n > 0);
    let words = all.map(|(n, one, many)| {
        format!("{} {}", grouped(*n as u64), if *n == 1 { one } else { many })
    });
    words.gather().join(", ")
}

/// A piece by all that belongs to it.
fn belongings(work: &Work, id: u32) -> (Option<&Piece>, Vec<&Entry>, Vec<&Source>) {
    let sources = work.sources.iter().filter(|s| s.piece == id).gather();
    (work.piece(id), work.parts_of(id).gather(), sources)
}

impl Bench {
    /// What it holds, in words: "3 pieces, 12 kinds of parts, 2 answers".
    pub fn holds(&self) -> String {
        let pieces = self.work.pieces.len().saturating_sub(1);
        let answers = self.drafts.len() + self.recent.len() + self.lengths.len();
        let counted = [
            (pieces, "piece", "pieces"),
            (self.work.parts.len(), "kind of part", "kinds of parts"),
            (answers, "answer", "answers"),
        ];
        match words(&counted) {
            words if words.is_empty() => "no pieces or answers".to_owned(),
            words => words,
        }
    }

    /// This document with a file's added. Pieces, parts and stock that need new ids stay connected.
    pub fn merged(&self, file: &Bench) -> (Bench, Added) {
        let (mut bench, mut added) = (self.clone(), Added::default());
        bench.merge_prices(file, &mut added);
        let stocks = bench.merge_stocks(file, &mut added);
        for piece in file.work.pieces.iter().filter(|p| p.id != LOOSE) {
            let same = belongings(&self.work, piece.id) == belongings(&file.work, piece.id);
            match !same && bench.merge_piece(&file.work, piece, &stocks) {
                true => added.pieces += 1,
                false => added.left_out += usize::from(!same),
            }
        }
        let loose = file.work.parts_of(LOOSE).filter(|e| self.work.part(e.id) != Some(*e)).gather();
        let fits = bench.work.no_room(loose.len()).is_none();
        if fits {
            added.parts = loose.len();
            let sources = bench.merge_sources(&file.work, LOOSE, LOOSE, |id| {
                loose.iter().any(|e| e.from.as_ref().is_some_and(|f| f.source == id))
            });
            for part in loose {
                bench.merge_part(part, LOOSE, &stocks, &sources);
            }
        } else {
            added.left_out += loose.len();
        }
        bench.merge_answers(file, &mut added);
        (bench, added)
    }

    fn merge_prices(&mut self, file: &Bench, added: &mut Added) {
        let (work, from) = (&mut self.work, &file.work);
        if work.rates == Rates::default() && from.rates != work.rates {
            let before = work.currency();
            work.rates = from.rates.clone();
            work.rack.in_money(&before, &work.rates.currency());
            added.rates = true;
        }
        let name = |o: &Opened| o.text("name").trim().to_lowercase();
        let here = work.shelf.iter().map(name).gather();
        for opened in &from.shelf {
            if !here.contains(&name(opened)) && work.shelf.len() < MOST_LINES {
                work.shelf.push(opened.clone());
                added.opened += 1;
            }
        }
    }

    /// Which stock here stands for a stock of the file.
    fn merge_stocks(&mut self, file: &Bench, added: &mut Added) -> BTreeMap<u32, u32> {
        let mut ids = BTreeMap::new();
        let mut from = file.work.rack.clone();
        from.in_money(&file.work.currency(), &self.work.currency());
        for stock in &from.stocks {
            let rack = &mut self.work.rack;
            let section = |s: &crate::rack::Stock| (s.name.clone(), s.thickness, s.width, s.sheet);
            let like = rack.stocks.iter().find(|s| section(s) == section(stock));
            let id = match like {
                Some(there) => there.id,
                None if rack.no_stock().is_some() => continue,
                None => {
                    let free = rack.stock(stock.id).is_none();
                    let next = self.work.ids.next(rack.stocks.iter().map(|s| s.id));
                    let id = if free { stock.id } else { next };
                    rack.stocks.push(crate::rack::Stock { id, ..stock.clone() });
                    added.stocks += 1;
                    id
                }
            };
            ids.insert(stock.id, id);
        }
        ids
    }

    /// Whether there was room.
    fn merge_piece(&mut self, file: &Work, piece: &Piece, stocks: &BTreeMap<u32, u32>) -> bool {
        let (_, parts, sources) = belongings(file, piece.id);
        let work = &mut self.work;
        if work.no_room_for_piece().is_some()
            || work.no_room(parts.len()).is_some()
            || work.no_room_for_sources(sources.len()).is_some()
        {
            return false;
        }
        let id = if work.piece(piece.id).is_none() { piece.id } else { work.next_piece() };
        let mut new = Piece { id, ..piece.clone() };
        for over in &mut new.overrides {
            over.stock = over.stock.and_then(|s| stocks.get(&s).copied());
        }
        let moved = self.merge_sources(file, piece.id, id, |_| true);
        new.pattern = piece.pattern.and_then(|p| moved.get(&p).copied());
        self.work.pieces.push(new);
        for part in parts {
            self.merge_part(part, id, stocks, &moved);
        }
        true
    }

    /// Takes over the layouts of a piece; gives where they are here.
    fn merge_sources(
        &mut self,
        file: &Work,
        from: u32,
        to: u32,
        wanted: impl Fn(u32) -> bool,
    ) -> BTreeMap<u32, u32> {
        let mut moved = BTreeMap::new();
        for source in file.sources.iter().filter(|s| s.piece == from && wanted(s.id)) {
            let work = &mut self.work;
            let free = work.sources.iter().all(|s| s.id != source.id);
            let id = if free { source.id } else { work.next_source() };
            moved.insert(source.id, id);
            work.sources.push(Source { id, piece: to, live: false, ..source.clone() });
        }
        moved
    }

    fn merge_part(
        &mut self,
        part: &Entry,
        piece: u32,
        stocks: &BTreeMap<u32, u32>,
        sources: &BTreeMap<u32, u32>,
    ) {
        let work = &mut self.work;
        let next = work.ids.next(work.parts.iter().map(|e| e.id));
        let id = if work.part(part.id).is_none() { part.id } else { next };
        let stock = part.stock.and_then(|s| stocks.get(&s).copied());
        let from = part
            .from
            .as_ref()
            .and_then(|f| Some(From { source: *sources.get(&f.source)?, ..f.clone() }));
        work.parts.push(Entry { id, piece, stock, from, ..part.clone() });
    }

    fn merge_answers(&mut self, file: &Bench, added: &mut Added) {
        for draft in
            file.drafts.iter().filter(|d| self.draft(&d.layout).is_none()).cloned().gather()
        {
            self.drafts.push(draft);
            added.answers += 1;
        }
        for recent in file.recent.iter().rev() {
            if !self.recent.iter().any(|r| r.is_like(recent)) {
                self.remember(recent.clone());
                added.answers += 1;
            }
        }
        if self.lengths.is_empty() && !file.lengths.is_empty() {
            self.lengths = file.lengths.clone();
            added.answers += file.lengths.len();
        }
    }
}
