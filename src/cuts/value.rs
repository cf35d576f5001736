//! A value of one input, as it is given.

use offsquare_units::{Angle, Length, Quantity};

/// A typed value of one field.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Length(Length),
    Angle(Angle),
    Number(f64),
    /// One of the field's choices.
    Choice(&'static str),
    /// Any of the field's choices, in the order given.
    Choices(Vec<&'static str>),
    Lengths(Vec<Length>),
    /// Corners, in the layout's frame.
    Points(Vec<(Length, Length)>),
    Angles(Vec<Angle>),
    Flag(bool),
}

impl Value {
    /// A quantity as an input takes it; none where no input takes such.
    pub fn of(q: Quantity) -> Option<Value> {
        Some(match q {
            Quantity::Length(l) => Value::Length(l),
            Quantity::Angle(a) => Value::Angle(a),
            Quantity::Count(n) => Value::Number(n),
            _ => return None,
        })
    }
    /// The value as a quantity, where it is one.
    pub fn quantity(&self) -> Option<Quantity> {
        match self {
            Value::Length(l) => Some(Quantity::Length(*l)),
            Value::Angle(a) => Some(Quantity::Angle(*a)),
            Value::Number(n) => Some(Quantity::Count(*n)),
            _ => None,
        }
    }
    /// The plain number inside a one-number value: inches, degrees or a count.
    pub fn scalar(&self) -> Option<f64> {
        match self {
            Value::Length(l) => Some(l.0),
            Value::Angle(a) => Some(a.0),
            Value::Number(n) => Some(*n),
            _ => None,
        }
    }
}
