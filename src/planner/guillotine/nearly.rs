//! Nearly fits, in strips and sheets: smaller parts, larger boards, and whether they hold the same cuts.

use super::super::change::Change;
use super::super::nearly::less;
use super::super::outcome::WORKING;
use super::instance::{CutBoard, Instance, Saw, Then};

/// The job with everything changed by this much, as far as it may be.
pub fn changed(instance: &Instance, change: &Change, by: f64) -> Instance {
    let mut job = instance.clone();
    for (part, give) in job.parts.iter_mut().zip(&change.gives) {
        part.length = less(part.length, give.0.min(by));
        part.width = less(part.width, give.1.min(by));
    }
    for board in job.boards.iter_mut().filter(|b| b.price > 0.0) {
        board.length += change.over.0.min(by).max(0.0);
        board.width += change.over.1.min(by).max(0.0);
    }
    job
}

/// Whether the cuts of a board still give its parts.
pub fn holds(job: &Instance, cut: &CutBoard) -> bool {
    let (room, need) = (job.usable(&job.boards[cut.board]), extent(job, cut));
    need.0 <= room.0 + WORKING / 2.0 && need.1 <= room.1 + WORKING / 2.0
}

/// The size of a board's parts, closed up, with the kerfs between them.
fn extent(job: &Instance, cut: &CutBoard) -> (f64, f64) {
    let mut sizes: Vec<Option<(f64, f64)>> = vec![None; cut.pieces.len()];
    // What is cut from a piece comes after it.
    for (i, piece) in cut.pieces.iter().enumerate().rev() {
        sizes[i] = match piece.then {
            Then::Rest => None,
            Then::Part(p) => {
                let place = &cut.parts[p];
                Some(job.parts[place.part].extent(place.turned))
            }
            Then::Cut { saw, first, second, .. } => {
                match (first.and_then(|p| sizes[p]), second.and_then(|p| sizes[p])) {
                    (Some(a), Some(b)) => Some(match saw {
                        Saw::Crosscut => (a.0 + job.kerf + b.0, a.1.max(b.1)),
                        Saw::Rip => (a.0.max(b.0), a.1 + job.rip_kerf + b.1),
                    }),
                    (one, other) => one.or(other),
                }
            }
        };
    }
    sizes.first().copied().flatten().unwrap_or_default()
}
