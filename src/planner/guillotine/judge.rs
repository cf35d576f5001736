//! The feasibility check: can these boards hold all parts? It runs in units of work, first over all sets of
//! parts where those are known, then by packing heuristics.

use super::super::cutting::{Phase, Search};
use super::effort::UNIT;
use super::exact::{Known, Shared, Sharing};
use super::instance::Instance;
use super::pack::Packing;
use super::tight::Tight;
use crate::numbers::listed;

/// Most steps for boards that are nearly filled.
const TIGHT: i64 = 300_000_000;

/// Board counts being checked.
pub struct Judge {
    numbers: Vec<u32>,
    list: Vec<usize>,
    sharing: Option<Sharing>,
    tight: Option<Box<Tight>>,
    packing: Option<Packing>,
    steps: i64,
    /// Packing continues until only this many steps are left; none before it begins.
    until: Option<i64>,
    seed: u64,
    /// Do not note counts that were not filled as undecided, because the bound does not depend on them.
    aside: bool,
}

impl Search<Instance> {
    /// What is known of all sets of parts.
    pub fn known(&self) -> Option<Known<'_>> {
        Some(Known {
            model: &self.model,
            sets: self.own.pricer.as_ref()?.sets.as_ref()?,
            measures: &self.own.measures,
        })
    }

    /// Checks whether these boards hold the parts: keeps a plan, notes a proof, or leaves the counts undecided.
    pub fn judge(&mut self, numbers: Vec<u32>, steps: i64, aside: bool) {
        let list = listed(&numbers);
        let mut budget = self.budget;
        let sharing = self.known().map(|known| {
            let parts = self.model.demand();
            Sharing::new(known, list.clone(), &parts, 4 * steps, &mut budget)
        });
        // Once for numbers that stayed open; its boards are not cut plainly.
        let mut tight = None;
        let again = aside || self.model.plain || self.own.squeezed.contains(&numbers);
        if self.phase == Phase::Harder && !again {
            self.own.squeezed.push(numbers.clone());
            let steps = if list.len() == 1 { 2 * TIGHT } else { TIGHT };
            tight = Tight::new(&self.model, list.clone(), steps, &mut budget);
        }
        self.budget = budget;
        self.own.judging = Some(Judge {
            numbers,
            list,
            sharing,
            tight: tight.map(Box::new),
            packing: None,
            steps,
            until: None,
            seed: self.round as u64 * 2,
            aside,
        });
    }

    /// One unit of the check.
    pub fn judge_on(&mut self, instance: &Instance, mut now: Judge) {
        let mut budget = self.budget;
        let shared = match (&mut now.sharing, &mut now.tight, self.known()) {
            (Some(sharing), _, Some(known)) => Some(sharing.step(known, UNIT, &mut budget)),
            (_, Some(tight), _) => {
                Some(tight.step(&self.model, &self.own.measures, UNIT, &mut budget))
            }
            _ => None,
        };
        if let Some(shared) = shared {
            self.budget = budget;
            let over = shared.is_some();
            let filled = match shared {
                Some(Shared::No) => return self.refuted.push(now.numbers),
                Some(Shared::Yes(plan)) => self.accept(instance, plan),
                _ => false,
            };
            // Go on to the next method if this one cannot decide.
            if over {
                match now.sharing.is_some() {
                    true => now.sharing = None,
                    false => now.tight = None,
                }
            }
            if !filled {
                self.own.judging = Some(now);
            }
            return;
        }
        let until = *(now.until).get_or_insert(budget.left.saturating_sub(now.steps));
        let share = (now.steps / 2).max(1_000_000);
        let packing = (now.packing)
            .get_or_insert_with(|| Packing::new(&self.model, &now.list, share, now.seed, &budget));
        let packed = packing.step(&self.model, UNIT, &mut budget);
        self.budget = budget;
        if let Some(packed) = packed {
            if packed.is_some_and(|plan| self.accept(instance, plan)) {
                return;
            }
            now.packing = None;
            now.seed += 1;
            if self.budget.left <= until || self.model.total > 2_000 {
                if !now.aside {
                    self.tried.push(now.numbers);
                }
                return;
            }
        }
        self.own.judging = Some(now);
    }
}
