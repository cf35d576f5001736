//! The steps of a run, round by round.

use super::kinds::{AtBench, Kind, Solved, kinds};
use crate::cutlist::{CutBoard, Instance, Job, Jobs, Origin, RipStep, rip_steps};
use crate::piece::{Begun, Tick, WholeBoard};
use crate::run::{Cutting, Kerf, SetUp, Step, StickPart, StickPlan, run};
use offsquare_cuts::parts::Side;
use offsquare_planner::{BoardKind, Placement};
use offsquare_units::num::{self, Gather};
use offsquare_units::{DoorUnit, Length};
use std::collections::{BTreeMap, BTreeSet};

/// The numbers of a board's stretches, each with the place of its first part.
type Stretches = Vec<(u32, usize)>;

/// A cut of a board of sticks.
#[derive(Clone, Debug, PartialEq)]
pub struct AtSaw {
    pub cutting: Cutting,
    pub set_up: SetUp,
    /// The saw is set anew for it.
    pub anew: bool,
    /// Places left and right of the kerf; none: it falls off, or is cut again.
    pub sides: [Option<u32>; 2],
    /// Whether parts still lie beyond, left and right.
    pub goes_on: [bool; 2],
}

impl AtSaw {
    /// How much further right its face stands on the back of a board so thick, which is below unless the board is rolled
    /// over.
    pub fn back(&self, thick: f64) -> f64 {
        let set = self.set_up.setting;
        let run = num::tan_deg(set.bevel) / num::cos_deg(set.miter) * thick;
        if (set.lean == Side::Right) == self.cutting.flipped { run } else { -run }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum What {
    Cut(Box<AtSaw>),
    Rip(RipStep),
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

/// A whole run.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Walk {
    pub jobs: Jobs,
    /// By job.
    pub kinds: Vec<Vec<Kind>>,
    /// By their numbers; none: it no longer is what it was.
    pub boards: Vec<Option<Board>>,
    /// The boards as they lie in the shop.
    pub wholes: Vec<WholeBoard>,
    /// All steps, without those of parts that are lost.
    pub stages: Vec<Stage>,
    /// Of every cut of sticks, lost parts or not: where the wood ends left of its kerf and begins again right of it.
    pub(super) kerfs: BTreeMap<Tick, [f64; 2]>,
    /// By single part (board, place): the cuts of the board that free it.
    pub(super) free: BTreeMap<(u32, u32), Vec<Tick>>,
}

impl Walk {
    pub fn of(begun: &Begun) -> Walk {
        let jobs = begun.jobs();
        let solved = Solved::of(begun);
        let kinds = jobs.jobs.iter().map(|j| kinds(begun, j, &solved)).gather();
        let wholes = begun.whole_boards(&jobs);
        let mut out = Walk { kinds, jobs, wholes, ..Walk::default() };
        out.lay(begun);
        let rounds = begun.rounds(&out.wholes);
        for (n, round) in rounds.iter().enumerate() {
            // What is in a later round is cut there.
            let later = |b: u32| rounds[n + 1..].iter().any(|r| r.contains(&b));
            let own: Vec<Stage> =
                out.round(begun, round).into_iter().filter(|s| !later(s.tick.board)).gather();
            out.stages.extend(own);
        }
        out.lie(begun);
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
            let Some(mut cut) = of.lies(kept) else {
                self.boards.push(None);
                continue;
            };
            // Of rows that are alike so far, the one that it was found to be of.
            let row = self.wholes.iter().find(|w| w.numbers.contains(&(i as u32)));
            if let Some(row) = row.and_then(|w| w.owned) {
                let start = of.boards[cut.board].start;
                let is = |b: &crate::cutlist::Board| {
                    b.origin == Origin::Owned(row) && (b.start - start).abs() <= 1e-9
                };
                cut.board = of.boards.iter().position(is).unwrap_or(cut.board);
            }
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

    /// The wood of each cut: between the cuts that are made by then on its whole board, those of other rounds and those that
    /// served lost parts among them.
    fn lie(&mut self, begun: &Begun) {
        let done: BTreeSet<Tick> = begun.done.iter().copied().collect();
        // By the first number of each whole board, its cuts in order.
        let mut wholes: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        for (at, stage) in self.stages.iter().enumerate() {
            if matches!(stage.what, What::Cut(_)) {
                wholes.entry(self.whole(stage.tick.board)[0]).or_default().push(at);
            }
        }
        for (first, own) in wholes {
            let parts = self.middles(first, begun);
            let length = self.board(first).map_or(0.0, |b| b.length.0);
            let mut made: Vec<Kerf> = Vec::new();
            for at in own {
                let is_made =
                    done.contains(&self.stages[at].tick) || !out_of_use(&self.stages[at], begun);
                let tick = self.stages[at].tick;
                let What::Cut(cut) = &mut self.stages[at].what else { continue };
                let cut = &mut **cut;
                let saw = &begun.of.shop.saw;
                cut.cutting.hold_between((length, &made), &cut.set_up, saw, DoorUnit::In);
                made.extend(Some(cut.cutting.kerf()).filter(|_| is_made));
                let (wood, ends) = (cut.cutting.wood, self.kerfs[&tick]);
                let aside = |of: &(u32, u32)| of.0 == tick.board && cut.sides.contains(&Some(of.1));
                let beyond: Vec<f64> = parts.iter().filter(|p| !aside(&p.0)).map(|p| p.1).gather();
                let lies = |from: f64, to: f64| beyond.iter().any(|m| from < *m && *m < to);
                cut.goes_on = [
                    lies(wood[0].0.max(wood[0].1), ends[0]),
                    lies(ends[1], wood[1].0.min(wood[1].1)),
                ];
            }
        }
    }

    /// The parts of a whole board that are not lost, and how far from its left end the middle of each lies.
    fn middles(&self, board: u32, begun: &Begun) -> Vec<((u32, u32), f64)> {
        let mut out = Vec::new();
        for number in self.whole(board) {
            let Some(of) = self.board(number) else { continue };
            let Some(sticks) = self.jobs.jobs[of.job].instance.sticks() else { continue };
            for (place, p) in (0..).zip(&of.cut.parts) {
                if !begun.is_lost(number, place) {
                    let middle = p.x + of.start + sticks.parts[p.part].length / 2.0;
                    out.push(((number, place), middle));
                }
            }
        }
        out
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
        let mut out = Vec::new();
        for (at, step) in rip_steps(job, &board.cut, &begun.of.parts).into_iter().enumerate() {
            let tick = Tick { board: number, at: at as u32, work: 0 };
            for place in &step.frees {
                self.free.insert((number, *place), vec![tick]);
            }
            out.push(Stage { tick, what: What::Rip(step) });
        }
        out
    }

    fn sticks(&mut self, begun: &Begun, round: &[u32]) -> Vec<Stage> {
        let (plans, members) = self.plans(round);
        let run = run(&plans, &begun.of.shop.saw, DoorUnit::In);
        // By number, the first of its cuts among those of its whole board.
        let mut first: BTreeMap<u32, usize> = BTreeMap::new();
        let mut cuts: Vec<(u32, Cutting)> = Vec::new();
        for step in run.steps {
            let Step::Cut(mut cutting) = step else { continue };
            let own = &members[cutting.stock][cutting.board];
            let Some(place) = cutting.finishes.first().map(|f| f.of.place) else { continue };
            let Some((number, from)) = own.iter().rev().find(|m| m.1 <= place) else { continue };
            let finished = cutting.finishes.iter_mut().map(|f| &mut f.of);
            finished.chain(&mut cutting.frees).for_each(|s| s.place -= from);
            let least = first.entry(*number).or_insert(cutting.cut);
            *least = cutting.cut.min(*least);
            cuts.push((*number, cutting));
        }
        let mut out = Vec::new();
        for (number, cutting) in cuts {
            let set_up = run.set_ups[cutting.set_up].clone();
            let plan = &plans[cutting.stock];
            let tick = Tick { board: number, at: (cutting.cut - first[&number]) as u32, work: 0 };
            let mut sides: Vec<Option<u32>> =
                cutting.finishes.iter().map(|f| Some(f.of.place as u32)).gather();
            for place in sides.iter().flatten() {
                self.free.entry((number, *place)).or_default().push(tick);
            }
            sides.resize(2, None);
            if cutting.waste != Side::Right {
                sides.reverse();
            }
            let sides = [sides[0], sides[1]];
            let cut = AtSaw { cutting, set_up, anew: false, sides, goes_on: [false; 2] };
            let [left, right] = cut.cutting.faces();
            let thick = plan.parts.iter().fold(0.0, |t: f64, p| t.max(p.part.away.0));
            let back = cut.back(thick);
            let ends = [left.0.min(left.1) + back.min(0.0), right.0.max(right.1) + back.max(0.0)];
            self.kerfs.insert(tick, ends);
            out.push(Stage { tick, what: What::Cut(Box::new(cut)) });
        }
        out
    }

    /// The plans of a round's sticks, marks counted from the left end of the whole board; of each board the numbers of
    /// its stretches, each with the place of its first part.
    fn plans(&self, round: &[u32]) -> (Vec<StickPlan>, Vec<Vec<Stretches>>) {
        let (mut plans, mut members) = (Vec::new(), Vec::new());
        for (at, job) in self.jobs.jobs.iter().enumerate() {
            let Instance::Sticks(instance) = &job.instance else { continue };
            let mut instance = instance.clone();
            for (kind, board) in instance.boards.iter_mut().zip(&job.boards) {
                *kind = BoardKind { length: board.length.0, ..kind.clone() };
            }
            let (mut boards, mut own) = (Vec::new(), Vec::new());
            for whole in &self.wholes {
                let numbers = whole.numbers.iter().filter(|n| round.contains(n));
                let lying = numbers.filter_map(|n| Some((*n, self.board(*n)?)));
                let mut merged: Option<CutBoard> = None;
                let mut firsts = Vec::new();
                for (number, board) in lying.filter(|(_, b)| b.job == at) {
                    let moved = |p: &Placement| Placement { x: p.x + board.start, ..*p };
                    let cut = merged.get_or_insert_with(|| CutBoard {
                        board: board.cut.board,
                        ..CutBoard::default()
                    });
                    firsts.push((number, cut.parts.len()));
                    cut.parts.extend(board.cut.parts.iter().map(moved));
                }
                if let Some(cut) = merged {
                    boards.push(cut);
                    own.push(firsts);
                }
            }
            let parts =
                self.kinds[at].iter().map(|k| StickPart { part: k.on_board.clone(), first: 0 });
            let usable = (0..job.boards.len()).map(|kind| job.stretches(kind)).gather();
            let plan = StickPlan::new(job.name.clone(), instance, boards, parts.gather());
            plans.push(StickPlan { usable, ..plan });
            members.push(own);
        }
        (plans, members)
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

    /// Whether a test cut is offered before a step: where the saw is set anew to a reading, and before the first square cut.
    pub fn offers_test(&self, at: usize) -> bool {
        let set = |s: &Stage| match &s.what {
            What::Cut(cut) => Some((cut.anew, cut.set_up.setting)),
            _ => None,
        };
        let Some((true, setting)) = self.stages.get(at).and_then(set) else { return false };
        let before = self.stages[..at].iter().filter_map(set);
        setting.miter + setting.bevel > 0.0 || !before.into_iter().any(|s| s.1 == setting)
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

    /// The numbers of the board that this one is a stretch of, its own among them.
    pub fn whole(&self, board: u32) -> Vec<u32> {
        let own = self.wholes.iter().find(|w| w.numbers.contains(&board));
        own.map_or_else(|| vec![board], |w| w.numbers.clone())
    }

    /// Parts of a board that are not cut off it yet.
    pub fn rest(&self, board: u32, begun: &Begun) -> Vec<(u32, u32)> {
        let parts = |n: u32| self.board(n).map_or(0, |b| b.cut.parts.len() as u32);
        let own = self.whole(board).into_iter().flat_map(|n| (0..parts(n)).map(move |p| (n, p)));
        own.filter(|at| !begun.is_lost(at.0, at.1) && !self.is_free(*at, begun)).gather()
    }

    pub(super) fn is_free(&self, at: (u32, u32), begun: &Begun) -> bool {
        // A part that is its whole board needs no cut.
        self.free.get(&at).is_none_or(|cuts| cuts.iter().all(|c| begun.done.contains(c)))
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
