//! Convex solids seen square from one side: faces toward the eye, and the edges behind the wood.

use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Point3, Solid, Vector, Vector3};
use offsquare_units::num::Gather;

/// Where the eye stands: unit vectors to its right and toward it; up is up.
#[derive(Clone, Copy, Debug)]
pub struct Eye {
    pub right: Vector3,
    pub toward: Vector3,
}

impl Eye {
    /// In front: x to the right.
    pub const FRONT: Eye =
        Eye { right: Vector3::new(1.0, 0.0, 0.0), toward: Vector3::new(0.0, -1.0, 0.0) };
    /// At the right side: what is in front lies to the left.
    pub const SIDE: Eye =
        Eye { right: Vector3::new(0.0, 1.0, 0.0), toward: Vector3::new(1.0, 0.0, 0.0) };

    pub fn sees(self, p: Point3) -> Point {
        Point::new((p - Point3::default()).dot(self.right), p.z)
    }
}

/// Draws one convex solid: its visible faces as `role`, edges between two faces that both look away
/// as hidden. All of it moved by `by`.
pub fn draw(scene: &mut Scene, solid: &Solid, eye: Eye, by: Vector, role: Role) {
    let place = |p: &Point3| eye.sees(*p) + by;
    let looks = |f: &Vec<Point3>| {
        let n = (f[1] - f[0]).cross(f[2] - f[0]);
        let long = n.length();
        n.dot(eye.toward) / if long > 0.0 { long } else { 1.0 }
    };
    // Edge on, a face is neither seen nor does it hide anything.
    const ON_EDGE: f64 = 1e-9;
    let away: Vec<&Vec<Point3>> = solid.faces.iter().filter(|f| looks(f) < -ON_EDGE).gather();
    for (i, face) in away.iter().enumerate() {
        for k in 0..face.len() {
            let (a, b) = (face[k], face[(k + 1) % face.len()]);
            let meets = |other: &&&Vec<Point3>| other.contains(&a) && other.contains(&b);
            if away[i + 1..].iter().any(|other| meets(&other)) {
                scene.line(place(&a), place(&b), Role::Hidden);
            }
        }
    }
    for face in solid.faces.iter().filter(|f| looks(f) > ON_EDGE) {
        scene.shape(face.iter().map(place).gather(), role);
    }
}

/// The mirror image on the other side of the plane through the origin square to `normal`.
pub fn mirrored(solid: &Solid, normal: Vector3) -> Solid {
    let flip = |p: &Point3| *p + normal * (-2.0 * (*p - Point3::default()).dot(normal));
    Solid { faces: solid.faces.iter().map(|f| f.iter().rev().map(flip).gather()).gather() }
}

/// The same solid elsewhere.
pub fn moved(solid: &Solid, by: Vector3) -> Solid {
    Solid { faces: solid.faces.iter().map(|f| f.iter().map(|p| *p + by).gather()).gather() }
}
