//! The patterns: whole pieces, each with sizes that drive it.
//!
//! A pattern is a layout like the others: fields, forms, `solve`; so working backwards, contradictions,
//! *land on a mark* and the screens take it as they take a brace. Besides its parts it says how each of
//! them stands ([`Member`](offsquare_cuts::assembly::Member)). **The cut list comes from the layouts, the
//! bodies from the planes of a part's neighbors; neither is made from the other.**
//!
//! A new pattern is one file here, its line in [`all`], and its cases.

mod ask;
mod braced_frame;
mod holed_beam;
mod plain_box;
mod post_stand;
mod scale_board;
mod shelf_bracket;
mod shelf_unit;
mod slatted_trellis;
mod splayed_stool;
mod sticks;

use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{self, Layout, Outcome};
use offsquare_cuts::problem::Problem;

pub use ask::Ask;

/// A stick of a pattern: what one kind of its parts is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stick {
    /// As parts name it: "leg".
    pub name: &'static str,
    /// Keys of the sizes that are its width as seen and its thickness going away; none where it follows
    /// from others (a wide board's width).
    pub seen: Option<&'static str>,
    pub away: Option<&'static str>,
}

/// A layout of a whole piece.
pub trait Pattern: Layout {
    fn sticks(&self) -> &'static [Stick];
    /// Answers that may be given as sizes, each with the size in whose place it then stands. Others stand
    /// in for the first of the form's `gives` that was left out.
    fn instead(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }
}

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

/// No solution, for one reason.
fn refused(problem: Problem) -> Outcome {
    Outcome { solutions: Vec::new(), problems: vec![problem] }
}

/// A length of a pattern, inches; nothing where it was not given.
fn size(inputs: &Inputs, key: &str) -> f64 {
    inputs.length(key).map_or(0.0, |l| l.0)
}

/// Whether a field that says yes or no says yes.
fn yes(inputs: &Inputs, key: &str) -> bool {
    matches!(inputs.get(key), Some(Value::Flag(true)))
}
