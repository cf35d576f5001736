//! One folder a screen.

pub mod bench;
pub mod layout;
pub mod shop;
