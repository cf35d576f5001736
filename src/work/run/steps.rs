//! The run as it is told: set-ups, steps in order, boards that are cut alike.

use super::board::{Board, StickPlan, boards};
use super::ends::{BoardEnd, SAME};
use super::order::{Key, Task};
use super::saw::{SetUp, Setting, settings};
use super::sequence::sequence;
use super::stages::staged;
use crate::solved::PiecePart;
use offsquare_cuts::facts::{Caution, caution};
use offsquare_cuts::parts::{End, Side};
use offsquare_cuts::saw::SawProfile;
use offsquare_units::{DoorUnit, Text, num, say};
use std::collections::{BTreeMap, BTreeSet};

/// A whole run.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Run {
    pub set_ups: Vec<SetUp>,
    pub steps: Vec<Step>,
    /// For each plan, boards with the same steps.
    pub alike: Vec<Vec<Vec<usize>>>,
}

/// One single part, by its name and its number over the batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Single {
    pub part: String,
    pub nth: u64,
    /// Its place on its board, from the left.
    pub place: usize,
}

/// An end that a cut finishes: the part's own left or right one.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    pub of: Single,
    pub end: End,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Takes off a board's raw end.
    Trim,
    Crosscut,
}

/// One step: at the saw or at the bench.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    Cut(Cutting),
    Bench(Bench),
}

/// A cut across a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    pub set_up: usize,
    pub kind: Kind,
    /// Index of the plan, of the board among its boards, and of the cut among the board's, from the left.
    pub stock: usize,
    pub board: usize,
    pub cut: usize,
    /// The board lies rolled over, face down.
    pub flipped: bool,
    /// Where the face that stays on the first finished part crosses the near and the far edge, seen face.
    pub near: f64,
    pub far: f64,
    /// Where the kerf lies from that face.
    pub waste: Side,
    pub finishes: Vec<Finish>,
    pub frees: Vec<Single>,
    pub held_side: Side,
    /// The wood that is held, along the edge at the fence.
    pub held: f64,
    pub cautions: Vec<Text>,
}

/// What is done to a part at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// The second cut of an end.
    SecondCut,
    /// A corner taken off an end that stays square.
    Clip,
    Mark,
    /// The cuts at the sides of a housing.
    Shoulder,
    Housing,
    Drill,
}

/// Work at the bench on one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    pub single: Single,
    pub what: Work,
    /// How many there are on this part.
    pub of: usize,
    pub stock: usize,
    pub board: usize,
}

/// The run over the boards of some plans, on this saw. Cuts come set-up by set-up; work at the bench follows.
pub fn run(plans: &[StickPlan], saw: &SawProfile, unit: DoorUnit) -> Run {
    let all = boards(plans, unit);
    let hold = unit.value(saw.hold_length);
    let told: Vec<_> = all.iter().flat_map(|b| b.weighed(hold)).collect();
    let settings = settings(&told, saw);
    let staged = staged(&all, &settings, hold);
    let mut out = Run::default();
    let mut teller = Teller {
        plans,
        boards: &all,
        names: names(plans, &all),
        settings: &settings,
        hold,
        saw,
        unit,
        lies: BTreeMap::new(),
        done: BTreeMap::new(),
        set_ups: BTreeMap::new(),
    };
    for turn in sequence(&all, &staged.tasks, &staged.visits) {
        let task = &staged.tasks[turn.board][turn.task];
        let cutting = teller.cut(&mut out.set_ups, (turn.board, turn.member), task);
        out.steps.push(Step::Cut(cutting));
    }
    out.alike = alike(plans, &out.steps);
    out.steps.extend(teller.bench().into_iter().map(Step::Bench));
    out
}

/// The number of each placed part, by board, member and place.
type Names = BTreeMap<(usize, usize, usize), u64>;

/// Single parts are numbered as the plan lays them.
fn names(plans: &[StickPlan], boards: &[Board]) -> Names {
    let mut out = Names::new();
    for (stock, plan) in plans.iter().enumerate() {
        let mut own: Vec<(usize, usize, usize)> = Vec::new();
        for (b, board) in boards.iter().enumerate().filter(|(_, b)| b.stock == stock) {
            own.extend(board.members.iter().enumerate().map(|(m, i)| (*i, b, m)));
        }
        num::sort_by(&mut own, Ord::cmp);
        let mut next: Vec<u64> = plan.parts.iter().map(|p| p.first).collect();
        for (_, b, m) in own {
            for (p, place) in boards[b].places.iter().enumerate() {
                out.insert((b, m, p), next[place.part]);
                next[place.part] += 1;
            }
        }
    }
    out
}

/// What is known while the steps are told.
struct Teller<'r> {
    plans: &'r [StickPlan],
    boards: &'r [Board],
    names: Names,
    settings: &'r [Setting],
    hold: f64,
    saw: &'r SawProfile,
    unit: DoorUnit,
    /// Whether a board lies rolled over, and its cuts that are made.
    lies: BTreeMap<(usize, usize), bool>,
    done: BTreeMap<(usize, usize), BTreeSet<usize>>,
    set_ups: BTreeMap<Key, usize>,
}

impl Teller<'_> {
    fn part(&self, board: usize, place: usize) -> &PiecePart {
        let board = &self.boards[board];
        &self.plans[board.stock].parts[board.places[place].part].part
    }

    fn single(&self, (board, member): (usize, usize), place: usize) -> Single {
        let nth = self.names.get(&(board, member, place)).copied().unwrap_or_default();
        Single { part: self.part(board, place).name.clone(), nth, place }
    }

    fn cut(&mut self, set_ups: &mut Vec<SetUp>, at: (usize, usize), task: &Task) -> Cutting {
        let board = &self.boards[at.0];
        let cut = &board.cuts[task.cut];
        let (setting, rolled) = cut.setting.of(self.settings);
        // A square cut is made as the board lies.
        let lies = self.lies.entry(at).or_default();
        if !cut.setting.is_square() {
            *lies = rolled;
        }
        let flipped = *lies;
        let set_up = *self.set_ups.entry(task.key).or_insert(set_ups.len());
        if set_up == set_ups.len() {
            let setting = self.settings[setting];
            let place = cut.left.or(cut.right).unwrap_or_default();
            let part = self.part(at.0, place);
            let sizes = (part.length, self.unit.length(board.width), part.away);
            set_ups.push(SetUp {
                setting,
                stop: task.stop,
                shown: setting.shown(self.saw),
                way_out: setting.way_out(self.saw, sizes),
            });
        }
        let wood = self.wood(at, task.cut, flipped);
        let held_side = match task.stop {
            Some(stop) => stop.side,
            None if wood[0] >= wood[1] => Side::Left,
            None => Side::Right,
        };
        let wood = wood[usize::from(held_side == Side::Right)];
        // What is short of the hold length by rounding only is not short of it.
        let held = if (wood - self.hold).abs() <= SAME { self.hold } else { wood };
        self.done.entry(at).or_default().insert(task.cut);
        // The face that is told stays on the held side where both sides are parts.
        let on_left = match (cut.left, cut.right) {
            (Some(_), Some(_)) => held_side == Side::Left,
            (left, _) => left.is_some(),
        };
        let over = if on_left { 0.0 } else { cut.along };
        let finish = |place: usize, left_end: bool| Finish {
            of: self.single(at, place),
            end: if left_end == board.places[place].turned { End::Right } else { End::Left },
        };
        let mut finishes: Vec<Finish> = cut.left.map(|p| finish(p, false)).into_iter().collect();
        finishes.extend(cut.right.map(|p| finish(p, true)));
        if !on_left {
            finishes.reverse();
        }
        Cutting {
            set_up,
            kind: if cut.trim { Kind::Trim } else { Kind::Crosscut },
            stock: board.stock,
            board: board.members[at.1],
            cut: task.cut,
            flipped,
            near: cut.face.near + over,
            far: cut.face.far + over,
            waste: if on_left { Side::Right } else { Side::Left },
            finishes,
            frees: task.frees.iter().map(|p| self.single(at, *p)).collect(),
            held_side,
            held,
            cautions: self.cautions(set_ups[set_up].setting.bevel * cut.setting.miter != 0.0, held),
        }
    }

    /// The wood left and right of a cut before it is made, along the edge at the fence.
    fn wood(&self, at: (usize, usize), cut: usize, flipped: bool) -> [f64; 2] {
        let board = &self.boards[at.0];
        let done = self.done.get(&at);
        let at_fence = |c: usize| {
            let face = board.cuts[c].face;
            if flipped { face.near } else { face.far }
        };
        let before = done.and_then(|d| d.range(..cut).next_back());
        let after = done.and_then(|d| d.range(cut + 1..).next());
        let from = before.map_or(0.0, |c| at_fence(*c) + board.cuts[*c].along);
        let to = after.map_or(board.length, |c| at_fence(*c));
        let own = at_fence(cut);
        [(own - from).max(0.0), (to - own - board.cuts[cut].along).max(0.0)]
    }

    fn cautions(&self, compound: bool, held: f64) -> Vec<Text> {
        let mut out = Vec::new();
        if held < self.hold {
            out.push(say!(
                "Only {} of it lies at the fence on the side that is held, and less than {} is no \
                 hold for a hand: clamp it.",
                self.unit.length(held),
                self.saw.hold_length
            ));
        }
        if compound {
            out.push(caution(Caution::CompoundCut));
        }
        out
    }

    /// Work at the bench: like work together, part by part.
    fn bench(&self) -> Vec<Bench> {
        let mut out: Vec<(Work, usize, usize, Bench)> = Vec::new();
        for (b, board) in self.boards.iter().enumerate() {
            let plan = &self.plans[board.stock];
            for (p, place) in board.places.iter().enumerate() {
                let part = self.part(b, p);
                for (what, of) in work(part, board.width, plan.instance.kerf, self.unit) {
                    out.extend(board.members.iter().enumerate().map(|(m, i)| {
                        let single = self.single((b, m), p);
                        let bench = Bench { single, what, of, stock: board.stock, board: *i };
                        (what, board.stock, place.part, bench)
                    }));
                }
            }
        }
        num::sort_by(&mut out, |a, b| {
            (a.0, a.1, a.2, a.3.single.nth).cmp(&(b.0, b.1, b.2, b.3.single.nth))
        });
        out.into_iter().map(|(.., bench)| bench).collect()
    }
}

/// What a part needs at the bench once it is cut off, each with how many.
fn work(part: &PiecePart, width: f64, kerf: f64, unit: DoorUnit) -> Vec<(Work, usize)> {
    let mut seconds = 0;
    let mut clips = 0;
    for (end, own) in [(End::Left, &part.left), (End::Right, &part.right)] {
        let on_board = BoardEnd::of(part, end, width, kerf, unit);
        let tip = if end == End::Left { 0.0 } else { part.length.0 };
        let squared = on_board.cut.is_square() && !own.is_square();
        match &part.outline {
            Some(outline) if squared => {
                // Of an end that is square on the board, what stays of it on the outline.
                let slack = 1e-6 * part.length.0;
                let stays = outline.0.iter().filter(|p| (p.x - tip).abs() <= slack).count() >= 2;
                let cuts = 1 + usize::from(own.second.is_some());
                if stays { clips += cuts } else { seconds += cuts }
            }
            _ if squared => seconds += 1 + usize::from(own.second.is_some()),
            _ => seconds += usize::from(own.second.is_some()),
        }
    }
    let inside = |x: f64| x > 1e-6 && x < part.length.0 - 1e-6;
    let shoulders = part
        .laps
        .iter()
        .flat_map(|l| l.shoulders)
        .filter(|(a, b)| inside(a.x) || inside(b.x))
        .count();
    let all = [
        (Work::SecondCut, seconds),
        (Work::Clip, clips),
        (Work::Mark, part.marks.len()),
        (Work::Shoulder, shoulders),
        (Work::Housing, part.laps.len()),
        (Work::Drill, part.holes.len()),
    ];
    all.into_iter().filter(|(_, of)| *of > 0).collect()
}

/// Boards with the same steps, for each plan.
fn alike(plans: &[StickPlan], steps: &[Step]) -> Vec<Vec<Vec<usize>>> {
    let mut own: BTreeMap<(usize, usize), Vec<Cutting>> = BTreeMap::new();
    for step in steps {
        if let Step::Cut(cut) = step {
            let mut same = Cutting { board: 0, ..cut.clone() };
            let singles = same.finishes.iter_mut().map(|f| &mut f.of).chain(&mut same.frees);
            singles.for_each(|s| s.nth = 0);
            own.entry((cut.stock, cut.board)).or_default().push(same);
        }
    }
    let mut out = vec![Vec::new(); plans.len()];
    let mut groups: Vec<(&Vec<Cutting>, usize, Vec<usize>)> = Vec::new();
    for ((stock, board), steps) in &own {
        match groups.iter_mut().find(|g| g.1 == *stock && g.0 == steps) {
            Some(group) => group.2.push(*board),
            None => groups.push((steps, *stock, vec![*board])),
        }
    }
    for (_, stock, boards) in groups {
        out[stock].push(boards);
    }
    out
}
