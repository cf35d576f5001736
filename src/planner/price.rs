//! Prices as exact whole numbers.

use offsquare_units::num::Gather;

/// Prices of the board kinds, scaled by one power of ten to whole numbers.
#[derive(Clone, Debug)]
pub struct Prices {
    pub of: Vec<i128>,
    /// Decimal places that the whole numbers stand for.
    places: u32,
    /// Whether whole numbers stand for the prices exactly.
    pub exact: bool,
}

/// Digits that a scaled price may have, so that a hundred thousand of them still add up.
const MOST_DIGITS: i32 = 24;

impl Prices {
    /// Scales decimal prices. `4.28` and `6.5` become 428 and 650.
    ///
    /// Numbers that no common power of ten makes whole within 24 digits are rounded down, and the
    /// bound is lowered by what that may have cost.
    pub fn new(prices: &[f64]) -> Prices {
        let decimals: Vec<(i128, i32)> = prices.iter().map(|&p| decimal(p)).gather();
        let most = |of: fn(&(i128, i32)) -> i32| {
            decimals.iter().filter(|d| d.0 != 0).map(of).max().unwrap_or(0).max(0)
        };
        let (wanted, whole_digits) = (most(|d| -d.1), most(|d| digits(d.0) + d.1));
        let places = wanted.min((MOST_DIGITS - whole_digits).max(0));
        let of = decimals.iter().map(|d| shifted(d.0, d.1 + places)).gather();
        Prices { of, places: places as u32, exact: places >= wanted }
    }

    /// A sum of scaled prices as a decimal number again.
    pub fn decimal(&self, sum: i128) -> f64 {
        let amount = quotient(sum.unsigned_abs(), 10_u128.pow(self.places));
        if sum < 0 { -amount } else { amount }
    }
}

/// The double nearest to `n` / `d`, so that 1234 / 100 is the one of 12.34; `d` is at most 10²⁴. By long
/// division: reading the decimal text needs tables that are 10 KB of the first load.
pub fn quotient(n: u128, d: u128) -> f64 {
    if n == 0 {
        return 0.0;
    }
    let (mut whole, mut rest) = (n / d, n % d);
    let mut halvings = 0;
    while whole < 1 << 64 {
        rest *= 2;
        whole = 2 * whole + u128::from(rest >= d);
        if rest >= d {
            rest -= d;
        }
        halvings += 1;
    }
    // What is left decides between two doubles only where it is half of their distance.
    whole |= u128::from(rest > 0);
    whole as f64 * f64::from_bits((1023 - halvings) << 52)
}

fn digits(n: i128) -> i32 {
    n.checked_ilog10().map_or(0, |d| d as i32 + 1)
}

/// A number times a power of ten, rounded down.
fn shifted(mantissa: i128, by: i32) -> i128 {
    let power = |by: i32| 10_i128.saturating_pow(by.max(0) as u32);
    mantissa.saturating_mul(power(by)) / power(-by)
}

/// The shortest decimal that reads back as `value`: mantissa and power of ten.
fn decimal(value: f64) -> (i128, i32) {
    if !(value > 0.0 && value.is_finite()) {
        return (0, 0);
    }
    // Not `{:e}`: nothing else needs the code of powers of ten.
    let text = value.to_string();
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let all = format!("{whole}{part}");
    let digits = all.trim_end_matches('0');
    let mantissa = digits.parse().unwrap_or(0);
    let exponent = (all.len() - digits.len()) as i32 - part.len() as i32;
    (mantissa, exponent)
}

#[cfg(test)]
mod tests {
    use super::{decimal, quotient};

    /// The standard library's scientific writing gives the same digits and powers.
    #[test]
    fn decimals_are_the_shortest_that_read_back() {
        let mut x = 1_u64;
        let some = [4.28, 6.5, 1000.0, 1500.0, 0.1, 1e-300, 1.7e308, 5e-324];
        let more = core::iter::from_fn(|| {
            x = x.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            Some(f64::from_bits(x >> 1))
        });
        for value in some.into_iter().chain(more.take(2000)).filter(|v| v.is_finite()) {
            let text = format!("{value:e}");
            let (body, power) = text.split_once('e').unwrap();
            let (whole, part) = body.split_once('.').unwrap_or((body, ""));
            let mantissa = format!("{whole}{part}").parse().unwrap();
            let power = power.parse::<i32>().unwrap() - part.len() as i32;
            assert_eq!(decimal(value), (mantissa, power), "{value}");
        }
    }

    /// The standard library reads decimal texts to the nearest double.
    #[test]
    fn quotients_are_the_doubles_of_their_decimals() {
        let mut n = 1_u128;
        for places in 0..=24 {
            for step in 0..400_u128 {
                n = n
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407 + step)
                    % 10_u128.pow(29);
                let n = n >> (step % 90);
                let read: f64 = format!("{n}e-{places}").parse().unwrap();
                assert_eq!(
                    quotient(n, 10_u128.pow(places)).to_bits(),
                    read.to_bits(),
                    "{n}e-{places}"
                );
            }
        }
    }
}
