//! Nearly fits: what a hair less on the parts, or a hair more on the boards, would save.

use super::board::CutBoard;
use super::change::Change;
use super::cutting::{Cutting, PlanOf};
use super::outcome::{Plan, PlanAnswer, SAME};
use super::planner::Planner;
use offsquare_units::num::Gather;

/// What a small change saves.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearly<I: Cutting> {
    /// True: bought boards measure over their nominal size. False: parts are smaller.
    pub over: bool,
    /// Which change of its row gives the saving.
    pub change: usize,
    /// The smallest amount that gives the saving, in the job's unit; no size changes by more than this or its
    /// own limit.
    pub by: f64,
    /// Whether any amount smaller than `by` (to 1e-6) is proven not to give the saving.
    pub least: bool,
    /// How much each part kind is shortened.
    pub shortened: Vec<f64>,
    /// Money saved; none if there was no plan at all without the change.
    pub money: Option<f64>,
    /// Boards saved (below 0 where more, but cheaper, boards are used).
    pub boards: Option<i64>,
    /// The job with the change, and its plan.
    pub instance: I,
    pub plan: Plan<I::Leftover>,
}

/// Steps for one plan.
pub const STEPS: i64 = 150_000_000;
/// Steps after the price is proven: for fewer boards.
const AFTER: i64 = 20_000_000;
/// Most steps before the search checks what it has found.
const SLICE: i64 = 10_000_000;
/// Most plans made while looking for the smallest amount.
const PLANS: usize = 24;

impl Change {
    /// The job with everything changed by this much, as far as it may be.
    pub fn apply<I: Cutting>(&self, instance: &I, by: f64) -> I {
        instance.changed(self, by)
    }

    fn most(&self) -> f64 {
        let gives = self.gives.iter().copied();
        gives.chain([self.over]).fold(0.0, |m, g| m.max(g.0).max(g.1))
    }

    /// Values that are not numbers change nothing.
    fn sound(mut self) -> Change {
        let sound = |x: f64| if x.is_finite() { x } else { 0.0 };
        for give in self.gives.iter_mut().chain([&mut self.over]) {
            *give = (sound(give.0), sound(give.1));
        }
        self
    }
}

/// Whether one of these changes saves money, or a board at the same money, over `base` (the plan of the
/// job as it stands; none if it is known that there is none), and by how little. The last change holds
/// all the others; the first one that saves as much as the last is taken. About `steps` steps in all.
///
/// ```
/// use offsquare_planner::guillotine::{self, PlanAnswer, BoardKind, Change, CutKind, Instance, PartKind, nearly};
/// // Three slats of 1 13/16 and two kerfs are 5 11/16: 1/16 narrower each, and one 1x6 does.
/// let job = Instance {
///     cut: CutKind::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 3, 96.0, 1.8125)],
/// };
/// let PlanAnswer::Plan(base) = guillotine::plan(&job) else { panic!() };
/// let change = |l, w| Change { gives: vec![(l, w)], over: (0.0, 0.0) };
/// let ways = [change(0.125, 0.0), change(0.0, 0.125), change(0.125, 0.125)];
/// let found = nearly(&job, Some(&base), &ways, 500_000_000).unwrap();
/// assert_eq!((found.change, found.boards), (1, Some(1)));
/// assert!((found.by - 0.0625).abs() < 1e-6);
/// ```
pub fn nearly<I: Cutting>(
    instance: &I,
    base: Option<&PlanOf<I>>,
    changes: &[Change],
    steps: i64,
) -> Option<Nearly<I>> {
    Nearing::new(instance, base.cloned(), vec![changes.to_vec()], steps).all()
}

/// The question of [`nearly`] in small steps, of several rows of changes, one after the other.
pub struct Nearing<I: Cutting> {
    instance: I,
    base: Option<PlanOf<I>>,
    /// Rows still to be examined, the next one last; and the current row.
    rows: Vec<Vec<Change>>,
    changes: Vec<Change>,
    /// The change being examined and its amount. The last change comes first because it sets the goal.
    change: usize,
    at: f64,
    planner: Option<Box<Planner<I>>>,
    /// What all changes of the row together cost and take, with their plan.
    goal: Option<PlanOf<I>>,
    /// The smallest amount lies between one known to be too little and one known to be enough.
    search: Option<Bisection<I>>,
    /// Steps left for the current plan, steps left for the row, and steps allowed for each row.
    steps: i64,
    left: i64,
    each: i64,
    best: Option<Nearly<I>>,
}

struct Bisection<I: Cutting> {
    low: f64,
    by: f64,
    least: bool,
    plan: PlanOf<I>,
    tries: usize,
}

impl<I: Cutting> Nearing<I> {
    /// `base` is the best plan known for the job as it stands, none if it is known to have none. The last
    /// change of each row holds all the others; of two rows that save the same the first is told. `steps` for
    /// each row.
    pub fn new(
        instance: &I,
        base: Option<PlanOf<I>>,
        rows: Vec<Vec<Change>>,
        steps: i64,
    ) -> Nearing<I> {
        let row = |changes: Vec<Change>| changes.into_iter().map(Change::sound).gather();
        let mut rows: Vec<Vec<Change>> = rows.into_iter().rev().map(row).gather();
        let sound = instance.flaws().is_empty();
        rows.retain(|changes| sound && changes.last().is_some_and(|c| c.most() > 0.0));
        let mut nearing = Nearing {
            instance: instance.clone(),
            base,
            rows,
            changes: Vec::new(),
            change: 0,
            at: 0.0,
            planner: None,
            goal: None,
            search: None,
            steps: 0,
            left: 0,
            each: steps,
            best: None,
        };
        nearing.turn();
        nearing
    }

    /// What was found, once `step` says so.
    pub fn found(&self) -> Option<&Nearly<I>> {
        self.best.as_ref()
    }

    /// What is found in all.
    pub fn all(mut self) -> Option<Nearly<I>> {
        while !self.step(SLICE) {}
        self.best
    }

    /// The next row, or the end.
    fn turn(&mut self) {
        self.goal = None;
        self.planner = None;
        if let Some(changes) = self.rows.pop() {
            self.change = changes.len() - 1;
            self.changes = changes;
            self.left = self.each;
            self.ask(f64::INFINITY);
        }
    }

    fn ask(&mut self, at: f64) {
        self.at = at;
        self.steps = STEPS.min(self.left);
        let job = self.instance.changed(&self.changes[self.change], at);
        self.planner = Some(Box::new(Planner::new(job)));
    }

    /// Continues for about `budget` of the planner's steps; true when every row has been examined.
    pub fn step(&mut self, budget: i64) -> bool {
        let Some(planner) = &mut self.planner else {
            return true;
        };
        let before = planner.spent();
        let now = planner.step(budget.clamp(1, SLICE));
        let spent = (planner.spent() - before).max(1);
        self.steps -= spent;
        self.left -= spent;
        if now.best.as_ref().is_some_and(|b| b.proven) {
            self.steps = self.steps.min(AFTER);
        }
        // The first plan that reaches the goal will do. A job that costs more, or is sure to save nothing, needs
        // no more planning.
        let (wanted, hopeless) = match (&self.goal, &self.base) {
            (Some(goal), _) => {
                let reached = |p: &PlanOf<I>| {
                    p.price <= goal.price + SAME && p.boards.len() <= goal.boards.len()
                };
                (now.best.filter(reached), now.bound > goal.price + SAME)
            }
            (None, Some(b)) => {
                let dear = now.bound > b.bound + SAME;
                let none = dear || (!I::sure(b) && now.bound >= b.bound - SAME);
                (now.best.filter(|_| !none), none)
            }
            (None, None) => (now.best, false),
        };
        let settled = hopeless || (self.goal.is_some() && wanted.is_some());
        if !settled && !now.done && self.steps > 0 {
            return false;
        }
        let proof = match planner.answer() {
            PlanAnswer::Plan(plan) => plan.proven_all,
            PlanAnswer::Open => false,
            PlanAnswer::Infeasible { .. } | PlanAnswer::Invalid(_) => true,
        };
        let sure = hopeless || (now.done && proof);
        self.planner = None;
        self.take(wanted, sure);
        if self.planner.is_none() {
            self.turn();
        }
        self.planner.is_none()
    }

    /// Uses the result for the current amount and goes on to the next. With `sure`, a failure is proven.
    fn take(&mut self, plan: Option<PlanOf<I>>, sure: bool) {
        if let Some(mut s) = self.search.take() {
            s.tries += 1;
            let Some(plan) = plan else {
                s.low = self.at;
                s.least &= sure;
                return self.lessen(s, None);
            };
            return self.found_at(s, self.at, plan);
        }
        match (&self.goal, plan) {
            (None, Some(plan)) if self.saves(&plan) => {
                self.goal = Some(plan);
                self.change = 0;
            }
            (Some(_), Some(plan)) => return self.begin(plan),
            (Some(_), None) => self.change += 1,
            (None, _) => return,
        }
        // Go on to the first change that may save as much as all of them together.
        while self.change + 1 < self.changes.len() && self.changes[self.change].most() <= 0.0 {
            self.change += 1;
        }
        if self.change + 1 < self.changes.len() && self.left > 0 {
            self.ask(f64::INFINITY);
        } else if let Some(plan) = self.goal.clone() {
            self.change = self.changes.len() - 1;
            self.begin(plan);
        }
    }

    /// A saving is one only if the job as it stands is known to cost more.
    fn saves(&self, plan: &PlanOf<I>) -> bool {
        self.base.as_ref().is_none_or(|b| {
            let fewer = plan.price <= b.bound + SAME && plan.boards.len() < b.boards.len();
            plan.price < b.bound - SAME || (I::sure(b) && fewer)
        })
    }

    /// The current change gives the saving; looks for the smallest amount that does.
    fn begin(&mut self, plan: PlanOf<I>) {
        let by = self.changes[self.change].most();
        let search = Bisection { low: 0.0, by, least: true, plan: plan.clone(), tries: 0 };
        self.found_at(search, by, plan);
    }

    /// A plan at a given amount. If the parts can be closed up, the amount needed is known at once; otherwise
    /// the job is planned again.
    fn found_at(&mut self, mut s: Bisection<I>, at: f64, plan: PlanOf<I>) {
        let needed = self.needed(&plan.boards, at);
        let job = self.instance.changed(&self.changes[self.change], needed);
        let mut next = Some(needed);
        (s.by, s.plan) = match job.closed_up(&plan) {
            Some(closer) => {
                next = next.filter(|_| s.tries == 0);
                (needed, closer)
            }
            None => (at, plan),
        };
        self.lessen(s, next);
    }

    /// The next amount to try: what the plan needs, then just below it, then the middle of the open range.
    fn lessen(&mut self, s: Bisection<I>, at: Option<f64>) {
        if s.tries < PLANS && s.by - s.low > SAME && self.left > 0 {
            let half = (s.low + s.by) / 2.0;
            let mut at = at.unwrap_or(half);
            if !(at > s.low && at < s.by) {
                at = (s.by - SAME).max(half);
            }
            self.search = Some(s);
            return self.ask(at);
        }
        let better = self.best.as_ref().is_none_or(|b| {
            let (new, old) = (&s.plan, &b.plan);
            new.price < old.price - SAME
                || (new.price <= old.price + SAME && new.boards.len() < old.boards.len())
        });
        if !better {
            return;
        }
        let (change, base) = (&self.changes[self.change], self.base.as_ref());
        self.best = Some(Nearly {
            over: change.over != (0.0, 0.0),
            change: self.change,
            by: s.by,
            least: s.least && s.by - s.low <= 2.0 * SAME,
            shortened: change.gives.iter().map(|g| g.0.min(s.by).max(0.0)).gather(),
            money: base.map(|b| (b.price - s.plan.price).max(0.0)),
            boards: base.map(|b| b.boards.len() as i64 - s.plan.boards.len() as i64),
            instance: self.instance.changed(change, s.by),
            plan: s.plan,
        });
    }

    /// The least amount at which these boards still hold all their parts, at most `most`.
    fn needed(&self, boards: &[CutBoard], most: f64) -> f64 {
        let change = &self.changes[self.change];
        let (mut low, mut high) = (0.0, most);
        for _ in 0..40 {
            let at = (low + high) / 2.0;
            let job = self.instance.changed(change, at);
            if boards.iter().all(|b| job.holds(b)) {
                high = at;
            } else {
                low = at;
            }
        }
        high
    }
}
