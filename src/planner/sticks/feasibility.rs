//! Can these boards hold these parts? The relaxation is solved first; then a dive fixes whole boards of its
//! solution and solves the rest again, and a complete search settles the last few boards.

use super::super::board_counts::Inequality;
use super::super::budget::{Budget, mixed};
use super::super::verdict::Verdict;
use super::exact;
use super::greedy::Taken;
use super::model::{Lot, rooms};
use super::pool::Pool;
use super::pricing::Pricer;
use super::simplex::{self, Covering, Relaxed};
use offsquare_units::num;

/// How long and how widely to dive.
#[derive(Clone, Copy, Debug)]
pub struct Depth {
    /// Ways tried at each choice in the relaxation, and dead ends in all.
    pub width: usize,
    pub dead_ends: usize,
    /// Nodes of the complete search over what is left at the end of a dive.
    pub tail_nodes: usize,
    /// Nodes of the complete search over everything, if the dives fail.
    pub nodes: usize,
    /// Varies the choices.
    pub seed: u64,
}

pub struct Feasibility {
    pub pricer: Pricer,
    pub pool: Pool,
}

struct Dive<'d> {
    lot: Lot<'d>,
    depth: Depth,
    dead: usize,
    state: u64,
}

impl Dive<'_> {
    /// The next number that looks random.
    fn dice(&mut self) -> u64 {
        self.state = self.state.wrapping_add(1);
        mixed(self.state) >> 16
    }
}

impl Feasibility {
    /// Whether the boards of a lot can hold its parts; an inequality over its bins where that rules them out.
    pub fn fit(
        &mut self,
        lot: Lot,
        depth: Depth,
        budget: &mut Budget,
    ) -> Result<Verdict<Vec<Taken>>, Inequality> {
        let covering =
            Covering { lot, feasibility: true, thorough: true, enough: None, seed: depth.seed };
        let mut turn = depth.seed % 4 == 3;
        match simplex::solve(&mut self.pricer, &mut self.pool, &covering, &mut None, budget) {
            Relaxed::Short(inequality) => return Err(inequality),
            Relaxed::Solution(..) => {
                if let Some(plan) = self.dive(lot, depth, budget) {
                    return Ok(Verdict::Found(plan));
                }
            }
            // The relaxation was not solved, so a dive would end at once too.
            Relaxed::Unknown => turn = true,
        }
        if budget.over() {
            return Ok(Verdict::Unknown);
        }
        // With mitered ends the complete search suits small jobs; for others it is mostly better to dive again.
        let parts: u32 = lot.want.iter().sum();
        let boards: u32 = lot.have.iter().sum();
        if self.pricer.model.mitered && parts > 24 && boards > 3 && !turn {
            return Ok(Verdict::Unknown);
        }
        Ok(exact::search(&mut self.pricer, lot, depth.nodes, budget))
    }

    /// A plan by diving, or nothing.
    pub fn dive(&mut self, lot: Lot, depth: Depth, budget: &mut Budget) -> Option<Vec<Taken>> {
        let mut dive = Dive { lot, depth, dead: 0, state: depth.seed << 32 };
        self.descend(&mut dive, lot.want.to_vec(), lot.have.to_vec(), budget)
    }

    fn descend(
        &mut self,
        dive: &mut Dive,
        mut want: Vec<u32>,
        mut have: Vec<u32>,
        budget: &mut Budget,
    ) -> Option<Vec<Taken>> {
        let mut chosen: Vec<Taken> = Vec::new();
        loop {
            let left: u32 = want.iter().sum();
            if left == 0 {
                return Some(chosen);
            }
            if budget.over() {
                return None;
            }
            let lot = Lot { want: &want, have: &have, ..dive.lot };
            let boards: u32 = have.iter().sum();
            if left <= 10 || boards <= 2 {
                match exact::search(&mut self.pricer, lot, dive.depth.tail_nodes, budget) {
                    Verdict::Found(rest) if Feasibility::cheap_enough(dive) => {
                        chosen.extend(rest);
                        return Some(chosen);
                    }
                    Verdict::Impossible => {
                        dive.dead += 1;
                        return None;
                    }
                    _ => {}
                }
            }
            let covering = Covering {
                lot,
                feasibility: false,
                thorough: false,
                enough: None,
                seed: dive.depth.seed,
            };
            let solved =
                simplex::solve(&mut self.pricer, &mut self.pool, &covering, &mut None, budget);
            let Relaxed::Solution(mut parts) = solved else {
                dive.dead += 1;
                return None;
            };
            let mut fixed = false;
            for &(p, b, x) in &parts {
                let whole = (num::floor(x + 1e-4) as u32).min(have[b]);
                // Later dives leave some of the whole boards to the next relaxation.
                let some = match (dive.depth.seed, whole) {
                    (0, _) | (_, 0) => whole,
                    _ => (dive.dice() % u64::from(whole + 1)) as u32,
                };
                for _ in 0..some {
                    fixed |= self.take(p, b, &mut want, &mut have, &mut chosen);
                }
            }
            if fixed {
                continue;
            }
            // Later dives choose more and more freely.
            let swing = match dive.depth.seed {
                0 => 0.0,
                n => 0.3 * (1 + n % 3) as f64,
            };
            for part in &mut parts {
                part.2 += swing * (dive.dice() % 1000) as f64 / 1000.0;
            }
            num::sort_by(&mut parts, |s, t| t.2.total_cmp(&s.2).then(s.0.cmp(&t.0)));
            for &(p, b, _) in parts.iter().take(dive.depth.width.max(1)) {
                let (mut w, mut h, mut c) = (want.clone(), have.clone(), Vec::new());
                if !self.take(p, b, &mut w, &mut h, &mut c) {
                    continue;
                }
                if let Some(rest) = self.descend(dive, w, h, budget) {
                    chosen.extend(c);
                    chosen.extend(rest);
                    return Some(chosen);
                }
                if dive.dead > dive.depth.dead_ends || budget.over() {
                    return None;
                }
            }
            return None;
        }
    }

    /// The complete search looks for any plan; where boards differ in price the relaxation may
    /// point to a cheaper one, so its find counts only if all boards at hand would be needed anyway.
    fn cheap_enough(dive: &Dive) -> bool {
        dive.lot.cost == rooms(dive.lot.bins)
    }

    /// Cuts one board by a pattern, without the parts that are no longer wanted.
    fn take(
        &mut self,
        p: usize,
        b: usize,
        want: &mut [u32],
        have: &mut [u32],
        chosen: &mut Vec<Taken>,
    ) -> bool {
        let model = std::rc::Rc::clone(&self.pricer.model);
        let pattern = self.pool.patterns[p].clone();
        let pattern = match model.trimmed(&pattern, want) {
            None => pattern,
            Some(less) => {
                // Too much of the pattern is no longer wanted; the relaxation of the rest will do better.
                if less.counts.is_empty() || less.extent < 0.9 * pattern.extent {
                    return false;
                }
                less
            }
        };
        if have[b] == 0 {
            return false;
        }
        have[b] -= 1;
        for &(k, n) in &pattern.counts {
            want[k as usize] -= n;
        }
        self.pool.add(pattern.clone());
        chosen.push((b, pattern));
        true
    }
}
