//! An answer that is wished for, and inputs as plain numbers.

use crate::inputs::{Also, Field, Kind, Value};
use crate::layouts::Answers;
use offsquare_units::{Length, MM_PER_INCH, Quantity};

/// An answer that must come out.
#[derive(Clone, Debug)]
pub(super) struct Wish {
    /// Dotted path of the answer.
    pub path: String,
    /// In inches, degrees or plain numbers; in millimeters where `metric`.
    pub value: f64,
    pub metric: bool,
}

impl Wish {
    pub fn of(path: &str, q: Quantity) -> Wish {
        Wish { path: path.to_owned(), value: plain(q, false), metric: false }
    }
    /// The answer's value in the unit of the wish.
    pub fn read(&self, answers: &Answers) -> Option<f64> {
        answers.quantity(&self.path).map(|q| plain(q, self.metric))
    }
}

/// The plain number of a quantity: inches or millimeters, their squares, degrees, or as it is.
pub(super) fn plain(q: Quantity, metric: bool) -> f64 {
    let mm = if metric { MM_PER_INCH } else { 1.0 };
    match q {
        Quantity::Length(l) => l.0 * mm,
        Quantity::Area(a) => a.0 * mm * mm,
        other => other.number(),
    }
}

/// A number as a value of that field (inches, degrees, plain).
pub(super) fn typed(field: &Field, x: f64) -> Value {
    match field.kind {
        Kind::Length(_) => Value::Length(Length(x)),
        Kind::Angle(..) => Value::Angle(offsquare_units::Angle(x)),
        _ => Value::Number(x),
    }
}

/// Whether a field holds one number that may take any value in its range.
pub(super) fn is_scalar(field: &Field) -> bool {
    matches!(field.kind, Kind::Length(_) | Kind::Angle(..) | Kind::Number(..))
}

/// The wish that an answer given as a size makes.
pub(super) fn wish_of(also: &Also) -> Option<Wish> {
    Some(Wish::of(&also.key, also.value.quantity()?))
}
