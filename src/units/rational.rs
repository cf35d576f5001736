//! Exact fractions, in which typed sums are worked out before anything is rounded.

/// A reduced fraction of two `i128`, the denominator above 0. Every operation answers None where
/// the exact result does not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rational {
    num: i128,
    den: i128,
}

/// Greatest common divisor by Euclid; 0 only for two zeros. Falls to 64 bits as soon as the numbers
/// do, where a remainder costs a tenth.
fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        if let (Ok(mut x), Ok(mut y)) = (u64::try_from(a), u64::try_from(b)) {
            while y != 0 {
                (x, y) = (y, x % y);
            }
            return x.into();
        }
        (a, b) = (b, a % b);
    }
    a
}

impl Rational {
    pub(super) const ZERO: Rational = Rational { num: 0, den: 1 };

    pub(super) const fn whole(n: i128) -> Rational {
        Rational { num: n, den: 1 }
    }
    /// num/den, reduced; None when `den` is 0 or a part does not fit.
    pub(super) fn new(num: i128, den: i128) -> Option<Rational> {
        let common = i128::try_from(gcd(num.unsigned_abs(), den.unsigned_abs())).ok()?;
        if den == 0 || common == 0 {
            return None;
        }
        let (num, den) = (num / common, den / common);
        if den < 0 {
            Some(Rational { num: num.checked_neg()?, den: den.checked_neg()? })
        } else {
            Some(Rational { num, den })
        }
    }
    /// What stands over the line and what under it.
    pub(super) const fn parts(self) -> (i128, i128) {
        (self.num, self.den)
    }
    pub(super) fn is_zero(self) -> bool {
        self.num == 0
    }
    pub(super) fn is_negative(self) -> bool {
        self.num < 0
    }
    /// The whole number that it is, if it is one.
    pub(super) fn as_whole(self) -> Option<i128> {
        (self.den == 1).then_some(self.num)
    }
    pub(super) fn neg(self) -> Option<Rational> {
        Some(Rational { num: self.num.checked_neg()?, den: self.den })
    }
    pub(super) fn add(self, other: Rational) -> Option<Rational> {
        let common = i128::try_from(gcd(self.den.unsigned_abs(), other.den.unsigned_abs())).ok()?;
        let (mine, theirs) = (other.den / common, self.den / common);
        let num = self.num.checked_mul(mine)?.checked_add(other.num.checked_mul(theirs)?)?;
        Rational::new(num, self.den.checked_mul(mine)?)
    }
    pub(super) fn sub(self, other: Rational) -> Option<Rational> {
        self.add(other.neg()?)
    }
    pub(super) fn mul(self, other: Rational) -> Option<Rational> {
        // Crosswise first, so that the products stay small; both fractions are reduced already.
        let a = Rational::new(self.num, other.den)?;
        let b = Rational::new(other.num, self.den)?;
        Some(Rational { num: a.num.checked_mul(b.num)?, den: a.den.checked_mul(b.den)? })
    }
    /// None also when `other` is 0.
    pub(super) fn div(self, other: Rational) -> Option<Rational> {
        self.mul(Rational::new(other.den, other.num)?)
    }
    /// The coarser of two steps.
    pub(super) fn max(self, other: Rational) -> Rational {
        if self.exceeds(other) { self } else { other }
    }
    /// The finer of two steps.
    pub(super) fn min(self, other: Rational) -> Rational {
        if self.exceeds(other) { other } else { self }
    }
    /// Whether it is the greater; by f64 where the exact difference does not fit, which is then
    /// far from 0.
    pub(super) fn exceeds(self, other: Rational) -> bool {
        match self.sub(other) {
            Some(difference) => difference.num > 0,
            None => self.to_f64() > other.to_f64(),
        }
    }
    /// The nearest whole number, an exact half away from zero; None beyond `i64`.
    pub(super) fn nearest(self) -> Option<i64> {
        let (size, den) = (self.num.unsigned_abs(), self.den.unsigned_abs());
        let over = size % den;
        let nearest = size / den + u128::from(over >= den - over);
        let nearest = i64::try_from(nearest).ok()?;
        Some(if self.num < 0 { -nearest } else { nearest })
    }
    /// The nearest f64 where both parts are below 2^53, otherwise within two units of its last bit.
    pub(super) fn to_f64(self) -> f64 {
        self.num as f64 / self.den as f64
    }
}
