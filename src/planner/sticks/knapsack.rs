//! The bounded knapsack that prices patterns: what is the most that one board can hold?
//!
//! Gilmore and Gomory's pricing problem (Operations Research 9, 1961, and 11, 1963; from memory),
//! with no more of each kind than is wanted. Lengths are put on a grid: an exact one where all are
//! multiples of one unit, otherwise a coarse one with lengths rounded down, whose table bounds every
//! completion from above and steers a depth-first search over true lengths.

use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::model::{Bin, Model, Pattern};
use offsquare_units::num;

/// Largest number of table entries (kinds times cells).
const ENTRIES: usize = 1_600_000;
const COARSE: usize = 2048;
const FINEST: usize = 24_000;

/// Lengths as whole cells.
#[derive(Clone, Debug)]
pub struct Grid {
    pub cell: f64,
    /// Cells of each kind; exact or rounded down.
    pub weight: Vec<usize>,
    pub exact: bool,
}

impl Grid {
    pub fn new(model: &Model) -> Grid {
        let most = model
            .stock
            .iter()
            .map(|s| model.capacity(Bin { room: s.room, tail: false }))
            .fold(0.0, f64::max);
        let entries = ENTRIES / (model.kinds.len() + 1);
        if !model.mitered
            && let Some((cell, weight)) = exact_grid(model, most, entries.min(FINEST))
        {
            return Grid { cell, weight, exact: true };
        }
        let cell = (most / COARSE.min(entries).max(64) as f64).max(f64::MIN_POSITIVE);
        let weight = model
            .kinds
            .iter()
            .map(|k| num::floor(k.use_len / cell - 1e-9).max(0.0) as usize)
            .collect();
        Grid { cell, weight, exact: false }
    }

    /// Whole cells in a length, never too few.
    pub fn cells(&self, length: f64) -> usize {
        // A cast rounds toward zero.
        (length / self.cell + 1e-9).max(0.0) as usize
    }
}

fn exact_grid(model: &Model, most: f64, finest: usize) -> Option<(f64, Vec<usize>)> {
    const SCALES: [f64; 16] = [
        1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0, 10.0, 20.0, 40.0, 80.0, 160.0, 100.0, 1000.0,
        10000.0,
    ];
    for scale in SCALES {
        let mut weights = Vec::with_capacity(model.kinds.len());
        for kind in &model.kinds {
            let scaled = kind.use_len * scale;
            let whole = num::round_half_up(scaled);
            if (scaled - whole).abs() > 1e-12 * scale * kind.use_len.max(1.0)
                || whole > 1e12
                || whole < 1.0
            {
                break;
            }
            weights.push(whole as u64);
        }
        if weights.len() < model.kinds.len() {
            continue;
        }
        let unit = weights.iter().copied().fold(0, gcd).max(1);
        let cell = unit as f64 / scale;
        if most / cell > finest as f64 {
            return None;
        }
        return Some((cell, weights.iter().map(|w| (w / unit) as usize).collect()));
    }
    None
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// The table of one set of values: `layer(j)[c]` is the most that items j.. hold within c cells.
#[derive(Clone, Debug)]
pub struct KnapsackTable {
    pub grid: Grid,
    /// Kinds with a value, in the order in which they are tried.
    pub items: Vec<u32>,
    pub value: Vec<f64>,
    pub qty: Vec<u32>,
    cells: usize,
    layers: Vec<f64>,
    spare: Vec<f64>,
}

impl KnapsackTable {
    pub fn new(model: &Model) -> KnapsackTable {
        let (items, value, qty) = (Vec::new(), Vec::new(), Vec::new());
        let (layers, spare) = (Vec::new(), Vec::new());
        KnapsackTable { grid: Grid::new(model), items, value, qty, cells: 0, layers, spare }
    }

    /// Fills the table for `value` and `qty` of each kind, on boards up to `room` (in `use_len`).
    pub fn fill(
        &mut self,
        model: &Model,
        value: &[f64],
        qty: &[u32],
        room: f64,
        budget: &mut Budget,
    ) {
        self.items.clear();
        self.items.extend(
            (0..model.kinds.len() as u32)
                .filter(|&i| value[i as usize] > 0.0 && qty[i as usize] > 0),
        );
        if !self.grid.exact {
            let ratio = |i: u32| value[i as usize] / model.kinds[i as usize].use_len.max(1e-12);
            num::sort_by(&mut self.items, |&a, &b| ratio(b).total_cmp(&ratio(a)).then(a.cmp(&b)));
        }
        self.value.clear();
        self.qty.clear();
        for &i in &self.items {
            self.value.push(value[i as usize]);
            self.qty.push(qty[i as usize]);
        }
        self.cells = self.grid.cells(room);
        let wide = self.cells + 1;
        let n = self.items.len();
        self.layers.clear();
        self.layers.resize((n + 1) * wide, 0.0);
        for j in (0..n).rev() {
            let (head, tail) = self.layers.split_at_mut((j + 1) * wide);
            let new = &mut head[j * wide..];
            let old = &tail[..wide];
            let weight = self.grid.weight[self.items[j] as usize];
            let v = self.value[j];
            let q = self.qty[j] as usize;
            new.copy_from_slice(old);
            if weight == 0 {
                let all = v * q as f64;
                new.iter_mut().for_each(|x| *x += all);
            } else if q >= self.cells / weight {
                for c in weight..wide {
                    let with = new[c - weight] + v;
                    if with > new[c] {
                        new[c] = with;
                    }
                }
                budget.spend(wide);
            } else {
                up_to(new, &mut self.spare, q, (v, weight), budget);
            }
            budget.spend(wide / 2);
        }
    }

    /// The most that all items hold within `room` (in `use_len`); an upper bound on a coarse grid.
    pub fn upper(&self, room: f64) -> f64 {
        self.from(0, room)
    }

    /// The most that items j.. hold within `room`.
    pub fn from(&self, j: usize, room: f64) -> f64 {
        if room < 0.0 || self.layers.is_empty() {
            return 0.0;
        }
        let c = self.grid.cells(room).min(self.cells);
        self.layers[j * (self.cells + 1) + c]
    }

    /// A set of parts (as if square-ended) worth more than `above`, the best there is, and an upper bound on
    /// all sets (the best value itself unless the search was cut short).
    pub fn best(
        &self,
        model: &Model,
        bin: Bin,
        above: f64,
        nodes: usize,
        budget: &mut Budget,
    ) -> (Option<Pattern>, f64) {
        let room = model.capacity(bin);
        let upper = self.upper(room);
        if upper <= above || room < 0.0 {
            return (None, upper);
        }
        if self.grid.exact {
            let counts = self.walk(room);
            budget.spend(self.items.len() * 8);
            return (Some(model.square_pattern(counts)), upper);
        }
        let mut dig = Dig {
            table: self,
            model,
            best: above,
            found: None,
            chosen: vec![0; self.items.len()],
            nodes,
        };
        dig.at(0, room, 0.0);
        budget.spend((nodes - dig.nodes) * 12);
        let bound = if dig.nodes == 0 { upper } else { dig.best };
        (dig.found.map(|c| model.square_pattern(c)), bound)
    }

    fn walk(&self, room: f64) -> Vec<(u32, u32)> {
        let wide = self.cells + 1;
        let mut c = self.grid.cells(room).min(self.cells);
        let mut counts = Vec::new();
        for j in 0..self.items.len() {
            let weight = self.grid.weight[self.items[j] as usize].max(1);
            let want = self.layers[j * wide + c];
            let rest = &self.layers[(j + 1) * wide..(j + 2) * wide];
            let most = (self.qty[j] as usize).min(c / weight);
            // The table entry came from one of these sums, so the nearest is the right one (values are dyadic and
            // exact).
            let near = |x: usize| (rest[c - x * weight] + self.value[j] * x as f64 - want).abs();
            let x = (0..=most).min_by(|&a, &b| near(a).total_cmp(&near(b))).unwrap_or(0);
            if x > 0 {
                counts.push((self.items[j], x as u32));
                c -= x * weight;
            }
        }
        num::sort_by(&mut counts, Ord::cmp);
        counts
    }
}

/// Depth-first search over true lengths below the table's bound.
struct Dig<'a> {
    table: &'a KnapsackTable,
    model: &'a Model,
    best: f64,
    found: Option<Vec<(u32, u32)>>,
    chosen: Vec<u32>,
    nodes: usize,
}

impl Dig<'_> {
    fn at(&mut self, j: usize, room: f64, value: f64) {
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        if j == self.table.items.len() {
            if value > self.best {
                self.best = value;
                let mut counts: Vec<(u32, u32)> = self
                    .chosen
                    .iter()
                    .zip(&self.table.items)
                    .filter(|c| *c.0 > 0)
                    .map(|(&n, &i)| (i, n))
                    .collect();
                num::sort_by(&mut counts, Ord::cmp);
                self.found = Some(counts);
            }
            return;
        }
        let each = self.model.kinds[self.table.items[j] as usize].use_len;
        let most = if each > 0.0 {
            num::floor((room + WORKING / 2.0) / each).min(f64::from(self.table.qty[j])).max(0.0)
                as u32
        } else {
            self.table.qty[j]
        };
        for x in (0..=most).rev() {
            let left = room - each * f64::from(x);
            let with = value + self.table.value[j] * f64::from(x);
            if with + self.table.from(j + 1, left) > self.best {
                self.chosen[j] = x;
                self.at(j + 1, left, with);
            }
        }
        self.chosen[j] = 0;
    }
}

/// Takes in up to `q` of an item with this gain and weight: in bundles of 1, 2, 4 …, and one of what is left,
/// which make up every number to q.
fn up_to(
    best: &mut [f64],
    spare: &mut Vec<f64>,
    q: usize,
    (gain, weight): (f64, usize),
    budget: &mut Budget,
) {
    let wide = best.len();
    let (mut left, mut bundle) = (q, 1);
    while left > 0 {
        let x = bundle.min(left);
        left -= x;
        bundle *= 2;
        let gain = gain * x as f64;
        let shift = x * weight;
        if shift >= wide {
            continue;
        }
        spare.clear();
        spare.extend_from_slice(&best[..wide - shift]);
        for (n, o) in best[shift..].iter_mut().zip(&*spare) {
            let with = o + gain;
            *n = if with > *n { with } else { *n };
        }
        budget.spend(wide / 2);
    }
}

/// A power of two, of which values are to be multiples: a 2^24th of the largest, or a little more.
pub fn unit(values: &[f64]) -> f64 {
    let top = values.iter().copied().fold(0.0, f64::max);
    if !(top > 0.0 && top.is_finite()) {
        return f64::INFINITY;
    }
    let mut unit = 1.0f64;
    while unit < top {
        unit *= 2.0;
    }
    while unit > 2.0 * top {
        unit /= 2.0;
    }
    unit / 16_777_216.0
}
