//! Checks a plan against the definition, sharing nothing with the planner but the types.
//!
//! It works on corners: the left and right end of every part at edge A (y = 0) and edge B (y = w).

use super::instance::{CutBoard, Instance};
use crate::num;
use core::fmt;

/// What a verifier lets pass, in the job's unit.
pub const ACCEPTED: f64 = 1e-7;

/// What is wrong with a plan. Boards and parts are counted from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A board names a kind that the job does not have.
    NoSuchBoard { board: usize },
    /// More boards of a kind are cut than there are.
    TooManyBoards { kind: usize, cut: u64, limit: u64 },
    /// A board on which nothing is cut.
    Empty { board: usize },
    /// A place names a part that the job does not have.
    NoSuchPart { board: usize, place: usize },
    /// A part with one good face lies flipped.
    Flipped { board: usize, place: usize },
    /// A part lies outside the usable length, by so much.
    Outside { board: usize, place: usize, by: f64 },
    /// A part comes too close to the one before it, by so much.
    TooClose { board: usize, place: usize, by: f64 },
    /// Not as many are cut as are wanted.
    WrongCount { part: usize, cut: u64, wanted: u64 },
}

/// What a sound plan comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// How many boards of each kind are cut.
    pub boards: Vec<u64>,
    /// The one largest leftover, at full width.
    pub leftover: f64,
}

struct Outline {
    /// Left end at edge A and B, right end at edge A and B.
    left: [f64; 2],
    right: [f64; 2],
    /// Kerf along the board at each end.
    left_kerf: f64,
    right_kerf: f64,
}

/// Checks every board, gap and count of a plan. Lengths may be off by 1e-7.
///
/// ```
/// use offsquare_core::boards::{BoardKind, CutBoard, Instance, PartKind, Placement, verify};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 1, 32.0)],
/// };
/// let at = |x| vec![CutBoard { board: 0, parts: vec![Placement { part: 0, turned: false, flipped: false, x }] }];
/// assert_eq!(verify(&job, &at(0.0)).map(|f| f.leftover), Ok(63.875));
/// assert!(verify(&job, &at(64.5)).is_err());
/// ```
pub fn verify(instance: &Instance, boards: &[CutBoard]) -> Result<Facts, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut used = vec![0u64; instance.boards.len()];
    let mut cut = vec![0u64; instance.parts.len()];
    let mut leftover = 0.0f64;
    for (b, board) in boards.iter().enumerate() {
        let Some(kind) = instance.boards.get(board.board) else {
            faults.push(Fault::NoSuchBoard { board: b });
            continue;
        };
        used[board.board] += 1;
        if board.parts.is_empty() {
            faults.push(Fault::Empty { board: b });
        }
        let mut before: Option<Outline> = None;
        for (p, place) in board.parts.iter().enumerate() {
            let Some(part) = instance.parts.get(place.part) else {
                faults.push(Fault::NoSuchPart { board: b, place: p });
                before = None;
                continue;
            };
            cut[place.part] += 1;
            if place.flipped && part.one_good_face {
                faults.push(Fault::Flipped { board: b, place: p });
            }
            let mut angles = [part.left, part.right];
            if place.turned {
                angles = [-angles[1], -angles[0]];
            }
            if place.flipped {
                angles = [-angles[0], -angles[1]];
            }
            let outline = outline(instance, place.x, part.length, angles);
            let least = outline.left[0].min(outline.left[1]).min(place.x);
            let most = outline.right[0].max(outline.right[1]).max(place.x + part.length);
            let by = (instance.trim - least).max(most - (kind.length - instance.trim));
            if !(by <= ACCEPTED) {
                faults.push(Fault::Outside { board: b, place: p, by });
            }
            if let Some(last) = &before {
                let need = last.right_kerf.max(outline.left_kerf);
                let gap = (outline.left[0] - last.right[0]).min(outline.left[1] - last.right[1]);
                if !(need - gap <= ACCEPTED) {
                    faults.push(Fault::TooClose { board: b, place: p, by: need - gap });
                }
            }
            if p + 1 == board.parts.len() {
                leftover = leftover.max(kind.length - most - outline.right_kerf);
            }
            before = Some(outline);
        }
    }
    for (kind, (&n, board)) in used.iter().zip(&instance.boards).enumerate() {
        if let Some(limit) = board.limit
            && n > limit
        {
            faults.push(Fault::TooManyBoards { kind, cut: n, limit });
        }
    }
    for (part, (&n, kind)) in cut.iter().zip(&instance.parts).enumerate() {
        if n != kind.qty {
            faults.push(Fault::WrongCount { part, cut: n, wanted: kind.qty });
        }
    }
    if faults.is_empty() { Ok(Facts { boards: used, leftover }) } else { Err(faults) }
}

/// Corners of a part whose extent begins at `x` (the table in section 2 of the definition).
fn outline(instance: &Instance, x: f64, length: f64, angles: [f64; 2]) -> Outline {
    let [o_left, o_right] = angles.map(|a| instance.width * num::sin_deg(a) / num::cos_deg(a));
    let end = x + length;
    Outline {
        left: [x + (-o_left).max(0.0), x + o_left.max(0.0)],
        right: [end - (-o_right).max(0.0), end - o_right.max(0.0)],
        left_kerf: instance.kerf / num::cos_deg(angles[0]),
        right_kerf: instance.kerf / num::cos_deg(angles[1]),
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NoSuchBoard { board } => {
                write!(f, "Board {board} is of a kind that is not in stock.")
            }
            Fault::TooManyBoards { kind, cut, limit } => {
                write!(f, "{cut} boards of kind {kind} are cut, and there are {limit}.")
            }
            Fault::Empty { board } => write!(f, "Nothing is cut on board {board}."),
            Fault::NoSuchPart { board, place } => {
                write!(f, "Place {place} on board {board} names no part of the job.")
            }
            Fault::Flipped { board, place } => {
                write!(
                    f,
                    "The part at place {place} on board {board} has one good face and lies flipped."
                )
            }
            Fault::Outside { board, place, by } => {
                write!(
                    f,
                    "The part at place {place} on board {board} runs {by} past the usable length."
                )
            }
            Fault::TooClose { board, place, by } => {
                write!(
                    f,
                    "The part at place {place} on board {board} is {by} too close to the one before."
                )
            }
            Fault::WrongCount { part, cut, wanted } => {
                write!(f, "{cut} of part {part} are cut, and {wanted} are wanted.")
            }
        }
    }
}
