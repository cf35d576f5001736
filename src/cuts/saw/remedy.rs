//! What can be done about a cut that this saw cannot make, safest first.

use super::position::Edge;
use crate::parts::{Side, Sides};
use offsquare_units::{Angle, Length, Quantity};

/// One way out.
#[derive(Clone, Debug, PartialEq)]
pub enum Remedy {
    /// Change a size of the piece, so that the reading comes inside the limit.
    ChangeInput(ChangedInput),
    /// Mark the line with a tape and cut it with a hand saw or on a sled; `edge`: the mark of a
    /// bevel on the edge's own face.
    TapeMark { mark: Length, across: Length, edge: Option<Length> },
    /// Rip it, the blade tilted so far, or plane the edge to that.
    Rip { tilt: Angle, to: Length },
    /// Turn the work: it points toward the operator, clamped, the saw at the complement.
    TurnedWork(Turned),
    /// This saw has no safe way.
    NotOnThisSaw,
}

/// The longest piece that is offered as turned work (our choice): it stands out toward the operator, and
/// about so far one can stand back from the saw and still reach its handle.
pub const MOST_TURNED: Length = Length::inches(24.0);

/// Turned work, lying one way: the squared end on the saw's fence, the edge that keeps the point along
/// an auxiliary fence square to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    /// What the saw is set to: 90° less the reading. The auxiliary fence is on the other side.
    pub set: Angle,
    pub swing: Side,
    pub seen_face_up: bool,
    /// The edge along the auxiliary fence: the one that reaches further at this end.
    pub along: Edge,
    /// What face and edges are called.
    pub sides: Sides,
    /// How far the cut runs out from the saw's fence, and how far the saw reaches there.
    pub needs: Length,
    pub reach: Length,
}

/// A change of one size and what it does.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangedInput {
    /// The field's key and its label.
    pub give: &'static str,
    pub label: &'static str,
    pub was: Quantity,
    pub value: Quantity,
    /// The reading that it leads to.
    pub reading: Angle,
    /// Where the piece was too large for the saw: the size seen that goes through it.
    pub through: Option<Length>,
    /// What else changes among the headline answers.
    pub effects: Vec<Effect>,
}

/// What becomes of one answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    pub path: &'static str,
    /// In words, to stand inside a sentence.
    pub name: String,
    pub was: Quantity,
    pub is: Quantity,
}
