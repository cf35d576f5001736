//! One folder a screen.

pub mod bench;
pub mod boards;
pub mod faces;
pub mod late;
pub mod layout;
pub mod parts;
pub mod piece;
pub mod rack;
pub mod shop;
pub mod work;
