//! The steps of a run, round by round.

use super::kinds::{AtBench, Kind, Solved, kinds};
use crate::cutlist::{CutBoard, Instance, Job, Jobs, Origin, rip_lines};
use crate::piece::{Begun, Outcome, Tick};
use crate::run::{Cutting, SetUp, Step, StickPart, StickPlan, run};
use offsquare_cuts::parts::Side;
use offsquare_planner::guillotine::{self, Falls, Saw};
use offsquare_planner::{BoardKind, Placement};
use offsquare_units::num::{self, Gather};
use offsquare_units::{DoorUnit, Length, Text};
use std::collections::{BTreeMap, BTreeSet};

/// A cut of a board of sticks.
#[derive(Clone, Debug, PartialEq)]
pub struct AtSaw {
    pub cutting: Cutting,
    pub set_up: SetUp,
    /// The saw is set anew for it.
    pub anew: bool,
    /// The wood before the cut: where its left and its right end cross the near and the far edge.
    pub wood: [(f64, f64); 2],
    /// What the kerf takes along the board.
    pub along: f64,
    /// Places left and right of the kerf; none: it falls off, or is cut again.
    pub sides: [Option<u32>; 2],
}

/// A cut of a ripped board or a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Ripping {
    pub is_rip: bool,
    pub measure: Length,
    pub words: Text,
    /// Places that it frees.
    pub frees: Vec<u32>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum What {
    Cut(Box<AtSaw>),
    Rip(Ripping),
    Bench(AtBench),
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    pub tick: Tick,
    pub what: What,
}

/// A board of the run.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// Its job.
    pub job: usize,
    pub cut: CutBoard,
    pub length: Length,
    /// A place of the plan is so far from its left end less.
    pub start: f64,
    pub owned: bool,
    /// Number of the board of this run that it is left of.
    pub left_of: Option<u32>,
    /// By place: the number of the single part among all of its kind, from 1.
    pub numbers: Vec<u64>,
}

/// The two faces of each cut of a board that is made, where they cross its near and its far edge.
type Faces = BTreeMap<usize, [(f64, f64); 2]>;

/// A whole run.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Walk {
    pub jobs: Jobs,
    /// By job.
    pub kinds: Vec<Vec<Kind>>,
    /// By their numbers; none: it no longer is what it was.
    pub boards: Vec<Option<Board>>,
    /// All steps, without those of parts that are lost.
    pub stages: Vec<Stage>,
    /// By single part (board, place): the cuts of the board that free it.
    free: BTreeMap<(u32, u32), Vec<Tick>>,
}

impl Walk {
    pub fn of(begun: &Begun) -> Walk {
        let jobs = begun.jobs();
        let solved = Solved::of(begun);
        let kinds = jobs.jobs.iter().map(|j| kinds(begun, j, &solved)).gather();
        let mut out = Walk { kinds, jobs, ..Walk::default() };
        out.lay(begun);
        let rounds = begun.rounds();
        for (n, round) in rounds.iter().enumerate() {
            // What is in a later round is cut there.
            let later = |b: u32| rounds[n + 1..].iter().any(|r| r.contains(&b));
            let own: Vec<Stage> =
                out.round(begun, round).into_iter().filter(|s| !later(s.tick.board)).gather();
            out.stages.extend(own);
        }
        out.stages.retain(|s| !out_of_use(s, begun));
        mark_new_settings(&mut out.stages);
        out
    }

    /// The boards with the numbers of their parts; a part that is cut anew keeps the number of the lost one.
    fn lay(&mut self, begun: &Begun) {
        let mut next: BTreeMap<(usize, usize), u64> = BTreeMap::new();
        let mut lost: BTreeMap<(usize, usize), Vec<u64>> = BTreeMap::new();
        let spares = begun.skips.iter().flat_map(|s| {
            let mut free: Vec<_> = s.spare.iter().gather();
            s.boards.iter().map(move |b| {
                let is = |s: &&crate::piece::Spare| {
                    s.stock == b.stock && (s.length - b.length).abs().0 <= 1e-9
                };
                let at = free.iter().position(is).filter(|_| b.owned)?;
                Some(free.remove(at).from)
            })
        });
        let left_of = begun.of.boards.iter().map(|_| None).chain(spares);
        for ((i, kept), left_of) in begun.boards().enumerate().zip(left_of) {
            let is = |j: &&Job| j.stock == kept.stock && j.is_ripped() != kept.cuts.is_empty();
            let Some(job) = self.jobs.jobs.iter().position(|j| is(&j)) else {
                self.boards.push(None);
                continue;
            };
            let of = &self.jobs.jobs[job];
            let Some(cut) = of.lies(kept) else {
                self.boards.push(None);
                continue;
            };
            let mut numbers = Vec::new();
            for (place, p) in cut.parts.iter().enumerate() {
                let kind = (job, p.part);
                let anew = i >= begun.of.boards.len();
                let gone = lost.get_mut(&kind).filter(|all| anew && !all.is_empty());
                let number = gone.map_or_else(
                    || {
                        let n = next.entry(kind).or_insert(0);
                        *n += 1;
                        *n
                    },
                    |all| all.remove(0),
                );
                if begun.is_lost(i as u32, place as u32) {
                    lost.entry(kind).or_default().push(number);
                }
                numbers.push(number);
            }
            let lies = of.boards[cut.board];
            self.boards.push(Some(Board {
                job,
                cut,
                length: lies.length,
                start: lies.start,
                owned: matches!(lies.origin, Origin::Owned(_)),
                left_of,
                numbers,
            }));
        }
    }

    /// All steps of a round, and what frees each of its parts.
    fn round(&mut self, begun: &Begun, round: &[u32]) -> Vec<Stage> {
        let mut out = Vec::new();
        for board in round {
            out.extend(self.ripped(begun, *board));
        }
        out.extend(self.sticks(begun, round));
        let mut bench: Vec<(AtBench, usize, usize, u64, Tick)> = Vec::new();
        for board in round {
            let Some(of) = self.boards.get(*board as usize).and_then(Option::as_ref) else {
                continue;
            };
            for (place, p) in of.cut.parts.iter().enumerate() {
                let all = self.kinds[of.job].get(p.part).map_or(&[][..], |k| &k.bench);
                bench.extend(all.iter().enumerate().map(|(i, work)| {
                    let tick = Tick { board: *board, at: place as u32, work: i as u32 + 1 };
                    (*work, of.job, p.part, of.numbers[place], tick)
                }));
            }
        }
        num::sort_by(&mut bench, Ord::cmp);
        out.extend(bench.into_iter().map(|b| Stage { tick: b.4, what: What::Bench(b.0) }));
        out
    }

    fn ripped(&mut self, begun: &Begun, number: u32) -> Vec<Stage> {
        let board = self.boards.get(number as usize).and_then(Option::as_ref);
        let Some((board, job)) = board.and_then(|b| Some((b, self.jobs.jobs.get(b.job)?))) else {
            return Vec::new();
        };
        let Some(instance) = job.instance.rectangles() else { return Vec::new() };
        let words = rip_lines(job, &board.cut, &begun.of.parts);
        let steps = guillotine::steps(instance, &board.cut);
        let mut out = Vec::new();
        for (at, (step, words)) in steps.iter().zip(words).enumerate() {
            let frees = [step.first, step.second].into_iter().flatten().filter_map(|f| match f {
                Falls::Part { placement, .. } => Some(placement as u32),
                _ => None,
            });
            let frees: Vec<u32> = frees.gather();
            let tick = Tick { board: number, at: at as u32, work: 0 };
            for place in &frees {
                self.free.insert((number, *place), vec![tick]);
            }
            out.push(Stage {
                tick,
                what: What::Rip(Ripping {
                    is_rip: step.saw == Saw::Rip,
                    measure: Length(step.measure),
                    words,
                    frees,
                }),
            });
        }
        out
    }

    fn sticks(&mut self, begun: &Begun, round: &[u32]) -> Vec<Stage> {
        let (plans, numbers) = self.plans(round);
        let run = run(&plans, &begun.of.shop.saw, DoorUnit::In);
        let mut made: BTreeMap<(usize, usize), Faces> = BTreeMap::new();
        let mut out = Vec::new();
        for step in run.steps {
            let Step::Cut(cutting) = step else { continue };
            let set_up = run.set_ups[cutting.set_up].clone();
            let board = numbers[cutting.stock][cutting.board];
            let length = plans[cutting.stock].boards[cutting.board].board;
            let length = plans[cutting.stock].instance.boards[length].length;
            let own = made.entry((cutting.stock, cutting.board)).or_default();
            let along = begun.of.shop.saw.kerf.0
                / (num::cos_deg(set_up.setting.miter) * num::cos_deg(set_up.setting.bevel));
            let by = if cutting.waste == Side::Right { along } else { -along };
            let (a, b) = ((cutting.near, cutting.far), (cutting.near + by, cutting.far + by));
            let faces = if by > 0.0 { [a, b] } else { [b, a] };
            let before = own.range(..cutting.cut).next_back().map_or((0.0, 0.0), |c| c.1[1]);
            let after = own.range(cutting.cut + 1..).next().map_or((length, length), |c| c.1[0]);
            own.insert(cutting.cut, faces);
            let tick = Tick { board, at: cutting.cut as u32, work: 0 };
            let mut sides: Vec<Option<u32>> =
                cutting.finishes.iter().map(|f| Some(f.of.place as u32)).gather();
            for place in sides.iter().flatten() {
                self.free.entry((board, *place)).or_default().push(tick);
            }
            sides.resize(2, None);
            if cutting.waste != Side::Right {
                sides.reverse();
            }
            let wood = [before, after];
            let sides = [sides[0], sides[1]];
            let cut = AtSaw { cutting, set_up, anew: false, wood, along, sides };
            out.push(Stage { tick, what: What::Cut(Box::new(cut)) });
        }
        out
    }

    /// The plans of a round's sticks, marks counted from the left end of the whole board, and the number of each board.
    fn plans(&self, round: &[u32]) -> (Vec<StickPlan>, Vec<Vec<u32>>) {
        let (mut plans, mut numbers) = (Vec::new(), Vec::new());
        for (at, job) in self.jobs.jobs.iter().enumerate() {
            let Instance::Sticks(instance) = &job.instance else { continue };
            let mut instance = instance.clone();
            for (kind, board) in instance.boards.iter_mut().zip(&job.boards) {
                *kind = BoardKind { length: board.length.0, ..kind.clone() };
            }
            let (mut boards, mut own) = (Vec::new(), Vec::new());
            for number in round {
                let board = self.boards.get(*number as usize).and_then(Option::as_ref);
                let Some(board) = board.filter(|b| b.job == at) else { continue };
                let mut cut = board.cut.clone();
                let moved = |p: &Placement| Placement { x: p.x + board.start, ..*p };
                cut.parts = cut.parts.iter().map(moved).gather();
                boards.push(cut);
                own.push(*number);
            }
            let parts =
                self.kinds[at].iter().map(|k| StickPart { part: k.on_board.clone(), first: 0 });
            let parts = parts.gather();
            plans.push(StickPlan { stock: job.name.clone(), instance, boards, parts });
            numbers.push(own);
        }
        (plans, numbers)
    }

    pub fn board(&self, number: u32) -> Option<&Board> {
        self.boards.get(number as usize)?.as_ref()
    }

    /// The kind of the part at a place, and which of them it is.
    pub fn single(&self, board: u32, place: u32) -> Option<(&Kind, u64)> {
        let of = self.board(board)?;
        let kind = self.kinds[of.job].get(of.cut.parts.get(place as usize)?.part)?;
        Some((kind, of.numbers[place as usize]))
    }

    /// Which step comes next: the first that is not done; none where all are.
    pub fn next(&self, begun: &Begun) -> Option<usize> {
        let done: BTreeSet<Tick> = begun.done.iter().copied().collect();
        self.stages.iter().position(|s| !done.contains(&s.tick))
    }

    /// How many of the steps are done.
    pub fn done(&self, begun: &Begun) -> usize {
        let done: BTreeSet<Tick> = begun.done.iter().copied().collect();
        self.stages.iter().filter(|s| done.contains(&s.tick)).count()
    }

    /// Parts that a step could spoil: those that it cuts, and on which it is done.
    pub fn touched(&self, stage: &Stage, begun: &Begun) -> Vec<(u32, u32)> {
        let places = match &stage.what {
            What::Cut(cut) => cut.sides.into_iter().flatten().gather(),
            What::Rip(rip) => rip.frees.clone(),
            What::Bench(_) => vec![stage.tick.at],
        };
        let own = places.into_iter().map(|p| (stage.tick.board, p));
        own.filter(|(b, p)| !begun.is_lost(*b, *p)).gather()
    }

    /// Parts of a board that are not cut off it yet.
    pub fn rest(&self, board: u32, begun: &Begun) -> Vec<(u32, u32)> {
        let parts = self.board(board).map_or(0, |b| b.cut.parts.len() as u32);
        let own = (0..parts).map(|p| (board, p));
        own.filter(|at| !begun.is_lost(at.0, at.1) && !self.is_free(*at, begun)).gather()
    }

    fn is_free(&self, at: (u32, u32), begun: &Begun) -> bool {
        // A part that is its whole board needs no cut.
        self.free.get(&at).is_none_or(|cuts| cuts.iter().all(|c| begun.done.contains(c)))
    }

    /// What the run has come to.
    pub fn outcome(&self, begun: &Begun) -> Outcome {
        let done: BTreeSet<Tick> = begun.done.iter().copied().collect();
        let whole = self.next(begun).is_none();
        let touched: BTreeSet<u32> = done.iter().map(|t| t.board).collect();
        let cut = |board: u32| touched.contains(&board) || whole;
        let mut out = Outcome { put_away: begun.put_away(&cut), ..Outcome::default() };
        for (number, board) in (0..).zip(&self.boards) {
            let Some(board) = board.as_ref().filter(|_| cut(number)) else { continue };
            for (place, p) in (0..).zip(&board.cut.parts) {
                let cuts = self.free.get(&(number, place));
                let free = cuts.is_none_or(|all| all.iter().all(|c| done.contains(c)));
                let kind = self.kinds[board.job].get(p.part);
                if let Some(kind) = kind.filter(|_| free && !begun.is_lost(number, place)) {
                    *out.made.entry((kind.entry, kind.mirrored)).or_insert(0) += 1;
                }
            }
        }
        out
    }
}

/// Says of each cut whether the saw is set anew for it.
fn mark_new_settings(stages: &mut [Stage]) {
    let mut before = None;
    for stage in stages {
        if let What::Cut(cut) = &mut stage.what {
            let now = cut.set_up.setting;
            cut.anew = before.replace(now) != Some(now);
        }
    }
}

/// A step that serves lost parts alone.
fn out_of_use(stage: &Stage, begun: &Begun) -> bool {
    let lost = |place: u32| begun.is_lost(stage.tick.board, place);
    match &stage.what {
        What::Cut(cut) => cut.sides.iter().flatten().all(|p| lost(*p)),
        What::Rip(rip) => !rip.frees.is_empty() && rip.frees.iter().all(|p| lost(*p)),
        What::Bench(_) => lost(stage.tick.at),
    }
}
