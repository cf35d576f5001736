//! Nearly fits: what a hair less on the parts, or a hair more on the boards, would save.

use super::super::instance::WORKING;
use super::instance::{CutBoard, Instance, Plan, Saw, Then};
use super::planner::Planner;

/// How much may be changed at most.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// By part: off its length and off its width; what is missing gives nothing.
    pub gives: Vec<(f64, f64)>,
    /// Onto the length and onto the width of every bought board.
    pub over: (f64, f64),
}

/// What a small change saves.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearly {
    /// Which of the changes does it.
    pub change: usize,
    /// The least amount that does it: nothing is changed by more, nor by more than it may be.
    pub by: f64,
    /// Money saved; none if there was no plan at all without the change.
    pub money: Option<f64>,
    /// Boards saved (below 0 where more, but cheaper, boards are used).
    pub boards: Option<i64>,
    /// The job with the change, and its plan.
    pub instance: Instance,
    pub plan: Plan,
}

/// Steps for one plan.
const STEPS: i64 = 100_000_000;
/// Steps after the price is proven: for fewer boards.
const AFTER: i64 = 20_000_000;
/// Most steps between two looks at what is known.
const SLICE: i64 = 10_000_000;
/// Plans at most for the least amount.
const PLANS: usize = 24;
/// Amounts nearer than this are the same.
const SAME: f64 = 1e-6;

impl Change {
    /// The job with everything changed by this much, as far as it may be.
    pub fn apply(&self, instance: &Instance, by: f64) -> Instance {
        let mut job = instance.clone();
        for (part, give) in job.parts.iter_mut().zip(&self.gives) {
            part.length = less(part.length, give.0.min(by));
            part.width = less(part.width, give.1.min(by));
        }
        for board in job.boards.iter_mut().filter(|b| b.price > 0.0) {
            board.length += self.over.0.min(by).max(0.0);
            board.width += self.over.1.min(by).max(0.0);
        }
        job
    }

    fn most(&self) -> f64 {
        let gives = self.gives.iter().copied();
        gives.chain([self.over]).fold(0.0, |m, g| m.max(g.0).max(g.1))
    }
}

/// A size less what it gives, never nothing.
fn less(size: f64, give: f64) -> f64 {
    size - give.min(0.9 * size).max(0.0)
}

/// Whether one of these changes saves money, or a board at the same money, over `base` (the plan of the
/// job as it stands; none if it is known that there is none), and by how little. The last change holds
/// all the others; the first one that saves as much as the last is taken. About `steps` steps in all.
///
/// ```
/// use offsquare_core::boards::guillotine::{
///     self, Answer, BoardKind, Change, Cut, Instance, PartKind, nearly,
/// };
/// // Three slats of 1 13/16 and two kerfs are 5 11/16: 1/16 narrower each, and one 1x6 does.
/// let job = Instance {
///     cut: Cut::Strips, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 3, 96.0, 1.8125)],
/// };
/// let Answer::Plan(base) = guillotine::plan(&job) else { panic!() };
/// let change = |l, w| Change { gives: vec![(l, w)], over: (0.0, 0.0) };
/// let ways = [change(0.125, 0.0), change(0.0, 0.125), change(0.125, 0.125)];
/// let found = nearly(&job, Some(&base), &ways, 500_000_000).unwrap();
/// assert_eq!((found.change, found.boards), (1, Some(1)));
/// assert!((found.by - 0.0625).abs() < 1e-6);
/// ```
pub fn nearly(
    instance: &Instance,
    base: Option<&Plan>,
    changes: &[Change],
    steps: i64,
) -> Option<Nearly> {
    let mut question = Nearing::new(instance, base.cloned(), changes.to_vec(), steps);
    while !question.step(SLICE) {}
    question.best
}

/// The question of [`nearly`] in small steps.
pub struct Nearing {
    instance: Instance,
    base: Option<Plan>,
    changes: Vec<Change>,
    /// The change that is looked at, and by how much; the last one first, for what is to be reached.
    way: usize,
    at: f64,
    planner: Option<Box<Planner>>,
    /// What all changes together cost and take, with their plan.
    goal: Option<Plan>,
    /// The least amount is looked for between what is known not to do and what does.
    search: Option<Search>,
    /// Steps that the plan at hand may still take, and all of them.
    steps: i64,
    left: i64,
    best: Option<Nearly>,
}

struct Search {
    low: f64,
    by: f64,
    plan: Plan,
    tries: usize,
}

impl Nearing {
    /// `base` is the best plan known for the job as it stands, none if it is known to have none. The last
    /// change holds all the others.
    pub fn new(
        instance: &Instance,
        base: Option<Plan>,
        changes: Vec<Change>,
        steps: i64,
    ) -> Nearing {
        let mut nearing = Nearing {
            instance: instance.clone(),
            base,
            way: changes.len(),
            changes,
            at: 0.0,
            planner: None,
            goal: None,
            search: None,
            steps: 0,
            left: steps,
            best: None,
        };
        if nearing.changes.last().is_some_and(|c| c.most() > 0.0) {
            nearing.way -= 1;
            nearing.ask(f64::INFINITY);
        }
        nearing
    }

    /// What was found, once `step` says so.
    pub fn found(&self) -> Option<&Nearly> {
        self.best.as_ref()
    }

    fn ask(&mut self, at: f64) {
        self.at = at;
        self.steps = STEPS.min(self.left);
        let job = self.changes[self.way].apply(&self.instance, at);
        self.planner = Some(Box::new(Planner::new(job)));
    }

    /// Goes on for about `budget` of the planner's steps; true when all is asked.
    pub fn step(&mut self, budget: i64) -> bool {
        let Some(planner) = &mut self.planner else {
            return true;
        };
        let before = planner.spent;
        let now = planner.step(budget.clamp(1, SLICE));
        let spent = (planner.spent - before).max(1);
        self.steps -= spent;
        self.left -= spent;
        if now.best.as_ref().is_some_and(|b| b.proven) {
            self.steps = self.steps.min(AFTER);
        }
        let plan = match &self.goal {
            // The first plan that is as good as the goal will do.
            Some(goal) => {
                let reached = now.best.filter(|p| {
                    p.price <= goal.price + SAME && p.boards.len() <= goal.boards.len()
                });
                let hopeless = now.bound > goal.price + SAME;
                if reached.is_none() && !hopeless && !now.done && self.steps > 0 {
                    return false;
                }
                reached
            }
            None => {
                // What is sure to save nothing needs no more planning.
                let hopeless = self.base.as_ref().is_some_and(|b| {
                    now.bound > b.bound + SAME || (!b.proven_all && now.bound >= b.bound - SAME)
                });
                if !hopeless && !now.done && self.steps > 0 {
                    return false;
                }
                now.best.filter(|_| !hopeless)
            }
        };
        self.planner = None;
        self.take(plan);
        self.planner.is_none()
    }

    /// What the amount asked for gave; on to the next one.
    fn take(&mut self, plan: Option<Plan>) {
        if let Some(mut s) = self.search.take() {
            let mut at = None;
            match plan {
                Some(plan) => {
                    s.by = self.at;
                    at = Some(self.needed(&plan.boards, s.by));
                    s.plan = plan;
                }
                None => s.low = self.at,
            }
            s.tries += 1;
            return self.lessen(s, at);
        }
        match (&self.goal, plan) {
            (None, Some(plan)) if self.saves(&plan) => {
                self.goal = Some(plan);
                self.way = 0;
            }
            (Some(_), Some(plan)) => return self.begin(plan),
            (Some(_), None) => self.way += 1,
            (None, _) => return,
        }
        // On to the first change that may do as much as all of them.
        while self.way + 1 < self.changes.len() && self.changes[self.way].most() <= 0.0 {
            self.way += 1;
        }
        if self.way + 1 < self.changes.len() && self.left > 0 {
            self.ask(f64::INFINITY);
        } else if let Some(plan) = self.goal.clone() {
            self.way = self.changes.len() - 1;
            self.begin(plan);
        }
    }

    /// A saving is one only if the job as it stands is known to cost more.
    fn saves(&self, plan: &Plan) -> bool {
        self.base.as_ref().is_none_or(|b| {
            plan.price < b.bound - SAME
                || (b.proven_all
                    && plan.price <= b.bound + SAME
                    && plan.boards.len() < b.boards.len())
        })
    }

    /// The change at hand does: looks for the least amount of it. First what the plan itself needs.
    fn begin(&mut self, plan: Plan) {
        let by = self.changes[self.way].most();
        let at = self.needed(&plan.boards, by);
        let search = Search { low: 0.0, by, plan, tries: 0 };
        self.lessen(search, Some(at));
    }

    /// The next amount: what the plan needs, then just below it, then halving what is open.
    fn lessen(&mut self, s: Search, at: Option<f64>) {
        if s.tries < PLANS && s.by - s.low > SAME && self.left > 0 {
            let half = (s.low + s.by) / 2.0;
            let mut at = at.unwrap_or(half);
            if !(at > s.low && at < s.by) {
                at = (s.by - SAME).max(half);
            }
            self.search = Some(s);
            return self.ask(at);
        }
        let base = self.base.as_ref();
        self.best = Some(Nearly {
            change: self.way,
            by: s.by,
            money: base.map(|b| (b.price - s.plan.price).max(0.0)),
            boards: base.map(|b| b.boards.len() as i64 - s.plan.boards.len() as i64),
            instance: self.changes[self.way].apply(&self.instance, s.by),
            plan: s.plan,
        });
    }

    /// The least amount at which these cuts still give all parts, at most `most`.
    fn needed(&self, boards: &[CutBoard], most: f64) -> f64 {
        let change = &self.changes[self.way];
        let (mut low, mut high) = (0.0, most);
        for _ in 0..40 {
            let at = (low + high) / 2.0;
            let job = change.apply(&self.instance, at);
            let fits = |cut: &CutBoard| {
                let room = job.usable(&job.boards[cut.board]);
                let need = extent(&job, cut);
                need.0 <= room.0 + WORKING / 2.0 && need.1 <= room.1 + WORKING / 2.0
            };
            if boards.iter().all(fits) {
                high = at;
            } else {
                low = at;
            }
        }
        high
    }
}

/// The size of a board's parts, closed up, with the kerfs between them.
fn extent(job: &Instance, cut: &CutBoard) -> (f64, f64) {
    let mut sizes: Vec<Option<(f64, f64)>> = vec![None; cut.pieces.len()];
    // What is cut from a piece comes after it.
    for (i, piece) in cut.pieces.iter().enumerate().rev() {
        sizes[i] = match piece.then {
            Then::Rest => None,
            Then::Part(p) => {
                let place = &cut.parts[p];
                Some(job.parts[place.part].extent(place.turned))
            }
            Then::Cut { saw, first, second, .. } => {
                match (first.and_then(|p| sizes[p]), second.and_then(|p| sizes[p])) {
                    (Some(a), Some(b)) => Some(match saw {
                        Saw::Crosscut => (a.0 + job.kerf + b.0, a.1.max(b.1)),
                        Saw::Rip => (a.0.max(b.0), a.1 + job.rip_kerf + b.1),
                    }),
                    (one, other) => one.or(other),
                }
            }
        };
    }
    sizes.first().copied().flatten().unwrap_or_default()
}
