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

mod amount;
mod arithmetic;
mod refusal;

use crate::error::{ParseError, Why};
use crate::kind::Kind;
use crate::rational::Rational;
use crate::scan::{Sign, Token, scan};

/// Parentheses inside one another, at most.
const DEEPEST: u32 = 16;

/// What a text comes to, in the base of its kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Reading {
    pub value: Rational,
    pub step: Rational,
    pub is_sum: bool,
    /// Whether inches without feet, feet, and metric units were named.
    pub named: Named,
}

/// The systems of units that were named in a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Named {
    pub inches: bool,
    pub feet: bool,
    pub metric: bool,
}

/// Reads a text on its own.
pub fn read(text: &str, kind: Kind) -> Result<Reading, ParseError> {
    Reader::run(text, kind, None).map_err(|why| ParseError { kind, why })
}

/// Reads a text that goes on from `start` with a sign: `+ 3/4`.
pub(crate) fn read_on(start: Reading, text: &str, kind: Kind) -> Result<Reading, ParseError> {
    Reader::run(text, kind, Some(start)).map_err(|why| ParseError { kind, why })
}

/// Whether a text begins with a sign that needs something before it. A minus does when a space
/// follows it; otherwise it belongs to its number.
pub fn goes_on(text: &str, kind: Kind) -> bool {
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
        self.text.get(token.from..token.to).unwrap_or_default().to_owned()
    }
    fn previous(&self) -> Option<Token> {
        self.at.checked_sub(1).and_then(|i| self.tokens.get(i)).copied()
    }

    // ---- sums and products ----

    fn sum_from(&mut self, first: Value) -> Result<Value, Why> {
        let mut total = first;
        loop {
            let minus = match self.sign(0) {
                Some(Sign::Plus) => false,
                Some(Sign::Minus) => {
                    let spaced = self.token(0).is_some_and(|t| t.spaced);
                    if self.token(1).is_some() && (!spaced || self.is_close(1)) {
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
            total = if divide { self.divided(total, next)? } else { self.multiplied(total, next)? };
        }
    }

    fn factor(&mut self) -> Result<Value, Why> {
        let mut negative = false;
        loop {
            match self.sign(0) {
                Some(Sign::Minus) => negative = !negative,
                // A plus after a plus or a minus is a slip, not a sign.
                Some(Sign::Plus) if !self.previous().is_some_and(|t| t.sign.is_plus_or_minus()) => {
                }
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
            amount: if negative { value.amount.neg().ok_or(Why::TooLarge)? } else { value.amount },
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
}
