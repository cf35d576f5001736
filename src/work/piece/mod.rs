//! The façade for screens: what a person typed goes in, everything derived comes out.

mod another_form;
mod beside;
mod draft;
mod edit;
mod examples;
mod follow;
pub mod keypad;
mod link;
mod made;
mod mind;
mod pieces;
mod shared;
mod shop;
mod stored;
mod work;

pub use beside::{About, Beside};
pub use draft::{
    Answered, Draft, FieldState, OtherForm, Typed, answer, field_text, handle_text, in_next_unit,
};
pub use edit::{Row, WorkEdit};
pub use examples::EXAMPLES;
pub use link::{from_link, to_link};
pub use made::{LOOSE, MOST_BATCH, MOST_PIECES, Override, Piece};
pub use offsquare_units::length_text;
pub use shared::Shared;
pub use shop::{Paper, Shop, Theme};
pub use work::{Ids, MOST_SOURCES, Source, Work};
