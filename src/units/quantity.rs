//! A number with its dimension.

use super::{Angle, Area, Length};

/// A number with its dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    Length(Length),
    Area(Area),
    Angle(Angle),
    /// A length as a bare number of the reader's unit, as a scale shows it.
    Figure(Length),
    /// How many.
    Count(f64),
    /// One quantity over another of the same kind.
    Ratio(f64),
    /// Kilograms.
    Mass(f64),
    /// Newtons.
    Force(f64),
}

impl Quantity {
    /// The plain number: inches, square inches, degrees, or as it is.
    pub fn number(self) -> f64 {
        match self {
            Quantity::Length(l) | Quantity::Figure(l) => l.0,
            Quantity::Area(a) => a.0,
            Quantity::Angle(a) => a.0,
            Quantity::Count(n) | Quantity::Ratio(n) | Quantity::Mass(n) | Quantity::Force(n) => n,
        }
    }
}

impl From<Length> for Quantity {
    fn from(length: Length) -> Quantity {
        Quantity::Length(length)
    }
}
impl From<Area> for Quantity {
    fn from(area: Area) -> Quantity {
        Quantity::Area(area)
    }
}
impl From<Angle> for Quantity {
    fn from(angle: Angle) -> Quantity {
        Quantity::Angle(angle)
    }
}
