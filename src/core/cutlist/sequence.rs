//! The order of cuts in a maker's words: when the saw is set, when the stop block, when the board is
//! flipped.

use super::{Entry, Job, Lying};
use crate::boards::{CutBoard, SawCut, Sequence, plain_sequence, sequence};
use crate::saw::SawProfile;
use crate::say;
use crate::units::{Angle, Length, Text};

/// One line of the order of cuts.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// The saw is set.
    Saw(Text),
    /// The stop block is set.
    Stop(Text),
    /// A board is marked and cut.
    Cut(Text),
}

/// The cuts of a job's boards in order: first those of kept boards, then those of the plan. `plain`:
/// blanks first, then their miters.
pub(super) fn order(job: &Job, boards: &[CutBoard], plain: bool) -> Sequence {
    let kept = job.kept.len().min(boards.len());
    let mut all = sequence(&job.instance, &boards[..kept]);
    let rest = if plain {
        plain_sequence(&job.instance, &boards[kept..])
    } else {
        sequence(&job.instance, &boards[kept..])
    };
    let groups = all.groups.len();
    all.saw_changes += rest.saw_changes;
    all.flips += rest.flips;
    all.groups.extend(rest.groups);
    all.cuts.extend(rest.cuts.into_iter().map(|c| SawCut {
        board: c.board + kept,
        group: c.group.map(|g| g + groups),
        ..c
    }));
    all
}

/// What the saw is set to for a board so wide, or that this saw cannot.
fn setting(miter: Angle, width: f64, saw: &SawProfile) -> Text {
    let reach = saw.width_at(miter);
    if miter.0 > saw.miter_most().0 + 1e-9 {
        return say![
            miter,
            " is past this saw: mark these cuts with a tape, and use a hand saw or a sled."
        ];
    }
    let mut text = if miter.0 == 0.0 {
        say!["Set the saw square."]
    } else {
        say!["Set the saw to ", miter, ", swung right."]
    };
    if width > reach.0 * (1.0 + 1e-9) {
        let wide =
            say![" The board is wider than it cuts there, ", reach, ": use a hand saw or a sled."];
        text.0.extend(wide.0);
    }
    text
}

/// A sequence as lines to follow, at this saw. Boards are called by their numbers; marks are counted from the left
/// end of the whole board, trims and bad stretches included.
pub fn steps(
    job: &Job,
    boards: &[CutBoard],
    order: &Sequence,
    lying: &[Lying],
    entries: &[Entry],
    profile: &SawProfile,
) -> Vec<Step> {
    let mut out = Vec::new();
    let (mut saw, mut stop) = (None, None);
    let called = |part: usize| {
        let id = job.parts.get(part).map(|p| p.entry);
        let entry = entries.iter().find(|e| Some(e.id) == id);
        entry.map_or_else(|| "Part".to_owned(), Entry::called)
    };
    for cut in &order.cuts {
        if saw != Some(cut.saw) {
            saw = Some(cut.saw);
            out.push(Step::Saw(setting(Angle(cut.saw), job.instance.width, profile)));
        }
        if cut.group != stop && cut.group.is_some() {
            stop = cut.group;
            let group = cut.group.and_then(|g| order.groups.get(g));
            if let Some(group) = group.filter(|g| g.count > 1) {
                out.push(Step::Stop(say![
                    "Stop block at ",
                    Length(group.length),
                    format!(": {}, {} pieces.", called(group.part), group.count)
                ]));
            }
        }
        let Some(board) = boards.get(cut.board) else {
            continue;
        };
        let number = lying.iter().find(|l| l.members.contains(&cut.board)).map_or(cut.board, |l| {
            l.number + l.members.iter().position(|m| *m == cut.board).unwrap_or(0)
        });
        let start = if cut.blank.is_some() { 0.0 } else { job.boards[board.board].start };
        let part = cut.frees.or(cut.blank).and_then(|p| board.parts.get(p));
        let mut line = match cut.blank {
            Some(place) => say![format!(
                "Blank of {}: ",
                board.parts.get(place).map_or_else(String::new, |p| called(p.part))
            )],
            None => say![format!("Board {number}: ")],
        };
        if cut.flip {
            line = line.and("flip it over, ");
        }
        line = line.and("mark ").and(Length(cut.mark_a + start));
        if cut.miter != 0.0 {
            line = line.and(" near you, ").and(Length(cut.mark_b + start)).and(" at the fence");
        }
        line = line.and(if cut.kerf_right {
            "; blade right of the line"
        } else {
            "; blade left of the line"
        });
        line = match (cut.frees, part) {
            (Some(_), Some(p)) => line.and(format!(". Frees {}.", called(p.part))),
            _ => line.and("."),
        };
        out.push(Step::Cut(line));
    }
    out
}
