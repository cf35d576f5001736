//! The master problem of sticks: which cutting patterns to use and how often, by the revised simplex method
//! (`tableau`). Patterns are made as they are needed (column generation, Gilmore and Gomory; see `knapsack`).

use super::super::board_counts::{Inequality, worth};
use super::super::budget::{Budget, mixed};
use super::super::tableau::Tableau;
use super::model::{Lot, Model, Pattern};
use super::pool::Pool;
use super::pricing::{Effort, Pricer, dyadic};
use offsquare_units::num;
use std::rc::Rc;

/// What is to be covered, and with what.
pub struct Covering<'t> {
    pub lot: Lot<'t>,
    /// True: only ask whether the boards can hold the parts (in the relaxation).
    pub feasibility: bool,
    /// False: patterns are looked for where that costs little, and nothing is proven.
    pub thorough: bool,
    /// Says that an inequality settles what was to be found out, so that the rest can be left.
    pub enough: Option<&'t dyn Fn(&Inequality) -> bool>,
    /// Varies which of several best answers is found.
    pub seed: u64,
}

/// A solution of the relaxation.
pub enum Relaxed {
    /// Pattern, bin, how often.
    Solution(Vec<(usize, usize, f64)>),
    /// The boards cannot hold the parts; the inequality says why (over the covering's bins).
    Short(Inequality),
    /// The steps ran out, or the numbers became unreliable.
    Unknown,
}

/// Solves the covering over the pool, making patterns as needed. `last` receives the inequality of the
/// final values in the cost phase.
pub fn solve(
    pricer: &mut Pricer,
    pool: &mut Pool,
    covering: &Covering,
    last: &mut Option<Inequality>,
    budget: &mut Budget,
) -> Relaxed {
    let model = Rc::clone(&pricer.model);
    let model = &*model;
    let kinds: Vec<usize> = (0..model.kinds.len()).filter(|&i| covering.lot.want[i] > 0).collect();
    if kinds.is_empty() {
        return Relaxed::Solution(Vec::new());
    }
    let mut simplex = Simplex::new(model, pool, covering, kinds);
    for phase in 1..=if covering.feasibility { 1 } else { 2 } {
        simplex.phase = phase;
        if let Err(end) = simplex.optimize(&mut Means { pricer, pool, last, budget }) {
            return end;
        }
    }
    simplex.solution()
}

#[derive(Clone, Copy, PartialEq)]
pub enum Column {
    Surplus(usize),
    Artificial(usize),
    Slack(usize),
    Pattern(usize, usize),
}

/// How far dual values are drawn toward those of the best bound so far (smoothing: Wentges 1997, from memory).
const DRAW: f64 = 0.3;

/// What the simplex method works with.
struct Means<'m> {
    pricer: &'m mut Pricer,
    pool: &'m mut Pool,
    last: &'m mut Option<Inequality>,
    budget: &'m mut Budget,
}

struct Simplex<'s> {
    covering: &'s Covering<'s>,
    /// 1: parts are to be covered at all; 2: at the least cost.
    phase: u8,
    kinds: Vec<usize>,
    /// Row of each kind, if it has one.
    row: Vec<usize>,
    tab: Tableau<Column>,
    /// Penalty of leaving a unit of a kind uncovered, by row.
    penalty: Vec<f64>,
    /// For each pattern, its entries (row, number); empty where it is of no use here.
    entries: Vec<Vec<(usize, f64)>>,
    /// For each pattern, the bins that it fits, as a bit mask.
    fits: Vec<u64>,
}

impl<'s> Simplex<'s> {
    fn new(model: &Model, pool: &Pool, covering: &'s Covering, kinds: Vec<usize>) -> Simplex<'s> {
        let (m, lot) = (kinds.len(), covering.lot);
        let mut row = vec![usize::MAX; model.kinds.len()];
        for (r, &k) in kinds.iter().enumerate() {
            row[k] = r;
        }
        let mut basis: Vec<Column> = (0..m).map(Column::Artificial).collect();
        basis.extend((0..lot.bins.len()).map(Column::Slack));
        // Demand is lowered and supply raised, each by its own tiny amount, to break ties. Since both changes
        // only help, nothing possible is called impossible.
        let jitter =
            |i: usize| 1e-7 * (1.0 + (mixed(i as u64 ^ covering.seed << 32) % 101) as f64 / 101.0);
        let want = kinds.iter().enumerate().map(|(r, &k)| f64::from(lot.want[k]) - jitter(r));
        let have = lot.have.iter().enumerate().map(|(b, &n)| f64::from(n) + jitter(m + b));
        let level = want.chain(have).collect();
        let penalty = kinds.iter().map(|&k| model.kinds[k].use_len.max(1e-6)).collect();
        let mut simplex = Simplex {
            covering,
            phase: 1,
            kinds,
            row,
            tab: Tableau::new(level, basis),
            penalty,
            entries: Vec::new(),
            fits: Vec::new(),
        };
        for (at, p) in pool.patterns.iter().enumerate() {
            simplex.note(model, at, p);
        }
        simplex
    }

    /// Notes a pattern of the pool, a new one or one that has become shorter.
    fn note(&mut self, model: &Model, at: usize, pattern: &Pattern) {
        let lot = self.covering.lot;
        let proper = pattern.counts.iter().all(|&(k, n)| n <= lot.want[k as usize]);
        let entries = pattern.counts.iter().filter(|_| proper);
        let entries = entries.map(|&(k, n)| (self.row[k as usize], f64::from(n))).collect();
        let fits = |&b: &usize| lot.have[b] > 0 && model.fits(pattern, lot.bins[b]);
        let mask = (0..lot.bins.len()).filter(fits).fold(0, |mask, b| mask | 1 << b);
        if at < self.fits.len() {
            self.fits[at] = mask;
        } else {
            self.entries.push(entries);
            self.fits.push(mask);
        }
    }

    fn cost(&self, column: Column, phase: u8) -> f64 {
        match column {
            Column::Artificial(r) if phase == 1 => self.penalty[r],
            // Costs more than any board that could cover it.
            Column::Artificial(r) => self.penalty[r] * 1e4,
            Column::Pattern(_, b) if phase == 2 => self.covering.lot.cost[b],
            _ => 0.0,
        }
    }

    /// Pivots until nothing improves the phase, or an inequality settles it.
    fn optimize(&mut self, means: &mut Means) -> Result<(), Relaxed> {
        let mut fresh = 0;
        let mut center: Option<(f64, Vec<f64>)> = None;
        loop {
            if means.budget.over() {
                return Err(Relaxed::Unknown);
            }
            if fresh >= 60 {
                let columns: Vec<Vec<(usize, f64)>> =
                    self.tab.basis.iter().map(|&c| self.entries_of(c)).collect();
                if !self.tab.refactor(&columns) {
                    return Err(Relaxed::Unknown);
                }
                fresh = 0;
            }
            if self.phase == 1 && !self.lacking() {
                return Ok(());
            }
            let costs: Vec<f64> =
                self.tab.basis.iter().map(|&c| self.cost(c, self.phase)).collect();
            let duals = self.tab.dual_values(&costs);
            means.budget.spend(self.tab.rows * self.tab.rows / 3 + 200);
            let mut entering = self.pick_from_pool(&duals, means.budget);
            if entering.is_none() {
                if let Some(end) = self.price_out(&duals, &mut center, means) {
                    return Err(end);
                }
                entering = self.pick_from_pool(&duals, means.budget);
            }
            let Some(entering) = entering else {
                let open = self.phase == 1 && self.lacking();
                return if open { Err(Relaxed::Unknown) } else { Ok(()) };
            };
            let entries = self.entries_of(entering);
            means.budget.spend(self.tab.rows * self.tab.rows / 3);
            if !self.tab.pivot(entering, &entries) {
                return Err(Relaxed::Unknown);
            }
            fresh += 1;
        }
    }

    /// Prices new patterns, at first with dual values drawn toward those of the best bound so far (`center`).
    /// Returns an end if the inequality of those values settles the matter.
    fn price_out(
        &mut self,
        duals: &[f64],
        center: &mut Option<(f64, Vec<f64>)>,
        means: &mut Means,
    ) -> Option<Relaxed> {
        let (covering, phase) = (self.covering, self.phase);
        let lot = covering.lot;
        let model = Rc::clone(&means.pricer.model);
        let mut drawn = covering.thorough && center.is_some();
        let mut exhaust = false;
        loop {
            let at: Vec<f64> = match center {
                Some((_, c)) if drawn => {
                    duals.iter().zip(c).map(|(d, c)| DRAW * *c + (1.0 - DRAW) * d).collect()
                }
                _ => duals.to_vec(),
            };
            let effort = match (exhaust, covering.thorough) {
                (true, _) => Effort::Exhaust,
                (false, true) => Effort::Improve,
                (false, false) => Effort::Quick,
            };
            let value = self.values(&at, model.kinds.len());
            let above = self.rents(&at, self.scale(duals));
            let Means { pricer, budget, .. } = means;
            let priced = pricer.price(&value, lot.want, lot.bins, &above, effort, budget);
            let none = priced.patterns.is_empty();
            let mut grown = false;
            for p in priced.patterns {
                if let Some(at) = means.pool.add(p) {
                    let pattern = means.pool.patterns[at].clone();
                    self.note(&model, at, &pattern);
                    grown = true;
                }
            }
            let need = worth(&value, lot.want);
            let inequality = Inequality { need, value, most: priced.upper };
            if phase == 1 && inequality.refutes(lot.have) {
                return Some(Relaxed::Short(inequality));
            }
            let bound = self.bound(&inequality);
            if phase == 2
                && let Some(enough) = covering.enough
                && bound >= 0.96 * self.spent()
                && enough(&inequality)
            {
                *means.last = Some(inequality);
                return Some(Relaxed::Unknown);
            }
            if covering.thorough && center.as_ref().is_none_or(|c| bound > c.0) {
                *center = Some((bound, at));
            }
            if drawn {
                if grown && self.pick_from_pool(duals, means.budget).is_some() {
                    return None;
                }
                drawn = false;
                continue;
            }
            if grown || exhaust || none || !covering.thorough || !model.mitered {
                if !grown && phase == 2 {
                    *means.last = Some(inequality);
                }
                return None;
            }
            exhaust = true;
        }
    }

    /// The largest dual value of a part.
    fn scale(&self, duals: &[f64]) -> f64 {
        duals[..self.kinds.len()].iter().copied().fold(1e-9, f64::max)
    }

    /// The dual value of each kind of part.
    fn values(&self, duals: &[f64], kinds: usize) -> Vec<f64> {
        let mut value = vec![0.0; kinds];
        for (r, &k) in self.kinds.iter().enumerate() {
            value[k] = duals[r].max(0.0);
        }
        dyadic(&value)
    }

    /// What a pattern must be worth on each bin to have negative reduced cost.
    fn rents(&self, duals: &[f64], scale: f64) -> Vec<f64> {
        let rent = |b: usize| (self.rent(duals, b)).max(0.0) + 1e-7 * scale;
        let of = |b: usize| if self.covering.lot.have[b] == 0 { f64::MAX } else { rent(b) };
        (0..self.covering.lot.bins.len()).map(of).collect()
    }

    /// What a board of a bin costs in this phase, with the dual value of its supply.
    fn rent(&self, duals: &[f64], b: usize) -> f64 {
        let board = if self.phase == 2 { self.covering.lot.cost[b] } else { 0.0 };
        board - duals[self.kinds.len() + b]
    }

    /// What the solution costs now.
    fn spent(&self) -> f64 {
        self.tab.basis.iter().zip(&self.tab.level).map(|(&c, &x)| self.cost(c, 2) * x).sum()
    }

    /// What an inequality says: no plan costs less; or, in the first phase, so much is lacking.
    fn bound(&self, inequality: &Inequality) -> f64 {
        let lot = self.covering.lot;
        if self.phase == 1 {
            return inequality.short(lot.have);
        }
        let useful = |&b: &usize| inequality.most[b] > 0.0 && lot.have[b] > 0;
        let mut order: Vec<usize> = (0..lot.bins.len()).filter(useful).collect();
        let rate = |b: usize| lot.cost[b] / inequality.most[b];
        num::sort_by(&mut order, |&a, &b| rate(a).total_cmp(&rate(b)));
        let (mut need, mut bound) = (inequality.need, 0.0);
        for b in order {
            let n = (need / inequality.most[b]).min(f64::from(lot.have[b]));
            need -= n * inequality.most[b];
            bound += n * lot.cost[b];
        }
        bound
    }

    /// Whether an artificial variable is still larger than the jitter explains.
    fn lacking(&self) -> bool {
        self.tab
            .basis
            .iter()
            .zip(&self.tab.level)
            .any(|(c, &x)| matches!(c, Column::Artificial(_)) && x > 1e-9)
    }

    /// The known column with the most negative reduced cost, if there is one.
    fn pick_from_pool(&self, duals: &[f64], budget: &mut Budget) -> Option<Column> {
        let m = self.kinds.len();
        let first = self.tab.stall > 40 + 2 * m;
        let mut best = (-1e-9 * self.scale(duals), None);
        let mut offer = |reduced: f64, column: Column| {
            if reduced < best.0 && (best.1.is_none() || !first) {
                best = (reduced, Some(column));
            }
        };
        for (r, &y) in duals[..m].iter().enumerate() {
            offer(y, Column::Surplus(r));
        }
        for (b, &y) in duals[m..].iter().enumerate() {
            offer(-y, Column::Slack(b));
        }
        // Cheapest bin first: a pattern is tried where it costs least.
        let rent: Vec<f64> =
            (0..self.covering.lot.bins.len()).map(|b| self.rent(duals, b)).collect();
        let mut touched = 0;
        for (p, entries) in self.entries.iter().enumerate() {
            if entries.is_empty() || self.fits[p] == 0 {
                continue;
            }
            touched += entries.len() + 2;
            let worth: f64 = entries.iter().map(|&(r, n)| duals[r] * n).sum();
            let mut mask = self.fits[p];
            while mask != 0 {
                let b = mask.trailing_zeros() as usize;
                mask &= mask - 1;
                offer(rent[b] - worth, Column::Pattern(p, b));
            }
        }
        budget.spend(touched * 2);
        best.1
    }

    fn entries_of(&self, column: Column) -> Vec<(usize, f64)> {
        let m = self.kinds.len();
        match column {
            Column::Surplus(r) => vec![(r, -1.0)],
            Column::Artificial(r) => vec![(r, 1.0)],
            Column::Slack(b) => vec![(m + b, 1.0)],
            Column::Pattern(p, b) => {
                let mut entries = self.entries[p].clone();
                entries.push((m + b, 1.0));
                entries
            }
        }
    }

    fn solution(&self) -> Relaxed {
        let mut used = Vec::new();
        for (&c, &x) in self.tab.basis.iter().zip(&self.tab.level) {
            match c {
                Column::Pattern(p, b) if x > 1e-9 => {
                    used.push((p, b, x));
                }
                Column::Artificial(_) if x > 1e-5 => return Relaxed::Unknown,
                _ => {}
            }
        }
        Relaxed::Solution(used)
    }
}
