//! The relaxation: the bound that it gives, and plans from it.

use super::super::board_counts::Aim;
use super::super::budget::BUDGET;
use super::super::cutting::{Phase, Search};
use super::super::verdict::Verdict;
use super::corner::Bin;
use super::dive::{self, Diving};
use super::instance::Instance;
use super::relaxation::Master;

impl Search<Instance> {
    /// The bound that the inequalities give now.
    pub fn raise(&mut self) {
        let below = self.best.as_ref().map_or(i128::MAX / 4, |b| b.price + 1);
        if let Verdict::Found(n) = self.next(Aim::Cheapest { from: 0, below }) {
            self.bound = self.bound.max(n.price);
        }
    }

    /// The relaxation, a round at a time.
    pub fn root(&mut self) {
        if self.own.pricer.is_none() && !self.model.plain {
            self.phase = Phase::Price;
            return;
        }
        if self.at_bound() {
            self.phase = Phase::Price;
            self.round = 0;
            return;
        }
        if self.own.master.is_none() {
            self.open_master();
        }
        let Some(master) = &mut self.own.master else {
            return;
        };
        if !self.own.enriched {
            let demand = self.model.demand();
            let better =
                dive::enrich(&self.model, master, &mut self.own.pool, &demand, &mut self.budget);
            self.own.enriched = !better || self.spent() > 350_000_000;
            return;
        }
        let Some(pricer) = &mut self.own.pricer else {
            self.phase = Phase::Dive;
            self.round = 0;
            return;
        };
        let (inequality, done) = master.round(&self.model, pricer, &mut self.budget);
        self.round += 1;
        let enough = done || self.round > 400 || self.spent() > 500_000_000;
        // Some of the inequalities found along the way are worth keeping.
        if enough {
            self.own.measures.push(inequality.clone());
        }
        if enough || self.round.is_multiple_of(10) {
            self.inequalities.push(inequality);
            self.raise();
        }
        if enough {
            self.phase = match self.own.pool.is_empty() {
                true => Phase::Price,
                false => Phase::Dive,
            };
            self.round = 0;
        }
    }

    /// The relaxation begins with the boards of the best plan. Where all sets of parts are
    /// known, there is no need of quick patterns.
    fn open_master(&mut self) {
        let mut master = Master::new(&self.model);
        let known = self.own.pricer.as_ref().is_some_and(|p| p.sets.is_some());
        if let Some(best) = &self.best {
            for (stock, tree) in &best.chosen {
                let mut bin = Bin::new(&self.model, *stock);
                bin.tree = tree.clone();
                bin.free.clear();
                bin.parts = bin.tree.counts(self.model.kinds.len()).iter().sum();
                master.settle(&mut self.budget);
                dive::offer(&self.model, &mut master, &mut self.own.pool, bin, &mut self.budget);
            }
        }
        if known {
            self.own.pool.clear();
            self.own.enriched = true;
        }
        self.own.master = Some(master);
    }

    /// Plans from the relaxation.
    pub fn dive(&mut self, instance: &Instance) {
        if self.at_bound() || self.round >= 8 || self.spent() > BUDGET * 6 / 10 {
            self.phase = Phase::Price;
            self.round = 0;
            return;
        }
        let luck = self.round.min(3);
        let diving = self.own.diving.get_or_insert_with(|| Diving::new(&self.model, luck));
        let plan =
            diving.step(&self.model, &mut self.own.pool, &mut self.own.dice, &mut self.budget);
        let Some(plan) = plan else { return };
        self.own.diving = None;
        if let Some(plan) = plan {
            self.accept(instance, plan);
        }
        self.round += 1;
    }
}
