//! A piece that came from elsewhere, by a link or a file, while it waits for a yes.

use super::made::{LOOSE, Piece};
use super::pieces::FIRST;
use super::shop::Shop;
use super::work::Work;
use crate::cutlist::{Entry, From};
use crate::rack::{MOST_ROWS, MOST_STOCKS, Rack, Stock};
use offsquare_units::Length;
use offsquare_units::num::{Gather, sort_by};
use std::collections::BTreeMap;

/// One piece by itself, worked out for this shop; nothing of it is in the list or the rack yet.
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
    /// The first piece of a work but for *Loose parts*, its layouts followed with this shop's saw. None where there is none.
    pub fn of(work: &Work, mut said: Vec<String>, shop: &Shop) -> Option<Offer> {
        let id = work.pieces.iter().map(|p| p.id).find(|id| *id != LOOSE)?;
        let mut one = work.only(id)?;
        one.follow_all(shop);
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

    pub fn parts(&self) -> &[Entry] {
        &self.one.parts
    }

    /// The stock that it names and that the rack does not have.
    pub fn new_stock<'a>(&'a self, rack: &Rack) -> Vec<&'a Stock> {
        let known = |s: &Stock| rack.stocks.iter().any(|own| is_same(own, s));
        self.one.rack.stocks.iter().filter(|s| !known(s)).gather()
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
