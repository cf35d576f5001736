//! What goes into the planner of strips and sheets and what comes out.

pub use super::super::board::{CutBoard, Piece, Placement, Saw, Then};
use super::super::outcome::{Flaw, Flaws, WORKING};
use offsquare_units::kept;

/// Largest number of single parts that one job may hold.
pub const MOST_PARTS: u64 = 10_000;
/// Largest length, width or price that is taken, in the job's own unit.
pub const LARGEST: f64 = 1e6;

/// Strips from boards, or rectangles from sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutKind {
    Strips,
    Sheets,
}

/// How a part may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Its length lies along the board's length.
    Along,
    /// It may also be turned by 90°.
    Free,
}

/// One job: rectangles to be cut from boards or sheets of one thickness. One unit throughout.
///
/// ```
/// use offsquare_planner::guillotine::{BoardKind, CutKind, Instance, PartKind};
/// let job = Instance {
///     cut: CutKind::Strips,
///     kerf: 0.125,
///     rip_kerf: 0.125,
///     trim: 0.0,
///     edge_trim: 0.0,
///     boards: vec![BoardKind::unlimited("1x6", 96.0, 5.5, 9.4)],
///     parts: vec![PartKind::along("slat", 6, 47.9, 1.75)],
/// };
/// assert!(job.check().is_empty());
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Instance {
    pub cut: CutKind,
    /// What a crosscut takes off the length.
    pub kerf: f64,
    /// What a rip takes off the width.
    pub rip_kerf: f64,
    /// Length given up at each end of every board.
    pub trim: f64,
    /// Width given up at each long edge of every board.
    pub edge_trim: f64,
    pub boards: Vec<BoardKind>,
    pub parts: Vec<PartKind>,
}

/// Boards or sheets of one size and price.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardKind {
    pub id: String,
    pub length: f64,
    pub width: f64,
    pub price: f64,
    /// How many there are; none: as many as are wanted.
    pub limit: Option<u64>,
}

/// Parts of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct PartKind {
    pub id: String,
    pub qty: u64,
    pub length: f64,
    pub width: f64,
    pub grain: Grain,
}

/// A leftover at full width or full length.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leftover {
    pub length: f64,
    pub width: f64,
}

impl Leftover {
    pub fn area(&self) -> f64 {
        self.length * self.width
    }
}

/// The leftover of a board whose parts reach to `x` and `y`: the end or the strip, whichever is larger
/// (the end if they are equal).
///
/// A 96 × 5.5 board whose parts reach to x = 60 and y = 5.5, kerf 1/8: the end of 35.875 × 5.5.
pub fn leftover_of(instance: &Instance, board: usize, x: f64, y: f64) -> Leftover {
    let Some(kind) = instance.boards.get(board) else {
        return Leftover::default();
    };
    let end = Leftover { length: (kind.length - x - instance.kerf).max(0.0), width: kind.width };
    let strip =
        Leftover { length: kind.length, width: (kind.width - y - instance.rip_kerf).max(0.0) };
    if strip.area() > end.area() { strip } else { end }
}

/// The size of a board's parts, closed up, with the kerfs between them.
pub fn extent(job: &Instance, cut: &CutBoard) -> (f64, f64) {
    let mut sizes: Vec<Option<(f64, f64)>> = vec![None; cut.pieces.len()];
    // What is cut from a piece comes after it.
    for (i, piece) in cut.pieces.iter().enumerate().rev() {
        sizes[i] = match piece.then {
            Then::Rest => None,
            Then::Part(p) => {
                let place = &cut.parts[p];
                Some(job.parts[place.part].extent(place.turned))
            }
            Then::Cut { saw, first, second, .. } => {
                match (first.and_then(|p| sizes[p]), second.and_then(|p| sizes[p])) {
                    (Some(a), Some(b)) => Some(match saw {
                        Saw::Crosscut => (a.0 + job.kerf + b.0, a.1.max(b.1)),
                        Saw::Rip => (a.0.max(b.0), a.1 + job.rip_kerf + b.1),
                    }),
                    (one, other) => one.or(other),
                }
            }
        };
    }
    sizes.first().copied().flatten().unwrap_or_default()
}

impl BoardKind {
    /// A kind of which any number can be bought.
    pub fn unlimited(id: &str, length: f64, width: f64, price: f64) -> BoardKind {
        BoardKind { id: id.to_owned(), length, width, price, limit: None }
    }

    /// Boards already owned: they cost nothing, and there are only so many.
    pub fn owned(id: &str, length: f64, width: f64, count: u64) -> BoardKind {
        BoardKind { id: id.to_owned(), length, width, price: 0.0, limit: Some(count) }
    }
}

impl PartKind {
    /// A part whose length must lie along the board.
    pub fn along(id: &str, qty: u64, length: f64, width: f64) -> PartKind {
        PartKind { id: id.to_owned(), qty, length, width, grain: Grain::Along }
    }

    /// A part that may be turned.
    pub fn free(id: &str, qty: u64, length: f64, width: f64) -> PartKind {
        PartKind { grain: Grain::Free, ..PartKind::along(id, qty, length, width) }
    }

    /// Extent along the board and across it, as it lies.
    pub fn extent(&self, turned: bool) -> (f64, f64) {
        if turned { (self.width, self.length) } else { (self.length, self.width) }
    }
}

impl Instance {
    /// A job without boards and parts: one blade for both directions, a sheet's trim on all four edges.
    pub fn bare(cut: CutKind, kerf: f64, trim: f64) -> Instance {
        let edge_trim = if cut == CutKind::Sheets { trim } else { 0.0 };
        let (boards, parts) = (Vec::new(), Vec::new());
        Instance { cut, kerf, rip_kerf: kerf, trim, edge_trim, boards, parts }
    }

    /// The kerf of a cut: along x for a crosscut, along y for a rip.
    pub fn kerf_of(&self, saw: Saw) -> f64 {
        match saw {
            Saw::Crosscut => self.kerf,
            Saw::Rip => self.rip_kerf,
        }
    }

    /// Length and width of a board between its trims.
    pub fn usable(&self, board: &BoardKind) -> (f64, f64) {
        (board.length - 2.0 * self.trim, board.width - 2.0 * self.edge_trim)
    }

    /// Whether a part fits on a board by itself.
    pub fn fits(&self, part: &PartKind, board: &BoardKind) -> bool {
        let (length, width) = self.usable(board);
        let lies = |turned| {
            let (l, w) = part.extent(turned);
            l <= length + WORKING && w <= width + WORKING
        };
        lies(false) || (part.grain == Grain::Free && lies(true))
    }

    /// Everything that is wrong with the job; empty if it can be planned.
    pub fn check(&self) -> Vec<Flaw> {
        let mut flaws = Flaws { list: Vec::new(), most: LARGEST, said: "1,000,000" };
        flaws.not_negative("/kerf", "The kerf", self.kerf);
        flaws.not_negative("/rip_kerf", "The rip's kerf", self.rip_kerf);
        flaws.not_negative("/trim", "The trim", self.trim);
        flaws.not_negative("/edge_trim", "The edge trim", self.edge_trim);
        for (i, board) in self.boards.iter().enumerate() {
            let at = format!("/boards/{i}");
            flaws.positive(&format!("{at}/length"), "A board's length", board.length);
            flaws.positive(&format!("{at}/width"), "A board's width", board.width);
            flaws.not_negative(&format!("{at}/price"), "A board's price", board.price);
        }
        for (i, part) in self.parts.iter().enumerate() {
            let at = format!("/parts/{i}");
            flaws.positive(&format!("{at}/length"), "A part's length", part.length);
            flaws.positive(&format!("{at}/width"), "A part's width", part.width);
        }
        flaws.same_ids("/boards", self.boards.iter().map(|b| b.id.as_str()));
        flaws.same_ids("/parts", self.parts.iter().map(|p| p.id.as_str()));
        if self.parts.iter().fold(0u64, |sum, p| sum.saturating_add(p.qty)) > MOST_PARTS {
            flaws.add("/parts", "One plan of strips or sheets takes at most 10,000 parts.");
        }
        flaws.list
    }
}

kept!(Instance { cut, kerf, rip_kerf, trim, edge_trim, boards, parts });
kept!(CutKind: Strips = "strips", Sheets = "sheets");
kept!(BoardKind { id, length, width, price, limit });
kept!(PartKind { id, qty, length, width, grain });
kept!(Grain: Along = "along", Free = "free");
