//! The shortest order of a few parts along a board: least sum of joints over all sequences, turns
//! and flips (sequencing trapezoids: Lewis and Holborn, IEEE Trans. Evolutionary Computation 21(3),
//! 2017; text read, venue and year from memory). Small sets are solved exactly by dynamic programming
//! over how many of each kind are placed and at which point the last part ends (Held and Karp 1962,
//! from memory); large ones by insertion, and then the answer is not claimed to be the shortest.

use super::super::outcome::WORKING;
use super::super::verdict::Verdict;
use super::model::{Bin, Model, Pattern};
use offsquare_units::num::{self, Gather};
use std::collections::BTreeMap;

const STATES: usize = 20_000;

/// What has been found out about the excess of one set of parts, ends included.
struct Excess {
    /// None is below this.
    lower: f64,
    /// The order found has this.
    upper: f64,
    order: Vec<u32>,
    searched: bool,
}

/// Sets of parts that have been looked at.
#[derive(Default)]
pub struct Joints {
    known: BTreeMap<(Vec<(u32, u32)>, bool), Excess>,
}

const MOST_KNOWN: usize = 60_000;

impl Joints {
    /// Whether a set of parts, not all of them square, fits on a bin in some order; steps taken are added to `spent`.
    pub fn fit(
        &mut self,
        model: &Model,
        counts: &[(u32, u32)],
        bin: Bin,
        spent: &mut usize,
    ) -> Verdict<Pattern> {
        let used: f64 =
            counts.iter().map(|&(k, n)| model.kinds[k as usize].use_len * f64::from(n)).sum();
        let slack = model.capacity(bin) - used;
        *spent += 60 + counts.len() * 4;
        if slack < 0.0 {
            return Verdict::Impossible;
        }
        if self.known.len() > MOST_KNOWN {
            self.known.clear();
        }
        *spent += 300;
        let entry = self.known.entry((counts.to_vec(), bin.tail)).or_insert_with(|| Excess {
            lower: if bin.tail { 0.0 } else { matched(model, counts) },
            upper: f64::INFINITY,
            order: Vec::new(),
            searched: false,
        });
        if entry.lower > slack {
            return Verdict::Impossible;
        }
        let excess = |p: &Pattern| {
            let need = if bin.tail { p.tailed } else { p.extent };
            need + model.spare(bin.tail) - used
        };
        if entry.order.is_empty() {
            let number: u32 = counts.iter().map(|c| c.1).sum();
            *spent += (number * number) as usize * 16;
            let quick = inserted(model, counts);
            entry.upper = excess(&quick);
            entry.order = quick.order;
        }
        if entry.upper > slack && !entry.searched {
            match exact(model, counts, slack, bin.tail, spent) {
                None => entry.searched = true,
                Some(None) => entry.lower = slack,
                Some(Some(p)) => {
                    entry.upper = excess(&p);
                    entry.lower = entry.upper - 4.0 * WORKING;
                    entry.order = p.order;
                }
            }
        }
        let pattern = model.pattern_of(entry.order.clone());
        if model.fits(&pattern, bin) {
            Verdict::Found(pattern)
        } else if entry.searched {
            Verdict::Unknown
        } else {
            Verdict::Impossible
        }
    }
}

/// No order of these parts has less excess: their ends paired on a line by size of angle, whatever part
/// they belong to, with two left over for the board's ends.
fn matched(model: &Model, counts: &[(u32, u32)]) -> f64 {
    let mut at: Vec<(f64, f64)> = Vec::new();
    for &(k, n) in counts {
        let m = model.moves[model.first[k as usize]];
        for p in [m.enter, m.exit] {
            let point = &model.points[p as usize];
            let end = ((point.skew + point.kerf) / 2.0, model.most - point.half);
            at.extend(core::iter::repeat_n(end, n as usize));
        }
    }
    num::sort_by(&mut at, |a, b| a.0.total_cmp(&b.0));
    // For each number left over so far: the least sum with no end open, and with one open (less its place).
    let mut closed = [0.0, f64::INFINITY, f64::INFINITY];
    let mut open = [f64::INFINITY; 3];
    for (place, alone) in at {
        let (was, pending) = (closed, open);
        for k in 0..3 {
            closed[k] = pending[k] + place;
            open[k] = was[k] - place;
            if k > 0 {
                closed[k] = closed[k].min(was[k - 1] + alone);
                open[k] = open[k].min(pending[k - 1] + alone);
            }
        }
    }
    closed[2] - WORKING
}

/// How many parts of each class are placed, and at which exit the last one ends: the least excess of each
/// such state, and how it is reached.
struct States {
    /// Class and how many of it.
    classes: Vec<(u32, usize)>,
    /// What one more part of a class adds to the number of a state.
    weight: Vec<usize>,
    /// Class (its place), point of entry and exit.
    moves: Vec<(usize, u16, u16)>,
    exits: Vec<u16>,
    states: usize,
    cost: Vec<f64>,
    /// Move, and exit before it.
    by: Vec<(u32, u32)>,
}

/// The best order whose excess (over the additive parts) is at most `slack`, by dynamic programming
/// over how many parts of each class are placed. None: too many states.
fn exact(
    model: &Model,
    counts: &[(u32, u32)],
    slack: f64,
    tail: bool,
    spent: &mut usize,
) -> Option<Option<Pattern>> {
    let limit = slack + WORKING;
    let mut states = States::of(model, counts)?;
    states.fill(model, limit, spent);
    let (full, e) = (states.states - 1, states.exits.len());
    let end = |x: usize| {
        let point = &model.points[states.exits[x] as usize];
        let last = if tail {
            model.most_tail - (point.half - point.kerf)
        } else {
            model.most - point.half
        };
        states.cost[full * e + x] + last
    };
    let last = (0..e).min_by(|&a, &b| end(a).total_cmp(&end(b)))?;
    if !(end(last) <= limit) {
        return Some(None);
    }
    Some(Some(model.pattern_of(states.back(model, counts, last)?)))
}

impl States {
    /// All states, none reached; nothing where there are too many.
    fn of(model: &Model, counts: &[(u32, u32)]) -> Option<States> {
        // Parts that lie alike are one class.
        let mut classes: Vec<(u32, usize)> = Vec::new();
        for &(kind, n) in counts {
            let class = model.class[kind as usize];
            match classes.iter_mut().find(|c| c.0 == class) {
                Some(c) => c.1 += n as usize,
                None => classes.push((class, n as usize)),
            }
        }
        let mut weight = vec![1usize; classes.len()];
        let mut states = 1usize;
        for (w, c) in weight.iter_mut().zip(&classes) {
            *w = states;
            states = states.saturating_mul(c.1 + 1);
        }
        let of = |(slot, &(class, _)): (usize, &(u32, usize))| {
            let moves = &model.moves[model.first[class as usize]..model.first[class as usize + 1]];
            moves.iter().map(move |m| (slot, m.enter, m.exit))
        };
        let moves: Vec<(usize, u16, u16)> = classes.iter().enumerate().flat_map(of).gather();
        let mut exits: Vec<u16> = moves.iter().map(|m| m.2).gather();
        num::sort_by(&mut exits, Ord::cmp);
        exits.dedup();
        let all = states.saturating_mul(exits.len());
        if states > STATES || all > 12 * STATES {
            return None;
        }
        let (cost, by) = (vec![f64::INFINITY; all], vec![(u32::MAX, u32::MAX); all]);
        Some(States { classes, weight, moves, exits, states, cost, by })
    }

    /// The least excess of every state, as far as it is at most `limit`.
    fn fill(&mut self, model: &Model, limit: f64, spent: &mut usize) {
        let (e, moves) = (self.exits.len(), &self.moves);
        let exit_of: Vec<usize> =
            moves.iter().map(|m| self.exits.binary_search(&m.2).unwrap_or(0)).gather();
        // Excess of going on with each move from each exit.
        let half = |p: u16| model.points[p as usize].half;
        let after = |&x: &u16| {
            moves.iter().map(move |m| (model.joint(x, m.1) - half(x) - half(m.1)).max(0.0))
        };
        let excess: Vec<f64> = self.exits.iter().flat_map(after).gather();
        *spent += self.states * e / 2 + 500;
        for (i, &(slot, enter, _)) in moves.iter().enumerate() {
            let at = self.weight[slot] * e + exit_of[i];
            let start = model.most - half(enter);
            if start < self.cost[at] && start <= limit {
                self.cost[at] = start;
                self.by[at] = (i as u32, u32::MAX);
            }
        }
        let mut held = vec![0usize; self.classes.len()];
        for state in 1..self.states {
            for (h, c) in held.iter_mut().zip(&self.classes) {
                if *h < c.1 {
                    *h += 1;
                    break;
                }
                *h = 0;
            }
            *spent += e + 4;
            for x in 0..e {
                let here = self.cost[state * e + x];
                if !here.is_finite() {
                    continue;
                }
                *spent += moves.len() * 2;
                for (i, &(slot, ..)) in moves.iter().enumerate() {
                    if held[slot] >= self.classes[slot].1 {
                        continue;
                    }
                    let with = here + excess[x * moves.len() + i];
                    let to = (state + self.weight[slot]) * e + exit_of[i];
                    if with < self.cost[to] && with <= limit {
                        self.cost[to] = with;
                        self.by[to] = (i as u32, x as u32);
                    }
                }
            }
        }
    }

    /// Walks back through the states from the last exit and assigns the kinds of each class.
    fn back(&self, model: &Model, counts: &[(u32, u32)], mut exit: usize) -> Option<Vec<u32>> {
        let mut left: Vec<(u32, u32)> = counts.to_vec();
        let mut state = self.states - 1;
        let mut order = Vec::new();
        while state > 0 {
            let (i, before) = self.by[state * self.exits.len() + exit];
            let &(slot, enter, leave) = self.moves.get(i as usize)?;
            let class = self.classes[slot].0;
            let kind = left.iter_mut().find(|l| l.1 > 0 && model.class[l.0 as usize] == class)?;
            kind.1 -= 1;
            let kind = kind.0 as usize;
            let m = (model.first[kind]..model.first[kind + 1])
                .find(|&m| model.moves[m].enter == enter && model.moves[m].exit == leave)?;
            order.push(m as u32);
            state -= self.weight[slot];
            exit = before as usize;
        }
        order.reverse();
        Some(order)
    }
}

/// Parts put in one by one, each where it adds least.
fn inserted(model: &Model, counts: &[(u32, u32)]) -> Pattern {
    let mut order: Vec<u32> = Vec::new();
    for &(kind, n) in counts {
        for _ in 0..n {
            let (_, at, m) = cheapest(model, &order, kind);
            order.insert(at, m);
        }
    }
    model.pattern_of(order)
}

/// Where one more part adds least to an order: what it adds, the place, the move.
pub fn cheapest(model: &Model, order: &[u32], kind: u32) -> (f64, usize, u32) {
    let len = model.kinds[kind as usize].len;
    let mut best = (f64::INFINITY, 0, model.first[kind as usize] as u32);
    for at in (0..=order.len()).rev() {
        let before = at.checked_sub(1).map(|i| model.moves[order[i] as usize].exit);
        let after = order.get(at).map(|&m| model.moves[m as usize].enter);
        let old = match (before, after) {
            (Some(u), Some(v)) => model.joint(u, v),
            _ => 0.0,
        };
        for m in model.first[kind as usize]..model.first[kind as usize + 1] {
            let mv = model.moves[m];
            let added = len
                + before.map_or(0.0, |u| model.joint(u, mv.enter))
                + after.map_or(0.0, |v| model.joint(mv.exit, v))
                - old;
            if added < best.0 - 1e-12 {
                best = (added, at, m as u32);
            }
        }
    }
    best
}
