//! What the page knows of its plans: messages come in, the newest of each job stands.

use super::wire::{Words, read_plan, read_rip, write_jobs};
use super::{CURVE_MOST, Jobs};
use crate::boards::guillotine;
use crate::boards::{CutBoard, Plan};
use crate::units::{Length, Money};

/// What is known of one plan of one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Outcome {
    #[default]
    Waiting,
    Plan(Plan),
    /// No plan exists; the part (index into the job's parts) that fits on no board, if it is one.
    None(Option<usize>),
    /// The search ended without a plan, and without a proof that there is none.
    Open,
}

/// A small change that saves a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Close {
    /// Bought boards measure this much over; otherwise parts are shortened.
    pub over: bool,
    pub by: Length,
    pub money: Option<Money>,
    pub boards: Option<i64>,
    /// By part of the job.
    pub shortened: Vec<f64>,
}

/// All that is known of one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Result {
    pub best: Outcome,
    pub plain: Outcome,
    pub close: Option<Close>,
    /// The search for the cheapest plan is over.
    pub done: bool,
}

/// What is known of one job in strips.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RipResult {
    pub best: Option<guillotine::Plan>,
    /// There is no plan: the part that fits on no board, if it is one.
    pub none: Option<Option<usize>>,
    pub done: bool,
}

/// All that is known of a request.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Planned {
    pub id: u32,
    pub results: Vec<Result>,
    pub rips: Vec<RipResult>,
    pub running: bool,
    pub stopped: bool,
    /// What a batch of each size costs.
    pub curve: Vec<(u32, Money)>,
}

/// Cents as they come from the planner.
fn cents(price: f64) -> Money {
    Money(crate::num::round_half_up(price) as i64)
}

impl Planned {
    /// Waits for the answers to a new request.
    pub fn new(id: u32, jobs: &Jobs) -> Planned {
        Planned {
            id,
            results: vec![Result::default(); jobs.jobs.len()],
            rips: vec![RipResult::default(); jobs.rips.len()],
            running: !jobs.jobs.is_empty() || !jobs.rips.is_empty(),
            ..Planned::default()
        }
    }

    /// The request itself; with a curve of batch sizes up to `curve` (0: none).
    pub fn request(&self, jobs: &Jobs, curve: u32) -> String {
        write_jobs(self.id, jobs, curve.min(CURVE_MOST))
    }

    /// Takes a message in; false where it belongs to another request, or is none.
    pub fn hear(&mut self, message: &str) -> bool {
        let mut words = Words::of(message);
        let Some(kind) = words.word() else {
            return false;
        };
        if words.number() != Some(self.id) || self.stopped {
            return false;
        }
        self.take(kind, &mut words).is_some()
    }

    fn take(&mut self, kind: &str, words: &mut Words) -> Option<()> {
        match kind {
            "end" => self.running = false,
            "rip" | "norip" => {
                let result = self.rips.get_mut(words.count()?)?;
                if kind == "rip" {
                    result.done = words.number::<u8>()? == 1;
                    result.best = Some(read_rip(words)?);
                } else {
                    result.done = true;
                    result.none = Some(words.maybe()?);
                }
            }
            "curve" => {
                let (n, cost) = (words.number()?, words.number()?);
                self.curve.push((n, cents(cost)));
            }
            _ => {
                let result = self.results.get_mut(words.count()?)?;
                match kind {
                    "best" => {
                        result.done = words.number::<u8>()? == 1;
                        result.best = Outcome::Plan(read_plan(words)?);
                    }
                    "plain" => {
                        words.number::<u8>()?;
                        result.plain = Outcome::Plan(read_plan(words)?);
                    }
                    "same" => result.plain = result.best.clone(),
                    "nonebest" => {
                        result.done = true;
                        result.best = Outcome::None(words.maybe()?);
                    }
                    "openbest" => {
                        result.done = true;
                        result.best = Outcome::Open;
                    }
                    "openplain" => result.plain = Outcome::Open,
                    "noneplain" => result.plain = Outcome::None(words.maybe()?),
                    "nearly" => {
                        result.close = Some(Close {
                            over: words.number::<u8>()? == 1,
                            by: Length(words.number()?),
                            money: words.maybe::<f64>()?.map(cents),
                            boards: words.maybe()?,
                            shortened: std::iter::from_fn(|| words.number()).collect(),
                        });
                    }
                    _ => return None,
                }
            }
        }
        Some(())
    }

    /// The search is over because the maker says so; what was found stands, what comes later is dropped.
    pub fn stop(&mut self) {
        self.running = false;
        self.stopped = true;
    }

    /// The chosen plan of a job: its boards, those that are kept first; none until there is one.
    pub fn boards(&self, jobs: &Jobs, job: usize, plain: bool) -> Option<Vec<CutBoard>> {
        let plan = self.plan(job, plain)?;
        let kept = jobs.jobs.get(job)?.kept.iter().map(|k| k.1.clone());
        Some(kept.chain(plan.boards.iter().cloned()).collect())
    }

    /// The chosen plan of a job, without its kept boards.
    pub fn plan(&self, job: usize, plain: bool) -> Option<&Plan> {
        let result = self.results.get(job)?;
        match if plain { &result.plain } else { &result.best } {
            Outcome::Plan(plan) => Some(plan),
            _ => None,
        }
    }

    /// The plan of a job in strips.
    pub fn rip(&self, job: usize) -> Option<&guillotine::Plan> {
        self.rips.get(job)?.best.as_ref()
    }

    /// Every job has a plan, or is known to have none.
    pub fn is_whole(&self) -> bool {
        self.results.iter().all(|r| r.best != Outcome::Waiting)
            && self
                .rips
                .iter()
                .all(|r| r.best.is_some() || r.none.is_some())
    }

    /// Whether a cheaper plan is still looked for.
    pub fn searches(&self) -> bool {
        self.running && (self.results.iter().any(|r| !r.done) || self.rips.iter().any(|r| !r.done))
    }

    /// The search was ended before it was over.
    pub fn cut_short(&self) -> bool {
        self.stopped && (self.results.iter().any(|r| !r.done) || self.rips.iter().any(|r| !r.done))
    }

    /// What all chosen plans cost together; none until every job has one.
    pub fn money(&self, jobs: &Jobs, plain: bool) -> Option<Money> {
        let mut sum = Money::ZERO;
        for (i, job) in jobs.jobs.iter().enumerate() {
            let boards = self.boards(jobs, i, plain)?;
            sum = sum + boards.iter().map(|b| job.boards[b.board].price).sum();
        }
        for i in 0..jobs.rips.len() {
            sum = sum + cents(self.rip(i)?.price);
        }
        Some(sum)
    }

    /// No plan costs less than this (kept boards as they are).
    pub fn bound(&self, jobs: &Jobs) -> Option<Money> {
        let mut sum = Money::ZERO;
        for (i, job) in jobs.jobs.iter().enumerate() {
            let bound = self.plan(i, false)?.bound;
            let kept: Money = job.kept.iter().map(|k| job.boards[k.1.board].price).sum();
            sum = sum + kept + Money(crate::num::ceil(bound - 1e-6) as i64);
        }
        for i in 0..jobs.rips.len() {
            sum = sum + Money(crate::num::ceil(self.rip(i)?.bound - 1e-6) as i64);
        }
        Some(sum)
    }
}
