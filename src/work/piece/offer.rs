//! A piece that came from elsewhere, by a link or a file, while it waits for a yes.

use super::made::Piece;
use super::source::Source;
use crate::cutlist::Entry;
use crate::rack::{Rack, Stock};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// One piece with all that it needs; nothing of it is in the list or the rack yet, and its ids are its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    pub piece: Piece,
    pub parts: Vec<Entry>,
    pub sources: Vec<Source>,
    /// What its parts are cut from.
    pub stocks: Vec<Stock>,
    /// What of it could not be read, in plain sentences.
    pub said: Vec<String>,
}

/// Two sizes of a section this near are the same, in inches.
const SAME: f64 = 1e-3;

/// The same material in the same section, whatever it costs.
pub(super) fn is_same(a: &Stock, b: &Stock) -> bool {
    let name = |s: &Stock| s.name.trim().to_lowercase();
    let near = |a: Length, b: Length| (a - b).abs().0 <= SAME;
    name(a) == name(b)
        && a.sheet == b.sheet
        && near(a.thickness, b.thickness)
        && near(a.width, b.width)
}

impl Offer {
    /// The stock that it names and that the rack does not have.
    pub fn new_stock<'a>(&'a self, rack: &Rack) -> Vec<&'a Stock> {
        let known = |s: &Stock| rack.stocks.iter().any(|own| is_same(own, s));
        self.stocks.iter().filter(|s| !known(s)).gather()
    }
}
