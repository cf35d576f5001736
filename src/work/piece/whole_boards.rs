//! The boards of a run as they lie in the shop: stretches of one board of the rack are planned one by one, and cut as one.

use super::begun::Begun;
use crate::cutlist::{Job, Jobs, KeptBoard, Origin};
use offsquare_units::num::{self, Gather};

/// A board in the shop.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WholeBoard {
    /// Id of the stock.
    pub stock: u32,
    /// Which of the stock's owned boards it is; none: it is bought.
    pub owned: Option<usize>,
    /// Numbers of the boards of the run that are stretches of it, from the left.
    pub numbers: Vec<u32>,
}

/// Sizes that are the same, in inches.
const SAME: f64 = 1e-6;

/// Rows of the rack that have the stretch in which a board's parts lie, each with its end; that of the shortest stretch
/// first: a longer one may be needed for others.
fn rows_of(board: &KeptBoard, job: &Job) -> Vec<(usize, f64)> {
    let reach = board.parts.iter().fold(0.0, |most: f64, p| most.max(p.x + p.length));
    let is = |kind: usize| {
        let lies = &job.boards[kind];
        let same = (lies.length - board.length).abs().0 <= SAME
            && (lies.start - board.start).abs() <= SAME;
        let end = job.usable(kind)[1];
        match lies.origin {
            Origin::Owned(row) if same && reach <= end + SAME => Some((row, end)),
            _ => None,
        }
    };
    let mut out: Vec<(usize, f64)> = (0..job.boards.len()).filter_map(is).gather();
    num::sort_by(&mut out, |a, b| a.1.total_cmp(&b.1));
    out
}

impl Begun {
    /// All boards of sticks, in the order of their first numbers; `jobs` are the run's.
    pub fn whole_boards(&self, jobs: &Jobs) -> Vec<WholeBoard> {
        let rack = self.rack();
        let boards: Vec<&KeptBoard> = self.boards().gather();
        let mut out: Vec<WholeBoard> = Vec::new();
        let fits = |board: &KeptBoard| {
            let job = jobs.jobs.iter().find(|j| j.stock == board.stock && !j.is_ripped());
            job.filter(|_| board.owned).map_or_else(Vec::new, |job| rows_of(board, job))
        };
        let sticks = (0..).zip(&boards).filter(|(_, b)| b.cuts.is_empty());
        let mut sticks = sticks.map(|(n, b)| (n, *b, fits(b))).gather();
        // Boards that can be of few rows choose first.
        sticks.sort_by_key(|s| (s.2.len(), s.0));
        for (number, board, rows) in sticks {
            let own = |w: &WholeBoard, row: usize| w.stock == board.stock && w.owned == Some(row);
            let start = |n: u32| boards[n as usize].start;
            let open = |w: &WholeBoard, row: usize| {
                own(w, row) && !w.numbers.iter().any(|n| (start(*n) - board.start).abs() <= SAME)
            };
            let stretch = rows.iter().find_map(|(row, _)| out.iter().position(|w| open(w, *row)));
            if let Some(at) = stretch {
                out[at].numbers.push(number);
                continue;
            }
            let left = |row: usize| {
                let of = rack.stock(board.stock).and_then(|s| s.owned.get(row));
                let cut = out.iter().filter(|w| own(w, row)).count();
                of.is_some_and(|o| cut < o.count as usize)
            };
            let owned = rows.iter().find(|r| left(r.0)).or(rows.first()).map(|r| r.0);
            out.push(WholeBoard { stock: board.stock, owned, numbers: vec![number] });
        }
        out.sort_by_key(|w| w.numbers.iter().min().copied());
        for whole in &mut out {
            let start = |n: &u32| boards[*n as usize].start;
            num::sort_by(&mut whole.numbers, |a, b| start(a).total_cmp(&start(b)));
        }
        out
    }

    /// The boards of each round; `wholes` are all.
    pub fn rounds(&self, wholes: &[WholeBoard]) -> Vec<Vec<u32>> {
        let first = self.of.boards.len() as u32;
        let mut out: Vec<Vec<u32>> = vec![(0..first).gather()];
        let mut next = first;
        for skip in self.skips.iter().filter(|s| !s.boards.is_empty()) {
            let done = &self.done[..self.done.len().min(skip.after as usize)];
            let cut = |n: &u32| done.iter().any(|t| t.board == *n);
            let is_whole = |n: &u32| {
                let own = wholes.iter().find(|w| w.numbers.contains(n));
                !own.map_or_else(|| cut(n), |w| w.numbers.iter().any(cut))
            };
            let mut round: Vec<u32> = (0..next).filter(is_whole).gather();
            round.extend(next..next + skip.boards.len() as u32);
            next += skip.boards.len() as u32;
            out.push(round);
        }
        out
    }
}
