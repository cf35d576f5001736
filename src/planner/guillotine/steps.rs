//! The order of cuts for people: one line a cut.

use super::instance::{CutBoard, Instance, Saw, Then};

/// The edge of the piece that a cut is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The piece's left end.
    Left,
    /// The piece's lower long edge.
    Lower,
}

/// What comes off the saw: an index into the board's pieces each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Falls {
    /// A finished part: piece, and index into the board's `parts`.
    Part { piece: usize, placement: usize },
    /// A piece that is cut again later.
    Piece(usize),
    /// A piece that is left over.
    Rest(usize),
}

/// One cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The piece on the saw; 0 is the whole board.
    pub piece: usize,
    pub saw: Saw,
    /// Distance from `side` of the piece to the nearer side of the wanted line: to the near side of the
    /// kerf, or to its far side if `behind`.
    pub measure: f64,
    pub side: Side,
    /// True for a trimming cut: what is wanted lies behind the kerf.
    pub behind: bool,
    /// What lies before the kerf and behind it; none: dust.
    pub first: Option<Falls>,
    pub second: Option<Falls>,
}

/// The cuts of a board in an order in which they can be made: as many as can be with the fence or the stop
/// where it is, then others with the same saw. Pieces are cut from their left end or lower edge on.
///
/// ```
/// use offsquare_planner::guillotine::{self, PlanAnswer, BoardKind, CutKind, Instance, PartKind, Saw};
/// let job = Instance {
///     cut: CutKind::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 3, 96.0, 1.75)],
/// };
/// let PlanAnswer::Plan(plan) = guillotine::plan(&job) else { panic!() };
/// // Three slats and two kerfs are exactly 5 1/2: two rips, and nothing is left.
/// let cuts = guillotine::steps(&job, &plan.boards[0]);
/// assert_eq!(cuts.len(), 2);
/// assert!(cuts.iter().all(|c| c.saw == Saw::Rip && c.measure == 1.75));
/// ```
pub fn steps(instance: &Instance, board: &CutBoard) -> Vec<Step> {
    let mut out: Vec<Step> = Vec::new();
    let mut ready = Vec::from([0usize]);
    loop {
        let last = out.last().copied();
        let like = |p: &usize, same: fn(&Step, &Step) -> bool| {
            let step = step(instance, board, *p);
            step.zip(last).is_some_and(|(s, l)| same(&s, &l))
        };
        let next = (ready.iter().position(|p| like(p, is_set)))
            .or_else(|| ready.iter().position(|p| like(p, |s, l| s.saw == l.saw)));
        let at = next.unwrap_or(0);
        if at >= ready.len() || out.len() > board.pieces.len() {
            return out;
        }
        let Some(step) = step(instance, board, ready.remove(at)) else {
            continue;
        };
        out.push(step);
        // What is left of the piece comes at once, what was cut off it later.
        if let Some(Falls::Piece(p)) = step.first {
            ready.push(p);
        }
        if let Some(Falls::Piece(p)) = step.second {
            ready.insert(at, p);
        }
    }
}

/// The same saw with its fence or stop at the same place.
fn is_set(a: &Step, b: &Step) -> bool {
    a.saw == b.saw && a.behind == b.behind && (a.measure - b.measure).abs() < 1e-6
}

/// How often the fence or the stop is set for cuts that follow each other.
///
/// ```
/// use offsquare_planner::guillotine::{self, PlanAnswer, BoardKind, CutKind, Instance, PartKind};
/// let job = Instance {
///     cut: CutKind::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 6, 47.9375, 1.75)],
/// };
/// let PlanAnswer::Plan(plan) = guillotine::plan(&job) else { panic!() };
/// let cuts = guillotine::steps(&job, &plan.boards[0]);
/// // Rips at 1 3/4, then crosscuts at 47 15/16, or the other way round.
/// assert_eq!(guillotine::settings(&cuts), 2);
/// ```
pub fn settings(cuts: &[Step]) -> usize {
    let changes = cuts.windows(2).filter(|w| !is_set(&w[0], &w[1]));
    usize::from(!cuts.is_empty()) + changes.count()
}

/// The same for all boards of a plan; boards that are cut alike are cut together.
pub fn changes(instance: &Instance, boards: &[CutBoard]) -> usize {
    let first = |(i, b): &(usize, &CutBoard)| !boards[..*i].contains(b);
    let each = boards.iter().enumerate().filter(first);
    let cuts: Vec<Step> = each.flat_map(|(_, b)| steps(instance, b)).collect();
    settings(&cuts)
}

/// The cut of a piece, if it is cut.
fn step(instance: &Instance, board: &CutBoard, piece: usize) -> Option<Step> {
    let Then::Cut { saw, at, first, second } = board.pieces.get(piece)?.then else {
        return None;
    };
    let falls = |p: Option<usize>| {
        let p = p?;
        Some(match board.pieces.get(p)?.then {
            Then::Cut { .. } => Falls::Piece(p),
            Then::Part(placement) => Falls::Part { piece: p, placement },
            Then::Rest => Falls::Rest(p),
        })
    };
    let (first, second) = (falls(first), falls(second));
    let behind = matches!(first, None | Some(Falls::Rest(_)));
    Some(Step {
        piece,
        saw,
        measure: if behind { at + instance.kerf_of(saw) } else { at },
        side: match saw {
            Saw::Crosscut => Side::Left,
            Saw::Rip => Side::Lower,
        },
        behind,
        first,
        second,
    })
}
