//! How a search opens: plans by filling boards in turn, and inequalities that need no search.

use super::super::board_counts::{Inequality, worth};
use super::super::cutting::{Phase, Search};
use super::super::verdict::Verdict;
use super::greedy;
use super::instance::Instance;
use super::model::{Lot, Model};
use super::pricing::{Effort, dyadic};
use super::refill::Refill;
use offsquare_units::num::{self, Gather};
use std::rc::Rc;

/// With at least this many kinds the relaxation would take most of the budget, so plans are first sought by
/// refilling boards; and the steps for that.
const MANY: usize = 200;
const REFILL: i64 = 450_000_000;

impl Search<Instance> {
    /// Plans by filling boards in turn, and inequalities that need no search.
    pub fn first(&mut self, instance: &Instance) {
        let model = Rc::clone(&self.model);
        let (have, cost) = (self.stock_limits(), self.costs());
        let by_length: Vec<u32> = (0..model.kinds.len() as u32).gather();
        let mut plans = Vec::new();
        let (want, bins) = (model.demand(), &self.own.bins);
        let lot = Lot { want: &want, bins, have: &have, cost: &cost, known: &[] };
        plans.extend(greedy::plan(&model, lot, &by_length, &mut self.budget));
        // Then with one board length at a time, if that is enough.
        let alone = if self.priced() && bins.len() > 1 { bins.len() } else { 0 };
        for b in 0..alone {
            let may = |s: usize| s == b || model.stock[s].price == 0;
            let only: Vec<u32> = (0..have.len()).map(|s| if may(s) { have[s] } else { 0 }).gather();
            let lot = Lot { have: &only, ..lot };
            plans.extend(greedy::plan(&model, lot, &by_length, &mut self.budget));
        }
        for plan in plans {
            for (_, p) in &plan {
                self.own.feasibility.pool.add(p.clone());
            }
            self.accept(instance, plan);
        }
        self.simple_inequalities();
        if let Verdict::Found(n) = self.next(self.cheaper(0)) {
            self.bound = n.price;
        }
        let many = !self.model.mitered && self.model.kinds.len() > MANY && !self.at_bound();
        self.phase = if many { Phase::Simple } else { Phase::Root };
    }

    /// Empties boards and fills them again where there are many lengths, because the relaxation would take long.
    pub fn refill(&mut self, instance: &Instance) {
        let Some(best) = &self.best else {
            self.phase = Phase::Root;
            return;
        };
        // The kind of board that most is cut from.
        let on = |s: usize| best.chosen.iter().filter(|c| c.0 == s).count();
        let stock =
            (0..self.model.stock.len()).max_by_key(|&s| (on(s), usize::MAX - s)).unwrap_or(0);
        let model = Rc::clone(&self.model);
        let mut refill = match self.own.refill.take() {
            Some(refill) => refill,
            None => Refill::new(&model, stock, &best.chosen, &mut self.budget),
        };
        let until = self.budget.left - 12_000_000;
        while self.budget.left > until && refill.boards() >= on(stock) {
            refill.step(&model, &mut self.budget);
        }
        let fewer = refill.boards() < on(stock);
        if fewer {
            let mut plan: Vec<_> = best.chosen.iter().filter(|c| c.0 != stock).cloned().gather();
            plan.extend(refill.plan(&model, stock));
            self.accept(instance, plan);
        }
        self.own.refill = Some(refill);
        if self.at_bound() || self.spent() > REFILL {
            for (_, p) in self.best.iter().flat_map(|b| &b.chosen) {
                self.own.feasibility.pool.add(p.clone());
            }
            self.own.refill = None;
            self.phase = if self.at_bound() { Phase::Price } else { Phase::Root };
        }
    }

    /// Inequalities from length, number and halves.
    fn simple_inequalities(&mut self) {
        let model = Rc::clone(&self.model);
        let lengths: Vec<f64> = model.kinds.iter().map(|k| k.use_len).gather();
        self.inequalities.push(Inequality {
            need: worth(&lengths, &model.demand()),
            value: lengths.clone(),
            most: self.own.bins.iter().map(|&b| model.capacity(b).max(0.0)).gather(),
        });
        let mut values = vec![vec![1.0; lengths.len()]];
        if self.priced() {
            values.push(lengths.clone());
        }
        for &bin in &self.own.bins {
            let room = model.capacity(bin);
            values.push(lengths.iter().map(|&l| if l > room / 2.0 { 1.0 } else { 0.0 }).gather());
        }
        for value in values {
            self.push_inequality(&value);
        }
    }

    fn push_inequality(&mut self, value: &[f64]) {
        let model = Rc::clone(&self.model);
        let value = dyadic(value);
        if value.iter().all(|&v| v == 0.0) {
            return;
        }
        let want = model.demand();
        let most = if self.priced() {
            let above = vec![f64::MAX; self.own.bins.len()];
            let pricer = &mut self.own.feasibility.pricer;
            pricer
                .price(&value, &want, &self.own.bins, &above, Effort::Improve, &mut self.budget)
                .upper
        } else {
            self.own.bins.iter().map(|&b| most_by_rate(&model, &value, model.capacity(b))).gather()
        };
        let need = worth(&value, &want);
        self.inequalities.push(Inequality { value, most, need });
    }
}

/// The most value within a length, in fractions: value by value, the densest first.
fn most_by_rate(model: &Model, value: &[f64], room: f64) -> f64 {
    let mut order: Vec<usize> = (0..value.len()).filter(|&i| value[i] > 0.0).gather();
    let rate = |i: usize| value[i] / model.kinds[i].use_len.max(1e-12);
    num::sort_by(&mut order, |&a, &b| rate(b).total_cmp(&rate(a)).then(a.cmp(&b)));
    let (mut left, mut sum) = (room.max(0.0), 0.0);
    for i in order {
        let each = model.kinds[i].use_len.max(1e-12);
        let n = (left / each).min(f64::from(model.kinds[i].qty));
        sum += n * value[i];
        left -= n * each;
    }
    // Whole values only where all are whole.
    if value.iter().all(|v| *v == 0.0 || *v == 1.0) {
        num::floor(sum + 1e-9)
    } else {
        sum * (1.0 + 1e-12)
    }
}
