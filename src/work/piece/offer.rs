//! A piece that came from elsewhere, by a link or a file, while it waits for a yes.

use super::made::{LOOSE, Piece};
use super::pieces::FIRST;
use super::work::Work;
use crate::cutlist::{Entry, From, how_many};
use crate::rack::{MOST_ROWS, MOST_STOCKS, Rack, Stock};
use offsquare_units::Length;
use offsquare_units::num::{Gather, sort_by};
use std::collections::BTreeMap;

/// One piece by itself; nothing of it is in the list or the rack yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    one: Work,
    /// What of it could not be read, in plain sentences.
    pub said: Vec<String>,
}

/// Two sizes of a section this near are the same, in inches.
const SAME: f64 = 1e-3;

/// The same material in the same section, whatever it costs.
fn is_same(a: &Stock, b: &Stock) -> bool {
    let name = |s: &Stock| s.name.trim().to_lowercase();
    let near = |a: Length, b: Length| (a - b).abs().0 <= SAME;
    name(a) == name(b)
        && a.sheet == b.sheet
        && near(a.thickness, b.thickness)
        && near(a.width, b.width)
}

impl Offer {
    /// The first piece of a work but for *Loose parts*, its layouts followed already. None where there is none.
    pub fn of(work: &Work, mut said: Vec<String>) -> Option<Offer> {
        let id = work.pieces.iter().map(|p| p.id).find(|id| *id != LOOSE)?;
        let mut one = work.only(id)?;
        // Those of another device are not here.
        one.pieces.iter_mut().for_each(|p| p.pictures.clear());
        // As a list has them where nothing was put in by hand: layout by layout, then the maker's own.
        let source = |e: &Entry| e.from.as_ref().map_or(u32::MAX, |f: &From| f.source);
        sort_by(&mut one.parts, |a, b| source(a).cmp(&source(b)));
        let makes = |id: u32| one.parts.iter().any(|e| source(e) == id);
        let pattern = one.piece(FIRST).and_then(|p| p.pattern);
        let bare = one.sources.iter().filter(|s| !makes(s.id)).count();
        if bare > 0 {
            said.push(format!("Layouts in it that have no answer here, and so no parts: {bare}."));
        }
        let kept = one.sources.iter().filter(|s| makes(s.id) || Some(s.id) == pattern).cloned();
        one.sources = kept.collect();
        Some(Offer { one, said })
    }

    /// The piece; its ids are its own.
    pub fn piece(&self) -> Option<&Piece> {
        self.one.piece(FIRST)
    }

    /// The piece by itself, as [`Work::only`] gives it.
    pub fn work(&self) -> &Work {
        &self.one
    }

    pub fn parts(&self) -> &[Entry] {
        &self.one.parts
    }

    /// The stock that it names and that the rack does not have.
    pub fn new_stock<'a>(&'a self, rack: &Rack) -> Vec<&'a Stock> {
        let known = |s: &Stock| rack.stocks.iter().any(|own| is_same(own, s));
        self.one.rack.stocks.iter().filter(|s| !known(s)).gather()
    }

    /// What a maker wants to know before a yes: what it is, how much of it there is, what it adds to the rack.
    pub fn told(&self, work: &Work) -> Vec<String> {
        let mut out = Vec::new();
        let Some(piece) = self.piece() else { return out };
        let count = self.one.parts.iter().map(|e| e.count).fold(0, u32::saturating_add);
        out.push(match self.one.parts.len() {
            0 => "It has no parts.".to_owned(),
            kinds => format!("{}.", how_many(kinds, count)),
        });
        if piece.batch > 1 {
            out.push(format!("Made {} times.", piece.batch));
        }
        let pattern = self.one.pattern(FIRST).and_then(|s| s.draft.layout());
        out.extend(pattern.map(|p| format!("Its pattern: {}.", p.question())));
        let new = self.new_stock(&work.rack);
        let names: Vec<&str> = new.iter().map(|s| s.name.as_str()).gather();
        let priced = |s: &&Stock| s.rate.0 > 0 || s.sold.iter().any(|s| s.price.0 > 0);
        out.push(match (names.len(), self.one.rack.stocks.is_empty()) {
            (0, true) => "It names no stock; your rack stays as it is.".to_owned(),
            (0, false) => "Your rack has its stock already.".to_owned(),
            _ if new.iter().any(priced) => {
                format!("It adds to your rack, with prices: {}.", names.join(", "))
            }
            _ => format!("It adds to your rack, without prices: {}.", names.join(", ")),
        });
        let name = work.free_name(&piece.called());
        if name != piece.called() {
            out.push(format!(
                "There is a piece of that name: this one becomes \u{201c}{name}\u{201d}."
            ));
        }
        out
    }

    /// Why it cannot be added, if it cannot.
    pub fn no_room(&self, work: &Work) -> Option<String> {
        let rows = |all: &mut dyn Iterator<Item = &Stock>| -> usize {
            all.map(|s| s.sold.len() + s.owned.len()).sum()
        };
        let new = self.new_stock(&work.rack);
        let full = work.rack.stocks.len() + new.len() > MOST_STOCKS
            || rows(&mut work.rack.stocks.iter()) + rows(&mut new.into_iter()) > MOST_ROWS;
        let rack = || full.then(|| "The rack has no room for its stock. Remove some first.".into());
        work.no_room_for(&self.one).or_else(rack)
    }
}

impl Work {
    /// The piece with all that it needs; stock that the rack has already stays as it is.
    pub(super) fn add_offer(&mut self, offer: &Offer) {
        if offer.no_room(self).is_some() {
            return;
        }
        let mut ids = BTreeMap::new();
        for stock in &offer.one.rack.stocks {
            let own = self.rack.stocks.iter().find(|own| is_same(own, stock)).map(|own| own.id);
            let id = own.unwrap_or_else(|| {
                let id = self.rack.next_id();
                self.rack.stocks.push(Stock { id, ..stock.clone() });
                id
            });
            ids.insert(stock.id, id);
        }
        self.put_in(&offer.one, true, &|id| ids.get(&id).copied());
    }
}
