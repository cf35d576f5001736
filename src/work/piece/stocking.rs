//! The rack as edits change it: rows, stock that is put in, what is bought, cut and kept.

use super::edit::{Row, WorkEdit};
use super::work::Work;
use crate::cutlist::{Entry, Fit, PutAway, fit};
use crate::rack::{Owned, Rack, Sold, Stock, Written, price_text, read_price};
use offsquare_cuts::facts::Section;
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Length, Money, Text, Unit};

/// The sizes of a stock that the maker fills in.
const NEW: Section = Section { nominal: None, thickness: Length(0.75), width: Length(3.5) };

/// What a part, or all parts that have no stock, can be cut from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fitting {
    /// Ids, and how each is said: as it is, or ripped.
    pub fits: Vec<(u32, String)>,
    /// Ids and names of what does not fit, and why.
    pub others: Vec<(u32, String, Text)>,
    /// A part whose own section is not in the rack, and that section.
    pub missing: Option<(u32, Stock)>,
}

impl Work {
    /// What of the rack is offered to a part; none: to all that are to be cut and have no stock.
    pub fn fitting(&self, part: Option<u32>, unit: Unit) -> Fitting {
        let asked = |e: &&Entry| match part {
            Some(id) => e.id == id,
            None => !e.done && self.rack.stock_of(e.stock).is_none(),
        };
        let parts: Vec<&Entry> = self.parts.iter().filter(asked).gather();
        let mut out = Fitting::default();
        for stock in &self.rack.stocks {
            let all: Vec<Result<Fit, Text>> = parts.iter().map(|e| fit(stock, e)).gather();
            let best = all.iter().filter_map(|f| f.as_ref().ok()).min().copied();
            match (best, all.into_iter().next()) {
                (Some(fit), _) => out.fits.push((stock.id, fit.words(&stock.name))),
                (None, Some(Err(why))) if part.is_some() => {
                    out.others.push((stock.id, stock.name.clone(), why));
                }
                _ => {}
            }
        }
        let lacks = |e: &&Entry| {
            let stock = self.stock_for(e.id, unit)?;
            let own = if stock.sheet { Fit::Sheet } else { Fit::Whole };
            let is_here = self.rack.stocks.iter().any(|s| fit(s, e) == Ok(own));
            (!is_here).then_some((e.id, stock))
        };
        out.missing = parts.iter().find_map(lacks);
        out
    }

    /// Stock of a part's own section; none while one of its sizes is the stock's own.
    fn stock_for(&self, part: u32, unit: Unit) -> Option<Stock> {
        let entry = self.part(part)?;
        Some(Stock::for_part(entry.seen?, entry.away?, unit))
    }

    /// Whether a text would be taken by a row of the rack, or what would be right.
    pub fn try_rack(&self, row: Row, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        let mut rack = self.rack.clone();
        write_row(&mut rack, (row, key), text, unit, &self.currency())
    }

    /// A field of the rack as text.
    pub fn rack_text(&self, row: Row, key: &str, unit: Unit) -> String {
        let rack = &self.rack;
        let price = |m: Option<Money>| price_text(m.unwrap_or_default(), &self.currency());
        match row {
            Row::Stock(id) if key == "rate" => price(rack.stock(id).map(|s| s.rate)),
            Row::Sold(id, i) if key == "price" => {
                price(rack.stock(id).and_then(|s| s.sold.get(i)).map(|s| s.price))
            }
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

    pub(super) fn edit_rack(&mut self, edit: WorkEdit, unit: Unit) {
        match edit {
            WorkEdit::Rack { row, key, text } => {
                // A text that says nothing yet stays in its field, with its sentence.
                let currency = self.currency();
                let _ = write_row(&mut self.rack, (row, key), &text, unit, &currency);
            }
            // Where one of these is full, its key says so and asks for none.
            WorkEdit::AddSold(_) | WorkEdit::AddOwned(_) if self.rack.no_row().is_some() => {}
            WorkEdit::AddStock { of, wood } => {
                let id = self.rack.next_id();
                let mut stock = Stock::of(&of.unwrap_or(NEW), &wood, unit);
                if of.is_none() {
                    stock.name = format!("Stock {id}");
                }
                self.rack.put(stock);
            }
            WorkEdit::AddStockFor(part) => {
                if let Some(stock) = self.stock_for(part, unit)
                    && let Some(id) = self.rack.put(stock)
                {
                    self.cut_from(Some(part), Some(id));
                }
            }
            WorkEdit::AddSold(id) => {
                if let Some(s) = self.rack.stock_mut(id) {
                    s.sold.push(Sold { length: s.next_length(unit), ..Sold::default() });
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

    pub(super) fn put_away(&mut self, one: PutAway) {
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

/// The price that a key means, if it means one, and whether its stock's prices are only examples.
fn price_of<'r>(rack: &'r mut Rack, row: Row, key: &str) -> Option<(&'r mut Money, &'r mut bool)> {
    match (row, key) {
        (Row::Stock(id), "rate") => {
            let stock = rack.stock_mut(id)?;
            Some((&mut stock.rate, &mut stock.sample))
        }
        (Row::Sold(id, i), "price") => {
            let stock = rack.stock_mut(id)?;
            Some((&mut stock.sold.get_mut(i)?.price, &mut stock.sample))
        }
        _ => None,
    }
}

fn write_row(
    rack: &mut Rack,
    (row, key): (Row, &str),
    text: &str,
    unit: Unit,
    currency: &Currency,
) -> Result<(), String> {
    if let Some((price, sample)) = price_of(rack, row, key) {
        *price = read_price(text, currency)?;
        *sample = false;
        return Ok(());
    }
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
            sold.write(key, text, unit)
        }
        Row::Owned(id, i) => rack
            .stock_mut(id)
            .and_then(|s| s.owned.get_mut(i))
            .map_or(Ok(()), |o| o.write(key, text, unit)),
    }
}
