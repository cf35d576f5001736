//! Decimal digits to the nearest f64, without tables.

use crate::num;

/// The f64 nearest to the digits (ASCII, no sign, no point) times ten to the exponent; of two equally near the even
/// one; infinite past the largest.
///
/// Up to 15 digits and a small exponent are exact in f64, so one rounding gives the nearest (W. D. Clinger, "How to Read
/// Floating Point Numbers Accurately", 1990); everything else is divided out in whole numbers.
///
/// Example: digits `316`, exponent -1 give 31.6.
pub fn nearest(digits: &[u8], exponent: i64) -> f64 {
    let zeros = digits.iter().take_while(|d| **d == b'0').count();
    let digits = &digits[zeros..];
    // Digits before the point: past 310 there is no f64, under -330 nothing but zero.
    let before = digits.len() as i64 + exponent;
    if digits.is_empty() || before < -330 {
        return 0.0;
    }
    if before > 310 {
        return f64::INFINITY;
    }
    if digits.len() <= 15 && exponent.abs() <= 22 {
        let n = digits
            .iter()
            .fold(0.0, |n, d| n * 10.0 + f64::from(d - b'0'));
        // Powers of ten up to 22 are exact.
        let power = (0..exponent.abs()).fold(1.0, |p, _| p * 10.0);
        return if exponent < 0 { n / power } else { n * power };
    }
    let mut over = Whole::default();
    for d in digits {
        over.times_plus(10, u32::from(d - b'0'));
    }
    let mut under = Whole::default();
    under.times_plus(1, 1);
    for _ in 0..exponent.abs() {
        (if exponent < 0 { &mut under } else { &mut over }).times_plus(10, 0);
    }
    quotient(over, under)
}

/// over ÷ under, rounded once.
fn quotient(mut over: Whole, mut under: Whole) -> f64 {
    // 64 bits of quotient: over · 2^-scale ÷ under.
    let scale = over.bits() - under.bits() - 64;
    if scale < 0 {
        over.shift_up(-scale);
    } else {
        under.shift_up(scale);
    }
    under.shift_up(64);
    let mut bits = 0_u128;
    for _ in 0..=64 {
        bits <<= 1;
        if over.take(&under) {
            bits |= 1;
        }
        under.halve();
    }
    // A rest counts as a last bit that is set: it only decides between a tie and more.
    bits = bits << 1 | u128::from(!over.is_zero());
    let scale = scale - 1;
    // What the f64 has no room for is rounded away, half to even; the least f64 is 2^-1074.
    let length = 128 - bits.leading_zeros() as i32;
    let away = (length - 53).max(-1074 - scale);
    if away > 127 {
        return 0.0;
    }
    let (half, rest) = (1_u128 << (away - 1), bits & ((1 << away) - 1));
    let mut kept = (bits >> away) as u64;
    if rest > half || (rest == half && kept & 1 == 1) {
        kept += 1;
    }
    num::scaled(kept as f64, scale + away)
}

/// A whole number of any size, least word first.
#[derive(Default)]
struct Whole(Vec<u32>);

impl Whole {
    fn is_zero(&self) -> bool {
        self.0.iter().all(|w| *w == 0)
    }

    fn bits(&self) -> i32 {
        let words = self.0.iter().rposition(|w| *w != 0);
        words.map_or(0, |i| {
            32 * (i as i32 + 1) - self.0[i].leading_zeros() as i32
        })
    }

    fn times_plus(&mut self, factor: u32, plus: u32) {
        let mut carry = u64::from(plus);
        for w in &mut self.0 {
            carry += u64::from(*w) * u64::from(factor);
            *w = carry as u32;
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(carry as u32);
        }
    }

    fn shift_up(&mut self, by: i32) {
        for _ in 0..by % 32 {
            self.times_plus(2, 0);
        }
        let words = vec![0; by as usize / 32];
        self.0.splice(0..0, words);
    }

    fn halve(&mut self) {
        let mut carry = 0;
        for w in self.0.iter_mut().rev() {
            let low = *w & 1;
            *w = *w >> 1 | carry << 31;
            carry = low;
        }
    }

    /// Subtracts the other where it is no greater, and says so.
    fn take(&mut self, other: &Whole) -> bool {
        let word = |of: &Whole, i: usize| of.0.get(i).copied().unwrap_or(0);
        let length = self.0.len().max(other.0.len());
        let differs = (0..length).rev().find(|&i| word(self, i) != word(other, i));
        if differs.is_some_and(|i| word(self, i) < word(other, i)) {
            return false;
        }
        let mut borrow = 0;
        for i in 0..self.0.len() {
            let left = i64::from(self.0[i]) - i64::from(word(other, i)) - borrow;
            borrow = i64::from(left < 0);
            self.0[i] = left as u32;
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) {
        let expected: f64 = text.parse().unwrap();
        let (mantissa, exponent) = text.split_once('e').unwrap_or((text, "0"));
        let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
        let digits = format!("{whole}{part}");
        let exponent = exponent.parse::<i64>().unwrap() - part.len() as i64;
        let is = nearest(digits.as_bytes(), exponent);
        assert_eq!(
            is.to_bits(),
            expected.to_bits(),
            "{text}: {is:?}, not {expected:?}"
        );
    }

    /// Second opinion: the standard library's reader.
    #[test]
    fn reads_as_the_standard_library_does() {
        for text in [
            "0",
            "0.0",
            "1",
            "31.6",
            "9007199254740993",
            "9007199254740992.5",
            "0.1",
            "1e22",
            "1e23",
            "1e-22",
            "1e308",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e309",
            "5e-324",
            "2e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "2.2250738585072011e-308",
            "2.2250738585072014e-308",
            "1e-330",
            "8.41e21",
            "9214843084008499",
            "0.500000000000000166533453693773481063544750213623046875",
            "4503599627370497.5",
            "4503599627370496.5",
            "123456789012345678901234567890",
        ] {
            check(text);
        }
        let mut x = 88_172_645_463_325_252_u64;
        for i in 0..20_000 {
            x ^= x << 13;
            x ^= x >> 7;
            x ^= x << 17;
            let f = f64::from_bits(x);
            if f.is_finite() {
                check(&format!("{:e}", f.abs()));
                check(&format!("{:.16e}", f.abs()));
            }
            check(&format!("{}.{:05}e{}", x >> 20, i, (x % 60) as i64 - 40));
            check(&format!("{}e{}", x, (x % 640) as i64 - 340));
        }
    }
}
