//! A piece handed on, and one taken in.

mod code;
mod open;
mod pictures;
mod sharing;

pub use code::paper_code;
pub use open::OpenPage;
pub use pictures::{PiecePictures, Seen};
pub use sharing::Share;
