//! The façade for screens: what a person typed goes in, everything derived comes out.

mod another_form;
mod begun;
mod beside;
mod draft;
mod edit;
mod examples;
mod follow;
pub mod keypad;
mod link;
mod made;
mod mind;
mod offer;
mod pieces;
mod priced;
mod runs;
mod shared;
mod shop;
mod source;
mod stocking;
mod stored;
mod taking;
mod whole_boards;
mod work;

pub use crate::rack::Ids;
pub use begun::{Begun, Frozen, MOST_TICKS, Outcome, Reason, Replanned, Skip, Spare, Tick};
pub use beside::{About, Beside};
pub use draft::{
    Answered, Draft, FieldState, OtherForm, Typed, answer, field_text, handle_text, in_next_unit,
};
pub use edit::{Row, WorkEdit};
pub use examples::{EXAMPLES, Example, examples};
pub use link::{from_link, to_link};
pub use made::{LOOSE, MOST_BATCH, MOST_PICTURES, MOST_PIECES, Override, Piece, with_changes};
pub use offer::Offer;
pub use offsquare_units::length_text;
pub use priced::Cuts;
pub use shared::Shared;
pub use shop::{CARD_MM, Paper, Shop, Theme, TrueSize};
pub use source::Source;
pub use stocking::Fitting;
pub use whole_boards::WholeBoard;
pub use work::{MOST_SOURCES, Work};
