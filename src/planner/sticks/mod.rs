//! Sticks: parts cut one after another, with mitered ends that nest, by cutting patterns.
//!
//! `plan`, `plain`, `sequence`, `plain_sequence`, `nearly`, `Planner` for steps (the first call ends with a
//! plan; at every stop the best plan has passed `verify` and its bound holds). Infeasible is said only when
//! proven; a search that ends without plan or proof says `open`.
//!
//! 1. `model`, `merge`: equal parts are one kind; ends are points on a line, so that the excess of a joint
//!    is a distance.
//! 2. `greedy`, `opening`: first plans, and inequalities over board counts that need no search; with
//!    more than 200 square lengths `refill` (boards emptied and filled again as far as parts go: 500 lengths
//!    are proven in half a second).
//! 3. `simplex`, `tableau`, `pricing`: column generation, priced at values drawn toward those of the best
//!    bound so far. Square ends: `knapsack`. Mitered ends: `completion`, a table over open end and cells
//!    left that bounds every completion, and a search along it, at 512, 2,048 and 8,192 cells until the
//!    bound or a pattern decides. The table does not limit how often a kind is used, so Lagrangian
//!    multipliers lower the worth of kinds used too often (`settle`; kept from one pricing to the next).
//! 4. `board_counts`: the cheapest board counts that all inequalities allow; `feasibility` fills them (dives
//!    that differ by seed, then `exact`, which asks `joints` for the order on each board) or finds an
//!    inequality that rules them out.
//! 5. `search` (shared with rectangles) runs the phases in order: price, fewer boards, `leftover`. A step
//!    takes about a nanosecond. Units of work are kept short: the relaxation is solved in slices, and labels
//!    and nodes are limited in each unit (longest unit of 200 jobs: median 4 ms, 99th 55, most 60).

mod completion;
pub mod ends;
mod exact;
mod feasibility;
mod greedy;
mod instance;
mod joints;
mod knapsack;
mod leftover;
mod merge;
mod model;
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
    BoardCut, SawCut, Sequence, StopGroup, finish, miters, plain_sequence, sequence, sequence_on,
};
pub use verify::verify;

/// A plan of sticks.
pub type Plan = super::cutting::PlanOf<Instance>;
/// The planner's answer for sticks.
pub type PlanAnswer = super::cutting::AnswerOf<Instance>;
/// The planner of sticks.
pub type Planner = super::planner::Planner<Instance>;
/// What a small change of the job saves.
pub type Nearly = super::nearly::Nearly<Instance>;
/// What nearly fits, in steps.
pub type Nearing = super::nearly::Nearing<Instance>;

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> PlanAnswer {
    Planner::new(instance.clone()).all()
}
