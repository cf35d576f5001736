//! The patterns: whole pieces, each with sizes that drive it.
//!
//! A pattern is a layout like the others: fields, forms, `solve`; so working backwards, contradictions,
//! *land on a mark* and the screens take it as they take a brace. Besides its parts it says how each of
//! them stands ([`Member`](offsquare_cuts::assembly::Member)). **The cut list comes from the layouts, the
//! bodies from the planes of a part's neighbors; neither is made from the other.**
//!
//! A new pattern is one file here, its line in [`all`], and its cases.

mod ask;
mod holed_beam;
mod pattern;
mod plain_box;
mod post_stand;
mod scale_board;
mod shelf_bracket;
mod shelf_unit;
mod slatted_trellis;
mod sloped_planter;
mod sticks;
mod trug;

use offsquare_cuts::layouts::{self, Layout};

pub use ask::Ask;
pub use pattern::{Pattern, Stick};

/// All patterns, in the order of the bench.
#[inline(never)]
pub fn all() -> &'static [&'static dyn Pattern] {
    &[
        &post_stand::PostStand,
        &slatted_trellis::SlattedTrellis,
        &shelf_bracket::ShelfBracket,
        &holed_beam::HoledBeam,
        &scale_board::ScaleBoard,
        &plain_box::PlainBox,
        &sloped_planter::SlopedPlanter,
        &trug::Trug,
        &shelf_unit::ShelfUnit,
    ]
}

/// The pattern of that id.
///
/// ```
/// let pattern = offsquare_work::patterns::find("plain_box").unwrap();
/// assert_eq!(pattern.sticks()[0].name, "front");
/// ```
pub fn find(id: &str) -> Option<&'static dyn Pattern> {
    all().iter().copied().find(|p| p.id() == id)
}

/// The layout or pattern of that id: what a draft, a link or a screen names.
pub fn asked(id: &str) -> Option<&'static dyn Layout> {
    layouts::find(id).or_else(|| find(id).map(|p| p as &'static dyn Layout))
}
