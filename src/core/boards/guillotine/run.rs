//! The search of one job, in phases of small steps: first plans, inequalities, then numbers of boards from
//! the cheapest on, which are filled or ruled out.

use super::super::knapsack::Work;
use super::bounds::{self, Master, Pricer};
use super::corner::{self, Bin, RULES, Rule};
use super::dive::{Diving, Pool};
use super::exact::{Largest, Measure};
use super::instance::{CutBoard, Instance, Leftover};
use super::job::{Chosen, Job};
use super::judge::Judge;
use super::layout::realised;
use super::numbers::{self, Aim, Cut, Next};
use super::pack::{self, Dice};
use super::planner::BUDGET;
use super::steps;
use super::verify::verify;
use crate::num::Gather;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Phase {
    First,
    Simple,
    Root,
    Dive,
    Price,
    Harder,
    Fewer,
    Leftover,
}

/// Numbers of boards that are kept open at a time.
pub(super) const MOST_OPEN: usize = 40;

pub(super) struct Run {
    pub job: Job,
    pub best: Option<Found>,
    pub bound: i128,
    pub work: Work,
    pub phase: Phase,
    pub round: usize,
    pub cuts: Vec<Cut>,
    pub pricer: Option<Pricer>,
    pub master: Option<Master>,
    pub pool: Pool,
    /// A plan that is being made from the fractional problem.
    pub diving: Option<Diving>,
    /// Quick ways to cut have been looked for.
    pub enriched: bool,
    /// Values by which boards are judged in the complete search.
    pub measures: Vec<Measure>,
    /// A larger leftover has been looked for by trial.
    pub shrunk: bool,
    pub dice: Dice,
    /// Numbers of boards that could be neither filled nor ruled out.
    pub tried: Vec<Vec<u32>>,
    /// Numbers that have been looked at as nearly filled.
    pub squeezed: Vec<Vec<u32>>,
    /// Numbers that are being judged.
    pub judging: Option<Judge>,
    /// A larger leftover being looked for.
    pub largest: Option<(Vec<u32>, Largest)>,
    pub refuted: Vec<Vec<u32>>,
    pub price_proven: bool,
    pub fewest_proven: bool,
    pub leftover_proven: bool,
}

/// Jobs with more parts than this get plans between the best and the bound too.
pub(super) const LARGE: u32 = 40;

/// Steps for a plain plan.
const PLAIN: i64 = 150_000_000;

/// Steps of one unit of work, about.
pub(super) const UNIT: i64 = 15_000_000;

/// A verified plan and what is compared about it.
pub(super) struct Found {
    pub cut: Vec<CutBoard>,
    pub price: i128,
    pub leftover: Option<(usize, Leftover)>,
    /// Changes of the saw, counted in plain plans only.
    changes: usize,
    /// The patterns behind it.
    pub chosen: Chosen,
}

impl Found {
    pub fn area(&self) -> f64 {
        self.leftover.map_or(0.0, |l| l.1.area())
    }
}

impl Run {
    pub fn new(job: Job) -> Run {
        Run {
            job,
            best: None,
            bound: 0,
            work: Work::new(BUDGET),
            phase: Phase::First,
            round: 0,
            cuts: Vec::new(),
            pricer: None,
            master: None,
            pool: Vec::new(),
            diving: None,
            enriched: false,
            measures: Vec::new(),
            shrunk: false,
            dice: Dice::new(1),
            tried: Vec::new(),
            squeezed: Vec::new(),
            judging: None,
            largest: None,
            refuted: Vec::new(),
            price_proven: false,
            fewest_proven: false,
            leftover_proven: false,
        }
    }

    /// Whether every aim is proven.
    pub fn all_proven(&self) -> bool {
        self.price_proven && self.fewest_proven && self.leftover_proven
    }

    /// Whether it is certain that the supply is short.
    pub fn hopeless(&self) -> bool {
        self.best.is_none() && self.price_proven
    }

    /// One unit of work; true when there is nothing left to do.
    pub fn step(&mut self, instance: &Instance) -> bool {
        let mut over = false;
        match (self.judging.take(), self.phase) {
            (Some(judge), _) => self.judge_on(instance, judge),
            (None, Phase::First) => self.first(instance),
            (None, Phase::Simple) => self.simple(),
            (None, Phase::Root) => self.root(),
            (None, Phase::Dive) => self.dive(instance),
            (None, Phase::Price) => over = self.price(),
            (None, Phase::Harder) => self.harder(),
            (None, Phase::Fewer) => self.fewer(),
            (None, Phase::Leftover) => over = self.leftover(instance),
        }
        // A plain plan is no proof of anything.
        over || (self.job.plain && self.best.is_some() && self.spent() > PLAIN)
    }

    /// Steps taken so far.
    pub fn spent(&self) -> i64 {
        BUDGET - self.work.left
    }

    fn first(&mut self, instance: &Instance) {
        let rule = RULES[self.round % RULES.len()];
        let by = self.round / RULES.len();
        let order = pack::order(&self.job, by, &self.job.demand());
        for stock in 0..self.job.stock.len() {
            if let Some(plan) = self.first_fit(rule, &order, stock) {
                self.accept(instance, plan);
            }
            if self.best.is_some() && self.spent() > 150_000_000 {
                break;
            }
        }
        self.round += 1;
        if self.round >= RULES.len() * pack::ORDERS || self.spent() > 150_000_000 {
            self.phase = Phase::Simple;
            self.round = 0;
        }
    }

    /// Boards of one kind as far as they go, owned ones before them, others after them.
    fn first_fit(&mut self, rule: Rule, order: &[u32], first: usize) -> Option<Chosen> {
        let job = &self.job;
        let mut bins: Vec<Bin> = Vec::new();
        let mut left: Vec<u32> = job.stock.iter().map(|s| s.limit).gather();
        for &kind in order {
            if corner::put(job, &mut bins, kind, rule, &mut self.work).is_some() {
                continue;
            }
            let lies = &job.kinds[kind as usize].lies;
            let fits = |s: usize| lies.iter().any(|l| job.fits(l.len, l.wid, s));
            let free = (0..left.len()).filter(|&s| job.stock[s].price == 0);
            let next =
                free.chain([first]).chain(0..left.len()).find(|&s| left[s] > 0 && fits(s))?;
            left[next] -= 1;
            let at = bins.len();
            bins.push(Bin::new(job, next));
            corner::put(job, &mut bins[at..], kind, rule, &mut self.work)?;
        }
        Some(bins.iter().filter_map(|b| Some((b.stock, b.closed()?))).gather())
    }

    /// Inequalities that need no fractional problem, one after the other.
    fn simple(&mut self) {
        if self.cuts.is_empty() {
            self.cuts.push(bounds::area_cut(&self.job));
            if !self.job.plain {
                self.pricer = Pricer::new(&self.job, &mut self.work);
            }
        }
        if let Some(pricer) = &mut self.pricer {
            if !pricer.grow(&self.job, UNIT, &mut self.work) {
                return;
            }
            let values = bounds::simple_values(&self.job);
            // Where nothing is exact, each takes a while.
            let many = if pricer.sets.is_some() { values.len() } else { 1 };
            for value in values.iter().skip(self.round).take(many) {
                let (cut, _) = pricer.cut(&self.job, value, &mut self.work);
                if self.measures.is_empty() {
                    self.measures.push(Measure { value: value.clone(), most: cut.most.clone() });
                }
                if !self.cuts.contains(&cut) {
                    self.cuts.push(cut);
                }
            }
            self.round += many;
            if self.round < values.len() {
                return;
            }
        }
        self.raise();
        self.phase = Phase::Root;
        self.round = 0;
    }

    /// The next cheapest numbers of boards: fill them or rule them out.
    fn price(&mut self) -> bool {
        let most = if self.job.total > LARGE { 2 } else { MOST_OPEN };
        if self.tried.len() > most {
            self.phase = Phase::Harder;
            return false;
        }
        let below = self.best.as_ref().map_or(i128::MAX / 4, |b| b.price);
        let aim = Aim::Cheapest { from: self.bound, below };
        self.work.spend(20_000);
        match numbers::next(&self.job.stock, &self.cuts, aim, &self.tried, &self.refuted) {
            Next::Found(boards, price) => {
                if self.tried.is_empty() {
                    self.bound = self.bound.max(price);
                }
                self.judge(&boards, 4_000_000, false);
            }
            Next::Nothing if self.tried.is_empty() => {
                self.price_proven = true;
                match &self.best {
                    Some(b) => self.bound = b.price,
                    None => return true,
                }
                self.fewer_next();
            }
            Next::Nothing => self.phase = Phase::Harder,
            Next::Unknown => self.fewer_next(),
        }
        false
    }

    fn fewer_next(&mut self) {
        self.phase = Phase::Fewer;
        self.round = 0;
        self.tried.clear();
    }

    /// Goes back, with more effort each round, to the numbers that stayed open.
    fn harder(&mut self) {
        if self.best.is_some() && self.spent() > BUDGET * 17 / 20 {
            return self.fewer_next();
        }
        self.round += 1;
        if self.job.total > LARGE && !self.round.is_multiple_of(3) {
            return self.between();
        }
        let price = |n: &[u32]| -> i128 {
            n.iter().zip(&self.job.stock).map(|(&n, s)| i128::from(n) * s.price).sum()
        };
        let mut open = core::mem::take(&mut self.tried);
        crate::num::sort_by(&mut open, |a, b| price(a).cmp(&price(b)));
        open.retain(|n| self.best.as_ref().is_none_or(|b| price(n) < b.price));
        if open.is_empty() {
            self.phase = Phase::Price;
            return;
        }
        self.bound = self.bound.max(price(&open[0]));
        // In turn: the cheapest ones more often.
        let at = if self.round % 3 == 2 { self.round % open.len() } else { 0 };
        let numbers = open.remove(at);
        self.tried = open;
        self.judge(&numbers, self.effort(), false);
    }

    /// Steps for one attempt, more in later rounds and for more parts.
    fn effort(&self) -> i64 {
        (8_000_000 << (self.round / 2).min(5)).max(60_000 * i64::from(self.job.total))
    }

    /// A plan that is cheaper than the best, though not as cheap as may be.
    fn between(&mut self) {
        let Some(best) = &self.best else { return };
        let below = best.price;
        let share = [6, 4, 7, 3][self.round % 4];
        let aim = Aim::Cheapest { from: self.bound + (below - self.bound) * share / 8, below };
        self.work.spend(20_000);
        let next = numbers::next(&self.job.stock, &self.cuts, aim, &self.tried, &self.refuted);
        if let Next::Found(numbers, _) = next {
            self.judge(&numbers, self.effort() / 2, true);
        }
    }

    /// Takes a plan if it is sound and better than the best so far.
    pub fn accept(&mut self, instance: &Instance, mut chosen: Chosen) -> bool {
        self.downsize(&mut chosen);
        let price: i128 = chosen.iter().map(|c| self.job.stock[c.0].price).sum();
        let count = chosen.len();
        if let Some(best) = &self.best
            && (best.price, best.cut.len()) < (price, count)
        {
            return false;
        }
        let cut = realised(instance, &self.job, &chosen);
        let Ok(facts) = verify(instance, &cut) else {
            return false;
        };
        let changes = match self.job.plain {
            true => steps::changes(instance, &cut),
            false => 0,
        };
        let found = Found { changes, cut, price, leftover: facts.leftover, chosen };
        if let Some(best) = &self.best
            && (best.price, best.cut.len(), best.changes) <= (price, count, changes)
            && (changes > best.changes || found.area() <= best.area() * (1.0 + 1e-12))
        {
            return false;
        }
        self.best = Some(found);
        true
    }

    /// Exchanges boards for cheaper ones that hold the same pattern.
    fn downsize(&self, chosen: &mut Chosen) {
        let mut left: Vec<u32> = self.job.stock.iter().map(|s| s.limit).gather();
        for c in chosen.iter() {
            left[c.0] = left[c.0].saturating_sub(1);
        }
        for c in chosen.iter_mut() {
            let root = c.1.root();
            let price = self.job.stock[c.0].price;
            let cheaper = (0..left.len())
                .filter(|&s| left[s] > 0 && self.job.stock[s].price < price)
                .filter(|&s| self.job.fits(root.len, root.wid, s))
                .min_by_key(|&s| self.job.stock[s].price);
            if let Some(s) = cheaper {
                left[c.0] += 1;
                left[s] -= 1;
                c.0 = s;
            }
        }
    }
}

pub(super) fn listed(numbers: &[u32]) -> Vec<usize> {
    let mut list = Vec::new();
    for (s, &n) in numbers.iter().enumerate() {
        list.extend(core::iter::repeat_n(s, n as usize));
    }
    list
}
