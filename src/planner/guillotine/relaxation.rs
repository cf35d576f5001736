//! Valid inequalities over the board counts, from values of the parts (`worth`), and the values that
//! make the best ones: the dual values of the relaxation, by column generation.

use super::super::board_counts::{Inequality, worth};
use super::super::budget::Budget;
use super::super::tableau::Tableau;
use super::effort::LARGE;
use super::model::Model;
use super::sets::{Grown, Sets};
use super::worth::Worth;

/// Most kinds of parts and boards for which the relaxation is solved.
const MOST_KINDS: usize = 120;
const MOST_STOCK: usize = 12;

/// The pricing problem: the most that a board can hold for given part values.
pub struct Pricer {
    pub worths: Vec<Worth>,
    /// All sets of parts that fit on a board, where they are few enough: then what a board can hold is
    /// known exactly, each part at most as often as it is wanted.
    pub sets: Option<Sets>,
    growing: Option<Sets>,
}

/// A pattern in the relaxation: board kind and parts of each kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub stock: usize,
    pub counts: Vec<u32>,
    /// Its index among the patterns known to be possible; none where only the bound is known.
    pub pattern: Option<usize>,
}

/// Area: every part takes up its padded area.
pub fn areas(model: &Model) -> Inequality {
    Inequality {
        value: model.kinds.iter().map(|k| k.area).collect(),
        need: model.area(),
        most: model.stock.iter().map(|s| s.size()).collect(),
    }
}

impl Pricer {
    /// None where there are too many kinds.
    pub fn new(model: &Model, budget: &mut Budget) -> Option<Pricer> {
        if model.kinds.len() > MOST_KINDS || model.stock.len() > MOST_STOCK {
            return None;
        }
        let steps = match model.total > LARGE {
            true => 20_000_000,
            false => 300_000_000,
        };
        Some(Pricer {
            worths: (0..model.stock.len()).map(|s| Worth::new(model, s, budget)).collect(),
            sets: None,
            growing: Sets::new(model, budget, steps),
        })
    }

    /// Looks for all sets of parts, for about `slice` steps; true when that is over.
    pub fn grow(&mut self, model: &Model, slice: i64, budget: &mut Budget) -> bool {
        let Some(sets) = &mut self.growing else {
            return true;
        };
        let grown = sets.grow(model, slice, budget);
        if grown != Grown::More {
            let sets = self.growing.take();
            self.sets = sets.filter(|_| grown == Grown::Whole);
        }
        grown != Grown::More
    }

    /// The inequality that values of the parts give, with a best pattern for each kind of board.
    pub fn inequality(
        &mut self,
        model: &Model,
        value: &[f64],
        budget: &mut Budget,
    ) -> (Inequality, Vec<Column>) {
        let mut most = Vec::new();
        let mut columns = Vec::new();
        // All parts of a kind may be worth less than a board full of it.
        let need = worth(value, &model.demand());
        for (stock, exact) in self.worths.iter_mut().enumerate() {
            let (best, counts) = match &self.sets {
                Some(sets) => {
                    let (best, set) = sets.most(value, stock, budget);
                    let mut counts = vec![0; value.len()];
                    for &(k, n) in set.map_or(&[][..], |s| &sets.list[s].counts) {
                        counts[k as usize] = n;
                    }
                    (best, counts)
                }
                None => exact.most(value, budget),
            };
            most.push(best.min(need));
            columns.push(Column { stock, counts, pattern: None });
        }
        (Inequality { value: value.to_vec(), need, most }, columns)
    }
}

/// Values from sizes alone: areas first, then numbers of parts longer or wider than shares of the boards.
pub fn simple_values(model: &Model) -> Vec<Vec<f64>> {
    let mut values: Vec<Vec<f64>> = Vec::new();
    values.push(model.kinds.iter().map(|k| k.area).collect());
    values.push(vec![1.0; model.kinds.len()]);
    for s in &model.stock {
        for (dx, dy) in [(2.0, 2.0), (2.0, 0.0), (0.0, 2.0), (2.0, 3.0), (3.0, 2.0), (3.0, 3.0)] {
            // A part counts only if it is that large whichever way it lies.
            let large = |k: &super::model::Kind| {
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
            values.push(model.kinds.iter().map(of).collect());
        }
    }
    values.retain(|v| v.iter().any(|&v| v > 0.0));
    values
}

/// The relaxation: which patterns, how often, at the least cost.
pub struct Master {
    tab: Tableau<Basic>,
    kinds: usize,
    /// Row of each kind of board whose supply is limited.
    limit_row: Vec<Option<usize>>,
    cost: Vec<f64>,
}

#[derive(Clone, Debug)]
enum Basic {
    /// Buys missing parts of a kind at a prohibitive price.
    Missing,
    Surplus,
    Spare,
    Pattern(Column),
}

/// The price of a part that no board supplies; a board costs at most 1.
const FORBIDDING: f64 = 1e4;

impl Master {
    pub fn new(model: &Model) -> Master {
        let kinds = model.kinds.len();
        let top = model.stock.iter().map(|s| s.price).max().unwrap_or(1).max(1) as f64;
        let mut limit_row = Vec::new();
        let mut level: Vec<f64> = model.kinds.iter().map(|k| f64::from(k.qty)).collect();
        let mut basis = vec![Basic::Missing; kinds];
        for s in &model.stock {
            limit_row.push((s.limit < model.total).then(|| {
                level.push(f64::from(s.limit));
                basis.push(Basic::Spare);
                level.len() - 1
            }));
        }
        let cost = model.stock.iter().map(|s| s.price as f64 / top).collect();
        Master { tab: Tableau::new(level, basis), kinds, limit_row, cost }
    }

    fn dual_values(&self) -> Vec<f64> {
        let cost = |basic: &Basic| match basic {
            Basic::Missing => FORBIDDING,
            Basic::Pattern(c) => self.cost[c.stock],
            _ => 0.0,
        };
        self.tab.dual_values(&self.tab.basis.iter().map(cost).collect::<Vec<f64>>())
    }

    fn enter(&mut self, column: Column) -> bool {
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
        self.tab.pivot(Basic::Pattern(column), &entries)
    }

    /// Lets surplus and slack columns enter; they cost nothing to price.
    pub fn settle(&mut self, budget: &mut Budget) {
        for _ in 0..2 * self.tab.rows {
            let y = self.dual_values();
            let reduced = |&row: &usize| if row < self.kinds { y[row] } else { -y[row] };
            let worst = (0..y.len()).min_by(|a, b| reduced(a).total_cmp(&reduced(b)));
            let Some(row) = worst.filter(|row| reduced(row) < -1e-9) else { break };
            let (entry, basic) =
                if row < self.kinds { (-1.0, Basic::Surplus) } else { (1.0, Basic::Spare) };
            budget.spend(4 * self.tab.rows * self.tab.rows);
            if !self.tab.pivot(basic, &[(row, entry)]) {
                break;
            }
        }
    }

    /// What a part of each kind is worth now.
    pub fn values(&self) -> Vec<f64> {
        let y = self.dual_values();
        y[..self.kinds].iter().map(|v| v.max(0.0)).collect()
    }

    /// Brings a column into the basis if its reduced cost is negative.
    pub fn offer(&mut self, column: Column, budget: &mut Budget) -> bool {
        let y = self.dual_values();
        budget.spend(self.tab.rows * self.tab.rows);
        let worth = worth(&y, &column.counts);
        let supply = self.limit_row[column.stock].map_or(0.0, |row| y[row]);
        if worth + supply <= self.cost[column.stock] + 1e-7 {
            return false;
        }
        budget.spend(3 * self.tab.rows * self.tab.rows);
        self.enter(column)
    }

    /// The patterns used, and how often.
    pub fn taken(&self) -> Vec<(usize, f64)> {
        let used = self.tab.basis.iter().zip(&self.tab.level);
        used.filter_map(|(basic, &level)| match basic {
            Basic::Pattern(c) if level > 1e-9 => Some((c.pattern?, level)),
            _ => None,
        })
        .collect()
    }

    /// One round: the present dual values give an inequality, and better patterns enter. The flag is true
    /// when there are none.
    pub fn round(
        &mut self,
        model: &Model,
        pricer: &mut Pricer,
        budget: &mut Budget,
    ) -> (Inequality, bool) {
        self.settle(budget);
        let value = self.values();
        let (inequality, columns) = pricer.inequality(model, &value, budget);
        let mut better = false;
        for column in columns {
            better |= self.offer(column, budget);
        }
        (inequality, !better)
    }
}
