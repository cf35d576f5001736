//! From parts to boards: the plan that costs least, proven or with its distance from the least.
//!
//! The planner knows parts as lengths with two end angles, and boards as lengths with prices. It works
//! in one unit throughout and quantises nothing. Plans are compared by price, then by number of
//! boards, then by the one largest leftover. Every plan passes [`verify`], which shares nothing with
//! the search; the budget is a number of steps, so that a run can be repeated.
//!
//! The road: equal parts are merged (`job`); the fractional problem over patterns is solved by column
//! generation (`simplex`, `pricing`, `knapsack`; with mitered ends `field`); each set of part values that turns up gives an
//! inequality over numbers of boards, and the cheapest whole numbers that obey all of them bound the
//! price from below (`counts`); those numbers are filled by diving and complete search (`search`,
//! `exact`) or ruled out by a further inequality.

mod counts;
mod door;
pub mod ends;
mod exact;
mod field;
mod greedy;
pub mod guillotine;
mod instance;
mod job;
mod joints;
mod knapsack;
mod leftover;
mod merge;
mod nearly;
mod opening;
mod plain;
mod planner;
mod price;
mod pricing;
mod run;
mod search;
mod sequence;
mod simplex;
mod tableau;
mod verify;

pub use door::{plan_text, plan_value, read, write};
pub use instance::{
    Answer, BoardKind, CutBoard, Flaw, Instance, LARGEST, MOST_PARTS, PartKind, Placement, Plan,
    STEEPEST, WORKING,
};
pub use nearly::{Nearing, Nearly, Way, nearly};
pub use plain::{plain, squared};
pub use planner::{BUDGET, Planner, Progress};
pub(crate) use price::quotient;
pub use sequence::{
    BoardCut, SawCut, Sequence, StopGroup, finish, miters, plain_sequence, sequence,
};
pub use verify::{ACCEPTED, Facts, Fault, verify};

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> Answer {
    let mut planner = Planner::new(instance.clone());
    while !planner.step(i64::MAX / 4).done {}
    planner.answer()
}
