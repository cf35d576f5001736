//! Papers that templates are printed on.

use super::{Fact, Seen, Source};
use offsquare_units::Length;

/// A sheet, upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    pub name: &'static str,
    pub width: Length,
    pub height: Length,
}

pub const A4: Fact<Paper> = Fact {
    value: Paper { name: "A4", width: Length::mm(210.0), height: Length::mm(297.0) },
    source: Source { title: "ISO 216", edition: "", place: "A series", seen: Seen::SecondHand },
};

pub const LETTER: Fact<Paper> = Fact {
    value: Paper { name: "US Letter", width: Length::inches(8.5), height: Length::inches(11.0) },
    source: Source { title: "US Letter, 8 1/2 x 11 in", edition: "", place: "", seen: Seen::Read },
};

pub const PAPERS: [Fact<Paper>; 2] = [A4, LETTER];

/// Width and height that either paper prints with 12.7 mm margins: 184 × 254 mm.
pub const SAFE_ON_BOTH: Fact<(Length, Length)> = Fact {
    value: (Length::mm(184.0), Length::mm(254.0)),
    source: Source {
        title: "210 - 25.4 = 184.6 mm of A4's width, 279.4 - 25.4 = 254.0 mm of Letter's height",
        edition: "",
        place: "",
        seen: Seen::Derived,
    },
};
