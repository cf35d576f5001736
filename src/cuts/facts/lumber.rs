//! Dressed sizes of softwood lumber: what a "2×4" measures, and what yards usually have.

use super::{Fact, Seen, Source};
use offsquare_units::Length;
use offsquare_units::num::Gather;

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

/// A section as a yard sells it, planed on all sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Nominal thickness and width in inches, where it is called by them.
    pub nominal: Option<(f64, f64)>,
    pub thickness: Length,
    pub width: Length,
}

/// Nominal sizes that most yards have.
pub const YARD_INCHES: Fact<[(f64, f64); 18]> = Fact {
    value: [
        (1.0, 2.0),
        (1.0, 3.0),
        (1.0, 4.0),
        (1.0, 6.0),
        (1.0, 8.0),
        (1.0, 10.0),
        (1.0, 12.0),
        (1.25, 4.0),
        (1.25, 6.0),
        (2.0, 2.0),
        (2.0, 3.0),
        (2.0, 4.0),
        (2.0, 6.0),
        (2.0, 8.0),
        (2.0, 10.0),
        (2.0, 12.0),
        (4.0, 4.0),
        (4.0, 6.0),
    ],
    source: Source {
        title: "Which of the sizes of PS 20 a yard has",
        edition: "",
        place: "",
        seen: Seen::Practice,
    },
};

/// Planed thickness and width in millimeters; what a yard's boards measure is read off them.
pub const YARD_MM: Fact<[(f64, f64); 14]> = Fact {
    value: [
        (21.0, 45.0),
        (21.0, 70.0),
        (21.0, 95.0),
        (21.0, 120.0),
        (21.0, 145.0),
        (28.0, 95.0),
        (28.0, 120.0),
        (45.0, 45.0),
        (45.0, 70.0),
        (45.0, 95.0),
        (45.0, 120.0),
        (45.0, 145.0),
        (45.0, 195.0),
        (95.0, 95.0),
    ],
    source: Source {
        title: "Planed softwood as Nordic yards list it; British 50 by 100 also planes to 45 by 95",
        edition: "",
        place: "",
        seen: Seen::Memory,
    },
};

/// Lengths that most yards have, in feet.
pub const YARD_FEET: Fact<[f64; 5]> = Fact {
    value: [6.0, 8.0, 10.0, 12.0, 16.0],
    source: Source {
        title: "Retail lengths of dressed boards",
        edition: "",
        place: "",
        seen: Seen::SecondHand,
    },
};

/// The same in meters, where wood is sold by them.
pub const YARD_METERS: Fact<[f64; 6]> = Fact {
    value: [2.4, 3.0, 3.6, 4.2, 4.8, 5.4],
    source: Source {
        title: "The Timber & Product Guide",
        edition: "",
        place: "trade lengths of carcassing timber",
        seen: Seen::Read,
    },
};

/// The sections that a yard usually has, thin ones first.
///
/// Example: the third in inches is the 1×4, 3/4 by 3 1/2 in.
pub fn yard_sections(metric: bool) -> Vec<Section> {
    if metric {
        let of =
            |&(t, w)| Section { nominal: None, thickness: Length::mm(t), width: Length::mm(w) };
        return YARD_MM.value.iter().map(of).gather();
    }
    let of = |&(t, w): &(f64, f64)| {
        let (thickness, width) = dressed(t, w)?;
        Some(Section { nominal: Some((t, w)), thickness, width })
    };
    YARD_INCHES.value.iter().filter_map(of).gather()
}

/// The lengths that a yard usually has, short ones first.
pub fn yard_lengths(metric: bool) -> Vec<Length> {
    match metric {
        true => YARD_METERS.value.iter().map(|m| Length::mm(m * 1000.0)).gather(),
        false => YARD_FEET.value.iter().map(|ft| Length(ft * 12.0)).gather(),
    }
}
