//! Angles, in degrees.

use crate::kept;
use crate::num;
use core::ops::{Add, Div, Mul, Neg, Sub};

/// An angle in degrees; what it is measured from, the name of the value says.
///
/// ```
/// use offsquare_units::Angle;
/// assert_eq!((Angle(90.0) - Angle(34.5)).degrees(), 55.5);
/// assert_eq!(Angle(45.0).tan(), 1.0);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(pub f64);
kept!(Angle(f64));

impl Angle {
    pub const ZERO: Angle = Angle(0.0);
    /// Square: 90°.
    pub const SQUARE: Angle = Angle(90.0);

    pub const fn degrees(self) -> f64 {
        self.0
    }
    pub fn sin(self) -> f64 {
        num::sin_deg(self.0)
    }
    pub fn cos(self) -> f64 {
        num::cos_deg(self.0)
    }
    pub fn tan(self) -> f64 {
        num::tan_deg(self.0)
    }
    /// 90° less this angle: between a miter reading and the angle that the cut makes with the edge.
    pub fn complement(self) -> Angle {
        Angle(90.0 - self.0)
    }
    pub const fn abs(self) -> Angle {
        Angle(self.0.abs())
    }
    pub const fn min(self, other: Angle) -> Angle {
        Angle(self.0.min(other.0))
    }
    pub const fn max(self, other: Angle) -> Angle {
        Angle(self.0.max(other.0))
    }
}

impl Add for Angle {
    type Output = Angle;
    fn add(self, other: Angle) -> Angle {
        Angle(self.0 + other.0)
    }
}
impl Sub for Angle {
    type Output = Angle;
    fn sub(self, other: Angle) -> Angle {
        Angle(self.0 - other.0)
    }
}
impl Neg for Angle {
    type Output = Angle;
    fn neg(self) -> Angle {
        Angle(-self.0)
    }
}
impl Mul<f64> for Angle {
    type Output = Angle;
    fn mul(self, factor: f64) -> Angle {
        Angle(self.0 * factor)
    }
}
impl Div<f64> for Angle {
    type Output = Angle;
    fn div(self, divisor: f64) -> Angle {
        Angle(self.0 / divisor)
    }
}
