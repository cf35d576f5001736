//! Dresses scenes: dimension lines, labels that keep clear of one another, hatches, tap targets.
//!
//! What comes out is a flat list of [`Mark`]s in px (or in mm on paper), which screens and writers
//! paint one by one; they lay out nothing themselves, so paper cannot disagree with screen.

mod assembled;
mod board;
mod dimension;
mod dress;
mod fold;
mod hatch;
mod mark;
mod pen;
mod place;
mod rows;
mod runs;
mod seams;
mod solid;
mod strips;
mod template;
mod templates;
mod view;
mod whole;
mod wrap;

pub use assembled::Assembled;
pub use board::{BoardOnSaw, board_on_saw};
pub use dress::{lay_out, lay_out_with, true_size};
pub use hatch::hatch;
pub use mark::{
    Anchor, COMPUTED, CUT, GIVEN, GRAIN, Mark, OFFCUT, Rect, class_of, class_of_source, figure,
    outside,
};
pub use pen::Pen;
pub use rows::rows;
pub use runs::{FRACTION_SIZE, LOWERED, RAISED, Run, plain, runs, width, words_width};

pub use solid::{axonometric, turnable};
pub use strips::{BoardOfStrips, board_of_strips};
pub use template::Template;
pub use templates::templates;
pub use view::View;
pub use whole::whole;

use offsquare_geometry::Point;
use offsquare_geometry::scene::Source;

/// A drawing laid out for one frame.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Drawing {
    /// Of the frame: px on screens, mm on paper.
    pub width: f64,
    pub height: f64,
    /// How many px (mm) one inch of the piece takes.
    pub per_inch: f64,
    /// Where the scene's origin lies in the frame.
    pub origin: Point,
    /// In the order of painting; hits and handles last.
    pub marks: Vec<Mark>,
    /// Sizes for which the frame has no room left; they are still in the list of fields and answers.
    pub left_out: Vec<Source>,
}
