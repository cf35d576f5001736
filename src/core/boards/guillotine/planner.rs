//! The planner of strips and sheets as a row of small steps.

use super::super::knapsack::Work;
use super::super::price::Prices;
use super::corner::{self, Bin, RULES, Rule};
use super::instance::{Answer, CutBoard, Instance, Leftover, Plan};
use super::job::{Chosen, Job};
use super::layout::realised;
use super::verify::verify;

/// Steps (each about a nanosecond's work on a desk machine) for a whole run.
pub const BUDGET: i64 = 1_500_000_000;

/// The best plan so far, what is known about it, and whether the planner is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// None until the first plan is found.
    pub best: Option<Plan>,
    /// No plan costs less than this.
    pub bound: f64,
    pub done: bool,
}

/// The planner of one job.
///
/// ```
/// use offsquare_core::boards::guillotine::{Answer, BoardKind, Cut, Instance, PartKind, Planner};
/// let job = Instance {
///     cut: Cut::Sheets, kerf: 0.125, rip_kerf: 0.125, trim: 0.0, edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
///     parts: vec![PartKind::along("side", 4, 47.9, 23.9)],
/// };
/// let mut planner = Planner::new(job);
/// while !planner.step(10_000_000).done {}
/// let Answer::Plan(plan) = planner.answer() else { panic!() };
/// assert_eq!((plan.price, plan.bound, plan.boards.len()), (62.0, 62.0, 1));
/// ```
pub struct Planner {
    instance: Instance,
    prices: Prices,
    state: State,
    answer: Option<Answer>,
}

enum State {
    Done,
    Running(Box<Run>),
}

struct Run {
    job: Job,
    best: Option<Found>,
    bound: i128,
    work: Work,
    round: usize,
}

/// A verified plan and what is compared about it.
struct Found {
    cut: Vec<CutBoard>,
    price: i128,
    leftover: Option<(usize, Leftover)>,
}

impl Planner {
    /// Checks the job and gets ready; nothing is searched yet.
    pub fn new(instance: Instance) -> Planner {
        let prices = Prices::new(&instance.boards.iter().map(|b| b.price).collect::<Vec<_>>());
        let flaws = instance.check();
        let answer = if flaws.is_empty() {
            obvious(&instance)
        } else {
            Some(Answer::Invalid(flaws))
        };
        let state = if answer.is_some() {
            State::Done
        } else {
            State::Running(Box::new(Run {
                job: Job::new(&instance, &prices),
                best: None,
                bound: 0,
                work: Work::new(BUDGET),
                round: 0,
            }))
        };
        Planner {
            instance,
            prices,
            state,
            answer,
        }
    }

    /// The job that is planned.
    pub fn instance(&self) -> &Instance {
        &self.instance
    }

    /// Searches on for about `budget` steps (a step is about a nanosecond on a desk machine) and says
    /// how things stand. A single unit of work may overrun the budget.
    pub fn step(&mut self, budget: i64) -> Progress {
        let until = match &self.state {
            State::Running(run) => run.work.left.saturating_sub(budget.max(1)),
            State::Done => 0,
        };
        while let State::Running(run) = &mut self.state {
            let done = run.step(&self.instance);
            if done || run.work.over() {
                self.finish();
                break;
            }
            if run.work.left <= until {
                break;
            }
        }
        match &self.state {
            State::Done => {
                let best = match &self.answer {
                    Some(Answer::Plan(plan)) => Some(plan.clone()),
                    _ => None,
                };
                Progress {
                    bound: best.as_ref().map_or(0.0, |p| p.bound),
                    best,
                    done: true,
                }
            }
            State::Running(run) => Progress {
                best: self.plan_of(run),
                bound: self.prices.decimal(run.bound),
                done: false,
            },
        }
    }

    /// The answer as far as it is known: final when `step` says done.
    pub fn answer(&self) -> Answer {
        if let Some(answer) = &self.answer {
            return answer.clone();
        }
        if let State::Running(run) = &self.state
            && let Some(plan) = self.plan_of(run)
        {
            return Answer::Plan(plan);
        }
        short_supply()
    }

    fn finish(&mut self) {
        let State::Running(run) = &self.state else {
            return;
        };
        self.answer = Some(self.plan_of(run).map_or_else(short_supply, Answer::Plan));
        self.state = State::Done;
    }

    fn plan_of(&self, run: &Run) -> Option<Plan> {
        let found = run.best.as_ref()?;
        let price = if self.prices.exact() {
            self.prices.decimal(found.price)
        } else {
            let of = |c: &CutBoard| self.instance.boards[c.board].price;
            found.cut.iter().map(of).sum()
        };
        let bound = self.prices.decimal(run.bound.min(found.price)).min(price);
        Some(Plan {
            boards: found.cut.clone(),
            price,
            bound,
            proven: price <= bound + 1e-6,
            proven_all: false,
            leftover: found.leftover,
        })
    }
}

fn short_supply() -> Answer {
    Answer::Infeasible {
        part: None,
        reason: "There are not enough boards for all parts.".to_owned(),
    }
}

/// Answers that need no search: nothing to cut, or a part that fits on no board.
fn obvious(instance: &Instance) -> Option<Answer> {
    let wanted = || instance.parts.iter().enumerate().filter(|(_, p)| p.qty > 0);
    if wanted().next().is_none() {
        return Some(Answer::Plan(Plan {
            boards: Vec::new(),
            price: 0.0,
            bound: 0.0,
            proven: true,
            proven_all: true,
            leftover: None,
        }));
    }
    let alone = |in_stock: bool| {
        wanted().find(|(_, p)| {
            !instance
                .boards
                .iter()
                .any(|b| (!in_stock || b.limit != Some(0)) && instance.fits(p, b))
        })
    };
    if instance.boards.is_empty() {
        return Some(Answer::Infeasible {
            part: wanted().next().map(|p| p.0),
            reason: "There are no boards to cut from.".to_owned(),
        });
    }
    if let Some((i, part)) = alone(false) {
        return Some(Answer::Infeasible {
            part: Some(i),
            reason: why(instance, i, &part.id),
        });
    }
    alone(true).map(|_| short_supply())
}

/// Why a part fits on no board.
fn why(instance: &Instance, i: usize, id: &str) -> String {
    let part = &instance.parts[i];
    let usable = || instance.boards.iter().map(|b| instance.usable(b));
    let free = part.grain == super::instance::Grain::Free;
    let (l, w) = part.extent(free && part.length < part.width);
    let longest = usable()
        .map(|u| if free { u.0.max(u.1) } else { u.0 })
        .fold(0.0, f64::max);
    let widest = usable()
        .map(|u| if free { u.0.min(u.1) } else { u.1 })
        .fold(0.0, f64::max);
    let what = if l > longest {
        "\" is longer than the longest board gives between its trims."
    } else if w > widest {
        "\" is wider than the widest board gives between its trims."
    } else if !free && instance.boards.iter().any(|b| {
        let (bl, bw) = instance.usable(b);
        part.width <= bl && part.length <= bw
    }) {
        "\" would fit only across the grain."
    } else {
        "\" fits on no board: those long enough are too narrow."
    };
    ["Part \"", id, what].concat()
}

impl Run {
    /// One unit of work; true when there is nothing left to do.
    fn step(&mut self, instance: &Instance) -> bool {
        let rule = RULES[self.round % RULES.len()];
        for stock in 0..self.job.stock.len() {
            if let Some(plan) = self.first_fit(rule, stock) {
                self.accept(instance, plan);
            }
        }
        self.round += 1;
        self.round >= RULES.len()
    }

    /// Boards of one kind as far as they go, then the others.
    fn first_fit(&mut self, rule: Rule, first: usize) -> Option<Chosen> {
        let job = &self.job;
        let mut bins: Vec<Bin> = Vec::new();
        let mut left: Vec<u32> = job.stock.iter().map(|s| s.limit).collect();
        for (k, kind) in job.kinds.iter().enumerate() {
            for _ in 0..kind.qty {
                if corner::put(job, &mut bins, k as u32, rule, &mut self.work) {
                    continue;
                }
                let fits = |s: usize| kind.lies.iter().any(|l| job.fits(l.len, l.wid, s));
                let free = (0..left.len()).filter(|&s| job.stock[s].price == 0);
                let next = free
                    .chain([first])
                    .chain(0..left.len())
                    .find(|&s| left[s] > 0 && fits(s))?;
                left[next] -= 1;
                let at = bins.len();
                bins.push(Bin::new(job, next));
                if !corner::put(job, &mut bins[at..], k as u32, rule, &mut self.work) {
                    return None;
                }
            }
        }
        Some(
            bins.iter()
                .filter_map(|b| Some((b.stock, b.closed()?)))
                .collect(),
        )
    }

    /// Takes a plan if it is sound and better than the best so far.
    fn accept(&mut self, instance: &Instance, chosen: Chosen) -> bool {
        let price: i128 = chosen.iter().map(|c| self.job.stock[c.0].price).sum();
        let count = chosen.len();
        if let Some(best) = &self.best
            && (best.price, best.cut.len()) < (price, count)
        {
            return false;
        }
        let cut = realised(instance, &self.job, &chosen);
        let Ok(facts) = verify(instance, &cut) else {
            return false;
        };
        let area = |l: &Option<(usize, Leftover)>| l.map_or(0.0, |l| l.1.area());
        if let Some(best) = &self.best
            && (best.price, best.cut.len()) == (price, count)
            && area(&facts.leftover) <= area(&best.leftover) * (1.0 + 1e-12)
        {
            return false;
        }
        self.best = Some(Found {
            cut,
            price,
            leftover: facts.leftover,
        });
        true
    }
}
