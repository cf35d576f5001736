//! What is bought, left over and put away.

use super::job::{Board, Origin};
use crate::rack::Owned;
use offsquare_planner::CutBoard;
use offsquare_units::{Length, Money};

/// Boards of one length to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    pub count: u32,
    pub length: Length,
    /// None while it is not known.
    pub each: Option<Money>,
    pub sum: Option<Money>,
}

/// What is left of a board right of its last cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leftover {
    pub length: Length,
    /// Of it, given up at the far end.
    pub trim: Length,
    /// Worth keeping, by the rack's measure.
    pub keep: bool,
}

/// A board, or several alike, as they lie against the fence.
#[derive(Clone, Debug, PartialEq)]
pub struct Lying {
    /// Number of the first of them, counted from 1.
    pub number: usize,
    /// Places in the plan of all boards that are cut like this one.
    pub members: Vec<usize>,
    pub cut: CutBoard,
    pub origin: Origin,
    pub length: Length,
    pub start: f64,
    /// Index of the kept board that this is.
    pub kept: Option<usize>,
    pub left: Leftover,
}

/// What happens to the rack when a job is cut: boards that are used up, pieces that are kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PutAway {
    pub stock: u32,
    /// Index into the sold lengths, and how many were bought.
    pub bought: Vec<(usize, u32)>,
    /// Index into the owned boards, and how many were cut.
    pub cut: Vec<(usize, u32)>,
    pub kept: Vec<Owned>,
    /// Entries that are cut.
    pub done: Vec<u32>,
}

/// The boards to buy, by length and price, shortest first.
pub(super) fn bought(kinds: &[Board], cut: impl Iterator<Item = usize>) -> Vec<Buy> {
    let mut counts = vec![0u32; kinds.len()];
    for b in cut {
        counts[b] += 1;
    }
    let mut buy: Vec<Buy> = Vec::new();
    for (board, count) in kinds.iter().zip(counts) {
        if count == 0 || matches!(board.origin, Origin::Owned(_)) {
            continue;
        }
        let row = Buy {
            count,
            length: board.length,
            each: board.price,
            sum: board.price.map(|p| p * i64::from(count)),
        };
        let at = buy.iter().take_while(|b| b.length <= row.length).count();
        buy.insert(at, row);
    }
    buy
}

/// Pieces of one length are one row.
pub(super) fn add_rows(rows: &mut Vec<Owned>, piece: Owned) {
    match rows.iter_mut().find(|r| {
        (r.length - piece.length).abs().0 < 1e-9
            && r.trim_right == piece.trim_right
            && r.width == piece.width
    }) {
        Some(r) => r.count += piece.count,
        None => rows.push(piece),
    }
}
