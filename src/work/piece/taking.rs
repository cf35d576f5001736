//! A piece taken in: what is told of it, whether there is room, and all that it brings.

use super::made::{LOOSE, Piece};
use super::offer::{Offer, is_same};
use super::work::Work;
use crate::cutlist::{Entry, how_many};
use crate::rack::{MOST_ROWS, MOST_STOCKS, Stock};
use offsquare_units::num::{Gather, sort_by};
use std::collections::BTreeMap;

impl Work {
    /// The first piece but for *Loose parts*, to be offered elsewhere; its layouts are followed already. None where there
    /// is none. `said`: what of it could not be read.
    pub fn offered(&self, mut said: Vec<String>) -> Option<Offer> {
        let id = self.pieces.iter().map(|p| p.id).find(|id| *id != LOOSE)?;
        let mut one = self.only(id)?;
        let mut piece = one.pieces.pop()?;
        // Those of another device are not here.
        piece.pictures.clear();
        // As a list has them where nothing was put in by hand: layout by layout, then the maker's own.
        let source = |e: &Entry| e.from.as_ref().map_or(u32::MAX, |f| f.source);
        sort_by(&mut one.parts, |a, b| source(a).cmp(&source(b)));
        let makes = |id: u32| one.parts.iter().any(|e| source(e) == id);
        let bare = one.sources.iter().filter(|s| !makes(s.id)).count();
        if bare > 0 {
            said.push(format!("Layouts in it that have no answer here, and so no parts: {bare}."));
        }
        let kept = one.sources.iter().filter(|s| makes(s.id) || Some(s.id) == piece.pattern);
        let sources = kept.cloned().gather();
        Some(Offer { piece, sources, parts: one.parts.to_vec(), stocks: one.rack.stocks, said })
    }

    /// A work that holds nothing but this piece.
    pub fn holding(offer: &Offer) -> Work {
        let mut work = Work {
            pieces: vec![Piece::default(), offer.piece.clone()].into(),
            parts: offer.parts.clone().into(),
            sources: offer.sources.clone().into(),
            ..Work::default()
        };
        work.rack.stocks.clone_from(&offer.stocks);
        work
    }

    /// What a maker wants to know before a yes: what it is, how much of it there is, what it adds to the rack.
    pub fn told(&self, offer: &Offer) -> Vec<String> {
        let (mut out, piece) = (Vec::new(), &offer.piece);
        let count = offer.parts.iter().map(|e| e.count).fold(0, u32::saturating_add);
        out.push(match offer.parts.len() {
            0 => "It has no parts.".to_owned(),
            kinds => format!("{}.", how_many(kinds, count)),
        });
        if piece.batch > 1 {
            out.push(format!("Made {} times.", piece.batch));
        }
        let pattern = offer.sources.iter().find(|s| Some(s.id) == piece.pattern);
        let pattern = pattern.and_then(|s| s.draft.layout());
        out.extend(pattern.map(|p| format!("Its pattern: {}.", p.question())));
        let new = offer.new_stock(&self.rack);
        let names: Vec<&str> = new.iter().map(|s| s.name.as_str()).gather();
        let priced = |s: &&Stock| s.rate.0 > 0 || s.sold.iter().any(|s| s.price.0 > 0);
        out.push(match (names.len(), offer.stocks.is_empty()) {
            (0, true) => "It names no stock; your rack stays as it is.".to_owned(),
            (0, false) => "Your rack has its stock already.".to_owned(),
            _ if new.iter().any(priced) => {
                format!("It adds to your rack, with prices: {}.", names.join(", "))
            }
            _ => format!("It adds to your rack, without prices: {}.", names.join(", ")),
        });
        let name = self.free_name(&piece.called());
        if name != piece.called() {
            out.push(format!(
                "There is a piece of that name: this one becomes \u{201c}{name}\u{201d}."
            ));
        }
        out
    }

    /// Why a piece that is offered cannot be added, if it cannot.
    pub fn no_room_for_offer(&self, offer: &Offer) -> Option<String> {
        let rows = |all: &mut dyn Iterator<Item = &Stock>| -> usize {
            all.map(|s| s.sold.len() + s.owned.len()).sum()
        };
        let new = offer.new_stock(&self.rack);
        let full = self.rack.stocks.len() + new.len() > MOST_STOCKS
            || rows(&mut self.rack.stocks.iter()) + rows(&mut new.into_iter()) > MOST_ROWS;
        let rack = || full.then(|| "The rack has no room for its stock. Remove some first.".into());
        self.no_room_for(offer.parts.len(), offer.sources.len()).or_else(rack)
    }

    /// The piece with all that it needs; stock that the rack has already stays as it is.
    pub(super) fn add_offer(&mut self, offer: &Offer) {
        if self.no_room_for_offer(offer).is_some() {
            return;
        }
        let mut ids = BTreeMap::new();
        for stock in &offer.stocks {
            let own = self.rack.stocks.iter().find(|own| is_same(own, stock)).map(|own| own.id);
            let id = own.unwrap_or_else(|| {
                let id = self.rack.next_id();
                self.rack.stocks.push(Stock { id, ..stock.clone() });
                id
            });
            ids.insert(stock.id, id);
        }
        self.put_in(&Work::holding(offer), true, &|id| ids.get(&id).copied());
    }
}
