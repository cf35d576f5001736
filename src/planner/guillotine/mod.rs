//! Strips ripped from boards and rectangles cut from sheets: guillotine cuts only.
//!
//! **The rule.** A board is a rectangle of a length (x) and a width (y). A cut runs straight through the
//! whole piece that lies on the saw: a *crosscut* across its length takes `kerf` off its length, a *rip*
//! along its length takes `rip_kerf` off its width; the kerf may run off the piece. A part lies with its
//! length along the board's length or, where its grain is free, turned by 90°. Parts keep `trim` from both
//! ends and `edge_trim` from both long edges of the board, the trimming cut's kerf included; an edge of a
//! part that lies on the board's own edge needs no cut. So a part as wide as the board is not ripped.
//!
//! Strips and sheets are one problem. They differ in what is tried first (a board is ripped over its full
//! length and the strips are crosscut), in the defaults of the JSON door, and in scale. Any guillotine plan
//! is allowed, and bounds hold for all of them. An edge trim also holds for parts as wide as the board: they
//! then fit only wider boards.
//!
//! **The aim**, in this order: least price; fewest boards, owned ones counted; largest single leftover. The
//! *leftover* of a board is one rectangle, compared by area: either the end right of the last part at the
//! board's full width, or the strip beyond the last part at the board's full length, less the cut that frees
//! it; trims are not taken off. Boards that are not used have none.
//!
//! Plain: strips of one width over the whole length, then crosscut; changes of the saw are counted as the
//! cuts are listed, and among plain plans of one price the one with the fewest counts.
//!
//! Plans come from the relaxation (`staged`, `dive`). On boards that all parts nearly fill (`tight`), no piece
//! may waste more than the total left over, so few sets of parts are possible, and the boards are either
//! filled or ruled out (this finds a full sheet of 15 parts again, which heuristics do not). `--bench
//! rectangles`: of 30 jobs each 24 strips and 27 sheets proven, 200 parts 2.3 % and 6.1 % above the bound in
//! the mean. A unit of work is at most some 60 ms (`feasibility`, `Sharing`, `Packing`, `Diving`,
//! `Sets::grow` go on where they stopped).

mod corner;
mod dive;
mod effort;
mod exact;
mod feasibility;
mod instance;
mod layout;
mod leftover;
mod model;
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
    BoardKind, CutBoard, CutKind, Grain, Instance, LARGEST, Leftover, MOST_PARTS, PartKind, Piece,
    Placement, Saw, Then, leftover_of,
};
pub use steps::{Falls, Side, Step, changes, settings, steps};
pub use verify::{Facts, verify, verify_plan};

pub use super::verify::Fault;

/// A plan of strips or sheets.
pub type Plan = super::cutting::PlanOf<Instance>;
/// The planner's answer for strips or sheets.
pub type PlanAnswer = super::cutting::AnswerOf<Instance>;
/// The planner of strips or sheets.
pub type Planner = super::planner::Planner<Instance>;
/// What a small change of the job saves.
pub type Nearly = super::nearly::Nearly<Instance>;
/// What nearly fits, in steps.
pub type Nearing = super::nearly::Nearing<Instance>;

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> PlanAnswer {
    Planner::new(instance.clone()).all()
}
