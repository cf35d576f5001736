//! From values of parts to the best pattern on each board, and to an inequality that every plan obeys.

use super::chains::{self, Chainer, Quest};
use super::job::{Bin, Job, Pattern};
use super::joints;
use super::knapsack::{Grid, Table, Work};
use std::rc::Rc;

/// An inequality that every plan obeys: give each part a value; if no board of stock s holds more
/// than `most[s]`, then n[s] boards hold the lot only if the sum of `most[s]·n[s]` is at least `need`.
///
/// Values are multiples of one power of two, so that sums of them are exact.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    pub value: Vec<f64>,
    pub most: Vec<f64>,
    pub need: f64,
}

impl Cut {
    /// How far so many boards fall short (above 0: they cannot hold the parts).
    pub fn short(&self, boards: &[u32]) -> f64 {
        let held: f64 = self
            .most
            .iter()
            .zip(boards)
            .map(|(&m, &n)| m * f64::from(n))
            .sum();
        self.need - held
    }

    pub fn refutes(&self, boards: &[u32]) -> bool {
        self.short(boards) > 1e-9 * self.need
    }
}

/// Values rounded down to multiples of one power of two.
pub(super) fn dyadic(values: &[f64]) -> Vec<f64> {
    let top = values.iter().copied().fold(0.0, f64::max);
    if !(top > 0.0 && top.is_finite()) {
        return vec![0.0; values.len()];
    }
    let mut unit = 1.0f64;
    while unit < top {
        unit *= 2.0;
    }
    while unit > 2.0 * top {
        unit /= 2.0;
    }
    let step = unit / 16_777_216.0;
    values
        .iter()
        .map(|&v| crate::num::floor(v.max(0.0) / step) * step)
        .collect()
}

/// How hard to look for a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// Look where it costs little; finding nothing proves nothing.
    Quick,
    /// Stop at the first way of beating the value asked for.
    Improve,
    /// Go on until nothing can have been overlooked.
    Exhaust,
}

/// What pricing found: patterns worth more than asked, and upper bounds per bin.
pub(super) struct Priced {
    pub patterns: Vec<Pattern>,
    pub upper: Vec<f64>,
}

/// Pricing with its memory.
pub(super) struct Pricer {
    pub job: Rc<Job>,
    pub grid: Grid,
    pub table: Table,
    chainer: Chainer,
}

const NODES: usize = 20_000;
const QUICK: usize = 4_000;
const LABELS: usize = 24_000;

impl Pricer {
    pub fn new(job: Rc<Job>) -> Pricer {
        Pricer {
            grid: Grid::new(&job),
            job,
            table: Table::default(),
            chainer: Chainer::default(),
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
        work: &mut Work,
    ) -> Priced {
        let room = bins
            .iter()
            .map(|&b| self.job.capacity(b))
            .fold(0.0, f64::max);
        self.table
            .fill(&self.job, &self.grid, value, qty, room, work);
        let mut upper: Vec<f64> = bins
            .iter()
            .map(|&b| self.table.upper(&self.grid, self.job.capacity(b)))
            .collect();
        let mut patterns = Vec::new();
        if !self.job.mitered {
            for (b, &bin) in bins.iter().enumerate() {
                let (found, most) = self
                    .table
                    .best(&self.job, &self.grid, bin, above[b], NODES, work);
                upper[b] = most.max(if found.is_none() { 0.0 } else { most });
                if let Some(p) = found
                    && !patterns.contains(&p)
                {
                    patterns.push(p);
                }
            }
            return Priced { patterns, upper };
        }
        if upper.iter().zip(above).all(|(u, a)| u <= a) {
            return Priced { patterns, upper };
        }
        if effort != Effort::Exhaust {
            patterns = self.guessed(bins, above, work);
            if !patterns.is_empty() {
                return Priced { patterns, upper };
            }
        }
        let mut quick = true;
        loop {
            let quest = Quest {
                bins,
                above,
                quick,
                labels: if quick { QUICK } else { LABELS },
            };
            let found = self
                .chainer
                .search(&self.job, &self.grid, &self.table, &quest, work);
            if found.complete {
                for b in 0..bins.len() {
                    let proven = found.best[b].as_ref().map_or(above[b], |f| f.0);
                    upper[b] = upper[b].min(proven);
                }
            }
            patterns = chains::patterns(&self.job, found)
                .into_iter()
                .flatten()
                .collect();
            patterns.dedup();
            if !quick
                || effort == Effort::Quick
                || (effort == Effort::Improve && !patterns.is_empty())
            {
                return Priced { patterns, upper };
            }
            quick = false;
        }
    }

    /// Mitered patterns by way of the plain knapsack: the best sets for somewhat less room, put in
    /// order, and taken if they fit.
    fn guessed(&mut self, bins: &[Bin], above: &[f64], work: &mut Work) -> Vec<Pattern> {
        let job = Rc::clone(&self.job);
        let mut out: Vec<Pattern> = Vec::new();
        for (b, &bin) in bins.iter().enumerate() {
            if above[b] == f64::MAX {
                continue;
            }
            for less in [0.0, 0.01, 0.025, 0.05] {
                let short = Bin {
                    room: bin.room * (1.0 - less),
                    tail: bin.tail,
                };
                let (found, _) = self
                    .table
                    .best(&job, &self.grid, short, above[b], 300, work);
                let Some(set) = found else { break };
                let number: u32 = set.counts.iter().map(|c| c.1).sum();
                let mut order = Vec::new();
                for &(kind, n) in set.counts.iter().rev() {
                    for _ in 0..n {
                        joints::insert(&job, &mut order, kind);
                    }
                }
                work.spend((number * number) as usize * 20 + 300);
                let pattern = job.pattern_of(order);
                if job.fits(&pattern, bin) {
                    if !out.iter().any(|p| p.counts == pattern.counts) {
                        out.push(pattern);
                    }
                    break;
                }
            }
        }
        out
    }
}
