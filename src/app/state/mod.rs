//! The document, its undo stack, and the edits that screens send.

mod boards;
mod route;
mod store;
#[cfg(test)]
mod tests;

pub use boards::Boards;
pub use route::Route;
pub use store::{Edit, Shown, Store};
