//! One kind of part of a piece.

use offsquare_cuts::assembly::{Hole, Member, Rips};
use offsquare_cuts::parts::{BlankEnd, Cut, End, Lap, Part, Side, StockShape};
use offsquare_geometry::{Body, Plane, Point, Polygon, Vector3};
use offsquare_units::{Length, num};

/// How one end is cut: degrees off square.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct EndCut {
    /// Positive where edge A reaches further out.
    pub miter: f64,
    /// Positive where the upper face reaches further out.
    pub bevel: f64,
    /// The miter of its second cut, where it is cut to a point.
    pub second: Option<f64>,
}

/// A part as it is cut, and where its pieces stand.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct PiecePart {
    pub name: String,
    pub qty: u32,
    /// The stick that it is cut from.
    pub stick: String,
    pub seen: Length,
    pub away: Length,
    /// Long point to long point.
    pub length: Length,
    pub left: EndCut,
    pub right: EndCut,
    pub rips: Option<Rips>,
    /// The true outline on the seen face, where it is more than two end cuts.
    pub outline: Option<Polygon>,
    pub laps: Vec<Lap>,
    pub holes: Vec<Hole>,
    /// Lines on the seen face that are marked only: no shoulder of what is taken out.
    pub marks: Vec<(Point, Point)>,
    pub joined: String,
    /// Its section, where that is neither a rectangle nor a round.
    pub section: Vec<Point>,
    /// Where its pieces stand; none of a typed part, or of one cut differently from its place.
    pub bodies: Vec<Body>,
}

impl EndCut {
    pub fn is_square(&self) -> bool {
        self.miter == 0.0 && self.bevel == 0.0 && self.second.is_none()
    }

    /// From a layout's part. An end that is cut twice tells its steeper cut first.
    fn of(part: &Part, end: End) -> EndCut {
        let outward = match end {
            End::Left => Side::Left,
            _ => Side::Right,
        };
        let signed = |c: &Cut| {
            let sign = |side: Side| if side == outward { 1.0 } else { -1.0 };
            (sign(c.swing) * c.miter.0 + 0.0, sign(c.lean) * c.bevel.0 + 0.0)
        };
        let cuts: Vec<&Cut> = match part.blank_end(end) {
            BlankEnd::Cut(cut) => vec![cut],
            BlankEnd::Square { after, .. } => after,
        };
        let mut all: Vec<(f64, f64)> = cuts.into_iter().map(signed).collect();
        all.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
        let (miter, bevel) = all.first().copied().unwrap_or_default();
        EndCut { miter, bevel, second: all.get(1).map(|c| c.0) }
    }
}

impl PiecePart {
    /// A pattern's part.
    pub fn of(part: &Part, member: &Member) -> PiecePart {
        let plain = |end| match part.blank_end(end) {
            BlankEnd::Cut(_) => true,
            BlankEnd::Square { after, .. } => after.is_empty(),
        };
        let shaped = part.stock == StockShape::Board
            || !plain(End::Left)
            || !plain(End::Right)
            || part.cuts.iter().any(|c| c.end == End::Along);
        PiecePart {
            name: part.name.to_lowercase().replace(' ', "_"),
            qty: part.count,
            stick: member.stick.to_owned(),
            seen: part.seen,
            away: part.away.unwrap_or_default(),
            length: part.length,
            left: EndCut::of(part, End::Left),
            right: EndCut::of(part, End::Right),
            rips: member.rips,
            outline: shaped.then(|| part.outline.clone()),
            laps: part.laps.clone(),
            holes: member.holes.clone(),
            marks: part
                .marks
                .iter()
                .filter(|m| part.laps.iter().all(|l| !l.shoulders.contains(m)))
                .copied()
                .collect(),
            joined: member.joined.to_owned(),
            section: member.section.clone(),
            bodies: member.bodies.clone(),
        }
    }

    /// It lying on the saw: x along it from its least, y from edge A to edge B, z from the lower face to the
    /// upper. What is taken out of its faces is not taken out here.
    pub fn lying(&self) -> Body {
        let (seen, away, length) = (self.seen.0, self.away.0, self.length.0);
        let (near, far) = self.rips.map_or((0.0, 0.0), |r| (r.near.0, r.far.0));
        // How far a tilted side stands out on the upper face (positive) or on the lower one.
        let lower = |bevel: f64| (away * num::tan_deg(bevel)).max(0.0);
        let side = |outward: f64, at: f64, bevel: f64| {
            let n = Vector3::new(0.0, outward, -num::tan_deg(bevel));
            let point = offsquare_geometry::Point3::new(0.0, at - outward * lower(bevel), 0.0);
            Plane::through(point, n)
        };
        let end = |outward: f64, at: f64, cut: &EndCut| {
            let (sin, cos) = (num::sin_deg(cut.miter), num::cos_deg(cut.miter));
            let n = Vector3::new(outward * cos, sin, -num::tan_deg(cut.bevel));
            // What the end gives up at the corner y = 0, z = 0 of its greatest reach.
            let back = (-seen * num::tan_deg(cut.miter)).max(0.0) + lower(cut.bevel) / cos;
            let point = offsquare_geometry::Point3::new(at - outward * back, 0.0, 0.0);
            Plane::through(point, n)
        };
        let flat = |z: f64, at: f64| Plane { normal: Vector3::new(0.0, 0.0, z), at };
        let mut planes = vec![flat(-1.0, 0.0), flat(1.0, away)];
        planes.extend(side(-1.0, 0.0, near));
        planes.extend(side(1.0, seen, far));
        planes.extend(end(-1.0, 0.0, &self.left));
        planes.extend(end(1.0, length, &self.right));
        Body::of(planes)
    }
}
