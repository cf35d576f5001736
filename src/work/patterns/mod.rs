//! The patterns: whole pieces, each with sizes that drive it.
//!
//! A pattern is a layout like the others, declared in one table with its `solve`; so working backwards,
//! contradictions, *land on a mark* and the screens take it as they take a brace. Besides its parts it says how each of
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
pub fn all() -> &'static [&'static Pattern] {
    static ALL: &[&Pattern] = &[
        &post_stand::POST_STAND,
        &splayed_stool::SPLAYED_STOOL,
        &braced_frame::BRACED_FRAME,
        &slatted_trellis::SLATTED_TRELLIS,
        &shelf_bracket::SHELF_BRACKET,
        &holed_beam::HOLED_BEAM,
        &scale_board::SCALE_BOARD,
        &plain_box::PLAIN_BOX,
        &sloped_planter::SLOPED_PLANTER,
        &trug::TRUG,
        &shelf_unit::SHELF_UNIT,
        &drop_front_rack::DROP_FRONT_RACK,
    ];
    ALL
}

/// The pattern of that id.
///
/// ```
/// let pattern = offsquare_work::patterns::find("plain_box").unwrap();
/// assert_eq!(pattern.sticks[0].name, "front");
/// ```
pub fn find(id: &str) -> Option<&'static Pattern> {
    all().iter().copied().find(|p| p.id == id)
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
