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

mod bounds;
mod corner;
mod dive;
mod door;
mod exact;
mod fill;
mod instance;
mod job;
mod judge;
mod later;
mod layout;
mod nearly;
mod numbers;
mod pack;
mod planner;
mod root;
mod run;
mod sets;
mod staged;
mod steps;
mod verify;
mod worth;

pub use door::{plan_value, read, write};
pub use instance::{
    Answer, BoardKind, Cut, CutBoard, Grain, Instance, LARGEST, Leftover, MOST_PARTS, PartKind,
    Piece, Placement, Plan, Saw, Then, leftover_of,
};
pub use nearly::{Change, Nearing, Nearly, nearly};
pub use planner::{BUDGET, Planner, Progress};
pub use steps::{Falls, Side, Step, changes, settings, steps};
pub use verify::{Facts, Fault, verify, verify_plan};

/// The best plan for a job, with its bound, in one go.
pub fn plan(instance: &Instance) -> Answer {
    let mut planner = Planner::new(instance.clone());
    while !planner.step(i64::MAX / 4).done {}
    planner.answer()
}
