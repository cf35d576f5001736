//! How a piece is handled: from one end to the other, for the other hand, and where it is too short to hold.

use super::SawProfile;
use super::advice::{Advice, Lay};
use super::ends::{Between, Hand, Parted, ShortPiece};
use super::position::Position;
use super::rest::LEAST_EDGE;
use crate::parts::{Cut, End, Part, Side};
use offsquare_geometry::Point;
use offsquare_units::Length;
use offsquare_units::num::Gather;

const SAME: f64 = 1e-9;

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
    /// How the other hand of a pair is cut, as the advice lays the first.
    pub(super) fn hand(&self, part: &Part, advice: &[Advice]) -> Hand {
        let other_edge_bears = part.cuts.iter().zip(advice).all(|(c, a)| {
            let edge = a.position.rolled().fence_edge();
            a.lay() != Some(Lay::Seen) || self.rest(part, c, edge).bears >= LEAST_EDGE
        });
        if part.cuts.iter().all(|c| c.lean == Side::Neither) {
            Hand::SameTurnedOver
        } else if other_edge_bears {
            Hand::FaceDown
        } else {
            Hand::LaidAnew
        }
    }

    /// What to do about a piece with less edge to rest on than may be held; none where all of it bears.
    ///
    /// `cuts`: the advice for the part's cuts, in their order. A piece that this saw cannot cut rests
    /// on its longer edge.
    ///
    /// Example: a 3 in piece with a 1/8 in kerf and 8 in to hold is cut from a stick of at least 11 1/8 in.
    pub(super) fn short_piece(&self, part: &Part, cuts: &[Advice]) -> Option<ShortPiece> {
        let bears = cuts
            .iter()
            .filter(|a| a.lay().is_some())
            .map(|a| a.rests().bears)
            .reduce(Length::min)
            .unwrap_or(part.edge_a.max(part.edge_b));
        if !(bears.0 < self.hold_length.0 * (1.0 - 1e-12)) {
            return None;
        }
        let at = |end: End| part.cuts.iter().filter(|c| c.end == end).count();
        let (left, right) = (at(End::Left), at(End::Right));
        let along = part.cuts.iter().any(|c| c.end == End::Along && !c.is_rip());
        let parted = match (left, right) {
            _ if along => Parted::Clamped,
            (_, 0 | 1) => Parted::LastCut { first: End::Left, cuts: left },
            (0 | 1, _) => Parted::LastCut { first: End::Right, cuts: right },
            _ => Parted::Clamped,
        };
        Some(ShortPiece {
            bears,
            length: part.length,
            hold: self.hold_length,
            stick: part.length + self.kerf + self.hold_length,
            parted,
        })
    }

    /// How to get from one end to the other, as the advice lays the piece. The same setting is told
    /// only where the edge that comes to the fence bears as well as the one that was there.
    pub(super) fn between(&self, part: &Part, advice: &[Advice]) -> Between {
        let at = |end: End| -> Vec<(&Cut, &Advice)> {
            part.cuts.iter().zip(advice).filter(|(c, _)| c.end == end).gather()
        };
        let (left, right) = (at(End::Left), at(End::Right));
        let readings = |a: &Cut, b: &Cut| {
            (a.miter.0 - b.miter.0).abs() <= SAME && (a.bevel.0 - b.bevel.0).abs() <= SAME
        };
        match (left.as_slice(), right.as_slice()) {
            ([], _) | (_, []) => Between::OneEnd,
            ([(a, first)], [(b, second)]) if readings(a, b) => Position::ALL
                .into_iter()
                .find(|p| {
                    let lies = first.position.then(*p);
                    let bears = self.rest(part, b, lies.fence_edge()).bears;
                    let least = second.rest.bears.min(self.hold_length);
                    lies.suits(part.stock)
                        && p.swing(b.swing) == a.swing
                        && p.lean(b.lean) == a.lean
                        && bears.0 >= least.0 * (1.0 - SAME)
                })
                .map_or(Between::SetAgain, Between::SameSetting),
            ([_], [_]) => Between::SetAgain,
            (left, right) => {
                let served = |these: &[(&Cut, &Advice)], those: &[(&Cut, &Advice)]| {
                    these.iter().all(|a| those.iter().any(|b| readings(a.0, b.0)))
                };
                if served(left, right) && served(right, left) {
                    Between::SameSettings
                } else {
                    Between::SetAgain
                }
            }
        }
    }
}
