//! The document, its undo stack, and the edits that screens send.

mod boards;
mod dispatch;
mod route;
mod store;
#[cfg(test)]
mod tests;

pub use boards::Boards;
pub use dispatch::{Dispatch, on, sender};
pub use route::Route;
pub use store::{Edit, ShownAnswer, Store};
