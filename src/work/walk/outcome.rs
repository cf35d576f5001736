//! What a run has come to: parts that are made, boards that are used up, and what is left of them.

use super::stages::{Board, Stage, Walk, What};
use crate::cutlist::{CutBoard, Job, Origin, PutAway, Then, left_piece, put_away, rip_steps};
use crate::piece::{Begun, Outcome, Tick, WholeBoard};
use crate::rack::Owned;
use offsquare_planner::Placement;
use offsquare_planner::guillotine::Piece;
use offsquare_units::num::Gather;
use offsquare_units::{Length, num};
use std::collections::BTreeSet;

/// Shorter than this nothing is left, in inches.
const NOTHING: f64 = 1e-6;

impl Walk {
    /// What the run has come to.
    pub fn outcome(&self, begun: &Begun) -> Outcome {
        let done: BTreeSet<Tick> = begun.done.iter().copied().collect();
        let whole = self.next(begun).is_none();
        let touched: BTreeSet<u32> = done.iter().map(|t| t.board).collect();
        let cut = |board: u32| touched.contains(&board) || whole;
        let jobs = self.jobs.jobs.iter().enumerate();
        let away = jobs.flat_map(|(at, job)| match job.is_ripped() {
            true => self.ripped_away((at, job), begun, &cut),
            false => self.sticks_away((at, job), begun, &cut).into_iter().gather(),
        });
        let mut out = Outcome { put_away: away.gather(), ..Outcome::default() };
        for (number, board) in (0..).zip(&self.boards) {
            let Some(board) = board.as_ref().filter(|_| cut(number)) else { continue };
            for (place, p) in (0..).zip(&board.cut.parts) {
                let kind = self.kinds[board.job].get(p.part);
                if let Some(kind) = kind.filter(|_| self.is_made((number, place), begun)) {
                    *out.made.entry((kind.entry, kind.mirrored)).or_insert(0) += 1;
                }
            }
        }
        out
    }

    fn is_made(&self, at: (u32, u32), begun: &Begun) -> bool {
        self.is_free(at, begun) && !begun.is_lost(at.0, at.1)
    }

    /// Ripped boards and sheets: what the plan leaves of those that are cut to their end, and of the others the pieces that
    /// lie there.
    fn ripped_away(
        &self,
        (at, job): (usize, &Job),
        begun: &Begun,
        cut: &dyn Fn(u32) -> bool,
    ) -> Vec<PutAway> {
        let waits = |n: u32| {
            let open = |s: &&Stage| !begun.done.contains(&s.tick) && matches!(s.what, What::Rip(_));
            self.stages.iter().filter(open).any(|s| s.tick.board == n)
        };
        let (mut ended, mut open, mut kept) = (Vec::new(), Vec::new(), Vec::new());
        for (number, board) in (0..).zip(&self.boards) {
            let Some(board) = board.as_ref().filter(|b| b.job == at && cut(number)) else {
                continue;
            };
            if waits(number) {
                kept.extend(self.pieces_left((number, board), job, begun));
                open.push(board.cut.clone());
            } else {
                ended.push(board.cut.clone());
            }
        }
        let away = |boards: Vec<CutBoard>| {
            let away = (!boards.is_empty()).then(|| put_away(job, boards, &begun.rack()))??;
            Some(PutAway { done: Vec::new(), ..away })
        };
        let open = away(open).map(|away| PutAway { kept, ..away });
        away(ended).into_iter().chain(open).gather()
    }

    /// The pieces of a ripped board or a sheet that lie there, worth keeping and clear of what was lost.
    fn pieces_left(&self, (number, board): (u32, &Board), job: &Job, begun: &Begun) -> Vec<Owned> {
        let steps = (0..).zip(rip_steps(job, &board.cut, &begun.of.parts));
        let made =
            steps.filter(|(at, _)| begun.done.contains(&Tick { board: number, at: *at, work: 0 }));
        let made: BTreeSet<usize> = made.filter_map(|(_, step)| step.piece).collect();
        let lost = |piece: &Piece| {
            let lies = |p: &Placement| {
                (piece.x..piece.x + piece.length).contains(&p.x)
                    && (piece.y..piece.y + piece.width).contains(&p.y)
            };
            (0..).zip(&board.cut.parts).any(|(at, p)| begun.is_lost(number, at) && lies(p))
        };
        let mut lying = vec![0];
        let mut out = Vec::new();
        while let Some(at) = lying.pop() {
            let Some(piece) = board.cut.pieces.get(at) else { continue };
            match piece.then {
                Then::Cut { first, second, .. } if made.contains(&at) => {
                    lying.extend(first.into_iter().chain(second));
                }
                Then::Part(_) => {}
                _ if lost(piece) => {}
                _ => {
                    let size = (piece.length, piece.width);
                    let left = left_piece(job, board.cut.board, size, begun.of.rack.keep);
                    out.extend(left.keep.then(|| left.owned(job, 1)));
                }
            }
        }
        out
    }

    /// Sticks, by the cuts that were made.
    fn sticks_away(
        &self,
        (at, job): (usize, &Job),
        begun: &Begun,
        cut: &dyn Fn(u32) -> bool,
    ) -> Option<PutAway> {
        let own = |w: &&WholeBoard| {
            w.stock == job.stock
                && w.numbers.iter().any(|n| self.board(*n).is_some_and(|b| b.job == at))
        };
        let cut_up = |w: &&WholeBoard| w.numbers.iter().any(|n| cut(*n));
        let mut out = PutAway { stock: job.stock, ..PutAway::default() };
        // What is left of a board and is cut, too, is no longer left, and was never on the maker's rack.
        let mut again: Vec<Length> = Vec::new();
        for whole in self.wholes.iter().filter(own).filter(cut_up) {
            let Some(board) = whole.numbers.iter().find_map(|n| self.board(*n)) else { continue };
            match (board.left_of, whole.owned, job.boards[board.cut.board].origin) {
                (Some(_), ..) => again.push(board.length),
                (None, Some(row), _) | (None, None, Origin::Owned(row)) => count(&mut out.cut, row),
                (None, None, Origin::Sold(row)) => count(&mut out.bought, row),
            }
            for left in self.left_of(whole, job, begun) {
                match out
                    .kept
                    .iter_mut()
                    .find(|o| Owned { count: left.count, ..(*o).clone() } == left)
                {
                    Some(row) => row.count += 1,
                    None => out.kept.push(left),
                }
            }
        }
        for length in again {
            let is = |o: &&mut Owned| (o.length - length).abs().0 <= NOTHING && o.count > 0;
            out.kept.iter_mut().find(is).into_iter().for_each(|o| o.count -= 1);
        }
        out.kept.retain(|o| o.count > 0);
        (!out.cut.is_empty() || !out.bought.is_empty() || !out.kept.is_empty()).then_some(out)
    }

    /// What is left of a board and worth keeping: the wood between its cuts that are made and outside of what was made
    /// and what was lost, as far as it is clear.
    fn left_of(&self, whole: &WholeBoard, job: &Job, begun: &Begun) -> Vec<Owned> {
        let lying = whole.numbers.iter().filter_map(|n| Some((*n, self.board(*n)?)));
        let lying: Vec<(u32, &Board)> = lying.gather();
        let (Some((_, first)), Some(sticks)) = (lying.first(), job.instance.sticks()) else {
            return Vec::new();
        };
        let (mut made, mut lost, mut kerfs) = (Vec::new(), Vec::new(), Vec::new());
        for (number, board) in &lying {
            let own = begun.done.iter().filter(|t| t.board == *number && t.work == 0);
            kerfs.extend(own.filter_map(|t| self.kerfs.get(t)).copied());
            for (place, p) in (0..).zip(&board.cut.parts) {
                let from = p.x + board.start;
                let lies = [from, from + sticks.parts[p.part].length];
                match begun.is_lost(*number, place) {
                    true => lost.push(lies),
                    false if self.is_free((*number, place), begun) => made.push(lies),
                    false => {}
                }
            }
        }
        sort(&mut kerfs);
        sort(&mut lost);
        let length = first.length.0;
        let stretches = job.stretches(first.cut.board);
        let starts = [0.0].into_iter().chain(kerfs.iter().map(|k| k[1]));
        let ends = kerfs.iter().map(|k| k[0]).chain([length]);
        let is_part = |(from, to): &(f64, f64)| {
            let middles = made.iter().map(|m| (m[0] + m[1]) / 2.0);
            middles.into_iter().any(|m| m > *from && m < *to)
        };
        let mut out = Vec::new();
        for (from, to) in starts.zip(ends).filter(|stick| !is_part(stick)) {
            for [start, end] in &stretches {
                for [left, right] in clear([start.max(from), end.min(to)], &lost) {
                    let clear = right - left;
                    if clear < begun.of.rack.keep.0 - 1e-9 || clear <= NOTHING {
                        continue;
                    }
                    // The board's own end stays on it, with what it gives up.
                    let own = |is: bool, gap: f64| Length(if is { gap } else { 0.0 });
                    let trim_left = own(from == 0.0 && left == stretches[0][0], left);
                    let last = stretches.last().is_some_and(|s| s[1] == right);
                    let trim_right = own(to == length && last, length - right);
                    out.push(Owned {
                        length: Length(clear) + trim_left + trim_right,
                        count: 1,
                        trim_left,
                        trim_right,
                        note: "left over".into(),
                        ..Owned::default()
                    });
                }
            }
        }
        out
    }
}

fn sort(all: &mut [[f64; 2]]) {
    num::sort_by(all, |a, b| a[0].total_cmp(&b[0]));
}

/// What is clear between two places, beside what was lost there.
fn clear([from, to]: [f64; 2], lost: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut at = from;
    let mut out = Vec::new();
    for rim in lost.iter().filter(|l| l[1] > from && l[0] < to) {
        out.push([at, rim[0]]);
        at = at.max(rim[1]);
    }
    out.push([at, to]);
    out
}

fn count(rows: &mut Vec<(usize, u32)>, row: usize) {
    match rows.iter_mut().find(|(r, _)| *r == row) {
        Some((_, n)) => *n += 1,
        None => rows.push((row, 1)),
    }
}
