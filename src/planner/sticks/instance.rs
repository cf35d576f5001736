//! What goes into the planner and what comes out: the job, the cut boards, the answer.

pub use super::super::board::{CutBoard, Placement};
use super::super::outcome::{Flaw, Flaws, WORKING};
use super::ends::reach;
use offsquare_units::kept;

/// Largest number of single parts that one job may hold.
pub const MOST_PARTS: u64 = 100_000;
/// Largest length, width or price that is taken, in the job's own unit.
pub const LARGEST: f64 = 1e9;
/// Largest end angle in degrees off square (the definition's section 2).
pub const STEEPEST: f64 = 75.0;
/// One job: parts to be cut one after another from boards of one section.
///
/// Lengths are in any one unit, angles in degrees off square, positive where edge A (the one at
/// y = 0) reaches further out.
///
/// ```
/// use offsquare_planner::{BoardKind, Instance, PartKind};
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

    /// The least length at which its ends do not cross.
    pub fn shortest(&self, width: f64) -> f64 {
        let (left, right) = (reach(width, self.left), reach(width, self.right));
        (-left.min(0.0) - right.min(0.0)).max(left.max(0.0) + right.max(0.0))
    }

    /// The same with one good face: turned, but never flipped.
    pub fn good_face(mut self) -> PartKind {
        self.one_good_face = true;
        self
    }
}

impl Instance {
    /// The longest part that is wanted, the first of several.
    pub fn longest(&self) -> Option<usize> {
        let wanted = self.parts.iter().enumerate().filter(|(_, p)| p.qty > 0);
        let longer = |a: &(usize, &PartKind), b: &(usize, &PartKind)| {
            a.1.length.total_cmp(&b.1.length).then(b.0.cmp(&a.0))
        };
        wanted.max_by(longer).map(|(i, _)| i)
    }

    /// What the longest board gives between its trims; with `in_stock`: of those of which there are any.
    pub fn room(&self, in_stock: bool) -> f64 {
        let boards = self.boards.iter().filter(|b| !in_stock || b.limit != Some(0));
        boards.map(|b| b.length - 2.0 * self.trim).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Everything that is wrong with the job; empty if it can be planned.
    pub fn check(&self) -> Vec<Flaw> {
        let mut flaws = Flaws { list: Vec::new(), most: LARGEST, said: "1,000,000,000" };
        let wide = flaws.positive("/width", "The board's width", self.width);
        flaws.not_negative("/kerf", "The kerf", self.kerf);
        flaws.not_negative("/trim", "The trim", self.trim);
        for (i, board) in self.boards.iter().enumerate() {
            flaws.positive(&format!("/boards/{i}/length"), "A board's length", board.length);
            flaws.not_negative(&format!("/boards/{i}/price"), "A board's price", board.price);
        }
        for (i, part) in self.parts.iter().enumerate() {
            self.check_part(i, part, wide, &mut flaws);
        }
        flaws.same_ids("/boards", self.boards.iter().map(|b| b.id.as_str()));
        flaws.same_ids("/parts", self.parts.iter().map(|p| p.id.as_str()));
        let total = self.parts.iter().fold(0u64, |sum, p| sum.saturating_add(p.qty));
        if total > MOST_PARTS {
            let text = format!("There are {total} parts; one plan takes at most {MOST_PARTS}.");
            flaws.add("/parts", text);
        }
        flaws.list
    }

    fn check_part(&self, i: usize, part: &PartKind, wide: bool, flaws: &mut Flaws) {
        let at = format!("/parts/{i}/length");
        let mut sound = flaws.positive(&at, "A part's length", part.length);
        for (key, angle) in [("left", part.left), ("right", part.right)] {
            if !(angle >= -STEEPEST && angle <= STEEPEST) {
                sound = false;
                let text = "An end may be at most 75 degrees off square, either way.";
                flaws.add(format!("/parts/{i}/{key}"), text);
            }
        }
        let least = part.shortest(self.width);
        if sound && wide && part.length - least < -WORKING {
            let text = "The two ends cross before they reach the far edge: it must be at least";
            flaws.add(at, format!("{text} {least} long."));
        }
    }
}

kept!(Instance { width, kerf, trim, boards, parts });
kept!(BoardKind { id, length, price, limit });
kept!(PartKind { id, qty, length, left, right, one_good_face });
