//! The document, its undo stack, and the edits that screens send.

mod boards;
mod desk;
mod dispatch;
mod early;
mod late;
mod place;
mod recent;
mod route;
mod shown;
mod steps;
mod store;
#[cfg(test)]
mod tests;

pub use boards::Boards;
pub use desk::{DESK, Desk, arrived, desk};
pub use dispatch::{Dispatch, on, sender};
pub use late::{Coming, Late, Part};
pub use route::{Face, Route};
pub use shown::ShownAnswer;
pub use store::{Edit, Read, Store};
