//! What goes into the planner and what comes out: the job, the cut boards, the answer.

use crate::num::Gather;
/// Largest number of single parts that one job may hold.
pub const MOST_PARTS: u64 = 100_000;
/// Largest length, width or price that is taken, in the job's own unit.
pub const LARGEST: f64 = 1e9;
/// Largest end angle in degrees off square (the definition's section 2).
pub const STEEPEST: f64 = 75.0;
/// What planners work to, in the job's unit.
pub const WORKING: f64 = 1e-9;

/// One job: parts to be cut one after another from boards of one section.
///
/// Lengths are in any one unit, angles in degrees off square, positive where edge A (the one at
/// y = 0) reaches further out.
///
/// ```
/// use offsquare_core::boards::{BoardKind, Instance, PartKind};
/// let job = Instance {
///     width: 3.5,
///     kerf: 0.125,
///     trim: 0.0,
///     boards: vec![BoardKind::unlimited("8ft", 96.0, 4.28)],
///     parts: vec![PartKind::square("slat", 3, 32.0)],
/// };
/// assert!(job.check().is_empty());
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Instance {
    /// Width of every board in the plane of the miter.
    pub width: f64,
    /// Thickness of the cut, measured at right angles to it.
    pub kerf: f64,
    /// Length given up at each end of every board.
    pub trim: f64,
    pub boards: Vec<BoardKind>,
    pub parts: Vec<PartKind>,
}

/// Boards of one length and price.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardKind {
    pub id: String,
    pub length: f64,
    pub price: f64,
    /// How many there are; none: as many as are wanted.
    pub limit: Option<u64>,
}

/// Parts of one length and one pair of ends.
#[derive(Clone, Debug, PartialEq)]
pub struct PartKind {
    pub id: String,
    pub qty: u64,
    /// Whole extent along the board, long point to long point.
    pub length: f64,
    pub left: f64,
    pub right: f64,
    /// True: it may be turned end for end in the plane, but not flipped over.
    pub one_good_face: bool,
}

/// One part on a board: which kind, how it lies, and the least x of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Index into the job's parts.
    pub part: usize,
    pub turned: bool,
    pub flipped: bool,
    pub x: f64,
}

/// One board on which something is cut, parts from left to right.
#[derive(Clone, Debug, PartialEq)]
pub struct CutBoard {
    /// Index into the job's board kinds.
    pub board: usize,
    pub parts: Vec<Placement>,
}

/// A plan with what is known about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub boards: Vec<CutBoard>,
    /// What the boards cost together.
    pub price: f64,
    /// No plan costs less than this.
    pub bound: f64,
    /// True exactly if the price is not above the bound (to 1e-6).
    pub proven: bool,
    /// True if price, number of boards and largest leftover are all proven best, in that order.
    pub proven_all: bool,
    /// The one largest leftover, at full width, in the job's unit.
    pub leftover: f64,
}

/// The planner's answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Plan(Plan),
    /// No plan exists. `part` indexes the part that fits on no board; none: the supply is short.
    Infeasible {
        part: Option<usize>,
        reason: String,
    },
    /// The search was stopped before it found a plan or could rule one out.
    Open,
    /// The job itself cannot be right.
    Invalid(Vec<Flaw>),
}

/// One thing that is wrong with a job: where (a JSON pointer), and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    pub path: String,
    pub text: String,
}

impl Flaw {
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Flaw {
        Flaw { path: path.into(), text: text.into() }
    }
}

impl BoardKind {
    /// A kind of which any number can be bought.
    pub fn unlimited(id: &str, length: f64, price: f64) -> BoardKind {
        BoardKind { id: id.to_owned(), length, price, limit: None }
    }

    /// Boards already owned: they cost nothing, and there are only so many.
    pub fn owned(id: &str, length: f64, count: u64) -> BoardKind {
        BoardKind { id: id.to_owned(), length, price: 0.0, limit: Some(count) }
    }
}

impl PartKind {
    /// A part with two square ends.
    pub fn square(id: &str, qty: u64, length: f64) -> PartKind {
        PartKind::mitered(id, qty, length, 0.0, 0.0)
    }

    /// A part with two given ends that may be flipped.
    pub fn mitered(id: &str, qty: u64, length: f64, left: f64, right: f64) -> PartKind {
        PartKind { id: id.to_owned(), qty, length, left, right, one_good_face: false }
    }

    /// The same with one good face: turned, but never flipped.
    pub fn good_face(mut self) -> PartKind {
        self.one_good_face = true;
        self
    }
}

impl Instance {
    /// Everything that is wrong with the job; empty if it can be planned.
    pub fn check(&self) -> Vec<Flaw> {
        let mut flaws = Vec::new();
        if !(self.width > 0.0 && self.width <= LARGEST) {
            flaws.push(Flaw::new(
                "/width",
                "The board's width must be above 0 and at most 1,000,000,000.",
            ));
        }
        size(&mut flaws, "/kerf", "The kerf", self.kerf);
        size(&mut flaws, "/trim", "The trim", self.trim);
        for (i, board) in self.boards.iter().enumerate() {
            self.check_board(i, board, &mut flaws);
        }
        for (i, part) in self.parts.iter().enumerate() {
            self.check_part(i, part, &mut flaws);
        }
        same_ids(&mut flaws, "/boards", self.boards.iter().map(|b| b.id.as_str()).gather());
        same_ids(&mut flaws, "/parts", self.parts.iter().map(|p| p.id.as_str()).gather());
        let total = self.parts.iter().fold(0u64, |sum, p| sum.saturating_add(p.qty));
        if total > MOST_PARTS {
            flaws.push(Flaw::new(
                "/parts",
                format!("There are {total} parts; one plan takes at most {MOST_PARTS}."),
            ));
        }
        flaws
    }

    fn check_board(&self, i: usize, board: &BoardKind, flaws: &mut Vec<Flaw>) {
        if !(board.length > 0.0 && board.length <= LARGEST) {
            flaws.push(Flaw::new(
                format!("/boards/{i}/length"),
                "A board's length must be above 0 and at most 1,000,000,000.",
            ));
        }
        size(flaws, &format!("/boards/{i}/price"), "A board's price", board.price);
    }

    fn check_part(&self, i: usize, part: &PartKind, flaws: &mut Vec<Flaw>) {
        let mut sound = true;
        if !(part.length > 0.0 && part.length <= LARGEST) {
            sound = false;
            flaws.push(Flaw::new(
                format!("/parts/{i}/length"),
                "A part's length must be above 0 and at most 1,000,000,000.",
            ));
        }
        for (key, angle) in [("left", part.left), ("right", part.right)] {
            if !(angle >= -STEEPEST && angle <= STEEPEST) {
                sound = false;
                flaws.push(Flaw::new(
                    format!("/parts/{i}/{key}"),
                    "An end may be at most 75 degrees off square, either way.",
                ));
            }
        }
        if sound && self.width > 0.0 && self.width <= LARGEST {
            let (left, right) = (
                super::ends::reach(self.width, part.left),
                super::ends::reach(self.width, part.right),
            );
            let short = part.length + left.min(0.0) + right.min(0.0);
            let long = part.length - left.max(0.0) - right.max(0.0);
            if short < -WORKING || long < -WORKING {
                flaws.push(Flaw::new(
                    format!("/parts/{i}/length"),
                    format!(
                        "The two ends cross before they reach the far edge: it must be at least {} long.",
                        (-left.min(0.0) - right.min(0.0)).max(left.max(0.0) + right.max(0.0))
                    ),
                ));
            }
        }
    }
}

fn size(flaws: &mut Vec<Flaw>, path: &str, what: &str, value: f64) {
    if !(value >= 0.0 && value <= LARGEST) {
        flaws
            .push(Flaw::new(path, format!("{what} must be 0 or more, and at most 1,000,000,000.")));
    }
}

pub(super) fn same_ids(flaws: &mut Vec<Flaw>, path: &str, ids: Vec<&str>) {
    let mut order: Vec<usize> = (0..ids.len()).gather();
    crate::num::sort_by(&mut order, |&a, &b| (ids[a], a).cmp(&(ids[b], b)));
    for pair in order.windows(2) {
        if ids[pair[0]] == ids[pair[1]] {
            flaws.push(Flaw::new(
                format!("{path}/{}/id", pair[1]),
                format!(
                    "Two entries are called \"{}\"; a plan could not tell them apart.",
                    ids[pair[1]]
                ),
            ));
        }
    }
}
