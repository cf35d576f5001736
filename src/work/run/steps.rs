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
use std::collections::BTreeMap;

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
    /// What the kerf takes along the board, where its middle lies halfway through the board, and on which side of that face.
    pub along: f64,
    pub middle: f64,
    pub waste: Side,
    /// The wood before the cut: where its left and its right end cross the near and the far edge.
    pub wood: [(f64, f64); 2],
    pub finishes: Vec<Finish>,
    pub frees: Vec<Single>,
    pub held_side: Side,
    /// The wood that is held, along the edge at the fence.
    pub held: f64,
    pub cautions: Vec<Text>,
}

/// A kerf in a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kerf {
    /// Its left and its right face, where they cross the near and the far edge.
    pub faces: [(f64, f64); 2],
    /// Halfway through the board.
    pub middle: f64,
}

impl Cutting {
    pub fn kerf(&self) -> Kerf {
        Kerf { faces: self.faces(), middle: self.middle }
    }

    /// The left and the right face of the kerf, where they cross the near and the far edge.
    pub fn faces(&self) -> [(f64, f64); 2] {
        let (told, by) = ((self.near, self.far), self.along);
        match self.waste {
            Side::Right => [told, (told.0 + by, told.1 + by)],
            _ => [(told.0 - by, told.1 - by), told],
        }
    }

    /// The wood between the cuts that are made in a board so long, and how it is held there: against the stop, or by its
    /// longer side. The face that is told stays on the held side where both sides are parts.
    pub fn hold_between(
        &mut self,
        (length, made): (f64, &[Kerf]),
        set_up: &SetUp,
        saw: &SawProfile,
        unit: DoorUnit,
    ) {
        let faces = self.faces();
        let (mut from, mut to) = (f64::NEG_INFINITY, f64::INFINITY);
        self.wood = [(0.0, 0.0), (length, length)];
        for Kerf { faces: [left, right], middle } in made.iter().copied() {
            if middle > self.middle && middle < to {
                (to, self.wood[1]) = (middle, left);
            } else if middle < self.middle && middle > from {
                (from, self.wood[0]) = (middle, right);
            }
        }
        let at_fence = |x: (f64, f64)| if self.flipped { x.0 } else { x.1 };
        let lengths = [
            at_fence(faces[0]) - at_fence(self.wood[0]),
            at_fence(self.wood[1]) - at_fence(faces[1]),
        ];
        self.held_side = match set_up.stop {
            Some(stop) => stop.side,
            None if lengths[0] >= lengths[1] => Side::Left,
            None => Side::Right,
        };
        let on_left = self.held_side == Side::Left;
        let held = lengths[usize::from(!on_left)].max(0.0);
        // What is short of the hold length by rounding only is not short of it.
        let hold = unit.value(saw.hold_length);
        self.held = if (held - hold).abs() <= SAME { hold } else { held };
        if self.finishes.len() == 2 && on_left != (self.waste == Side::Right) {
            (self.near, self.far) = faces[usize::from(!on_left)];
            self.waste = if on_left { Side::Right } else { Side::Left };
            self.finishes.reverse();
        }
        self.cautions.clear();
        if self.held < hold {
            self.cautions.push(say!(
                "Only {} of it lies at the fence on the side that is held, and less than {} is no \
                 hold for a hand: clamp it.",
                unit.length(self.held),
                saw.hold_length
            ));
        }
        if set_up.setting.miter * set_up.setting.bevel != 0.0 {
            self.cautions.push(caution(Caution::CompoundCut));
        }
    }
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
    saw: &'r SawProfile,
    unit: DoorUnit,
    /// Whether a board lies rolled over, and its cuts that are made.
    lies: BTreeMap<(usize, usize), bool>,
    done: BTreeMap<(usize, usize), Vec<Kerf>>,
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
        // Where both sides are parts, the face of the left one until it is held.
        let on_left = cut.left.is_some();
        let over = if on_left { 0.0 } else { cut.along };
        let finish = |place: usize, left_end: bool| Finish {
            of: self.single(at, place),
            end: if left_end == board.places[place].turned { End::Right } else { End::Left },
        };
        let mut finishes: Vec<Finish> = cut.left.map(|p| finish(p, false)).into_iter().collect();
        finishes.extend(cut.right.map(|p| finish(p, true)));
        let mut cutting = Cutting {
            set_up,
            kind: if cut.trim { Kind::Trim } else { Kind::Crosscut },
            stock: board.stock,
            board: board.members[at.1],
            cut: task.cut,
            flipped,
            near: cut.face.near + over,
            far: cut.face.far + over,
            along: cut.along,
            middle: (cut.face.near + cut.face.far + cut.along - cut.face.rise * board.away) / 2.0,
            waste: if on_left { Side::Right } else { Side::Left },
            finishes,
            frees: task.frees.iter().map(|p| self.single(at, *p)).collect(),
            wood: [(0.0, 0.0); 2],
            held_side: Side::Neither,
            held: 0.0,
            cautions: Vec::new(),
        };
        let made = self.done.entry(at).or_default();
        cutting.hold_between((board.length, made), &set_ups[set_up], self.saw, self.unit);
        made.push(cutting.kerf());
        cutting
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
