//! Money in whole minor units. What it is called and how it is printed is its [`Currency`](crate::Currency).

use crate::num;
use core::ops::{Add, Mul, Neg, Sub};

/// An amount in minor units (cents). Sums stop at the ends of `i64` instead of overflowing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(pub i64);

impl Money {
    pub const ZERO: Money = Money(0);

    pub const fn cents(cents: i64) -> Money {
        Money(cents)
    }
    pub const fn as_cents(self) -> i64 {
        self.0
    }
    /// The amount times a factor, to the nearest cent, an exact half up (away from zero). None when
    /// the result is not finite or beyond 2^53 cents.
    ///
    /// ```
    /// use offsquare_units::Money;
    /// assert_eq!(Money(428).times(1.5), Some(Money(642)));
    /// ```
    pub fn times(self, factor: f64) -> Option<Money> {
        let exact = self.0 as f64 * factor;
        if exact.is_nan() || exact.abs() >= 9_007_199_254_740_992.0 {
            return None;
        }
        let cents = num::round_half_up(exact.abs()) as i64;
        Some(Money(if exact < 0.0 { -cents } else { cents }))
    }
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0.saturating_add(other.0))
    }
}
impl Sub for Money {
    type Output = Money;
    fn sub(self, other: Money) -> Money {
        Money(self.0.saturating_sub(other.0))
    }
}
impl Neg for Money {
    type Output = Money;
    fn neg(self) -> Money {
        Money(self.0.saturating_neg())
    }
}
impl Mul<i64> for Money {
    type Output = Money;
    fn mul(self, count: i64) -> Money {
        Money(self.0.saturating_mul(count))
    }
}
impl core::iter::Sum for Money {
    fn sum<I: Iterator<Item = Money>>(all: I) -> Money {
        all.fold(Money::ZERO, Add::add)
    }
}
