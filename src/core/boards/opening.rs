//! How a search opens: plans by filling boards in turn, and inequalities that need no search.

use super::counts::Next;
use super::greedy;
use super::instance::Instance;
use super::job::Job;
use super::pricing::{Cut, Effort, dyadic};
use super::run::{Phase, Run};
use crate::num::Gather;
use std::rc::Rc;

impl Run {
    /// Plans by filling boards in turn, and inequalities that need no search.
    pub fn first(&mut self, instance: &Instance) {
        let job = Rc::clone(&self.job);
        let (have, cost) = (self.limits(), self.costs());
        let by_length: Vec<u32> = (0..job.kinds.len() as u32).gather();
        let mut plans = Vec::new();
        plans.extend(greedy::plan(&job, &self.bins, &have, &cost, &by_length, &mut self.work));
        for b in 0..self.bins.len() {
            // One board length at a time, where that is enough.
            let mut only = vec![0; have.len()];
            for (s, stock) in job.stock.iter().enumerate() {
                if s == b || stock.price == 0 {
                    only[s] = have[s];
                }
            }
            if self.priced() && self.bins.len() > 1 {
                plans.extend(greedy::plan(
                    &job,
                    &self.bins,
                    &only,
                    &cost,
                    &by_length,
                    &mut self.work,
                ));
            }
        }
        for plan in plans {
            for (_, p) in &plan {
                self.search.pool.add(p.clone());
            }
            self.accept(instance, plan);
        }
        self.simple_cuts();
        if let Next::Found(n) = self.next(0, None) {
            self.bound = n.price;
        }
        self.phase = Phase::Root;
    }

    /// Inequalities from length, number and halves.
    fn simple_cuts(&mut self) {
        let job = Rc::clone(&self.job);
        let lengths: Vec<f64> = job.kinds.iter().map(|k| k.use_len).gather();
        self.cuts.push(Cut {
            need: job.kinds.iter().map(|k| k.use_len * f64::from(k.qty)).sum(),
            value: lengths.clone(),
            most: self.bins.iter().map(|&b| job.capacity(b).max(0.0)).gather(),
        });
        let mut values = vec![vec![1.0; lengths.len()]];
        if self.priced() {
            values.push(lengths.clone());
        }
        for &bin in &self.bins {
            let room = job.capacity(bin);
            values.push(lengths.iter().map(|&l| if l > room / 2.0 { 1.0 } else { 0.0 }).gather());
        }
        for value in values {
            self.push_cut(&value);
        }
    }

    fn push_cut(&mut self, value: &[f64]) {
        let job = Rc::clone(&self.job);
        let value = dyadic(value);
        if value.iter().all(|&v| v == 0.0) {
            return;
        }
        let want = job.demand();
        let most = if self.priced() {
            let above = vec![f64::MAX; self.bins.len()];
            self.search
                .pricer
                .price(&value, &want, &self.bins, &above, Effort::Improve, &mut self.work)
                .upper
        } else {
            self.bins.iter().map(|&b| most_by_rate(&job, &value, job.capacity(b))).gather()
        };
        let need = value.iter().zip(&want).map(|(v, &q)| v * f64::from(q)).sum();
        self.cuts.push(Cut { value, most, need });
    }
}

/// The most value within a length, in fractions: value by value, the densest first.
fn most_by_rate(job: &Job, value: &[f64], room: f64) -> f64 {
    let mut order: Vec<usize> = (0..value.len()).filter(|&i| value[i] > 0.0).gather();
    let rate = |i: usize| value[i] / job.kinds[i].use_len.max(1e-12);
    crate::num::sort_by(&mut order, |&a, &b| rate(b).total_cmp(&rate(a)).then(a.cmp(&b)));
    let (mut left, mut sum) = (room.max(0.0), 0.0);
    for i in order {
        let each = job.kinds[i].use_len.max(1e-12);
        let n = (left / each).min(f64::from(job.kinds[i].qty));
        sum += n * value[i];
        left -= n * each;
    }
    // Whole values only where all are whole.
    if value.iter().all(|v| *v == 0.0 || *v == 1.0) {
        crate::num::floor(sum + 1e-9)
    } else {
        sum * (1.0 + 1e-12)
    }
}
