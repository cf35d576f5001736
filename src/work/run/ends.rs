//! How an end of a part comes off its board: the one cut that is made on the board.

use crate::solved::{EndCut, PiecePart};
use offsquare_cuts::parts::End;
use offsquare_planner::STEEPEST;
use offsquare_units::{DoorUnit, num};

/// The cut that finishes an end on the board, and what the planner is told of that end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardEnd {
    pub cut: EndCut,
    /// How far that cut reaches out past the part: of a point in the middle of the width, half the width's
    /// tape mark.
    pub over: f64,
    /// The miter by which it nests; 0 where it goes in as square.
    pub nests: f64,
    /// What the planned length holds besides the part at this end.
    pub more: f64,
}

/// Where the face of a cut crosses a board's near and far edge on the seen face, and how much further right it
/// stands for each unit up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Face {
    pub near: f64,
    pub far: f64,
    pub rise: f64,
}

/// Ends nearer than this are one, in the unit of the plan.
pub(super) const SAME: f64 = 1e-7;

impl BoardEnd {
    /// Of a part on a board `width` wide, cut with `kerf`, in `unit`.
    ///
    /// Example: a point of 55° and -35° on a board 2 in wide is cut at 55° on the board, which reaches
    /// tan 55° = 1.43 in past the point; the second cut follows at the bench.
    pub fn of(part: &PiecePart, end: End, width: f64, kerf: f64, unit: DoorUnit) -> BoardEnd {
        let cut = if end == End::Left { part.left } else { part.right };
        let tan = num::tan_deg(cut.miter).abs();
        if cut.miter.abs() > STEEPEST || cut.bevel.abs() > STEEPEST || !follows(part, width, unit) {
            return BoardEnd { cut: EndCut::default(), over: 0.0, nests: 0.0, more: 0.0 };
        }
        let over = if cut.second.is_some() { width / 2.0 * tan } else { 0.0 };
        let plain = cut.bevel == 0.0;
        let more = if plain { 0.0 } else { kerf_along(kerf, &cut) - kerf };
        let nests = if plain { cut.miter } else { 0.0 };
        BoardEnd { cut: EndCut { second: None, ..cut }, over, nests, more: over + more }
    }

    /// As it lies on the board: end for end in the plane, rolled over.
    pub(super) fn lying(self, turned: bool, flipped: bool) -> BoardEnd {
        let miter = if turned == flipped { self.cut.miter } else { -self.cut.miter };
        let bevel = if flipped { -self.cut.bevel } else { self.cut.bevel };
        BoardEnd { cut: EndCut { miter: miter + 0.0, bevel: bevel + 0.0, second: None }, ..self }
    }
}

/// What a cut takes along the board: k/|N·e3|, its unit normal N lying cos(miter)·cos(bevel) along it.
pub(super) fn kerf_along(kerf: f64, cut: &EndCut) -> f64 {
    kerf / (num::cos_deg(cut.miter) * num::cos_deg(cut.bevel))
}

/// The face of an end that reaches out to `tip` at most; `outward` is 1 at a right end, -1 at a left one.
pub(super) fn face(cut: &EndCut, tip: f64, outward: f64, width: f64, away: f64) -> Face {
    let slope = num::tan_deg(cut.miter);
    let rise = num::tan_deg(cut.bevel) / num::cos_deg(cut.miter);
    let back = |y: f64| y * slope + (-width * slope).max(0.0) - (away * rise).min(0.0);
    let at = |y: f64| tip - outward * back(y);
    Face { near: at(0.0), far: at(width), rise: outward * rise }
}

/// Whether a part's outline, where it has one, is what the cuts of its two ends leave of it.
fn follows(part: &PiecePart, width: f64, unit: DoorUnit) -> bool {
    let Some(outline) = &part.outline else { return true };
    let (length, away) = (unit.value(part.length), unit.value(part.away));
    let mut expected: Vec<(f64, f64)> = Vec::new();
    for (end, tip, outward) in [(&part.left, 0.0, -1.0), (&part.right, length, 1.0)] {
        match end.second {
            None => {
                let face = face(end, tip, outward, width, away);
                expected.extend([(face.near, 0.0), (face.far, width)]);
            }
            Some(second) => {
                // The cut that leaves the near edge further out makes the far half.
                let (far, near) =
                    if end.miter > 0.0 { (end.miter, second) } else { (second, end.miter) };
                let back = |m: f64| tip - outward * width / 2.0 * num::tan_deg(m).abs();
                expected.extend([(back(near), 0.0), (tip, width / 2.0), (back(far), width)]);
            }
        }
    }
    let slack = 1e-6 * length.max(width);
    let close = |a: (f64, f64), b: (f64, f64)| num::hypot(a.0 - b.0, a.1 - b.1) <= slack;
    let told: Vec<(f64, f64)> = outline
        .0
        .iter()
        .map(|p| (p.x / unit.inches_per_unit(), p.y / unit.inches_per_unit()))
        .collect();
    told.iter().all(|p| expected.iter().any(|e| close(*p, *e)))
        && expected.iter().all(|e| told.iter().any(|p| close(*p, *e)))
}
