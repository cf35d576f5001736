//! Plans by diving: the patterns that a solution of the relaxation uses most are fixed, and the relaxation
//! of the remaining parts is solved again.

use super::super::budget::Budget;
use super::corner::{self, Bin, Choose, Rule, Split};
use super::model::{Chosen, Model, Shape};
use super::pack::Dice;
use super::relaxation::{Column, Master};
use super::staged;
use offsquare_units::num::{self, Gather};

/// Patterns that are known; a column of the relaxation names one by its place.
pub type Pool = Vec<Bin>;

/// Adds better patterns to the relaxation, by the quick rule; false when there are none.
pub fn enrich(
    model: &Model,
    master: &mut Master,
    pool: &mut Pool,
    left: &[u32],
    budget: &mut Budget,
) -> bool {
    let mut better = false;
    let area = |k: usize| model.kinds[k].area;
    for blend in [0.0, 0.5] {
        for stock in 0..model.stock.len() {
            master.settle(budget);
            let mut value = master.values();
            // Early dual values are far from final; averaging them with the areas finds more patterns.
            let sum = |each: &dyn Fn(usize) -> f64| -> f64 {
                (0..left.len()).map(|k| f64::from(left[k]) * each(k)).sum()
            };
            let rate = sum(&|k| value[k].min(1.0)) / sum(&area).max(1e-300);
            for k in 0..left.len() {
                value[k] = (1.0 - blend) * value[k].min(1.0) + blend * rate * area(k);
            }
            let Some((_, bin)) = staged::best(model, stock, &value, left, budget) else {
                continue;
            };
            let mut rest = left.to_vec();
            let bin = topped_up(model, cut_down(bin, &mut rest), &rest, &value, budget);
            better |= offer(model, master, pool, bin, budget);
        }
        if better {
            break;
        }
    }
    better
}

/// Offers a board to the relaxation; it is kept if it is better than what is there.
pub fn offer(
    model: &Model,
    master: &mut Master,
    pool: &mut Pool,
    bin: Bin,
    budget: &mut Budget,
) -> bool {
    let column = Column {
        stock: bin.stock,
        counts: bin.tree.counts(model.kinds.len()),
        pattern: Some(pool.len()),
    };
    let entered = master.offer(column, budget);
    if entered {
        pool.push(bin);
    }
    entered
}

/// One plan being made. With `luck` 0 the dive fixes what the relaxation uses most; with higher values it
/// sometimes fixes something else.
pub struct Diving {
    /// The job with what is left.
    now: Model,
    plan: Chosen,
    luck: usize,
    /// The relaxation of what is left, and how many more times to look for better patterns.
    master: Option<Master>,
    looks: usize,
}

impl Diving {
    pub fn new(model: &Model, luck: usize) -> Diving {
        Diving { now: model.clone(), plan: Vec::new(), luck, master: None, looks: 0 }
    }

    /// One unit of work; none while it is open.
    pub fn step(
        &mut self,
        model: &Model,
        pool: &mut Pool,
        dice: &mut Dice,
        budget: &mut Budget,
    ) -> Option<Option<Chosen>> {
        let left = self.now.demand();
        if left.iter().all(|&n| n == 0) {
            return Some(Some(core::mem::take(&mut self.plan)));
        }
        if budget.over() {
            return Some(None);
        }
        let Some(master) = &mut self.master else {
            self.master = Some(self.known(pool, budget));
            self.looks = 3 - self.luck.min(2);
            return None;
        };
        if self.looks > 0 {
            let better = enrich(&self.now, master, pool, &left, budget);
            self.looks = if better { self.looks - 1 } else { 0 };
            return None;
        }
        let master = self.master.take()?;
        (!self.cut(model, &master, pool, dice, budget)).then_some(None)
    }

    /// Offers the known patterns again and again until none improves the relaxation.
    fn known(&self, pool: &Pool, budget: &mut Budget) -> Master {
        let left = self.now.demand();
        let mut master = Master::new(&self.now);
        for _ in 0..60 {
            let mut better = false;
            master.settle(budget);
            for (p, bin) in pool.iter().enumerate() {
                let mut counts = bin.tree.counts(left.len());
                for (c, &l) in counts.iter_mut().zip(&left) {
                    *c = (*c).min(l);
                }
                let stock = bin.stock;
                better |= master.offer(Column { stock, counts, pattern: Some(p) }, budget);
            }
            if !better {
                break;
            }
        }
        master
    }

    /// Fixes the most used pattern; false if nothing can be cut.
    fn cut(
        &mut self,
        model: &Model,
        master: &Master,
        pool: &Pool,
        dice: &mut Dice,
        budget: &mut Budget,
    ) -> bool {
        let (now, luck) = (&mut self.now, self.luck);
        let mut used = master.taken();
        if luck > 0 {
            for (_, level) in &mut used {
                *level *= 1.0 - 0.1 * luck as f64 * (dice.below(1024) as f64 / 1024.0);
            }
        }
        num::sort_by(&mut used, |a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let value = master.values();
        let mut first = true;
        for (p, level) in used {
            let times = (level + 1e-6) as usize;
            if times == 0 && !first {
                break;
            }
            for _ in 0..times.max(1) {
                let mut left = now.demand();
                let bin = cut_down(pool[p].clone(), &mut left);
                if now.stock[bin.stock].limit == 0 || (!first && bin.parts < pool[p].parts) {
                    break;
                }
                let bin = topped_up(model, bin, &left, &value, budget);
                if bin.parts == 0 {
                    break;
                }
                first = false;
                for (kind, n) in now.kinds.iter_mut().zip(bin.tree.counts(model.kinds.len())) {
                    kind.qty -= n;
                }
                let limited = model.stock[bin.stock].limit < model.total;
                now.stock[bin.stock].limit -= u32::from(limited);
                let Some(tree) = bin.closed() else {
                    break;
                };
                self.plan.push((bin.stock, tree));
            }
        }
        !first
    }
}

/// A board with only parts that are still wanted, which are counted off; the places of the others become free.
fn cut_down(mut bin: Bin, left: &mut [u32]) -> Bin {
    for (at, node) in bin.tree.nodes.iter_mut().enumerate() {
        if let Shape::Part { kind, .. } = node.shape {
            let n = &mut left[kind as usize];
            if *n == 0 {
                node.shape = Shape::Free;
                bin.free.push(at as u32);
                bin.parts -= 1;
            } else {
                *n -= 1;
            }
        }
    }
    bin
}

/// A board whose free places are filled with parts that are left, those worth most first.
fn topped_up(model: &Model, bin: Bin, left: &[u32], value: &[f64], budget: &mut Budget) -> Bin {
    let mut kinds: Vec<usize> = (0..left.len()).filter(|&k| left[k] > 0).gather();
    num::sort_by(&mut kinds, |&a, &b| value[b].total_cmp(&value[a]).then(a.cmp(&b)));
    let rule = Rule { choose: Choose::Tight, split: Split::Large };
    let mut bins = [bin];
    for kind in kinds {
        // Free places only shrink: where one found none, another of the kind finds none.
        let mut put = || corner::put(model, &mut bins, kind as u32, rule, budget).is_some();
        (0..left[kind]).all(|_| put());
    }
    let [bin] = bins;
    bin
}
