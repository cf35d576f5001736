//! A run at the saw as it is walked: every step in its order, what its card says, and what the run has come to.
//!
//! All of it follows from what the run holds ([`crate::piece::Begun`]); nothing here is kept. Ripped boards and sheets come first, cut
//! by cut as the planner lays them, then sticks in set-ups, then work at the bench, like work together.

mod card;
mod kinds;
mod outcome;
mod stages;

pub use card::{Card, Reading};
pub use kinds::{AtBench, Kind};
pub use stages::{AtSaw, Board, Stage, Walk, What};
