//! The parts list: what has to be cut.

mod form;
mod page;
mod paste;

pub use form::stocks;
pub use page::{PartsPage, head, title};
