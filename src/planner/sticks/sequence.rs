//! The order of cuts: which board, which mark, how the saw is set, how the stick lies.
//!
//! **Model.** Each board is worked from its left end; a board may be put aside between two cuts and
//! taken up again. A saw set to so many degrees makes a cut that leans one way, and the same cut
//! leaning the other way once the stick is flipped over its long axis. So the saw changes when the
//! size of the angle changes, and the stick is flipped when the side changes. With the saw at one
//! angle, every board is cut as far as it goes at that angle; then the saw is set to the angle that
//! most boards wait for. A stop block stays where it is while parts of one kind follow one another.
//!
//! A nested plan can in theory cost more than the plain one (a miter's kerf along the
//! board is longer than a square one's, where nothing nests): the maker is shown both.

use super::super::outcome::ACCEPTED;
use super::ends;
use super::instance::{CutBoard, Instance, PartKind, Placement};
use offsquare_units::num::{self, Gather};

/// One cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SawCut {
    /// Index into the plan's boards.
    pub board: usize,
    /// A cut on a blank that has been cut off before: its place on the board. The marks are then measured
    /// from the blank's left end.
    pub blank: Option<usize>,
    /// Where the cut meets edge A and edge B, from the left end (the marks, not the kerf).
    pub mark_a: f64,
    pub mark_b: f64,
    /// True: the blade runs to the right of the line, otherwise to the left of it.
    pub kerf_right: bool,
    /// Degrees off square as the stick lies in the plan: positive where the line is further right at
    /// edge A.
    pub miter: f64,
    /// Degrees off square to which the saw is set, 0 or more.
    pub saw: f64,
    /// Degrees of blade tilt, 0 or more; only cuts on blanks are beveled.
    pub bevel: f64,
    /// Which of its part's own cuts on the blank this is ([`BoardCut::nth`]).
    pub nth: Option<usize>,
    /// Whether the stick lies flipped over its long axis for this cut.
    pub flipped: bool,
    /// Whether it was flipped since its last cut.
    pub flip: bool,
    /// Place on the board of the part that this cut frees.
    pub frees: Option<usize>,
    /// Place of the part that then remains of the board, where its far end is the board's own.
    pub leaves: Option<usize>,
    /// Index into the groups, for a cut that frees a part.
    pub group: Option<usize>,
}

/// Parts cut one after another against one setting of the stop block.
#[derive(Clone, Debug, PartialEq)]
pub struct StopGroup {
    /// Index into the job's parts.
    pub part: usize,
    /// From the stop's face to the near side of the kerf at the fence, the saw swung right and the left end
    /// against the stop; and with the saw swung left, each stick lying flipped over against that.
    pub length: f64,
    pub length_swung_left: f64,
    /// How many parts are cut at this setting.
    pub count: usize,
}

/// All cuts in order, with what they ask of the maker.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sequence {
    pub cuts: Vec<SawCut>,
    pub groups: Vec<StopGroup>,
    /// How often the saw's angle changes between one cut and the next.
    pub saw_changes: usize,
    /// How often a stick is flipped over between two of its cuts.
    pub flips: usize,
}

/// The order of cuts of a plan (nested or not), with few changes of the saw. Lengths in the job's
/// unit, angles in degrees off square. The plan must be sound ([`super::verify`]).
///
/// ```
/// use offsquare_planner::{BoardKind, CutBoard, Instance, PartKind, Placement, sequence};
/// // Two braces nested in one board: the left end, the shared cut, the right end, all at 45°.
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("b", 24.0, 1.0)],
///     parts: vec![PartKind::mitered("brace", 2, 12.0, 45.0, -45.0)],
/// };
/// let step = 12.0 - 3.5 + 0.125 * 2f64.sqrt();
/// let at = |x| Placement { x, ..Placement::default() };
/// let order = sequence(&job, &[CutBoard { parts: vec![at(0.0), at(step)], ..CutBoard::default() }]);
/// assert_eq!((order.cuts.len(), order.saw_changes, order.flips), (3, 0, 0));
/// assert_eq!((order.cuts[0].mark_a, order.cuts[0].mark_b), (0.0, 3.5));
/// assert_eq!((order.groups.len(), order.groups[0].count), (1, 2));
/// ```
pub fn sequence(instance: &Instance, boards: &[CutBoard]) -> Sequence {
    sequence_on(instance, boards, &|_| [instance.trim == 0.0; 2])
}

/// The same where not every board kind's ends (left, right) are good as they are: what an untrimmed instance has of a
/// board may begin behind its raw end, and then even a square part there takes a cut.
pub fn sequence_on(
    instance: &Instance,
    boards: &[CutBoard],
    good_ends: &dyn Fn(usize) -> [bool; 2],
) -> Sequence {
    let all = boards.iter().enumerate();
    let sticks: Vec<Vec<Waiting>> =
        all.map(|(b, board)| along(instance, b, board, good_ends(board.board))).gather();
    let mut best: Option<Sequence> = None;
    for rule in [Rule::Most, Rule::Longest, Rule::Both] {
        let mut order = Order::default();
        order.run(&sticks, rule);
        let found = order.done;
        if best.as_ref().is_none_or(|b| {
            (found.saw_changes, found.flips, found.groups.len())
                < (b.saw_changes, b.flips, b.groups.len())
        }) {
            best = Some(found);
        }
    }
    best.unwrap_or_default()
}

/// The order of cuts of a plain plan: the blanks square, then every miter on its blank, angle by
/// angle. `boards` is a plan of the squared job ([`super::plain`]); `instance` is the job itself.
///
/// ```
/// use offsquare_planner::{PlanAnswer, BoardKind, Instance, PartKind, plain, plain_sequence};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("b", 30.0, 1.0)],
///     parts: vec![PartKind::mitered("brace", 2, 12.0, 45.0, -45.0)],
/// };
/// let PlanAnswer::Plan(plan) = plain(&job) else { panic!() };
/// let order = plain_sequence(&job, &plan.boards);
/// // Two square cuts, four miters; the saw is set once from square to 45°.
/// assert_eq!((order.cuts.len(), order.saw_changes, order.flips), (6, 1, 0));
/// ```
pub fn plain_sequence(instance: &Instance, boards: &[CutBoard]) -> Sequence {
    let mut order = sequence(&super::plain::squared(instance), boards);
    finish(&mut order, miters(instance, boards));
    order
}

/// A cut on a part's blank.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardCut {
    /// Index into the plan's boards, and the part's place on that board.
    pub board: usize,
    pub blank: usize,
    /// Index into the job's parts.
    pub part: usize,
    /// As in [`SawCut`], from the blank's left end.
    pub mark_a: f64,
    pub mark_b: f64,
    pub kerf_right: bool,
    pub miter: f64,
    pub bevel: f64,
    /// Which of the part's own cuts on its blank; none for an end that the plan mitered.
    pub nth: Option<usize>,
}

/// The miters of a plain plan, each on its blank.
pub fn miters(instance: &Instance, boards: &[CutBoard]) -> Vec<BoardCut> {
    let mut out = Vec::new();
    for (board, cut) in boards.iter().enumerate() {
        for (blank, p) in cut.parts.iter().enumerate() {
            let Some(part) = instance.parts.get(p.part) else {
                continue;
            };
            let (left, right) = sides(instance, part, &Placement { x: 0.0, ..*p });
            out.extend([left, right].into_iter().filter(|e| e.miter != 0.0).map(|e| BoardCut {
                board,
                blank,
                part: p.part,
                mark_a: e.mark_a,
                mark_b: e.mark_b,
                kerf_right: e.kerf_right,
                miter: e.miter,
                bevel: 0.0,
                nth: None,
            }));
        }
    }
    out
}

/// Adds the cuts on the blanks to an order: at the saw as it stands first, then setting by setting, part
/// by part.
pub fn finish(order: &mut Sequence, mut cuts: Vec<BoardCut>) {
    // Readings that differ by rounding only are one setting.
    let mut settings: Vec<(f64, f64)> = order.cuts.iter().map(|c| (c.saw, c.bevel)).gather();
    num::sort_by(&mut settings, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    settings.dedup();
    for c in &mut cuts {
        let miter = c.miter.abs();
        let near =
            |s: &&(f64, f64)| (s.0 - miter).abs() <= ACCEPTED && (s.1 - c.bevel).abs() <= ACCEPTED;
        match settings.iter().find(near) {
            Some(&(saw, bevel)) => {
                c.miter = if c.miter < 0.0 { -saw } else { saw };
                c.bevel = bevel;
            }
            None => settings.push((miter, c.bevel)),
        }
    }
    let stands = order.cuts.last().map(|c| (c.saw, c.bevel));
    num::sort_by(&mut cuts, |a, b| {
        let next = |c: &BoardCut| stands != Some((c.miter.abs(), c.bevel));
        next(a)
            .cmp(&next(b))
            .then(a.miter.abs().total_cmp(&b.miter.abs()))
            .then(a.bevel.total_cmp(&b.bevel))
            .then((a.part, a.nth, a.kerf_right).cmp(&(b.part, b.nth, b.kerf_right)))
            .then((a.board, a.blank).cmp(&(b.board, b.blank)))
    });
    let mut lies: std::collections::BTreeMap<(usize, usize), Option<bool>> = Default::default();
    let mut on = Order { saw: stands, done: core::mem::take(order), stop: None };
    for c in cuts {
        let known = lies.get(&(c.board, c.blank)).copied().flatten();
        let cut = SawCut {
            board: c.board,
            blank: Some(c.blank),
            mark_a: c.mark_a,
            mark_b: c.mark_b,
            kerf_right: c.kerf_right,
            miter: c.miter + 0.0,
            bevel: c.bevel,
            nth: c.nth,
            ..SawCut::default()
        };
        lies.insert((c.board, c.blank), on.push(&Waiting { cut, key: None }, known));
    }
    *order = on.done;
}

/// A cut that waits to be made, as far as it is known before, and the stop block for it.
#[derive(Clone, Debug, Default)]
struct Waiting {
    cut: SawCut,
    key: Option<Stop>,
}

/// A setting of the stop block: for which part, and where, the saw swung right and swung left.
#[derive(Clone, Copy, Debug)]
struct Stop {
    part: usize,
    at: [f64; 2],
}

impl PartialEq for Stop {
    fn eq(&self, other: &Stop) -> bool {
        let near = |i: usize| (self.at[i] - other.at[i]).abs() <= ACCEPTED;
        self.part == other.part && near(0) && near(1)
    }
}

/// The stop block for a part's right cut, its left end against the stop: from the left end's point to the kerf
/// at the fence. Swung right, a slanted line stands nearer to the left at the fence; a square one is the same
/// at both edges, whichever of them lies at the fence.
fn stop(part: usize, left: &SawCut, right: &SawCut) -> Stop {
    let tip = left.mark_a.min(left.mark_b);
    let (low, high) = (right.mark_a.min(right.mark_b) - tip, right.mark_a.max(right.mark_b) - tip);
    Stop { part, at: [low, high] }
}

/// The cuts at the left and right end of a part as it lies.
fn sides(instance: &Instance, part: &PartKind, place: &Placement) -> (SawCut, SawCut) {
    let (l, r) = ends::lying(part.left, part.right, place.turned, place.flipped);
    let (ol, or) = (ends::reach(instance.width, l), ends::reach(instance.width, r));
    let end = place.x + part.length;
    let cut = |mark_a: f64, mark_b: f64, kerf_right: bool, miter: f64| SawCut {
        mark_a,
        mark_b,
        kerf_right,
        // -0.0 and 0.0 are one angle.
        miter: miter + 0.0,
        ..SawCut::default()
    };
    (
        cut(place.x + (-ol).max(0.0), place.x + ol.max(0.0), false, -l),
        cut(end - (-or).max(0.0), end - or.max(0.0), true, r),
    )
}

/// The cuts of one board from left to right.
fn along(instance: &Instance, b: usize, board: &CutBoard, good: [bool; 2]) -> Vec<Waiting> {
    let length = instance.boards.get(board.board).map_or(0.0, |k| k.length);
    let mut cuts: Vec<Waiting> = Vec::new();
    for (place, p) in board.parts.iter().enumerate() {
        let Some(part) = instance.parts.get(p.part) else {
            continue;
        };
        let (left, right) = sides(instance, part, p);
        let key = Some(stop(p.part, &left, &right));
        // No cut where a square end is the board's own end, or where the cut before made it.
        let own_end = left.miter == 0.0 && p.x.abs() <= ACCEPTED && good[0];
        let shared = cuts.last().is_some_and(|Waiting { cut: c, .. }| {
            let kerf = ends::kerf_along(instance.kerf, left.miter);
            c.miter == left.miter && (left.mark_a - c.mark_a - kerf).abs() <= ACCEPTED
        });
        if !own_end && !shared {
            cuts.push(Waiting { cut: SawCut { board: b, ..left }, key: None });
        }
        let at_end = (p.x + part.length - length).abs() <= ACCEPTED;
        if right.miter == 0.0 && at_end && good[1] {
            if let Some(last) = cuts.last_mut() {
                last.cut.leaves = Some(place);
            }
            continue;
        }
        cuts.push(Waiting { cut: SawCut { board: b, frees: Some(place), ..right }, key });
    }
    cuts
}

/// What the saw is set to next.
#[derive(Clone, Copy)]
enum Rule {
    /// The angle that most boards wait for.
    Most,
    /// The angle of the boards with most changes still before them.
    Longest,
    Both,
}

#[derive(Default)]
struct Order {
    done: Sequence,
    /// Miter and bevel.
    saw: Option<(f64, f64)>,
    stop: Option<Stop>,
}

impl Order {
    fn run(&mut self, sticks: &[Vec<Waiting>], rule: Rule) {
        let mut next = vec![0usize; sticks.len()];
        let mut lies: Vec<Option<bool>> = vec![None; sticks.len()];
        let mut last: Option<usize> = None;
        // Changes of the saw that each stick still asks for, from each of its cuts on.
        let ahead: Vec<Vec<usize>> = sticks.iter().map(|s| changes(s)).gather();
        while let Some(angle) = self.pick(sticks, &next, &ahead, rule) {
            loop {
                let mut best: Option<((bool, bool), usize)> = None;
                for (s, stick) in sticks.iter().enumerate() {
                    let Some(w) = stick.get(next[s]) else {
                        continue;
                    };
                    if w.cut.miter.abs() != angle {
                        continue;
                    }
                    let key = (w.key.is_some() && w.key == self.stop, last == Some(s));
                    if best.is_none_or(|(k, _)| key > k) {
                        best = Some((key, s));
                    }
                }
                let Some((_, s)) = best else { break };
                lies[s] = self.push(&sticks[s][next[s]], lies[s]);
                next[s] += 1;
                last = Some(s);
            }
        }
    }

    /// The angle to set next; none when all is cut.
    fn pick(
        &self,
        sticks: &[Vec<Waiting>],
        next: &[usize],
        ahead: &[Vec<usize>],
        rule: Rule,
    ) -> Option<f64> {
        let mut angles: Vec<(f64, usize)> = Vec::new();
        for (s, stick) in sticks.iter().enumerate() {
            let Some(w) = stick.get(next[s]) else {
                continue;
            };
            let left = ahead[s][next[s]];
            let weight = match rule {
                Rule::Most => 1,
                Rule::Longest => left * left * left + 1,
                Rule::Both => left + 1,
            };
            match angles.iter_mut().find(|a| a.0 == w.cut.miter.abs()) {
                Some(a) => a.1 += weight,
                None => angles.push((w.cut.miter.abs(), weight)),
            }
        }
        angles.into_iter().max_by(|a, b| a.1.cmp(&b.1).then(b.0.total_cmp(&a.0))).map(|a| a.0)
    }

    /// Makes a cut; gives how the stick lies afterwards, where that matters yet.
    fn push(&mut self, Waiting { cut, key }: &Waiting, lies: Option<bool>) -> Option<bool> {
        let saw = (cut.miter.abs(), cut.bevel);
        if self.saw.is_some_and(|s| s != saw) {
            self.done.saw_changes += 1;
        }
        self.saw = Some(saw);
        // A square cut can be made either way up; for a beveled one the saw card says how the part lies.
        let either = cut.miter == 0.0 || cut.bevel != 0.0;
        let lies_now = if either { lies } else { Some(cut.miter < 0.0) };
        let flip = lies.is_some() && lies != lies_now;
        self.done.flips += usize::from(flip);
        let group = key.map(|key| {
            if self.stop != Some(key) {
                self.stop = Some(key);
                self.done.groups.push(StopGroup {
                    part: key.part,
                    length: key.at[0],
                    length_swung_left: key.at[1],
                    count: 0,
                });
            }
            let at = self.done.groups.len() - 1;
            self.done.groups[at].count += 1;
            at
        });
        let flipped = lies_now.unwrap_or(false);
        self.done.cuts.push(SawCut { saw: saw.0, flipped, flip, group, ..cut.clone() });
        lies_now
    }
}

fn changes(stick: &[Waiting]) -> Vec<usize> {
    let mut ahead = vec![0; stick.len() + 1];
    for i in (0..stick.len()).rev() {
        let change =
            stick.get(i + 1).is_some_and(|n| n.cut.miter.abs() != stick[i].cut.miter.abs());
        ahead[i] = ahead[i + 1] + usize::from(change);
    }
    ahead
}
