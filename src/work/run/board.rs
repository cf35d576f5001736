//! The cuts of one board, and the parts that they finish.

use super::ends::{BoardEnd, Face, SAME, face, kerf_along};
use super::saw::{Setting, Stop};
use crate::solved::PiecePart;
use offsquare_cuts::parts::{End, Side};
use offsquare_planner::{CutBoard, Instance, alike};
use offsquare_units::{DoorUnit, num};

/// A part kind of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct StickPart {
    pub part: PiecePart,
    /// The number of its first single part, among all parts of its name.
    pub first: u64,
}

/// One stick's plan; `parts` are the instance's.
#[derive(Clone, Debug, PartialEq)]
pub struct StickPlan {
    pub stock: String,
    pub instance: Instance,
    /// By board kind: from where to where parts lie, left to right; a trim or a bad stretch beyond. An end of such a stretch
    /// that is the board's own is good as it is.
    pub usable: Vec<Vec<[f64; 2]>>,
    pub boards: Vec<CutBoard>,
    pub parts: Vec<StickPart>,
}

impl StickPlan {
    /// All boards can be used between their trims.
    pub fn new(
        stock: String,
        instance: Instance,
        boards: Vec<CutBoard>,
        parts: Vec<StickPart>,
    ) -> StickPlan {
        let trim = instance.trim;
        let usable = instance.boards.iter().map(|b| vec![[trim, b.length - trim]]).collect();
        StickPlan { stock, instance, usable, boards, parts }
    }

    /// A square end at that place of a board: the board's own, where it is trimmed, or neither.
    fn square_end(&self, board: usize, side: usize, x: f64) -> SquareEnd {
        let own = [0.0, self.instance.boards.get(board).map_or(0.0, |b| b.length)][side];
        let near = |a: f64, b: f64| (a - b).abs() <= SAME;
        let stretches = self.usable.get(board).map_or(&[][..], |all| all);
        let last = if side == 0 { stretches.first() } else { stretches.last() };
        match last.is_some_and(|s| near(s[side], x)) {
            true if near(own, x) => SquareEnd::Own,
            true => SquareEnd::Trimmed,
            false => SquareEnd::Inside,
        }
    }
}

/// Where a square end lies on a board.
#[derive(Clone, Copy, PartialEq, Eq)]
enum SquareEnd {
    Own,
    Trimmed,
    Inside,
}

/// One cut across a board.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// The left side of its kerf.
    pub face: Face,
    /// What the kerf takes along the board.
    pub along: f64,
    /// Its readings and sides, the board lying as at the start.
    pub setting: Setting,
    /// Places whose right (left) end it finishes: left and right of the kerf.
    pub left: Option<usize>,
    pub right: Option<usize>,
    pub trim: bool,
}

/// A part on a board.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub part: usize,
    pub length: f64,
    /// Its own left end is the right one on the board.
    pub turned: bool,
    /// The cuts at its ends on the board; none where it is the board's own end.
    pub left: Option<usize>,
    pub right: Option<usize>,
    /// How far it reaches, as it is cut on the board.
    pub tips: [f64; 2],
}

/// A board with its cuts from left to right.
#[derive(Clone, Debug)]
pub(super) struct Board {
    pub stock: usize,
    /// Which boards of the stock are cut so.
    pub members: Vec<usize>,
    pub length: f64,
    pub width: f64,
    pub away: f64,
    pub cuts: Vec<Cut>,
    pub places: Vec<Place>,
}

impl Place {
    /// The cuts at its ends.
    pub fn cuts(&self) -> impl Iterator<Item = usize> {
        [self.left, self.right].into_iter().flatten()
    }
}

impl Board {
    pub fn longest(&self) -> f64 {
        self.places.iter().fold(0.0, |m, p| m.max(p.length))
    }

    /// The settings of its cuts, each with what speaks for cutting it so: that the board need not be rolled over,
    /// and more than that, that a part against a stop at its left lies with an edge at the fence that can be held.
    pub fn weighed(&self, hold: f64) -> Vec<(Setting, usize)> {
        const HELD: usize = 1000;
        let count = self.members.len();
        let mut out: Vec<_> = self.cuts.iter().map(|c| (c.setting, count)).collect();
        for place in &self.places {
            let Some(right) = place.right.map(|c| &self.cuts[c]) else { continue };
            let left = place.left.map(|c| &self.cuts[c]);
            let start = |f: fn(&Face) -> f64| left.map_or(0.0, |c| f(&c.face) + c.along);
            let near = right.face.near - start(|f| f.near);
            let far = right.face.far - start(|f| f.far);
            if near.min(far) < hold && near.max(far) >= hold {
                let longer_at_fence =
                    if far > near { right.setting } else { right.setting.rolled() };
                out.push((longer_at_fence, count * HELD));
            }
        }
        out
    }

    /// Where a stop stands for a cut that frees a place, its other end touching it: from the stop to the near
    /// side of the kerf at the fence, on the table.
    pub fn stop(&self, cut: usize, place: usize, side: Side, rolled: bool) -> Stop {
        let (c, p) = (&self.cuts[cut], &self.places[place]);
        // On the table lies the back, or rolled over the seen face.
        let lower = if rolled { 0.0 } else { -self.away };
        let at_fence = if rolled { c.face.near } else { c.face.far } + c.face.rise * lower;
        let at = match side {
            Side::Left => at_fence - p.tips[0],
            _ => p.tips[1] - (at_fence + c.along),
        };
        Stop { at, side }
    }
}

/// Boards of all plans, those that are cut alike as one; boards for long parts first.
pub(super) fn boards(plans: &[StickPlan], unit: DoorUnit) -> Vec<Board> {
    let mut out = Vec::new();
    for (stock, plan) in plans.iter().enumerate() {
        for members in alike(&plan.boards) {
            let first = members[0];
            let own = board(plan, &plan.boards[first], unit, (stock, first));
            out.push(Board { members, ..own });
        }
    }
    num::sort_by(&mut out, |a: &Board, b: &Board| b.longest().total_cmp(&a.longest()));
    out
}

fn board(plan: &StickPlan, cut: &CutBoard, unit: DoorUnit, at: (usize, usize)) -> Board {
    let job = &plan.instance;
    let width = job.width;
    let away = |p: &StickPart| unit.value(p.part.away);
    let mut out = Board {
        stock: at.0,
        members: vec![at.1],
        length: job.boards.get(cut.board).map_or(0.0, |b| b.length),
        width,
        away: plan.parts.iter().map(away).fold(0.0, f64::max),
        cuts: Vec::new(),
        places: Vec::new(),
    };
    for p in &cut.parts {
        let (Some(kind), Some(stick)) = (job.parts.get(p.part), plan.parts.get(p.part)) else {
            continue;
        };
        let own =
            |end| BoardEnd::of(&stick.part, end, width, job.kerf, unit).lying(p.turned, p.flipped);
        let (own_left, own_right) = (own(End::Left), own(End::Right));
        let (left, right) = if p.turned { (own_right, own_left) } else { (own_left, own_right) };
        let tips = [p.x + left.more - left.over, p.x + kind.length - right.more + right.over];
        let place = out.places.len();
        let square = |e: &BoardEnd| e.cut.is_square();
        let at = |e: &BoardEnd, side: usize| match square(e) {
            true => plan.square_end(cut.board, side, tips[side]),
            false => SquareEnd::Inside,
        };
        let lies = [at(&left, 0), at(&right, 1)];
        let mut new = Place {
            part: p.part,
            length: unit.value(stick.part.length),
            turned: p.turned,
            left: None,
            right: None,
            tips,
        };
        if lies[0] != SquareEnd::Own {
            let along = kerf_along(job.kerf, &left.cut);
            let right_side = face(&left.cut, tips[0], -1.0, width, away(stick));
            let moved =
                Face { near: right_side.near - along, far: right_side.far - along, ..right_side };
            let shared = out.cuts.last().is_some_and(|c| c.left.is_some() && same(&c.face, &moved));
            if !shared {
                out.cuts.push(Cut::new(moved, along, &left, lies[0] == SquareEnd::Trimmed));
            }
            let at = out.cuts.len() - 1;
            out.cuts[at].right = Some(place);
            new.left = Some(at);
        }
        if lies[1] != SquareEnd::Own {
            let along = kerf_along(job.kerf, &right.cut);
            let own = face(&right.cut, tips[1], 1.0, width, away(stick));
            let trims = lies[1] == SquareEnd::Trimmed;
            out.cuts.push(Cut { left: Some(place), ..Cut::new(own, along, &right, trims) });
            new.right = Some(out.cuts.len() - 1);
        }
        out.places.push(new);
    }
    out
}

fn same(a: &Face, b: &Face) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    near(a.near, b.near) && near(a.far, b.far) && near(a.rise, b.rise)
}

impl Cut {
    fn new(face: Face, along: f64, end: &BoardEnd, trim: bool) -> Cut {
        let toward = |x: f64| match x {
            x if x > 0.0 => Side::Right,
            x if x < 0.0 => Side::Left,
            _ => Side::Neither,
        };
        let setting = Setting {
            miter: end.cut.miter.abs(),
            // Swung left the near end of the cut lies left of its far end.
            swing: toward(if end.cut.miter == 0.0 { 0.0 } else { face.near - face.far }),
            bevel: end.cut.bevel.abs(),
            lean: toward(face.rise),
        };
        Cut { face, along, setting, left: None, right: None, trim }
    }
}
