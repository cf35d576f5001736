//! What the maker gives a layout: fields with keys, checked and typed once, here.
//!
//! A layout declares its [`Field`]s; the JSON door and the screens fill an [`Inputs`]. Numbers reach
//! a layout only when they are in range, so a layout's own checks are about geometry alone.

use crate::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, MM_PER_INCH, Quantity, Text, say};
use std::borrow::Cow;

pub use crate::value::Value;

/// What a field takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    Length(Range),
    /// Degrees from – to, ends included.
    Angle(f64, f64),
    /// A whole number from – to.
    Count(u32, u32),
    /// A plain number from – to.
    Number(f64, f64),
    /// Kilograms from 0 to this; typed in pounds or kilograms.
    Mass(f64),
    Choice(&'static [Choice]),
    /// Any number of the choices.
    Choices(&'static [Choice]),
    Lengths(Range),
    Points,
    Angles(f64, f64),
    Flag,
}

/// Which lengths a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Range {
    /// More than nothing.
    Positive,
    /// Nothing or more.
    NotNegative,
    /// Either side of nothing.
    Any,
}

/// One of a field's choices.
#[derive(Clone, Copy, Debug)]
pub struct Choice {
    pub key: &'static str,
    pub label: &'static str,
}

/// Whether a field must be filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// No answer without it (unless other sizes stand in for it).
    Required,
    /// May be left out; the layout decides what that means.
    Optional,
    /// A choice that stands unless changed.
    Choice(&'static str),
    /// A length that stands unless changed, in inches.
    Length(f64),
    /// A number, count or angle that stands unless changed.
    Number(f64),
}

/// What the first visit shows: sizes that are sensible in either unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// Left empty.
    Empty,
    /// A length: so many inches, or so many millimeters.
    Length(f64, f64),
    Number(f64),
    Choice(&'static str),
    Flag(bool),
    /// Lengths, inches or millimeters.
    Lengths(&'static [f64], &'static [f64]),
    /// Corners, inches or millimeters.
    Points(&'static [(f64, f64)], &'static [(f64, f64)]),
}

/// One field of a layout's form.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// The JSON door's key.
    pub key: &'static str,
    /// Two or three words: "Opening width".
    pub label: &'static str,
    /// One short sentence on where to measure it.
    pub help: &'static str,
    pub kind: Kind,
    pub need: Need,
    pub start: Start,
    /// It is free to give where something else is off (a footprint, a splay). Others stand there already: an
    /// opening, a strip's width, a post.
    pub free: bool,
    /// The size that it means, where other forms know that one by another key (a strip's width is the first
    /// strip's in a pair); empty where its key says so.
    pub meaning: &'static str,
}

/// Largest length that is taken, inches: past any shop, far below any overflow.
pub const LONGEST: Length = Length(1e9);

/// The values given to one form of a layout.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Inputs {
    /// Id of the form.
    pub form: &'static str,
    values: Vec<(&'static str, Value)>,
}

/// A size is not there without which there is no answer.
#[derive(Clone, Copy, Debug)]
pub struct Missing;

impl Inputs {
    pub fn of_form(form: &'static str) -> Inputs {
        Inputs { form, values: Vec::new() }
    }
    pub fn set(&mut self, key: &'static str, value: Value) {
        match self.values.iter_mut().find(|(k, _)| *k == key) {
            Some(slot) => slot.1 = value,
            None => self.values.push((key, value)),
        }
    }
    pub fn remove(&mut self, key: &str) {
        self.values.retain(|(k, _)| *k != key);
    }
    /// The same with one value changed.
    pub fn with(&self, key: &'static str, value: Value) -> Inputs {
        let mut changed = self.clone();
        changed.set(key, value);
        changed
    }
    pub fn get(&self, key: &str) -> Option<&Value> {
        self.values.iter().find(|(k, _)| *k == key).map(|(_, v)| v)
    }
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, &Value)> {
        self.values.iter().map(|(k, v)| (*k, v))
    }
    pub fn length(&self, key: &str) -> Option<Length> {
        match self.get(key)? {
            Value::Length(l) => Some(*l),
            _ => None,
        }
    }
    pub fn angle(&self, key: &str) -> Option<Angle> {
        match self.get(key)? {
            Value::Angle(a) => Some(*a),
            _ => None,
        }
    }
    /// A length in inches.
    pub fn inches(&self, key: &str) -> Option<f64> {
        self.length(key).map(|l| l.0)
    }
    /// An angle in degrees.
    pub fn degrees(&self, key: &str) -> Option<f64> {
        self.angle(key).map(|a| a.0)
    }
    /// A size without which there is no answer: inches, degrees or a count.
    pub fn need(&self, key: &str) -> Result<f64, Missing> {
        self.get(key).and_then(Value::scalar).ok_or(Missing)
    }
    pub fn number(&self, key: &str) -> Option<f64> {
        match self.get(key)? {
            Value::Number(n) => Some(*n),
            _ => None,
        }
    }
    pub fn choice(&self, key: &str) -> Option<&'static str> {
        match self.get(key)? {
            Value::Choice(c) => Some(c),
            _ => None,
        }
    }
    /// Those picked of a field that takes any number of choices; none picked, none.
    pub fn choices(&self, key: &str) -> &[&'static str] {
        match self.get(key) {
            Some(Value::Choices(all)) => all,
            Some(Value::Choice(one)) => std::slice::from_ref(one),
            _ => &[],
        }
    }
    pub fn flag(&self, key: &str) -> Option<bool> {
        match self.get(key)? {
            Value::Flag(f) => Some(*f),
            _ => None,
        }
    }
    pub fn lengths(&self, key: &str) -> Option<&[Length]> {
        match self.get(key)? {
            Value::Lengths(l) => Some(l),
            _ => None,
        }
    }
    pub fn points(&self, key: &str) -> Option<&[(Length, Length)]> {
        match self.get(key)? {
            Value::Points(p) => Some(p),
            _ => None,
        }
    }
    pub fn angles(&self, key: &str) -> Option<&[Angle]> {
        match self.get(key)? {
            Value::Angles(a) => Some(a),
            _ => None,
        }
    }
}

impl Field {
    /// What a field is unless it says otherwise.
    pub const PLAIN: Field = Field {
        key: "",
        label: "",
        help: "",
        kind: Kind::Flag,
        need: Need::Optional,
        start: Start::Empty,
        free: false,
        meaning: "",
    };

    /// The name of the size that it means, alike in all forms of a layout.
    pub fn means(&self) -> &'static str {
        if self.meaning.is_empty() { self.key } else { self.meaning }
    }

    /// What the first visit shows in this field, in round inches or round millimeters.
    pub fn start_value(&self, metric: bool) -> Option<Value> {
        let length = |inches: f64, mm: f64| Length(if metric { mm / MM_PER_INCH } else { inches });
        Some(match (self.start, self.kind) {
            (Start::Empty, _) => return None,
            (Start::Length(inches, mm), _) => Value::Length(length(inches, mm)),
            (Start::Number(n), Kind::Angle(..)) => Value::Angle(Angle(n)),
            (Start::Number(n), _) => Value::Number(n),
            (Start::Choice(c), _) => Value::Choice(c),
            (Start::Flag(f), _) => Value::Flag(f),
            (Start::Lengths(inches, mm), _) => Value::Lengths(if metric {
                mm.iter().map(|l| Length(l / MM_PER_INCH)).gather()
            } else {
                inches.iter().copied().map(Length).gather()
            }),
            (Start::Points(inches, mm), _) => {
                let all = if metric { mm } else { inches };
                let point = |(x, y): &(f64, f64)| (length(*x, *x), length(*y, *y));
                Value::Points(all.iter().map(point).gather())
            }
        })
    }

    /// Whether `value` is in this field's range: all that is wrong with it, in the field's words.
    pub fn check(&self, value: &Value) -> Option<Problem> {
        match (self.kind, value) {
            (Kind::Length(range), Value::Length(l)) => self.check_length(range, *l),
            (Kind::Lengths(range), Value::Lengths(all)) => all
                .iter()
                .enumerate()
                .find_map(|(i, l)| self.check_length(range, *l).map(|p| (i, p)))
                .map(|(i, p)| Problem { path: format!("/inputs/{}/{i}", self.key).into(), ..p }),
            (Kind::Points, Value::Points(all)) => all.iter().enumerate().find_map(|(i, (x, y))| {
                self.check_length(Range::Any, *x)
                    .or_else(|| self.check_length(Range::Any, *y))
                    .map(|p| Problem { path: format!("/inputs/{}/{i}", self.key).into(), ..p })
            }),
            (Kind::Angle(from, to), Value::Angle(a)) => self.check_angle(from, to, *a),
            (Kind::Angles(from, to), Value::Angles(all)) => {
                all.iter().find_map(|a| self.check_angle(from, to, *a))
            }
            (Kind::Count(from, to), Value::Number(n)) => {
                let (least, most) = (f64::from(from), f64::from(to));
                let not_whole = (*n != offsquare_units::num::floor(*n)).then_some(least);
                outside(*n, least, most).or(not_whole).map(|limit| {
                    let text = say!(format!("{}: a whole number from {from} to {to}.", self.label));
                    self.stop(Quantity::Count(limit), text)
                })
            }
            (Kind::Mass(most), Value::Number(kg)) => outside(*kg, 0.0, most).map(|limit| {
                let text = say!("{}: from 0 to {}.", self.label, Quantity::Mass(most));
                self.stop(Quantity::Mass(limit), text)
            }),
            (Kind::Number(from, to), Value::Number(n)) => outside(*n, from, to).map(|limit| {
                let text = say!(format!("{} must be between {from} and {to}.", self.label));
                self.stop(Quantity::Ratio(limit), text)
            }),
            (Kind::Choice(all) | Kind::Choices(all), Value::Choice(c)) => {
                self.check_choices(all, std::slice::from_ref(c))
            }
            (Kind::Choices(all), Value::Choices(picked)) => self.check_choices(all, picked),
            (Kind::Flag, Value::Flag(_)) => None,
            _ => Some(Problem::stop(
                self.key,
                say!(format!("{} does not take this kind of value.", self.label)),
            )),
        }
    }

    /// "Foot is one of: floor, square."
    pub fn choices_sentence(&self) -> String {
        let (all, many) = match self.kind {
            Kind::Choice(all) => (all, "one of"),
            Kind::Choices(all) => (all, "one or more of"),
            _ => return String::new(),
        };
        let names: Vec<&str> = all.iter().map(|c| c.key).gather();
        format!("{} is {many}: {}.", self.label, names.join(", "))
    }

    fn check_length(&self, range: Range, l: Length) -> Option<Problem> {
        let label = self.label;
        let (limit, text) = match range {
            _ if !l.0.is_finite() || l.0.abs() > LONGEST.0 => {
                (LONGEST, say!("{} is too large: the longest length taken is {}.", label, LONGEST))
            }
            Range::Positive if l.0 <= 0.0 => (Length(0.0), say!("{} must be more than 0.", label)),
            Range::NotNegative if l.0 < 0.0 => (Length(0.0), say!("{} must be 0 or more.", label)),
            _ => return None,
        };
        Some(self.stop(limit, text))
    }

    fn check_angle(&self, from: f64, to: f64, a: Angle) -> Option<Problem> {
        outside(a.0, from, to).map(|limit| {
            let text = say!("{} must be between {} and {}.", self.label, Angle(from), Angle(to));
            self.stop(Angle(limit), text)
        })
    }

    fn check_choices(&self, all: &[Choice], picked: &[&'static str]) -> Option<Problem> {
        let known = |c: &&'static str| all.iter().any(|x| x.key == *c);
        (!picked.iter().all(known)).then(|| Problem::stop(self.key, say!(self.choices_sentence())))
    }

    /// What is said where a limit was passed.
    fn stop(&self, limit: impl Into<Quantity>, text: Text) -> Problem {
        Problem::stop(self.key, text).with_limit(limit)
    }
}

/// The limit that a number is past, if it is past one.
fn outside(n: f64, least: f64, most: f64) -> Option<f64> {
    let inside = n >= least && n <= most;
    (!inside).then_some(if n > most { most } else { least })
}

/// What was given to one form: its own fields, and answers typed besides (or instead).
#[derive(Clone, Debug, Default)]
pub struct Given {
    pub inputs: Inputs,
    /// Answers given as sizes; they stand in for missing fields or are checked against the rest.
    pub also: Vec<Also>,
    /// The step to which each field was typed, where it was typed by a person. A size given by a
    /// program has none and is taken at its word.
    pub steps: Vec<(&'static str, Quantity)>,
}

impl Given {
    /// The step to which a field or an answer was typed.
    pub fn step(&self, key: &str) -> Option<Quantity> {
        let also = self.also.iter().find(|a| a.key == key);
        also.and_then(|a| a.step)
            .or_else(|| self.steps.iter().find(|(k, _)| *k == key).map(|(_, q)| *q))
    }
}

/// An answer that was given as a size.
#[derive(Clone, Debug)]
pub struct Also {
    /// Dotted path of the answer, and its name in words.
    pub key: Cow<'static, str>,
    pub label: Cow<'static, str>,
    pub value: Value,
    /// Where it was given, as a JSON pointer.
    pub path: String,
    /// The step to which it was typed (1/16 in for 23 5/16; whole numbers count as 1/16 in or 1 mm);
    /// none where a program gave it.
    pub step: Option<Quantity>,
}

impl Also {
    /// One of the form's own `also` fields, filled in.
    pub fn of(field: &'static Field, value: Value, path: String, step: Option<Quantity>) -> Also {
        Also { key: Cow::Borrowed(field.key), label: Cow::Borrowed(field.label), value, path, step }
    }
}

/// The value that stands where a field is left out.
pub fn standing_value(field: &Field) -> Option<Value> {
    match (field.need, field.kind) {
        (Need::Choice(c), _) => Some(Value::Choice(c)),
        (Need::Length(inches), _) => Some(Value::Length(Length(inches))),
        (Need::Number(n), Kind::Angle(..)) => Some(Value::Angle(Angle(n))),
        (Need::Number(n), _) => Some(Value::Number(n)),
        _ => None,
    }
}
