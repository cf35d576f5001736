//! The patterns: whole pieces, each with sizes that drive it.
//!
//! A pattern is a layout like the others: fields, forms, `solve`; so working backwards, contradictions,
//! *land on a mark* and the screens take it as they take a brace. Besides its parts it says how each of
//! them stands ([`Member`](offsquare_cuts::assembly::Member)). **The cut list comes from the layouts, the
//! bodies from the planes of a part's neighbors; neither is made from the other.**
//!
//! A new pattern is one file here, its lines in [`all`] and [`IDS`], and its cases.

mod ask;
mod braced_frame;
mod drop_front_rack;
mod here;
mod holed_beam;
mod pattern;
mod plain_box;
mod post_stand;
mod scale_board;
mod shelf_bracket;
mod shelf_unit;
mod slatted_trellis;
mod sloped_planter;
mod splayed_stool;
mod sticks;
mod trug;

pub use ask::Ask;
pub use here::{arrived, asked, name, question};
pub use pattern::{Pattern, Stick};

/// All patterns, in the order of the bench.
#[inline(never)]
pub fn all() -> &'static [&'static dyn Pattern] {
    &[
        &post_stand::PostStand,
        &splayed_stool::SplayedStool,
        &braced_frame::BracedFrame,
        &slatted_trellis::SlattedTrellis,
        &shelf_bracket::ShelfBracket,
        &holed_beam::HoledBeam,
        &scale_board::ScaleBoard,
        &plain_box::PlainBox,
        &sloped_planter::SlopedPlanter,
        &trug::Trug,
        &shelf_unit::ShelfUnit,
        &drop_front_rack::DropFrontRack,
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

/// Their ids, which are known where the patterns themselves have not come yet.
pub const IDS: &[&str] = &[
    "post_stand",
    "splayed_stool",
    "braced_frame",
    "slatted_trellis",
    "shelf_bracket",
    "holed_beam",
    "scale_board",
    "plain_box",
    "sloped_planter",
    "trug",
    "shelf_unit",
    "drop_front_rack",
];
