//! Tables of the trade: every row carries its value, its source and the edition, and how the source
//! was seen, so that nobody has to guess what a figure rests on.

mod caution;
mod lumber;
mod panel;
mod paper;
mod species;
mod stops;

pub use caution::{Caution, GENERAL, caution, caution_source};
pub use lumber::{
    DRESSED_THICKNESS, DRESSED_WIDTH, Dressed, Section, YARD_FEET, YARD_INCHES, YARD_METERS,
    YARD_MM, dressed, yard_lengths, yard_sections,
};
pub use panel::{PLYWOOD, Plywood};
pub use paper::{A4, LETTER, PAPERS, Paper, SAFE_ON_BOTH};
pub use species::{SPECIES, Species};
pub use stops::{BEVEL_STOPS, MITER_STOPS};

/// How a source was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// In the source itself or a faithful copy.
    Read,
    /// In a secondary copy that names the primary source.
    SecondHand,
    /// Not verified.
    Memory,
    /// Computed from a stated rule.
    Derived,
    /// Common practice; there is no source.
    Practice,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    pub title: &'static str,
    /// Edition or year; empty where it has none.
    pub edition: &'static str,
    /// Section, table or page.
    pub place: &'static str,
    pub seen: Seen,
}

/// A value with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fact<T> {
    pub value: T,
    pub source: Source,
}
