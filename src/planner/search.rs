//! The search of one job, in phases of small steps: first plans and valid inequalities, the relaxation, then
//! board counts from the cheapest on, which are filled or ruled out; then fewer boards, then a
//! larger leftover. Sticks and rectangles (`Cutting`) differ in how a plan is found and what rules one out.

use super::board_counts::{Aim, BoardCounts, NODES, Question};
use super::budget::{BUDGET, Budget};
use super::cutting::{Chosen, Cutting, Found, Phase, Search};
use super::verdict::Verdict;
use offsquare_units::num::{self, Gather};
use std::rc::Rc;

impl<I: Cutting> Search<I> {
    pub fn new(model: I::Model) -> Search<I> {
        let model = Rc::new(model);
        Search {
            own: I::own(&model),
            model,
            inequalities: Vec::new(),
            best: None,
            bound: 0,
            budget: Budget::new(BUDGET),
            granted: BUDGET,
            phase: Phase::First,
            round: 0,
            tried: Vec::new(),
            refuted: Vec::new(),
            price_proven: false,
            fewest_proven: false,
            leftover_proven: false,
            hopeless: false,
            stuck: false,
            extended: false,
        }
    }

    /// Whether fewest boards and largest leftover are proven, given that the price is.
    pub fn rest_proven(&self) -> bool {
        self.fewest_proven && self.leftover_proven
    }

    /// Steps taken so far.
    pub fn spent(&self) -> i64 {
        self.granted - self.budget.left
    }

    /// Sets how many steps are left from here on.
    fn grant(&mut self, left: i64) {
        self.granted += left - self.budget.left;
        self.budget.left = left;
    }

    /// Extends the budget, once, for a job that has neither a plan nor a proof that there is none.
    pub fn second_wind(&mut self) -> bool {
        let more = !self.hopeless && !self.stuck && !self.extended && I::SECOND_WIND > 0;
        if more {
            self.extended = true;
            self.grant(I::SECOND_WIND);
        }
        more
    }

    /// One unit of work; true when there is nothing left to do.
    pub fn step(&mut self, instance: &I) -> bool {
        if I::go_on_checking(self, instance) {
            return I::satisfied(self);
        }
        match self.phase {
            Phase::Price => self.price(instance),
            Phase::Harder => self.harder(instance),
            Phase::Fewer => self.fewer(instance),
            Phase::Leftover => {
                if I::leftover(self, instance) {
                    return true;
                }
            }
            _ => I::open(self, instance),
        }
        self.hopeless || self.stuck || I::satisfied(self)
    }

    pub fn stock_limits(&self) -> Vec<u32> {
        I::stock(&self.model).iter().map(|s| s.limit).gather()
    }

    pub fn price_of(&self, boards: &[u32]) -> i128 {
        let stock = I::stock(&self.model);
        boards.iter().zip(stock).map(|(&n, s)| i128::from(n) * s.price).sum()
    }

    /// Whether the best plan is proven to cost the least.
    pub fn at_bound(&self) -> bool {
        self.best.as_ref().is_some_and(|b| b.price <= self.bound)
    }

    /// Board counts that cost at least a given price and less than the best plan.
    pub fn cheaper(&self, from: i128) -> Aim {
        Aim::Cheapest { from, below: self.best.as_ref().map_or(i128::MAX / 4, |b| b.price) }
    }

    /// What is known of board counts.
    pub fn question(&self) -> Question<'_> {
        Question {
            stock: I::stock(&self.model),
            inequalities: &self.inequalities,
            tried: &self.tried,
            refuted: &self.refuted,
            roomy: I::ROOMY,
        }
    }

    /// The next board counts for an aim.
    pub fn next(&mut self, aim: Aim) -> Verdict<BoardCounts> {
        self.budget.spend(20_000);
        self.question().next(aim, NODES)
    }

    /// Takes a plan if it is sound and better than the best so far.
    pub fn accept(&mut self, instance: &I, mut chosen: Chosen<I::Pattern>) -> bool {
        I::tidy(&self.model, &mut chosen);
        let price: i128 = chosen.iter().map(|c| I::stock(&self.model)[c.0].price).sum();
        let count = chosen.len();
        if self.best.as_ref().is_some_and(|b| (b.price, b.cut.len()) < (price, count)) {
            return false;
        }
        let cut = I::realised(&self.model, instance, &chosen);
        let Some(leftover) = instance.verified(&cut) else {
            return false;
        };
        let changes = I::changes(&self.model, instance, &cut);
        if let Some(best) = &self.best
            && (best.price, best.cut.len(), best.changes) <= (price, count, changes)
            && (changes > best.changes || !I::larger(leftover, best.leftover))
        {
            return false;
        }
        self.best = Some(Found { cut, price, leftover, changes, chosen });
        true
    }

    /// Fills or rules out the next cheapest board counts.
    fn price(&mut self, instance: &I) {
        if self.tried.len() > I::most_open(&self.model) {
            self.phase = Phase::Harder;
            return;
        }
        let open = !self.tried.is_empty();
        match self.next(self.cheaper(self.bound)) {
            Verdict::Found(n) => {
                if !open {
                    self.bound = self.bound.max(n.price);
                }
                if !I::priced(&self.model) {
                    return self.enter_fewer();
                }
                I::check_counts(self, instance, n.boards);
            }
            Verdict::Impossible if open => self.phase = Phase::Harder,
            Verdict::Impossible => match &self.best {
                Some(b) => {
                    self.bound = b.price;
                    self.price_proven = true;
                    self.enter_fewer();
                }
                None => self.hopeless = true,
            },
            Verdict::Unknown => self.enter_fewer(),
        }
    }

    /// Returns to the undecided board counts, with more effort each round.
    fn harder(&mut self, instance: &I) {
        if self.best.is_some() && I::enough(self) {
            return self.enter_fewer();
        }
        self.round += 1;
        if I::between(self, instance) {
            return;
        }
        let mut open = core::mem::take(&mut self.tried);
        num::sort_by(&mut open, |a, b| self.price_of(a).cmp(&self.price_of(b)));
        open.retain(|n| {
            self.best.as_ref().is_none_or(|b| self.price_of(n) < b.price)
                && !self.inequalities.iter().any(|c| c.refutes(n))
        });
        let Some(first) = open.first() else {
            self.phase = Phase::Price;
            return;
        };
        self.bound = self.bound.max(self.price_of(first));
        let boards = open.remove(I::turn(self.round, open.len()));
        self.tried = open;
        I::check_counts(self, instance, boards);
    }

    /// Undecided counts at this point concerned cheaper plans. Price matters most, so the rest of the budget
    /// went to it.
    fn enter_fewer(&mut self) {
        self.phase = Phase::Fewer;
        self.round = 0;
        self.tried.clear();
        self.grant(self.budget.left.min(I::AFTERWARDS));
    }

    /// Fewer boards at the same price.
    fn fewer(&mut self, instance: &I) {
        let Some(best) = &self.best else {
            self.stuck = true;
            return;
        };
        let aim = Aim::Fewest { price: best.price, from: 0, below: best.cut.len() as u32 };
        self.round += 1;
        match self.next(aim) {
            Verdict::Found(n) if I::priced(&self.model) && self.tried.len() < I::MOST_FEWER => {
                return I::check_counts(self, instance, n.boards);
            }
            Verdict::Impossible => self.fewest_proven = self.tried.is_empty(),
            _ => {}
        }
        self.phase = Phase::Leftover;
        self.round = 0;
        self.tried.clear();
    }
}
