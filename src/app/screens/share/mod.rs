//! A piece handed on, and one taken in.

mod code;
mod open;
mod sharing;

pub use open::OpenPage;
pub use sharing::Share;
