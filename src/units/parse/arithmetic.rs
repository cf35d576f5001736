//! Sums and products of plain numbers and sizes, exact or refused.

use super::{Reader, Value};
use crate::error::Why;
use crate::rational::Rational;

impl Reader<'_> {
    /// A value as a size: a plain number counts in the kind's own unit.
    pub(super) fn as_size(&self, value: Value) -> Result<Value, Why> {
        match self.kind.default_unit() {
            Some(unit) if !value.is_size => Ok(Value {
                amount: self.checked(value.amount.mul(unit.factor()), value.amount)?,
                is_size: true,
                ..value
            }),
            _ => Ok(value),
        }
    }
    pub(super) fn added(&self, a: Value, b: Value, minus: bool) -> Result<Value, Why> {
        let (a, b) =
            if a.is_size == b.is_size { (a, b) } else { (self.as_size(a)?, self.as_size(b)?) };
        let amount = if minus { a.amount.sub(b.amount) } else { a.amount.add(b.amount) };
        let larger = if a.amount.exceeds(b.amount) { a } else { b };
        Ok(Value {
            amount: self.checked(amount, larger.amount)?,
            is_size: a.is_size,
            step: a.step.max(b.step),
        })
    }
    pub(super) fn multiplied(&self, a: Value, b: Value) -> Result<Value, Why> {
        if a.is_size && b.is_size {
            return Err(Why::Product);
        }
        let product = a.amount.to_f64() * b.amount.to_f64();
        let amount = a.amount.mul(b.amount).ok_or(overflow(product))?;
        let step = match (a.is_size, b.is_size) {
            (true, _) => a.step,
            (_, true) => b.step,
            _ => a.step.max(b.step),
        };
        Ok(Value { amount, is_size: a.is_size || b.is_size, step })
    }
    pub(super) fn divided(&self, a: Value, b: Value) -> Result<Value, Why> {
        if b.is_size {
            return Err(if a.is_size { Why::Quotient } else { Why::Inverse });
        }
        if b.amount.is_zero() {
            return Err(Why::DivideByZero);
        }
        let quotient = a.amount.to_f64() / b.amount.to_f64();
        let amount = a.amount.div(b.amount).ok_or(overflow(quotient))?;
        Ok(Value { amount, ..a })
    }
    pub(super) fn checked(
        &self,
        amount: Option<Rational>,
        near: Rational,
    ) -> Result<Rational, Why> {
        amount.ok_or(overflow(near.to_f64()))
    }
}

/// Why a result does not fit: it is beyond any limit, or it has too many digits.
fn overflow(size: f64) -> Why {
    if size.abs() > 1e12 { Why::TooLarge } else { Why::TooFine }
}
