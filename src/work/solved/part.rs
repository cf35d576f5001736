//! One kind of part of a piece.

use offsquare_cuts::assembly::{Hole, Member, Rips};
use offsquare_cuts::parts::{Cut, End, Lap, Part, Side, StockShape};
use offsquare_geometry::{Body, Plane, Point, Point3, Polygon, Vector3};
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
        let mut all: Vec<(f64, f64)> = own_cuts(part, end).map(signed).collect();
        num::sort_by(&mut all, |a, b| b.0.abs().total_cmp(&a.0.abs()));
        let (miter, bevel) = all.first().copied().unwrap_or_default();
        EndCut { miter, bevel, second: all.get(1).map(|c| c.0) }
    }

    /// How far the cut lies, at the furthest of these corners of a section, outside of where it meets
    /// y = 0, z = 0; inches.
    fn reach(&self, corners: &[(f64, f64); 4]) -> f64 {
        let along = num::tan_deg(self.miter);
        let up = num::tan_deg(self.bevel) / num::cos_deg(self.miter);
        corners.iter().fold(f64::NEG_INFINITY, |most, (y, z)| most.max(z * up - y * along))
    }
}

/// A layout's cuts of one end.
fn own_cuts(part: &Part, end: End) -> impl Iterator<Item = &Cut> {
    part.cuts.iter().filter(move |c| c.end == end)
}

/// Corners (y, z) of a section lying on the saw, from edge A on the table around to edge A above; inches.
///
/// Example: 4 wide, 1 thick, both edges ripped at 45° with the upper face further out at edge A:
/// (1, 0), (4, 0), (3, 1), (0, 1).
fn section(seen: f64, away: f64, rips: Option<Rips>) -> [(f64, f64); 4] {
    // How far a tilted side stands in on the lower face and on the upper one.
    let inward = |rip: fn(&Rips) -> f64| {
        let out = rips.map_or(0.0, |r| away * num::tan_deg(rip(&r)));
        (out.max(0.0), (-out).max(0.0))
    };
    let (near, far) = (inward(|r| r.near.0), inward(|r| r.far.0));
    [(near.0, 0.0), (seen - far.0, 0.0), (seen - far.1, away), (near.1, away)]
}

impl PiecePart {
    /// A part's name as it stands in an answer: "Frame stile" is "frame_stile".
    pub fn key(name: &str) -> String {
        name.to_lowercase().replace(' ', "_")
    }

    /// A pattern's part.
    pub fn of(part: &Part, member: &Member) -> PiecePart {
        let across = |c: &Cut| (c.to.y - c.from.y).abs() >= part.seen.0 * (1.0 - 1e-9);
        let plain = |end| own_cuts(part, end).count() <= 1 && own_cuts(part, end).all(across);
        let shaped = part.stock == StockShape::Board
            || !plain(End::Left)
            || !plain(End::Right)
            || part.cuts.iter().any(|c| c.end == End::Along && !c.is_rip());
        let (left, right) = (EndCut::of(part, End::Left), EndCut::of(part, End::Right));
        // The layout's is that of its blank; corners that are ripped off may have been the furthest.
        let (seen, away) = (part.seen.0, part.away.unwrap_or_default().0);
        let corners = |rips| section(seen, away, rips);
        let loses = |end: &EndCut| end.reach(&corners(None)) - end.reach(&corners(member.rips));
        let ripped_off = if shaped { 0.0 } else { loses(&left) + loses(&right) };
        PiecePart {
            name: PiecePart::key(&part.name),
            qty: part.count,
            stick: member.stick.to_owned(),
            seen: part.seen,
            away: part.away.unwrap_or_default(),
            length: part.length - Length(ripped_off),
            left,
            right,
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
        let corners = section(seen, away, self.rips);
        let place = |i: usize| Point3::new(0.0, corners[i].0, corners[i].1);
        // Corners go around with the wood at the left.
        let side = |from: Point3, to: Point3| {
            Plane::through(from, Vector3::new(0.0, to.z - from.z, from.y - to.y))
        };
        let end = |outward: f64, at: f64, cut: &EndCut| {
            let (sin, cos) = (num::sin_deg(cut.miter), num::cos_deg(cut.miter));
            let n = Vector3::new(outward * cos, sin, -num::tan_deg(cut.bevel));
            let point = Point3::new(at - outward * cut.reach(&corners), 0.0, 0.0);
            Plane::through(point, n)
        };
        let flat = |z: f64, at: f64| Plane { normal: Vector3::new(0.0, 0.0, z), at };
        let mut planes = vec![flat(-1.0, 0.0), flat(1.0, away)];
        planes.extend(side(place(3), place(0)));
        planes.extend(side(place(1), place(2)));
        planes.extend(end(-1.0, 0.0, &self.left));
        planes.extend(end(1.0, length, &self.right));
        Body::of(planes)
    }
}
