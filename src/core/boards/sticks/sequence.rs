//! The order of cuts: which board, which mark, how the saw is set, how the stick lies.
//!
//! **Model.** Each board is worked from its left end; a board may be put aside between two cuts and
//! taken up again. A saw set to so many degrees makes a cut that leans one way, and the same cut
//! leaning the other way once the stick is flipped over its long axis. So the saw changes when the
//! size of the angle changes, and the stick is flipped when the side changes. With the saw at one
//! angle, every board is cut as far as it goes at that angle; then the saw is set to the angle that
//! most boards wait for. A stop block stays where it is while parts of one kind follow one another.

use super::super::outcome::ACCEPTED;
use super::ends;
use super::instance::{CutBoard, Instance, PartKind, Placement};
use crate::num::Gather;

/// One cut.
#[derive(Clone, Debug, PartialEq)]
pub struct SawCut {
    /// Index into the plan's boards.
    pub board: usize,
    /// In a plain plan, a cut on a blank that has been cut off before: its place on the board. The
    /// marks are then measured from the blank's left end.
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
    /// Length to set, long point to long point.
    pub length: f64,
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
/// use offsquare_core::boards::{BoardKind, CutBoard, Instance, PartKind, Placement, sequence};
/// // Two braces nested in one board: the left end, the shared cut, the right end, all at 45°.
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("b", 24.0, 1.0)],
///     parts: vec![PartKind::mitered("brace", 2, 12.0, 45.0, -45.0)],
/// };
/// let step = 12.0 - 3.5 + 0.125 * 2f64.sqrt();
/// let at = |x| Placement { part: 0, turned: false, flipped: false, x };
/// let order = sequence(&job, &[CutBoard { board: 0, parts: vec![at(0.0), at(step)] }]);
/// assert_eq!((order.cuts.len(), order.saw_changes, order.flips), (3, 0, 0));
/// assert_eq!((order.cuts[0].mark_a, order.cuts[0].mark_b), (0.0, 3.5));
/// assert_eq!((order.groups.len(), order.groups[0].count), (1, 2));
/// ```
pub fn sequence(instance: &Instance, boards: &[CutBoard]) -> Sequence {
    let sticks: Vec<Vec<Waiting>> =
        boards.iter().enumerate().map(|(b, board)| along(instance, b, board)).gather();
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
/// use offsquare_core::boards::{Answer, BoardKind, Instance, PartKind, plain, plain_sequence};
/// let job = Instance {
///     width: 3.5, kerf: 0.125, trim: 0.0,
///     boards: vec![BoardKind::unlimited("b", 30.0, 1.0)],
///     parts: vec![PartKind::mitered("brace", 2, 12.0, 45.0, -45.0)],
/// };
/// let Answer::Plan(plan) = plain(&job) else { panic!() };
/// let order = plain_sequence(&job, &plan.boards);
/// // Two square cuts, four miters; the saw is set once from square to 45°.
/// assert_eq!((order.cuts.len(), order.saw_changes, order.flips), (6, 1, 0));
/// ```
pub fn plain_sequence(instance: &Instance, boards: &[CutBoard]) -> Sequence {
    let square = super::plain::squared(instance);
    let sticks: Vec<Vec<Waiting>> =
        boards.iter().enumerate().map(|(b, board)| along(&square, b, board)).gather();
    let mut order = Order::default();
    order.run(&sticks, Rule::Most);
    // Each end on its own, by angle, then by part.
    let mut ends_left: Vec<Waiting> = Vec::new();
    for (b, board) in boards.iter().enumerate() {
        for (place, p) in board.parts.iter().enumerate() {
            let Some(part) = instance.parts.get(p.part) else {
                continue;
            };
            let blank = Placement { x: 0.0, ..*p };
            let (left, right) = sides(instance, part, &blank);
            for end in [left, right].into_iter().filter(|e| e.miter != 0.0) {
                ends_left.push(Waiting { board: b, blank: Some(place), ..end });
            }
        }
    }
    crate::num::sort_by(&mut ends_left, |a, b| {
        let part = |w: &Waiting| w.blank.map(|p| boards[w.board].parts[p].part);
        a.miter
            .abs()
            .total_cmp(&b.miter.abs())
            .then(part(a).cmp(&part(b)))
            .then((a.board, a.blank).cmp(&(b.board, b.blank)))
    });
    let mut lies: std::collections::BTreeMap<(usize, Option<usize>), bool> = Default::default();
    for w in &ends_left {
        let known = lies.get(&(w.board, w.blank)).copied();
        let flipped = order.push(w, known);
        lies.insert((w.board, w.blank), flipped);
    }
    order.done
}

/// A cut that waits to be made.
#[derive(Clone, Debug)]
struct Waiting {
    board: usize,
    blank: Option<usize>,
    mark_a: f64,
    mark_b: f64,
    kerf_right: bool,
    miter: f64,
    frees: Option<usize>,
    leaves: Option<usize>,
    /// Part and length, for the stop block.
    key: Option<(usize, f64)>,
}

/// The cuts at the left and right end of a part as it lies.
fn sides(instance: &Instance, part: &PartKind, place: &Placement) -> (Waiting, Waiting) {
    let (l, r) = ends::lying(part.left, part.right, place.turned, place.flipped);
    let (ol, or) = (ends::reach(instance.width, l), ends::reach(instance.width, r));
    let end = place.x + part.length;
    let waiting = |mark_a: f64, mark_b: f64, kerf_right: bool, miter: f64| Waiting {
        board: 0,
        blank: None,
        mark_a,
        mark_b,
        kerf_right,
        // -0.0 and 0.0 are one angle.
        miter: miter + 0.0,
        frees: None,
        leaves: None,
        key: None,
    };
    (
        waiting(place.x + (-ol).max(0.0), place.x + ol.max(0.0), false, -l),
        waiting(end - (-or).max(0.0), end - or.max(0.0), true, r),
    )
}

/// The cuts of one board from left to right.
fn along(instance: &Instance, b: usize, board: &CutBoard) -> Vec<Waiting> {
    let length = instance.boards.get(board.board).map_or(0.0, |k| k.length);
    let mut cuts: Vec<Waiting> = Vec::new();
    for (place, p) in board.parts.iter().enumerate() {
        let Some(part) = instance.parts.get(p.part) else {
            continue;
        };
        let (left, right) = sides(instance, part, p);
        // No cut where a square end is the board's own end, or where the cut before made it.
        let own_end = left.miter == 0.0 && p.x.abs() <= ACCEPTED && instance.trim == 0.0;
        let shared = cuts.last().is_some_and(|c| {
            let kerf = ends::kerf_along(instance.kerf, left.miter);
            c.miter == left.miter && (left.mark_a - c.mark_a - kerf).abs() <= ACCEPTED
        });
        if !own_end && !shared {
            cuts.push(Waiting { board: b, ..left });
        }
        let at_end = (p.x + part.length - length).abs() <= ACCEPTED;
        let key = Some((p.part, part.length));
        if right.miter == 0.0 && at_end && instance.trim == 0.0 {
            if let Some(last) = cuts.last_mut() {
                last.leaves = Some(place);
            }
            continue;
        }
        cuts.push(Waiting { board: b, frees: Some(place), key, ..right });
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
    saw: Option<f64>,
    /// The stop block's setting: part and its length.
    stop: Option<(usize, f64)>,
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
                    if w.miter.abs() != angle {
                        continue;
                    }
                    let key = (w.key.is_some() && w.key == self.stop, last == Some(s));
                    if best.is_none_or(|(k, _)| key > k) {
                        best = Some((key, s));
                    }
                }
                let Some((_, s)) = best else { break };
                lies[s] = Some(self.push(&sticks[s][next[s]], lies[s]));
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
            match angles.iter_mut().find(|a| a.0 == w.miter.abs()) {
                Some(a) => a.1 += weight,
                None => angles.push((w.miter.abs(), weight)),
            }
        }
        angles.into_iter().max_by(|a, b| a.1.cmp(&b.1).then(b.0.total_cmp(&a.0))).map(|a| a.0)
    }

    /// Makes a cut; gives how the stick lies afterwards.
    fn push(&mut self, w: &Waiting, lies: Option<bool>) -> bool {
        let saw = w.miter.abs();
        if self.saw.is_some_and(|s| s != saw) {
            self.done.saw_changes += 1;
        }
        self.saw = Some(saw);
        // A square cut can be made either way up; a stick that has not lain on the saw yet, too.
        let flipped = if w.miter == 0.0 { lies.unwrap_or(false) } else { w.miter < 0.0 };
        let flip = w.miter != 0.0 && lies.is_some_and(|l| l != flipped);
        self.done.flips += usize::from(flip);
        let group = w.key.map(|key| {
            if self.stop != Some(key) {
                self.stop = Some(key);
                self.done.groups.push(StopGroup { part: key.0, length: key.1, count: 0 });
            }
            let at = self.done.groups.len() - 1;
            self.done.groups[at].count += 1;
            at
        });
        self.done.cuts.push(SawCut {
            board: w.board,
            blank: w.blank,
            mark_a: w.mark_a,
            mark_b: w.mark_b,
            kerf_right: w.kerf_right,
            miter: w.miter,
            saw,
            flipped,
            flip,
            frees: w.frees,
            leaves: w.leaves,
            group,
        });
        flipped
    }
}

fn changes(stick: &[Waiting]) -> Vec<usize> {
    let mut ahead = vec![0; stick.len() + 1];
    for i in (0..stick.len()).rev() {
        let change = stick.get(i + 1).is_some_and(|n| n.miter.abs() != stick[i].miter.abs());
        ahead[i] = ahead[i + 1] + usize::from(change);
    }
    ahead
}
