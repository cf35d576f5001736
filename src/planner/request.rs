//! Plans a whole request in small steps, so that the caller can handle other messages in between, and stop.
//! Results go out as messages. Jobs are counted sticks first, then strips and sheets.
//!
//! The curve of batch sizes looks at 1 to 24.

use super::board::CutBoard;
use super::change::Change;
use super::cutting::{Cutting, PlanOf};
use super::guillotine;
use super::message::{About, Ask, Asked, Message, News};
use super::nearly::Nearing;
use super::outcome::{PlanAnswer, SAME};
use super::planner::Planner;
use super::sticks::{self, Instance};
use offsquare_units::num::Gather;

/// Largest batch of the curve of batch sizes.
pub const CURVE_MOST: u32 = 24;
/// How much bought boards may measure over their nominal length, and width, to be worth telling, in inches.
const OVER: (f64, f64) = (0.5, 0.125);
/// Steps for what nearly fits, with smaller parts and with larger boards each.
const NEARLY: i64 = 400_000_000;
/// Steps for one size of the curve.
const CURVE_STEPS: i64 = 40_000_000;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Phase {
    Plan,
    Plain,
    Nearly,
    Curve,
    End,
}

/// What a kind of cutting adds to the search for its plans.
trait Batched: Cutting {
    /// Whether the plain plan can differ from the cheapest.
    fn plainer(&self) -> bool;
    /// A plain plan that costs no more than this needs no further search.
    const PLAIN_ENOUGH: bool;
    /// Changes of the saw: a plain plan that is no cheaper and has no fewer is of no use.
    fn saw_changes(&self, plan: &PlanOf<Self>) -> Option<usize>;
    /// So many pieces instead of one; none where they are too many parts.
    fn times(&self, n: u64) -> Option<Self>;
    /// Changes that may make it nearly fit: smaller parts, then larger boards.
    fn ways(asked: &Asked<Self>) -> Vec<Vec<Change>>;
}

/// Quantities times `n`; none where they are too many.
fn multiplied<'q>(each: impl Iterator<Item = &'q mut u64>, n: u64, most: u64) -> Option<()> {
    let mut sum = 0u64;
    for qty in each {
        *qty = qty.saturating_mul(n);
        sum = sum.saturating_add(*qty);
    }
    (sum <= most).then_some(())
}

impl Batched for Instance {
    const PLAIN_ENOUGH: bool = false;

    fn plainer(&self) -> bool {
        self.parts.iter().any(|p| p.left != 0.0 || p.right != 0.0)
    }

    fn saw_changes(&self, _: &PlanOf<Instance>) -> Option<usize> {
        None
    }

    fn times(&self, n: u64) -> Option<Instance> {
        let mut job = self.clone();
        multiplied(job.parts.iter_mut().map(|p| &mut p.qty), n, super::MOST_PARTS)?;
        Some(job)
    }

    fn ways(asked: &Asked<Instance>) -> Vec<Vec<Change>> {
        let gives: Vec<f64> = asked.shorter.iter().map(|g| g.0).gather();
        sticks::changes(&gives, OVER.0)
    }
}

impl Batched for guillotine::Instance {
    const PLAIN_ENOUGH: bool = true;

    fn plainer(&self) -> bool {
        true
    }

    fn saw_changes(&self, plan: &PlanOf<Self>) -> Option<usize> {
        Some(guillotine::changes(self, &plan.boards))
    }

    fn times(&self, n: u64) -> Option<Self> {
        let mut job = self.clone();
        multiplied(job.parts.iter_mut().map(|p| &mut p.qty), n, super::MOST_PARTS)?;
        Some(job)
    }

    /// Lengths alone, widths alone, or both: off the parts, and onto the boards.
    fn ways(asked: &Asked<Self>) -> Vec<Vec<Change>> {
        let (job, shorter, narrower) = (&asked.rest, &asked.shorter, &asked.narrower);
        let both = shorter.iter().zip(narrower).map(|(s, n)| (s.0 + n.0, s.1 + n.1)).gather();
        let gives = |gives| Change { gives, ..Change::default() };
        // A part as wide as its board grows with it.
        let widest = job.boards.iter().map(|b| b.width).fold(0.0, f64::max);
        let grows = job.parts.iter().any(|p| p.width >= widest - 1e-6);
        let (long, wide) = (OVER.0, if grows { 0.0 } else { OVER.1 });
        let over = |over| Change { over, ..Change::default() };
        vec![
            vec![gives(shorter.clone()), gives(narrower.clone()), gives(both)],
            vec![over((long, 0.0)), over((0.0, wide)), over((long, wide))],
        ]
    }
}

/// One job being worked off, whatever is cut.
trait Task {
    /// Continues with the cheapest or the plain plan. Returns news, if there are any, and whether the plan is done.
    fn plan(&mut self, budget: i64, plain: bool) -> (Option<News>, bool);
    /// Continues with what nearly fits; returns what was found once everything has been examined.
    fn nearly(&mut self, budget: i64) -> Option<Option<News>>;
}

/// One stock of the curve of batch sizes.
trait Sizes {
    /// Continues with a batch of `n` pieces. Returns its price and boards once they are known: `Some(None)` if there is no
    /// plan.
    fn batch(&mut self, budget: i64, n: u64) -> Option<Option<(f64, Vec<CutBoard>)>>;
}

struct SizesTask<I: Batched> {
    one: I,
    planner: Option<Planner<I>>,
    /// Steps spent on the batch at hand.
    spent: i64,
}

impl<I: Batched + 'static> SizesTask<I> {
    fn boxed(one: I) -> Box<dyn Sizes> {
        Box::new(SizesTask { one, planner: None, spent: 0 })
    }
}

impl<I: Batched> Sizes for SizesTask<I> {
    fn batch(&mut self, budget: i64, n: u64) -> Option<Option<(f64, Vec<CutBoard>)>> {
        if self.planner.is_none() {
            self.spent = 0;
            let Some(job) = self.one.times(n) else { return Some(None) };
            self.planner = Some(Planner::new(job));
        }
        let now = self.planner.as_mut()?.step(budget);
        self.spent += budget;
        let proven = now.best.as_ref().is_some_and(|p| p.proven);
        if !(now.done || proven || self.spent >= CURVE_STEPS) {
            return None;
        }
        self.planner = None;
        let last = |mut cut: CutBoard| {
            cut.parts.drain(..cut.parts.len().saturating_sub(1));
            CutBoard { pieces: Vec::new(), ..cut }
        };
        Some(now.best.map(|p| (p.price, p.boards.into_iter().map(last).gather())))
    }
}

struct JobTask<I: Batched> {
    asked: Asked<I>,
    planner: Option<Planner<I>>,
    /// Price and bound as they were last told.
    told: (f64, f64),
    /// The cheapest plan, once its search is over.
    best: Option<PlanOf<I>>,
    /// No plan costs less: known before the plain plan is looked for.
    bound: f64,
    /// Whether the search for what nearly fits may start: the job has a plan, or is known to have none.
    known: bool,
    nearing: Option<Nearing<I>>,
}

impl<I: Batched + 'static> JobTask<I> {
    fn boxed(asked: Asked<I>) -> Box<dyn Task> {
        Box::new(JobTask {
            asked,
            planner: None,
            told: (f64::INFINITY, -1.0),
            best: None,
            bound: 0.0,
            known: false,
            nearing: None,
        })
    }

    /// Whether a plain plan is of no use beside the cheapest one.
    fn no_plainer(&self, plain: &PlanOf<I>) -> bool {
        let job = &self.asked.rest;
        self.best.as_ref().is_some_and(|best| {
            let changes = job.saw_changes(plain).zip(job.saw_changes(best));
            plain.price >= best.price - SAME && changes.is_some_and(|(p, b)| p >= b)
        })
    }
}

impl<I: Batched + 'static> Task for JobTask<I> {
    fn plan(&mut self, budget: i64, plain: bool) -> (Option<News>, bool) {
        let job = &self.asked.rest;
        if plain && !job.plainer() {
            return (Some(News::Same {}), true);
        }
        let planner = self.planner.get_or_insert_with(|| match plain {
            true => Planner::plain(job.clone()),
            false => Planner::new(job.clone()),
        });
        let now = planner.step(budget);
        let answer = if now.done { Some(planner.answer()) } else { None };
        let mut done = now.done;
        let facts = now.best.as_ref().map(|p| (p.price, p.bound));
        if let (true, true, Some(facts)) = (plain, I::PLAIN_ENOUGH, facts) {
            done |= facts.0 <= self.bound + SAME;
        }
        let news = match (&now.best, &answer) {
            (Some(best), _) if plain && done && self.no_plainer(best) => Some(News::Same {}),
            (Some(_), _) if !done && facts == Some(self.told) => None,
            (Some(best), _) => {
                self.told = facts.unwrap_or(self.told);
                Some(News::Plan { plain, done, plan: best.without_leftover() })
            }
            (None, None) => None,
            (None, Some(PlanAnswer::Open)) => Some(News::Open { plain }),
            (None, Some(PlanAnswer::Infeasible { part, .. })) => {
                Some(News::None { plain, part: *part })
            }
            (None, Some(_)) => Some(News::None { plain, part: None }),
        };
        if done {
            self.planner = None;
            self.told = (f64::INFINITY, -1.0);
            if !plain {
                self.bound = facts.map_or(0.0, |f| f.1);
                self.known = now.best.is_some() || !matches!(answer, Some(PlanAnswer::Open));
                self.best = now.best;
            }
        }
        (news, done)
    }

    fn nearly(&mut self, budget: i64) -> Option<Option<News>> {
        if !self.known || !self.asked.rest.wanted() {
            return Some(None);
        }
        let asked = &self.asked;
        let nearing = self.nearing.get_or_insert_with(|| {
            Nearing::new(&asked.rest, self.best.take(), I::ways(asked), NEARLY)
        });
        if !nearing.step(budget) {
            return None;
        }
        let news = nearing.found().map(|found| News::Nearly {
            over: found.over,
            long: found.change != 1,
            wide: found.change != 0,
            by: found.by,
            money: found.money,
            boards: found.boards,
        });
        self.nearing = None;
        self.known = false;
        Some(news)
    }
}

/// One request being worked off.
pub struct Request {
    id: u32,
    curve: u32,
    jobs: Vec<Box<dyn Task>>,
    /// One piece by itself, by stock.
    sizes: Vec<Box<dyn Sizes>>,
    phase: Phase,
    /// Which of the jobs, or in the curve which of the sizes.
    job: usize,
    batch: u32,
    batch_cost: f64,
    ends: Vec<Vec<CutBoard>>,
}

impl Request {
    pub fn new(ask: Ask) -> Request {
        let sticks = ask.sticks.into_iter().map(JobTask::boxed);
        let jobs = sticks.chain(ask.rectangles.into_iter().map(JobTask::boxed)).gather();
        let sticks = ask.one_sticks.into_iter().map(SizesTask::boxed);
        let sizes = sticks.chain(ask.one_rectangles.into_iter().map(SizesTask::boxed)).gather();
        Request {
            id: ask.id,
            curve: ask.curve.min(CURVE_MOST),
            jobs,
            sizes,
            phase: Phase::Plan,
            job: 0,
            batch: 1,
            batch_cost: 0.0,
            ends: Vec::new(),
        }
    }

    /// The id of the request, which every message about it bears.
    pub fn id(&self) -> u32 {
        self.id
    }

    /// Whether the request is finished.
    pub fn is_done(&self) -> bool {
        self.phase == Phase::End
    }

    /// Continues for about `budget` of the planner's steps; returns the messages to send.
    pub fn step(&mut self, budget: i64) -> Vec<Message> {
        let mut out = Vec::new();
        let (plain, job) = (self.phase == Phase::Plain, self.job);
        match (self.phase, self.jobs.get_mut(job)) {
            (Phase::End, _) => {}
            (Phase::Curve, _) => self.size(budget, &mut out),
            (Phase::Nearly, Some(task)) => {
                if let Some(news) = task.nearly(budget) {
                    out.extend(news.map(|news| About::Job { job, news }));
                    self.go_on(&mut out);
                }
            }
            (_, Some(task)) => {
                let (news, done) = task.plan(budget, plain);
                out.extend(news.map(|news| About::Job { job, news }));
                if done {
                    self.go_on(&mut out);
                }
            }
            (_, None) => self.go_on(&mut out),
        }
        out.into_iter().map(|about| Message { id: self.id, about }).gather()
    }

    /// On to the next job, or the next phase.
    fn go_on(&mut self, out: &mut Vec<About>) {
        self.job += 1;
        if self.job < self.jobs.len() {
            return;
        }
        self.job = 0;
        self.phase = match self.phase {
            Phase::Plan => Phase::Plain,
            Phase::Plain => Phase::Nearly,
            Phase::Nearly if self.curve > 1 && !self.sizes.is_empty() => Phase::Curve,
            _ => return self.finish(out),
        };
    }

    /// Reports the cost of a batch once every stock's price is known. If one has no price, nothing is reported for this
    /// batch or for larger ones.
    fn size(&mut self, budget: i64, out: &mut Vec<About>) {
        let task = self.sizes.get_mut(self.job);
        let Some(found) = task.and_then(|t| t.batch(budget, u64::from(self.batch))) else { return };
        let Some((price, boards)) = found else { return self.finish(out) };
        self.batch_cost += price;
        self.ends.push(boards);
        self.job += 1;
        if self.job < self.sizes.len() {
            return;
        }
        let ends = core::mem::take(&mut self.ends);
        out.push(About::Curve { pieces: self.batch, cost: self.batch_cost, ends });
        self.job = 0;
        self.batch_cost = 0.0;
        self.batch += 1;
        if self.batch > self.curve {
            self.finish(out);
        }
    }

    fn finish(&mut self, out: &mut Vec<About>) {
        self.phase = Phase::End;
        out.push(About::End {});
    }
}
