//! From one end of a piece to the other, from one hand to the other, and pieces too short to hold.

use super::SawProfile;
use super::advice::{Advice, Lay};
use super::position::Position;
use super::stop_block::stop_block;
use crate::geometry::Point;
use crate::num::Gather;
use crate::parts::{Cut, End, Part, Side, StockShape};
use crate::units::Length;

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
}

/// A piece too short to hold: it is cut from a longer stick, its last end last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortPiece {
    pub length: Length,
    pub hold: Length,
    /// Least length of the stick to cut it from: the piece, one kerf, and what the hand holds.
    pub stick: Length,
}

const SAME: f64 = 1e-9;

pub(super) fn between(part: &Part) -> Between {
    let at = |end: End| -> Vec<&Cut> { part.cuts.iter().filter(|c| c.end == end).gather() };
    let (left, right) = (at(End::Left), at(End::Right));
    let readings = |a: &Cut, b: &Cut| {
        (a.miter.0 - b.miter.0).abs() <= SAME && (a.bevel.0 - b.bevel.0).abs() <= SAME
    };
    match (left.as_slice(), right.as_slice()) {
        ([], _) | (_, []) => Between::OneEnd,
        ([a], [b]) if readings(a, b) => Position::ALL
            .into_iter()
            .find(|p| {
                p.suits(part.stock) && p.swing(b.swing) == a.swing && p.lean(b.lean) == a.lean
            })
            .map_or(Between::SetAgain, Between::SameSetting),
        ([_], [_]) => Between::SetAgain,
        (left, right) => {
            let served = |these: &[&Cut], those: &[&Cut]| {
                these.iter().all(|a| those.iter().any(|b| readings(a, b)))
            };
            if served(left, right) && served(right, left) {
                Between::SameSettings
            } else {
                Between::SetAgain
            }
        }
    }
}

pub(super) fn hand(part: &Part) -> Hand {
    if part.cuts.iter().all(|c| c.lean == Side::Neither) {
        Hand::SameTurnedOver
    } else {
        Hand::FaceDown
    }
}

/// Whether left and right differ: bevels, and no half of the piece mirrors the other.
pub(super) fn handed(part: &Part) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= SAME;
    // Mirrored end for end, or edge for edge, the drawn face up.
    let mirrors = |ends: bool| {
        let at = |p: Point| {
            if ends {
                Point::new(part.length.0 - p.x, p.y)
            } else {
                Point::new(p.x, part.seen.0 - p.y)
            }
        };
        let image = |c: &Cut, o: &Cut| {
            let (from, to) = if ends { (o.from, o.to) } else { (o.to, o.from) };
            let lean = if ends { c.lean.other() } else { c.lean };
            near(c.miter.0, o.miter.0)
                && near(c.bevel.0, o.bevel.0)
                && o.swing == c.swing.other()
                && o.lean == lean
                && at(c.from).distance(from).0 <= SAME * part.length.0.max(1.0)
                && at(c.to).distance(to).0 <= SAME * part.length.0.max(1.0)
        };
        part.cuts.iter().all(|c| part.cuts.iter().any(|o| image(c, o)))
    };
    part.cuts.iter().any(|c| c.bevel.0 > SAME) && !mirrors(true) && !mirrors(false)
}

impl SawProfile {
    /// The mirrored piece of a pair, its cut and what to do for it: the same settings, the stock
    /// rolled over, wherever the piece may lie so.
    pub fn advise_other_hand(
        &self,
        part: &Part,
        cut: usize,
        first: &Advice,
    ) -> Option<(Part, Advice)> {
        let other = part.mirrored();
        let mut advice = self.advise(&other, other.cuts.get(cut)?);
        let rolled = first.position.rolled();
        if first.lay() == Some(Lay::Seen) && rolled.suits(part.stock) {
            advice = Advice {
                position: rolled,
                stop_block: stop_block(&other, &other.cuts[cut], rolled),
                ..first.clone()
            };
        }
        Some((other, advice))
    }

    /// What to do about a piece shorter than may be held; none where it is long enough.
    ///
    /// Example: a 3 in piece with a 1/8 in kerf and 8 in to hold is cut from a stick of at least 11 1/8 in.
    pub fn short_piece(&self, part: &Part) -> Option<ShortPiece> {
        let shaped = part.stock == StockShape::Board && part.seen.0 >= self.hold_length.0;
        (part.length.0 < self.hold_length.0 && !shaped).then(|| ShortPiece {
            length: part.length,
            hold: self.hold_length,
            stick: part.length + self.kerf + self.hold_length,
        })
    }
}
