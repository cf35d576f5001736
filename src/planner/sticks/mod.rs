//! Sticks: parts cut one after another, with mitered ends that nest, by cutting patterns.
//!
//! The road: equal parts are merged (`job`); the relaxation over patterns is solved by column generation
//! (`simplex`, `pricing`, `knapsack`; with mitered ends `field`); each set of dual values that turns up gives
//! a valid inequality over numbers of boards; those numbers are filled by diving and complete search
//! (`feasibility`, `exact`) or ruled out by a further inequality.

pub mod ends;
mod exact;
mod feasibility;
mod field;
mod greedy;
mod instance;
mod job;
mod joints;
mod knapsack;
mod leftover;
mod merge;
mod nearly;
mod opening;
mod phases;
mod plain;
mod pool;
mod pricing;
mod refill;
mod sequence;
mod simplex;
mod verify;

pub use instance::{
    BoardKind, CutBoard, Instance, LARGEST, MOST_PARTS, PartKind, Placement, STEEPEST,
};
pub use nearly::{changes, nearly};
pub use plain::{plain, squared};
pub use sequence::{
    BoardCut, SawCut, Sequence, StopGroup, finish, miters, plain_sequence, sequence,
};
pub use verify::verify;

/// A plan of sticks.
pub type Plan = super::cutting::PlanOf<Instance>;
/// The planner's answer for sticks.
pub type Answer = super::cutting::AnswerOf<Instance>;
/// The planner of sticks.
pub type Planner = super::planner::Planner<Instance>;
/// What a small change of the job saves.
pub type Nearly = super::nearly::Nearly<Instance>;
/// What nearly fits, in steps.
pub type Nearing = super::nearly::Nearing<Instance>;

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> Answer {
    Planner::new(instance.clone()).all()
}
