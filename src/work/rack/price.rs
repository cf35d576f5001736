//! What one board costs: rounded once, an exact half up, in whole minor units.

use super::{By, MOST_PRICE, Rack, Sold, Stock};
use offsquare_units::num::{self, Gather};
use offsquare_units::{Currency, Length, Money, Ticks};

/// What one board of a length costs, sales tax of `tax` thousandths of a percent on top where the
/// stock is priced without it. Board feet count nominal sizes where there are any. None where it has no price
/// yet (no yard sells for nothing: 0 is a price that nobody gave), and where the figures are beyond all reason.
///
/// ```
/// use offsquare_work::rack::{By, Rack, Sold, Stock, price};
/// use offsquare_units::{Length, Money};
/// let stock = Stock { nominal: Some((1.0, 6.0)), by: By::BoardFoot, rate: Money(599), taxed: true, ..Stock::default() };
/// // 8 ft of 1×6 are 4 board feet: $23.96; with 7.25 % it is 25.6971, so $25.70.
/// let sold = Sold { length: Length(96.0), ..Sold::default() };
/// assert_eq!(price(&stock, &sold, 7_250), Some(Money(2_570)));
/// ```
pub fn price(stock: &Stock, sold: &Sold, tax: u32) -> Option<Money> {
    let ticks = i128::from(Ticks::from_length(sold.length)?.0);
    let rate = i128::from(stock.rate.0);
    let inch = i128::from(Ticks::PER_INCH);
    let (over, under) = match stock.by {
        By::Piece => (i128::from(sold.price.0), 1),
        By::Foot => (rate.checked_mul(ticks)?, 12 * inch),
        By::Meter => (rate.checked_mul(ticks)?, 1000 * i128::from(Ticks::PER_MM)),
        By::BoardFoot => {
            // Thousandths of an inch hold every nominal size.
            let mil = |inches: f64| {
                (inches > 0.0 && inches < 1e4).then_some((inches * 1000.0 + 0.5) as i128)
            };
            let (t, w) = stock.nominal.unwrap_or((stock.thickness.0, stock.width.0));
            let section = mil(t)?.checked_mul(mil(w)?)?;
            (rate.checked_mul(ticks)?.checked_mul(section)?, 144 * inch * 1_000_000)
        }
    };
    if over <= 0 {
        return None;
    }
    let (over, under) = if stock.taxed {
        (over.checked_mul(100_000 + i128::from(tax))?, under * 100_000)
    } else {
        (over, under)
    };
    let cents = over.checked_mul(2)?.checked_add(under)?.div_euclid(2 * under);
    i64::try_from(cents).ok().filter(|c| *c >= 0 && *c <= 1_000_000_000_000).map(Money)
}

impl Stock {
    /// The lengths on sale that have no price yet, shortest first.
    ///
    /// ```
    /// use offsquare_work::rack::{Sold, Stock};
    /// use offsquare_units::{Length, Money};
    /// let sold = |inches, cents| Sold { length: Length(inches), price: Money(cents), ..Sold::default() };
    /// let stock = Stock { sold: vec![sold(96.0, 0), sold(72.0, 330)], ..Stock::default() };
    /// assert_eq!(stock.without_price(0), [Length(96.0)]);
    /// ```
    pub fn without_price(&self, tax: u32) -> Vec<Length> {
        let open = |s: &&Sold| s.left != Some(0) && price(self, s, tax).is_none();
        let mut out: Vec<Length> = self.sold.iter().filter(open).map(|s| s.length).gather();
        num::sort_by(&mut out, |a, b| a.0.total_cmp(&b.0));
        out
    }
}

impl Rack {
    /// Its prices in another money: the same figures, rounded where it has fewer decimals.
    pub(crate) fn in_money(&mut self, from: &Currency, to: &Currency) {
        if from.places != to.places {
            self.prices().for_each(|m| *m = to.rescaled(*m, from));
        }
    }

    /// Every price that was typed.
    pub(crate) fn prices(&mut self) -> impl Iterator<Item = &mut Money> {
        self.stocks.iter_mut().flat_map(Stock::prices)
    }
}

impl Stock {
    fn prices(&mut self) -> impl Iterator<Item = &mut Money> {
        self.sold.iter_mut().map(|s| &mut s.price).chain([&mut self.rate])
    }

    /// Brings every price inside what can be typed in any money; gives how many were not.
    pub(crate) fn mend_prices(&mut self) -> u32 {
        let most = MOST_PRICE * 1_000;
        let mut wrong = 0;
        for m in self.prices() {
            wrong += u32::from(m.0 < 0 || m.0 > most);
            m.0 = m.0.clamp(0, most);
        }
        wrong
    }
}
