//! The planner in small steps, so that a worker can show the best plan so far and can stop at any time.

use super::cutting::{AnswerOf, Cutting, Found, PlanOf, Search};
use super::outcome::{Plan, PlanAnswer, Progress, SAME};
use super::price::Prices;

/// The planner of one job.
///
/// ```
/// use offsquare_planner::{PlanAnswer, BoardKind, Instance, PartKind, Planner};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 3, 32.0)],
/// };
/// let mut planner = Planner::new(job);
/// while !planner.step(10_000_000).done {}
/// // Three 32 in slats and two kerfs are 96 1/4 in: one board is not enough.
/// let PlanAnswer::Plan(plan) = planner.answer() else { panic!() };
/// assert_eq!((plan.price, plan.bound, plan.boards.len()), (8.56, 8.56, 2));
/// ```
///
/// Of rectangles:
///
/// ```
/// use offsquare_planner::guillotine::{PlanAnswer, BoardKind, CutKind, Instance, PartKind, Planner};
/// let job = Instance {
///     cut: CutKind::Sheets, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
///     parts: vec![PartKind::along("side", 4, 47.9, 23.9)],
/// };
/// let mut planner = Planner::new(job);
/// while !planner.step(10_000_000).done {}
/// let PlanAnswer::Plan(plan) = planner.answer() else { panic!() };
/// assert_eq!((plan.price, plan.bound, plan.boards.len()), (62.0, 62.0, 1));
/// ```
pub struct Planner<I: Cutting> {
    instance: I,
    prices: Prices,
    search: Option<Box<Search<I>>>,
    answer: Option<AnswerOf<I>>,
    /// Steps taken so far.
    spent: i64,
}

impl<I: Cutting> Planner<I> {
    /// Checks the job and gets ready; nothing is searched yet.
    pub fn new(instance: I) -> Planner<I> {
        let flaws = instance.flaws();
        Planner::of(instance, flaws, false)
    }

    /// For the plain plan. Of sticks: every part is first cut as a square blank. Of strips and sheets: every
    /// board is ripped over its whole length into strips, every strip is crosscut into parts as wide as
    /// itself, and a part that need not be turned is not; it is a good plan of that sort after some
    /// search, and its bound is only a bound for plans of every sort.
    ///
    /// ```
    /// use offsquare_planner::guillotine::{PlanAnswer, BoardKind, CutKind, Instance, PartKind, Planner};
    /// // A slat of 2 3/4 and two of half its length side by side: one board; plainly it takes two.
    /// let job = Instance {
    ///     cut: CutKind::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
    ///     boards: vec![BoardKind::unlimited("b", 48.0, 5.625, 4.0)],
    ///     parts: vec![
    ///         PartKind::along("rail", 2, 23.0, 2.75),
    ///         PartKind::along("shelf", 1, 24.0, 5.625),
    ///     ],
    /// };
    /// let boards = |mut planner: Planner| {
    ///     while !planner.step(10_000_000).done {}
    ///     let PlanAnswer::Plan(plan) = planner.answer() else { panic!() };
    ///     plan.boards.len()
    /// };
    /// assert_eq!((boards(Planner::new(job.clone())), boards(Planner::plain(job))), (1, 2));
    /// ```
    pub fn plain(instance: I) -> Planner<I> {
        let flaws = instance.flaws();
        Planner::of(instance.plainly(), flaws, true)
    }

    fn of(instance: I, flaws: Vec<super::outcome::Flaw>, plain: bool) -> Planner<I> {
        let prices = Prices::new(&instance.prices());
        let answer =
            if flaws.is_empty() { obvious(&instance) } else { Some(PlanAnswer::Invalid(flaws)) };
        let search =
            (answer.is_none()).then(|| Box::new(Search::new(instance.model(&prices, plain))));
        Planner { instance, prices, search, answer, spent: 0 }
    }

    /// The job that is planned.
    pub fn instance(&self) -> &I {
        &self.instance
    }

    /// Steps taken so far.
    pub fn spent(&self) -> i64 {
        self.spent
    }

    /// Searches on for about `budget` steps (a step is about a nanosecond on a desk machine) and says how
    /// things stand; the first call ends when there is a plan, and one ends when the price is proven. A
    /// single unit of work may overrun the budget. Whenever it is stopped, the best plan so far has passed
    /// the verifier and its bound holds.
    pub fn step(&mut self, budget: i64) -> Progress<PlanOf<I>> {
        let until = self.search.as_ref().map_or(0, |r| r.budget.left.saturating_sub(budget.max(1)));
        while let Some(search) = &mut self.search {
            let (first, unproven) = (search.best.is_none(), !search.price_proven);
            let done = search.step(&self.instance);
            self.spent = search.spent();
            if search.budget.over() && search.best.is_none() && search.second_wind() {
                break;
            }
            if done || search.budget.over() {
                let without = match search.hopeless {
                    true => short_supply(),
                    false => PlanAnswer::Open,
                };
                self.answer = Some(self.found().map_or(without, PlanAnswer::Plan));
                self.search = None;
                break;
            }
            // The first plan is shown at once, and so is the proof of the price.
            if search.budget.left <= until
                || (first && search.best.is_some())
                || (unproven && search.price_proven)
            {
                break;
            }
        }
        let best = self.found();
        let bound = match &self.search {
            Some(search) => self.prices.decimal(search.bound),
            None => best.as_ref().map_or(0.0, |p| p.bound),
        };
        Progress { best, bound, done: self.search.is_none() }
    }

    /// The answer as far as it is known: final when `step` says done.
    pub fn answer(&self) -> AnswerOf<I> {
        match &self.answer {
            Some(answer) => answer.clone(),
            None => self.found().map_or(PlanAnswer::Open, PlanAnswer::Plan),
        }
    }

    /// The answer of the whole search.
    pub fn all(mut self) -> AnswerOf<I> {
        while !self.step(i64::MAX / 4).done {}
        self.answer()
    }

    /// The best plan so far.
    fn found(&self) -> Option<PlanOf<I>> {
        match (&self.search, &self.answer) {
            (Some(search), _) => search.best.as_ref().map(|found| self.plan_of(search, found)),
            (None, Some(PlanAnswer::Plan(plan))) => Some(plan.clone()),
            _ => None,
        }
    }

    fn plan_of(&self, search: &Search<I>, found: &Found<I>) -> PlanOf<I> {
        let price = if self.prices.exact {
            self.prices.decimal(found.price)
        } else {
            let prices = self.instance.prices();
            found.cut.iter().map(|c| prices[c.board]).sum()
        };
        let bound = self.prices.decimal(search.bound.min(found.price)).min(price);
        let proven = price <= bound + SAME;
        Plan {
            boards: found.cut.clone(),
            price,
            bound,
            proven,
            proven_all: proven && search.bound >= found.price && search.rest_proven(),
            leftover: found.leftover,
        }
    }
}

fn short_supply<P>() -> PlanAnswer<P> {
    let reason = "There are not enough boards for all parts.".to_owned();
    PlanAnswer::Infeasible { part: None, reason }
}

/// Answers that need no search: nothing to cut, or a part that fits on no board.
fn obvious<I: Cutting>(instance: &I) -> Option<AnswerOf<I>> {
    if !instance.wanted() {
        return Some(PlanAnswer::Plan(Plan {
            boards: Vec::new(),
            price: 0.0,
            bound: 0.0,
            proven: true,
            proven_all: true,
            leftover: I::nothing(),
        }));
    }
    if let Some(part) = instance.misfit(false) {
        let reason = match instance.prices().is_empty() {
            true => "There are no boards to cut from.".to_owned(),
            false => instance.why(part),
        };
        return Some(PlanAnswer::Infeasible { part: Some(part), reason });
    }
    instance.misfit(true).map(|_| short_supply())
}
