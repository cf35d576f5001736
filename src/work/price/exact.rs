//! Exact numbers: read from decimals, rounded once.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};
use offsquare_units::ParsedFraction;

/// An exact amount: minor units of money (cents), minutes, square meters, or a plain ratio.
pub type Exact = BigRational;

/// A whole number.
pub fn whole(n: u64) -> Exact {
    Exact::from_integer(BigInt::from(n))
}

/// A number as it was typed.
pub fn fraction(typed: &ParsedFraction) -> Exact {
    Exact::new(typed.over.into(), typed.under.into())
}

/// A number in words: exact where four decimals hold it, otherwise to the nearest fourth.
///
/// ```
/// use offsquare_work::price::{figure, whole};
/// assert_eq!(figure(&(whole(1234) / whole(10))), "123.4");
/// assert_eq!(figure(&(whole(2) / whole(3))), "0.6667");
/// ```
pub fn figure(n: &Exact) -> String {
    let size = half_up(&(n.abs() * whole(10_000)));
    let digits = format!("{:0>5}", size.to_string());
    let (units, decimals) = digits.split_at(digits.len() - 4);
    let decimals = decimals.trim_end_matches('0');
    let minus = if n.is_negative() && !size.is_zero() { "-" } else { "" };
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{minus}{units}{point}{decimals}")
}

/// The decimal that a number was written as: 0.1 is one tenth, not the nearest binary fraction. None for
/// what is not finite.
///
/// ```
/// use offsquare_work::price::{decimal, whole};
/// assert_eq!(decimal(0.1).unwrap() * whole(10), whole(1));
/// ```
pub fn decimal(n: f64) -> Option<Exact> {
    if !n.is_finite() {
        return None;
    }
    // The shortest decimal that reads back as this number.
    let text = format!("{n:e}");
    let (digits, power) = text.split_once('e')?;
    let power: i32 = power.parse().ok()?;
    let places = digits.split_once('.').map_or(0, |(_, after)| after.len());
    let digits: BigInt = digits.replace('.', "").parse().ok()?;
    let power = power - i32::try_from(places).ok()?;
    let scale = BigInt::from(10).pow(power.unsigned_abs());
    Some(if power < 0 { Exact::new(digits, scale) } else { Exact::from_integer(digits * scale) })
}

/// To a whole number, an exact half up.
pub fn half_up(n: &Exact) -> BigInt {
    (n + Exact::new(BigInt::from(1), BigInt::from(2))).floor().to_integer()
}

/// To the next whole number that is no less.
pub fn upward(n: &Exact) -> BigInt {
    n.ceil().to_integer()
}

/// The nearest float, for what is told unrounded.
pub fn as_number(n: &Exact) -> f64 {
    n.to_f64().unwrap_or(f64::NAN)
}

/// a ÷ b; none where b is nought.
pub fn over(a: Exact, b: &Exact) -> Option<Exact> {
    (!b.is_zero()).then(|| a / b)
}
