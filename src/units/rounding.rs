//! Rounding as a value: to what, and which way.

use super::{Fraction, Length, Ticks};

/// Which way to round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the nearest; an exact half goes up (away from zero, so that −x rounds as x does).
    Nearest,
    /// Never shorter.
    Up,
    /// Never longer.
    Down,
}

/// To what, and which way: a rounding that can be named, stored and shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rounding {
    pub to: Fraction,
    pub way: Way,
}

impl Ticks {
    /// To a whole number of the rounding's fraction. 3/32 in to the nearest 1/16 is a tie and goes
    /// up to 1/8.
    pub fn rounded(self, rounding: Rounding) -> Ticks {
        let step = rounding.to.step().0;
        let floor = self.0.div_euclid(step);
        let over = self.0.rem_euclid(step);
        let up = match rounding.way {
            Way::Up => over > 0,
            Way::Down => false,
            Way::Nearest if self.0 < 0 => over * 2 > step,
            Way::Nearest => over * 2 >= step,
        };
        Ticks((floor + i64::from(up)).saturating_mul(step))
    }
}

impl Length {
    /// Where geometry becomes a part to mark: the length as ticks, rounded once. None as in
    /// [`Ticks::from_length`]. The nearest tick is taken first, so that a length that is a whole
    /// fraction but for float noise is not pushed a whole step by [`Way::Up`] or [`Way::Down`].
    pub fn rounded(self, rounding: Rounding) -> Option<Ticks> {
        Ticks::from_length(self).map(|t| t.rounded(rounding))
    }
}
