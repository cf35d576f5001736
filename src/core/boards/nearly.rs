//! Nearly fits: what a hair less on the parts, or a hair more on the boards, would save.

use super::ends;
use super::instance::{Answer, Instance, Plan, WORKING};
use super::planner::Planner;

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

/// Steps for one plan.
const STEPS: i64 = 150_000_000;
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
    if !instance.check().is_empty() {
        return None;
    }
    let gives: Vec<f64> = instance
        .parts
        .iter()
        .enumerate()
        .map(|(i, _)| room_to_give(instance, i, gives.get(i).copied().unwrap_or(0.0)))
        .collect();
    let over = if over > 0.0 && over.is_finite() {
        over
    } else {
        0.0
    };
    let most = gives.iter().copied().fold(0.0, f64::max);
    if most <= 0.0 && over <= 0.0 {
        return None;
    }
    let base = solved(instance);
    let mut best: Option<Nearly> = None;
    for (way, most) in [(Way::Shorten, most), (Way::Over, over)] {
        if most <= 0.0 {
            continue;
        }
        let question = Question {
            instance,
            gives: &gives,
            way,
        };
        let Some(found) = question.answer(base.as_ref(), most) else {
            continue;
        };
        let key = |n: &Nearly| (n.plan.price, n.plan.boards.len());
        if best.as_ref().is_none_or(|b| {
            key(&found).0 < key(b).0 - SAME
                || (key(&found).0 <= key(b).0 + SAME && key(&found).1 < key(b).1)
        }) {
            best = Some(found);
        }
    }
    best
}

struct Question<'a> {
    instance: &'a Instance,
    gives: &'a [f64],
    way: Way,
}

impl Question<'_> {
    fn answer(&self, base: Option<&Plan>, most: f64) -> Option<Nearly> {
        let mut plan = solved(&self.changed(most))?;
        // A saving is one only if the job as it stands is known to cost more.
        let saves = base.is_none_or(|b| {
            let money = plan.price < b.bound - SAME;
            let board = plan.price <= b.bound + SAME && plan.boards.len() < b.boards.len();
            money || (board && b.proven)
        });
        if !saves {
            return None;
        }
        let goal = (plan.price, plan.boards.len());
        let mut by = self.least(&plan, most);
        let (mut low, mut least) = (0.0, true);
        // First just below what the plan needs, then halving what is open.
        let mut at = by - SAME;
        for _ in 0..24 {
            if at <= low || by - low <= SAME {
                break;
            }
            let tried = solved(&self.changed(at));
            match tried {
                Some(p) if p.price <= goal.0 + SAME && p.boards.len() <= goal.1 => {
                    by = self.least(&p, at);
                    plan = p;
                }
                Some(p) => {
                    least &= p.bound > goal.0 + SAME || p.proven_all;
                    low = at;
                }
                None => low = at,
            }
            at = (low + by) / 2.0;
        }
        let changed = self.changed(by);
        // The plan was made at a larger amount; its places close up at this one.
        let plan = match solved(&changed) {
            Some(p) if p.price <= goal.0 + SAME && p.boards.len() <= goal.1 => p,
            _ => {
                let mut p = plan;
                close_up(&changed, &mut p);
                p
            }
        };
        super::verify(&changed, &plan.boards).ok()?;
        Some(Nearly {
            way: self.way,
            by,
            least,
            shortened: match self.way {
                Way::Shorten => self.gives.iter().map(|g| g.min(by)).collect(),
                Way::Over => vec![0.0; self.gives.len()],
            },
            money: base.map(|b| (b.price - plan.price).max(0.0)),
            boards: base.map(|b| b.boards.len() as i64 - plan.boards.len() as i64),
            instance: changed,
            plan,
        })
    }

    /// The job with parts that are shorter, or bought boards that are longer, by up to `by`.
    fn changed(&self, by: f64) -> Instance {
        let mut job = self.instance.clone();
        match self.way {
            Way::Shorten => {
                for (part, give) in job.parts.iter_mut().zip(self.gives) {
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
        let job = self.instance;
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
                        board.parts.iter().map(|p| self.gives[p.part]).collect();
                    share(&mut gives, short)
                }
            };
            need = need.max(amount);
        }
        need.min(most)
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
    let (left, right) = (
        ends::reach(instance.width, part.left),
        ends::reach(instance.width, part.right),
    );
    let a = part.length + left.min(0.0) + right.min(0.0);
    let b = part.length - left.max(0.0) - right.max(0.0);
    give.min(a).min(b).min(part.length * 0.999).max(0.0)
}

fn solved(job: &Instance) -> Option<Plan> {
    let mut planner = Planner::new(job.clone());
    for _ in 0..16 {
        if planner.step(STEPS / 16).done {
            break;
        }
    }
    match planner.answer() {
        Answer::Plan(plan) => Some(plan),
        _ => None,
    }
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
