//! From one end of a piece to the other, from one hand to the other, and pieces too short to hold.

use super::position::Position;
use crate::parts::End;
use offsquare_units::Length;

/// How to get from the first end's cut to the second's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// The saw stays as it is set; the piece is laid so (as drawn: it only slides along).
    SameSetting(Position),
    /// Two cuts at each end, and the same settings serve both ends.
    SameSettings,
    /// The saw is set anew for the second end.
    SetAgain,
    /// There is only one end to cut.
    OneEnd,
}

/// How the mirrored piece of a pair is cut (left and right legs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// No bevels: the other hand is the same piece turned over.
    SameTurnedOver,
    /// Bevels: cut with the same settings, the seen face down and the other edge at the fence.
    FaceDown,
    /// Bevels, and the other edge is none to lie on: each cut is set and laid for itself.
    LaidAnew,
}

/// How a piece too short to hold by hand comes off the longer stick that it is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parted {
    /// One end first, whole; the single cut of the other end parts it from the stick.
    LastCut { first: End, cuts: usize },
    /// Both ends take two cuts, or a side takes one: the last is made with the piece alone.
    Clamped,
}

/// A piece of which less edge bears than may be held by hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortPiece {
    /// The least edge that it rests on for any of its cuts.
    pub bears: Length,
    /// From end to end.
    pub length: Length,
    pub hold: Length,
    /// Least length of the stick to cut it from: the piece, one kerf, and what the hand holds.
    pub stick: Length,
    pub parted: Parted,
}
