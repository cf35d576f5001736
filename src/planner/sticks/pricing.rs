//! From values of parts to the best pattern on each board, and to an inequality that every plan obeys.

use super::super::budget::Budget;
use super::completion::{CompletionTable, Probe};
use super::joints::Joints;
use super::knapsack::{KnapsackTable, unit};
use super::model::{Bin, Model, Pattern};
use offsquare_units::num;
use std::rc::Rc;

/// Values rounded down to multiples of one power of two.
pub fn dyadic(values: &[f64]) -> Vec<f64> {
    let step = unit(values);
    values
        .iter()
        .map(|&v| if step.is_finite() { num::floor(v.max(0.0) / step) * step } else { 0.0 })
        .collect()
}

/// How hard to look for a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// A quick look; finding nothing proves nothing.
    Quick,
    /// Stop at the first way of beating the value asked for.
    Improve,
    /// Go on until nothing can have been overlooked.
    Exhaust,
}

/// What pricing found: patterns worth more than asked, and upper bounds per bin.
pub struct Priced {
    pub patterns: Vec<Pattern>,
    pub upper: Vec<f64>,
}

/// Pricing with its memory.
pub struct Pricer {
    pub model: Rc<Model>,
    pub table: KnapsackTable,
    completion: CompletionTable,
    pub joints: Joints,
    /// Extra nodes that searches for chains may still visit before this is set again.
    pub patience: usize,
}

/// Cells of the bound for mitered ends: at first, and where that does not decide.
const ROUGH: usize = 512;
const FINE: usize = 2048;
const FINEST: usize = 8192;
const NODES: usize = 20_000;

impl Pricer {
    pub fn new(model: Rc<Model>) -> Pricer {
        Pricer {
            table: KnapsackTable::new(&model),
            model,
            completion: CompletionTable::default(),
            joints: Joints::default(),
            patience: 0,
        }
    }

    /// Patterns of at most `qty` of each kind worth more than `above[b]` on bin b.
    pub fn price(
        &mut self,
        value: &[f64],
        qty: &[u32],
        bins: &[Bin],
        above: &[f64],
        effort: Effort,
        budget: &mut Budget,
    ) -> Priced {
        let room = bins.iter().map(|&b| self.model.capacity(b)).fold(0.0, f64::max);
        self.table.fill(&self.model, value, qty, room, budget);
        let mut upper: Vec<f64> =
            bins.iter().map(|&b| self.table.upper(self.model.capacity(b))).collect();
        let mut patterns = Vec::new();
        if !self.model.mitered {
            for (b, &bin) in bins.iter().enumerate() {
                let (found, most) = self.table.best(&self.model, bin, above[b], NODES, budget);
                upper[b] = if found.is_none() { most.max(0.0) } else { most };
                if let Some(p) = found
                    && !patterns.contains(&p)
                {
                    patterns.push(p);
                }
            }
            return Priced { patterns, upper };
        }
        let open =
            |upper: &[f64]| (0..bins.len()).any(|b| upper[b] > above[b] && above[b] != f64::MAX);
        if !open(&upper) {
            return Priced { patterns, upper };
        }
        let model = Rc::clone(&self.model);
        self.completion.plain(&self.table);
        for stage in [ROUGH, FINE, FINEST] {
            self.completion.fill(&model, &self.table, room, stage, budget);
            for (u, &bin) in upper.iter_mut().zip(bins) {
                *u = u.min(self.completion.upper(&model, bin) * (1.0 + 1e-12));
            }
            if !open(&upper) {
                return Priced { patterns, upper };
            }
            for (b, &bin) in bins.iter().enumerate() {
                if upper[b] <= above[b] || above[b] == f64::MAX {
                    continue;
                }
                let nodes = match stage {
                    ROUGH => 60,
                    FINE => 400,
                    _ => self.patience.max(1000),
                };
                let mut probe =
                    Probe::new(&model, &self.completion, &self.table, bin, above[b], nodes);
                let complete = probe.run();
                budget.spend(probe.spent * 8 + 500);
                if stage == FINEST {
                    self.patience = self.patience.saturating_sub(nodes - probe.nodes);
                }
                if complete {
                    upper[b] = upper[b].min(probe.best);
                }
                for order in probe.found.iter().rev().take(3) {
                    let pattern = model.pattern_of(order.clone());
                    if !patterns.iter().any(|p: &Pattern| p.counts == pattern.counts) {
                        patterns.push(pattern);
                    }
                }
            }
            let enough = match effort {
                Effort::Quick => true,
                Effort::Improve => !patterns.is_empty(),
                Effort::Exhaust => false,
            };
            if enough || !open(&upper) {
                return Priced { patterns, upper };
            }
            if stage == FINE {
                self.completion.settle(&model, &self.table, room, bins, above, &mut upper, budget);
                if !open(&upper) {
                    return Priced { patterns, upper };
                }
            }
        }
        Priced { patterns, upper }
    }
}
