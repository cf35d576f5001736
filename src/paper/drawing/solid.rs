//! Solids seen from a corner, with the edges behind wood told apart.

use super::view::View;
use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Plane, Point, Point3, ROUND_SIDES, Solid, Vector, Vector3, cross};
use offsquare_units::num;
use offsquare_units::num::Gather;

/// A solid taken apart once, to be seen from many sides: corners, sides and edges by their numbers.
pub(super) struct Wires {
    corners: Vec<Point3>,
    sides: Vec<Side>,
    edges: Vec<Edge>,
}

/// A flat side of a solid.
struct Side {
    /// Counter-clockwise seen from outside.
    corners: Vec<usize>,
    /// One inch long; none where the side has no area.
    normal: Option<Vector3>,
}

/// One edge, once, with the sides that meet in it.
struct Edge {
    ends: [usize; 2],
    sides: Vec<usize>,
    /// Between two facets of something round: seen only where it is the outline.
    smooth: bool,
}

/// The cosine of the most that neighboring facets of something round turn; the prism of round stock turns
/// by 10° a side.
const SMOOTH: f64 = 0.982;

impl Wires {
    /// `round`: some of the solid's facets stand for round ones.
    pub fn of(solid: &Solid, round: bool) -> Wires {
        let near = farthest(solid.faces.iter().flatten()) * 1e-8;
        let mut made = Wires { corners: Vec::new(), sides: Vec::new(), edges: Vec::new() };
        for (number, face) in solid.faces.iter().enumerate() {
            let corners = face.iter().map(|p| made.corner_at(*p, near)).gather();
            for i in 0..face.len() {
                let (a, b) = (corners[i], corners[(i + 1) % face.len()]);
                let ends = [a.min(b), a.max(b)];
                match made.edges.iter_mut().find(|e| e.ends == ends) {
                    Some(edge) => edge.sides.push(number),
                    None => made.edges.push(Edge { ends, sides: vec![number], smooth: false }),
                }
            }
            made.sides.push(Side { corners, normal: normal(face) });
        }
        let Wires { edges, sides, .. } = &mut made;
        let normals = |e: &Edge| match e.sides[..] {
            [a, b] => sides[a].normal.zip(sides[b].normal),
            _ => None,
        };
        // Where two faces of one plane meet there is no edge to see.
        edges.retain(|e| {
            normals(e).is_none_or(|(a, b)| a.cross(b).length() > 1e-9 || a.dot(b) < 0.0)
        });
        for edge in edges.iter_mut().filter(|_| round) {
            edge.smooth = normals(edge).is_some_and(|(a, b)| a.dot(b) > SMOOTH);
        }
        made
    }

    fn corner_at(&mut self, p: Point3, near: f64) -> usize {
        let same = |q: &Point3| {
            let d = *q - p;
            d.dot(d) <= near * near
        };
        self.corners.iter().position(same).unwrap_or_else(|| {
            self.corners.push(p);
            self.corners.len() - 1
        })
    }

    /// Draws the rims of a round hole, which is bored between planes as [`offsquare_geometry::Body::round`] has them, on the sides
    /// that it opens; the wood around it stays as it is. `within`: the planes of the block that is bored.
    pub fn bore(&mut self, hole: &[Plane], within: &[Plane]) {
        let tiny = farthest(self.corners.iter()) * 1e-8;
        let (round, ends) = hole.split_at(ROUND_SIDES.min(hole.len()));
        for number in 0..self.sides.len() {
            let side = &self.sides[number];
            let (Some(normal), Some(first)) = (side.normal, side.corners.first()) else { continue };
            let Some(face) = Plane::through(self.corners[*first], normal) else { continue };
            let inside = |p: &Point3| ends.iter().chain(within).all(|e| e.outside(*p) <= tiny);
            let corner = |i: usize| {
                let next = &round[(i + 1) % round.len()];
                round[i].meet(next, &face).filter(inside)
            };
            let rim = (0..round.len()).map(corner).gather();
            for i in 0..rim.len() {
                if let (Some(a), Some(b)) = (rim[i], rim[(i + 1) % rim.len()]) {
                    let from = self.corners.len();
                    self.corners.extend([a, b]);
                    self.edges.push(Edge {
                        ends: [from, from + 1],
                        sides: vec![number],
                        smooth: false,
                    });
                }
            }
        }
    }

    /// The corners of the upright box around it.
    pub fn bounds(&self) -> Option<(Point3, Point3)> {
        let corners = self.corners.iter().map(|p| (*p, *p));
        corners.reduce(around)
    }
}

/// The box around two boxes.
pub(super) fn around(a: (Point3, Point3), b: (Point3, Point3)) -> (Point3, Point3) {
    let ((al, ah), (bl, bh)) = (a, b);
    (
        Point3::new(al.x.min(bl.x), al.y.min(bl.y), al.z.min(bl.z)),
        Point3::new(ah.x.max(bh.x), ah.y.max(bh.y), ah.z.max(bh.z)),
    )
}

fn farthest<'a>(points: impl Iterator<Item = &'a Point3>) -> f64 {
    points.flat_map(|p| [p.x.abs(), p.y.abs(), p.z.abs()]).fold(0.0, f64::max)
}

/// Newell's normal: right for any flat polygon, whatever corner bends inwards.
fn normal(face: &[Point3]) -> Option<Vector3> {
    let origin = *face.first()?;
    (0..face.len())
        .map(|i| (face[i] - origin).cross(face[(i + 1) % face.len()] - origin))
        .fold(Vector3::default(), |a, b| a + b)
        .unit()
}

/// A side that looks toward the eye, in the picture's plane: what hides an edge is always such a one.
struct Face {
    /// Of which solid, and which of its sides.
    side: (usize, usize),
    corners: Vec<Point>,
    /// Distance toward the eye is `at + slope · (x, y)`.
    slope: Vector,
    at: f64,
    /// Box around the corners.
    low: Point,
    high: Point,
}

/// An edge in the picture, with the distances of its ends toward the eye.
struct Line {
    from: Point,
    to: Point,
    near: f64,
    far: f64,
}

impl Face {
    /// `on`: a point of its plane, with its distance toward the eye.
    fn of(side: (usize, usize), corners: Vec<Point>, slope: Vector, on: (Point, f64)) -> Face {
        let (low, high) = corners.iter().fold((on.0, on.0), |(l, h), c| {
            (Point::new(l.x.min(c.x), l.y.min(c.y)), Point::new(h.x.max(c.x), h.y.max(c.y)))
        });
        Face { side, corners, slope, at: on.1 - slope.x * on.0.x - slope.y * on.0.y, low, high }
    }
    fn depth(&self, p: Point) -> f64 {
        self.at + self.slope.x * p.x + self.slope.y * p.y
    }
    /// Whether its box and that around two points meet.
    fn is_near(&self, a: Point, b: Point) -> bool {
        a.x.min(b.x) <= self.high.x
            && a.x.max(b.x) >= self.low.x
            && a.y.min(b.y) <= self.high.y
            && a.y.max(b.y) >= self.low.y
    }
    fn covers(&self, p: Point) -> bool {
        let c = &self.corners;
        (0..c.len()).fold(false, |inside, i| {
            let (a, b) = (c[i], c[(i + 1) % c.len()]);
            let passes =
                (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
            inside != passes
        })
    }

    /// Adds the shares of a line that it hides. `shares` is only lent.
    fn hides(&self, line: &Line, tiny: f64, shares: &mut Vec<f64>, out: &mut Vec<(f64, f64)>) {
        let along = line.to - line.from;
        shares.clear();
        shares.extend([0.0, 1.0]);
        let c = &self.corners;
        for i in 0..c.len() {
            let (a, b) = (c[i], c[(i + 1) % c.len()]);
            let (side, off) = (b - a, a - line.from);
            let turn = cross(along, side);
            if turn != 0.0 && (-1e-9..=1.0 + 1e-9).contains(&(cross(off, along) / turn)) {
                shares.push(cross(off, side) / turn);
            }
        }
        // Where the line goes through the face's plane.
        let first = line.near - self.depth(line.from);
        let last = line.far - self.depth(line.to);
        if first != last {
            shares.push(first / (first - last));
        }
        shares.retain(|s| (0.0..=1.0).contains(s));
        num::sort(shares);
        for pair in shares.windows(2).filter(|pair| pair[1] > pair[0]) {
            let middle = (pair[0] + pair[1]) / 2.0;
            let point = line.from.toward(line.to, middle);
            let depth = line.near + (line.far - line.near) * middle;
            if self.depth(point) > depth + tiny && self.covers(point) {
                out.push((pair[0], pair[1]));
            }
        }
    }
}

/// Solids in a picture.
pub(super) struct Picture<'a> {
    /// With their corners in the picture, and the distance of each toward the eye.
    solids: Vec<(&'a Wires, Vec<(Point, f64)>)>,
    faces: Vec<Face>,
    tiny: f64,
}

impl<'a> Picture<'a> {
    /// Each solid is moved by its step. Empty where a number is not finite.
    pub fn of(solids: impl Iterator<Item = (&'a Wires, Vector3)>, view: View) -> Picture<'a> {
        let [right, up, toward] = view.axes();
        let mut picture = Picture { solids: Vec::new(), faces: Vec::new(), tiny: 0.0 };
        let mut size = 0.0_f64;
        for (number, (wires, by)) in solids.enumerate() {
            let seen = |p: &Point3| {
                let v = *p - Point3::default() + by;
                (Point::new(v.dot(right), v.dot(up)), v.dot(toward))
            };
            let corners = wires.corners.iter().map(seen).gather();
            size = farthest(wires.corners.iter()).max(by.length()).max(size);
            for (i, side) in wires.sides.iter().enumerate() {
                let normal = side.normal.map(|n| [right, up, toward].map(|a| n.dot(a)));
                if let Some([x, y, z]) = normal.filter(|n| n[2] >= 1e-9) {
                    let outline = side.corners.iter().map(|c| corners[*c].0).gather();
                    let (slope, on) = (Vector::new(-x / z, -y / z), corners[side.corners[0]]);
                    picture.faces.push(Face::of((number, i), outline, slope, on));
                }
            }
            picture.solids.push((wires, corners));
        }
        if !(size > 0.0 && size.is_finite()) {
            (picture.solids, picture.faces) = (Vec::new(), Vec::new());
        }
        picture.tiny = size * 1e-9;
        picture
    }

    /// The faces in sight, to be filled.
    pub fn fill(&self, scene: &mut Scene) {
        for face in &self.faces {
            scene.shape(face.corners.clone(), Role::Face);
        }
    }

    /// Edges behind wood as `Hidden`, then those in sight as `Stock`.
    pub fn draw(&self, scene: &mut Scene) {
        let mut drawn = [Vec::new(), Vec::new()];
        for (number, (wires, corners)) in self.solids.iter().enumerate() {
            let mut in_sight = vec![false; wires.sides.len()];
            for face in self.faces.iter().filter(|f| f.side.0 == number) {
                in_sight[face.side.1] = true;
            }
            for edge in &wires.edges {
                let looks = |i: usize| edge.sides.get(i).is_some_and(|s| in_sight[*s]);
                if edge.smooth && looks(0) == looks(1) {
                    continue;
                }
                let ((from, near), (to, far)) = (corners[edge.ends[0]], corners[edge.ends[1]]);
                let line = Line { from, to, near, far };
                for (from, to, behind) in self.stretches(number, edge, &line) {
                    drawn[usize::from(!behind)].push((from, to));
                }
            }
        }
        for (lines, role) in drawn.iter().zip([Role::Hidden, Role::Stock]) {
            for (from, to) in lines {
                scene.line(*from, *to, role);
            }
        }
    }

    /// An edge in stretches that are wholly visible or wholly hidden.
    fn stretches(&self, number: usize, edge: &Edge, line: &Line) -> Vec<(Point, Point, bool)> {
        let long = (line.to - line.from).length();
        if long <= self.tiny {
            return Vec::new();
        }
        let (mut shares, mut behind) = (Vec::new(), Vec::new());
        let own = |f: &Face| f.side.0 == number && edge.sides.contains(&f.side.1);
        for face in self.faces.iter().filter(|f| f.is_near(line.from, line.to) && !own(f)) {
            face.hides(line, self.tiny * 100.0, &mut shares, &mut behind);
        }
        num::sort_by(&mut behind, |a, b| a.0.total_cmp(&b.0));
        let mut out: Vec<(Point, Point, bool)> = Vec::new();
        let mut add = |from: f64, to: f64, hidden: bool| {
            let (a, b) = (line.from.toward(line.to, from), line.from.toward(line.to, to));
            if (to - from) * long > self.tiny {
                match out.last_mut() {
                    Some(last) if last.2 == hidden => last.1 = b,
                    _ => out.push((a, b, hidden)),
                }
            }
        };
        let mut done = 0.0;
        for (from, to) in behind {
            add(done, from, false);
            add(from.max(done), to, true);
            done = to.max(done);
        }
        add(done, 1.0, false);
        out
    }

    /// The solid nearest to the eye at a place in the picture; of those that are flush the last one: a peg, not
    /// the board that it is in.
    pub fn nearest(&self, at: Point) -> Option<usize> {
        let over = self.faces.iter().filter(|f| f.is_near(at, at) && f.covers(at));
        let nearest =
            over.reduce(|a, b| if b.depth(at) > a.depth(at) - self.tiny * 100.0 { b } else { a });
        nearest.map(|f| f.side.0)
    }
}

/// Solids in parallel projection: visible edges as `Stock`, those behind wood as `Hidden`. Faces may
/// be any flat polygons, corners counter-clockwise seen from outside; an edge between two faces of
/// one plane is not drawn. Solids that hide each other are told apart; solids that run into each
/// other show no line where their faces cross.
///
/// ```
/// use offsquare_paper::drawing::{View, axonometric};
/// use offsquare_geometry::{Point3, Solid, scene::{Item, Role}};
/// let p = |x: f64, y: f64, z: f64| Point3::new(x, y, z);
/// // A tetrahedron seen from the front: the edge behind it runs from the top to the back corner.
/// let (a, b, c, d) = (p(0.0, 0.0, 0.0), p(2.0, 0.0, 0.0), p(1.0, 1.0, 0.5), p(1.0, 0.2, 2.0));
/// let solid = Solid { faces: vec![vec![a, b, d], vec![b, c, d], vec![c, a, d], vec![a, c, b]] };
/// let scene = axonometric(&[solid], View::FRONT);
/// let hidden = scene.items.iter().filter(|i| matches!(i, Item::Line { role: Role::Hidden, .. }));
/// assert_eq!(hidden.count(), 3); // all three edges at the back corner
/// ```
pub fn axonometric(solids: &[Solid], view: View) -> Scene {
    let mut scene = Scene::new();
    let wires = solids.iter().map(|s| Wires::of(s, false)).gather();
    Picture::of(wires.iter().map(|w| (w, Vector3::default())), view).draw(&mut scene);
    scene
}

/// The same for a screen on which they are turned: the faces in sight are filled, and the drawing
/// takes the same room from wherever it is seen.
pub fn turnable(solids: &[Solid], view: View) -> Scene {
    let mut scene = Scene::new();
    let wires = solids.iter().map(|s| Wires::of(s, false)).gather();
    let Some((low, high)) = wires.iter().filter_map(Wires::bounds).reduce(around) else {
        return scene;
    };
    let center = view.seen(low + (high - low) * 0.5);
    let reach = (high - low).length() / 2.0;
    // Points of no size at the ends of the ball around it all.
    for by in [Vector::new(reach, reach), Vector::new(-reach, -reach)] {
        scene.line(center + by, center + by, Role::Hidden);
    }
    let picture = Picture::of(wires.iter().map(|w| (w, Vector3::default())), view);
    picture.fill(&mut scene);
    picture.draw(&mut scene);
    scene
}
