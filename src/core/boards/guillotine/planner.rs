//! The planner of strips and sheets as a row of small steps.

use super::super::price::Prices;
use super::instance::{Answer, CutBoard, Grain, Instance, PartKind, Plan};
use super::job::Job;
use super::run::Run;
use crate::num::Gather;

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
/// use offsquare_core::boards::guillotine::{Answer, BoardKind, Cut, Instance, PartKind, Planner};
/// let job = Instance {
///     cut: Cut::Sheets, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
///     parts: vec![PartKind::along("side", 4, 47.9, 23.9)],
/// };
/// let mut planner = Planner::new(job);
/// while !planner.step(10_000_000).done {}
/// let Answer::Plan(plan) = planner.answer() else { panic!() };
/// assert_eq!((plan.price, plan.bound, plan.boards.len()), (62.0, 62.0, 1));
/// ```
pub struct Planner {
    instance: Instance,
    prices: Prices,
    state: State,
    answer: Option<Answer>,
    /// Steps taken so far.
    pub(super) spent: i64,
}

enum State {
    Done,
    Running(Box<Run>),
}

impl Planner {
    /// Checks the job and gets ready; nothing is searched yet.
    pub fn new(instance: Instance) -> Planner {
        Planner::of(instance, false)
    }

    /// For the plain plan: every board is ripped over its whole length into strips, every strip is crosscut
    /// into parts as wide as itself, and a part that need not be turned is not. It is a good plan of that
    /// sort after some search, and its bound is no more than one for any plan.
    ///
    /// ```
    /// use offsquare_core::boards::guillotine::{Answer, BoardKind, Cut, Instance, PartKind, Planner};
    /// // A slat of 2 3/4 and two of half its length side by side: one board; plainly it takes two.
    /// let job = Instance {
    ///     cut: Cut::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
    ///     boards: vec![BoardKind::unlimited("b", 48.0, 5.625, 4.0)],
    ///     parts: vec![
    ///         PartKind::along("rail", 2, 23.0, 2.75),
    ///         PartKind::along("shelf", 1, 24.0, 5.625),
    ///     ],
    /// };
    /// let boards = |mut planner: Planner| {
    ///     while !planner.step(10_000_000).done {}
    ///     let Answer::Plan(plan) = planner.answer() else { panic!() };
    ///     plan.boards.len()
    /// };
    /// assert_eq!((boards(Planner::new(job.clone())), boards(Planner::plain(job))), (1, 2));
    /// ```
    pub fn plain(mut instance: Instance) -> Planner {
        for i in 0..instance.parts.len() {
            let as_it_is = PartKind { grain: Grain::Along, ..instance.parts[i].clone() };
            if instance.boards.iter().any(|b| instance.fits(&as_it_is, b)) {
                instance.parts[i] = as_it_is;
            }
        }
        Planner::of(instance, true)
    }

    fn of(instance: Instance, plain: bool) -> Planner {
        let prices = Prices::new(&instance.boards.iter().map(|b| b.price).gather());
        let flaws = instance.check();
        let answer =
            if flaws.is_empty() { obvious(&instance) } else { Some(Answer::Invalid(flaws)) };
        let state = if answer.is_some() {
            State::Done
        } else {
            let mut job = Job::new(&instance, &prices);
            job.plain = plain;
            State::Running(Box::new(Run::new(job)))
        };
        Planner { instance, prices, state, answer, spent: 0 }
    }

    /// The job that is planned.
    pub fn instance(&self) -> &Instance {
        &self.instance
    }

    /// Searches on for about `budget` steps (a step is about a nanosecond on a desk machine) and says
    /// how things stand. A single unit of work may overrun the budget.
    pub fn step(&mut self, budget: i64) -> Progress {
        let until = match &self.state {
            State::Running(run) => run.work.left.saturating_sub(budget.max(1)),
            State::Done => 0,
        };
        while let State::Running(run) = &mut self.state {
            let done = run.step(&self.instance);
            self.spent = run.spent();
            if done || run.work.over() {
                self.finish();
                break;
            }
            if run.work.left <= until {
                break;
            }
        }
        match &self.state {
            State::Done => {
                let best = match &self.answer {
                    Some(Answer::Plan(plan)) => Some(plan.clone()),
                    _ => None,
                };
                Progress { bound: best.as_ref().map_or(0.0, |p| p.bound), best, done: true }
            }
            State::Running(run) => Progress {
                best: self.plan_of(run),
                bound: self.prices.decimal(run.bound),
                done: false,
            },
        }
    }

    /// The answer as far as it is known: final when `step` says done.
    pub fn answer(&self) -> Answer {
        if let Some(answer) = &self.answer {
            return answer.clone();
        }
        if let State::Running(run) = &self.state
            && let Some(plan) = self.plan_of(run)
        {
            return Answer::Plan(plan);
        }
        short_supply(false)
    }

    fn finish(&mut self) {
        let State::Running(run) = &self.state else {
            return;
        };
        let none = || short_supply(run.hopeless());
        self.answer = Some(self.plan_of(run).map_or_else(none, Answer::Plan));
        self.state = State::Done;
    }

    fn plan_of(&self, run: &Run) -> Option<Plan> {
        let found = run.best.as_ref()?;
        let price = if self.prices.exact() {
            self.prices.decimal(found.price)
        } else {
            let of = |c: &CutBoard| self.instance.boards[c.board].price;
            found.cut.iter().map(of).sum()
        };
        let bound = self.prices.decimal(run.bound.min(found.price)).min(price);
        let proven = price <= bound + 1e-6;
        Some(Plan {
            boards: found.cut.clone(),
            price,
            bound,
            proven,
            proven_all: proven && run.bound >= found.price && run.all_proven(),
            leftover: found.leftover,
        })
    }
}

/// No plan: certainly, or as far as was searched.
fn short_supply(certain: bool) -> Answer {
    let reason = if certain {
        "There are not enough boards for all parts."
    } else {
        "No plan was found: there may be too few boards."
    };
    Answer::Infeasible { part: None, reason: reason.to_owned() }
}

/// Answers that need no search: nothing to cut, or a part that fits on no board.
fn obvious(instance: &Instance) -> Option<Answer> {
    let wanted = || instance.parts.iter().enumerate().filter(|(_, p)| p.qty > 0);
    if wanted().next().is_none() {
        return Some(Answer::Plan(Plan {
            boards: Vec::new(),
            price: 0.0,
            bound: 0.0,
            proven: true,
            proven_all: true,
            leftover: None,
        }));
    }
    let alone = |in_stock: bool| {
        wanted().find(|(_, p)| {
            !instance
                .boards
                .iter()
                .any(|b| (!in_stock || b.limit != Some(0)) && instance.fits(p, b))
        })
    };
    if instance.boards.is_empty() {
        return Some(Answer::Infeasible {
            part: wanted().next().map(|p| p.0),
            reason: "There are no boards to cut from.".to_owned(),
        });
    }
    if let Some((i, part)) = alone(false) {
        return Some(Answer::Infeasible { part: Some(i), reason: why(instance, i, &part.id) });
    }
    alone(true).map(|_| short_supply(true))
}

/// Why a part fits on no board.
fn why(instance: &Instance, i: usize, id: &str) -> String {
    let part = &instance.parts[i];
    let usable = || instance.boards.iter().map(|b| instance.usable(b));
    let free = part.grain == Grain::Free;
    let (l, w) = part.extent(free && part.length < part.width);
    let longest = usable().map(|u| if free { u.0.max(u.1) } else { u.0 }).fold(0.0, f64::max);
    let widest = usable().map(|u| if free { u.0.min(u.1) } else { u.1 }).fold(0.0, f64::max);
    let across = || usable().any(|(bl, bw)| part.width <= bl && part.length <= bw);
    let what = if !free && across() {
        "\" would fit only across the grain."
    } else if l > longest {
        "\" is longer than the longest board gives between its trims."
    } else if w > widest {
        "\" is wider than the widest board gives between its trims."
    } else {
        "\" fits on no board: those long enough are too narrow."
    };
    ["Part \"", id, what].concat()
}
