//! Exact fractions of two `i128`; what does not fit panics, as all tests are built.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Sub};

/// In lowest terms, the lower part above 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fraction {
    upper: i128,
    lower: i128,
}

fn common(a: i128, b: i128) -> i128 {
    if b == 0 { a.abs() } else { common(b, a % b) }
}

impl Fraction {
    pub fn new(upper: i128, lower: i128) -> Fraction {
        assert_ne!(lower, 0);
        let by = common(upper, lower) * lower.signum();
        Fraction { upper: upper / by, lower: lower / by }
    }

    pub fn whole(n: i128) -> Fraction {
        Fraction::new(n, 1)
    }

    /// A decimal as it is written, without an exponent.
    pub fn read(text: &str) -> Fraction {
        let (before, after) = text.split_once('.').unwrap_or((text, ""));
        let digits: i128 = format!("{before}{after}").parse().expect("digits");
        Fraction::new(digits, 10_i128.pow(u32::try_from(after.len()).expect("few digits")))
    }

    pub fn is_zero(self) -> bool {
        self.upper == 0
    }

    pub fn down(self) -> i128 {
        self.upper.div_euclid(self.lower)
    }

    pub fn up(self) -> i128 {
        -(-self.upper).div_euclid(self.lower)
    }

    /// Halfway between two whole numbers.
    pub fn is_tie(self) -> bool {
        self.lower == 2
    }

    /// To the nearest whole number, of two as near the greater.
    pub fn half_up(self) -> i128 {
        let over = self - Fraction::whole(self.down());
        self.down() + i128::from(over >= Fraction::new(1, 2))
    }

    pub fn number(self) -> f64 {
        self.upper as f64 / self.lower as f64
    }
}

impl Add for Fraction {
    type Output = Fraction;
    fn add(self, other: Fraction) -> Fraction {
        let by = common(self.lower, other.lower);
        Fraction::new(
            self.upper * (other.lower / by) + other.upper * (self.lower / by),
            self.lower / by * other.lower,
        )
    }
}

impl Sub for Fraction {
    type Output = Fraction;
    fn sub(self, other: Fraction) -> Fraction {
        self + Fraction { upper: -other.upper, lower: other.lower }
    }
}

impl Mul for Fraction {
    type Output = Fraction;
    fn mul(self, other: Fraction) -> Fraction {
        let (a, b) =
            (Fraction::new(self.upper, other.lower), Fraction::new(other.upper, self.lower));
        Fraction { upper: a.upper * b.upper, lower: a.lower * b.lower }
    }
}

impl Div for Fraction {
    type Output = Fraction;
    fn div(self, other: Fraction) -> Fraction {
        let (a, b) =
            (Fraction::new(self.upper, other.upper), Fraction::new(other.lower, self.lower));
        Fraction::new(a.upper * b.upper, a.lower * b.lower)
    }
}

impl PartialOrd for Fraction {
    fn partial_cmp(&self, other: &Fraction) -> Option<Ordering> {
        (*self - *other).upper.partial_cmp(&0)
    }
}

#[test]
fn halves_go_up_on_both_sides_of_nought() {
    let rounded = |text| Fraction::read(text).half_up();
    assert_eq!(["0.49", "0.5", "1.5", "-0.5", "-0.51", "-1.5"].map(rounded), [0, 1, 2, 0, -1, -1]);
    assert_eq!((Fraction::read("-0.5").up(), Fraction::read("2.01").up()), (0, 3));
}
