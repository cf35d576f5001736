//! Lengths, angles, prices and numbers as a person types them, and sums of them.
//!
//! ```text
//! sum      = product { ("+" | "-") product }          a minus has a space on both sides
//! product  = factor { ("×" | "÷") factor }            "/" divides unless it makes a fraction
//! factor   = { "-" | "+" } ( "(" sum ")" [unit] | value )
//! value    = number [unit] { ["-" | "and"] number unit }   larger unit first: 1' 11 5/8"
//! number   = 23 | 23.625 | 5/8 | 23 5/8 | 23-5/8 | 23⅝ | 23 and 5/8
//! ```
//! A slash between two whole numbers with no space on either side is a fraction, and binds tighter
//! than any sign; every other slash divides. A number without a unit is a size in the field's own
//! unit, unless it multiplies or divides a size that has one. Everything is worked out in exact
//! fractions and rounded once, at the end.

use super::error::{ParseError, Why};
use super::kind::{DOLLAR, Family, Kind, TypedUnit};
use super::rational::Rational;
use super::scan::{Sign, Token, scan};

/// Parentheses inside one another, at most.
const DEEPEST: u32 = 16;

/// What a text comes to, in the base of its kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Reading {
    pub value: Rational,
    pub step: Rational,
    pub is_sum: bool,
    /// Whether inches without feet, feet, and metric units were named.
    pub named: Named,
}

/// The systems of units that were named in a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Named {
    pub inches: bool,
    pub feet: bool,
    pub metric: bool,
}

/// Reads a text on its own.
pub(super) fn read(text: &str, kind: Kind) -> Result<Reading, ParseError> {
    Reader::run(text, kind, None).map_err(|why| ParseError { kind, why })
}

/// Reads a text that goes on from `start` with a sign: `+ 3/4`.
pub(super) fn read_on(start: Reading, text: &str, kind: Kind) -> Result<Reading, ParseError> {
    Reader::run(text, kind, Some(start)).map_err(|why| ParseError { kind, why })
}

/// Whether a text begins with a sign that needs something before it. A minus does when a space
/// follows it; otherwise it belongs to its number.
pub(super) fn goes_on(text: &str, kind: Kind) -> bool {
    match scan(text, kind) {
        Ok(tokens) => match (tokens.first(), tokens.get(1)) {
            (Some(first), second) => match first.sign {
                Sign::Plus | Sign::Times | Sign::Divide | Sign::Slash => true,
                Sign::Minus => second.is_some_and(|t| t.spaced),
                _ => false,
            },
            (None, _) => false,
        },
        Err(_) => false,
    }
}

/// A value on the way: a plain number, or a size in the base.
#[derive(Clone, Copy)]
struct Value {
    amount: Rational,
    is_size: bool,
    /// The step that it was typed to, in the base; a plain number's as if it were a size.
    step: Rational,
}

/// How a number was written.
#[derive(Clone, Copy)]
enum Form {
    Whole,
    /// Its denominator.
    Fraction(i128),
    /// Its places after the point.
    Decimal(u32),
}

struct Reader<'a> {
    text: &'a str,
    tokens: Vec<Token>,
    at: usize,
    kind: Kind,
    depth: u32,
    is_sum: bool,
    named: Named,
}

impl Reader<'_> {
    fn run(text: &str, kind: Kind, start: Option<Reading>) -> Result<Reading, Why> {
        let tokens = scan(text, kind)?;
        if tokens.is_empty() {
            return Err(Why::Empty);
        }
        let mut reader = Reader {
            text,
            tokens,
            at: 0,
            kind,
            depth: 0,
            is_sum: start.is_some(),
            named: start.map(|s| s.named).unwrap_or_default(),
        };
        let first = match start {
            Some(start) => reader.product_from(Value {
                amount: start.value,
                is_size: kind.default_unit().is_some(),
                step: start.step,
            })?,
            None => reader.product()?,
        };
        let sum = reader.sum_from(first)?;
        reader.expect_end()?;
        let total = reader.as_size(sum)?;
        let limit = kind.limit();
        if total.amount.exceeds(limit) || limit.neg().ok_or(Why::TooLarge)?.exceeds(total.amount) {
            return Err(Why::TooLarge);
        }
        Ok(Reading {
            value: total.amount,
            step: total.step,
            is_sum: reader.is_sum,
            named: reader.named,
        })
    }

    fn token(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }
    fn sign(&self, ahead: usize) -> Option<Sign> {
        self.token(ahead).map(|t| t.sign)
    }
    /// Whether the token so far ahead exists and stands close to the one before it.
    fn is_close(&self, ahead: usize) -> bool {
        self.token(ahead).is_some_and(|t| !t.spaced)
    }
    fn typed(&self, token: Token) -> String {
        self.text
            .get(token.from..token.to)
            .unwrap_or_default()
            .to_owned()
    }
    fn previous(&self) -> Option<Token> {
        self.at
            .checked_sub(1)
            .and_then(|i| self.tokens.get(i))
            .copied()
    }

    // ---- sums and products ----

    fn sum_from(&mut self, first: Value) -> Result<Value, Why> {
        let mut total = first;
        loop {
            let minus = match self.sign(0) {
                Some(Sign::Plus) => false,
                Some(Sign::Minus) => {
                    let spaced = self.token(0).is_some_and(|t| t.spaced);
                    if self.token(1).is_some() && !(spaced && !self.is_close(1)) {
                        return Err(Why::MinusSpacing);
                    }
                    true
                }
                _ => return Ok(total),
            };
            self.at += 1;
            let next = self.product()?;
            self.is_sum = true;
            total = self.added(total, next, minus)?;
        }
    }

    fn product(&mut self) -> Result<Value, Why> {
        let first = self.factor()?;
        self.product_from(first)
    }

    fn product_from(&mut self, first: Value) -> Result<Value, Why> {
        let mut total = first;
        loop {
            let divide = match self.sign(0) {
                Some(Sign::Times) => false,
                Some(Sign::Divide | Sign::Slash) => true,
                _ => return Ok(total),
            };
            self.at += 1;
            let next = self.factor()?;
            self.is_sum = true;
            total = if divide {
                self.divided(total, next)?
            } else {
                self.multiplied(total, next)?
            };
        }
    }

    fn factor(&mut self) -> Result<Value, Why> {
        let mut negative = false;
        loop {
            match self.sign(0) {
                Some(Sign::Minus) => negative = !negative,
                // A plus after a plus or a minus is a slip, not a sign.
                Some(Sign::Plus) if !self.previous().is_some_and(is_plus_or_minus) => {}
                _ => break,
            }
            self.at += 1;
        }
        let value = match self.sign(0) {
            Some(Sign::Open) => self.parenthesis()?,
            Some(Sign::Whole(_) | Sign::Decimal(..) | Sign::Fraction(..)) => self.value()?,
            Some(Sign::Dollar) => self.dollars()?,
            _ => return Err(self.no_value()),
        };
        Ok(Value {
            amount: if negative {
                value.amount.neg().ok_or(Why::TooLarge)?
            } else {
                value.amount
            },
            ..value
        })
    }

    fn parenthesis(&mut self) -> Result<Value, Why> {
        if self.depth == DEEPEST {
            return Err(Why::TooDeep);
        }
        self.depth += 1;
        self.at += 1;
        let first = self.product()?;
        let inside = self.sum_from(first)?;
        if self.sign(0) != Some(Sign::Close) {
            return Err(match self.token(0) {
                None => Why::NotClosed,
                Some(_) => self.unexpected(),
            });
        }
        self.depth -= 1;
        self.at += 1;
        let Some(Sign::Unit(unit)) = self.sign(0) else {
            return Ok(inside);
        };
        if inside.is_size {
            return Err(Why::UnitTwice);
        }
        self.at += 1;
        self.name(unit);
        Ok(Value {
            amount: self.checked(inside.amount.mul(unit.factor()), inside.amount)?,
            is_size: true,
            step: self.kind.whole_step(unit),
        })
    }

    // ---- values with units ----

    fn dollars(&mut self) -> Result<Value, Why> {
        self.at += 1;
        if !matches!(
            self.sign(0),
            Some(Sign::Whole(_) | Sign::Decimal(..) | Sign::Fraction(..))
        ) {
            return Err(self.no_value());
        }
        let (amount, form) = self.number()?;
        self.sized(amount, form, DOLLAR)
    }

    fn value(&mut self) -> Result<Value, Why> {
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
            total = Value {
                step: next.step.min(total.step),
                ..self.added(total, next, false)?
            };
            last = unit;
        }
        self.name(unit);
        Ok(total)
    }

    /// The next part of a value in several units, as the 11 5/8" of 1' 11 5/8", if one stands here.
    fn smaller_part(&mut self, larger: TypedUnit) -> Result<Option<(Value, TypedUnit)>, Why> {
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
        if matches!(
            self.sign(0),
            Some(Sign::Whole(_) | Sign::Decimal(..) | Sign::Fraction(..))
        ) {
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

    fn sized(&mut self, amount: Rational, form: Form, unit: TypedUnit) -> Result<Value, Why> {
        Ok(Value {
            amount: self.checked(amount.mul(unit.factor()), amount)?,
            is_size: true,
            step: self.typed_step(form, unit)?,
        })
    }

    fn name(&mut self, unit: TypedUnit) {
        match unit.family {
            Family::Metric => self.named.metric = true,
            Family::Imperial if unit.rank == 0 => self.named.inches = true,
            Family::Imperial => self.named.feet = true,
            _ => {}
        }
    }

    // ---- numbers ----

    /// A number as written, fraction and all; the caller has seen that one begins here.
    fn number(&mut self) -> Result<(Rational, Form), Why> {
        let first = self.token(0);
        let after_close_slash = self.is_close(0)
            && self
                .previous()
                .is_some_and(|t| t.sign == Sign::Slash && !t.spaced);
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
            if value.as_whole().is_some() || (whole > below && !of_a_tape) {
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
    fn close_fraction_below(&self, ahead: usize) -> Option<i128> {
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
    fn close_slash_after(&self, ahead: usize) -> bool {
        self.sign(ahead) == Some(Sign::Slash) && self.is_close(ahead) && self.is_close(ahead + 1)
    }

    /// The step of a number in a unit: a whole number counts as the kind's whole step (1/16 in, 1 mm,
    /// 1/2°), a fraction as one over its denominator, a decimal as its last digit. Feet, meters and
    /// the like are never taken for coarser than whole numbers of them: 1 1/2 ft is 18 in.
    fn typed_step(&self, form: Form, unit: TypedUnit) -> Result<Rational, Why> {
        let whole = self.kind.whole_step(unit);
        let parts = match form {
            Form::Whole => return Ok(whole),
            Form::Fraction(below) => below,
            Form::Decimal(places) => 10_i128.pow(places.min(36)),
        };
        let step = Rational::new(1, parts)
            .and_then(|part| part.mul(unit.factor()))
            .ok_or(Why::TooFine)?;
        let is_inch = unit.family == Family::Imperial && unit.rank == 0;
        Ok(if is_inch { step } else { step.min(whole) })
    }

    // ---- arithmetic ----

    /// A value as a size: a plain number counts in the kind's own unit.
    fn as_size(&self, value: Value) -> Result<Value, Why> {
        match self.kind.default_unit() {
            Some(unit) if !value.is_size => Ok(Value {
                amount: self.checked(value.amount.mul(unit.factor()), value.amount)?,
                is_size: true,
                ..value
            }),
            _ => Ok(value),
        }
    }
    fn added(&self, a: Value, b: Value, minus: bool) -> Result<Value, Why> {
        let (a, b) = if a.is_size == b.is_size {
            (a, b)
        } else {
            (self.as_size(a)?, self.as_size(b)?)
        };
        let amount = if minus {
            a.amount.sub(b.amount)
        } else {
            a.amount.add(b.amount)
        };
        let larger = if a.amount.exceeds(b.amount) { a } else { b };
        Ok(Value {
            amount: self.checked(amount, larger.amount)?,
            is_size: a.is_size,
            step: a.step.max(b.step),
        })
    }
    fn multiplied(&self, a: Value, b: Value) -> Result<Value, Why> {
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
        Ok(Value {
            amount,
            is_size: a.is_size || b.is_size,
            step,
        })
    }
    fn divided(&self, a: Value, b: Value) -> Result<Value, Why> {
        if b.is_size {
            return Err(if a.is_size {
                Why::Quotient
            } else {
                Why::Inverse
            });
        }
        if b.amount.is_zero() {
            return Err(Why::DivideByZero);
        }
        let quotient = a.amount.to_f64() / b.amount.to_f64();
        let amount = a.amount.div(b.amount).ok_or(overflow(quotient))?;
        Ok(Value { amount, ..a })
    }
    fn checked(&self, amount: Option<Rational>, near: Rational) -> Result<Rational, Why> {
        amount.ok_or(overflow(near.to_f64()))
    }

    // ---- what is wrong ----

    /// Why no value begins here.
    fn no_value(&self) -> Why {
        let before = self.previous();
        match (self.token(0), before) {
            (_, Some(before)) if is_operator(before.sign) || before.sign == Sign::Dollar => {
                Why::MissingAfter(self.typed(before))
            }
            (Some(token), None) if is_operator(token.sign) => Why::MissingBefore(self.typed(token)),
            (Some(token), _) => match token.sign {
                Sign::Unit(_) | Sign::And => Why::NoNumber(self.typed(token)),
                Sign::Close if before.is_some() => Why::NothingInside,
                Sign::Close => Why::NotOpened,
                _ => Why::MissingBefore(self.typed(token)),
            },
            (None, Some(before)) if before.sign == Sign::Open => Why::NotClosed,
            (None, _) => Why::Empty,
        }
    }

    fn expect_end(&self) -> Result<(), Why> {
        match self.token(0) {
            None => Ok(()),
            Some(_) => Err(self.unexpected()),
        }
    }

    /// Why something stands here after a complete value.
    fn unexpected(&self) -> Why {
        let (Some(token), Some(before)) = (self.token(0), self.previous()) else {
            return Why::Empty;
        };
        match token.sign {
            Sign::Close => Why::NotOpened,
            Sign::And if self.token(1).is_none() => Why::MissingAfter(self.typed(token)),
            Sign::Whole(_)
                if self.sign(1) == Some(Sign::Slash)
                    && matches!(self.sign(2), Some(Sign::Whole(_)))
                    && matches!(before.sign, Sign::Whole(_)) =>
            {
                Why::SpacedFraction {
                    whole: self.typed(before),
                    numerator: self.typed(token),
                    denominator: self.token(2).map(|t| self.typed(t)).unwrap_or_default(),
                }
            }
            _ => {
                let second = match (token.sign, self.token(1)) {
                    (Sign::And, Some(next)) => next,
                    _ => token,
                };
                Why::TwoValues {
                    first: self.typed(before),
                    second: self.typed(second),
                }
            }
        }
    }
}

fn is_plus_or_minus(token: Token) -> bool {
    matches!(token.sign, Sign::Plus | Sign::Minus)
}

fn is_operator(sign: Sign) -> bool {
    matches!(
        sign,
        Sign::Plus | Sign::Minus | Sign::Times | Sign::Divide | Sign::Slash
    )
}

fn fraction(top: i128, below: i128) -> Result<(Rational, Form), Why> {
    match Rational::new(top, below) {
        Some(value) => Ok((value, Form::Fraction(below))),
        None => Err(Why::ZeroBelow),
    }
}

/// Why a result does not fit: it is beyond any limit, or it has too many digits.
fn overflow(size: f64) -> Why {
    if size.abs() > 1e12 {
        Why::TooLarge
    } else {
        Why::TooFine
    }
}
