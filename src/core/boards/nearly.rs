//! Nearly fits: what a hair less on the parts, or a hair more on the boards, would save.

use super::ends;
use super::instance::{Answer, Instance, Plan, WORKING};
use super::planner::Planner;
use crate::num::Gather;

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Parts that may give are cut shorter.
    Shorten,
    /// Bought boards measure over their nominal length.
    Over,
}

/// What a small change saves.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearly {
    pub way: Way,
    /// The least change that does it, in the job's unit: no part is shortened by more (and none by more than
    /// it may give), or every bought board must be this much longer than nominal.
    pub by: f64,
    /// Whether less than `by` (to 1e-6) is proven not to do it.
    pub least: bool,
    /// How much each part kind is shortened.
    pub shortened: Vec<f64>,
    /// Money saved; none if there was no plan at all without the change.
    pub money: Option<f64>,
    /// Boards saved (below 0 where more, but cheaper, boards are used).
    pub boards: Option<i64>,
    /// The job with the change, and its plan.
    pub instance: Instance,
    pub plan: Plan,
}

/// Steps for one plan, and for all of them.
const STEPS: i64 = 150_000_000;
const ALL: i64 = 1_500_000_000;
/// Plans at most for the least amount.
const PLANS: usize = 24;
/// Amounts nearer than this are the same.
const SAME: f64 = 1e-6;

/// Whether shortening the parts by at most `gives` (by part kind, in the job's unit; a missing entry gives
/// nothing), or boards that measure over nominal by at most `over`, saves money, or a board at the same
/// money, and by how much at least. If both ways save, the one that saves more; if the same, shortening.
///
/// ```
/// use offsquare_core::boards::{BoardKind, Instance, PartKind, Way, nearly};
/// // Three 32 in slats and two kerfs are 96 1/4 in: 1/12 in less each, and one 8 ft board does.
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 3, 32.0)],
/// };
/// let found = nearly(&job, &[0.125], 0.0).unwrap();
/// assert_eq!((found.way, found.boards), (Way::Shorten, Some(1)));
/// assert!((found.by - 0.25 / 3.0).abs() < 1e-6);
/// assert!(nearly(&job, &[0.0625], 0.0).is_none());
/// let found = nearly(&job, &[], 0.5).unwrap();
/// assert!(found.way == Way::Over && (found.by - 0.25).abs() < 1e-6);
/// ```
pub fn nearly(instance: &Instance, gives: &[f64], over: f64) -> Option<Nearly> {
    let mut base = Planner::new(instance.clone());
    let mut spent = 0;
    while spent < STEPS && !base.step(STEPS / 16).done {
        spent += STEPS / 16;
    }
    let base = match base.answer() {
        Answer::Plan(plan) => Some(plan),
        _ => None,
    };
    let mut question = Nearing::new(instance, gives, over, base);
    while !question.step(STEPS) {}
    question.best
}

/// The question of [`nearly`] in small steps, beside a plan that is known.
pub struct Nearing {
    instance: Instance,
    gives: Vec<f64>,
    base: Option<Plan>,
    /// Ways that are still to be asked about, with the most of each; the next one last.
    ways: Vec<(Way, f64)>,
    way: Way,
    /// The least amount is looked for between what is known not to do and what does.
    search: Option<Search>,
    planner: Option<Box<Planner>>,
    /// The amount that is being planned.
    at: f64,
    spent: i64,
    left: i64,
    best: Option<Nearly>,
}

struct Search {
    low: f64,
    by: f64,
    least: bool,
    plan: Plan,
    tries: usize,
}

impl Nearing {
    /// `base` is the best plan known for the job as it stands, none if it is known to have none.
    pub fn new(instance: &Instance, gives: &[f64], over: f64, base: Option<Plan>) -> Nearing {
        let sound = instance.check().is_empty();
        let gives: Vec<f64> = (0..instance.parts.len())
            .map(|i| room_to_give(instance, i, gives.get(i).copied().unwrap_or(0.0)))
            .gather();
        let most = gives.iter().copied().fold(0.0, f64::max);
        let over = if over.is_finite() { over } else { 0.0 };
        let mut ways = vec![(Way::Over, over), (Way::Shorten, most)];
        ways.retain(|w| sound && w.1 > 0.0);
        let mut nearing = Nearing {
            instance: instance.clone(),
            gives,
            base,
            ways,
            way: Way::Shorten,
            search: None,
            planner: None,
            at: 0.0,
            spent: 0,
            left: ALL,
            best: None,
        };
        nearing.turn();
        nearing
    }

    /// What was found, once `step` says so.
    pub fn found(&self) -> Option<&Nearly> {
        self.best.as_ref()
    }

    /// The next way, or the end.
    fn turn(&mut self) {
        self.search = None;
        self.planner = None;
        if let Some((way, most)) = self.ways.pop() {
            self.way = way;
            self.ask(most);
        }
    }

    fn ask(&mut self, at: f64) {
        self.at = at;
        self.spent = 0;
        self.planner = Some(Box::new(Planner::new(self.changed(at))));
    }

    /// Goes on for about `budget` of the planner's steps; true when all is asked.
    pub fn step(&mut self, budget: i64) -> bool {
        let Some(planner) = &mut self.planner else {
            return true;
        };
        let budget = budget.clamp(1, STEPS / 16);
        let progress = planner.step(budget);
        self.spent += budget;
        self.left -= budget;
        // What costs more than it is to cost, or is as good as it is to be, needs no more planning.
        let settled = self.search.as_ref().is_some_and(|s| {
            progress.bound > s.plan.price + SAME
                || progress.best.as_ref().is_some_and(|b| s.matched(b))
        });
        if progress.done || settled || self.spent >= STEPS {
            let (plan, none) = match planner.answer() {
                Answer::Plan(plan) => (Some(plan), false),
                answer => (None, answer != Answer::Open),
            };
            let dearer = |s: &Search| progress.bound > s.plan.price + SAME;
            let sure = none
                || self.search.as_ref().is_some_and(dearer)
                || plan.as_ref().is_some_and(|p| p.proven_all);
            self.take(plan, sure);
        } else if self.left <= 0 {
            self.take(None, false);
        }
        self.planner.is_none()
    }

    /// What the amount asked for gave (`sure`: if it does not do, that is proven); on to the next one.
    fn take(&mut self, plan: Option<Plan>, sure: bool) {
        match self.search.take() {
            None => {
                let Some(plan) = plan.filter(|p| self.saves(p)) else {
                    return self.turn();
                };
                self.search = Some(Search {
                    low: 0.0,
                    by: self.least(&plan, self.at),
                    least: true,
                    plan,
                    tries: 0,
                });
            }
            Some(mut s) => {
                match plan {
                    Some(p) if s.matched(&p) => {
                        s.by = self.least(&p, self.at);
                        s.plan = p;
                    }
                    _ => {
                        s.least &= sure;
                        s.low = self.at;
                    }
                }
                s.tries += 1;
                self.search = Some(s);
            }
        }
        let Some(s) = &self.search else { return };
        // First just below what the plan needs, then halving what is open.
        let at = match s.tries {
            0 => s.by - SAME,
            _ => (s.low + s.by) / 2.0,
        };
        let near = at <= s.low || s.by - s.low <= SAME;
        if near || s.tries >= PLANS || self.left <= 0 {
            self.settle();
            self.turn();
        } else {
            self.ask(at);
        }
    }

    /// A saving is one only if the job as it stands is known to cost more.
    fn saves(&self, plan: &Plan) -> bool {
        self.base.as_ref().is_none_or(|b| {
            let money = plan.price < b.bound - SAME;
            let board = plan.price <= b.bound + SAME && plan.boards.len() < b.boards.len();
            money || (board && b.proven)
        })
    }

    /// Keeps what was found this way if it is the better one.
    fn settle(&mut self) {
        let Some(Search { by, mut plan, least, low, .. }) = self.search.take() else {
            return;
        };
        let changed = self.changed(by);
        // The plan was made at a larger amount; its places close up at this one.
        close_up(&changed, &mut plan);
        if super::verify(&changed, &plan.boards).is_err() {
            return;
        }
        let key = |n: &Plan| (n.price, n.boards.len());
        let better = self.best.as_ref().is_none_or(|b| {
            let (new, old) = (key(&plan), key(&b.plan));
            new.0 < old.0 - SAME || (new.0 <= old.0 + SAME && new.1 < old.1)
        });
        if !better {
            return;
        }
        let base = self.base.as_ref();
        self.best = Some(Nearly {
            way: self.way,
            by,
            least: least && by - low <= 2.0 * SAME,
            shortened: match self.way {
                Way::Shorten => self.gives.iter().map(|g| g.min(by)).gather(),
                Way::Over => vec![0.0; self.gives.len()],
            },
            money: base.map(|b| (b.price - plan.price).max(0.0)),
            boards: base.map(|b| b.boards.len() as i64 - plan.boards.len() as i64),
            instance: changed,
            plan,
        });
    }

    /// The job with parts that are shorter, or bought boards that are longer, by up to `by`.
    fn changed(&self, by: f64) -> Instance {
        let mut job = self.instance.clone();
        match self.way {
            Way::Shorten => {
                for (part, give) in job.parts.iter_mut().zip(&self.gives) {
                    part.length -= give.min(by);
                }
            }
            Way::Over => {
                for board in job.boards.iter_mut().filter(|b| b.price > 0.0) {
                    board.length += by;
                }
            }
        }
        job
    }

    /// The least amount at which every board of the plan still holds its parts.
    fn least(&self, plan: &Plan, most: f64) -> f64 {
        let job = &self.instance;
        let mut need = 0.0f64;
        for board in &plan.boards {
            let kind = &job.boards[board.board];
            let mut extent = 0.0;
            let mut before: Option<f64> = None;
            for p in &board.parts {
                let part = &job.parts[p.part];
                let (l, r) = ends::lying(part.left, part.right, p.turned, p.flipped);
                if let Some(a) = before {
                    extent += ends::separation(job.width, job.kerf, a, l);
                }
                extent += part.length;
                before = Some(r);
            }
            let short = extent - (kind.length - 2.0 * job.trim);
            if short <= WORKING {
                continue;
            }
            let amount = match self.way {
                Way::Over => short,
                Way::Shorten => {
                    let mut gives: Vec<f64> =
                        board.parts.iter().map(|p| self.gives[p.part]).gather();
                    share(&mut gives, short)
                }
            };
            need = need.max(amount);
        }
        need.min(most)
    }
}

impl Search {
    /// Whether a plan costs no more, and takes no more boards, than the one that saves.
    fn matched(&self, plan: &Plan) -> bool {
        plan.price <= self.plan.price + SAME && plan.boards.len() <= self.plan.boards.len()
    }
}

/// The least d for which the sum of min(d, give) reaches `short`.
fn share(gives: &mut [f64], short: f64) -> f64 {
    crate::num::sort(gives);
    let mut rest = short;
    let n = gives.len();
    for (i, &give) in gives.iter().enumerate() {
        let each = rest / (n - i) as f64;
        if each <= give {
            return each;
        }
        rest -= give;
    }
    gives.last().copied().unwrap_or(0.0)
}

/// What a part can lose before its ends cross, and no more than it may give.
fn room_to_give(instance: &Instance, i: usize, give: f64) -> f64 {
    let part = &instance.parts[i];
    if !(give > 0.0 && give.is_finite()) {
        return 0.0;
    }
    let (left, right) =
        (ends::reach(instance.width, part.left), ends::reach(instance.width, part.right));
    let a = part.length + left.min(0.0) + right.min(0.0);
    let b = part.length - left.max(0.0) - right.max(0.0);
    give.min(a).min(b).min(part.length * 0.999).max(0.0)
}

/// Moves every part as far left as it goes.
fn close_up(job: &Instance, plan: &mut Plan) {
    for board in &mut plan.boards {
        let mut tip = job.trim;
        let mut before: Option<f64> = None;
        for p in &mut board.parts {
            let part = &job.parts[p.part];
            let (l, r) = ends::lying(part.left, part.right, p.turned, p.flipped);
            if let Some(a) = before {
                tip += ends::separation(job.width, job.kerf, a, l);
            }
            p.x = tip;
            tip += part.length;
            before = Some(r);
        }
    }
    if let Ok(facts) = super::verify(job, &plan.boards) {
        plan.leftover = facts.leftover.max(0.0);
        plan.proven_all = false;
    }
}
