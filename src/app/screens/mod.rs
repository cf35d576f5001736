//! One folder a screen.

pub mod bench;
pub mod boards;
pub mod faces;
pub mod late;
pub mod layout;
pub mod parts;
pub mod piece;
pub mod rack;
pub mod saw;
pub mod shop;
pub mod work;
