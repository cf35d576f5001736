//! The rack: what the yard sells and at what price, and what is in the shop already.
//!
//! A [`Stock`] is one section of one material. Its sizes are actual ones; the nominal size is only its
//! name, and what board feet are counted by. Prices are whole cents, rounded once per length.

mod form;
mod price;
mod read;
mod stored;
mod yard;

pub use form::{Blank, OWNED, SETTINGS, SOLD, STOCK, Typed, Written};
pub(crate) use form::{MOST_PRICE, price_text, read_price};
pub use price::price;
pub use read::{percent_text, read_length, read_nominal, read_share, section};

use offsquare_units as units;
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money};

/// Most kinds of stock.
pub const MOST_STOCKS: usize = 200;
/// Most lengths for sale and boards on hand, all stock together.
pub const MOST_ROWS: usize = 1_000;
/// Most bad stretches of one board.
pub const MOST_BAD: usize = 100;

/// How a yard prices a kind of stock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum By {
    /// Every length has its own price.
    #[default]
    Piece,
    Foot,
    Meter,
    BoardFoot,
}

/// One length that the yard sells.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sold {
    pub length: Length,
    /// Of one piece, where stock is priced by the piece; 0 while it is not known.
    pub price: Money,
    /// How many the yard has; none: as many as are wanted.
    pub left: Option<u32>,
    /// How much longer than sold it was measured.
    pub over: Length,
}

/// Boards of one length that are in the shop already.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Owned {
    pub length: Length,
    /// Of an offcut of a sheet; none: the stock's.
    pub width: Option<Length>,
    pub count: u32,
    /// Stretches (from, to) that cannot be used: a knot, a bolt hole, nails. From the left end.
    pub bad: Vec<(Length, Length)>,
    /// Given up at its ends.
    pub trim_left: Length,
    pub trim_right: Length,
    pub note: String,
}

/// One section of one material.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Stock {
    pub id: u32,
    pub name: String,
    /// Nominal thickness and width in inches: a name, and what board feet are counted by.
    pub nominal: Option<(f64, f64)>,
    pub thickness: Length,
    pub width: Length,
    /// Sheets: parts are rectangles of this thickness, and `trim_left` is given up all round, of
    /// offcuts too.
    pub sheet: bool,
    /// Given up at the ends of each bought board.
    pub trim_left: Length,
    pub trim_right: Length,
    pub by: By,
    /// Of a foot, a meter or a board foot; 0 while it is not known.
    pub rate: Money,
    /// Whether sales tax comes on top of the price.
    pub taxed: bool,
    pub sold: Vec<Sold>,
    pub owned: Vec<Owned>,
    /// The prices are made up until the maker puts in the yard's.
    pub sample: bool,
}

/// The ids that one tab gives out, so that rows added in two tabs at the same time never share one.
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

/// All stock, and what holds for all of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    pub stocks: Vec<Stock>,
    /// Sales tax in thousandths of a percent: 8,875 is 8.875 %.
    pub tax: u32,
    /// A leftover of at least this length is kept.
    pub keep: Length,
    /// What each end of a bought board gives up, unless its stock says otherwise; none: not asked yet.
    pub trim: Option<Length>,
    /// Where this tab's new ids begin; not stored, and not compared.
    pub ids: Ids,
}

impl Default for Rack {
    /// A yard with made-up prices, so that a first plan has something to cut.
    fn default() -> Rack {
        let stock = |id, name: &str, t: f64, w: f64, sold: &[(f64, i64)]| {
            let (thickness, width) =
                offsquare_cuts::facts::dressed(t, w).unwrap_or((Length(t), Length(w)));
            Stock {
                id,
                name: name.to_owned(),
                nominal: Some((t, w)),
                thickness,
                width,
                sold: sold
                    .iter()
                    .map(|&(feet, cents)| Sold {
                        length: Length(feet * 12.0),
                        price: Money(cents),
                        ..Sold::default()
                    })
                    .gather(),
                sample: true,
                ..Stock::default()
            }
        };
        // Within what PS 1 lets plywood of the category 23/32, sold as 3/4, measure.
        let plywood = Stock {
            nominal: None,
            thickness: Length(23.0 / 32.0),
            width: Length(48.0),
            sheet: true,
            ..stock(6, "3/4 plywood", 0.75, 48.0, &[(4.0, 3385), (8.0, 5870)])
        };
        Rack {
            stocks: vec![
                stock(1, "1\u{d7}2 pine", 1.0, 2.0, &[(6.0, 215), (8.0, 279)]),
                stock(2, "1\u{d7}3 pine", 1.0, 3.0, &[(6.0, 325), (8.0, 419), (10.0, 548)]),
                stock(3, "1\u{d7}4 pine", 1.0, 4.0, &[(6.0, 438), (8.0, 562), (12.0, 873)]),
                stock(4, "1\u{d7}8 pine", 1.0, 8.0, &[(6.0, 889), (8.0, 1164)]),
                stock(5, "2\u{d7}4 spruce", 2.0, 4.0, &[(8.0, 385), (10.0, 512), (12.0, 648)]),
                plywood,
            ],
            tax: 0,
            keep: Length(12.0),
            trim: None,
            ids: Ids::default(),
        }
    }
}

impl Rack {
    pub fn stock(&self, id: u32) -> Option<&Stock> {
        self.stocks.iter().find(|s| s.id == id)
    }
    /// That of a part, where one is picked and still there.
    pub fn stock_of(&self, picked: Option<u32>) -> Option<&Stock> {
        self.stock(picked?)
    }
    pub fn stock_mut(&mut self, id: u32) -> Option<&mut Stock> {
        self.stocks.iter_mut().find(|s| s.id == id)
    }
    /// Why no stock can be added, if none can.
    pub fn no_stock(&self) -> Option<String> {
        let full = self.stocks.len() >= MOST_STOCKS;
        full.then(|| format!("The rack is full: {MOST_STOCKS} kinds of stock. Remove some first."))
    }
    /// Why no length and no board on hand can be added, if none can.
    pub fn no_row(&self) -> Option<String> {
        (self.rows() >= MOST_ROWS).then(|| {
            format!(
                "The rack is full: {} lengths and boards. Remove some first.",
                units::grouped(MOST_ROWS as u64)
            )
        })
    }
    /// An id that no stock has.
    pub fn next_id(&self) -> u32 {
        self.ids.next(self.stocks.iter().map(|s| s.id))
    }
    fn rows(&self) -> usize {
        self.stocks.iter().map(|s| s.sold.len() + s.owned.len()).sum()
    }
    /// The first stock whose section a part of these sizes can be cut from without ripping: the seen
    /// size lies across its width or its thickness, and the size going away, where it is known,
    /// across the other. Where there is none: the first sheet of its thickness, to 1/64 in.
    ///
    /// ```
    /// use offsquare_work::rack::Rack;
    /// use offsquare_units::Length;
    /// // 2 1/2 by 3/4 in is a dressed 1×3.
    /// let rack = Rack::default();
    /// let found = rack.suiting(Some(Length(2.5)), Some(Length(0.75))).unwrap();
    /// assert_eq!(found.name, "1×3 pine");
    /// ```
    pub fn suiting(&self, seen: Option<Length>, away: Option<Length>) -> Option<&Stock> {
        let sheet = |s: &&Stock| {
            s.sheet
                && seen.is_some_and(|w| w <= s.width)
                && away.is_some_and(|t| (t - s.thickness).abs().0 <= SAME_SECTION / 2.0)
        };
        let boards = self.stocks.iter().find(|s| s.lies(seen, away).is_some());
        boards.or_else(|| self.stocks.iter().find(sheet))
    }
}

/// How near two sizes of a section must be to count as one, in inches.
const SAME_SECTION: f64 = 1.0 / 32.0 + 1e-9;

/// How a part lies in its board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// The seen size is the board's width.
    Flat,
    /// The seen size is the board's thickness.
    OnEdge,
}

impl Stock {
    /// How a part of these sizes lies in this stock; none where it is no part of this section. A size
    /// that is not known is the board's own. Nothing is a section of a sheet.
    pub fn lies(&self, seen: Option<Length>, away: Option<Length>) -> Option<Lies> {
        let near = |a: Option<Length>, b: Length| a.is_none_or(|a| (a - b).abs().0 <= SAME_SECTION);
        if self.sheet {
            None
        } else if near(seen, self.width) && near(away, self.thickness) {
            Some(Lies::Flat)
        } else if near(seen, self.thickness) && near(away, self.width) {
            Some(Lies::OnEdge)
        } else {
            None
        }
    }
}

impl Owned {
    /// The stretches of the board that can be used, from the left end: trims and bad stretches
    /// taken out. Overlapping bad stretches count once; each end beside one has room for a cut of its own.
    ///
    /// ```
    /// use offsquare_work::rack::Owned;
    /// use offsquare_units::Length;
    /// let board = Owned {
    ///     length: Length(96.0), count: 1, trim_left: Length(1.5),
    ///     bad: vec![(Length(40.0), Length(43.0))], ..Owned::default()
    /// };
    /// let all = board.usable(Length(0.125));
    /// assert_eq!(all, [(Length(1.5), Length(40.0)), (Length(43.0), Length(96.0))]);
    /// ```
    pub fn usable(&self, kerf: Length) -> Vec<(Length, Length)> {
        let end = self.length - self.trim_right;
        let mut bad = self.bad.clone();
        offsquare_units::num::sort_by(&mut bad, |a, b| a.0.0.total_cmp(&b.0.0));
        let mut out = Vec::new();
        let mut at = self.trim_left;
        for (from, to) in bad {
            if from > at {
                out.push((at, from.min(end)));
                at = from + kerf * 2.0;
            }
            at = at.max(to);
        }
        out.push((at, end));
        out.retain(|(from, to)| to.0 - from.0 > 1e-6);
        out
    }
}
