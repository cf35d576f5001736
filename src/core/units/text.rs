//! Sentences with quantities in them, which speak the reader's own unit.

use super::{
    Angle, Area, Length, Style, print_decimal, print_number, print_quantity, speak_quantity,
};
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

impl Quantity {
    /// The plain number: inches, square inches, degrees, or as it is.
    pub fn number(self) -> f64 {
        match self {
            Quantity::Length(l) => l.0,
            Quantity::Area(a) => a.0,
            Quantity::Angle(a) => a.0,
            Quantity::Count(n) | Quantity::Ratio(n) | Quantity::Mass(n) | Quantity::Force(n) => n,
        }
    }
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
        self.push(bit);
        self
    }
    /// Adds words or a quantity. Never inlined: there are over a thousand places, and each is to cost no more than a call.
    #[inline(never)]
    pub fn push(&mut self, bit: impl Into<Bit>) {
        self.0.push(bit.into());
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// The sentence with its quantities shown in the reader's own way.
    ///
    /// ```
    /// use offsquare_core::units::{Length, Style, Text, Unit};
    /// let text = Text::words("The leg needs at least ").and(Length::inches(7.75)).and(".");
    /// assert_eq!(text.render(&Style::default()), "The leg needs at least 7 3/4 in.");
    /// assert_eq!(text.render(&Style::of(Unit::Millimeter)), "The leg needs at least 197 mm.");
    /// ```
    pub fn render(&self, style: &Style) -> String {
        self.joined(|quantity| in_sentence(quantity, style))
    }
    /// The sentence as it is read aloud.
    pub fn spoken(&self, style: &Style) -> String {
        self.joined(|quantity| speak_quantity(quantity, style))
    }

    fn joined(&self, shown: impl Fn(Quantity) -> String) -> String {
        let mut out = String::new();
        for bit in &self.0 {
            match bit {
                Bit::Words(words) => out.push_str(words),
                Bit::Quantity(quantity) => out.push_str(&shown(*quantity)),
            }
        }
        out
    }
}

/// A quantity as a sentence shows it: what is something, but less than a mark, is not said to be 0.
fn in_sentence(quantity: Quantity, style: &Style) -> String {
    let nothing = |shown: &str| shown.contains('0') && !shown.contains(|c| matches!(c, '1'..='9'));
    let shown = print_quantity(quantity, style);
    if quantity.number() == 0.0 || !nothing(&shown) {
        return shown;
    }
    let (finer, least) = match quantity {
        Quantity::Length(l) if style.unit.is_metric() => {
            (print_decimal(l, style.unit), "under 0.001 mm")
        }
        Quantity::Length(l) => (print_decimal(l, style.unit), "under 0.0001 in"),
        Quantity::Angle(a) => (format!("{}°", print_number(a.0, 4)), "under 0.0001°"),
        _ => return shown,
    };
    if nothing(&finer) {
        least.to_owned()
    } else {
        finer
    }
}

/// Words with a small first letter, to stand inside a sentence: "Opening width" is "opening width" there. Our own
/// words begin with plain letters; the tables of all the world's are 8 KB.
pub fn lower_first(words: &str) -> String {
    let mut out = words.to_owned();
    if let Some(first) = out.get_mut(..1) {
        first.make_ascii_lowercase();
    }
    out
}

/// Words with a capital, to begin a sentence.
pub fn upper_first(words: &str) -> String {
    let mut out = words.to_owned();
    if let Some(first) = out.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    out
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
