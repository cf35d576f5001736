//! A part cut differently from its place: the same stick where it stood, with another length or other ends.

use super::part::PiecePart;
use offsquare_geometry::{Body, Plane, Point3, Vector3};
use offsquare_units::num::Gather;

/// Planes, lengths and places that differ by less, as a share of the part's size, are the same.
const SAME: f64 = 1e-7;

/// How a part lies in the piece: its own directions (along it from the left end, from edge A to edge B, from the
/// lower face to the upper) in the piece's, and where its corner at left, A and below stands.
struct Frame {
    axes: [Vector3; 3],
    origin: Vector3,
}

impl Frame {
    /// A plane of the part as it lies on the saw, where it stands.
    fn stands(&self, p: &Plane) -> Plane {
        let [x, y, z] = self.axes;
        let normal = x * p.normal.x + y * p.normal.y + z * p.normal.z;
        Plane { normal, at: p.at + normal.dot(self.origin) }
    }
}

fn same(a: &Plane, b: &Plane, size: f64) -> bool {
    (a.normal - b.normal).length() < SAME && (a.at - b.at).abs() < SAME * size
}

impl PiecePart {
    /// Its body as `cut` now says, its left end's long point where it was; none where this part is no
    /// stick between two end cuts, or where what is taken out of it would lie past an end.
    pub(super) fn recut(&self, cut: &PiecePart, body: &Body) -> Option<Body> {
        let plain = self.section.is_empty() && body.round.is_none();
        let square = cut.left.is_square() && cut.right.is_square();
        if self.outline.is_some() || !(plain || square) || !cut.holds_what_is_taken_out() {
            return None;
        }
        let frame = self.frame(body, plain)?;
        let along = frame.axes[0];
        let sides = body.planes.iter().filter(|p| p.normal.dot(along).abs() < SAME).copied();
        let (was, is, size) = (self.lying(), cut.lying(), self.length.0);
        let end = |i: usize| {
            let (was, is) = (frame.stands(&was.planes[i]), frame.stands(&is.planes[i]));
            // An end that stays is the very plane that it was.
            let stays = body.planes.iter().find(|p| same(p, &was, size) && same(p, &is, size));
            stays.copied().unwrap_or(is)
        };
        let (left, right) = (end(4), end(5));
        // Along each edge the left end comes before the right one.
        let reaches = |end: &Plane, p: Point3| -end.outside(p) / end.normal.dot(along);
        let corners = Body::of(body.planes.clone()).solid().faces;
        let mut corners = corners.into_iter().flatten();
        corners.all(|p| reaches(&left, p) < reaches(&right, p) - SAME * size).then(|| Body {
            planes: sides.chain([left, right]).gather(),
            removed: body.removed.clone(),
            round: body.round,
        })
    }

    /// How it lies in the piece. Of several ways in which it may, its left end is at the left, or below, and
    /// its upper face looks to the front. `plain`: its section is told by `seen`, `away` and its rips.
    fn frame(&self, body: &Body, plain: bool) -> Option<Frame> {
        let solid = Body::of(body.planes.clone()).solid();
        let corners: Vec<Vector3> =
            solid.faces.iter().flatten().map(|p| *p - Point3::default()).gather();
        let reach = |axis: Vector3| {
            let all = corners.iter().map(|c| c.dot(axis));
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)))
        };
        let lying = self.lying();
        let size = self.length.0.max(self.seen.0).max(self.away.0);
        let fits = |frame: &Frame| {
            let mut planes = lying.planes.iter().skip(if plain { 0 } else { 4 });
            let stands = |p: &Plane| {
                let there = frame.stands(p);
                body.planes.iter().any(|own| same(own, &there, size))
            };
            planes.all(stands)
        };
        let mut best: Option<(f64, Frame)> = None;
        for z in body.planes.iter().map(|p| p.normal) {
            for other in body.planes.iter().map(|p| p.normal) {
                let Some(x) = z.cross(other).unit() else { continue };
                let (low, high) = reach(x);
                if (high - low - self.length.0).abs() > SAME * size {
                    continue;
                }
                // A mirror image, if no turned one fits.
                for (hand, mirrored) in [(1.0, 0.0), (-1.0, 100.0)] {
                    let axes = [x, z.cross(x) * hand, z];
                    let [x0, y0, z0] = axes.map(|axis| reach(axis).0);
                    let frame = Frame { axes, origin: x * x0 + axes[1] * y0 + z * z0 };
                    let likely = 10.0 * x.dot(Vector3::new(1.0, 0.8, 0.9))
                        + z.dot(Vector3::new(0.1, -1.0, 0.5))
                        - mirrored;
                    if best.as_ref().is_none_or(|(most, _)| likely > *most + SAME) && fits(&frame) {
                        best = Some((likely, frame));
                    }
                }
            }
        }
        best.map(|(_, frame)| frame)
    }

    /// Laps, holes and marks lie between its ends.
    fn holds_what_is_taken_out(&self) -> bool {
        let shoulders = self.laps.iter().flat_map(|l| &l.shoulders);
        let lines = shoulders.flat_map(|(a, b)| [(*a, 0.0), (*b, 0.0)]);
        let holes = self.holes.iter().map(|h| (h.at, h.diameter.0 / 2.0));
        let mut all = lines
            .chain(holes)
            .flat_map(|(at, half)| [0.0, self.away.0].map(|z| (Point3::new(at.x, at.y, z), half)));
        let planes = self.lying().planes;
        all.all(|(p, half)| planes.iter().skip(4).all(|end| end.outside(p) <= -half + SAME))
    }
}
