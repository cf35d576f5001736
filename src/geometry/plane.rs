//! The plane: x to the right, y up, inches.

use core::ops::{Add, Mul, Neg, Sub};
use offsquare_units::{Angle, Area, Length, num};

/// A place in a drawing or on a board's face; coordinates in inches.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

/// A step from one place to another; inches.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Vector {
    pub x: f64,
    pub y: f64,
}

impl Point {
    pub const ORIGIN: Point = Point { x: 0.0, y: 0.0 };

    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }
    pub fn distance(self, other: Point) -> Length {
        Length(num::hypot(self.x - other.x, self.y - other.y))
    }
    /// The point a share `t` of the way to `other` (0 here, 1 there).
    pub fn toward(self, other: Point, t: f64) -> Point {
        Point::new(self.x + (other.x - self.x) * t, self.y + (other.y - self.y) * t)
    }
    pub fn middle(self, other: Point) -> Point {
        self.toward(other, 0.5)
    }
}

impl Vector {
    pub const fn new(x: f64, y: f64) -> Vector {
        Vector { x, y }
    }
    /// The unit vector at `angle` counter-clockwise from +x.
    pub fn at(angle: Angle) -> Vector {
        Vector::new(num::cos_deg(angle.0), num::sin_deg(angle.0))
    }
    /// A quarter turn counter-clockwise.
    pub fn left(self) -> Vector {
        Vector::new(-self.y, self.x)
    }
    pub fn length(self) -> f64 {
        num::hypot(self.x, self.y)
    }
    /// The same direction, one inch long; none for a vector of no length.
    pub fn unit(self) -> Option<Vector> {
        let l = self.length();
        (l > 0.0 && l.is_finite()).then(|| self * (1.0 / l))
    }
    /// Counter-clockwise from +x, in (-180, 180].
    pub fn direction(self) -> Angle {
        Angle(num::atan2_deg(self.y, self.x))
    }
}

/// The step that leads from the second point to the first.
impl Sub for Point {
    type Output = Vector;
    fn sub(self, other: Point) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Add<Vector> for Point {
    type Output = Point;
    fn add(self, v: Vector) -> Point {
        Point::new(self.x + v.x, self.y + v.y)
    }
}

impl Add for Vector {
    type Output = Vector;
    fn add(self, other: Vector) -> Vector {
        Vector::new(self.x + other.x, self.y + other.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Vector;
    fn mul(self, k: f64) -> Vector {
        Vector::new(self.x * k, self.y * k)
    }
}

impl Neg for Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector::new(-self.x, -self.y)
    }
}

/// Scalar product.
pub fn dot(a: Vector, b: Vector) -> f64 {
    a.x * b.x + a.y * b.y
}
/// The z part of the vector product: positive where `b` points to the left of `a`.
pub fn cross(a: Vector, b: Vector) -> f64 {
    a.x * b.y - a.y * b.x
}

/// An endless straight line through `at` along `along`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    pub at: Point,
    pub along: Vector,
}

impl Line {
    pub fn through(a: Point, b: Point) -> Line {
        Line { at: a, along: b - a }
    }
    /// Where two lines cross; none if they are parallel.
    pub fn meets(&self, other: &Line) -> Option<Point> {
        let d = cross(self.along, other.along);
        if d == 0.0 {
            return None;
        }
        let t = cross(other.at - self.at, other.along) / d;
        let p = self.at + self.along * t;
        (p.x.is_finite() && p.y.is_finite()).then_some(p)
    }
    /// The parallel line `distance` to the left of this one's direction; none if it has none.
    pub fn moved_left(&self, distance: Length) -> Option<Line> {
        let n = self.along.unit()?.left();
        Some(Line { at: self.at + n * distance.0, along: self.along })
    }
}

/// A closed outline, corners in order.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Polygon(pub Vec<Point>);

impl Polygon {
    /// Positive when the corners run counter-clockwise.
    pub fn signed_area(&self) -> f64 {
        let p = &self.0;
        let mut twice = 0.0;
        for i in 1..p.len().saturating_sub(1) {
            twice += cross(p[i] - p[0], p[i + 1] - p[0]);
        }
        twice / 2.0
    }
    /// Example: a 2 × 3 in rectangle has 6 square inches.
    pub fn area(&self) -> Area {
        Area(self.signed_area().abs())
    }
    pub fn perimeter(&self) -> Length {
        let p = &self.0;
        (0..p.len()).fold(Length(0.0), |sum, i| sum + p[i].distance(p[(i + 1) % p.len()]))
    }
    /// Lower left and upper right corners of the upright box around it.
    pub fn bounds(&self) -> Option<(Point, Point)> {
        let first = *self.0.first()?;
        Some(self.0.iter().fold((first, first), |(lo, hi), p| {
            (Point::new(lo.x.min(p.x), lo.y.min(p.y)), Point::new(hi.x.max(p.x), hi.y.max(p.y)))
        }))
    }
}
