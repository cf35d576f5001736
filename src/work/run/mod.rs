//! The run at the saw: the boards of a piece cut by cut, in set-ups and steps.
//!
//! Frame of a board: x from its left end as it lay at the start, y from its near edge (the operator's) to the
//! one at the fence, its seen face up. It keeps this frame however it lies later. It is only ever rolled over
//! about its length: then its near edge lies at the fence. All lengths are in the unit of the plans.
//!
//! The plan fixes where each part lies, not the order of cuts: a cut in the middle of a board leaves two shorter
//! sticks, and neither minds. So the run visits set-up after set-up, and cuts every board as far as that goes.

mod board;
mod ends;
mod order;
mod relay;
mod saw;
mod sequence;
mod stages;
mod steps;
mod stops;

pub use board::{StickPart, StickPlan};
pub use ends::BoardEnd;
pub use relay::shorter_first;
pub use saw::{SetUp, Setting, Shown, Stop, WayOut};
pub use steps::{Bench, Cutting, Finish, Kerf, Kind, Run, Single, Step, Work, run};
