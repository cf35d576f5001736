//! Sentences with quantities in them, which speak the reader's own unit.

use super::{Angle, Area, Length};
use std::borrow::Cow;

/// A number with its dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    Length(Length),
    Area(Area),
    Angle(Angle),
    /// How many.
    Count(f64),
    /// One quantity over another of the same kind.
    Ratio(f64),
    /// Kilograms.
    Mass(f64),
    /// Newtons.
    Force(f64),
}

/// One piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Bit {
    Words(Cow<'static, str>),
    Quantity(Quantity),
}

/// A sentence made of words and quantities; how the quantities are shown is decided when it is
/// rendered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Bit>);

impl Text {
    /// A sentence that begins with these words.
    pub fn words(words: impl Into<Cow<'static, str>>) -> Text {
        Text(vec![Bit::Words(words.into())])
    }
    /// The sentence continued with more words or a quantity.
    pub fn and(mut self, bit: impl Into<Bit>) -> Text {
        self.0.push(bit.into());
        self
    }
    pub fn render(&self, _style: &super::Style) -> String {
        self.0
            .iter()
            .map(|b| match b {
                Bit::Words(w) => w.to_string(),
                Bit::Quantity(q) => format!("{q:?}"),
            })
            .collect()
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl From<&'static str> for Bit {
    fn from(words: &'static str) -> Bit {
        Bit::Words(Cow::Borrowed(words))
    }
}
impl From<String> for Bit {
    fn from(words: String) -> Bit {
        Bit::Words(Cow::Owned(words))
    }
}
impl From<Cow<'static, str>> for Bit {
    fn from(words: Cow<'static, str>) -> Bit {
        Bit::Words(words)
    }
}
impl<Q: Into<Quantity>> From<Q> for Bit {
    fn from(quantity: Q) -> Bit {
        Bit::Quantity(quantity.into())
    }
}
impl From<Length> for Quantity {
    fn from(length: Length) -> Quantity {
        Quantity::Length(length)
    }
}
impl From<Area> for Quantity {
    fn from(area: Area) -> Quantity {
        Quantity::Area(area)
    }
}
impl From<Angle> for Quantity {
    fn from(angle: Angle) -> Quantity {
        Quantity::Angle(angle)
    }
}
impl From<&'static str> for Text {
    fn from(words: &'static str) -> Text {
        Text::words(words)
    }
}
impl From<String> for Text {
    fn from(words: String) -> Text {
        Text::words(words)
    }
}
