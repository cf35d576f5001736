//! Nearly fits, in sticks: shorter parts, boards that measure over nominal, and plans closed up.

use super::super::change::Change;
use super::super::nearly::{Nearing, Nearly, STEPS};
use super::super::outcome::PlanAnswer;
use super::{CutBoard, Instance, Planner, ends};
use offsquare_units::num::Gather;

/// The changes to ask about: parts that give at most `gives` (by part kind; a missing entry gives nothing),
/// and bought boards that measure at most `over` more than nominal.
pub fn changes(gives: &[f64], over: f64) -> Vec<Vec<Change>> {
    let gives = gives.iter().map(|&g| (g, 0.0)).gather();
    let shorter = Change { gives, ..Change::default() };
    vec![vec![shorter], vec![Change { over: (over, 0.0), ..Change::default() }]]
}

/// Whether shortening the parts by at most `gives` (by part kind, in the job's unit; a missing entry gives
/// nothing), or boards that measure over nominal by at most `over`, saves money, or a board at the same
/// money, and by how much at least. If both ways save, the one that saves more; if the same, shortening.
///
/// ```
/// use offsquare_planner::{BoardKind, Instance, PartKind, nearly};
/// // Three 32 in slats and two kerfs are 96 1/4 in: 1/12 in less each, and one 8 ft board does.
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 3, 32.0)],
/// };
/// let found = nearly(&job, &[0.125], 0.0).unwrap();
/// assert_eq!((found.over, found.boards), (false, Some(1)));
/// assert!((found.by - 0.25 / 3.0).abs() < 1e-6);
/// assert!(nearly(&job, &[0.0625], 0.0).is_none());
/// let found = nearly(&job, &[], 0.5).unwrap();
/// assert!(found.over && (found.by - 0.25).abs() < 1e-6);
/// ```
pub fn nearly(instance: &Instance, gives: &[f64], over: f64) -> Option<Nearly<Instance>> {
    let mut base = Planner::new(instance.clone());
    while base.spent() < STEPS && !base.step(STEPS / 16).done {}
    let base = match base.answer() {
        PlanAnswer::Plan(plan) => Some(plan),
        _ => None,
    };
    Nearing::new(instance, base, changes(gives, over), 5 * STEPS).all()
}

/// Moves every part of a board as far left as it goes; gives where the last one ends.
pub fn closed_up(job: &Instance, board: &mut CutBoard) -> f64 {
    let mut tip = job.trim;
    let mut before: Option<f64> = None;
    for p in &mut board.parts {
        let part = &job.parts[p.part];
        let (l, r) = ends::lying(part.left, part.right, p.turned, p.flipped);
        if let Some(a) = before {
            tip += ends::separation(job.width, job.kerf, a, l);
        }
        p.x = tip;
        tip += part.length;
        before = Some(r);
    }
    tip
}
