//! Complete search for small remainders: every way of cutting the remaining parts from the remaining
//! boards, the longest part first, each board filled as far as possible.

use super::super::board_counts::{Inequality, worth};
use super::super::budget::Budget;
use super::super::outcome::WORKING;
use super::super::verdict::Verdict;
use super::greedy::Taken;
use super::model::{Bin, Lot, Model, Pattern};
use super::pricing::Pricer;
use offsquare_units::num;
use std::collections::BTreeSet;
use std::rc::Rc;

struct Exact<'a> {
    pricer: &'a mut Pricer,
    model: Rc<Model>,
    bins: &'a [Bin],
    /// Inequalities over these bins.
    known: Vec<&'a Inequality>,
    failed: BTreeSet<(Vec<u32>, Vec<u32>)>,
    nodes: usize,
    sound: bool,
    /// Steps spent on ordering parts since last counted.
    ordering: usize,
}

const PATTERNS: usize = 4_000;
/// Steps for each node.
const EACH: i64 = 10_000;

/// Searches through all plans for a lot, in so many nodes that cost no more than `EACH` on average.
pub fn search(
    pricer: &mut Pricer,
    lot: Lot,
    nodes: usize,
    budget: &mut Budget,
) -> Verdict<Vec<Taken>> {
    budget.lend(nodes as i64 * EACH, |budget| within(pricer, lot, nodes, budget)).0
}

fn within(
    pricer: &mut Pricer,
    Lot { want, bins, have, known, .. }: Lot,
    nodes: usize,
    budget: &mut Budget,
) -> Verdict<Vec<Taken>> {
    let mut near: Vec<&Inequality> = known.iter().filter(|c| c.most.len() == bins.len()).collect();
    let looseness = |c: &Inequality| {
        let (need, held) = (worth(&c.value, want), worth(&c.most, have));
        if need > 0.0 { (held - need) / need } else { f64::INFINITY }
    };
    num::sort_by(&mut near, |a, b| looseness(a).total_cmp(&looseness(b)));
    near.truncate(4);
    if let Some(main) = near.first() {
        let room = bins.iter().map(|&b| pricer.model.capacity(b)).fold(0.0, f64::max);
        pricer.table.fill(&pricer.model, &main.value, want, room, budget);
    }
    let mut exact = Exact {
        model: Rc::clone(&pricer.model),
        pricer,
        bins,
        known: near,
        failed: BTreeSet::new(),
        nodes,
        sound: true,
        ordering: 0,
    };
    let found = exact.place(want, have, budget);
    match found {
        Some(plan) => Verdict::Found(plan),
        None if exact.sound && exact.nodes > 0 && !budget.over() => Verdict::Impossible,
        None => Verdict::Unknown,
    }
}

/// The state of one enumeration of patterns.
struct Listing<'w> {
    want: &'w [u32],
    order: Vec<u32>,
    tabled: usize,
    bin: usize,
    /// The least value that the main inequality requires.
    need: f64,
    counts: Vec<u32>,
    out: Vec<Pattern>,
    steps: usize,
    /// Steps on ordering after which the list is left unfinished.
    patience: usize,
    cut_short: bool,
}

impl Exact<'_> {
    fn place(&mut self, want: &[u32], have: &[u32], budget: &mut Budget) -> Option<Vec<Taken>> {
        let Some(first) = want.iter().position(|&w| w > 0) else {
            return Some(Vec::new());
        };
        if self.nodes == 0 || budget.over() {
            return None;
        }
        self.nodes -= 1;
        let mut slack = f64::INFINITY;
        for (c, inequality) in self.known.iter().enumerate() {
            let spare = worth(&inequality.most, have) - worth(&inequality.value, want);
            if spare < -1e-9 * inequality.need {
                return None;
            }
            if c == 0 {
                slack = spare;
            }
        }
        let key = (want.to_vec(), have.to_vec());
        if self.failed.contains(&key) {
            return None;
        }
        budget.spend(want.len() * 12 + 200);
        let mut options: Vec<(f64, usize, Pattern)> = Vec::new();
        for b in 0..self.bins.len() {
            if have[b] == 0 {
                continue;
            }
            for p in self.list(first as u32, b, want, slack, budget) {
                let loss = self.bins[b].room - p.extent;
                options.push((loss, b, p));
            }
        }
        num::sort_by(&mut options, |a, b| {
            a.0.total_cmp(&b.0).then_with(|| a.2.counts.cmp(&b.2.counts)).then(a.1.cmp(&b.1))
        });
        for (_, b, p) in options {
            let mut want = want.to_vec();
            for &(k, n) in &p.counts {
                want[k as usize] -= n;
            }
            let mut have = have.to_vec();
            have[b] -= 1;
            if let Some(mut rest) = self.place(&want, &have, budget) {
                rest.push((b, p));
                return Some(rest);
            }
            if self.nodes == 0 || budget.over() {
                return None;
            }
        }
        if self.failed.len() < 200_000 {
            self.failed.insert(key);
        }
        None
    }

    /// All fullest patterns on a bin that hold the part `first`.
    fn list(
        &mut self,
        first: u32,
        bin: usize,
        want: &[u32],
        slack: f64,
        budget: &mut Budget,
    ) -> Vec<Pattern> {
        let model = Rc::clone(&self.model);
        let mut order: Vec<u32> = Vec::new();
        let mut need = f64::NEG_INFINITY;
        if let Some(main) = self.known.first() {
            order.extend(self.pricer.table.items.iter().filter(|&&i| main.value[i as usize] > 0.0));
            need = main.most[bin] - slack - 1e-9 * main.need;
        }
        let tabled = order.len();
        order.extend(
            (0..model.kinds.len() as u32)
                .filter(|i| want[*i as usize] > 0 && !order[..tabled].contains(i))
                .collect::<Vec<_>>(),
        );
        let mut listing = Listing {
            order,
            tabled,
            bin,
            need,
            counts: vec![0; model.kinds.len()],
            out: Vec::new(),
            steps: 0,
            patience: budget.left.max(0) as usize,
            cut_short: false,
            want,
        };
        listing.counts[first as usize] = 1;
        let kind = &model.kinds[first as usize];
        let value = self.known.first().map_or(0.0, |c| c.value[first as usize]);
        let room = model.capacity(self.bins[bin]) - kind.use_len;
        if room >= 0.0 && self.feasible(&listing) {
            self.extend(&mut listing, 0, room, value);
        }
        budget.spend(listing.steps * 30 + core::mem::take(&mut self.ordering));
        self.sound &= !listing.cut_short;
        listing.out
    }

    fn extend(&mut self, l: &mut Listing, j: usize, room: f64, value: f64) {
        l.steps += 1;
        if l.out.len() >= PATTERNS || l.steps >= PATTERNS * 10 || self.ordering > l.patience {
            l.cut_short = true;
            return;
        }
        let rest = if j < l.tabled { self.pricer.table.from(j, room) } else { 0.0 };
        if value + rest < l.need {
            return;
        }
        let model = Rc::clone(&self.model);
        if j == l.order.len() {
            if self.fullest(l, room) {
                let counts = packed(&l.counts);
                l.out.extend(self.pattern(counts, l.bin));
            }
            return;
        }
        let k = l.order[j];
        let base = l.counts[k as usize];
        let kind = &model.kinds[k as usize];
        let mut most = l.want[k as usize].saturating_sub(base);
        if kind.use_len > 0.0 {
            most = most.min(num::floor((room + WORKING / 2.0) / kind.use_len).max(0.0) as u32);
        }
        let each = self.known.first().map_or(0.0, |c| c.value[k as usize]);
        for x in (0..=most).rev() {
            l.counts[k as usize] = base + x;
            if x > 0 && !self.feasible(l) {
                continue;
            }
            let n = f64::from(x);
            self.extend(l, j + 1, room - kind.use_len * n, value + each * n);
        }
        l.counts[k as usize] = base;
    }

    /// Whether no further part would go in.
    fn fullest(&mut self, l: &mut Listing, room: f64) -> bool {
        let model = Rc::clone(&self.model);
        for k in 0..model.kinds.len() {
            if l.counts[k] < l.want[k] && model.kinds[k].use_len <= room {
                if !model.mitered {
                    return false;
                }
                l.counts[k] += 1;
                let more = self.feasible(l);
                l.counts[k] -= 1;
                if more {
                    return false;
                }
            }
        }
        true
    }

    fn feasible(&mut self, l: &Listing) -> bool {
        !self.model.mitered || self.pattern(packed(&l.counts), l.bin).is_some()
    }

    /// The parts in an order that fits, if they do.
    fn pattern(&mut self, counts: Vec<(u32, u32)>, bin: usize) -> Option<Pattern> {
        if !self.model.mitered {
            return Some(self.model.square_pattern(counts));
        }
        let bin = self.bins[bin];
        let joints = &mut self.pricer.joints;
        match joints.fit(&self.model, &counts, bin, &mut self.ordering) {
            Verdict::Found(p) => Some(p),
            Verdict::Impossible => None,
            Verdict::Unknown => {
                self.sound = false;
                None
            }
        }
    }
}

fn packed(counts: &[u32]) -> Vec<(u32, u32)> {
    counts.iter().enumerate().filter(|c| *c.1 > 0).map(|(k, &n)| (k as u32, n)).collect()
}
