//! Space: x to the right, y to the back, z up, inches.

use core::ops::{Add, Mul, Neg, Sub};
use offsquare_units::num;
use offsquare_units::num::Gather;

/// A place in space; inches.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

/// A step in space; inches.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Vector3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

impl Point3 {
    pub const fn new(x: f64, y: f64, z: f64) -> Point3 {
        Point3 { x, y, z }
    }
}

impl Vector3 {
    pub const fn new(x: f64, y: f64, z: f64) -> Vector3 {
        Vector3 { x, y, z }
    }
    pub fn dot(self, o: Vector3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }
    pub fn cross(self, o: Vector3) -> Vector3 {
        Vector3::new(
            self.y * o.z - self.z * o.y,
            self.z * o.x - self.x * o.z,
            self.x * o.y - self.y * o.x,
        )
    }
    pub fn length(self) -> f64 {
        num::hypot(num::hypot(self.x, self.y), self.z)
    }
    pub fn unit(self) -> Option<Vector3> {
        let l = self.length();
        (l > 0.0 && l.is_finite()).then(|| self * (1.0 / l))
    }
}

/// The step that leads from the second point to the first.
impl Sub for Point3 {
    type Output = Vector3;
    fn sub(self, o: Point3) -> Vector3 {
        Vector3::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Add<Vector3> for Point3 {
    type Output = Point3;
    fn add(self, v: Vector3) -> Point3 {
        Point3::new(self.x + v.x, self.y + v.y, self.z + v.z)
    }
}

impl Add for Vector3 {
    type Output = Vector3;
    fn add(self, o: Vector3) -> Vector3 {
        Vector3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl Sub for Vector3 {
    type Output = Vector3;
    fn sub(self, o: Vector3) -> Vector3 {
        self + -o
    }
}

impl Mul<f64> for Vector3 {
    type Output = Vector3;
    fn mul(self, k: f64) -> Vector3 {
        Vector3::new(self.x * k, self.y * k, self.z * k)
    }
}

impl Neg for Vector3 {
    type Output = Vector3;
    fn neg(self) -> Vector3 {
        Vector3::new(-self.x, -self.y, -self.z)
    }
}

/// A closed solid given by its flat faces; corners of each counter-clockwise seen from outside.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Solid {
    pub faces: Vec<Vec<Point3>>,
}

impl Solid {
    /// The solid between two like outlines, joined corner to corner. Both run counter-clockwise seen
    /// from the end face's outside of `far`; the faces come out with their outside outward.
    pub fn prism(near: &[Point3], far: &[Point3]) -> Solid {
        let n = near.len().min(far.len());
        let mut faces = vec![near.iter().rev().copied().gather(), far.to_vec()];
        for i in 0..n {
            let j = (i + 1) % n;
            faces.push(vec![near[i], near[j], far[j], far[i]]);
        }
        Solid { faces }
    }

    /// What it holds, cubic inches.
    ///
    /// Example: a block of 2 × 3 × 4 in holds 24.
    pub fn volume(&self) -> f64 {
        self.first_moment().0
    }

    /// Its middle of volume; none where it has no volume.
    pub fn centroid(&self) -> Option<Point3> {
        let (volume, moment) = self.first_moment();
        let at = moment * (1.0 / volume);
        (volume > 0.0 && (at.x + at.y + at.z).is_finite()).then(|| Point3::default() + at)
    }

    /// Volume, and volume times middle: the sum over tetrahedra from one corner to every face.
    fn first_moment(&self) -> (f64, Vector3) {
        let Some(first) = self.faces.iter().flatten().next() else {
            return (0.0, Vector3::default());
        };
        let from = *first - Point3::default();
        let (mut volume, mut moment) = (0.0, Vector3::default());
        for face in &self.faces {
            for pair in face.windows(2).skip(1) {
                let [a, b, c] = [face[0] - *first, pair[0] - *first, pair[1] - *first];
                let one = a.dot(b.cross(c)) / 6.0;
                volume += one;
                moment = moment + (a + b + c) * (one / 4.0);
            }
        }
        (volume, moment + from * volume)
    }

    /// The area of one of its faces; square inches.
    pub fn face_area(face: &[Point3]) -> f64 {
        let sum = face.windows(2).skip(1).fold(Vector3::default(), |sum, pair| {
            sum + (pair[0] - face[0]).cross(pair[1] - face[0])
        });
        sum.length() / 2.0
    }
}
