//! The document, its undo stack, and the edits that screens send.

mod route;
mod store;

pub use route::Route;
pub use store::{Edit, Shown, Store};
