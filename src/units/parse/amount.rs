//! Numbers as they are written, and the units behind them.

use super::{Form, Reader, Value};
use crate::error::Why;
use crate::kind::{DOLLAR, Family, TypedUnit};
use crate::rational::Rational;
use crate::scan::Sign;

impl Reader<'_> {
    pub(super) fn dollars(&mut self) -> Result<Value, Why> {
        self.at += 1;
        if !matches!(self.sign(0), Some(Sign::Whole(_) | Sign::Decimal(..) | Sign::Fraction(..))) {
            return Err(self.no_value());
        }
        let (amount, form) = self.number()?;
        self.sized(amount, form, DOLLAR)
    }

    pub(super) fn value(&mut self) -> Result<Value, Why> {
        let (amount, form) = self.number()?;
        let Some(Sign::Unit(unit)) = self.sign(0) else {
            return Ok(Value {
                amount,
                is_size: false,
                step: match self.kind.default_unit() {
                    Some(unit) => self.typed_step(form, unit)?,
                    None => Rational::whole(1),
                },
            });
        };
        self.at += 1;
        let mut total = self.sized(amount, form, unit)?;
        let mut last = unit;
        while let Some((next, unit)) = self.smaller_part(last)? {
            total = Value { step: next.step.min(total.step), ..self.added(total, next, false)? };
            last = unit;
        }
        self.name(unit);
        Ok(total)
    }

    /// The next part of a value in several units, as the 11 5/8" of 1' 11 5/8", if one stands here.
    pub(super) fn smaller_part(
        &mut self,
        larger: TypedUnit,
    ) -> Result<Option<(Value, TypedUnit)>, Why> {
        let start = self.at;
        let joined = match self.sign(0) {
            Some(Sign::And) => true,
            // 1'-11", never 1' - 11" or 1' -11".
            Some(Sign::Minus) => self.is_close(0) && self.is_close(1),
            _ => false,
        };
        if joined {
            self.at += 1;
        }
        if matches!(self.sign(0), Some(Sign::Whole(_) | Sign::Decimal(..) | Sign::Fraction(..))) {
            let (amount, form) = self.number()?;
            let unit = match self.sign(0) {
                Some(Sign::Unit(unit))
                    if unit.family == larger.family && unit.rank < larger.rank =>
                {
                    self.at += 1;
                    Some(unit)
                }
                Some(Sign::Unit(_)) => None,
                _ => larger.implied_next(),
            };
            if let Some(unit) = unit {
                return Ok(Some((self.sized(amount, form, unit)?, unit)));
            }
        }
        self.at = start;
        Ok(None)
    }

    pub(super) fn sized(
        &mut self,
        amount: Rational,
        form: Form,
        unit: TypedUnit,
    ) -> Result<Value, Why> {
        Ok(Value {
            amount: self.checked(amount.mul(unit.factor()), amount)?,
            is_size: true,
            step: self.typed_step(form, unit)?,
        })
    }

    pub(super) fn name(&mut self, unit: TypedUnit) {
        match unit.family {
            Family::Metric => self.named.metric = true,
            Family::Imperial if unit.rank == 0 => self.named.inches = true,
            Family::Imperial => self.named.feet = true,
            _ => {}
        }
    }

    // ---- numbers ----

    /// A number as written, fraction and all; the caller has seen that one begins here.
    pub(super) fn number(&mut self) -> Result<(Rational, Form), Why> {
        let first = self.token(0);
        let after_close_slash =
            self.is_close(0) && self.previous().is_some_and(|t| t.sign == Sign::Slash && !t.spaced);
        self.at += 1;
        let (whole, typed_whole) = match first.map(|t| (t.sign, t)) {
            Some((Sign::Whole(n), token)) => (n, token),
            Some((Sign::Decimal(value, places), _)) => return Ok((value, Form::Decimal(places))),
            Some((Sign::Fraction(n, d), _)) => return fraction(n, d),
            _ => {
                self.at -= 1;
                return Err(self.no_value());
            }
        };
        // 5/8, or 72/3 which is a division that needs no spaces.
        if let Some(below) = self.close_fraction_below(0) {
            if after_close_slash || self.close_slash_after(2) {
                return Err(Why::SlashTwice);
            }
            self.at += 2;
            let (value, form) = fraction(whole, below)?;
            let of_a_tape = below <= 128 && below.count_ones() == 1;
            if whole >= below && (value.as_whole().is_some() || !of_a_tape) {
                self.is_sum = true;
                return Ok((value, Form::Whole));
            }
            return Ok((value, form));
        }
        // 23 5/8, 23-5/8, 23 and 5/8, 23⅝
        let joint = match self.sign(0) {
            Some(Sign::Minus) if self.is_close(0) && self.is_close(1) => 1,
            Some(Sign::And) => 1,
            _ => 0,
        };
        let (top, below, length) = match self.sign(joint) {
            Some(Sign::Fraction(top, below)) => (top, below, 1),
            Some(Sign::Whole(top)) => match self.close_fraction_below(joint + 1) {
                Some(below) => (top, below, 3),
                None => return Ok((Rational::whole(whole), Form::Whole)),
            },
            _ => return Ok((Rational::whole(whole), Form::Whole)),
        };
        if self.close_slash_after(joint + length) {
            return Err(Why::SlashTwice);
        }
        let (part, form) = fraction(top, below)?;
        if !Rational::whole(1).exceeds(part) {
            return Err(Why::NotBelowOne {
                whole: self.typed(typed_whole),
                fraction: format!("{top}/{below}"),
            });
        }
        self.at += joint + length;
        let value = Rational::whole(whole).add(part).ok_or(Why::TooFine)?;
        Ok((value, form))
    }

    /// The denominator, where a slash stands so far ahead with a whole number behind it and no space.
    pub(super) fn close_fraction_below(&self, ahead: usize) -> Option<i128> {
        if self.sign(ahead) != Some(Sign::Slash)
            || !self.is_close(ahead)
            || !self.is_close(ahead + 1)
        {
            return None;
        }
        match self.sign(ahead + 1) {
            Some(Sign::Whole(below)) => Some(below),
            _ => None,
        }
    }
    /// Whether another slash follows without a space on either side.
    pub(super) fn close_slash_after(&self, ahead: usize) -> bool {
        self.sign(ahead) == Some(Sign::Slash) && self.is_close(ahead) && self.is_close(ahead + 1)
    }

    /// The step of a number in a unit: a whole number counts as the kind's whole step (1/16 in, 1 mm,
    /// 1/2°), a fraction as one over its denominator, a decimal as its last digit. Feet, meters and
    /// the like are never taken for coarser than whole numbers of them: 1 1/2 ft is 18 in.
    pub(super) fn typed_step(&self, form: Form, unit: TypedUnit) -> Result<Rational, Why> {
        let whole = self.kind.whole_step(unit);
        let parts = match form {
            Form::Whole => return Ok(whole),
            Form::Fraction(below) => below,
            Form::Decimal(places) => 10_i128.pow(places.min(36)),
        };
        let step =
            Rational::new(1, parts).and_then(|part| part.mul(unit.factor())).ok_or(Why::TooFine)?;
        let is_inch = unit.family == Family::Imperial && unit.rank == 0;
        Ok(if is_inch { step } else { step.min(whole) })
    }
}

fn fraction(top: i128, below: i128) -> Result<(Rational, Form), Why> {
    match Rational::new(top, below) {
        Some(value) => Ok((value, Form::Fraction(below))),
        None => Err(Why::ZeroBelow),
    }
}
