//! Hidden edges: counted on solids that everyone knows, and against rays through triangles.

use crate::random::Dice;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Point3, Solid, Vector3};
use offsquare_paper::drawing::{View, axonometric};
use offsquare_units::Angle;

fn lines(scene: &Scene, wanted: Role) -> Vec<(Point, Point)> {
    let line = |i: &Item| match i {
        Item::Line { from, to, role } if *role == wanted => Some((*from, *to)),
        _ => None,
    };
    scene.items.iter().filter_map(line).collect()
}
fn length(lines: &[(Point, Point)]) -> f64 {
    lines.iter().map(|(a, b)| (b.x - a.x).hypot(b.y - a.y)).sum()
}

/// A prism over an outline (counter-clockwise) in x and z, from y = `front` to `back`.
fn prism(outline: &[(f64, f64)], front: f64, back: f64) -> Solid {
    let at = |i: usize, y: f64| {
        let (x, z) = outline[i % outline.len()];
        Point3::new(x, y, z)
    };
    let n = outline.len();
    let mut faces = vec![
        (0..n).map(|i| at(i, front)).collect::<Vec<_>>(),
        (0..n).rev().map(|i| at(i, back)).collect(),
    ];
    for i in 0..n {
        faces.push(vec![at(i + 1, front), at(i, front), at(i, back), at(i + 1, back)]);
    }
    Solid { faces }
}

fn cube(x: f64, y: f64) -> Solid {
    prism(&[(x, 0.0), (x + 1.0, 0.0), (x + 1.0, 1.0), (x, 1.0)], y, y + 1.0)
}

#[test]
fn a_cube_from_a_corner_shows_nine_edges_and_hides_three() {
    let scene = axonometric(&[cube(0.0, 0.0)], View::CORNER);
    assert_eq!(lines(&scene, Role::Stock).len(), 9);
    assert_eq!(lines(&scene, Role::Hidden).len(), 3);
}

#[test]
fn a_cube_right_behind_another_is_hidden_from_the_front() {
    let scene = axonometric(&[cube(0.0, 0.0), cube(0.0, 3.0)], View::FRONT);
    // Seen: the front square of the nearer cube, 4 edges of 1. All others hide behind it.
    let seen: Vec<_> = lines(&scene, Role::Stock);
    let hidden = lines(&scene, Role::Hidden);
    // Edges on the silhouette of both coincide with the nearer cube's; a line on a border is not hidden.
    assert!(length(&seen) >= 4.0 - 1e-9);
    assert!(hidden.iter().all(|(a, b)| [a, b].iter().all(|p| p.x >= -1e-9 && p.x <= 1.0 + 1e-9)));
    // Beside each other nothing of the second is hidden by the first.
    let apart = axonometric(&[cube(0.0, 0.0), cube(5.0, 3.0)], View::CORNER);
    let alone = axonometric(&[cube(0.0, 0.0)], View::CORNER);
    let (a, b) = (length(&lines(&apart, Role::Hidden)), length(&lines(&alone, Role::Hidden)));
    assert!((a - 2.0 * b).abs() < 1e-9);
}

#[test]
fn faces_of_one_plane_show_no_edge_between_them() {
    let mut split = cube(0.0, 0.0);
    let front = split.faces.remove(0);
    split.faces.push(vec![front[0], front[1], front[2]]);
    split.faces.push(vec![front[0], front[2], front[3]]);
    let scene = axonometric(&[split], View::CORNER);
    assert_eq!(lines(&scene, Role::Stock).len(), 9);
}

/// Möller and Trumbore's ray and triangle (Journal of Graphics Tools 2, 1997), from memory: how far along
/// the ray it hits.
pub fn hits(from: Point3, way: Vector3, [a, b, c]: [Point3; 3]) -> Option<f64> {
    let (e1, e2) = (b - a, c - a);
    let p = way.cross(e2);
    let det = e1.dot(p);
    if det.abs() < 1e-12 {
        return None;
    }
    let s = from - a;
    let u = s.dot(p) / det;
    let q = s.cross(e1);
    let v = way.dot(q) / det;
    (u > 0.0 && v > 0.0 && u + v < 1.0).then(|| e2.dot(q) / det)
}

/// The projection of [`View`]'s doc comment, written out again with std's functions.
pub struct Eye {
    right: Vector3,
    up: Vector3,
    pub toward: Vector3,
}

impl Eye {
    pub fn of(view: View) -> Eye {
        let (a, t) = (view.turn.0.to_radians(), view.tilt.0.to_radians());
        let right = Vector3::new(a.cos(), a.sin(), 0.0);
        let toward = Vector3::new(a.sin() * t.cos(), -a.cos() * t.cos(), t.sin());
        Eye { right, up: toward.cross(right), toward }
    }
    pub fn flat(&self, p: Point3) -> Point {
        let v = p - Point3::default();
        Point::new(v.dot(self.right), v.dot(self.up))
    }
    /// The point of space that is seen there, so far toward the eye.
    pub fn at(&self, p: Point, depth: f64) -> Point3 {
        Point3::default() + self.right * p.x + self.up * p.y + self.toward * depth
    }
    /// Whether a line of that role runs through the point.
    pub fn shows(&self, scene: &Scene, role: Role, p: Point3) -> bool {
        let flat = self.flat(p);
        lines(scene, role).iter().any(|(a, b)| {
            let (d, w) = (*b - *a, flat - *a);
            let l = d.length();
            let across = (d.x * w.y - d.y * w.x) / l;
            let along = (d.x * w.x + d.y * w.y) / l;
            across.abs() < 1e-7 && along > -1e-7 && along < l + 1e-7
        })
    }
}

/// An L in triangles, chosen by hand: two rectangles on either cap, the sides as they are.
fn triangles_of_l(solid: &Solid) -> Vec<[Point3; 3]> {
    let mut out = Vec::new();
    for (i, face) in solid.faces.iter().enumerate() {
        match face.len() {
            4 => out.extend([[face[0], face[1], face[2]], [face[0], face[2], face[3]]]),
            // The caps: corners 0 1 2 3 4 5 of the outline, the bend inwards at 3.
            _ => {
                let c: Vec<Point3> =
                    if i == 0 { face.clone() } else { face.iter().rev().copied().collect() };
                out.extend([
                    [c[0], c[1], c[2]],
                    [c[0], c[2], c[3]],
                    [c[0], c[3], c[4]],
                    [c[0], c[4], c[5]],
                ]);
            }
        }
    }
    out
}

#[test]
fn an_l_hides_what_rays_toward_the_eye_say_it_hides() {
    let outline = [(0.0, 0.0), (4.0, 0.0), (4.0, 1.5), (1.0, 1.5), (1.0, 3.0), (0.0, 3.0)];
    let solid = prism(&outline, 0.0, 2.0);
    let triangles = triangles_of_l(&solid);
    let mut dice = Dice(3);
    let (mut seen, mut behind) = (0, 0);
    for _ in 0..40 {
        let view =
            View { turn: Angle(dice.between(-80.0, 80.0)), tilt: Angle(dice.between(5.0, 80.0)) };
        let eye = Eye::of(view);
        let scene = axonometric(std::slice::from_ref(&solid), view);
        let mut edges: Vec<(Point3, Point3)> = Vec::new();
        for face in &solid.faces {
            for i in 0..face.len() {
                edges.push((face[i], face[(i + 1) % face.len()]));
            }
        }
        for (p, q) in edges {
            let share = dice.between(0.02, 0.98);
            let point = p + (q - p) * share;
            // From a hair inside the edge's own wood the ray would start in the solid: start on the edge,
            // and count only hits well away from it.
            let hidden =
                triangles.iter().any(|tri| hits(point, eye.toward, *tri).is_some_and(|d| d > 1e-6));
            let role = if hidden { Role::Hidden } else { Role::Stock };
            assert!(
                eye.shows(&scene, role, point),
                "{view:?} {p:?} {q:?} at {share}: hidden {hidden}"
            );
            seen += usize::from(!hidden);
            behind += usize::from(hidden);
        }
    }
    assert!(seen > 400 && behind > 200, "{seen} {behind}");
}

#[test]
fn what_is_no_solid_gives_no_lines() {
    assert!(axonometric(&[], View::CORNER).items.is_empty());
    let bad = Solid { faces: vec![vec![Point3::new(f64::NAN, 0.0, 0.0); 3], vec![]] };
    assert!(axonometric(&[bad], View::CORNER).items.is_empty());
}

/// However it is turned it takes the same room, its faces in sight are filled, and the words follow.
#[test]
fn a_turned_solid_keeps_its_room_and_says_where_the_eye_is() {
    // Eighths of a turn to the right, round and round either way.
    let side = |turn: f64| View { turn: Angle(turn), tilt: Angle(0.0) }.words();
    assert_eq!(side(90.0), "seen from the right");
    assert_eq!(side(360.0 + 45.0), "seen from the front right");
    assert_eq!(side(-45.0), "seen from the front left");
    assert_eq!(side(-400.0), "seen from the front left");
    use offsquare_paper::drawing::turnable;
    let boards = [cube(0.0, 0.0), cube(0.0, 3.0)];
    let room = |v: View| {
        let (lo, hi) = turnable(&boards, v).bounds().expect("a picture");
        (hi.x - lo.x, hi.y - lo.y)
    };
    let (w, h) = room(View::CORNER);
    let mut view = View::CORNER;
    for step in 0..30 {
        view = view.turned(37.0, if step % 2 == 0 { 50.0 } else { -45.0 });
        let (x, y) = room(view);
        assert!((x - w).abs() < 1e-12 && (y - h).abs() < 1e-12);
        assert!((0.0..360.0).contains(&view.turn.0) && view.tilt.0.abs() <= 90.0);
    }
    // A cube seen from a corner shows three of its six faces.
    let faces = |scene: &Scene| {
        let is_face = |i: &&Item| matches!(i, Item::Shape { role: Role::Face, .. });
        scene.items.iter().filter(is_face).count()
    };
    assert_eq!(faces(&turnable(&boards, View::CORNER)), 6);
    assert_eq!(faces(&turnable(&boards, View::FRONT)), 2);
    for (turn, tilt, words) in [
        (0.0, 0.0, "seen from the front"),
        (-40.0, 20.0, "seen from the front left, above"),
        (100.0, -30.0, "seen from the right, below"),
        (190.0, 0.0, "seen from the back"),
        (0.0, 90.0, "seen from straight above, the front toward you"),
    ] {
        assert_eq!(View::FRONT.turned(turn, tilt).words(), words);
    }
    assert!(turnable(&[], View::CORNER).items.is_empty());
}
