//! A layout: the drawing is the form, the answer strip is always in view.

mod back;
mod card;
mod cut;
mod drawing;
mod edit;
mod fields;
mod lap;
mod look;
mod more;
mod others;
mod page;
mod paper;
mod piece;
mod solid;
mod starts;
mod strip;
mod thumb;
mod to_parts;
mod view;
mod ways;

pub use drawing::{figure, painted, picture, still};
pub use more::{fetch as fetch_more, more};
pub use others::fetch as fetch_layouts;
pub use page::LayoutPage;
pub use thumb::thumb;
