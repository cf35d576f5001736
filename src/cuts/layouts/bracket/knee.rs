//! The knee and the corner that it stands in.

use offsquare_geometry::Vector;
use offsquare_units::{Angle, num};

/// A bracket whose knee has wood left on both edges.
pub struct Knee {
    pub corner: f64,
    pub leg_a: f64,
    pub leg_b: f64,
    pub leg_width: f64,
    pub width: f64,
    /// Angle between knee and leg at each seat.
    pub at_a: f64,
    pub at_b: f64,
    /// Outer edge's seats, from the inside corner.
    pub outer_a: f64,
    pub outer_b: f64,
    pub inside_a: f64,
    pub inside_b: f64,
}

impl Knee {
    pub fn sin(&self) -> (f64, f64) {
        (num::sin_deg(self.at_a), num::sin_deg(self.at_b))
    }
    /// How far each end's inner corner stands back from its outer one, along the knee.
    pub fn lean(&self) -> (f64, f64) {
        let back = |a: f64| self.width * num::cos_deg(a) / num::sin_deg(a);
        (back(self.at_a), back(self.at_b))
    }
    /// The outer edge: opposite the corner in the triangle of the two seats.
    pub fn outer(&self) -> f64 {
        between(self.outer_a, self.outer_b, self.corner)
    }
    pub fn inner(&self) -> f64 {
        let (a, b) = self.lean();
        self.outer() - a - b
    }
    pub fn along_b(&self) -> Vector {
        Vector::at(Angle(self.corner))
    }
}

/// The side opposite `angle` in a triangle of sides a and b.
pub fn between(a: f64, b: f64, angle: f64) -> f64 {
    num::hypot(a - b * num::cos_deg(angle), b * num::sin_deg(angle))
}
