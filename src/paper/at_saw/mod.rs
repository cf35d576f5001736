//! Pictures at the saw: how the board lies, where the blade goes, what is marked.

mod lap_view;
mod listed;
mod plan_view;
mod run_view;
mod step;
mod tape_view;

pub use lap_view::lap_on_face;
pub use listed::part_on_saw;
pub use plan_view::{seen_along_blade, seen_from_above, short_on_stick, turned_from_above};
pub use run_view::{board_at_blade, part_on_face};
pub use step::step_picture;
pub use tape_view::two_tape_marks;
