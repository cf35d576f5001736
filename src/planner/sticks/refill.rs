//! Plans for square parts of many lengths, without the relaxation: again and again two or three boards are
//! emptied and refilled, each as fully as possible, so that the leftover gathers on one of them.
//!
//! Filling a board as far as it goes is a subset sum (minimal bin slack: Gupta and Ho, Production Planning
//! and Control 10, 1999; from memory), with the longest part that is left always in it.

use super::super::board_counts::counted;
use super::super::budget::{Budget, mixed};
use super::super::outcome::WORKING;
use super::greedy::Taken;
use super::model::{Bin, Model};
use offsquare_units::num::{self, Gather};

/// Most nodes of the search for one board.
const NODES: usize = 600;

/// Boards of one kind, being filled again and again.
pub struct Refill {
    bin: Bin,
    /// Parts of each board: indices of kinds, the longest first.
    boards: Vec<Vec<u32>>,
    turn: u64,
}

/// The parts that can still be put on a board.
struct Filling<'a> {
    model: &'a Model,
    /// Kinds that are left, the longest first, and how many of each.
    left: Vec<(u32, u32)>,
    taken: Vec<u32>,
    best: Vec<u32>,
    /// What the best set leaves of the room.
    rest: f64,
    nodes: usize,
}

impl Filling<'_> {
    fn len(&self, at: usize) -> f64 {
        self.model.kinds[self.left[at].0 as usize].use_len
    }

    /// Tries every set of the parts from `from` on, the longest first, until the board is full.
    fn fill(&mut self, from: usize, room: f64) {
        if room < self.rest {
            self.rest = room;
            self.best.clone_from(&self.taken);
        }
        let Some(last) = self.left.len().checked_sub(1) else { return };
        let least = self.len(last);
        let start = from
            + self.left[from..].partition_point(|l| self.model.kinds[l.0 as usize].use_len > room);
        for at in start..self.left.len() {
            if self.rest <= WORKING || self.nodes == 0 {
                return;
            }
            if self.left[at].1 == 0 {
                continue;
            }
            self.nodes -= 1;
            let len = self.len(at);
            self.left[at].1 -= 1;
            self.taken.push(self.left[at].0);
            self.fill(at, room - len);
            self.taken.pop();
            self.left[at].1 += 1;
            // Nothing goes in beside this one: a shorter one in its place leaves more.
            if len + least > room {
                return;
            }
        }
    }
}

impl Refill {
    /// Takes a plan's boards of one kind and fills them all again.
    pub fn new(model: &Model, stock: usize, plan: &[Taken], budget: &mut Budget) -> Refill {
        let bin = Bin { room: model.stock[stock].room, tail: false };
        let parts = plan.iter().filter(|t| t.0 == stock).flat_map(|t| &t.1.counts);
        let all = parts.flat_map(|&(k, n)| core::iter::repeat_n(k, n as usize)).gather();
        let mut refill = Refill { bin, boards: Vec::new(), turn: 0 };
        refill.boards = refill.filled(model, all, usize::MAX, budget).unwrap_or_default();
        refill
    }

    pub fn boards(&self) -> usize {
        self.boards.len()
    }

    /// The boards as they are now.
    pub fn plan(&self, model: &Model, stock: usize) -> Vec<Taken> {
        let pattern = |parts: &Vec<u32>| {
            let mut sorted = parts.clone();
            num::sort_by(&mut sorted, Ord::cmp);
            (stock, model.square_pattern(counted(&sorted)))
        };
        self.boards.iter().map(pattern).gather()
    }

    fn dice(&mut self, below: u64) -> u64 {
        self.turn += 1;
        (mixed(self.turn) >> 16) % below.max(1)
    }

    fn used(&self, model: &Model, parts: &[u32]) -> f64 {
        parts.iter().map(|&k| model.kinds[k as usize].use_len).sum()
    }

    /// Empties some boards and refills them; the result is kept if the leftover is less spread out.
    pub fn step(&mut self, model: &Model, budget: &mut Budget) {
        let count = self.boards.len() as u64;
        if count < 2 {
            return;
        }
        let some = (2 + self.dice(2)).min(count) as usize;
        // The emptiest board half of the time, the others by chance.
        let mut picked: Vec<usize> = Vec::new();
        if self.dice(2) > 0 {
            let used = |i: usize| self.used(model, &self.boards[i]);
            picked.extend((0..self.boards.len()).min_by(|&a, &b| used(a).total_cmp(&used(b))));
            budget.spend(self.boards.len() * 4);
        }
        while picked.len() < some {
            let at = self.dice(count) as usize;
            if !picked.contains(&at) {
                picked.push(at);
            }
        }
        let parts = picked.iter().flat_map(|&b| self.boards[b].iter().copied()).gather();
        let Some(filled) = self.filled(model, parts, some, budget) else { return };
        let together = |boards: &mut dyn Iterator<Item = &Vec<u32>>| -> f64 {
            boards.map(|b| self.used(model, b)).map(|u| u * u).sum()
        };
        let old = together(&mut picked.iter().map(|&b| &self.boards[b]));
        if filled.len() == some && together(&mut filled.iter()) < old * (1.0 - 1e-12) {
            return;
        }
        num::sort_by(&mut picked, |a, b| b.cmp(a));
        for b in picked {
            self.boards.swap_remove(b);
        }
        self.boards.extend(filled);
    }

    /// Parts on boards, each as full as it goes; none where they take more than `most`.
    fn filled(
        &mut self,
        model: &Model,
        mut parts: Vec<u32>,
        most: usize,
        budget: &mut Budget,
    ) -> Option<Vec<Vec<u32>>> {
        // Kinds are numbered the longest first.
        num::sort_by(&mut parts, Ord::cmp);
        let mut left = counted(&parts);
        let mut boards = Vec::new();
        while !left.is_empty() {
            if boards.len() == most {
                return None;
            }
            // The longest part, now and then another.
            let first = match self.dice(3) {
                0 if most < usize::MAX => self.dice(left.len() as u64) as usize,
                _ => 0,
            };
            let kind = left[first].0;
            left[first].1 -= 1;
            let room = model.capacity(self.bin) - model.kinds[kind as usize].use_len;
            let taken = vec![kind];
            let rest = f64::INFINITY;
            let mut filling = Filling { model, left, taken, best: Vec::new(), rest, nodes: NODES };
            filling.fill(0, room);
            budget.spend((NODES - filling.nodes) * 12 + 200);
            let best = core::mem::take(&mut filling.best);
            left = core::mem::take(&mut filling.left);
            for k in &best[1..] {
                if let Some(l) = left.iter_mut().find(|l| l.0 == *k) {
                    l.1 -= 1;
                }
            }
            left.retain(|l| l.1 > 0);
            boards.push(best);
        }
        Some(boards)
    }
}
