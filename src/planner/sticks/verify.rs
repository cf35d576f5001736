//! Checks a plan against the definition, sharing nothing with the planner but the types.
//!
//! It works on corners: the left and right end of every part at edge A (y = 0) and edge B (y = w).

use super::super::outcome::ACCEPTED;
use super::super::verify::{Count, Facts, Fault};
use super::instance::{CutBoard, Instance};
use offsquare_units::num;

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
/// use offsquare_planner::{BoardKind, CutBoard, Instance, PartKind, Placement, verify};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 1, 32.0)],
/// };
/// let at = |x| vec![CutBoard { parts: vec![Placement { x, ..Placement::default() }], ..CutBoard::default() }];
/// assert_eq!(verify(&job, &at(0.0)).map(|f| f.leftover), Ok(63.875));
/// assert!(verify(&job, &at(64.5)).is_err());
/// ```
pub fn verify(instance: &Instance, boards: &[CutBoard]) -> Result<Facts<f64>, Vec<Fault>> {
    let mut count = Count::new(instance.boards.len(), instance.parts.len());
    let mut leftover = 0.0f64;
    for (b, board) in boards.iter().enumerate() {
        let empty = board.parts.is_empty();
        let kind = count.board(&instance.boards, |k| k.price, (b, board.board), empty);
        let Some(kind) = kind else { continue };
        let mut before: Option<Outline> = None;
        for (p, place) in board.parts.iter().enumerate() {
            let Some(part) = count.part(&instance.parts, (b, p), place.part) else {
                before = None;
                continue;
            };
            if place.flipped && part.one_good_face {
                count.faults.push(Fault::Flipped { board: b, place: p });
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
                count.faults.push(Fault::Outside { board: b, place: p, by });
            }
            if let Some(last) = &before {
                let need = last.right_kerf.max(outline.left_kerf);
                let gap = (outline.left[0] - last.right[0]).min(outline.left[1] - last.right[1]);
                let by = need - gap;
                if !(by <= ACCEPTED) {
                    count.faults.push(Fault::TooClose { board: b, places: (p - 1, p), by });
                }
            }
            if p + 1 == board.parts.len() {
                leftover = leftover.max(kind.length - most - outline.right_kerf);
            }
            before = Some(outline);
        }
    }
    let limits = instance.boards.iter().map(|b| b.limit);
    count.close(limits, instance.parts.iter().map(|p| p.qty), leftover)
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
