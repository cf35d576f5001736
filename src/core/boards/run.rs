//! The search of one job, phase by phase: first plans, the fractional plan, the price, fewer boards,
//! a larger leftover.

use super::counts::{self, Next, Wanted};
use super::greedy::Chosen;
use super::instance::{CutBoard, Instance, WORKING};
use super::job::{Bin, Job, Pattern};
use super::knapsack::Work;
use super::leftover::Leftovers;
use super::planner::BUDGET;
use super::pricing::{Cut, Pricer};
use super::search::{Depth, Search, Verdict};
use super::simplex::{self, Solved, Task};
use super::tableau::Pool;
use super::verify::verify;
use crate::num::Gather;
use std::rc::Rc;

/// Most kinds of parts for which patterns are priced; above it plans come from filling and exchanging.
const MOST_KINDS: usize = 420;
/// Most board kinds that the search tells apart.
const MOST_STOCK: usize = 40;
/// Steps at most for the second and third aim.
const AFTERWARDS: i64 = 400_000_000;
/// Kinds up to which the fractional plan is looked for in slices, and steps of the first.
const SLICED: usize = 60;
const SLICE: i64 = 12_000_000;
/// Nodes of the search for chains when numbers of boards are first gone back to.
const PATIENCE: usize = 100_000;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Phase {
    First,
    Root,
    Price,
    Harder,
    Fewer,
    Leftover,
}

/// The search of one job.
pub(super) struct Run {
    pub job: Rc<Job>,
    pub search: Search,
    pub bins: Vec<Bin>,
    pub cuts: Vec<Cut>,
    pub best: Option<Found>,
    pub work: Work,
    pub phase: Phase,
    round: u64,
    pub bound: i128,
    /// Numbers of boards that could be neither filled nor ruled out.
    tried: Vec<Vec<u32>>,
    refuted: Vec<Vec<u32>>,
    pub price_proven: bool,
    pub fewest_proven: bool,
    pub leftover_proven: bool,
    leftovers: Leftovers,
    /// Proven that there is no plan.
    pub hopeless: bool,
    /// Neither a plan nor a proof, and nothing left to try.
    pub stuck: bool,
    extended: bool,
    /// Whether the rough fractional plan and its dive are behind us.
    dived: bool,
    /// Slices of the fractional plan so far.
    slices: u32,
}

/// A verified plan and what is compared about it.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub cut: Vec<CutBoard>,
    pub price: i128,
    pub leftover: f64,
}

impl Found {
    fn better_than(&self, other: &Found) -> bool {
        let key = |f: &Found| (f.price, f.cut.len());
        key(self) < key(other)
            || (key(self) == key(other) && self.leftover > other.leftover + WORKING)
    }
}

impl Run {
    pub fn new(job: Rc<Job>) -> Run {
        let bins: Vec<Bin> = job.stock.iter().map(|s| s.bin).gather();
        Run {
            search: Search { pricer: Pricer::new(Rc::clone(&job)), pool: Pool::default() },
            job,
            bins,
            cuts: Vec::new(),
            best: None,
            work: Work::new(BUDGET),
            phase: Phase::First,
            round: 0,
            bound: 0,
            tried: Vec::new(),
            refuted: Vec::new(),
            price_proven: false,
            fewest_proven: false,
            leftover_proven: false,
            leftovers: Leftovers::default(),
            hopeless: false,
            stuck: false,
            extended: false,
            dived: false,
            slices: 0,
        }
    }

    /// Whether the search over patterns is worth while at this size.
    pub fn priced(&self) -> bool {
        self.job.kinds.len() <= MOST_KINDS && self.job.stock.len() <= MOST_STOCK
    }

    /// More budget, once, for a job that has neither a plan nor a proof that there is none.
    pub fn second_wind(&mut self) -> bool {
        let more = !self.hopeless && !self.stuck && !self.extended;
        if more {
            self.extended = true;
            self.work.left = 4 * BUDGET;
        }
        more
    }

    /// One unit of work; true when there is nothing left to do.
    pub fn step(&mut self, instance: &Instance) -> bool {
        match self.phase {
            Phase::First => self.first(instance),
            Phase::Root => self.root(instance),
            Phase::Price => self.price(instance),
            Phase::Harder => self.harder(instance),
            Phase::Fewer => self.fewer(instance),
            Phase::Leftover => return self.leftover(instance),
        }
        self.hopeless || self.stuck
    }

    /// Takes a plan if it is sound and better than the best so far.
    pub fn accept(&mut self, instance: &Instance, chosen: Vec<Chosen>) -> bool {
        let listed: Vec<(usize, &Pattern)> = chosen.iter().map(|c| (c.0, &c.1)).gather();
        let cut = self.job.realised(instance, &listed);
        let Ok(facts) = verify(instance, &cut) else {
            return false;
        };
        let price = chosen
            .iter()
            .filter(|c| !c.1.counts.is_empty())
            .map(|c| self.job.stock[c.0].price)
            .sum();
        let found = Found { cut, price, leftover: facts.leftover };
        if self.best.as_ref().is_none_or(|b| found.better_than(b)) {
            self.best = Some(found);
            true
        } else {
            false
        }
    }

    pub fn costs(&self) -> Vec<f64> {
        let top = self.job.stock.iter().map(|s| s.price).max().unwrap_or(1).max(1) as f64;
        self.job.stock.iter().map(|s| s.price as f64 / top).gather()
    }

    pub fn limits(&self) -> Vec<u32> {
        self.job.stock.iter().map(|s| s.limit).gather()
    }

    /// The cheapest fractional plan, roughly at first, with a dive; then its inequality.
    fn root(&mut self, instance: &Instance) {
        self.phase = Phase::Price;
        if !self.priced() {
            return;
        }
        let rough = self.job.mitered && !self.dived;
        if rough {
            self.phase = Phase::Root;
        }
        let (have, cost, want) = (self.limits(), self.costs(), self.job.demand());
        let bins = self.bins.clone();
        // An inequality is enough if with the others it leaves nothing cheaper than the best plan.
        let (job, below) = (Rc::clone(&self.job), self.best.as_ref().map(|b| b.price));
        let (known, refuted) = (self.cuts.clone(), self.refuted.clone());
        let enough = move |cut: &Cut| {
            below.is_some_and(|below| {
                let mut cuts = known.clone();
                cuts.push(cut.clone());
                let wanted = Wanted {
                    stock: &job.stock,
                    cuts: &cuts,
                    tried: &[],
                    refuted: &refuted,
                    from: 0,
                    below,
                    fewer_than: None,
                };
                matches!(counts::next(&wanted, 20_000), Next::Nothing)
            })
        };
        let task = Task {
            want: &want,
            bins: &bins,
            have: &have,
            cost: &cost,
            feasibility: false,
            thorough: !rough,
            enough: if rough { None } else { Some(&enough) },
            seed: 0,
        };
        let mut last = None;
        // Small jobs in slices, each longer than the one before; the patterns found are kept.
        let whole = self.work.left;
        if self.job.kinds.len() <= SLICED {
            self.work.left = whole.min(SLICE << self.slices);
        }
        let lent = self.work.left;
        let solved = simplex::solve(
            &mut self.search.pricer,
            &mut self.search.pool,
            &task,
            &mut last,
            &mut self.work,
        );
        let sliced =
            lent < whole && self.work.over() && last.is_none() && matches!(solved, Solved::Unknown);
        self.work.left += whole - lent;
        if sliced {
            self.slices = (self.slices + 1).min(30);
            self.phase = Phase::Root;
            return;
        }
        self.slices = 0;
        self.dived = true;
        self.cuts.extend(last);
        match solved {
            Solved::Short(cut) => self.cuts.push(cut),
            Solved::Solution(..) => {
                // A dive pays where the plan at hand is not already as cheap as can be.
                let cheapest = match self.next(0, None) {
                    Next::Found(n) => n.price,
                    _ => 0,
                };
                if self.best.as_ref().is_none_or(|b| b.price > cheapest) {
                    let depth =
                        Depth { width: 1, dead_ends: 2, tail_nodes: 200, nodes: 0, seed: 0 };
                    let found = self.search.dive(
                        &want,
                        &have,
                        &bins,
                        &cost,
                        &self.cuts,
                        depth,
                        &mut self.work,
                    );
                    if let Some(plan) = found {
                        self.accept(instance, plan);
                    }
                }
            }
            Solved::Unknown => {}
        }
    }

    pub fn next(&mut self, from: i128, fewer_than: Option<u32>) -> Next {
        let below = match (&self.best, fewer_than) {
            (_, Some(_)) => from + 1,
            (Some(b), None) => b.price,
            (None, None) => i128::MAX / 4,
        };
        self.work.spend(20_000);
        counts::next(
            &Wanted {
                stock: &self.job.stock,
                cuts: &self.cuts,
                tried: &self.tried,
                refuted: &self.refuted,
                from,
                below,
                fewer_than,
            },
            200_000,
        )
    }

    /// The next cheapest numbers of boards: fill them or rule them out.
    fn price(&mut self, instance: &Instance) {
        let open = !self.tried.is_empty();
        match self.next(self.bound, None) {
            Next::Found(n) => {
                if !open {
                    self.bound = self.bound.max(n.price);
                }
                if !self.priced() {
                    self.phase = Phase::Fewer;
                    return;
                }
                let depth = Depth { width: 2, dead_ends: 4, tail_nodes: 400, nodes: 600, seed: 0 };
                self.judge(instance, &n.boards, depth);
                if self.tried.len() > 60 {
                    self.phase = Phase::Harder;
                }
            }
            Next::Nothing if open => self.phase = Phase::Harder,
            Next::Nothing => match &self.best {
                Some(b) => {
                    self.bound = b.price;
                    self.price_proven = true;
                    self.phase = Phase::Fewer;
                }
                None => self.hopeless = true,
            },
            Next::Unknown => self.phase = Phase::Fewer,
        }
    }

    /// Fills so many boards, or rules them out, or notes that neither was possible.
    fn judge(&mut self, instance: &Instance, boards: &[u32], depth: Depth) -> bool {
        let want = self.job.demand();
        let bins = self.bins.clone();
        match self.search.fit(&want, &bins, boards, &self.cuts, depth, &mut self.work) {
            Verdict::Packed(plan) => {
                if self.accept(instance, plan) {
                    return true;
                }
                self.tried.push(boards.to_vec());
            }
            Verdict::Short(cut) => self.cuts.push(cut),
            Verdict::Impossible => self.refuted.push(boards.to_vec()),
            Verdict::Unknown => self.tried.push(boards.to_vec()),
        }
        false
    }

    /// Goes back, with more effort each round, to the numbers that stayed open.
    fn harder(&mut self, instance: &Instance) {
        self.round += 1;
        let mut open = core::mem::take(&mut self.tried);
        let price = |n: &[u32]| -> i128 {
            n.iter().zip(&self.job.stock).map(|(&n, s)| i128::from(n) * s.price).sum()
        };
        crate::num::sort_by(&mut open, |a, b| price(a).cmp(&price(b)));
        open.retain(|n| self.best.as_ref().is_none_or(|b| price(n) < b.price));
        open.retain(|n| !self.cuts.iter().any(|c| c.refutes(n)));
        let Some(first) = open.first().cloned() else {
            self.phase = Phase::Price;
            return;
        };
        self.bound = self.bound.max(price(&first));
        self.tried = open.split_off(1);
        // Many different dives; the complete search grows until it has seen everything.
        let round = self.round as usize;
        let depth = Depth {
            width: 2 + round % 3,
            dead_ends: 4 + 2 * round,
            tail_nodes: 200 + 50 * round,
            nodes: 500 << (round / 2).min(3),
            seed: self.round,
        };
        // Proofs by fractions get two more chances, each with more patience.
        self.search.pricer.patience = if round < 3 { PATIENCE * round } else { 0 };
        self.judge(instance, &first, depth);
        self.search.pricer.patience = 0;
        if self.round > 400 && self.best.is_some() {
            self.phase = Phase::Fewer;
        }
    }

    /// Fewer boards at the same price.
    fn fewer(&mut self, instance: &Instance) {
        let Some(best) = &self.best else {
            self.stuck = true;
            return;
        };
        let (price, total) = (best.price, best.cut.len() as u32);
        if self.round < 1000 {
            // Entering: what stayed open before was about cheaper plans.
            self.round = 1000;
            self.tried.clear();
            // The price matters most: what is left of the budget goes to it.
            self.work.left = self.work.left.min(AFTERWARDS);
        }
        match self.next(price, Some(total)) {
            Next::Found(n) if self.priced() && self.tried.len() < 20 => {
                let depth = Depth { width: 2, dead_ends: 4, tail_nodes: 400, nodes: 2000, seed: 0 };
                self.judge(instance, &n.boards, depth);
            }
            Next::Nothing => {
                self.fewest_proven = self.tried.is_empty();
                self.phase = Phase::Leftover;
            }
            _ => self.phase = Phase::Leftover,
        }
    }

    /// A larger single leftover at the same price and number of boards.
    fn leftover(&mut self, instance: &Instance) -> bool {
        let mut state = core::mem::take(&mut self.leftovers);
        let done = state.step(self, instance);
        self.leftover_proven = done && state.proven();
        self.leftovers = state;
        done
    }
}
