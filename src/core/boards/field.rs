//! A quick bound on what may still follow on a board with mitered ends, and the chains that it
//! points to.
//!
//! The least distance of two ends is the sum of their additive parts and an excess,
//! `e(u, v) = (|o(u) - o(v)| + |S(u) - S(v)|) / 2` with o the signed skew and S the kerf along the board: a
//! distance on a line for ends that lean to one side. So the most that further parts can be worth, given
//! the open end's point and the length left, follows from a table over points and whole cells, in
//! which the number of parts of a kind is not limited. Cells are rounded so that the bound holds.

use super::instance::WORKING;
use super::job::{Bin, Job};
use super::knapsack::{Table, Work};

#[derive(Clone, Copy)]
struct Step {
    enter: usize,
    cells: usize,
    /// How far back in the table the entry lies that it leads to.
    back: usize,
    value: f64,
}

/// The table: `most[c * points + v]` is the most that can follow an open end at point v within c cells.
#[derive(Default)]
pub(super) struct Field {
    points: usize,
    cells: usize,
    cell: f64,
    most: Vec<f64>,
    hubs: Vec<[f64; 2]>,
    steps: Vec<Step>,
    usable: bool,
}

impl Field {
    /// Fills the table for the kinds and values of `table` on boards of up to `room` (in additive
    /// length) with about so many cells.
    pub fn fill(&mut self, job: &Job, table: &Table, room: f64, cells: usize, work: &mut Work) {
        let n = job.points.len();
        self.points = n;
        self.cell = (room / cells as f64).max(f64::MIN_POSITIVE);
        self.cells = self.cells_of(room);
        let cell = self.cell;
        // A cast rounds towards zero.
        let whole = |x: f64| (x / cell - 1e-9).max(0.0) as usize;
        self.steps.clear();
        for (&kind, &value) in table.items.iter().zip(&table.value) {
            let k = kind as usize;
            let length = whole(job.kinds[k].use_len);
            for m in &job.moves[job.first[k]..job.first[k + 1]] {
                self.steps.push(Step {
                    enter: m.enter as usize,
                    cells: length,
                    back: length * n - (m.exit as usize).min(length * n),
                    value,
                });
            }
        }
        self.usable = self.steps.iter().all(|s| s.cells > 0);
        if !self.usable {
            return;
        }
        // Points rise with their angle: those below zero, zero, those above.
        let zero = job.points.iter().take_while(|p| p.angle < 0.0).count();
        let has_zero = job.points.get(zero).is_some_and(|p| p.angle == 0.0);
        let above = zero + usize::from(has_zero);
        let hop: Vec<usize> = (1..n)
            .map(|i| {
                let (a, b) = (&job.points[i - 1], &job.points[i]);
                if a.angle < 0.0 && b.angle > 0.0 {
                    usize::MAX
                } else {
                    whole(((a.skew - b.skew).abs() + (a.kerf - b.kerf).abs()) / 2.0)
                }
            })
            .collect();
        let arm: Vec<usize> = job.points.iter().map(|p| whole(p.skew / 2.0)).collect();
        let stop: Vec<usize> = job
            .points
            .iter()
            .map(|p| whole(job.most - p.half))
            .collect();
        let wide = self.cells + 1;
        self.most.clear();
        self.most.resize(wide * n, f64::NEG_INFINITY);
        self.hubs.clear();
        self.hubs.resize(wide, [f64::NEG_INFINITY; 2]);
        for c in 0..wide {
            let (before, here) = self.most.split_at_mut(c * n);
            let here = &mut here[..n];
            for (v, h) in here.iter_mut().enumerate() {
                if stop[v] <= c {
                    *h = 0.0;
                }
            }
            let end = c * n;
            for s in &self.steps {
                if s.cells <= c {
                    let with = before[end - s.back] + s.value;
                    if with > here[s.enter] {
                        here[s.enter] = with;
                    }
                }
            }
            for i in 1..n {
                let h = hop[i - 1];
                if h <= c {
                    let from = if h == 0 {
                        here[i - 1]
                    } else {
                        before[(c - h) * n + i - 1]
                    };
                    here[i] = here[i].max(from);
                }
            }
            for i in (1..n).rev() {
                let h = hop[i - 1];
                if h <= c {
                    let from = if h == 0 {
                        here[i]
                    } else {
                        before[(c - h) * n + i]
                    };
                    here[i - 1] = here[i - 1].max(from);
                }
            }
            if zero == 0 || above == n {
                continue;
            }
            let mut hub = [f64::NEG_INFINITY; 2];
            for v in (0..zero).chain(above..n) {
                let a = arm[v];
                if a <= c {
                    let from = if a == 0 {
                        here[v]
                    } else {
                        before[(c - a) * n + v]
                    };
                    let side = usize::from(v >= above);
                    hub[side] = hub[side].max(from);
                }
            }
            self.hubs[c] = hub;
            for v in (0..zero).chain(above..n) {
                let a = arm[v];
                if a <= c {
                    let from = self.hubs[c - a][usize::from(v < zero)];
                    here[v] = here[v].max(from);
                }
            }
        }
        work.spend(wide * (self.steps.len() * 2 + n * 8));
    }

    fn cells_of(&self, room: f64) -> usize {
        (room / self.cell + 1e-9).max(0.0) as usize
    }

    /// The most that parts can be worth that follow an open end at point `v` within `rest`.
    pub fn follow(&self, v: usize, rest: f64) -> f64 {
        if rest < 0.0 {
            return f64::NEG_INFINITY;
        }
        if !self.usable {
            return f64::INFINITY;
        }
        self.most[self.cells_of(rest).min(self.cells) * self.points + v]
    }

    /// The most that a bin can hold.
    pub fn upper(&self, job: &Job, bin: Bin) -> f64 {
        let room = job.capacity(bin);
        (0..self.points)
            .map(|u| self.follow(u, room - (job.most - job.points[u].half)))
            .fold(0.0, f64::max)
    }
}

/// A depth-first search for chains worth more than asked, where the bounds point to.
pub(super) struct Probe<'a> {
    pub job: &'a Job,
    pub field: &'a Field,
    pub table: &'a Table,
    pub grid: &'a super::knapsack::Grid,
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
}

impl<'a> Probe<'a> {
    pub fn new(
        job: &'a Job,
        field: &'a Field,
        table: &'a Table,
        grid: &'a super::knapsack::Grid,
        bin: Bin,
        above: f64,
        nodes: usize,
    ) -> Probe<'a> {
        let slots = table
            .items
            .iter()
            .enumerate()
            .flat_map(|(j, &k)| {
                (job.first[k as usize]..job.first[k as usize + 1]).map(move |m| (m as u32, j))
            })
            .collect();
        Probe {
            job,
            field,
            table,
            grid,
            bin,
            best: above,
            found: Vec::new(),
            nodes,
            spent: 0,
            held: vec![0; table.items.len()],
            chain: Vec::new(),
            slots,
        }
    }

    /// Searches; true if nothing worth more than `best` can have been overlooked.
    pub fn run(&mut self) -> bool {
        self.at(None, 0.0, 0.0);
        self.nodes > 0
    }

    fn at(&mut self, exit: Option<u16>, reach: f64, value: f64) {
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        self.spent += self.slots.len();
        let job = self.job;
        let room = job.capacity(self.bin) - job.most;
        let limit = self.bin.room + WORKING;
        // What may come next, the most promising first.
        let mut next: Vec<(f64, f64, u32, usize)> = Vec::new();
        for &(m, j) in &self.slots {
            if self.held[j] >= self.table.qty[j] {
                continue;
            }
            let mv = job.moves[m as usize];
            let to = reach
                + job.kinds[mv.kind as usize].len
                + exit.map_or(0.0, |e| job.joint(e, mv.enter));
            if to > limit {
                continue;
            }
            let worth = value + self.table.value[j];
            let point = &job.points[mv.exit as usize];
            let rest = room - to - point.half;
            let follow = self.field.follow(mv.exit as usize, rest);
            let mut bound = worth + follow.max(0.0);
            if bound > self.best {
                bound = bound.min(worth + self.table.upper(self.grid, rest));
            }
            if bound > self.best {
                next.push((bound, to, m, j));
            }
        }
        crate::num::sort_by(&mut next, |a, b| {
            b.0.total_cmp(&a.0)
                .then(a.1.total_cmp(&b.1))
                .then(a.2.cmp(&b.2))
        });
        for (bound, to, m, j) in next {
            if bound <= self.best {
                break;
            }
            let worth = value + self.table.value[j];
            let mv = job.moves[m as usize];
            self.chain.push(m);
            self.held[j] += 1;
            let tail = if self.bin.tail {
                job.points[mv.exit as usize].kerf
            } else {
                0.0
            };
            if worth > self.best && to + tail <= limit {
                self.best = worth;
                self.found.push(self.chain.clone());
            }
            self.at(Some(mv.exit), to, worth);
            self.held[j] -= 1;
            self.chain.pop();
            if self.nodes == 0 {
                return;
            }
        }
    }
}
