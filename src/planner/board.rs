//! A board with what is cut from it, as a plan hands it out: of sticks and of rectangles.

use offsquare_units::kept;
use offsquare_units::kept::{Kept, Map, Value, member};

/// One part on a board: which kind, how it lies, and its least x and y.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Placement {
    /// Index into the job's parts.
    pub part: usize,
    /// A stick: end for end. A rectangle: by 90°, its width lies along the board.
    pub turned: bool,
    /// A stick: over its long axis.
    pub flipped: bool,
    pub x: f64,
    /// A rectangle: from the board's lower edge.
    pub y: f64,
}

/// One board on which something is cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutBoard {
    /// Index into the job's board kinds.
    pub board: usize,
    /// Sticks from left to right.
    pub parts: Vec<Placement>,
    /// Of rectangles, the tree of cuts; piece 0 is the whole board, and pieces come before what is cut from
    /// them.
    pub pieces: Vec<Piece>,
}

impl CutBoard {
    /// How many cuts it takes.
    pub fn cuts(&self) -> usize {
        let cut = |p: &&Piece| matches!(p.then, Then::Cut { .. });
        self.pieces.iter().filter(cut).count()
    }
}

/// Boards that are cut alike, each group by its places among them and in their order: of one kind, with the same parts in
/// the same places.
///
/// ```
/// use offsquare_planner::{CutBoard, Placement, alike};
/// let at = |x| CutBoard { parts: vec![Placement { x, ..Placement::default() }], ..CutBoard::default() };
/// assert_eq!(alike(&[at(0.0), at(1.0), at(0.0)]), [vec![0, 2], vec![1]]);
/// ```
pub fn alike(boards: &[CutBoard]) -> Vec<Vec<usize>> {
    let mut out: Vec<Vec<usize>> = Vec::new();
    for (i, board) in boards.iter().enumerate() {
        match out.iter_mut().find(|g| same(&boards[g[0]], board)) {
            Some(group) => group.push(i),
            None => out.push(vec![i]),
        }
    }
    out
}

/// Places that differ by rounding only are one.
fn same(a: &CutBoard, b: &CutBoard) -> bool {
    a.board == b.board
        && a.pieces == b.pieces
        && a.parts.len() == b.parts.len()
        && a.parts.iter().zip(&b.parts).all(|(p, q)| {
            (p.part, p.turned, p.flipped, p.y) == (q.part, q.turned, q.flipped, q.y)
                && (p.x - q.x).abs() < 1e-9
        })
}

/// A cut along the grain (at a `y`) or across it (at an `x`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saw {
    Rip,
    Crosscut,
}

/// What becomes of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Then {
    /// It is cut again. The kerf lies between `at` and `at` plus the kerf, measured from the piece's own
    /// left end (crosscut) or lower edge (rip); it may run off the piece at either side, so `at` may be
    /// below 0 for a trimming cut thinner than the blade.
    Cut {
        saw: Saw,
        at: f64,
        /// The piece before the kerf; none: dust.
        first: Option<usize>,
        /// The piece behind the kerf; none: dust.
        second: Option<usize>,
    },
    /// It is a finished part: an index into the board's `parts`.
    Part(usize),
    /// It is left over.
    Rest,
}

/// A piece of a board at some time of the cutting: its lower left corner on the board and its size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    pub x: f64,
    pub y: f64,
    pub length: f64,
    pub width: f64,
    pub then: Then,
}

kept!(Placement { part, turned, flipped, x, y });
kept!(CutBoard { board, parts, pieces });
kept!(Saw: Rip = "rip", Crosscut = "crosscut");

/// A piece that is cut again has a `saw`, one that is a part its `part`, one that is left over neither.
impl Kept for Piece {
    fn keep(&self) -> Value {
        let mut map = Map::new();
        let mut put = |key: &str, value: Value| {
            map.insert(key.to_owned(), value);
        };
        for (key, size) in
            [("x", self.x), ("y", self.y), ("length", self.length), ("width", self.width)]
        {
            put(key, size.keep());
        }
        match self.then {
            Then::Rest => {}
            Then::Part(part) => put("part", part.keep()),
            Then::Cut { saw, at, first, second } => {
                put("saw", saw.keep());
                put("at", at.keep());
                put("first", first.keep());
                put("second", second.keep());
            }
        }
        Value::Object(map)
    }

    fn restore(value: &Value) -> Option<Piece> {
        let map = value.as_object()?;
        let then = match (member(map, "saw")?, member(map, "part")?) {
            (Some(saw), None) => Then::Cut {
                saw,
                at: member(map, "at")?,
                first: member(map, "first")?,
                second: member(map, "second")?,
            },
            (None, Some(part)) => Then::Part(part),
            (None, None) => Then::Rest,
            (Some(_), Some(_)) => return None,
        };
        Some(Piece {
            x: member(map, "x")?,
            y: member(map, "y")?,
            length: member(map, "length")?,
            width: member(map, "width")?,
            then,
        })
    }
}
