//! Bodies: what stands between flat faces, less what is cut out of it. A part of a piece is one of
//! these where it stands; its [`Solid`] is worked out from the planes alone.

use crate::{Point3, Solid, Vector3};
use offsquare_units::num;

/// A flat cut through space: wood lies on the side that `normal` points away from. The normal is one
/// inch long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    pub normal: Vector3,
    /// Distance from the origin along the normal, inches.
    pub at: f64,
}

impl Plane {
    /// Through a point, its outside where `outward` points; none where that has no length.
    ///
    /// Example: through (0, 0, 5) with +z outward is the upper face of what ends at a height of 5.
    pub fn through(point: Point3, outward: Vector3) -> Option<Plane> {
        let normal = outward.unit()?;
        Some(Plane { normal, at: normal.dot(point - Point3::default()) })
    }
    /// How far a point lies outside, negative inside; inches.
    pub fn outside(&self, p: Point3) -> f64 {
        self.normal.dot(p - Point3::default()) - self.at
    }
    /// The same plane with its other side as the outside.
    pub fn flipped(self) -> Plane {
        Plane { normal: -self.normal, at: -self.at }
    }
    /// Moved outward by so much; inches.
    pub fn moved(self, by: f64) -> Plane {
        Plane { at: self.at + by, ..self }
    }
    /// Where three planes meet; none where they do not meet in one point.
    pub fn meet(&self, b: &Plane, c: &Plane) -> Option<Point3> {
        let bc = b.normal.cross(c.normal);
        let det = self.normal.dot(bc);
        let sum =
            bc * self.at + c.normal.cross(self.normal) * b.at + self.normal.cross(b.normal) * c.at;
        let p = Point3::default() + sum * (1.0 / det);
        (det.abs() > 1e-12 && (p.x + p.y + p.z).is_finite()).then_some(p)
    }
}

/// A convex block between planes, less convex bites.
///
/// ```
/// use offsquare_geometry::{Body, Point3};
/// // A 4 in cube with a 1 × 1 in notch across one edge.
/// let block = |x: f64, y: f64, z: f64| {
///     Body::block(Point3::default(), Point3::new(x, y, z))
/// };
/// let notched = block(4.0, 4.0, 4.0).less(block(4.0, 1.0, 1.0));
/// assert!((notched.solid().volume() - 60.0).abs() < 1e-9);
/// ```
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Body {
    pub planes: Vec<Plane>,
    /// Each the planes of one bite. Two bites may touch, but do not overlap.
    pub removed: Vec<Vec<Plane>>,
    /// Round stock, which stands as a prism: diameter at its start and at its end, inches.
    pub round: Option<[f64; 2]>,
}

/// Sides of the prism that stands for round stock; corners lie on the true round. With 36 there is a
/// corner at every 10°, and the prism has 99.5 % of the true volume.
pub const ROUND_SIDES: usize = 36;

impl Body {
    /// Between these planes.
    pub fn of(planes: Vec<Plane>) -> Body {
        Body { planes, ..Body::default() }
    }

    /// An upright block between two opposite corners.
    pub fn block(low: Point3, high: Point3) -> Body {
        let plane = |x: f64, y: f64, z: f64, at: f64| Plane { normal: Vector3::new(x, y, z), at };
        Body::of(vec![
            plane(-1.0, 0.0, 0.0, -low.x),
            plane(1.0, 0.0, 0.0, high.x),
            plane(0.0, -1.0, 0.0, -low.y),
            plane(0.0, 1.0, 0.0, high.y),
            plane(0.0, 0.0, -1.0, -low.z),
            plane(0.0, 0.0, 1.0, high.z),
        ])
    }

    /// A convex outline, corners counter-clockwise seen from where `along` points to, pushed along it.
    pub fn prism(outline: &[Point3], along: Vector3) -> Body {
        let mut planes: Vec<Plane> = (0..outline.len())
            .filter_map(|i| {
                let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
                Plane::through(a, (b - a).cross(along))
            })
            .collect();
        if let Some(first) = outline.first() {
            planes.extend(Plane::through(*first, -along));
            planes.extend(Plane::through(*first + along, along));
        }
        Body::of(planes)
    }

    /// Round stock from one point of its axis to the other, squarely cut, a corner of the prism where
    /// `toward` points. Tapered where the diameters differ. None where it has no length.
    pub fn round(from: Point3, to: Point3, diameters: [f64; 2], toward: Vector3) -> Option<Body> {
        let axis = to - from;
        let z = axis.unit()?;
        let x = (toward + z * -toward.dot(z)).unit()?;
        let y = z.cross(x);
        let share = num::cos_deg(180.0 / ROUND_SIDES as f64);
        // What the prism's sides lean inward where it is tapered.
        let lean = (diameters[0] - diameters[1]) / 2.0 * share / axis.length();
        let mut planes = Vec::new();
        for i in 0..ROUND_SIDES {
            let turn = 360.0 * (i as f64 + 0.5) / ROUND_SIDES as f64;
            let out = x * num::cos_deg(turn) + y * num::sin_deg(turn);
            planes
                .extend(Plane::through(from + out * (diameters[0] / 2.0 * share), out + z * lean));
        }
        planes.extend(Plane::through(from, -z));
        planes.extend(Plane::through(to, z));
        Some(Body { planes, removed: Vec::new(), round: Some(diameters) })
    }

    /// The same with a bite taken out.
    pub fn less(mut self, bite: Body) -> Body {
        self.removed.push(bite.planes);
        self
    }

    /// The same, cut off at these planes too.
    pub fn cut(mut self, planes: impl IntoIterator<Item = Plane>) -> Body {
        self.planes.extend(planes);
        self
    }

    /// Every plane of it sent through `to`, which keeps lengths (a turn, a shift, a mirror).
    fn sent(&self, to: &dyn Fn(Plane) -> Plane) -> Body {
        let all = |planes: &Vec<Plane>| planes.iter().map(|p| to(*p)).collect();
        Body {
            planes: all(&self.planes),
            removed: self.removed.iter().map(all).collect(),
            round: self.round,
        }
    }

    /// Moved by a step.
    pub fn moved(&self, by: Vector3) -> Body {
        self.sent(&|p| p.moved(p.normal.dot(by)))
    }

    /// Turned about the upright axis through the origin, counter-clockwise seen from above; degrees.
    pub fn turned(&self, degrees: f64) -> Body {
        let (sin, cos) = (num::sin_deg(degrees), num::cos_deg(degrees));
        self.sent(&|p| {
            let n = p.normal;
            let normal = Vector3::new(n.x * cos - n.y * sin, n.x * sin + n.y * cos, n.z);
            Plane { normal, at: p.at }
        })
    }

    /// Its mirror image in the plane x = 0.
    pub fn mirrored_x(&self) -> Body {
        self.sent(&|p| Plane { normal: Vector3 { x: -p.normal.x, ..p.normal }, ..p })
    }

    /// Its mirror image in the plane y = 0.
    pub fn mirrored_y(&self) -> Body {
        self.sent(&|p| Plane { normal: Vector3 { y: -p.normal.y, ..p.normal }, ..p })
    }

    /// Its faces: flat, closed, each edge shared by exactly two of them. Empty where the planes leave
    /// nothing between them, or do not close.
    pub fn solid(&self) -> Solid {
        let base = faces_of(&self.planes);
        let size = base
            .iter()
            .flat_map(|f| &f.corners)
            .fold(0.0, |m: f64, p| m.max(p.x.abs()).max(p.y.abs()).max(p.z.abs()));
        let tiny = size * 1e-10;
        if base.len() < 4 || !(size > 0.0) {
            return Solid::default();
        }
        let bites: Vec<Bite> = self.removed.iter().map(|planes| Bite::of(planes, tiny)).collect();
        let mut fragments: Vec<Fragment> =
            base.into_iter().flat_map(|face| without(face, &bites, None, tiny)).collect();
        for (i, bite) in bites.iter().enumerate() {
            for face in &bite.faces {
                let clipped = self.planes.iter().try_fold(face.clone(), |f, plane| {
                    let on = f.lies_on(plane, tiny);
                    if on { None } else { f.split(plane, tiny).0 }
                });
                let kept = clipped.into_iter().flat_map(|f| without(f, &bites, Some(i), tiny));
                fragments.extend(kept.map(Fragment::flipped));
            }
        }
        closed(fragments, tiny)
    }
}

/// A convex piece of a plane. Edge i lies in plane `edges[i]` and runs from corner i to the next.
#[derive(Clone)]
struct Fragment {
    plane: Plane,
    edges: Vec<Plane>,
    corners: Vec<Point3>,
}

/// The faces of what stands between planes, each cut out of a square far larger than all of it. A face
/// that reaches to that square's edge is left out.
fn faces_of(planes: &[Plane]) -> Vec<Fragment> {
    let far = planes.iter().fold(1.0, |m: f64, p| m.max(p.at.abs())) * 1e5;
    let mut out: Vec<Fragment> = Vec::new();
    for (i, plane) in planes.iter().enumerate() {
        let Some(square) = Fragment::square(*plane, far) else { continue };
        let face = planes.iter().enumerate().filter(|(j, _)| *j != i).try_fold(
            square,
            |face, (j, other)| {
                // Of two planes in one place the first has the face.
                let same = (other.normal - plane.normal).length() < 1e-12
                    && (other.at - plane.at).abs() <= 1e-12 * far * 1e-5;
                if same { (i < j).then_some(face) } else { face.split(other, 0.0).0 }
            },
        );
        let shut = |f: &Fragment| {
            f.corners.iter().all(|p| p.x.abs().max(p.y.abs()).max(p.z.abs()) < far / 2.0)
        };
        out.extend(face.filter(shut));
    }
    out
}

/// What is taken out: its planes and faces, and the box around it, so that most of what it does not touch is
/// told at once.
struct Bite<'a> {
    planes: &'a [Plane],
    faces: Vec<Fragment>,
    low: Point3,
    high: Point3,
}

impl Bite<'_> {
    fn of(planes: &[Plane], tiny: f64) -> Bite<'_> {
        let faces = faces_of(planes);
        let (low, high) = around(faces.iter().flat_map(|f| &f.corners));
        let by = Vector3::new(tiny, tiny, tiny);
        Bite { planes, faces, low: low + -by, high: high + by }
    }

    /// Whether a face could reach into it. A bite that is open somewhere has no box, and any could.
    fn is_near(&self, face: &Fragment) -> bool {
        let (low, high) = around(&face.corners);
        let over = |a: f64, b: f64, c: f64, d: f64| a <= d && c <= b;
        self.faces.len() < self.planes.len()
            || over(low.x, high.x, self.low.x, self.high.x)
                && over(low.y, high.y, self.low.y, self.high.y)
                && over(low.z, high.z, self.low.z, self.high.z)
    }
}

/// The box around points.
fn around<'a>(points: impl IntoIterator<Item = &'a Point3>) -> (Point3, Point3) {
    let (big, small) = (f64::INFINITY, f64::NEG_INFINITY);
    let none = (Point3::new(big, big, big), Point3::new(small, small, small));
    points.into_iter().fold(none, |(l, h), p| {
        (
            Point3::new(l.x.min(p.x), l.y.min(p.y), l.z.min(p.z)),
            Point3::new(h.x.max(p.x), h.y.max(p.y), h.z.max(p.z)),
        )
    })
}

/// A face less what lies inside the bites, other than bite number `own`.
fn without(face: Fragment, bites: &[Bite], own: Option<usize>, tiny: f64) -> Vec<Fragment> {
    let others = bites.iter().enumerate().filter(|(i, _)| Some(*i) != own);
    others.fold(vec![face], |rest, (_, bite)| {
        let minus =
            |f: Fragment| if bite.is_near(&f) { f.minus(bite.planes, tiny) } else { vec![f] };
        rest.into_iter().flat_map(minus).collect()
    })
}

impl Fragment {
    /// A square on a plane, twice `far` wide, around the point nearest the origin.
    fn square(plane: Plane, far: f64) -> Option<Fragment> {
        let n = plane.normal;
        let aside = if n.x.abs() < 0.7 { (1.0, 0.0) } else { (0.0, 1.0) };
        let u = n.cross(Vector3::new(aside.0, aside.1, 0.0)).unit()?;
        let v = n.cross(u);
        let around = [u, v, -u, -v];
        let edges: Vec<Plane> = around.map(|normal| Plane { normal, at: far }).to_vec();
        let corner = |i: usize| plane.meet(&edges[(i + 3) % 4], &edges[i]);
        let corners = (0..4).map(corner).collect::<Option<Vec<Point3>>>()?;
        Some(Fragment { plane, edges, corners })
    }

    fn lies_on(&self, plane: &Plane, tiny: f64) -> bool {
        self.corners.iter().all(|p| plane.outside(*p).abs() <= tiny)
    }

    /// Its corners and its plane seen from the other side; nothing is split after that.
    fn flipped(self) -> Fragment {
        let corners = self.corners.into_iter().rev().collect();
        Fragment { plane: self.plane.flipped(), edges: Vec::new(), corners }
    }

    /// What lies inside the plane, and what lies outside.
    fn split(&self, by: &Plane, tiny: f64) -> (Option<Fragment>, Option<Fragment>) {
        let out: Vec<f64> = self.corners.iter().map(|p| by.outside(*p)).collect();
        match (out.iter().any(|d| *d < -tiny), out.iter().any(|d| *d > tiny)) {
            (_, false) => (Some(self.clone()), None),
            (false, true) => (None, Some(self.clone())),
            (true, true) => {
                let inward: Vec<f64> = out.iter().map(|d| -d).collect();
                (Some(self.half(by, &out, tiny)), Some(self.half(&by.flipped(), &inward, tiny)))
            }
        }
    }

    /// The half inside a plane that runs through it; `out`: how far outside each corner lies.
    fn half(&self, by: &Plane, out: &[f64], tiny: f64) -> Fragment {
        let n = self.corners.len();
        let (mut edges, mut corners) = (Vec::new(), Vec::new());
        for i in 0..n {
            let (j, edge) = ((i + 1) % n, self.edges[i]);
            let crossing = || {
                let (a, b) = (self.corners[i], self.corners[j]);
                let between = || a + (b - a) * (out[i] / (out[i] - out[j]));
                self.plane.meet(&edge, by).unwrap_or_else(between)
            };
            match (out[i] <= tiny, out[j] <= tiny) {
                (true, true) => {
                    corners.push(self.corners[i]);
                    edges.push(edge);
                }
                (true, false) if out[i] < -tiny => {
                    corners.extend([self.corners[i], crossing()]);
                    edges.extend([edge, *by]);
                }
                (true, false) => {
                    corners.push(self.corners[i]);
                    edges.push(*by);
                }
                (false, true) if out[j] < -tiny => {
                    corners.push(crossing());
                    edges.push(edge);
                }
                // The next corner lies on the plane, and comes by itself.
                _ => {}
            }
        }
        Fragment { plane: self.plane, edges, corners }
    }

    /// What of it lies outside the bite. What lies in a face of the bite goes with it where both look the
    /// same way: the bite is open there.
    fn minus(self, bite: &[Plane], tiny: f64) -> Vec<Fragment> {
        let (mut inner, mut rest) = (self.clone(), Vec::new());
        for plane in bite {
            if inner.lies_on(plane, tiny) {
                if inner.plane.normal.dot(plane.normal) > 0.0 {
                    continue;
                }
                return vec![self];
            }
            match inner.split(plane, tiny) {
                (Some(inside), outside) => {
                    rest.extend(outside);
                    inner = inside;
                }
                (None, _) => return vec![self],
            }
        }
        rest
    }
}

/// Puts fragments together: corners within a hair become one, and a corner that lies on another
/// fragment's edge becomes a corner of that one too, so that edges meet edges.
fn closed(fragments: Vec<Fragment>, tiny: f64) -> Solid {
    let near = tiny * 10.0;
    // From left to right, so that what is near one is found beside it.
    let given: Vec<(usize, Point3)> = fragments
        .iter()
        .enumerate()
        .flat_map(|(i, f)| f.corners.iter().map(move |p| (i, *p)))
        .collect();
    let mut order: Vec<usize> = (0..given.len()).collect();
    num::sort_by(&mut order, |a, b| given[*a].1.x.total_cmp(&given[*b].1.x));
    let mut corners: Vec<Point3> = Vec::new();
    let mut number = vec![0; given.len()];
    for at in order {
        let p = given[at].1;
        let mut beside = corners.iter().enumerate().rev().take_while(|(_, q)| p.x - q.x <= near);
        let known = beside.find(|(_, q)| (**q - p).length() <= near).map(|(i, _)| i);
        number[at] = known.unwrap_or(corners.len());
        if known.is_none() {
            corners.push(p);
        }
    }
    let mut faces: Vec<Vec<usize>> = vec![Vec::new(); fragments.len()];
    for ((fragment, _), at) in given.into_iter().zip(number) {
        let face = &mut faces[fragment];
        if face.last() != Some(&at) && face.first() != Some(&at) {
            face.push(at);
        }
    }
    faces.retain(|f| f.len() > 2);
    let whole = |face: &Vec<usize>| {
        let mut out = Vec::new();
        for (i, a) in face.iter().enumerate() {
            let (from, to) = (corners[*a], corners[face[(i + 1) % face.len()]]);
            let along = to - from;
            let long = along.length();
            let first = corners.partition_point(|p| p.x < from.x.min(to.x) - near);
            let last = corners.partition_point(|p| p.x <= from.x.max(to.x) + near);
            let mut between: Vec<(f64, Point3)> = Vec::new();
            for p in &corners[first..last] {
                let step = *p - from;
                let share = step.dot(along) / (long * long);
                let inside = share * long > near && (1.0 - share) * long > near;
                if inside && (step - along * share).length() <= near {
                    between.push((share, *p));
                }
            }
            num::sort_by(&mut between, |x, y| x.0.total_cmp(&y.0));
            out.push(from);
            out.extend(between.into_iter().map(|(_, p)| p));
        }
        out
    };
    Solid { faces: faces.iter().map(whole).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every directed edge has its reverse exactly once: the solid is closed.
    fn is_closed(solid: &Solid) -> bool {
        let key = |p: &Point3| [p.x, p.y, p.z].map(f64::to_bits);
        let edges: Vec<_> = solid
            .faces
            .iter()
            .flat_map(|f| (0..f.len()).map(|i| (key(&f[i]), key(&f[(i + 1) % f.len()]))))
            .collect();
        edges.iter().all(|e| {
            let count = |x: &(_, _)| edges.iter().filter(|y| *y == x).count();
            count(e) == 1 && count(&(e.1, e.0)) == 1
        })
    }

    fn at(x: f64, y: f64, z: f64) -> Point3 {
        Point3::new(x, y, z)
    }

    #[test]
    fn bites_through_corners_edges_and_faces_leave_a_closed_solid_of_the_volume_left() {
        let block = Body::block(at(-3.0, 1.0, 0.0), at(5.0, 4.0, 2.0)); // 48
        let through = Body::block(at(0.0, 2.0, -1.0), at(1.0, 3.0, 3.0)); // 2
        let pocket = Body::block(at(2.0, 2.0, 1.5), at(3.0, 3.0, 2.0)); // 0.5, flush above
        let corner = Body::block(at(4.5, 3.0, 0.0), at(5.0, 4.0, 2.0)); // 1, flush on four faces
        let slot = Body::block(at(-2.0, 0.0, 1.0), at(-1.0, 9.0, 2.0)); // 3, across the upper face
        let body = block.less(through).less(pocket).less(corner).less(slot);
        let solid = body.solid();
        assert!((solid.volume() - 41.5).abs() < 1e-9, "{}", solid.volume());
        assert!(is_closed(&solid));
    }

    #[test]
    fn a_round_hole_through_a_slanted_board_takes_the_prism_through_it() {
        let slanted = Plane::through(at(0.0, 0.0, 1.0), Vector3::new(0.3, 0.1, 1.0)).unwrap();
        let board = Body::block(at(-4.0, -4.0, -1.0), at(4.0, 4.0, 9.0)).cut([slanted]);
        let x = Vector3::new(1.0, 0.0, 0.0);
        let hole = Body::round(at(0.5, 0.5, -2.0), at(0.5, 0.5, 5.0), [1.5, 1.5], x).unwrap();
        let whole = board.solid().volume();
        let drilled = board.less(hole).solid();
        // Area of the 36-gon times the height over its middle: 1 - 0.15 - 0.05 + 1.
        let area = 18.0 * 0.75 * 0.75 * num::sin_deg(10.0);
        assert!((whole - drilled.volume() - area * 1.8).abs() < 1e-9);
        assert!(is_closed(&drilled));
    }

    #[test]
    fn a_turned_moved_mirrored_body_keeps_its_volume_and_its_place() {
        let outline = [at(0.0, 0.0, 0.0), at(3.0, 0.0, 0.0), at(0.0, 2.0, 0.0)];
        let wedge = Body::prism(&outline, Vector3::new(0.0, 0.0, 5.0));
        let there = wedge.turned(30.0).moved(Vector3::new(1.0, 2.0, 3.0)).mirrored_x();
        let solid = there.solid();
        assert!((solid.volume() - 15.0).abs() < 1e-9);
        assert_eq!(solid.faces.len(), 5);
        // Middle of the wedge (1, 2/3, 2.5), turned, moved and mirrored by hand.
        let (x, y) = (1.0 * 0.75_f64.sqrt() - 2.0 / 6.0, 0.5 + 2.0 / 3.0 * 0.75_f64.sqrt());
        let middle = solid.centroid().unwrap();
        assert!((middle - at(-x - 1.0, y + 2.0, 5.5)).length() < 1e-9);
    }
}
