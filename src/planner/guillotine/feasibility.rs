//! The feasibility check: can these boards hold all parts? It runs in units of work, first over all sets of
//! parts where those are known, then by packing heuristics.

use super::super::cutting::{Phase, Search};
use super::super::verdict::Verdict;
use super::effort::UNIT;
use super::exact::{Known, Sharing};
use super::instance::Instance;
use super::pack::Packing;
use super::tight::Tight;
use crate::board_counts::listed;

/// Most steps for boards that are nearly filled.
const TIGHT: i64 = 300_000_000;

/// Board counts being checked.
pub struct Check {
    boards: Vec<u32>,
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
    /// Checks whether these boards hold the parts: keeps a plan, notes a proof, or leaves the counts undecided.
    pub fn check_counts(&mut self, boards: Vec<u32>, steps: i64, aside: bool) {
        let list = listed(&boards);
        let (own, budget) = (&mut self.own, &mut self.budget);
        let sharing = Known::of(&self.model, &own.pricer, &own.measures).map(|known| {
            Sharing::new(known, list.clone(), &self.model.demand(), 4 * steps, budget)
        });
        // Once for counts that stayed open; their boards are not cut plainly.
        let mut tight = None;
        let again = aside || self.model.plain || own.squeezed.contains(&boards);
        if self.phase == Phase::Harder && !again {
            own.squeezed.push(boards.clone());
            let steps = if list.len() == 1 { 2 * TIGHT } else { TIGHT };
            tight = Tight::new(&self.model, list.clone(), steps, budget).map(Box::new);
        }
        let (packing, until, seed) = (None, None, self.round as u64 * 2);
        own.checking =
            Some(Check { boards, list, sharing, tight, packing, steps, until, seed, aside });
    }

    /// One unit of the check.
    pub fn go_on_checking(&mut self, instance: &Instance, mut now: Check) {
        let (own, budget) = (&self.own, &mut self.budget);
        let known = Known::of(&self.model, &own.pricer, &own.measures);
        let shared = match (&mut now.sharing, &mut now.tight, known) {
            (Some(sharing), _, Some(known)) => Some(sharing.step(known, UNIT, budget)),
            (_, Some(tight), _) => Some(tight.step(&self.model, &own.measures, UNIT, budget)),
            _ => None,
        };
        if let Some(shared) = shared {
            let over = shared.is_some();
            let filled = match shared {
                Some(Verdict::Impossible) => return self.refuted.push(now.boards),
                Some(Verdict::Found(plan)) => self.accept(instance, plan),
                _ => false,
            };
            // Go on to the next method if this one cannot decide.
            if over && now.sharing.take().is_none() {
                now.tight = None;
            }
            if !filled {
                self.own.checking = Some(now);
            }
            return;
        }
        let until = *(now.until).get_or_insert(budget.left.saturating_sub(now.steps));
        let share = (now.steps / 2).max(1_000_000);
        let packing = (now.packing)
            .get_or_insert_with(|| Packing::new(&self.model, &now.list, share, now.seed, budget));
        if let Some(packed) = packing.step(&self.model, UNIT, budget) {
            if packed.is_some_and(|plan| self.accept(instance, plan)) {
                return;
            }
            now.packing = None;
            now.seed += 1;
            if self.budget.left <= until || self.model.total > 2_000 {
                if !now.aside {
                    self.tried.push(now.boards);
                }
                return;
            }
        }
        self.own.checking = Some(now);
    }
}
