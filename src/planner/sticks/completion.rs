//! A completion bound: the most value that can still follow on a board with mitered ends, and a search for
//! chains of parts guided by it.
//!
//! The least distance of two ends is the sum of their additive parts and an excess,
//! `e(u, v) = (|o(u) - o(v)| + |S(u) - S(v)|) / 2` with o the signed skew and S the kerf along the board: a
//! distance on a line for ends that lean to one side. So the most that further parts can be worth, given
//! the open end's point and the length left, follows from a table over points and whole cells, in
//! which the number of parts of a kind is not limited. Cells are rounded so that the bound holds.
//!
//! If the table uses a kind more often than it is wanted, a multiplier is taken off the worth of each such
//! part and added back once for every part wanted (Lagrangian relaxation of the numbers wanted; Held and
//! Karp 1971, from memory). Any multipliers of 0 or more give a bound.

use super::super::budget::{Budget, mixed};
use super::super::outcome::WORKING;
use super::knapsack::{KnapsackTable, unit};
use super::model::{Bin, Model};
use offsquare_units::num;

#[derive(Clone, Copy)]
struct Step {
    enter: usize,
    exit: usize,
    cells: usize,
    value: f64,
}

/// The table: `most[v * wide + c]` is the most that can follow an open end at point v within c cells.
#[derive(Default)]
pub struct CompletionTable {
    points: usize,
    cells: usize,
    cell: f64,
    /// One row for each point, then one for each side of square with the best of its points, measured at square.
    most: Vec<f64>,
    steps: Vec<Step>,
    usable: bool,
    /// Multiplier of each of the table's items.
    toll: Vec<f64>,
    /// The multipliers added up over all parts wanted.
    credit: f64,
    /// Multipliers by kind as they were last found.
    known: Vec<f64>,
}

/// The most cells filled at a time, so that rows stay in the processor's cache.
const BLOCK: usize = 128;
/// How often the table is filled in search of multipliers.
const ROUNDS: usize = 8;

/// Raises `most[to..to + n]` to `most[from..from + n]` and `add`; the two do not overlap.
fn raise(most: &mut [f64], to: usize, from: usize, n: usize, add: f64) {
    let (here, there) = if from < to {
        let (low, high) = most.split_at_mut(to);
        (&mut high[..n], &low[from..from + n])
    } else {
        let (low, high) = most.split_at_mut(from);
        (&mut low[to..to + n], &high[..n])
    };
    for (h, t) in here.iter_mut().zip(there) {
        let with = t + add;
        // Stored either way, so that the loop has no branches.
        *h = if with > *h { with } else { *h };
    }
}

impl CompletionTable {
    /// Fills the table for the kinds and values of `table` on boards of up to `room` (in additive
    /// length) with about so many cells.
    pub fn fill(
        &mut self,
        model: &Model,
        table: &KnapsackTable,
        room: f64,
        cells: usize,
        budget: &mut Budget,
    ) {
        let n = model.points.len();
        self.points = n;
        self.cell = (room / cells as f64).max(f64::MIN_POSITIVE);
        self.cells = self.cells_of(room);
        let cell = self.cell;
        // A cast rounds toward zero.
        let whole = |x: f64| (x / cell - 1e-9).max(0.0) as usize;
        self.steps.clear();
        for (j, &kind) in table.items.iter().enumerate() {
            let k = kind as usize;
            let value = self.eased(table, j);
            let length = whole(model.kinds[k].use_len);
            for m in &model.moves[model.first[k]..model.first[k + 1]] {
                self.steps.push(Step {
                    enter: m.enter as usize,
                    exit: m.exit as usize,
                    cells: length,
                    value,
                });
            }
        }
        let shortest = self.steps.iter().map(|s| s.cells).min().unwrap_or(1);
        self.usable = shortest > 0;
        if !self.usable {
            return;
        }
        // Points rise with their angle: those below zero, zero, those above.
        let zero = model.points.iter().take_while(|p| p.angle < 0.0).count();
        let has_zero = model.points.get(zero).is_some_and(|p| p.angle == 0.0);
        let above = zero + usize::from(has_zero);
        let hop: Vec<usize> = (1..n)
            .map(|i| {
                let (a, b) = (&model.points[i - 1], &model.points[i]);
                if a.angle < 0.0 && b.angle > 0.0 {
                    usize::MAX
                } else {
                    whole(((a.skew - b.skew).abs() + (a.kerf - b.kerf).abs()) / 2.0)
                }
            })
            .collect();
        let arm: Vec<usize> = model.points.iter().map(|p| whole(p.skew / 2.0)).collect();
        let wide = self.cells + 1;
        let sides = zero > 0 && above < n;
        let most = &mut self.most;
        most.clear();
        most.resize(wide * (n + 2), f64::NEG_INFINITY);
        for (row, point) in most.chunks_exact_mut(wide).zip(&model.points) {
            // Here the chain may end, with its last cut on the board or not.
            let tail = model.most_tail + point.kerf;
            let stop = whole(model.most.min(tail) - point.half).min(wide);
            row[stop..].fill(0.0);
        }
        // No part is shorter than a block, so a block builds on the ones before it alone.
        for from in (0..wide).step_by(shortest.min(BLOCK)) {
            let to = (from + shortest.min(BLOCK)).min(wide);
            // From row `b`, so many cells back, to row `a`.
            let mut draw = |a: usize, b: usize, back: usize, add: f64| {
                let first = from.max(back);
                if first < to {
                    raise(most, a * wide + first, b * wide + first - back, to - first, add);
                }
            };
            for s in &self.steps {
                draw(s.enter, s.exit, s.cells, s.value);
            }
            for i in 1..n {
                draw(i, i - 1, hop[i - 1], 0.0);
            }
            for i in (1..n).rev() {
                draw(i - 1, i, hop[i - 1], 0.0);
            }
            if sides {
                let side = |v: usize| n + usize::from(v >= above);
                for v in (0..zero).chain(above..n) {
                    draw(side(v), v, arm[v], 0.0);
                }
                for v in (0..zero).chain(above..n) {
                    draw(v, 2 * n + 1 - side(v), arm[v], 0.0);
                }
            }
        }
        budget.spend(wide * (self.steps.len() + n * 4) / 2);
    }

    fn cells_of(&self, room: f64) -> usize {
        (room / self.cell + 1e-9).max(0.0) as usize
    }

    /// The most that parts following an open end at point `v` within `rest` can be worth.
    pub fn follow(&self, v: usize, rest: f64) -> f64 {
        if rest < 0.0 {
            return f64::NEG_INFINITY;
        }
        if !self.usable {
            return f64::INFINITY;
        }
        self.most[v * (self.cells + 1) + self.cells_of(rest).min(self.cells)]
    }

    /// The most that a bin can hold.
    pub fn upper(&self, model: &Model, bin: Bin) -> f64 {
        let room = model.capacity(bin);
        self.credit
            + (0..self.points)
                .map(|u| self.follow(u, room - (model.most - model.points[u].half)))
                .fold(0.0, f64::max)
    }

    /// No multipliers: before the first filling for a table.
    pub fn plain(&mut self, table: &KnapsackTable) {
        self.toll.clear();
        self.toll.resize(table.items.len(), 0.0);
        self.credit = 0.0;
    }

    /// What a part of item `j` is worth in this table, after its multiplier.
    pub fn eased(&self, table: &KnapsackTable, j: usize) -> f64 {
        table.value[j] - self.toll[j]
    }

    /// The most that a chain can come to if its parts so far are worth `eased` and it continues from point `v`
    /// within `rest`.
    pub fn reach(&self, eased: f64, v: usize, rest: f64) -> f64 {
        self.credit + eased + self.follow(v, rest).max(0.0)
    }

    /// Looks for multipliers that bring the bounds of the bins down to `above`; the bounds found on the way
    /// go into `upper`. The table is to be filled again then.
    #[allow(clippy::too_many_arguments)]
    pub fn settle(
        &mut self,
        model: &Model,
        table: &KnapsackTable,
        room: f64,
        bins: &[Bin],
        above: &[f64],
        upper: &mut [f64],
        budget: &mut Budget,
    ) {
        let cells = self.cells;
        let mut best = (f64::INFINITY, self.toll.clone(), self.credit);
        let mut pace = 1.0;
        for round in 0..=ROUNDS {
            // The bin whose bound is furthest above the worth asked for.
            let mut worst = (0.0, None);
            for (b, &bin) in bins.iter().enumerate() {
                if above[b] == f64::MAX || upper[b] <= above[b] {
                    continue;
                }
                let here = self.upper(model, bin);
                upper[b] = upper[b].min(here * (1.0 + 1e-12));
                if here / above[b] > worst.0 {
                    worst = (here / above[b], Some(b));
                }
            }
            if worst.0 < best.0 {
                best = (worst.0, self.toll.clone(), self.credit);
            } else {
                pace /= 2.0;
            }
            let Some(b) = worst.1.filter(|&b| round < ROUNDS && upper[b] > above[b]) else {
                break;
            };
            if !self.ease(model, table, bins[b], above[b], pace) {
                break;
            }
            if round == 0 && self.known.iter().any(|k| *k > 0.0) {
                // The multipliers of the last pricing may do well again.
                for (toll, &k) in self.toll.iter_mut().zip(&table.items) {
                    *toll = self.known[k as usize];
                }
            }
            self.charge(table);
            self.fill(model, table, room, cells, budget);
        }
        (_, self.toll, self.credit) = best;
        self.known.clear();
        self.known.resize(model.kinds.len(), 0.0);
        for (j, &k) in table.items.iter().enumerate() {
            self.known[k as usize] = self.toll[j];
        }
    }

    /// Raises the multipliers of kinds that the best chain on a bin uses too often, aiming at a bound of
    /// `above`; false if it uses none too often. Call `charge` next and fill the table again.
    pub fn ease(
        &mut self,
        model: &Model,
        table: &KnapsackTable,
        bin: Bin,
        above: f64,
        pace: f64,
    ) -> bool {
        if !self.usable {
            return false;
        }
        let mut held = vec![0.0; table.items.len()];
        let mut rest = model.capacity(bin) - model.most;
        let mut open: Option<u16> = None;
        loop {
            let mut best = (0.0, None);
            for (j, &k) in table.items.iter().enumerate() {
                for m in &model.moves[model.first[k as usize]..model.first[k as usize + 1]] {
                    let exit = &model.points[m.exit as usize];
                    let behind = open
                        .map_or(0.0, |o| model.joint(o, m.enter) - model.points[o as usize].half);
                    let left = rest - behind - model.kinds[k as usize].len - exit.half;
                    let worth = self.eased(table, j) + self.follow(m.exit as usize, left);
                    if worth > best.0 {
                        best = (worth, Some((j, m.exit, left)));
                    }
                }
            }
            let Some((j, exit, left)) = best.1 else {
                break;
            };
            held[j] += 1.0;
            (open, rest) = (Some(exit), left);
        }
        let over = |j: usize| {
            let over = held[j] - f64::from(table.qty[j]);
            if over > 0.0 || self.toll[j] > 0.0 { over } else { 0.0 }
        };
        let slope: Vec<f64> = (0..held.len()).map(over).collect();
        if slope.iter().all(|&o| o <= 0.0) {
            return false;
        }
        let square: f64 = slope.iter().map(|o| o * o).sum();
        let step = pace * (self.upper(model, bin) - above) / square;
        for (j, o) in slope.iter().enumerate() {
            self.toll[j] += step * o;
        }
        true
    }

    /// Limits the multipliers to their range and adds them up over all parts wanted.
    fn charge(&mut self, table: &KnapsackTable) {
        // In multiples of the values' own unit, so that sums stay exact.
        let step = unit(&table.value);
        self.credit = 0.0;
        for (j, toll) in self.toll.iter_mut().enumerate() {
            *toll = num::floor(toll.clamp(0.0, table.value[j]) / step) * step;
            self.credit += *toll * f64::from(table.qty[j]);
        }
    }
}

/// A depth-first search, guided by the bounds, for chains worth more than a given value.
pub struct Probe<'a> {
    pub model: &'a Model,
    pub completion: &'a CompletionTable,
    pub table: &'a KnapsackTable,
    pub bin: Bin,
    /// Worth of the best chain so far (or the worth asked for).
    pub best: f64,
    /// Moves of the chains found, each worth more than the one before.
    pub found: Vec<Vec<u32>>,
    pub nodes: usize,
    pub spent: usize,
    held: Vec<u32>,
    chain: Vec<u32>,
    slots: Vec<(u32, usize)>,
    /// Open addressing over sets of parts and the point they end at: how far the shortest such chain reaches.
    seen: Vec<(u64, f64)>,
}

impl<'a> Probe<'a> {
    pub fn new(
        model: &'a Model,
        completion: &'a CompletionTable,
        table: &'a KnapsackTable,
        bin: Bin,
        above: f64,
        nodes: usize,
    ) -> Probe<'a> {
        let slots = table
            .items
            .iter()
            .enumerate()
            .flat_map(|(j, &k)| {
                (model.first[k as usize]..model.first[k as usize + 1]).map(move |m| (m as u32, j))
            })
            .collect();
        Probe {
            model,
            completion,
            table,
            bin,
            best: above,
            found: Vec::new(),
            nodes,
            spent: 0,
            held: vec![0; table.items.len()],
            chain: Vec::new(),
            slots,
            seen: vec![(0, f64::INFINITY); (2 * nodes).next_power_of_two()],
        }
    }

    /// Whether a chain of the same parts that ends at the same point and is no longer has been followed;
    /// if not, this one is noted.
    fn known(&mut self, key: u64, reach: f64) -> bool {
        let mask = self.seen.len() - 1;
        let mut at = key as usize & mask;
        while self.seen[at].1 < f64::INFINITY && self.seen[at].0 != key {
            at = (at + 1) & mask;
        }
        let known = self.seen[at].1 <= reach;
        if !known {
            self.seen[at] = (key, reach);
        }
        known
    }

    /// Searches; true if nothing worth more than `best` can have been overlooked.
    pub fn run(&mut self) -> bool {
        self.at(None, 0.0, 0.0, 0.0, 0);
        self.nodes > 0
    }

    fn at(&mut self, exit: Option<u16>, reach: f64, value: f64, eased: f64, set: u64) {
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        self.spent += self.slots.len();
        let model = self.model;
        let room = model.capacity(self.bin) - model.most;
        let limit = self.bin.room + WORKING;
        // What may come next, the most promising first.
        let mut next: Vec<(f64, f64, u32, usize)> = Vec::new();
        for &(m, j) in &self.slots {
            if self.held[j] >= self.table.qty[j] {
                continue;
            }
            let mv = model.moves[m as usize];
            let to = reach
                + model.kinds[mv.kind as usize].len
                + exit.map_or(0.0, |e| model.joint(e, mv.enter));
            if to > limit {
                continue;
            }
            let worth = value + self.table.value[j];
            let point = &model.points[mv.exit as usize];
            let rest = room - to - point.half;
            let mut bound = self.completion.reach(
                eased + self.completion.eased(self.table, j),
                mv.exit as usize,
                rest,
            );
            if bound > self.best {
                bound = bound.min(worth + self.table.upper(rest));
            }
            if bound > self.best {
                next.push((bound, to, m, j));
            }
        }
        num::sort_by(&mut next, |a, b| {
            b.0.total_cmp(&a.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2))
        });
        for (bound, to, m, j) in next {
            if bound <= self.best {
                break;
            }
            let worth = value + self.table.value[j];
            let mv = model.moves[m as usize];
            let set = set.wrapping_add(mixed(j as u64 + 1));
            if self.known(set ^ mixed(u64::from(mv.exit) + 977), to) {
                continue;
            }
            self.chain.push(m);
            self.held[j] += 1;
            let tail = if self.bin.tail { model.points[mv.exit as usize].kerf } else { 0.0 };
            if worth > self.best && to + tail <= limit {
                self.best = worth;
                self.found.push(self.chain.clone());
            }
            let eased = eased + self.completion.eased(self.table, j);
            self.at(Some(mv.exit), to, worth, eased, set);
            self.held[j] -= 1;
            self.chain.pop();
            if self.nodes == 0 {
                return;
            }
        }
    }
}
