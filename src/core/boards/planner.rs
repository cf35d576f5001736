//! The planner as a row of small steps, so that a worker can show the best plan so far and stop.

use super::instance::{Answer, Instance, Plan, WORKING};
use super::job::Job;
use super::price::Prices;
use super::run::Run;
use crate::num::Gather;
use std::rc::Rc;

/// Steps (each about a nanosecond's work on a desk machine) for a whole run.
pub const BUDGET: i64 = 1_500_000_000;

/// The best plan so far, what is known about it, and whether the planner is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// None until the first plan is found.
    pub best: Option<Plan>,
    /// No plan costs less than this.
    pub bound: f64,
    pub done: bool,
}

/// The planner of one job.
///
/// ```
/// use offsquare_core::boards::{Answer, BoardKind, Instance, PartKind, Planner};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 3, 32.0)],
/// };
/// let mut planner = Planner::new(job);
/// while !planner.step(10_000_000).done {}
/// // Three 32 in slats and two kerfs are 96 1/4 in: one board is not enough.
/// let Answer::Plan(plan) = planner.answer() else { panic!() };
/// assert_eq!((plan.price, plan.bound, plan.boards.len()), (8.56, 8.56, 2));
/// ```
pub struct Planner {
    instance: Instance,
    prices: Prices,
    state: State,
    answer: Option<Answer>,
}

enum State {
    Done,
    Running(Box<Run>),
}

impl Planner {
    /// Checks the job and gets ready; nothing is searched yet.
    pub fn new(instance: Instance) -> Planner {
        let prices = Prices::new(&instance.boards.iter().map(|b| b.price).gather());
        let mut planner = Planner { instance, prices, state: State::Done, answer: None };
        let flaws = planner.instance.check();
        if !flaws.is_empty() {
            planner.answer = Some(Answer::Invalid(flaws));
            return planner;
        }
        if let Some(answer) = obvious(&planner.instance) {
            planner.answer = Some(answer);
            return planner;
        }
        let job = Rc::new(Job::new(&planner.instance, &planner.prices.of));
        planner.state = State::Running(Box::new(Run::new(job)));
        planner
    }

    /// The job that is planned.
    pub fn instance(&self) -> &Instance {
        &self.instance
    }

    /// Searches on for about `budget` steps (a step is about a nanosecond on a desk machine) and says
    /// how things stand; the first call ends when there is a plan, and one ends when the price is proven. A
    /// single unit of work may overrun the budget. Whenever it is stopped, the best plan so far has passed the verifier and its bound holds.
    pub fn step(&mut self, budget: i64) -> Progress {
        let until = match &self.state {
            State::Running(run) => run.work.left.saturating_sub(budget.max(1)),
            State::Done => 0,
        };
        while let State::Running(run) = &mut self.state {
            let (first, unproven) = (run.best.is_none(), !run.price_proven);
            let done = run.step(&self.instance);
            if run.work.over() && run.best.is_none() && run.second_wind() {
                break;
            }
            if done || run.work.over() {
                self.finish();
                break;
            }
            // The first plan is shown at once, and so is the proof of the price.
            if run.work.left <= until
                || (first && run.best.is_some())
                || (unproven && run.price_proven)
            {
                break;
            }
        }
        match &self.state {
            State::Done => match &self.answer {
                Some(Answer::Plan(plan)) => {
                    Progress { best: Some(plan.clone()), bound: plan.bound, done: true }
                }
                _ => Progress { best: None, bound: 0.0, done: true },
            },
            State::Running(run) => Progress {
                best: self.plan_of(run),
                bound: self.prices.decimal(run.bound),
                done: false,
            },
        }
    }

    /// The answer as far as it is known: final when `step` says done.
    pub fn answer(&self) -> Answer {
        match (&self.answer, &self.state) {
            (Some(answer), _) => answer.clone(),
            (None, State::Running(run)) => self.plan_of(run).map_or(Answer::Open, Answer::Plan),
            (None, State::Done) => Answer::Open,
        }
    }

    fn finish(&mut self) {
        let State::Running(run) = &self.state else {
            return;
        };
        self.answer = Some(match self.plan_of(run) {
            Some(plan) => Answer::Plan(plan),
            None if run.hopeless => Answer::Infeasible { part: None, reason: short_supply() },
            None => Answer::Open,
        });
        self.state = State::Done;
    }

    fn plan_of(&self, run: &Run) -> Option<Plan> {
        let found = run.best.as_ref()?;
        let price = if self.prices.exact() {
            self.prices.decimal(found.price)
        } else {
            found.cut.iter().map(|c| self.instance.boards[c.board].price).sum()
        };
        let bound = self.prices.decimal(run.bound.min(found.price)).min(price);
        let proven = price <= bound + 1e-6;
        Some(Plan {
            boards: found.cut.clone(),
            price,
            bound,
            proven,
            proven_all: proven
                && run.bound >= found.price
                && run.fewest_proven
                && run.leftover_proven,
            leftover: found.leftover.max(0.0),
        })
    }
}

fn short_supply() -> String {
    "There are not enough boards for all parts.".to_owned()
}

/// Answers that need no search: nothing to cut, or a part that fits on no board.
fn obvious(instance: &Instance) -> Option<Answer> {
    let wanted = instance.parts.iter().any(|p| p.qty > 0);
    if !wanted {
        return Some(Answer::Plan(Plan {
            boards: Vec::new(),
            price: 0.0,
            bound: 0.0,
            proven: true,
            proven_all: true,
            leftover: 0.0,
        }));
    }
    let room = instance
        .boards
        .iter()
        .map(|b| b.length - 2.0 * instance.trim)
        .fold(f64::NEG_INFINITY, f64::max);
    let (i, part) = instance
        .parts
        .iter()
        .enumerate()
        .filter(|(_, p)| p.qty > 0)
        .max_by(|a, b| a.1.length.total_cmp(&b.1.length).then(b.0.cmp(&a.0)))?;
    if part.length > room + WORKING {
        let reason = if instance.boards.is_empty() {
            "There are no boards to cut from.".to_owned()
        } else {
            format!(
                "Part \"{}\" is {} long, and the longest board gives {}.",
                part.id,
                part.length,
                room.max(0.0)
            )
        };
        return Some(Answer::Infeasible { part: Some(i), reason });
    }
    let supply = instance
        .boards
        .iter()
        .filter(|b| b.limit != Some(0))
        .map(|b| b.length - 2.0 * instance.trim)
        .fold(f64::NEG_INFINITY, f64::max);
    (part.length > supply + WORKING)
        .then(|| Answer::Infeasible { part: None, reason: short_supply() })
}
