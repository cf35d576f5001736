//! Typed lengths, angles and money, and how they are read and said.

use std::borrow::Cow;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A length in inches; geometry works in it and quantises nothing.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Length(pub f64);
/// An angle in degrees.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Angle(pub f64);
/// Square inches.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Area(pub f64);

macro_rules! linear {
    ($t:ident) => {
        impl Add for $t {
            type Output = $t;
            fn add(self, o: $t) -> $t {
                $t(self.0 + o.0)
            }
        }
        impl Sub for $t {
            type Output = $t;
            fn sub(self, o: $t) -> $t {
                $t(self.0 - o.0)
            }
        }
        impl Neg for $t {
            type Output = $t;
            fn neg(self) -> $t {
                $t(-self.0)
            }
        }
        impl Mul<f64> for $t {
            type Output = $t;
            fn mul(self, k: f64) -> $t {
                $t(self.0 * k)
            }
        }
        impl Div<f64> for $t {
            type Output = $t;
            fn div(self, k: f64) -> $t {
                $t(self.0 / k)
            }
        }
    };
}
linear!(Length);
linear!(Angle);
linear!(Area);

/// Display unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Inch,
    FeetInches,
    Millimeter,
}
/// Rounding step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fraction {
    Eighth,
    Sixteenth,
    ThirtySecond,
    SixtyFourth,
    HalfMm,
    Mm,
}
/// How quantities are shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    pub unit: Unit,
    pub fraction: Fraction,
}
impl Style {
    pub fn new(unit: Unit, fraction: Fraction) -> Style {
        Style { unit, fraction }
    }
}
/// A measured or counted thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    Length(Length),
    Area(Area),
    Angle(Angle),
    Count(f64),
    Ratio(f64),
    Mass(f64),
    Force(f64),
}
/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Bit {
    Words(Cow<'static, str>),
    Quantity(Quantity),
}
/// A sentence.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Text(pub Vec<Bit>);
impl Text {
    pub fn render(&self, _style: &Style) -> String {
        self.0
            .iter()
            .map(|b| match b {
                Bit::Words(w) => w.to_string(),
                Bit::Quantity(q) => format!("{q:?}"),
            })
            .collect()
    }
}
