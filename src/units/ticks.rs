//! Lengths that are typed, marked or printed: whole numbers, so that nothing creeps.

use super::Length;
use crate::num;
use core::ops::{Add, Neg, Sub};

/// A length as a whole number of ticks, 2,032,000 to the inch: 1 mm is 80,000, 1/64 in is 31,750,
/// 1/128 in is 15,875 and 0.001 in is 2,032, all exact. (127 in the inch's factors is what makes
/// the millimeter whole: 1 in = 25.4 mm = 127/5 mm.)
///
/// Sums of ticks stop at the ends of `i64` instead of overflowing; real lengths are far inside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ticks(pub i64);

impl Ticks {
    pub const ZERO: Ticks = Ticks(0);
    pub const PER_INCH: i64 = 2_032_000;
    pub const PER_MM: i64 = 80_000;
    /// Beyond ±2^50 ticks (about 8,700 miles) a length is not turned into ticks: up to here an f64
    /// of inches still tells two neighboring ticks apart.
    pub const LIMIT: i64 = 1 << 50;

    /// Whole inches.
    pub const fn inches(inches: i64) -> Ticks {
        Ticks(inches.saturating_mul(Ticks::PER_INCH))
    }
    /// Whole millimeters.
    pub const fn mm(mm: i64) -> Ticks {
        Ticks(mm.saturating_mul(Ticks::PER_MM))
    }
    /// Whole 64ths of an inch.
    pub const fn sixty_fourths(n: i64) -> Ticks {
        Ticks(n.saturating_mul(Ticks::PER_INCH / 64))
    }
    /// The nearest tick; an exact half goes up. None when the length is not finite or beyond
    /// [`Ticks::LIMIT`].
    ///
    /// ```
    /// use offsquare_units::{Length, Ticks};
    /// assert_eq!(Ticks::from_length(Length::mm(1.0)), Some(Ticks(80_000)));
    /// assert_eq!(Ticks::from_length(Length::inches(f64::NAN)), None);
    /// ```
    pub fn from_length(length: Length) -> Option<Ticks> {
        let exact = length.0 * Ticks::PER_INCH as f64;
        if exact.is_nan() || exact.abs() > Ticks::LIMIT as f64 {
            return None;
        }
        let size = num::round_half_up(exact.abs()) as i64;
        Some(Ticks(if exact < 0.0 { -size } else { size }))
    }
    /// The f64 nearest to this many ticks, in inches.
    pub fn to_length(self) -> Length {
        Length(self.0 as f64 / Ticks::PER_INCH as f64)
    }
    pub const fn abs(self) -> Ticks {
        Ticks(self.0.saturating_abs())
    }
}

impl From<Ticks> for Length {
    fn from(ticks: Ticks) -> Length {
        ticks.to_length()
    }
}
impl Add for Ticks {
    type Output = Ticks;
    fn add(self, other: Ticks) -> Ticks {
        Ticks(self.0.saturating_add(other.0))
    }
}
impl Sub for Ticks {
    type Output = Ticks;
    fn sub(self, other: Ticks) -> Ticks {
        Ticks(self.0.saturating_sub(other.0))
    }
}
impl Neg for Ticks {
    type Output = Ticks;
    fn neg(self) -> Ticks {
        Ticks(self.0.saturating_neg())
    }
}
impl core::iter::Sum for Ticks {
    fn sum<I: Iterator<Item = Ticks>>(all: I) -> Ticks {
        all.fold(Ticks::ZERO, Add::add)
    }
}
