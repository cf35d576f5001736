//! The same cut with the piece standing on its edge: the size going away lies across the table.

use super::SawProfile;
use super::capacity::Fit;
use super::correction::Axis;
use super::mark::MarkKind;
use super::position::{Along, Edge};
use super::rest::{Rest, held};
use crate::parts::{Cut, End, Part, Side, StockShape};
use offsquare_geometry::{Point, Polygon};
use offsquare_units::{Angle, Length, num};

/// How a piece stands on its edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stand {
    /// The drawn face stands against the fence; else it looks toward the operator.
    pub face_at_fence: bool,
    /// The edge that lies on the table.
    pub down: Edge,
}

impl Stand {
    const ALL: [Stand; 4] =
        [stand(true, Edge::B), stand(true, Edge::A), stand(false, Edge::B), stand(false, Edge::A)];

    /// What lies along the fence: on the table, and at the top.
    pub(super) fn at_fence(self, part: &Part) -> [Along; 2] {
        let depth = if self.face_at_fence { 0.0 } else { part.away.map_or(0.0, |a| a.0) };
        [self.down, self.down.other()].map(|edge| Along { y: edge.y(part), depth })
    }
    /// Whether the piece's left end comes to lie on the right.
    pub fn turned(self) -> bool {
        self.face_at_fence == (self.down == Edge::A)
    }
}

const fn stand(face_at_fence: bool, down: Edge) -> Stand {
    Stand { face_at_fence, down }
}

/// The same cut with the piece on its other face.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherFace {
    pub stand: Stand,
    pub miter: Angle,
    pub swing: Side,
    pub bevel: Angle,
    pub lean: Side,
    pub set_miter: Angle,
    pub miter_mark: MarkKind,
    pub miter_by: Angle,
    pub set_bevel: Angle,
    pub bevel_mark: MarkKind,
    pub bevel_by: Angle,
    pub fit: Fit,
    /// The edge that it stands on.
    pub rest: Rest,
}

impl SawProfile {
    /// The best way to stand it: first so that the saw can, then on the edge that bears more.
    ///
    /// The cut plane is x = p·y + q·d, y toward the fence, d downward (swung left: p > 0; leaning
    /// left: q > 0). Standing with the drawn face at the fence and edge B down, y' = away − d and
    /// d' = y, so x = p·d' − q·y'; each half turn changes one sign.
    pub(super) fn other_face(&self, part: &Part, cut: &Cut) -> Option<OtherFace> {
        let away = part.away.filter(|_| !cut.is_rip())?;
        if !matches!(part.stock, StockShape::Straight | StockShape::Board) {
            return None;
        }
        let (miter, bevel) = on_other_face(cut.miter, cut.bevel);
        let (p, q) = slopes(cut.miter, cut.swing, cut.bevel, cut.lean);
        let at = |stand: Stand| {
            let swing = side(if stand.down == Edge::B { -q } else { q });
            let lean = side(if stand.face_at_fence { p } else { -p });
            let rest = self.rest(part, cut, stand.down);
            let fit = self.fit((miter, swing), (bevel, lean), away, Some(part.seen));
            (stand, swing, lean, held(fit, rest, part, cut), rest)
        };
        let (stand, swing, lean, fit, rest) =
            Stand::ALL.map(at).into_iter().reduce(|best, next| {
                let more = self.suits_more((&next.3, next.4), (&best.3, best.4));
                if more { next } else { best }
            })?;
        let (set_miter, miter_mark) = self.miter_mark(miter, swing);
        let (set_bevel, bevel_mark) = self.bevel_mark(bevel, lean);
        Some(OtherFace {
            stand,
            miter,
            swing,
            bevel,
            lean,
            set_miter,
            miter_mark,
            miter_by: self.correction(Axis::Miter, swing, miter),
            set_bevel,
            bevel_mark,
            bevel_by: self.correction(Axis::Bevel, lean, bevel),
            fit,
            rest,
        })
    }
}

/// How far the cut runs along the piece for every inch toward the fence, and for every inch down.
///
/// Example: swung 45° left, the blade upright: 1 and 0.
pub fn slopes(miter: Angle, swing: Side, bevel: Angle, lean: Side) -> (f64, f64) {
    let sign = |side| match side {
        Side::Left => 1.0,
        Side::Right => -1.0,
        Side::Neither => 0.0,
    };
    (
        sign(swing) * num::tan_deg(miter.0),
        sign(lean) * num::tan_deg(bevel.0) / num::cos_deg(miter.0),
    )
}

fn side(slope: f64) -> Side {
    if slope > 0.0 {
        Side::Left
    } else if slope < 0.0 {
        Side::Right
    } else {
        Side::Neither
    }
}

/// The piece as it stands, with this one cut: a part whose seen size is the size going away. Only
/// the end at the cut is true; the other is square.
pub fn standing(part: &Part, cut: &Cut, other: &OtherFace) -> Option<(Part, Cut)> {
    let across = part.away?;
    let (p, _) = slopes(other.miter, other.swing, other.bevel, other.lean);
    let run = p * across.0;
    let end = match (cut.end, other.stand.turned()) {
        (End::Left, true) => End::Right,
        (End::Right, true) => End::Left,
        (end, _) => end,
    };
    let long = part.length.0.max(run.abs() * 2.0);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let x = if end == End::Left { (-run).max(0.0) } else { long - run.max(0.0) };
    let (from, to) = (corner(x, 0.0), corner(x + run, across.0));
    let outline = if end == End::Left {
        vec![from, corner(long, 0.0), corner(long, across.0), to]
    } else {
        vec![corner(0.0, 0.0), from, to, corner(0.0, across.0)]
    };
    let stands = Part {
        seen: across,
        away: Some(part.seen),
        length: Length(long),
        outline: Polygon(outline),
        cuts: Vec::new(),
        marks: Vec::new(),
        laps: Vec::new(),
        figures: Vec::new(),
        ..part.clone()
    };
    let cut = Cut {
        end,
        miter: other.miter,
        swing: other.swing,
        bevel: other.bevel,
        lean: other.lean,
        miter_key: None,
        bevel_key: None,
        across,
        from,
        to,
        ..cut.clone()
    };
    Some((stands, cut))
}

/// Miter and bevel of the same cut plane with the piece on its neighbouring face: a plain miter
/// becomes a plain bevel, and the other way round.
///
/// The plane's normal has the parts (along, across, up) cos b cos m, cos b sin m, sin b; rolled a
/// quarter turn, across and up change places.
///
/// Example: miter 35.264°, bevel 30° becomes miter 35.264°, bevel 30° (all three faces of a cube's
/// corner are alike).
pub(super) fn on_other_face(miter: Angle, bevel: Angle) -> (Angle, Angle) {
    if bevel.0 == 0.0 {
        return (Angle(0.0), miter);
    }
    if miter.0 == 0.0 {
        return (bevel, Angle(0.0));
    }
    let across = num::cos_deg(bevel.0) * num::sin_deg(miter.0);
    let along = num::cos_deg(bevel.0) * num::cos_deg(miter.0);
    let up = num::sin_deg(bevel.0);
    (Angle(num::atan2_deg(up, along)), Angle(num::asin_deg(across)))
}
