//! Stock as a yard sells it: the usual sections in their usual lengths, prices still to be asked.

use super::read::nominal_text;
use super::{MOST_ROWS, Rack, SAME_SECTION, Sold, Stock, section};
use offsquare_cuts::facts::{Section, yard_lengths, yard_sections};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit};

/// Wider than this, in inches, no board is sold: parts are cut from sheets.
const WIDEST_BOARD: f64 = 15.25;

impl Stock {
    /// A section in the yard's usual lengths, called by it with the maker's words behind.
    ///
    /// ```
    /// use offsquare_cuts::facts::yard_sections;
    /// use offsquare_work::rack::Stock;
    /// use offsquare_units::Unit;
    /// let stock = Stock::of(&yard_sections(false)[2], " cedar", Unit::Inch);
    /// assert_eq!((stock.name.as_str(), stock.sold.len()), ("1×4 cedar", 5));
    /// assert_eq!(stock.without_price(0).len(), 5);
    /// ```
    pub fn of(of: &Section, wood: &str, unit: Unit) -> Stock {
        let sold = |length| Sold { length, ..Sold::default() };
        let mut stock = Stock {
            nominal: of.nominal,
            thickness: of.thickness,
            width: of.width,
            sold: yard_lengths(unit.is_metric()).into_iter().map(sold).gather(),
            ..Stock::default()
        };
        let size = match of.nominal {
            Some(nominal) => nominal_text(nominal).replace('x', "\u{d7}"),
            None => section(&stock, unit),
        };
        stock.name = [&size, wood.trim()].join(" ").trim().to_owned();
        stock
    }

    /// The usual length that is added next: the first that it is not sold in.
    pub(crate) fn next_length(&self, unit: Unit) -> Length {
        let usual = yard_lengths(unit.is_metric());
        let is_here = |l: &Length| self.sold.iter().any(|s| (s.length - *l).abs().0 < 1.0);
        let next = usual.iter().copied().find(|l| !is_here(l));
        next.or(usual.last().copied()).unwrap_or_default()
    }

    /// The section of a part of these sizes: of the usual sections the one that it is, a board of just these sizes,
    /// or where no board is so wide, a sheet of its thickness.
    ///
    /// Example: 3/4 by 2 1/2 in is a 1×3; 20 by 3/4 in is cut from a sheet.
    pub fn for_part(seen: Length, away: Length, unit: Unit) -> Stock {
        let (thickness, width) = (seen.min(away), seen.max(away));
        let near = |a: Length, b: Length| (a - b).abs().0 <= SAME_SECTION;
        let usual = yard_sections(unit.is_metric());
        let known = usual.iter().find(|s| near(s.thickness, thickness) && near(s.width, width));
        let own = Section { nominal: None, thickness, width };
        let board = Stock::of(known.unwrap_or(&own), "", unit);
        if width.0 <= WIDEST_BOARD {
            return board;
        }
        let (wide, long) = match unit.is_metric() {
            true => (Length::mm(1220.0), Length::mm(2440.0)),
            false => (Length(48.0), Length(96.0)),
        };
        let sold = |length| Sold { length, ..Sold::default() };
        let mut sheet =
            Stock { width: wide, sheet: true, sold: vec![sold(wide), sold(long)], ..board };
        sheet.nominal = None;
        sheet.name = section(&sheet, unit);
        sheet
    }
}

impl Rack {
    /// What raw ends give up, once the maker has said it: all boards take it but those with a trim of their own.
    pub(super) fn trim_ends(&mut self, trim: Length) {
        let before = self.trim.unwrap_or_default();
        for s in self.stocks.iter_mut().filter(|s| !s.sheet) {
            if (s.trim_left, s.trim_right) == (before, before) {
                (s.trim_left, s.trim_right) = (trim, trim);
            }
        }
        self.trim = Some(trim);
    }

    /// Puts a stock in, with the trim that is usual here. Gives its id; none where the rack is full.
    pub(crate) fn put(&mut self, mut stock: Stock) -> Option<u32> {
        if self.no_stock().is_some() {
            return None;
        }
        stock.sold.truncate(MOST_ROWS.saturating_sub(self.rows()));
        let (id, trim) = (self.next_id(), self.trim.unwrap_or_default());
        let trim = if stock.sheet { Length::ZERO } else { trim };
        self.stocks.push(Stock { id, trim_left: trim, trim_right: trim, ..stock });
        Some(id)
    }

    /// The answers to how much raw ends give up that a tap gives.
    pub fn usual_trims(unit: Unit) -> [Length; 3] {
        match unit.is_metric() {
            true => [Length::ZERO, Length::mm(10.0), Length::mm(25.0)],
            false => [Length::ZERO, Length(0.5), Length(1.0)],
        }
    }
}
