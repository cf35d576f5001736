//! What a piece rests on for a cut, and how far from the fence the blade runs in its wood.
//!
//! Worked out here alone: the advice, its stop block, short pieces, pictures, words and the door all
//! take the lay from it. A piece lies with an edge at the fence that can bear: by hand from the hold
//! length on, clamped under it, and never on a point.

use super::SawProfile;
use super::capacity::{Fit, Misfit};
use super::position::{Edge, Position};
use crate::parts::{Cut, End, Part, Side, StockShape};
use offsquare_geometry::{Point, cross};
use offsquare_units::Length;

/// An edge shorter than this is a point: not even a clamped piece is lined up with the fence by it
/// (our choice; a clamp's jaw is about as wide).
pub const LEAST_EDGE: Length = Length::inches(0.5);

/// What a piece rests on for one cut: lying flat, its edge at the fence; standing, its edge on the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    pub edge: Edge,
    /// How much of that edge of what is kept bears when the cut is made.
    pub bears: Length,
    /// It is too little to hold by hand.
    pub clamp: bool,
}

/// A piece lying flat for one cut.
pub(super) struct Flat {
    pub position: Position,
    pub rest: Rest,
    pub fit: Fit,
}

impl SawProfile {
    /// What the piece rests on if `edge` is the one that bears.
    ///
    /// A mitered cut may be the last: what bears is the finished piece's edge. The blank of a shaped
    /// board is squared first, while the whole of its edge still stands.
    ///
    /// Example: a gable 12 in wide bears 12 in on its base and nothing on its apex.
    pub(super) fn rest(&self, part: &Part, cut: &Cut, edge: Edge) -> Rest {
        let bears = if part.stock == StockShape::Board && squares_the_blank(cut) {
            part.length
        } else {
            match edge {
                Edge::A => part.edge_a.max(Length(0.0)),
                Edge::B => part.edge_b.max(Length(0.0)),
            }
        };
        Rest { edge, bears, clamp: bears.0 < self.hold_length.0 * (1.0 - 1e-12) }
    }

    /// The least that a cut runs out from the fence, on whichever edge bears.
    pub(crate) fn least_out(&self, part: &Part, cut: &Cut) -> Length {
        [Edge::A, Edge::B]
            .into_iter()
            .filter(|e| self.rest(part, cut, *e).bears >= LEAST_EDGE)
            .map(|e| runs_out(part, cut, e))
            .fold(part.seen, Length::min)
    }

    /// How to lay the piece flat for a cut: first so that the saw can make it at all, then so that it
    /// swings and leans so far, then on the edge that bears more, up to the hold length; of ways that
    /// are alike the one with the least handling.
    ///
    /// Example: a 6-in knee with a short edge of 3 in lies on its long edge.
    pub(super) fn flat(&self, part: &Part, cut: &Cut) -> Flat {
        let height = match part.stock {
            StockShape::Round => Some(part.seen),
            _ => part.away,
        };
        let lies = |position: Position| {
            let edge = position.fence_edge();
            let rest = self.rest(part, cut, edge);
            let swing = (cut.miter, position.swing(cut.swing));
            let lean = (cut.bevel, position.lean(cut.lean));
            let fit = self.fit(swing, lean, runs_out(part, cut, edge), height);
            Flat { position, rest, fit: held(fit, rest, part, cut) }
        };
        let mut best = lies(self.as_the_other_end(part, cut).unwrap_or(Position::AsDrawn));
        for position in Position::ALL {
            if position != best.position && position.suits(part.stock) {
                let next = lies(position);
                if self.suits_more((&next.fit, next.rest), (&best.fit, best.rest)) {
                    best = next;
                }
            }
        }
        best
    }

    /// How to lay a right end so that the setting of the left one, blade tilted, serves it too: a compound
    /// setting is hard to find a second time. None where the two are not cut alike.
    ///
    /// Example: a box's board whose left end is cut as drawn: rolled over, for a saw that tilts one way.
    fn as_the_other_end(&self, part: &Part, cut: &Cut) -> Option<Position> {
        let one = |end: End| {
            let mut cuts = part.cuts.iter().filter(|c| c.end == end);
            cuts.next().filter(|_| cuts.next().is_none())
        };
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9;
        let right = one(End::Right).filter(|c| *c == cut && c.bevel.0 > 0.0)?;
        let left = one(End::Left)
            .filter(|c| near(c.miter.0, right.miter.0) && near(c.bevel.0, right.bevel.0))?;
        let turn = Position::ALL
            .into_iter()
            .find(|p| p.swing(right.swing) == left.swing && p.lean(right.lean) == left.lean)?;
        Some(self.flat(part, left).position.then(turn)).filter(|p| p.suits(part.stock))
    }

    /// Whether one way to lay a piece is better than another, by the order told at [`Self::flat`].
    pub(super) fn suits_more(
        &self,
        (fit, rest): (&Fit, Rest),
        (best, rests): (&Fit, Rest),
    ) -> bool {
        let rank = |fit: &Fit| (fit.possible(), fit.in_limits());
        let bears = |r: Rest| r.bears.0.min(self.hold_length.0);
        let slack = 1e-9 * self.hold_length.0;
        rank(fit) > rank(best) || (rank(fit) == rank(best) && bears(rest) > bears(rests) + slack)
    }
}

/// A fit that also tells of a point to lie on, and of a blade that runs on into what is kept.
pub(super) fn held(mut fit: Fit, rest: Rest, part: &Part, cut: &Cut) -> Fit {
    if cut.is_rip() {
        fit.misfits = vec![Misfit::Rip];
        return fit;
    }
    if rest.bears.0 < LEAST_EDGE.0 * (1.0 - 1e-12) {
        fit.misfits.push(Misfit::OnAPoint { edge: rest.bears });
    }
    if at_an_inside_corner(part, cut) {
        fit.misfits.push(Misfit::InsideCorner);
    }
    fit
}

/// A plain crosscut at an end.
fn squares_the_blank(cut: &Cut) -> bool {
    cut.end != End::Along && cut.swing == Side::Neither && cut.lean == Side::Neither
}

/// How far from the fence the cut runs in wood, with `edge` at the fence, measured across the table.
///
/// A stick is sawn right across. At an end that is squared as well, and beside it, the line ends
/// where it leaves the squared blank: a corner near the fence is clipped off a wide board.
///
/// Example: 5 × 5 1/4 in, shoulders 3 3/4: the slope runs 1 1/2 in from the upper edge, 5 1/4 in from
/// the base.
pub(super) fn runs_out(part: &Part, cut: &Cut, edge: Edge) -> Length {
    let seen = part.seen.0;
    let squared =
        cut.end == End::Along || part.cuts.iter().any(|c| c.end == cut.end && squares_the_blank(c));
    let rise = cut.to.y - cut.from.y;
    if !squared || rise == 0.0 {
        return part.seen;
    }
    let slope = (cut.to.x - cut.from.x) / rise;
    let ends = [cut.from.y, cut.to.y];
    let (mut low, mut high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    // As far as the line stays between the blank's ends, beyond what the piece needs of it.
    let at = |x: f64| cut.from.y + (x - cut.from.x) / slope;
    let (a, b) = if slope == 0.0 { (0.0, seen) } else { (at(0.0), at(part.length.0)) };
    low = low.min(a.min(b).max(0.0));
    high = high.max(a.max(b).min(seen));
    Length(match edge {
        Edge::A => high,
        Edge::B => seen - low,
    })
}

/// Whether the blade, which cuts the whole line from the fence out, would run on into what is kept: the
/// cut is a side of the outline, and wood lies on both sides of its line.
fn at_an_inside_corner(part: &Part, cut: &Cut) -> bool {
    let corners = &part.outline.0;
    let slack = 1e-9 * part.length.0.max(part.seen.0);
    let is = |p: Point| corners.iter().any(|c| c.distance(p).0 <= slack);
    let long = cut.to - cut.from;
    let off = |p: &Point| cross(long, *p - cut.from) / long.length();
    is(cut.from)
        && is(cut.to)
        && corners.iter().any(|p| off(p) > slack)
        && corners.iter().any(|p| off(p) < -slack)
}
