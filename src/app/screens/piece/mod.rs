//! A piece: what is told of it beside its drawing, and the page of one that has none.

mod about;
mod beside;
mod overrides;
mod page;

pub use about::about;
pub use page::piece_page;
