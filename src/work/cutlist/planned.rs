//! What the page knows of its plans: messages come in, the newest of each job stands.

use super::job::{Job, Jobs, WOOD};
use offsquare_planner::message::{About, Ask, Message, News};
use offsquare_planner::{CURVE_MOST, CutBoard, outcome};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Money};

/// A plan, of sticks or of rectangles.
pub type Plan = outcome::Plan<()>;

/// What is known of one plan of one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum PlanState {
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
pub struct NearlyFits {
    /// Bought boards measure this much over; otherwise parts are made smaller.
    pub over: bool,
    /// In their lengths.
    pub long: bool,
    /// In their widths.
    pub wide: bool,
    pub by: Length,
    pub money: Option<Money>,
    /// Where not all prices are known: how much less board is bought; the money is then 0.
    pub wood: Length,
    pub boards: Option<i64>,
}

impl Job {
    /// By part, how much shorter and how much narrower it is cut so that all of them nearly fit: as much of
    /// it as it may give.
    pub fn given(&self, nearly: &NearlyFits) -> Vec<(f64, f64)> {
        let of = |on: bool, give: f64| if on { nearly.by.0.min(give) } else { 0.0 };
        self.parts.iter().map(|p| (of(nearly.long, p.give.0), of(nearly.wide, p.give.1))).gather()
    }
}

/// All that is known of one job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JobResult {
    pub best: PlanState,
    pub plain: PlanState,
    pub nearly: Option<NearlyFits>,
    /// The search for the cheapest plan is over.
    pub done: bool,
    /// Every length on sale has a price.
    priced: bool,
}

impl JobResult {
    fn place(&mut self, plain: bool) -> &mut PlanState {
        if plain { &mut self.plain } else { &mut self.best }
    }

    /// Takes news in. Gives whether what is to be cut is another now, by the cheapest plan and by the plain one.
    fn take(&mut self, news: News) -> [bool; 2] {
        match news {
            News::Plan { plain, done, plan } => {
                let place = self.place(plain);
                let changed = !matches!(place, PlanState::Plan(old) if old.boards == plan.boards);
                *place = PlanState::Plan(plan);
                if !plain {
                    self.done = done;
                }
                return [changed && !plain, changed && plain];
            }
            News::Same {} => {
                self.plain = self.best.clone();
                return [false, true];
            }
            News::None { plain, part } => {
                *self.place(plain) = PlanState::None(part);
                self.done |= !plain;
            }
            News::Open { plain } => {
                *self.place(plain) = PlanState::Open;
                self.done |= !plain;
            }
            News::Nearly { over, long, wide, by, money, boards } => {
                self.nearly = Some(NearlyFits {
                    over,
                    long,
                    wide,
                    by: Length(by),
                    money: money.map(|m| if self.priced { cents(m) } else { Money::ZERO }),
                    wood: money.filter(|_| !self.priced).map_or(Length::ZERO, wood),
                    boards,
                });
            }
        }
        [true, true]
    }

    /// The chosen plan.
    fn plan(&self, plain: bool) -> Option<&Plan> {
        match if plain { &self.plain } else { &self.best } {
            PlanState::Plan(plan) => Some(plan),
            _ => None,
        }
    }

    fn waits(&self) -> bool {
        matches!(self.best, PlanState::Waiting)
    }
}

/// All that is known of a request.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Planned {
    pub id: u32,
    /// By job.
    pub results: Vec<JobResult>,
    pub running: bool,
    pub stopped: bool,
    /// What a batch of each size costs.
    pub curve: Vec<(u32, Money)>,
    /// For each of these, by job, its boards with the last of their parts.
    pub ends: Vec<Vec<Vec<CutBoard>>>,
    /// How often what is to be cut has changed: by the cheapest plans, by the plain ones. A message that
    /// only moves a bound, or adds to the curve, changes neither.
    pub changes: [u32; 2],
}

/// Cents as they come from the planner.
fn cents(price: f64) -> Money {
    Money(offsquare_units::num::round_half_up(price) as i64)
}

/// The same where they are board in place of money.
fn wood(price: f64) -> Length {
    Length(cents(price).0 as f64 / WOOD)
}

/// A bound in whole cents.
fn least(bound: f64) -> Money {
    Money(offsquare_units::num::ceil(bound - 1e-6) as i64)
}

impl Planned {
    /// Waits for the answers to a new request.
    pub fn new(id: u32, jobs: &Jobs) -> Planned {
        let result =
            |job: &Job| JobResult { priced: job.no_price.is_empty(), ..JobResult::default() };
        let results = jobs.jobs.iter().map(result).gather();
        Planned { id, results, running: !jobs.jobs.is_empty(), ..Planned::default() }
    }

    /// The request itself; with a curve of batch sizes up to `curve` (0: none) of what is made by the jobs `one`.
    pub fn request(&self, jobs: &Jobs, curve: u32, one: &Jobs) -> Ask {
        // What a batch costs is not known before every length has a price.
        let curve = if one.are_priced() { curve.min(CURVE_MOST) } else { 0 };
        jobs.ask(self.id, curve, one)
    }

    /// Takes a message in; false where it belongs to another request.
    pub fn hear(&mut self, message: Message) -> bool {
        if message.id != self.id || self.stopped {
            return false;
        }
        match message.about {
            About::End {} => self.running = false,
            About::Curve { pieces, cost, ends } => {
                self.curve.push((pieces, cents(cost)));
                self.ends.push(ends);
            }
            About::Job { job, news } => {
                let Some(result) = self.results.get_mut(job) else { return false };
                for (count, changed) in self.changes.iter_mut().zip(result.take(news)) {
                    *count += u32::from(changed);
                }
            }
        }
        true
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
        Some(kept.chain(plan.boards.iter().cloned()).gather())
    }

    /// The chosen plan of a job, without its kept boards.
    pub fn plan(&self, job: usize, plain: bool) -> Option<&Plan> {
        self.results.get(job)?.plan(plain)
    }

    /// Every job has a plan, or is known to have none.
    pub fn is_whole(&self) -> bool {
        !self.results.iter().any(JobResult::waits)
    }

    fn open(&self) -> bool {
        self.results.iter().any(|r| !r.done)
    }

    /// Whether a cheaper plan is still looked for.
    pub fn searches(&self) -> bool {
        self.running && self.open()
    }

    /// The search was ended before it was over.
    pub fn cut_short(&self) -> bool {
        self.stopped && self.open()
    }

    /// What all chosen plans cost together; none until every job has one, and while one of their boards has no
    /// price.
    pub fn money(&self, jobs: &Jobs, plain: bool) -> Option<Money> {
        let mut sum = Money::ZERO;
        for (i, job) in jobs.jobs.iter().enumerate() {
            let boards = self.boards(jobs, i, plain)?;
            let costs = boards.iter().map(|b| job.boards[b.board].price);
            sum = sum + costs.sum::<Option<Money>>()?;
        }
        Some(sum)
    }

    /// No plan costs less than this (kept boards as they are); none while a length on sale has no price.
    pub fn bound(&self, jobs: &Jobs) -> Option<Money> {
        if !jobs.are_priced() {
            return None;
        }
        let mut sum = Money::ZERO;
        for (i, job) in jobs.jobs.iter().enumerate() {
            let kept: Money = job.kept.iter().filter_map(|k| job.boards[k.1.board].price).sum();
            sum = sum + kept + least(self.plan(i, false)?.bound);
        }
        Some(sum)
    }
}
