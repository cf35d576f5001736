//! Lengths and areas as geometry computes with them: f64, in inches.

use crate::kept;
use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Millimeters in one inch, exact by the international agreement of 1959. It stands here alone.
pub const MM_PER_INCH: f64 = 25.4;

/// A length in inches. Geometry computes with it and rounds nothing; what is typed, marked or
/// printed is a whole number of [`Ticks`](super::Ticks) instead.
///
/// ```
/// use offsquare_units::Length;
/// assert_eq!(Length::mm(50.8), Length::inches(2.0)); // 2 × 25.4
/// assert_eq!(Length::inches(6.0) / Length::inches(1.5), 4.0);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(pub f64);
kept!(Length(f64));

impl Length {
    pub const ZERO: Length = Length(0.0);

    pub const fn inches(inches: f64) -> Length {
        Length(inches)
    }
    pub const fn mm(mm: f64) -> Length {
        Length(mm / MM_PER_INCH)
    }
    pub const fn as_inches(self) -> f64 {
        self.0
    }
    pub const fn as_mm(self) -> f64 {
        self.0 * MM_PER_INCH
    }
    /// The same length without its sign.
    pub const fn abs(self) -> Length {
        Length(self.0.abs())
    }
    /// The shorter of the two.
    pub const fn min(self, other: Length) -> Length {
        Length(self.0.min(other.0))
    }
    /// The longer of the two.
    pub const fn max(self, other: Length) -> Length {
        Length(self.0.max(other.0))
    }
    /// Neither infinite nor not-a-number.
    pub const fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}
impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}
impl Mul<f64> for Length {
    type Output = Length;
    fn mul(self, factor: f64) -> Length {
        Length(self.0 * factor)
    }
}
impl Mul<Length> for f64 {
    type Output = Length;
    fn mul(self, length: Length) -> Length {
        Length(self * length.0)
    }
}
impl Div<f64> for Length {
    type Output = Length;
    fn div(self, divisor: f64) -> Length {
        Length(self.0 / divisor)
    }
}
impl Div<Length> for Length {
    type Output = f64;
    fn div(self, other: Length) -> f64 {
        self.0 / other.0
    }
}
impl Mul<Length> for Length {
    type Output = Area;
    fn mul(self, other: Length) -> Area {
        Area(self.0 * other.0)
    }
}
impl core::iter::Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

/// An area in square inches.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Area(pub f64);

impl Area {
    pub const ZERO: Area = Area(0.0);

    pub const fn square_inches(square_inches: f64) -> Area {
        Area(square_inches)
    }
    pub const fn as_square_inches(self) -> f64 {
        self.0
    }
    pub const fn as_square_mm(self) -> f64 {
        self.0 * (MM_PER_INCH * MM_PER_INCH)
    }
}

impl Add for Area {
    type Output = Area;
    fn add(self, other: Area) -> Area {
        Area(self.0 + other.0)
    }
}
impl Sub for Area {
    type Output = Area;
    fn sub(self, other: Area) -> Area {
        Area(self.0 - other.0)
    }
}
impl Mul<f64> for Area {
    type Output = Area;
    fn mul(self, factor: f64) -> Area {
        Area(self.0 * factor)
    }
}
impl Div<f64> for Area {
    type Output = Area;
    fn div(self, divisor: f64) -> Area {
        Area(self.0 / divisor)
    }
}
impl Div<Length> for Area {
    type Output = Length;
    fn div(self, length: Length) -> Length {
        Length(self.0 / length.0)
    }
}
impl core::iter::Sum for Area {
    fn sum<I: Iterator<Item = Area>>(areas: I) -> Area {
        areas.fold(Area::ZERO, Add::add)
    }
}
