//! Strips ripped from boards and rectangles cut from sheets: guillotine cuts only.
//!
//! **The rule.** A board is a rectangle of a length (x) and a width (y). A cut runs straight through the
//! whole piece that lies on the saw: a *crosscut* across its length takes `kerf` off its length, a *rip*
//! along its length takes `rip_kerf` off its width; the kerf may run off the piece. A part lies with
//! its length along the board's length or, where its grain is free, turned by 90°. Parts keep `trim` from
//! both ends and `edge_trim` from both long edges of the board, the trimming cut's kerf included; an edge
//! of a part that lies on the board's own edge needs no cut. So a part as wide as the board is not ripped.
//!
//! Strips and sheets are one problem. They differ in what is tried first (a board is ripped over its
//! full length and the strips are crosscut), in the defaults of the JSON door, and in scale. Bounds hold
//! for every guillotine plan.
//!
//! **The aim**, in this order: least price; fewest boards, owned ones counted; largest single leftover.
//! The *leftover* of a board is one rectangle, compared by area: either the end right of the last part at
//! the board's full width, or the strip beyond the last part at the board's full length, less the cut
//! that frees it; trims are not taken off. Boards that are not used have none.

mod corner;
mod dive;
mod effort;
mod exact;
mod fill;
mod instance;
mod job;
mod judge;
mod layout;
mod leftover;
mod nearly;
mod pack;
mod phases;
mod relaxation;
mod root;
mod sets;
mod staged;
mod steps;
mod tight;
mod verify;
mod worth;

pub use super::change::Change;
pub use super::nearly::nearly;
pub use instance::{
    BoardKind, Cut, CutBoard, Grain, Instance, LARGEST, Leftover, MOST_PARTS, PartKind, Piece,
    Placement, Saw, Then, leftover_of,
};
pub use steps::{Falls, Side, Step, changes, settings, steps};
pub use verify::{Facts, verify, verify_plan};

pub use super::verify::Fault;

/// A plan of strips or sheets.
pub type Plan = super::cutting::PlanOf<Instance>;
/// The planner's answer for strips or sheets.
pub type Answer = super::cutting::AnswerOf<Instance>;
/// The planner of strips or sheets.
pub type Planner = super::planner::Planner<Instance>;
/// What a small change of the job saves.
pub type Nearly = super::nearly::Nearly<Instance>;
/// What nearly fits, in steps.
pub type Nearing = super::nearly::Nearing<Instance>;

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> Answer {
    Planner::new(instance.clone()).all()
}
