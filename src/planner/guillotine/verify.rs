//! Checks a plan of strips or sheets against the rule, sharing nothing with the planner but the types.
//!
//! The tree of cuts is sawn again, cut by cut, from the whole board; then the parts are compared pair
//! by pair, with the trims, the grain, the quantities and the supply, without looking at the tree.

use super::super::outcome::{ACCEPTED, SAME};
use super::super::verify::{self, Count, Fault};
use super::Plan;
use super::instance::{CutBoard, Grain, Instance, Leftover, Piece, Saw, Then};
use offsquare_units::num::{self, Gather};

/// What a sound plan comes to: with the largest leftover, the index of its board.
pub type Facts = verify::Facts<Option<(usize, Leftover)>>;

/// Checks the boards of a plan. Lengths may be off by 1e-7.
///
/// ```
/// use offsquare_planner::guillotine::{self, PlanAnswer, BoardKind, CutKind, Instance, PartKind};
/// let job = Instance {
///     cut: CutKind::Sheets, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
///     parts: vec![PartKind::along("shelf", 2, 40.0, 12.0)],
/// };
/// let PlanAnswer::Plan(mut plan) = guillotine::plan(&job) else { panic!() };
/// assert_eq!(guillotine::verify(&job, &plan.boards).map(|f| f.price), Ok(62.0));
/// plan.boards[0].parts[1].x += 1.0;
/// assert!(guillotine::verify(&job, &plan.boards).is_err());
/// ```
pub fn verify(instance: &Instance, boards: &[CutBoard]) -> Result<Facts, Vec<Fault>> {
    let mut count = Count::new(instance.boards.len(), instance.parts.len());
    let mut leftover: Option<(usize, Leftover)> = None;
    for (b, board) in boards.iter().enumerate() {
        let empty = board.parts.is_empty();
        let kind = count.board(&instance.boards, |k| k.price, (b, board.board), empty);
        let Some(kind) = kind.filter(|_| !empty) else { continue };
        let rectangles = placed(instance, b, board, &mut count);
        apart(instance, b, &rectangles, &mut count.faults);
        sawn(instance, b, board, (kind.length, kind.width), &rectangles, &mut count.faults);
        let reach =
            |axis: usize| rectangles.iter().map(|r| r[axis] + r[axis + 2]).fold(0.0f64, f64::max);
        // The end beyond the last part at full width, or the strip beyond it at full length.
        let end = (kind.length - reach(0) - instance.kerf).max(0.0) * kind.width;
        let strip = (kind.width - reach(1) - instance.rip_kerf).max(0.0) * kind.length;
        let here = if strip > end {
            Leftover { length: kind.length, width: strip / kind.length }
        } else {
            Leftover { length: end / kind.width, width: kind.width }
        };
        if leftover.is_none_or(|(_, l)| here.area() > l.area()) {
            leftover = Some((b, here));
        }
    }
    let limits = instance.boards.iter().map(|b| b.limit);
    count.close(limits, instance.parts.iter().map(|p| p.qty), leftover)
}

/// Checks a whole plan: its boards, and that its price, leftover and bound agree with them.
pub fn verify_plan(instance: &Instance, plan: &Plan) -> Result<Facts, Vec<Fault>> {
    let facts = verify(instance, &plan.boards)?;
    let area = |l: &Option<(usize, Leftover)>| l.as_ref().map_or(0.0, |l| l.1.area());
    let (said, is) = (area(&plan.leftover), area(&facts.leftover));
    let sound = (plan.price - facts.price).abs() <= SAME * facts.price.max(1.0)
        && (said - is).abs() <= SAME * is.max(1.0)
        && plan.bound <= plan.price + SAME
        && plan.proven == (plan.price <= plan.bound + SAME)
        && (plan.proven || !plan.proven_all);
    if sound { Ok(facts) } else { Err(vec![Fault::WrongSum]) }
}

/// The rectangles [x, y, length, width] of a board's parts; counts them, and checks grain and trims.
fn placed(instance: &Instance, b: usize, board: &CutBoard, count: &mut Count) -> Vec<[f64; 4]> {
    let kind = &instance.boards[board.board];
    let mut rectangles = Vec::new();
    for (p, place) in board.parts.iter().enumerate() {
        let Some(part) = count.part(&instance.parts, (b, p), place.part) else {
            rectangles.push([place.x, place.y, 0.0, 0.0]);
            continue;
        };
        if place.turned && part.grain == Grain::Along {
            count.faults.push(Fault::Grain { board: b, place: p });
        }
        let (l, w) =
            if place.turned { (part.width, part.length) } else { (part.length, part.width) };
        let by = (instance.trim - place.x)
            .max(place.x + l - (kind.length - instance.trim))
            .max(instance.edge_trim - place.y)
            .max(place.y + w - (kind.width - instance.edge_trim));
        if !(by <= ACCEPTED) {
            count.faults.push(Fault::Outside { board: b, place: p, by });
        }
        rectangles.push([place.x, place.y, l, w]);
    }
    rectangles
}

/// Every two parts are a kerf apart along the board or a rip's kerf across it.
fn apart(instance: &Instance, b: usize, rectangles: &[[f64; 4]], faults: &mut Vec<Fault>) {
    let mut order: Vec<usize> = (0..rectangles.len()).gather();
    num::sort_by(&mut order, |&i, &j| {
        rectangles[i][0].total_cmp(&rectangles[j][0]).then(i.cmp(&j))
    });
    for (at, &i) in order.iter().enumerate() {
        let p = rectangles[i];
        for &j in &order[at + 1..] {
            let q = rectangles[j];
            let along = p[0] + p[2] + instance.kerf - q[0];
            if along <= ACCEPTED {
                // All that follow begin even further right.
                break;
            }
            let across = (p[1] + p[3] + instance.rip_kerf - q[1])
                .min(q[1] + q[3] + instance.rip_kerf - p[1]);
            let by = along.min(across);
            if !(by <= ACCEPTED) {
                faults.push(Fault::TooClose { board: b, places: (i, j), by });
            }
        }
    }
}

/// Saws the tree of cuts again.
fn sawn(
    instance: &Instance,
    b: usize,
    board: &CutBoard,
    size: (f64, f64),
    rectangles: &[[f64; 4]],
    faults: &mut Vec<Fault>,
) {
    let pieces = &board.pieces;
    let near = |a: f64, b: f64| (a - b).abs() <= ACCEPTED;
    let same = |p: &Piece, r: [f64; 4]| {
        near(p.x, r[0]) && near(p.y, r[1]) && near(p.length, r[2]) && near(p.width, r[3])
    };
    if !pieces.first().is_some_and(|p| same(p, [0.0, 0.0, size.0, size.1])) {
        faults.push(Fault::NotTheBoard { board: b });
        return;
    }
    let mut made = vec![0u32; pieces.len()];
    let mut freed = vec![0u32; rectangles.len()];
    made[0] = 1;
    for (i, piece) in pieces.iter().enumerate() {
        match piece.then {
            Then::Rest => {}
            Then::Part(place) => match rectangles.get(place) {
                Some(&r) if same(piece, r) => freed[place] += 1,
                _ => faults.push(Fault::NotThePart { board: b, piece: i }),
            },
            Then::Cut { saw, at, first, second } => {
                let (size, kerf) = match saw {
                    Saw::Crosscut => (piece.length, instance.kerf),
                    Saw::Rip => (piece.width, instance.rip_kerf),
                };
                let mut sound = at > -kerf - ACCEPTED && at < size + ACCEPTED;
                for (child, from, to) in [(first, 0.0, at), (second, at + kerf, size)] {
                    let Some(c) = child else {
                        // Only dust may go missing.
                        sound &= to - from <= ACCEPTED;
                        continue;
                    };
                    let wanted = match saw {
                        Saw::Crosscut => [piece.x + from, piece.y, to - from, piece.width],
                        Saw::Rip => [piece.x, piece.y + from, piece.length, to - from],
                    };
                    sound &= c > i && to > from && pieces.get(c).is_some_and(|p| same(p, wanted));
                    if let Some(count) = made.get_mut(c) {
                        *count += 1;
                    }
                }
                if !sound {
                    faults.push(Fault::BadCut { board: b, piece: i });
                }
            }
        }
    }
    for (piece, &n) in made.iter().enumerate() {
        if n != 1 {
            faults.push(Fault::Stray { board: b, piece });
        }
    }
    for (place, &n) in freed.iter().enumerate() {
        if n != 1 {
            faults.push(Fault::NotFreed { board: b, place });
        }
    }
}
