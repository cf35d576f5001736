//! The maker's work: stock in the rack, the list of parts, the pieces that they come from, and what is kept of all that.

pub mod cutlist;
pub mod patterns;
pub mod piece;
pub mod price;
pub mod rack;
pub mod run;
pub mod save;
pub mod solved;
pub mod walk;
