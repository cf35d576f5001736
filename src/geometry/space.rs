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
}
