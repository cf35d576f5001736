//! Dressed sizes of softwood lumber: what a "2×4" measures.

use super::{Fact, Seen, Source};
use offsquare_units::Length;

/// One nominal size and its minimum dressed sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dressed {
    /// The name, a count of inches that nothing measures: 2 for a 2×4.
    pub nominal: f64,
    /// At 19 % moisture content or less.
    pub dry: Length,
    pub green: Length,
}

const PS20: Source = Source {
    title: "American Softwood Lumber Standard PS 20",
    edition: "PS 20 (sizes alike in every edition quoted)",
    place: "Table 3, Nominal and minimum-dressed sizes",
    seen: Seen::SecondHand,
};

const fn row(nominal: f64, dry: f64, green: f64) -> Fact<Dressed> {
    Fact {
        value: Dressed { nominal, dry: Length::inches(dry), green: Length::inches(green) },
        source: PS20,
    }
}

pub const DRESSED_THICKNESS: [Fact<Dressed>; 12] = [
    row(0.375, 0.3125, 0.343_75),
    row(0.5, 0.4375, 0.468_75),
    row(0.625, 0.5625, 0.593_75),
    row(0.75, 0.625, 0.6875),
    row(1.0, 0.75, 0.781_25),
    row(1.25, 1.0, 1.031_25),
    row(1.5, 1.25, 1.281_25),
    row(2.0, 1.5, 1.5625),
    row(2.5, 2.0, 2.0625),
    row(3.0, 2.5, 2.5625),
    row(3.5, 3.0, 3.0625),
    row(4.0, 3.5, 3.5625),
];

pub const DRESSED_WIDTH: [Fact<Dressed>; 13] = [
    row(2.0, 1.5, 1.5625),
    row(3.0, 2.5, 2.5625),
    row(4.0, 3.5, 3.5625),
    row(5.0, 4.5, 4.625),
    row(6.0, 5.5, 5.625),
    row(7.0, 6.5, 6.625),
    row(8.0, 7.25, 7.5),
    row(9.0, 8.25, 8.5),
    row(10.0, 9.25, 9.5),
    row(11.0, 10.25, 10.5),
    row(12.0, 11.25, 11.5),
    row(14.0, 13.25, 13.5),
    row(16.0, 15.25, 15.5),
];

/// Dry dressed thickness and width of a nominal size; none for a size that the standard lacks.
///
/// These are minimums: measure the stock you bought. Example: 2 by 4 is 1 1/2 by 3 1/2 in.
pub fn dressed(thickness: f64, width: f64) -> Option<(Length, Length)> {
    let of = |rows: &[Fact<Dressed>], n: f64| {
        rows.iter().find(|r| r.value.nominal == n).map(|r| r.value.dry)
    };
    Some((of(&DRESSED_THICKNESS, thickness)?, of(&DRESSED_WIDTH, width)?))
}
