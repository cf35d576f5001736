//! The planner's work for a whole parts list in small steps, so that whoever runs it can listen in
//! between, and stop. What is found goes out in messages.

use super::wire::{Wanted, Words, read_jobs, write_plan};
use crate::boards::{Answer, Instance, MOST_PARTS, Planner, nearly, squared};
use crate::units::Length;
use std::fmt::Write;

/// Largest batch of the curve of batch sizes.
pub const CURVE_MOST: u32 = 24;
/// How much a bought board may measure over its nominal length to be worth telling.
pub(super) const OVER: Length = Length(0.5);
/// A job that is proven within so many steps is asked what nearly fits.
const QUICK: i64 = 90_000_000;
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

/// One request being worked off.
///
/// ```
/// use offsquare_core::cutlist::{Entry, Jobs, Planned, Run};
/// use offsquare_core::{rack::Rack, units::{Length, Money}};
/// let rail = Entry { id: 1, count: 3, stock: Some(2), length: Length(32.0), ..Entry::default() };
/// let jobs = Jobs::of(&[rail], &Rack::default(), Length(0.125), 1, &[]);
/// let mut planned = Planned::new(7, &jobs);
/// let mut run = Run::new(&planned.request(&jobs, 0)).unwrap();
/// while !run.is_done() {
///     for message in run.step(5_000_000) {
///         planned.hear(&message);
///     }
/// }
/// // Three 32 in rails and two kerfs are 96 1/4 in, too long for 8 ft at $4.19: one of 10 ft.
/// assert_eq!(planned.money(&jobs, false), Some(Money(548)));
/// ```
pub struct Run {
    id: u32,
    curve: u32,
    jobs: Vec<Wanted>,
    phase: Phase,
    job: usize,
    planner: Option<Box<Planner>>,
    /// Price and bound as they were last told.
    told: (f64, f64),
    /// Steps spent on the job at hand.
    spent: i64,
    /// Jobs that were proven quickly: what nearly fits asks for many plans more.
    quick: Vec<bool>,
    batch: u32,
    batch_cost: f64,
    batch_spent: i64,
}

impl Run {
    /// Reads a request; none where it is not one.
    pub fn new(request: &str) -> Option<Run> {
        let mut words = Words::of(request);
        if words.word()? != "plan" {
            return None;
        }
        Some(Run {
            id: words.number()?,
            curve: words.number::<u32>()?.min(CURVE_MOST),
            jobs: read_jobs(&mut words)?,
            phase: Phase::Plan,
            job: 0,
            planner: None,
            told: (f64::INFINITY, -1.0),
            spent: 0,
            quick: Vec::new(),
            batch: 1,
            batch_cost: 0.0,
            batch_spent: 0,
        })
    }

    pub fn id(&self) -> u32 {
        self.id
    }

    pub fn is_done(&self) -> bool {
        self.phase == Phase::End
    }

    /// Works on for about `budget` of the planner's steps; gives what there is to tell.
    pub fn step(&mut self, budget: i64) -> Vec<String> {
        let mut out = Vec::new();
        match self.phase {
            Phase::Plan => self.plan(budget, false, &mut out),
            Phase::Plain => self.plan(budget, true, &mut out),
            Phase::Nearly => self.nearly(&mut out),
            Phase::Curve => self.curve(budget, &mut out),
            Phase::End => {}
        }
        out
    }

    fn go_on(&mut self, out: &mut Vec<String>) {
        self.planner = None;
        self.told = (f64::INFINITY, -1.0);
        self.spent = 0;
        self.job += 1;
        if self.job < self.jobs.len() {
            return;
        }
        self.job = 0;
        self.phase = match self.phase {
            Phase::Plan => Phase::Plain,
            Phase::Plain => Phase::Nearly,
            Phase::Nearly if self.curve > 1 => Phase::Curve,
            _ => Phase::End,
        };
        match self.phase {
            // This one cannot listen while it works.
            Phase::Nearly => out.push(format!("nearing {}", self.id)),
            Phase::End => out.push(format!("end {}", self.id)),
            _ => {}
        }
    }

    fn plan(&mut self, budget: i64, plain: bool, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        let word = if plain { "plain" } else { "best" };
        let Some(wanted) = self.jobs.get(job) else {
            self.phase = Phase::End;
            out.push(format!("end {id}"));
            return;
        };
        if plain && !has_miters(&wanted.rest) {
            out.push(format!("same {id} {job}"));
            self.go_on(out);
            return;
        }
        let planner = self.planner.get_or_insert_with(|| {
            Box::new(Planner::new(if plain {
                squared(&wanted.rest)
            } else {
                wanted.rest.clone()
            }))
        });
        let progress = planner.step(budget);
        self.spent += budget;
        if !progress.done {
            if let Some(best) = progress.best {
                let now = (best.price, best.bound);
                if now != self.told {
                    self.told = now;
                    out.push(format!("{word} {id} {job} 0 {}", write_plan(&best)));
                }
            }
            return;
        }
        let answer = planner.answer();
        if !plain {
            // A job without a plan may nearly have one.
            let proven = !matches!(&answer, Answer::Plan(p) if !p.proven) && answer != Answer::Open;
            self.quick.push(proven && self.spent <= QUICK);
        }
        out.push(match answer {
            Answer::Plan(plan) => format!("{word} {id} {job} 1 {}", write_plan(&plan)),
            Answer::Infeasible { part, .. } => {
                let part = part.map_or_else(|| "-".to_owned(), |p| p.to_string());
                format!("none{word} {id} {job} {part}")
            }
            Answer::Invalid(_) => format!("none{word} {id} {job} -"),
            Answer::Open => format!("open{word} {id} {job}"),
        });
        self.go_on(out);
    }

    fn nearly(&mut self, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        if let Some(wanted) = self.jobs.get(job)
            && wanted.rest.parts.iter().any(|p| p.qty > 0)
            && self.quick.get(job) == Some(&true)
            && let Some(found) = nearly(&wanted.rest, &wanted.gives, OVER.0)
        {
            let over = u8::from(found.way == crate::boards::Way::Over);
            let maybe = |n: Option<String>| n.unwrap_or_else(|| "-".to_owned());
            let mut line = format!(
                "nearly {id} {job} {over} {} {} {}",
                found.by,
                maybe(found.money.map(|m| m.to_string())),
                maybe(found.boards.map(|b| b.to_string()))
            );
            for s in &found.shortened {
                let _ = write!(line, " {s}");
            }
            out.push(line);
        }
        self.go_on(out);
    }

    /// The next stretch of the curve: what a batch of each size costs, job by job.
    fn curve(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, n) = (self.id, self.batch);
        let total = |w: &Wanted| {
            w.one
                .parts
                .iter()
                .fold(0u64, |sum, p| sum.saturating_add(p.qty))
                .saturating_mul(u64::from(n))
        };
        let Some(wanted) = self.jobs.get(self.job).filter(|w| total(w) <= MOST_PARTS) else {
            self.phase = Phase::End;
            out.push(format!("end {id}"));
            return;
        };
        let planner = self.planner.get_or_insert_with(|| {
            let mut job = wanted.one.clone();
            for p in &mut job.parts {
                p.qty *= u64::from(n);
            }
            Box::new(Planner::new(job))
        });
        let progress = planner.step(budget);
        self.batch_spent += budget;
        let proven = progress.best.as_ref().is_some_and(|b| b.proven);
        if !(progress.done || proven || self.batch_spent >= CURVE_STEPS) {
            return;
        }
        let cost = match progress.best {
            Some(plan) => plan.price,
            None => f64::INFINITY,
        };
        self.batch_cost += cost;
        self.batch_spent = 0;
        self.planner = None;
        self.job += 1;
        if self.job < self.jobs.len() && self.batch_cost.is_finite() {
            return;
        }
        // Beyond the supply there is nothing to tell, nor for larger batches.
        if self.batch_cost.is_finite() {
            out.push(format!("curve {id} {n} {}", self.batch_cost));
        }
        self.job = 0;
        self.batch += 1;
        if self.batch > self.curve || !self.batch_cost.is_finite() {
            self.phase = Phase::End;
            out.push(format!("end {id}"));
        }
        self.batch_cost = 0.0;
    }
}

fn has_miters(job: &Instance) -> bool {
    job.parts.iter().any(|p| p.left != 0.0 || p.right != 0.0)
}
