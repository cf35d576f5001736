//! The four ways to lay the same face or its back on the saw table, and what each does to a cut.

use crate::parts::{Part, Side, Sides, StockShape};

/// How the piece lies, against how it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Position {
    /// Seen face up, edge B at the fence.
    AsDrawn,
    /// Turned end for end on the table: seen face up, edge A at the fence. The blade leans the other way.
    EndForEnd,
    /// Flipped end over end: seen face down, edge B at the fence. The saw swings the other way.
    EndOverEnd,
    /// Rolled over about its length: seen face down, edge A at the fence. It swings and leans the other way.
    RolledOver,
}

/// One of the part's two long edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// At y = 0, the operator's as drawn.
    A,
    /// At y = seen, at the fence as drawn.
    B,
}

/// A long edge of the piece's section: how far from edge A, and how far below the drawn face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Along {
    pub y: f64,
    pub depth: f64,
}

impl Edge {
    pub(super) fn other(self) -> Edge {
        match self {
            Edge::A => Edge::B,
            Edge::B => Edge::A,
        }
    }
    /// Its distance from edge A.
    pub(super) fn y(self, part: &Part) -> f64 {
        match self {
            Edge::A => 0.0,
            Edge::B => part.seen.0,
        }
    }
    /// What the maker calls it.
    pub fn name(self, sides: &Sides) -> &'static str {
        match self {
            Edge::A => sides.edge_a,
            Edge::B => sides.edge_b,
        }
    }
}

impl Position {
    /// All, the least handling first.
    pub const ALL: [Position; 4] =
        [Position::AsDrawn, Position::EndOverEnd, Position::EndForEnd, Position::RolledOver];

    pub fn fence_edge(self) -> Edge {
        match self {
            Position::AsDrawn | Position::EndOverEnd => Edge::B,
            Position::EndForEnd | Position::RolledOver => Edge::A,
        }
    }
    /// Whether the face that is drawn lies up.
    pub fn seen_face_up(self) -> bool {
        matches!(self, Position::AsDrawn | Position::EndForEnd)
    }
    /// To which side a cut drawn swung to `swing` is swung in this position.
    ///
    /// A half turn on the table leaves a line's direction alone; the back of the board shows it mirrored.
    pub fn swing(self, swing: Side) -> Side {
        if self.seen_face_up() { swing } else { swing.other() }
    }
    /// To which side the blade leans in this position.
    pub fn lean(self, lean: Side) -> Side {
        match self {
            Position::AsDrawn | Position::EndOverEnd => lean,
            Position::EndForEnd | Position::RolledOver => lean.other(),
        }
    }
    /// What lies along the fence: on the table, and on the upper face.
    pub(super) fn at_fence(self, part: &Part) -> [Along; 2] {
        let (y, away) = (self.fence_edge().y(part), part.away.map_or(0.0, |a| a.0));
        let depths = if self.seen_face_up() { [away, 0.0] } else { [0.0, away] };
        depths.map(|depth| Along { y, depth })
    }
    /// Rolled over about its length from this position.
    pub fn rolled(self) -> Position {
        match self {
            Position::AsDrawn => Position::RolledOver,
            Position::EndForEnd => Position::EndOverEnd,
            Position::EndOverEnd => Position::EndForEnd,
            Position::RolledOver => Position::AsDrawn,
        }
    }
    /// Laid so from this position: two half turns about the same axis leave it as it was.
    pub(super) fn then(self, next: Position) -> Position {
        let up = self.seen_face_up() == next.seen_face_up();
        let upper = self.fence_edge() == next.fence_edge();
        match (up, upper) {
            (true, true) => Position::AsDrawn,
            (true, false) => Position::EndForEnd,
            (false, true) => Position::EndOverEnd,
            (false, false) => Position::RolledOver,
        }
    }
    /// Whether the piece's left end lies to the right.
    pub fn turned(self) -> bool {
        matches!(self, Position::EndForEnd | Position::EndOverEnd)
    }
    /// Whether stock of this shape may lie so: a tapered piece has one edge for the fence.
    pub fn suits(self, stock: StockShape) -> bool {
        match stock {
            StockShape::Straight | StockShape::Round | StockShape::Board => true,
            StockShape::Tapered => self.fence_edge() == Edge::B,
        }
    }
}
