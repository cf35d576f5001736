//! From parts to boards: the plan that costs least, proven or with its distance from the least.
//!
//! Two kinds of cutting: `sticks`, parts as lengths with two end angles, and `guillotine`, rectangles ripped
//! and crosscut from boards and sheets. One unit throughout; nothing is quantized. Plans are compared by
//! price, then by number of boards, then by the one largest leftover. Every plan passes a verifier that
//! shares nothing with the search but the types; the budget is a number of steps, so that a run can be repeated.
//!
//! What both share is there once:
//!
//! - `board`: a board with what is cut from it; `outcome`: plans, answers, flaws (`Plan`, `PlanAnswer`, `Progress`, `Flaw`); `price`: exact sums of prices;
//! - `cutting`: the trait of a kind of cutting, with all that differs: cutting patterns against trees of cuts;
//! - `planner`: a job's search in steps; `search`: its phases, first → simple → root → dive → price → harder →
//!   fewer → leftover, over any kind of cutting; `budget`: what it may spend;
//! - `stock`, `board_counts`: boards that are alike, and the cheapest counts of them that no valid inequality
//!   rules out;
//! - `tableau`: the simplex method behind both master problems;
//! - `nearly`: what a hair less on the parts, or a hair more on the boards, would save;
//! - `message`: what is asked and said, as records; `request`: a whole request in steps (`Request`);
//! - `words`: cuts of boards that were kept before there were records;
//! - `verdict`: found, impossible or unknown; `verify`: the frame of the verifiers.

mod board;
mod board_counts;
mod budget;
mod change;
pub mod cutting;
pub mod guillotine;
pub mod message;
mod nearly;
pub mod outcome;
pub mod planner;
mod price;
mod request;
mod search;
pub mod sticks;
mod stock;
mod tableau;
mod verdict;
mod verify;
mod words;

pub use board::alike;
pub use budget::BUDGET;
pub use change::Change;
pub use outcome::{ACCEPTED, Flaw, Progress, WORKING};
pub use request::{CURVE_MOST, Request};
pub use sticks::*;
pub use verify::Fault;
pub use words::read_pieces;
