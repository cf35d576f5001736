//! A whole piece put together: how each of its parts stands in space.
//!
//! Frame: x to the right, y away from you, z up, inches; the lowest point stands on z = 0, and what hangs
//! on a wall lies in y ≤ 0 with its back at y = 0. Bodies come from the planes of a part's neighbors; they
//! are never made from the parts of the cut list, so that each proves the other.

use offsquare_geometry::scene::Source;
use offsquare_geometry::{Body, Plane, Point, Point3, ROUND_SIDES, Solid, Vector3};
use offsquare_units::{Angle, Length, Quantity, num};

/// How one of a solution's parts stands in the piece; the solution's members are its parts, in order.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Member {
    /// The stick that it is cut from, by the pattern's name for it: "leg".
    pub stick: &'static str,
    /// By what it hangs ("cord", "hinge"); empty where it touches another part.
    pub joined: &'static str,
    /// Bevels of its long edges, where they are ripped.
    pub rips: Option<Rips>,
    pub holes: Vec<Hole>,
    /// Its section, where that is neither a rectangle nor a round: corners in a frame of its own.
    pub section: Vec<Point>,
    /// One for each of the part's count.
    pub bodies: Vec<Body>,
}

/// Tilts of a part's two long edges from square; positive where the drawn face reaches further out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rips {
    /// Of edge A, the one near you.
    pub near: Angle,
    /// Of edge B.
    pub far: Angle,
}

/// A hole drilled square to the drawn face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// Its middle, in the part's frame.
    pub at: Point,
    pub diameter: Length,
    /// None: through.
    pub depth: Option<Length>,
}

/// A size of the piece, shown where it stands in space.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    pub from: Point3,
    pub to: Point3,
    /// Where its line is drawn, seen from the stretch itself: a unit vector that leads away from the piece.
    pub aside: Vector3,
    pub value: Quantity,
    pub source: Source,
}

impl Member {
    /// A part of a stick, where its pieces stand.
    pub fn of(stick: &'static str, bodies: Vec<Body>) -> Member {
        Member { stick, bodies, ..Member::default() }
    }
}

/// The corners of the upright box around a body; of round stock, around the true round. None where it has
/// no faces.
pub fn bounds(body: &Body, solid: &Solid) -> Option<(Point3, Point3)> {
    let first = *solid.faces.first()?.first()?;
    let least = |a: Point3, b: Point3| Point3::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z));
    let most = |a: Point3, b: Point3| Point3::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z));
    let corners = solid.faces.iter().flatten();
    let around = corners.fold((first, first), |(lo, hi), p| (least(lo, *p), most(hi, *p)));
    let Some(diameters) = body.round else {
        return Some(around);
    };
    let ends = body.planes.get(ROUND_SIDES..ROUND_SIDES + 2)?;
    Some(ends.iter().zip(diameters).fold(around, |(lo, hi), (end, diameter)| {
        let Some(middle) = middle_on(solid, end) else { return (lo, hi) };
        let reach = |n: f64| diameter / 2.0 * (1.0 - n * n).max(0.0).sqrt();
        let n = end.normal;
        let by = Vector3::new(reach(n.x), reach(n.y), reach(n.z));
        (least(lo, middle + -by), most(hi, middle + by))
    }))
}

/// The middle of the solid's face on a plane.
fn middle_on(solid: &Solid, plane: &Plane) -> Option<Point3> {
    let tiny = 1e-9 * plane.at.abs().max(1.0);
    let face = solid.faces.iter().find(|f| f.iter().all(|p| plane.outside(*p).abs() <= tiny))?;
    let sum = face.iter().fold(Vector3::default(), |s, p| s + (*p - Point3::default()));
    Some(Point3::default() + sum * (1.0 / face.len() as f64))
}

/// The box around all bodies of a piece.
pub fn extent<'a>(all: impl IntoIterator<Item = &'a Body>) -> Option<(Point3, Point3)> {
    all.into_iter().filter_map(|b| bounds(b, &b.solid())).reduce(|(a, b), (c, d)| {
        (
            Point3::new(a.x.min(c.x), a.y.min(c.y), a.z.min(c.z)),
            Point3::new(b.x.max(d.x), b.y.max(d.y), b.z.max(d.z)),
        )
    })
}

/// What a body holds (cubic inches), all its faces (square inches) and its middle; of round stock the true
/// round's. None where it has no volume.
pub fn measures(body: &Body, solid: &Solid) -> Option<(f64, f64, Point3)> {
    let middle = solid.centroid()?;
    let turn = 180.0 / ROUND_SIDES as f64;
    // The prism's corners lie on the round: what its section and its sides lack.
    let (section, around) = match body.round {
        Some(_) => {
            let lacks = num::sin_deg(turn) * ROUND_SIDES as f64 / core::f64::consts::PI;
            (1.0 / (lacks * num::cos_deg(turn)), 1.0 / lacks)
        }
        None => (1.0, 1.0),
    };
    let ends = body.round.and_then(|_| body.planes.get(ROUND_SIDES..ROUND_SIDES + 2));
    let is_end = |face: &[Point3]| {
        ends.into_iter()
            .flatten()
            .any(|p| face.iter().all(|c| p.outside(*c).abs() <= 1e-9 * p.at.abs().max(1.0)))
    };
    let area = solid.faces.iter().fold(0.0, |sum, face| {
        let more = if is_end(face) { section } else { around };
        sum + Solid::face_area(face) * more
    });
    Some((solid.volume() * section, area, middle))
}
