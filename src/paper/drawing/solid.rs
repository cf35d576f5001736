//! Solids seen from a corner, with the edges behind wood told apart.

use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Point3, Polygon, Solid, Vector, Vector3, cross};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, num};

/// From where a solid is seen: the eye stands in front, walks `turn` to the right around it and rises
/// by `tilt`. Lines that are parallel stay so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    pub turn: Angle,
    pub tilt: Angle,
}

impl View {
    pub const FRONT: View = View { turn: Angle(0.0), tilt: Angle(0.0) };
    /// Front, right side and top, each seen well.
    pub const CORNER: View = View { turn: Angle(35.0), tilt: Angle(25.0) };

    /// Walked on to the right and risen by so much; the tilt stops straight above and straight below.
    pub fn turned(self, turn: f64, tilt: f64) -> View {
        let turn = self.turn.0 + turn;
        View {
            turn: Angle(turn - num::floor(turn / 360.0) * 360.0),
            tilt: Angle((self.tilt.0 + tilt).clamp(-90.0, 90.0)),
        }
    }

    /// Where the eye stands, in words.
    ///
    /// Example: [`View::CORNER`] is "seen from the front right, above".
    pub fn words(self) -> String {
        const ROUND: [&str; 8] = [
            "front",
            "front right",
            "right",
            "back right",
            "back",
            "back left",
            "left",
            "front left",
        ];
        let eighth = num::round_half_up(self.turn.0 / 45.0);
        let eighth = eighth - num::floor(eighth / 8.0) * 8.0;
        let side = ROUND[(eighth as usize).min(7)];
        match self.tilt.0 {
            t if t > 80.0 => format!("seen from straight above, the {side} toward you"),
            t if t < -80.0 => format!("seen from straight below, the {side} toward you"),
            t if t > 5.0 => format!("seen from the {side}, above"),
            t if t < -5.0 => format!("seen from the {side}, below"),
            _ => format!("seen from the {side}"),
        }
    }

    /// Unit vectors to the right, upwards and toward the eye.
    fn axes(self) -> [Vector3; 3] {
        let (sin, cos) = (self.turn.sin(), self.turn.cos());
        let (up, level) = (self.tilt.sin(), self.tilt.cos());
        let right = Vector3::new(cos, sin, 0.0);
        let toward = Vector3::new(sin * level, -cos * level, up);
        [right, toward.cross(right), toward]
    }
}

/// A face in the picture's plane, with what is needed to ask whether it hides something.
struct Face {
    corners: Vec<Point>,
    /// Distance toward the eye is `at + slope · (x, y)`.
    slope: Vector,
    at: f64,
    normal: Vector3,
    /// It looks toward the eye. What hides an edge is always such a face.
    in_sight: bool,
    /// Box around the corners.
    low: Point,
    high: Point,
}

impl Face {
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
}

/// One edge, once, with the faces that meet in it.
struct Edge {
    from: (Point, f64),
    to: (Point, f64),
    ends: [usize; 2],
    faces: Vec<usize>,
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
    let axes = view.axes();
    let seen = |p: Point3| {
        let v = p - Point3::default();
        (Point::new(v.dot(axes[0]), v.dot(axes[1])), v.dot(axes[2]))
    };
    let size = solids
        .iter()
        .flat_map(|s| s.faces.iter().flatten())
        .flat_map(|p| [p.x.abs(), p.y.abs(), p.z.abs()])
        .fold(0.0, f64::max);
    let mut scene = Scene::new();
    if !(size > 0.0 && size.is_finite()) {
        return scene;
    }
    let tiny = size * 1e-9;
    let (faces, edges) = taken_apart(solids, &seen, &axes, tiny);
    let mut drawn = [Vec::new(), Vec::new()];
    for edge in &edges {
        for (from, to, hidden) in stretches(edge, &faces, tiny) {
            drawn[usize::from(!hidden)].push((from, to));
        }
    }
    for (lines, role) in drawn.iter().zip([Role::Hidden, Role::Stock]) {
        for (from, to) in lines {
            scene.line(*from, *to, role);
        }
    }
    scene
}

/// The same for a screen on which they are turned: the faces in sight are filled, and the drawing
/// takes the same room from wherever it is seen.
pub fn turnable(solids: &[Solid], view: View) -> Scene {
    let axes = view.axes();
    let mut scene = Scene::new();
    let corners = || solids.iter().flat_map(|s| s.faces.iter().flatten());
    let Some(first) = corners().next() else {
        return scene;
    };
    let (low, high) = corners().fold((*first, *first), |(l, h), p| {
        (
            Point3::new(l.x.min(p.x), l.y.min(p.y), l.z.min(p.z)),
            Point3::new(h.x.max(p.x), h.y.max(p.y), h.z.max(p.z)),
        )
    });
    let middle = low + (high - low) * 0.5;
    let reach = (high - low).length() / 2.0;
    let seen = |p: Point3| {
        let v = p - Point3::default();
        Point::new(v.dot(axes[0]), v.dot(axes[1]))
    };
    // Points of no size at the ends of the ball around it all.
    let center = seen(middle);
    for by in [Vector::new(reach, reach), Vector::new(-reach, -reach)] {
        scene.line(center + by, center + by, Role::Hidden);
    }
    for face in solids.iter().flat_map(|s| &s.faces) {
        let outline: Vec<Point> = face.iter().map(|p| seen(*p)).gather();
        // Counter-clockwise as seen: it looks this way.
        if Polygon(outline.clone()).signed_area() > 0.0 {
            scene.shape(outline, Role::Face);
        }
    }
    scene.items.extend(axonometric(solids, view).items);
    scene
}

fn taken_apart(
    solids: &[Solid],
    seen: &dyn Fn(Point3) -> (Point, f64),
    axes: &[Vector3; 3],
    tiny: f64,
) -> (Vec<Option<Face>>, Vec<Edge>) {
    let mut faces = Vec::new();
    let mut edges: Vec<Edge> = Vec::new();
    for solid in solids {
        let mut corners: Vec<Point3> = Vec::new();
        let mut corner_at = |p: Point3| {
            let same = |q: &Point3| (*q - p).length() <= tiny * 10.0;
            corners.iter().position(same).unwrap_or_else(|| {
                corners.push(p);
                corners.len() - 1
            })
        };
        let first = edges.len();
        for face in &solid.faces {
            let number = faces.len();
            faces.push(flattened(face, seen, axes));
            for i in 0..face.len() {
                let (a, b) = (face[i], face[(i + 1) % face.len()]);
                let (ca, cb) = (corner_at(a), corner_at(b));
                let ends = [ca.min(cb), ca.max(cb)];
                match edges[first..].iter_mut().find(|e| e.ends == ends) {
                    Some(edge) => edge.faces.push(number),
                    None => {
                        edges.push(Edge { from: seen(a), to: seen(b), ends, faces: vec![number] })
                    }
                }
            }
        }
    }
    // Where two faces of one plane meet there is no edge to see.
    edges.retain(|e| {
        let normal = |i: usize| faces[e.faces[i]].as_ref().map(|f: &Face| f.normal);
        e.faces.len() != 2
            || match (normal(0), normal(1)) {
                (Some(a), Some(b)) => a.cross(b).length() > 1e-9 || a.dot(b) < 0.0,
                _ => true,
            }
    });
    (faces, edges)
}

/// A face in the picture; none where it has no area or is seen edge on.
fn flattened(
    face: &[Point3],
    seen: &dyn Fn(Point3) -> (Point, f64),
    axes: &[Vector3; 3],
) -> Option<Face> {
    let origin = *face.first()?;
    // Newell's normal: right for any flat polygon, whatever corner bends inwards.
    let normal = (0..face.len())
        .map(|i| {
            let next = face[(i + 1) % face.len()];
            (face[i] - origin).cross(next - origin)
        })
        .fold(Vector3::default(), |a, b| a + b)
        .unit()?;
    let [nx, ny, nz] = axes.map(|a| normal.dot(a));
    if nz.abs() < 1e-9 {
        return None;
    }
    let slope = Vector::new(-nx / nz, -ny / nz);
    let (p, depth) = seen(origin);
    let corners: Vec<Point> = face.iter().map(|c| seen(*c).0).gather();
    let (low, high) = corners.iter().fold((p, p), |(l, h), c| {
        (Point::new(l.x.min(c.x), l.y.min(c.y)), Point::new(h.x.max(c.x), h.y.max(c.y)))
    });
    Some(Face {
        corners,
        in_sight: nz > 0.0,
        low,
        high,
        slope,
        at: depth - slope.x * p.x - slope.y * p.y,
        normal,
    })
}

/// An edge in stretches that are wholly visible or wholly hidden.
fn stretches(edge: &Edge, faces: &[Option<Face>], tiny: f64) -> Vec<(Point, Point, bool)> {
    let ((from, near), (to, far)) = (edge.from, edge.to);
    let along = to - from;
    if along.length() <= tiny {
        return Vec::new();
    }
    let mut shares = vec![0.0, 1.0];
    let before: Vec<(usize, &Face)> = faces
        .iter()
        .enumerate()
        .filter_map(|(i, f)| Some((i, f.as_ref()?)))
        .filter(|(i, f)| f.in_sight && !edge.faces.contains(i) && f.is_near(from, to))
        .gather();
    for (_, face) in &before {
        let c = &face.corners;
        for i in 0..c.len() {
            let (a, b) = (c[i], c[(i + 1) % c.len()]);
            let side = b - a;
            let turn = cross(along, side);
            if turn != 0.0 {
                shares.push(cross(a - from, side) / turn);
            }
        }
        // Where the edge goes through the face's plane.
        let (first, last) = (near - face.depth(from), far - face.depth(to));
        if first != last {
            shares.push(first / (first - last));
        }
    }
    shares.retain(|s| (0.0..=1.0).contains(s));
    offsquare_units::num::sort(&mut shares);
    let mut out: Vec<(Point, Point, bool)> = Vec::new();
    for pair in shares.windows(2) {
        let (a, b) = (from.toward(to, pair[0]), from.toward(to, pair[1]));
        if a.distance(b).0 <= tiny {
            continue;
        }
        let middle = (pair[0] + pair[1]) / 2.0;
        let point = from.toward(to, middle);
        let depth = near + (far - near) * middle;
        let hidden =
            before.iter().any(|(_, f)| f.depth(point) > depth + tiny * 100.0 && f.covers(point));
        match out.last_mut() {
            Some(last) if last.2 == hidden => last.1 = b,
            _ => out.push((a, b, hidden)),
        }
    }
    out
}
