//! The fractional problem: the bound that it gives, and plans from it.

use super::bounds::Master;
use super::corner::Bin;
use super::dive::{self, Diving};
use super::exact::Measure;
use super::instance::Instance;
use super::numbers::{self, Aim, Next};
use super::planner::BUDGET;
use super::run::{Phase, Run};

impl Run {
    /// The bound that the inequalities give now.
    pub fn raise(&mut self) {
        let below = self.best.as_ref().map_or(i128::MAX / 4, |b| b.price + 1);
        let aim = Aim::Cheapest { from: 0, below };
        if let Next::Found(_, price) = numbers::next(&self.job.stock, &self.cuts, aim, &[], &[]) {
            self.bound = self.bound.max(price);
        }
        self.work.spend(20_000);
    }

    /// The fractional problem, a round at a time.
    pub fn root(&mut self) {
        if self.pricer.is_none() && !self.job.plain {
            self.phase = Phase::Price;
            return;
        }
        if self.best.as_ref().is_some_and(|b| b.price <= self.bound) {
            self.phase = Phase::Price;
            self.round = 0;
            return;
        }
        if self.master.is_none() {
            self.open_master();
        }
        let Some(master) = &mut self.master else {
            return;
        };
        if !self.enriched {
            let demand = self.job.demand();
            let better = dive::enrich(&self.job, master, &mut self.pool, &demand, &mut self.work);
            self.enriched = !better || self.spent() > 350_000_000;
            return;
        }
        let Some(pricer) = &mut self.pricer else {
            self.phase = Phase::Dive;
            self.round = 0;
            return;
        };
        let (cut, value, done) = master.round(&self.job, pricer, &mut self.work);
        self.round += 1;
        let enough = done || self.round > 400 || self.spent() > 500_000_000;
        // Inequalities on the way are worth keeping now and then.
        if enough {
            self.measures.push(Measure { value: value.clone(), most: cut.most.clone() });
        }
        if enough || self.round.is_multiple_of(10) {
            self.cuts.push(cut);
            self.raise();
        }
        if enough {
            self.phase = match self.pool.is_empty() {
                true => Phase::Price,
                false => Phase::Dive,
            };
            self.round = 0;
        }
    }

    /// The fractional problem begins with the boards of the best plan. Where all sets of parts are
    /// known, there is no need of quick ways to cut.
    fn open_master(&mut self) {
        let mut master = Master::new(&self.job);
        let known = self.pricer.as_ref().is_some_and(|p| p.sets.is_some());
        if let Some(best) = &self.best {
            for (stock, tree) in &best.chosen {
                let mut bin = Bin::new(&self.job, *stock);
                bin.tree = tree.clone();
                bin.free.clear();
                bin.parts = bin.tree.counts(self.job.kinds.len()).iter().sum();
                master.settle(&mut self.work);
                dive::offer(&self.job, &mut master, &mut self.pool, bin, &mut self.work);
            }
        }
        if known {
            self.pool.clear();
            self.enriched = true;
        }
        self.master = Some(master);
    }

    /// Plans from the fractional problem.
    pub fn dive(&mut self, instance: &Instance) {
        let proven = self.best.as_ref().is_some_and(|b| b.price <= self.bound);
        if proven || self.round >= 8 || self.spent() > BUDGET * 6 / 10 {
            self.phase = Phase::Price;
            self.round = 0;
            return;
        }
        let luck = self.round.min(3);
        let diving = self.diving.get_or_insert_with(|| Diving::new(&self.job, luck));
        let plan = diving.step(&self.job, &mut self.pool, &mut self.dice, &mut self.work);
        let Some(plan) = plan else { return };
        self.diving = None;
        if let Some(plan) = plan {
            self.accept(instance, plan);
        }
        self.round += 1;
    }
}
