//! A job as it is shown: its boards, what is bought for it, left over and put away.

use super::job::{Board, Job, Origin};
use crate::price::Exact;
use crate::rack::{Owned, Stock};
use offsquare_planner::{CutBoard, SawCut, Sequence};
use offsquare_units::num::{self, Gather};
use offsquare_units::{Length, Money, Ticks, upper_first};

/// Boards of one length to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    pub count: u32,
    pub length: Length,
    /// None while it is not known.
    pub each: Option<Money>,
    pub sum: Option<Money>,
}

/// What is left of a board: right of its last cut, or of a ripped one the strip beyond, if that is larger.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leftover {
    pub length: Length,
    pub width: Length,
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
    pub board: Board,
    /// Index of the kept board that this is.
    pub kept: Option<usize>,
    pub left: Leftover,
}

/// One job as it is shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShownPlan {
    pub job: usize,
    pub boards: Vec<CutBoard>,
    pub lying: Vec<Lying>,
    pub buy: Vec<Buy>,
    /// How many boards come from the rack.
    pub owned: usize,
    /// None while one of the boards that are bought has no price.
    pub money: Option<Money>,
    /// Of boards that are cut alike, the cuts of the first; what is counted in it goes over all of them.
    pub order: Sequence,
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

/// What a leftover of a stick's board is worth that is kept, in cents: the board's price × its length, rounded down to
/// a tick, ÷ the board's length. Nothing of a board on hand, or of one without a price.
pub(super) fn worth(board: &Board, left: &Leftover) -> Exact {
    let ticks = |l: Length| {
        let whole = num::floor(l.0 * Ticks::PER_INCH as f64 + 1e-3);
        Exact::from_integer((whole as i64).into())
    };
    match board.price.filter(|_| left.keep && board.length.0 > 0.0) {
        Some(price) => {
            Exact::from_integer(price.0.into()) * ticks(left.length) / ticks(board.length)
        }
        None => Exact::default(),
    }
}

impl Leftover {
    /// So many of it as a row of the rack.
    pub fn owned(&self, job: &Job, count: u32) -> Owned {
        Owned {
            length: self.length,
            width: Some(self.width).filter(|_| job.is_sheet()),
            count,
            trim_right: self.trim,
            note: "left over".into(),
            ..Owned::default()
        }
    }
}

impl Lying {
    /// "Board 4", or "30 boards alike, 1 to 30"; `kind`: board or sheet.
    pub fn called(&self, kind: &str) -> String {
        match (self.number, self.members.len()) {
            (first, 0 | 1) => format!("{} {first}", upper_first(kind)),
            (first, 2) => format!("2 {kind}s alike, {first} and {}", first + 1),
            (first, n) => format!("{n} {kind}s alike, {first} to {}", first + n - 1),
        }
    }
}

impl ShownPlan {
    /// What the leftovers of all bought boards are worth that are kept, in cents.
    pub fn worth_kept(&self) -> Exact {
        let sticks = self.lying.iter().filter(|l| l.cut.pieces.is_empty());
        let of = |l: &Lying| worth(&l.board, &l.left) * Exact::from_integer(l.members.len().into());
        sticks.map(of).sum()
    }

    /// Where a board of the plan lies, with all that are cut alike.
    pub(super) fn lying(&self, board: usize) -> Option<&Lying> {
        self.lying.iter().find(|l| l.members.contains(&board))
    }
    /// How often a cut of the order is made: on each board that is alike.
    pub(super) fn times(&self, cut: &SawCut) -> usize {
        self.lying(cut.board).map_or(1, |l| l.members.len())
    }
    /// How many cuts there are over all boards.
    pub fn cuts(&self) -> usize {
        self.order.cuts.iter().map(|c| self.times(c)).sum()
    }
    /// What to do to the rack once it has been cut.
    pub(super) fn put_away(&self, job: &Job, stock: &Stock, keep: Length) -> PutAway {
        let mut out = PutAway {
            stock: job.stock,
            done: job.parts.iter().map(|p| p.entry).gather(),
            ..PutAway::default()
        };
        out.done.dedup();
        // How often each board kind is cut.
        let mut uses = vec![0u32; job.boards.len()];
        for l in &self.lying {
            let n = l.members.len() as u32;
            uses[l.cut.board] += n;
            if l.left.keep {
                out.kept.push(l.left.owned(job, n));
            }
        }
        for (kind, board) in job.boards.iter().enumerate() {
            match board.origin {
                Origin::Sold(i) if uses[kind] > 0 => out.bought.push((i, uses[kind])),
                Origin::Sold(_) => {}
                Origin::Owned(i) => {
                    // Stretches of one board count as one board; what was not cut of it is kept.
                    let most = job
                        .boards
                        .iter()
                        .zip(&uses)
                        .filter(|(b, _)| b.origin == board.origin)
                        .map(|(_, n)| *n)
                        .max()
                        .unwrap_or(0);
                    if most > 0 && !out.cut.iter().any(|c| c.0 == i) {
                        out.cut.push((i, most));
                    }
                    let rest = most - uses[kind];
                    let length = Length(job.instance.length_of(kind));
                    if rest > 0 && length >= keep {
                        let left = Leftover { length, width: board.width, ..Leftover::default() };
                        out.kept.push(left.owned(job, rest));
                    }
                }
            }
        }
        let mut rows: Vec<Owned> = Vec::new();
        for p in out.kept {
            add_rows(&mut rows, p);
        }
        out.kept = rows;
        if stock.owned.is_empty() {
            out.cut.clear();
        }
        out
    }
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
fn add_rows(rows: &mut Vec<Owned>, piece: Owned) {
    match rows.iter_mut().find(|r| {
        (r.length - piece.length).abs().0 < 1e-9
            && r.trim_right == piece.trim_right
            && r.width == piece.width
    }) {
        Some(r) => r.count += piece.count,
        None => rows.push(piece),
    }
}
