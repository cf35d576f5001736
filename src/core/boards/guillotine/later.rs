//! The last phases: fewer boards at the least price, then a larger single leftover.

use super::exact::{Largest, Shared};
use super::instance::Instance;
use super::numbers::{self, Aim, Next};
use super::pack;
use super::run::{MOST_OPEN, Phase, Run, UNIT, listed};
use crate::num::Gather;

impl Run {
    /// Fewer boards at the same price.
    pub fn fewer(&mut self) {
        let Some(best) = &self.best else {
            self.work.left = 0;
            return;
        };
        let aim = Aim::Fewest { price: best.price, from: 0, below: best.cut.len() as u32 };
        self.work.spend(20_000);
        self.round += 1;
        match numbers::next(&self.job.stock, &self.cuts, aim, &self.tried, &self.refuted) {
            Next::Found(boards, ..) if self.tried.len() < 12 => {
                self.judge(&boards, 10_000_000, false);
            }
            Next::Nothing => {
                self.fewest_proven = self.tried.is_empty();
                self.leftover_next();
            }
            _ => self.leftover_next(),
        }
    }

    fn leftover_next(&mut self) {
        self.phase = Phase::Leftover;
        self.round = 0;
        self.tried.clear();
    }

    /// A larger single leftover at the same price and number of boards.
    pub fn leftover(&mut self, instance: &Instance) -> bool {
        let Some(best) = &self.best else {
            return true;
        };
        let (price, count, area) = (best.price, best.cut.len() as u32, best.area());
        if !self.shrunk {
            self.shrunk = self.shrink(instance, area);
            self.round *= usize::from(!self.shrunk);
            return self.work.over();
        }
        let (mut work, largest) = (self.work, self.largest.take());
        let Some(known) = self.known() else {
            return true;
        };
        if let Some((numbers, mut search)) = largest {
            let found = search.step(known, UNIT, &mut work);
            self.work = work;
            match found {
                None => {
                    self.largest = Some((numbers, search));
                    return false;
                }
                Some(Shared::Yes(plan)) => {
                    self.accept(instance, plan);
                }
                Some(Shared::No) => {}
                Some(Shared::Unknown) => return true,
            }
            self.tried.push(numbers);
            return false;
        }
        let aim = Aim::Fewest { price, from: count, below: count + 1 };
        work.spend(20_000);
        let next = numbers::next(&self.job.stock, &self.cuts, aim, &self.tried, &self.refuted);
        let over = match next {
            Next::Found(boards, ..) if self.tried.len() < MOST_OPEN => {
                let least = area * (1.0 + 1e-9) + 1e-9;
                let search = Largest::new(known, listed(&boards), least, &mut work);
                self.largest = Some((boards, search));
                false
            }
            Next::Nothing => {
                self.leftover_proven = true;
                true
            }
            _ => true,
        };
        self.work = work;
        over
    }

    /// Tries the same boards with one of them cut shorter or narrower by a larger leftover.
    fn shrink(&mut self, instance: &Instance, area: f64) -> bool {
        let Some(best) = &self.best else {
            return true;
        };
        let mut list: Vec<usize> = best.chosen.iter().map(|c| c.0).gather();
        crate::num::sort_by(&mut list, Ord::cmp);
        let mut kinds = list.clone();
        kinds.dedup();
        // Four attempts, each less greedy, for each kind of board and each direction.
        let (attempt, which) = (self.round % 4, self.round / 4);
        self.round += 1;
        let Some(&stock) = kinds.get(which / 2) else {
            return true;
        };
        let job = &self.job;
        let s = &job.stock[stock];
        let need: f64 = job.kinds.iter().map(|k| k.area * f64::from(k.qty)).sum();
        let have: f64 = list.iter().map(|&b| job.stock[b].len * job.stock[b].wid).sum();
        let most = (have - need).min(s.len * s.wid);
        let goal = area + (most - area) * [0.7, 0.4, 0.2, 0.06][attempt];
        if !(goal > area + 1e-6) {
            return false;
        }
        let mut smaller = job.clone();
        let mut board = s.clone();
        if which % 2 == 0 {
            let width = s.wid - job.rip_kerf + 2.0 * job.edge_trim;
            board.len += job.trim - job.kerf - goal / width;
        } else {
            let length = s.len - job.kerf + 2.0 * job.trim;
            board.wid += job.edge_trim - job.rip_kerf - goal / length;
        }
        board.len = board.len.min(s.len);
        board.wid = board.wid.min(s.wid);
        if board.len <= 0.0 || board.wid <= 0.0 {
            return false;
        }
        smaller.stock.push(board);
        let last = smaller.stock.len() - 1;
        if let Some(at) = list.iter().position(|&b| b == stock) {
            list[at] = last;
        }
        let seed = self.round as u64;
        let steps = if job.total > 12 { 6_000_000 } else { 200_000 };
        if let Some(mut plan) = pack::pack(&smaller, &list, steps, seed, &mut self.work) {
            for chosen in &mut plan {
                if chosen.0 == last {
                    chosen.0 = stock;
                }
            }
            if self.accept(instance, plan) {
                // The same again: more may be possible.
                self.round -= attempt + 1;
            }
        }
        self.work.over()
    }
}
