//! The planner's work for a whole parts list in small steps, so that whoever runs it can listen in
//! between, and stop. What is found goes out in messages. Jobs are counted sticks first, then strips.

use super::wire::{Bits, Wanted, WantedRip, Words, read_jobs, read_rips, write_plan, write_rip};
use crate::boards::guillotine::{self, Change};
use crate::boards::{Answer, Instance, MOST_PARTS, Nearing, Nearly, Plan, Planner, squared};
use crate::num::Gather;
use crate::units::Length;
use std::fmt::Write;

/// Largest batch of the curve of batch sizes.
pub const CURVE_MOST: u32 = 24;
/// How much a bought board may measure over its nominal length, and over its width, to be worth telling.
pub(super) const OVER: (Length, Length) = (Length(0.5), Length(0.125));
/// Steps for what nearly fits in a job of strips, with smaller parts and with larger boards each.
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

/// A planner of either kind.
enum Task {
    Sticks(Planner),
    Strips(guillotine::Planner),
}

/// A plan of either kind.
enum Best {
    Sticks(Plan),
    Strips(guillotine::Plan),
}

impl Task {
    /// The best plan so far, and whether it is final.
    fn step(&mut self, budget: i64) -> (Option<Best>, bool) {
        match self {
            Task::Sticks(planner) => {
                let p = planner.step(budget);
                (p.best.map(Best::Sticks), p.done)
            }
            Task::Strips(planner) => {
                let p = planner.step(budget);
                (p.best.map(Best::Strips), p.done)
            }
        }
    }

    /// What to say of a search that ended without a plan: whether there is none, and which part is why.
    fn without(&self) -> Option<Option<usize>> {
        match self {
            Task::Sticks(planner) => match planner.answer() {
                Answer::Infeasible { part, .. } => Some(part),
                Answer::Open => None,
                _ => Some(None),
            },
            Task::Strips(planner) => match planner.answer() {
                guillotine::Answer::Infeasible { part, .. } => Some(part),
                _ => Some(None),
            },
        }
    }
}

impl Best {
    /// Price, bound, whether the price is proven.
    fn facts(&self) -> (f64, f64, bool) {
        match self {
            Best::Sticks(p) => (p.price, p.bound, p.proven),
            Best::Strips(p) => (p.price, p.bound, p.proven),
        }
    }
    fn words(&self) -> String {
        match self {
            Best::Sticks(p) => write_plan(p),
            Best::Strips(p) => write_rip(p),
        }
    }
}

/// What nearly fits, asked of either kind; of strips with smaller parts, then with larger boards.
enum Question {
    Sticks(Box<Nearing>),
    Strips(Box<[guillotine::Nearing; 2]>),
}

impl Question {
    /// What was found, in words, once all is asked.
    fn step(&mut self, budget: i64) -> Option<Option<String>> {
        match self {
            Question::Sticks(asked) => (asked.step(budget)).then(|| asked.found().map(near_sticks)),
            Question::Strips(asked) => {
                (asked.iter_mut().all(|a| a.step(budget))).then(|| near_strips(asked))
            }
        }
    }
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
    task: Option<Box<Task>>,
    /// Price and bound as they were last told.
    told: (f64, f64),
    /// Steps spent on the job at hand.
    spent: i64,
    /// No plan of a job costs less: known before its plain plan is looked for.
    bounds: Vec<f64>,
    /// Jobs that are asked what nearly fits, with their plan if there is one.
    plans: Vec<Option<Option<Best>>>,
    nearing: Option<Question>,
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
            task: None,
            told: (f64::INFINITY, -1.0),
            spent: 0,
            bounds: Vec::new(),
            plans: Vec::new(),
            nearing: None,
            batch: 1,
            batch_cost: 0.0,
        })
    }

    /// The id of the request, which every message about it bears.
    pub fn id(&self) -> u32 {
        self.id
    }

    /// Nothing is left to be worked on.
    pub fn is_done(&self) -> bool {
        self.phase == Phase::End
    }

    /// Works on for about `budget` of the planner's steps; gives what there is to tell.
    pub fn step(&mut self, budget: i64) -> Vec<String> {
        let mut out = Vec::new();
        match self.phase {
            Phase::Plan => self.plan(budget, false, &mut out),
            Phase::Plain => self.plan(budget, true, &mut out),
            Phase::Nearly => self.nearly(budget, &mut out),
            Phase::Curve => self.curve(budget, &mut out),
            Phase::End => {}
        }
        out
    }

    fn go_on(&mut self, out: &mut Vec<String>) {
        self.task = None;
        self.told = (f64::INFINITY, -1.0);
        self.spent = 0;
        self.job += 1;
        if self.job < self.jobs.len() + self.rips.len() {
            return;
        }
        self.job = 0;
        self.phase = match self.phase {
            Phase::Plan => Phase::Plain,
            Phase::Plain => Phase::Nearly,
            Phase::Nearly if self.curve > 1 => Phase::Curve,
            _ => Phase::End,
        };
        if self.phase == Phase::End {
            out.push(format!("end {}", self.id));
        }
    }

    /// The planner of the job at hand; none where its plain plan is the cheapest one, or there is no job.
    fn task(&self, plain: bool) -> Option<Task> {
        if let Some(wanted) = self.jobs.get(self.job) {
            let job = &wanted.rest;
            return match plain {
                true if !has_miters(job) => None,
                true => Some(Task::Sticks(Planner::new(squared(job)))),
                false => Some(Task::Sticks(Planner::new(job.clone()))),
            };
        }
        let wanted = self.rips.get(self.job - self.jobs.len())?;
        let job = wanted.rest.clone();
        Some(Task::Strips(match plain {
            true => guillotine::Planner::plain(job),
            false => guillotine::Planner::new(job),
        }))
    }

    fn plan(&mut self, budget: i64, plain: bool, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        let word = if plain { "plain" } else { "best" };
        if self.task.is_none() {
            self.task = self.task(plain).map(Box::new);
        }
        let Some(task) = &mut self.task else {
            if plain {
                out.push(format!("same {id} {job}"));
            }
            return self.go_on(out);
        };
        let (best, mut done) = task.step(budget);
        self.spent += budget;
        let facts = best.as_ref().map(Best::facts);
        if let (true, Task::Strips(_), Some(facts)) = (plain, &**task, facts) {
            done |= self.bounds.get(job).is_some_and(|b| facts.0 <= b + 1e-6);
        }
        match &best {
            Some(best) if plain && done && no_plainer(&self.rips, &self.plans, job, best) => {
                out.push(format!("same {id} {job}"));
            }
            Some(best) => {
                let (price, bound, _) = best.facts();
                if done || (price, bound) != self.told {
                    self.told = (price, bound);
                    let last = u8::from(done);
                    out.push(format!("{word} {id} {job} {last} {}", best.words()));
                }
            }
            None if done => out.push(match task.without() {
                Some(Some(part)) => format!("none{word} {id} {job} {part}"),
                Some(None) => format!("none{word} {id} {job} -"),
                None => format!("open{word} {id} {job}"),
            }),
            None => {}
        }
        if !done {
            return;
        }
        if !plain {
            // A job without a plan may nearly have one.
            self.bounds.push(facts.map_or(0.0, |f| f.1));
            let ask = best.is_some() || task.without().is_some();
            self.plans.push(ask.then_some(best));
        }
        self.go_on(out);
    }

    /// What to ask of the job at hand, if anything.
    fn question(&mut self) -> Option<Question> {
        let base = self.plans.get_mut(self.job)?.take()?;
        if let Some(wanted) = self.jobs.get(self.job) {
            let job = &wanted.rest;
            let base = match base {
                Some(Best::Sticks(plan)) => Some(plan),
                _ => None,
            };
            let any = job.parts.iter().any(|p| p.qty > 0);
            let ask = || Nearing::new(job, &wanted.gives, OVER.0.0, base);
            return any.then(|| Question::Sticks(Box::new(ask())));
        }
        let wanted = self.rips.get(self.job - self.jobs.len())?;
        let base = match base {
            Some(Best::Strips(plan)) => Some(plan),
            _ => None,
        };
        let ask = |changes| guillotine::Nearing::new(&wanted.rest, base.clone(), changes, NEARLY);
        Some(Question::Strips(Box::new(changes(wanted).map(ask))))
    }

    fn nearly(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, job) = (self.id, self.job);
        if self.nearing.is_none() {
            self.nearing = self.question();
        }
        if let Some(question) = &mut self.nearing {
            let Some(said) = question.step(budget) else {
                return;
            };
            out.extend(said.map(|s| format!("nearly {id} {job} {s}")));
            self.nearing = None;
        }
        self.go_on(out);
    }

    /// The next stretch of the curve: what a batch of each size costs, job by job.
    fn curve(&mut self, budget: i64, out: &mut Vec<String>) {
        let (id, n, sticks) = (self.id, u64::from(self.batch), self.jobs.len());
        let all = sticks + self.rips.len();
        if self.task.is_none() {
            let too_many = |each: &mut dyn Iterator<Item = u64>| {
                each.fold(0u64, |sum, q| sum.saturating_add(q.saturating_mul(n))) > MOST_PARTS
            };
            let task = if let Some(wanted) = self.jobs.get(self.job) {
                let mut job = wanted.one.clone();
                if too_many(&mut job.parts.iter().map(|p| p.qty)) {
                    return self.finish(out);
                }
                for p in &mut job.parts {
                    p.qty *= n;
                }
                Task::Sticks(Planner::new(job))
            } else if let Some(wanted) = self.rips.get(self.job - sticks) {
                let mut job = wanted.one.clone();
                if too_many(&mut job.parts.iter().map(|p| p.qty)) {
                    return self.finish(out);
                }
                for p in &mut job.parts {
                    p.qty *= n;
                }
                Task::Strips(guillotine::Planner::new(job))
            } else {
                return self.finish(out);
            };
            self.task = Some(Box::new(task));
        }
        let Some(task) = &mut self.task else { return };
        let (best, done) = task.step(budget);
        let facts = best.as_ref().map(Best::facts);
        self.spent += budget;
        if !(done || facts.is_some_and(|f| f.2) || self.spent >= CURVE_STEPS) {
            return;
        }
        self.spent = 0;
        self.task = None;
        // Beyond the supply there is nothing to tell, nor for larger batches.
        let Some((price, ..)) = facts else {
            return self.finish(out);
        };
        self.batch_cost += price;
        self.job += 1;
        if self.job < all {
            return;
        }
        out.push(format!("curve {id} {n} {}", Bits(self.batch_cost)));
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

/// Whether a plain plan in strips is of no use beside the cheapest one: no cheaper, and the saw is changed
/// no less often.
fn no_plainer(
    rips: &[WantedRip],
    plans: &[Option<Option<Best>>],
    job: usize,
    plain: &Best,
) -> bool {
    let wanted = (rips.len() + job).checked_sub(plans.len()).and_then(|at| rips.get(at));
    match (wanted, plain, plans.get(job)) {
        (Some(wanted), Best::Strips(plain), Some(Some(Some(Best::Strips(best))))) => {
            let of = |p: &guillotine::Plan| guillotine::changes(&wanted.rest, &p.boards);
            plain.price >= best.price - 1e-6 && of(plain) >= of(best)
        }
        _ => false,
    }
}

fn has_miters(job: &Instance) -> bool {
    job.parts.iter().any(|p| p.left != 0.0 || p.right != 0.0)
}

/// What nearly fits, in words: boards or parts, lengths and widths, how much, what it saves.
fn near_words(over: bool, way: u8, by: f64, money: Option<f64>, boards: Option<i64>) -> String {
    let maybe = |n: Option<String>| n.unwrap_or_else(|| "-".to_owned());
    format!(
        "{} {way} {} {} {}",
        u8::from(over),
        Bits(by),
        maybe(money.map(|m| Bits(m).to_string())),
        maybe(boards.map(|b| b.to_string()))
    )
}

fn near_sticks(found: &Nearly) -> String {
    let over = found.way == crate::boards::Way::Over;
    let mut line = near_words(over, 1, found.by, found.money, found.boards);
    for s in &found.shortened {
        let _ = write!(line, " {}", Bits(*s));
    }
    line
}

/// Lengths alone, widths alone, or both: off the parts, and onto the boards.
fn changes(wanted: &WantedRip) -> [Vec<Change>; 2] {
    let job = &wanted.rest;
    let both = wanted.shorter.iter().zip(&wanted.narrower);
    let gives = |gives: Vec<(f64, f64)>| Change { gives, ..Change::default() };
    let smaller = vec![
        gives(wanted.shorter.clone()),
        gives(wanted.narrower.clone()),
        gives(both.map(|(s, n)| (s.0 + n.0, s.1 + n.1)).gather()),
    ];
    // A part as wide as its board grows with it.
    let widest = job.boards.iter().map(|b| b.width).fold(0.0, f64::max);
    let whole = |p: &guillotine::PartKind| p.width >= widest - 1e-6;
    let wide = match job.parts.iter().any(whole) {
        true => 0.0,
        false => OVER.1.0,
    };
    let over = |over| Change { over, ..Change::default() };
    let long = OVER.0.0;
    let larger = vec![over((long, 0.0)), over((0.0, wide)), over((long, wide))];
    [smaller, larger]
}

/// Smaller parts, unless larger boards save more.
fn near_strips(asked: &[guillotine::Nearing; 2]) -> Option<String> {
    let mut best: Option<(bool, &guillotine::Nearly)> = None;
    for (over, asked) in [false, true].into_iter().zip(asked) {
        let Some(found) = asked.found() else {
            continue;
        };
        let more = best.is_none_or(|(_, b)| {
            let (new, old) = (&found.plan, &b.plan);
            new.price < old.price - 1e-6
                || (new.price <= old.price + 1e-6 && new.boards.len() < old.boards.len())
        });
        if more {
            best = Some((over, found));
        }
    }
    let (over, found) = best?;
    let way = found.change as u8 + 1;
    Some(near_words(over, way, found.by, found.money, found.boards))
}
