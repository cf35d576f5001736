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

/// The cuts of a board in an order in which they can be made. A piece is cut up in one direction, from its
/// left end or lower edge on, before its parts are cut further.
///
/// ```
/// use offsquare_core::boards::guillotine::{self, Answer, BoardKind, Cut, Instance, PartKind, Saw};
/// let job = Instance {
///     cut: Cut::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 3, 96.0, 1.75)],
/// };
/// let Answer::Plan(plan) = guillotine::plan(&job) else { panic!() };
/// // Three slats and two kerfs are exactly 5 1/2: two rips, and nothing is left.
/// let cuts = guillotine::steps(&job, &plan.boards[0]);
/// assert_eq!(cuts.len(), 2);
/// assert!(cuts.iter().all(|c| c.saw == Saw::Rip && c.measure == 1.75));
/// ```
pub fn steps(instance: &Instance, board: &CutBoard) -> Vec<Step> {
    let mut out = Vec::new();
    let mut later = std::collections::VecDeque::from([0usize]);
    while let Some(start) = later.pop_front() {
        let mut on = Some(start);
        let mut direction = None;
        while let Some(piece) = on.take() {
            let Some(it) = board.pieces.get(piece) else {
                break;
            };
            let Then::Cut {
                saw,
                at,
                first,
                second,
            } = it.then
            else {
                break;
            };
            if direction.is_some_and(|d| d != saw) || out.len() > board.pieces.len() {
                later.push_back(piece);
                break;
            }
            direction = Some(saw);
            let falls = |p: Option<usize>| {
                let p = p?;
                Some(match board.pieces.get(p)?.then {
                    Then::Cut { .. } => Falls::Piece(p),
                    Then::Part(placement) => Falls::Part {
                        piece: p,
                        placement,
                    },
                    Then::Rest => Falls::Rest(p),
                })
            };
            let (first_falls, second_falls) = (falls(first), falls(second));
            let behind = matches!(first_falls, None | Some(Falls::Rest(_)));
            out.push(Step {
                piece,
                saw,
                measure: if behind {
                    at + instance.kerf_of(saw)
                } else {
                    at
                },
                side: match saw {
                    Saw::Crosscut => Side::Left,
                    Saw::Rip => Side::Lower,
                },
                behind,
                first: first_falls,
                second: second_falls,
            });
            if let Some(Falls::Piece(p)) = first_falls {
                later.push_back(p);
            }
            if let Some(Falls::Piece(p)) = second_falls {
                on = Some(p);
            }
        }
    }
    out
}
