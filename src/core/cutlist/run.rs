//! The planner's work for a whole parts list in small steps, so that whoever runs it can listen in
//! between, and stop. What is found goes out in messages.

use super::wire::{Wanted, WantedRip, Words, read_jobs, read_rips, write_plan, write_rip};
use crate::boards::guillotine;
use crate::boards::{Answer, Instance, MOST_PARTS, Nearing, Plan, Planner, squared};
use crate::units::Length;
use std::fmt::Write;

/// Largest batch of the curve of batch sizes.
pub const CURVE_MOST: u32 = 24;
/// How much a bought board may measure over its nominal length to be worth telling.
pub(super) const OVER: Length = Length(0.5);
/// Steps for one size of the curve.
const CURVE_STEPS: i64 = 40_000_000;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Phase {
    Plan,
    Rips,
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
    rips: Vec<WantedRip>,
    phase: Phase,
    job: usize,
    planner: Option<Box<Planner>>,
    ripper: Option<Box<guillotine::Planner>>,
    /// Price and bound as they were last told.
    told: (f64, f64),
    /// Steps spent on the job at hand.
    spent: i64,
    nearing: Option<Box<Nearing>>,
    /// The plan of each job so far; the inner one is none where there is proven to be none.
    plans: Vec<Option<Option<Plan>>>,
    batch: u32,
    batch_cost: f64,
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
            rips: read_rips(&mut words)?,
            phase: Phase::Plan,
            job: 0,
            planner: None,
            ripper: None,
            told: (f64::INFINITY, -1.0),
            spent: 0,
            nearing: None,
            plans: Vec::new(),
            batch: 1,
            batch_cost: 0.0,
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
            Phase::Rips => self.rip(budget, &mut out),
            Phase::Plain => self.plan(budget, true, &mut out),
            Phase::Nearly => self.nearly(budget, &mut out),
            Phase::Curve => self.curve(budget, &mut out),
            Phase::End => {}
        }
        out
    }

    fn go_on(&mut self, out: &mut Vec<String>) {
        self.planner = None;
        self.ripper = None;
        self.told = (f64::INFINITY, -1.0);
        self.spent = 0;
        self.job += 1;
        let all = match self.phase {
            Phase::Rips => self.rips.len(),
            _ => self.jobs.len(),
        };
        if self.job < all {
            return;
        }
        self.job = 0;
        self.phase = match self.phase {
            Phase::Plan => Phase::Rips,
            Phase::Rips => Phase::Plain,
            Phase::Plain => Phase::Nearly,
            Phase::Nearly if self.curve > 1 => Phase::Curve,
            _ => Phase::End,
        };
        if self.phase == Phase::End {
            out.push(format!("end {}", self.id));
        }
    }

    fn plan(&mut self, budget: i64, plain: bool, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        let word = if plain { "plain" } else { "best" };
        let Some(wanted) = self.jobs.get(job) else {
            return self.go_on(out);
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
            self.plans.push(match &answer {
                Answer::Plan(plan) => Some(Some(plan.clone())),
                // A job without a plan may nearly have one.
                Answer::Infeasible { .. } => Some(None),
                _ => None,
            });
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

    fn rip(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        let Some(wanted) = self.rips.get(job) else {
            return self.go_on(out);
        };
        let ripper = self
            .ripper
            .get_or_insert_with(|| Box::new(guillotine::Planner::new(wanted.job.clone())));
        let progress = ripper.step(budget);
        if let Some(best) = &progress.best
            && !progress.done
            && (best.price, best.bound) != self.told
        {
            self.told = (best.price, best.bound);
            out.push(format!("rip {id} {job} 0 {}", write_rip(best)));
        }
        if !progress.done {
            return;
        }
        out.push(match ripper.answer() {
            guillotine::Answer::Plan(plan) => format!("rip {id} {job} 1 {}", write_rip(&plan)),
            guillotine::Answer::Infeasible { part: Some(p), .. } => format!("norip {id} {job} {p}"),
            _ => format!("norip {id} {job} -"),
        });
        self.go_on(out);
    }

    fn nearly(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        if self.nearing.is_none()
            && let Some(wanted) = self.jobs.get(job)
            && wanted.rest.parts.iter().any(|p| p.qty > 0)
            && let Some(Some(base)) = self.plans.get_mut(job).map(Option::take)
        {
            let asked = Nearing::new(&wanted.rest, &wanted.gives, OVER.0, base);
            self.nearing = Some(Box::new(asked));
        }
        if let Some(nearing) = &mut self.nearing
            && !nearing.step(budget)
        {
            return;
        }
        if let Some(found) = self.nearing.take().as_ref().and_then(|n| n.found()) {
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

    /// The next stretch of the curve: what a batch of each size costs, job by job, sticks before strips.
    fn curve(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, n, sticks) = (self.id, u64::from(self.batch), self.jobs.len());
        let all = sticks + self.rips.len();
        let too_many = |each: &mut dyn Iterator<Item = u64>| {
            each.fold(0u64, |sum, q| sum.saturating_add(q.saturating_mul(n))) > MOST_PARTS
        };
        let (price, proven, done) = if let Some(wanted) = self.jobs.get(self.job) {
            if too_many(&mut wanted.one.parts.iter().map(|p| p.qty)) {
                return self.finish(out);
            }
            let planner = self.planner.get_or_insert_with(|| {
                let mut job = wanted.one.clone();
                for p in &mut job.parts {
                    p.qty *= n;
                }
                Box::new(Planner::new(job))
            });
            let p = planner.step(budget);
            let best = p.best.as_ref();
            (
                best.map(|b| b.price),
                best.is_some_and(|b| b.proven),
                p.done,
            )
        } else if let Some(wanted) = self.rips.get(self.job - sticks) {
            if too_many(&mut wanted.each.iter().copied()) {
                return self.finish(out);
            }
            let ripper = self.ripper.get_or_insert_with(|| {
                let mut job = wanted.job.clone();
                for (p, each) in job.parts.iter_mut().zip(&wanted.each) {
                    p.qty = each * n;
                }
                Box::new(guillotine::Planner::new(job))
            });
            let p = ripper.step(budget);
            let best = p.best.as_ref();
            (
                best.map(|b| b.price),
                best.is_some_and(|b| b.proven),
                p.done,
            )
        } else {
            return self.finish(out);
        };
        self.spent += budget;
        if !(done || proven || self.spent >= CURVE_STEPS) {
            return;
        }
        self.spent = 0;
        self.planner = None;
        self.ripper = None;
        // Beyond the supply there is nothing to tell, nor for larger batches.
        let Some(price) = price else {
            return self.finish(out);
        };
        self.batch_cost += price;
        self.job += 1;
        if self.job < all {
            return;
        }
        out.push(format!("curve {id} {n} {}", self.batch_cost));
        self.job = 0;
        self.batch_cost = 0.0;
        self.batch += 1;
        if self.batch > self.curve {
            self.finish(out);
        }
    }

    fn finish(&mut self, out: &mut Vec<String>) {
        self.phase = Phase::End;
        out.push(format!("end {}", self.id));
    }
}

fn has_miters(job: &Instance) -> bool {
    job.parts.iter().any(|p| p.left != 0.0 || p.right != 0.0)
}
