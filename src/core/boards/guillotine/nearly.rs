//! Nearly fits: what a hair less on the parts, or a hair more on the boards, would save.

use super::super::instance::WORKING;
use super::instance::{Answer, CutBoard, Instance, Plan, Saw, Then};
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
        gives
            .chain([self.over])
            .fold(0.0, |m, g| m.max(g.0).max(g.1))
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
    let all = changes.last().filter(|c| c.most() > 0.0)?;
    let mut search = Search {
        instance,
        left: steps,
    };
    let most = search.solve(&all.apply(instance, f64::INFINITY), base, None)?;
    // A saving is one only if the job as it stands is known to cost more.
    let saves = base.is_none_or(|b| {
        most.price < b.bound - SAME
            || (b.proven_all && most.price <= b.bound + SAME && most.boards.len() < b.boards.len())
    });
    if !saves {
        return None;
    }
    let goal = (most.price, most.boards.len());
    for (i, change) in changes.iter().enumerate() {
        if change.most() <= 0.0 {
            continue;
        }
        let plan = if i + 1 == changes.len() {
            Some(most.clone())
        } else {
            search.solve(&change.apply(instance, f64::INFINITY), base, Some(goal))
        };
        if let Some(plan) = plan {
            let (by, plan) = search.least(change, plan, goal);
            return Some(Nearly {
                change: i,
                by,
                money: base.map(|b| (b.price - plan.price).max(0.0)),
                boards: base.map(|b| b.boards.len() as i64 - plan.boards.len() as i64),
                instance: change.apply(instance, by),
                plan,
            });
        }
    }
    None
}

struct Search<'a> {
    instance: &'a Instance,
    left: i64,
}

impl Search<'_> {
    /// The best plan of a changed job, or with a goal the first one that reaches it. None as soon as it is
    /// known to save nothing.
    fn solve(
        &mut self,
        job: &Instance,
        base: Option<&Plan>,
        goal: Option<(f64, usize)>,
    ) -> Option<Plan> {
        let mut planner = Planner::new(job.clone());
        let mut steps = STEPS.min(self.left);
        let (limit, slice) = match goal {
            Some(goal) => (goal.0, 2_000_000),
            None => (base.map_or(f64::INFINITY, |b| b.price), 10_000_000),
        };
        while steps > 0 {
            let now = planner.step(slice);
            steps -= slice;
            self.left -= slice;
            if now.bound > limit + SAME {
                return None;
            }
            let reached =
                |p: &Plan| goal.is_some_and(|g| p.price <= g.0 + SAME && p.boards.len() <= g.1);
            if now.best.as_ref().is_some_and(reached) || (goal.is_none() && now.done) {
                return now.best;
            }
            if now.done {
                return None;
            }
            if now.best.as_ref().is_some_and(|b| b.proven) {
                steps = steps.min(AFTER);
            }
        }
        match planner.answer() {
            Answer::Plan(plan) if goal.is_none() => Some(plan),
            _ => None,
        }
    }

    /// The least amount of a change for which a plan reaches the goal, and that plan.
    fn least(&mut self, change: &Change, plan: Plan, goal: (f64, usize)) -> (f64, Plan) {
        let (mut low, mut by, mut best) = (0.0, change.most(), plan);
        // First what the plan itself needs, then just below it, then halving what is open.
        let mut at = self.needed(change, &best.boards, by);
        for _ in 0..24 {
            if by - low <= SAME || self.left <= 0 {
                break;
            }
            if !(at > low && at < by) {
                at = (by - SAME).max((low + by) / 2.0);
            }
            match self.solve(&change.apply(self.instance, at), None, Some(goal)) {
                Some(plan) => {
                    by = at;
                    at = self.needed(change, &plan.boards, by);
                    best = plan;
                }
                None => {
                    low = at;
                    at = (low + by) / 2.0;
                }
            }
        }
        (by, best)
    }

    /// The least amount at which these cuts still give all parts, at most `most`.
    fn needed(&self, change: &Change, boards: &[CutBoard], most: f64) -> f64 {
        let (mut low, mut high) = (0.0, most);
        for _ in 0..40 {
            let at = (low + high) / 2.0;
            let job = change.apply(self.instance, at);
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
            Then::Cut {
                saw, first, second, ..
            } => match (first.and_then(|p| sizes[p]), second.and_then(|p| sizes[p])) {
                (Some(a), Some(b)) => Some(match saw {
                    Saw::Crosscut => (a.0 + job.kerf + b.0, a.1.max(b.1)),
                    Saw::Rip => (a.0.max(b.0), a.1 + job.rip_kerf + b.1),
                }),
                (one, other) => one.or(other),
            },
        };
    }
    sizes.first().copied().flatten().unwrap_or_default()
}
