//! The last phase: a larger single leftover at the least price and the fewest boards.

use super::super::board_counts::Aim;
use super::super::cutting::Search;
use super::super::verdict::Verdict;
use super::effort::UNIT;
use super::exact::{Known, Largest};
use super::instance::Instance;
use super::pack;
use super::phases::MOST_OPEN;
use crate::board_counts::listed;
use offsquare_units::num::{self, Gather};

impl Search<Instance> {
    /// A larger single leftover at the same price and number of boards.
    pub fn larger_leftover(&mut self, instance: &Instance) -> bool {
        let Some(best) = &self.best else {
            return true;
        };
        let (price, count, area) =
            (best.price, best.cut.len() as u32, best.leftover.map_or(0.0, |l| l.1.area()));
        if !self.own.shrunk {
            self.own.shrunk = self.shrink(instance, area);
            self.round *= usize::from(!self.own.shrunk);
            return self.budget.over();
        }
        let largest = self.own.largest.take();
        let Some(known) = Known::of(&self.model, &self.own.pricer, &self.own.measures) else {
            return true;
        };
        if let Some((boards, mut search)) = largest {
            match search.step(known, UNIT, &mut self.budget) {
                None => {
                    self.own.largest = Some((boards, search));
                    return false;
                }
                Some(Verdict::Found(plan)) => {
                    self.accept(instance, plan);
                }
                Some(Verdict::Impossible) => {}
                Some(Verdict::Unknown) => return true,
            }
            self.tried.push(boards);
            return false;
        }
        match self.next(Aim::Fewest { price, from: count, below: count + 1 }) {
            Verdict::Found(n) if self.tried.len() < MOST_OPEN => {
                let least = area * (1.0 + 1e-9) + 1e-9;
                let (own, budget) = (&self.own, &mut self.budget);
                let search = Known::of(&self.model, &own.pricer, &own.measures)
                    .map(|known| Largest::new(known, listed(&n.boards), least, budget));
                self.own.largest = search.map(|search| (n.boards, search));
                false
            }
            Verdict::Impossible => {
                self.leftover_proven = true;
                true
            }
            _ => true,
        }
    }

    /// Tries the same boards with one of them cut shorter or narrower by a larger leftover.
    fn shrink(&mut self, instance: &Instance, area: f64) -> bool {
        let Some(best) = &self.best else {
            return true;
        };
        let mut list: Vec<usize> = best.chosen.iter().map(|c| c.0).gather();
        num::sort_by(&mut list, Ord::cmp);
        let mut kinds = list.clone();
        kinds.dedup();
        // Four attempts, each less greedy, for each kind of board and each direction.
        let (attempt, which) = (self.round % 4, self.round / 4);
        self.round += 1;
        let Some(&stock) = kinds.get(which / 2) else {
            return true;
        };
        let model = &self.model;
        let s = &model.stock[stock];
        let have: f64 = list.iter().map(|&b| model.stock[b].size()).sum();
        let most = (have - model.area()).min(s.size());
        let goal = area + (most - area) * [0.7, 0.4, 0.2, 0.06][attempt];
        if !(goal > area + 1e-6) {
            return false;
        }
        let mut smaller = (**model).clone();
        let mut board = s.clone();
        if which % 2 == 0 {
            let width = s.wid - model.rip_kerf + 2.0 * model.edge_trim;
            board.len += model.trim - model.kerf - goal / width;
        } else {
            let length = s.len - model.kerf + 2.0 * model.trim;
            board.wid += model.edge_trim - model.rip_kerf - goal / length;
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
        let steps = if model.total > 12 { 6_000_000 } else { 200_000 };
        if let Some(mut plan) = pack::pack(&smaller, &list, steps, seed, &mut self.budget) {
            for chosen in &mut plan {
                if chosen.0 == last {
                    chosen.0 = stock;
                }
            }
            if self.accept(instance, plan) {
                // Try the same again, since more may be possible.
                self.round -= attempt + 1;
            }
        }
        self.budget.over()
    }
}
