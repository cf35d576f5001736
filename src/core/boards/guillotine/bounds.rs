//! Inequalities between the numbers of boards, from values of the parts (`worth`), and the values that
//! make the best ones: the duals of the fractional cutting problem, by column generation.

use super::super::knapsack::Work;
use super::job::Job;
use super::numbers::Cut;
use super::run::LARGE;
use super::sets::{Grown, Sets};
use super::worth::Worth;

/// Most kinds of parts and boards for which the fractional problem is solved.
const MOST_KINDS: usize = 120;
const MOST_STOCK: usize = 12;

/// What boards can hold, priced again and again.
pub(super) struct Pricer {
    pub worths: Vec<Worth>,
    /// All sets of parts that fit on a board, where they are few enough: then what a board can hold is
    /// known exactly, each part at most as often as it is wanted.
    pub sets: Option<Sets>,
    growing: Option<Sets>,
}

/// A way to cut a board in the fractional problem: board kind and parts of each kind.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Column {
    pub stock: usize,
    pub counts: Vec<u32>,
    /// Its place among the ways that are known to be possible.
    pub way: usize,
}

/// The way of a column of which only the bound is known.
pub(super) const NO_WAY: usize = usize::MAX;

/// Area: every part takes up its padded area.
pub(super) fn area_cut(job: &Job) -> Cut {
    Cut {
        need: job.kinds.iter().map(|k| k.area * f64::from(k.qty)).sum(),
        most: job.stock.iter().map(|s| s.len * s.wid).collect(),
    }
}

impl Pricer {
    /// None where there are too many kinds.
    pub fn new(job: &Job, work: &mut Work) -> Option<Pricer> {
        if job.kinds.len() > MOST_KINDS || job.stock.len() > MOST_STOCK {
            return None;
        }
        let steps = match job.total > LARGE {
            true => 20_000_000,
            false => 300_000_000,
        };
        Some(Pricer {
            worths: (0..job.stock.len()).map(|s| Worth::new(job, s, work)).collect(),
            sets: None,
            growing: Sets::new(job, work, steps),
        })
    }

    /// Looks for all sets of parts, for about `slice` steps; true when that is over.
    pub fn grow(&mut self, job: &Job, slice: i64, work: &mut Work) -> bool {
        let Some(sets) = &mut self.growing else {
            return true;
        };
        let grown = sets.grow(job, slice, work);
        if grown != Grown::More {
            let sets = self.growing.take();
            self.sets = sets.filter(|_| grown == Grown::Whole);
        }
        grown != Grown::More
    }

    /// The inequality that values of the parts give, with a best way to cut each kind of board.
    pub fn cut(&mut self, job: &Job, value: &[f64], work: &mut Work) -> (Cut, Vec<Column>) {
        let mut most = Vec::new();
        let mut columns = Vec::new();
        // All parts of a kind may be worth less than a board full of it.
        let all = total(job, value);
        for (stock, worth) in self.worths.iter_mut().enumerate() {
            let (best, counts) = match &self.sets {
                Some(sets) => {
                    let (best, set) = sets.most(value, stock, work);
                    let mut counts = vec![0; value.len()];
                    for &(k, n) in set.map_or(&[][..], |s| &sets.list[s].counts) {
                        counts[k as usize] = n;
                    }
                    (best, counts)
                }
                None => worth.most(value, work),
            };
            most.push(best.min(all));
            columns.push(Column { stock, counts, way: NO_WAY });
        }
        let need = total(job, value);
        (Cut { need, most }, columns)
    }
}

/// Values from sizes alone: areas first, then numbers of parts longer or wider than shares of the boards.
pub(super) fn simple_values(job: &Job) -> Vec<Vec<f64>> {
    let mut values: Vec<Vec<f64>> = Vec::new();
    values.push(job.kinds.iter().map(|k| k.area).collect());
    values.push(vec![1.0; job.kinds.len()]);
    for s in &job.stock {
        for (dx, dy) in [(2.0, 2.0), (2.0, 0.0), (0.0, 2.0), (2.0, 3.0), (3.0, 2.0), (3.0, 3.0)] {
            // A part counts only if it is that large whichever way it lies.
            let large = |k: &super::job::Kind| {
                k.lies
                    .iter()
                    .all(|l| (dx == 0.0 || l.len * dx > s.len) && (dy == 0.0 || l.wid * dy > s.wid))
            };
            let of = |k| {
                if !large(k) {
                    0.0
                } else if dx == 0.0 {
                    k.lies.iter().map(|l| l.len).fold(f64::INFINITY, f64::min)
                } else if dy == 0.0 {
                    k.lies.iter().map(|l| l.wid).fold(f64::INFINITY, f64::min)
                } else {
                    1.0
                }
            };
            values.push(job.kinds.iter().map(of).collect());
        }
    }
    values.retain(|v| v.iter().any(|&v| v > 0.0));
    values
}

fn total(job: &Job, value: &[f64]) -> f64 {
    value.iter().zip(&job.kinds).map(|(v, k)| v * f64::from(k.qty)).sum()
}

/// The fractional problem: which ways to cut, how often, at the least cost; a revised simplex method
/// with a dense inverse.
pub(super) struct Master {
    rows: usize,
    kinds: usize,
    /// Row of each kind of board whose supply is limited.
    limit_row: Vec<Option<usize>>,
    cost: Vec<f64>,
    inverse: Vec<f64>,
    basis: Vec<Basic>,
    level: Vec<f64>,
}

#[derive(Clone, Debug)]
enum Basic {
    /// Buys what is missing of a kind at a forbidding price.
    Missing,
    Surplus,
    Spare,
    Way(Column),
}

/// The price of a part that no board supplies; a board costs at most 1.
const FORBIDDING: f64 = 1e4;

impl Master {
    pub fn new(job: &Job) -> Master {
        let kinds = job.kinds.len();
        let top = job.stock.iter().map(|s| s.price).max().unwrap_or(1).max(1) as f64;
        let mut rows = kinds;
        let mut limit_row = Vec::new();
        let mut level: Vec<f64> = job.kinds.iter().map(|k| f64::from(k.qty)).collect();
        let mut basis = vec![Basic::Missing; kinds];
        for s in &job.stock {
            limit_row.push((s.limit < job.total).then(|| {
                rows += 1;
                level.push(f64::from(s.limit));
                basis.push(Basic::Spare);
                rows - 1
            }));
        }
        let mut inverse = vec![0.0; rows * rows];
        for i in 0..rows {
            inverse[i * rows + i] = 1.0;
        }
        Master {
            rows,
            kinds,
            limit_row,
            cost: job.stock.iter().map(|s| s.price as f64 / top).collect(),
            inverse,
            basis,
            level,
        }
    }

    fn cost_of(&self, basic: &Basic) -> f64 {
        match basic {
            Basic::Missing => FORBIDDING,
            Basic::Way(c) => self.cost[c.stock],
            _ => 0.0,
        }
    }

    fn duals(&self) -> Vec<f64> {
        let mut y = vec![0.0; self.rows];
        for (i, basic) in self.basis.iter().enumerate() {
            let cost = self.cost_of(basic);
            if cost != 0.0 {
                for (y, inverse) in y.iter_mut().zip(&self.inverse[i * self.rows..]) {
                    *y += cost * inverse;
                }
            }
        }
        y
    }

    /// Brings a column (a list of rows and entries) into the basis.
    fn enter(&mut self, entries: &[(usize, f64)], basic: Basic) -> bool {
        let n = self.rows;
        let step: Vec<f64> = (0..n)
            .map(|i| entries.iter().map(|&(r, v)| self.inverse[i * n + r] * v).sum())
            .collect();
        let mut leave: Option<(usize, f64)> = None;
        for i in 0..n {
            if step[i] > 1e-9 {
                let ratio = self.level[i].max(0.0) / step[i];
                let better = match leave {
                    None => true,
                    Some((at, best)) => {
                        ratio < best - 1e-12 || (ratio <= best + 1e-12 && step[i] > step[at])
                    }
                };
                if better {
                    leave = Some((i, ratio));
                }
            }
        }
        let Some((out, ratio)) = leave else {
            return false;
        };
        let pivot = step[out];
        for j in 0..n {
            self.inverse[out * n + j] /= pivot;
        }
        for i in 0..n {
            if i != out && step[i] != 0.0 {
                for j in 0..n {
                    self.inverse[i * n + j] -= step[i] * self.inverse[out * n + j];
                }
                self.level[i] -= step[i] * ratio;
            }
        }
        self.level[out] = ratio;
        self.basis[out] = basic;
        true
    }

    fn enter_way(&mut self, column: Column) -> bool {
        let mut entries: Vec<(usize, f64)> = column
            .counts
            .iter()
            .enumerate()
            .filter(|(_, n)| **n > 0)
            .map(|(k, &n)| (k, f64::from(n)))
            .collect();
        if let Some(row) = self.limit_row[column.stock] {
            entries.push((row, 1.0));
        }
        self.enter(&entries, Basic::Way(column))
    }

    /// Lets surplus and spare boards in: they cost nothing to look at.
    pub fn settle(&mut self, work: &mut Work) {
        for _ in 0..2 * self.rows {
            let y = self.duals();
            let mut worst: Option<(usize, f64)> = None;
            for (row, &y) in y.iter().enumerate() {
                let reduced = if row < self.kinds { y } else { -y };
                if reduced < -1e-9 && worst.is_none_or(|w| reduced < w.1) {
                    worst = Some((row, reduced));
                }
            }
            let Some((row, _)) = worst else { break };
            let (entry, basic) =
                if row < self.kinds { (-1.0, Basic::Surplus) } else { (1.0, Basic::Spare) };
            work.spend(4 * self.rows * self.rows);
            if !self.enter(&[(row, entry)], basic) {
                break;
            }
        }
    }

    /// What a part of each kind is worth now.
    pub fn values(&self) -> Vec<f64> {
        let y = self.duals();
        y[..self.kinds].iter().map(|v| v.max(0.0)).collect()
    }

    /// Lets a column in if it is better than what is there.
    pub fn offer(&mut self, column: Column, work: &mut Work) -> bool {
        let y = self.duals();
        work.spend(self.rows * self.rows);
        let each = column.counts.iter().zip(&y);
        let worth: f64 = each.map(|(&n, y)| f64::from(n) * y).sum();
        let supply = self.limit_row[column.stock].map_or(0.0, |row| y[row]);
        if worth + supply <= self.cost[column.stock] + 1e-7 {
            return false;
        }
        work.spend(3 * self.rows * self.rows);
        self.enter_way(column)
    }

    /// The ways that are taken, and how often.
    pub fn taken(&self) -> Vec<(usize, f64)> {
        let ways = self.basis.iter().zip(&self.level);
        ways.filter_map(|(basic, &level)| match basic {
            Basic::Way(c) if c.way != NO_WAY && level > 1e-9 => Some((c.way, level)),
            _ => None,
        })
        .collect()
    }

    /// One round: the present duals give an inequality, and better ways to cut enter. The flag is true
    /// when there are none.
    pub fn round(
        &mut self,
        job: &Job,
        pricer: &mut Pricer,
        work: &mut Work,
    ) -> (Cut, Vec<f64>, bool) {
        self.settle(work);
        let value = self.values();
        let (cut, columns) = pricer.cut(job, &value, work);
        let mut better = false;
        for column in columns {
            better |= self.offer(column, work);
        }
        (cut, value, !better)
    }
}
