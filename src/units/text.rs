//! Sentences with quantities in them, which speak the reader's own unit.
//!
//! One quantity in place of another is a bit of a sentence (`Bit::Instead`): where both read alike in the reader's own
//! style they are told in 1/64 in or 0.5 mm; where those do too, it says "a hair less than 44 in".

use super::{Quantity, Style, print_number, print_quantity, speak_quantity};
use std::borrow::Cow;

/// One piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Bit {
    Words(Cow<'static, str>),
    Quantity(Quantity),
    /// One quantity in place of another: "43 3/4 in instead of 44 in"; where both read alike, "a hair less than 44 in".
    Instead(Quantity, Quantity),
}

/// Two quantities this near, by their size, differ by rounding only.
const SAME: f64 = 1e-9;
/// The longest length that is told by a finer mark than the maker's, in.
const SMALL: f64 = 1.0 / 8.0;
/// A change of a length that no tape shows, in.
const HAIR: f64 = 1.0 / 128.0;

/// What stands between the words of a sentence that is being made (`say!`).
#[derive(Clone, Copy, Debug)]
pub enum Said<'a> {
    Quantity(Quantity),
    Words(&'a str),
    Instead(Quantity, Quantity),
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
    /// A sentence that has each of `values`, in order, where a `{}` stands in `words`. Made for `say!`: there are
    /// hundreds of sentences, and each is to cost no more than this call.
    #[inline(never)]
    pub fn said(words: &'static str, values: &[Said]) -> Text {
        let mut bits = Vec::new();
        let mut values = values.iter();
        for (i, words) in words.split("{}").enumerate() {
            if i > 0 {
                bits.extend(values.next().map(|said| match *said {
                    Said::Quantity(quantity) => Bit::Quantity(quantity),
                    Said::Words(words) => Bit::Words(Cow::Owned(words.to_owned())),
                    Said::Instead(is, was) => Bit::Instead(is, was),
                }));
            }
            if !words.is_empty() {
                bits.push(words.into());
            }
        }
        Text(bits)
    }
    /// The sentence continued with more words or a quantity.
    #[inline(never)]
    pub fn and(mut self, bit: impl Into<Bit>) -> Text {
        self.push(bit);
        self
    }
    /// Adds words or a quantity.
    pub fn push(&mut self, bit: impl Into<Bit>) {
        self.0.push(bit.into());
    }
    /// Adds a sentence.
    pub fn extend(&mut self, more: Text) {
        self.0.extend(more.0);
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// The sentence with its quantities shown in the reader's own way.
    ///
    /// ```
    /// use offsquare_units::{Length, Style, Text, Unit};
    /// let text = Text::words("The leg needs at least ").and(Length::inches(7.75)).and(".");
    /// assert_eq!(text.render(&Style::default()), "The leg needs at least 7 3/4 in.");
    /// assert_eq!(text.render(&Style::of(Unit::Millimeter)), "The leg needs at least 197 mm.");
    /// ```
    pub fn render(&self, style: &Style) -> String {
        self.joined(style, in_sentence)
    }
    /// The sentence as it is read aloud.
    pub fn spoken(&self, style: &Style) -> String {
        self.joined(style, speak_quantity)
    }

    fn joined(&self, style: &Style, shown: fn(Quantity, &Style) -> String) -> String {
        let mut out = String::new();
        for bit in &self.0 {
            match bit {
                Bit::Words(words) => out.push_str(words),
                Bit::Quantity(quantity) => out.push_str(&shown(*quantity, style)),
                Bit::Instead(is, was) => out.push_str(&instead(*is, *was, style, shown)),
            }
        }
        out
    }
}

/// One quantity in place of another, in a fraction that tells them apart and without *strong* and *shy*, which are no
/// sizes to compare: "43 63/64 in instead of 44 in". Where no tape does: "a hair less than 44 in", and what did not
/// change is "44 in as before".
fn instead(
    is: Quantity,
    was: Quantity,
    style: &Style,
    shown: fn(Quantity, &Style) -> String,
) -> String {
    let more = is.number() - was.number();
    if more.abs() <= SAME * was.number().abs().max(1.0) {
        return [&shown(was, style), " as before"].concat();
    }
    let plain = Style { strong_shy: false, ..*style };
    let fine = Style { fraction: style.shown_fraction().finest(), ..plain };
    let is_length = matches!(is, Quantity::Length(_));
    if !is_length || more.abs() >= HAIR {
        for style in [&plain, &fine] {
            let (new, old) = (shown(is, style), shown(was, style));
            if new != old {
                return [&new, " instead of ", &old].concat();
            }
        }
    }
    // What stands on a mark of the maker's own is told by that.
    let on_mark = shown(was, style) == shown(was, &plain);
    let side = if more < 0.0 { "less" } else { "more" };
    ["a hair ", side, " than ", &shown(was, if on_mark { &plain } else { &fine })].concat()
}

/// A quantity as a sentence shows it. A small length is told by the mark that it stands on ("1/32 in", not "1/16 in
/// shy"), and what is something, but less than a mark, is not said to be 0.
fn in_sentence(quantity: Quantity, style: &Style) -> String {
    let nothing = |shown: &str| shown.contains('0') && !shown.contains(|c| matches!(c, '1'..='9'));
    let shown = print_quantity(quantity, style);
    let fine = Style { fraction: style.shown_fraction().finest(), strong_shy: false, ..*style };
    if let Quantity::Length(l) = quantity
        && !style.unit.is_metric()
        && l.0.abs() <= SMALL
    {
        let sixty_fourths = l.0 * 64.0;
        let on_mark = (sixty_fourths - crate::num::round_half_up(sixty_fourths)).abs() < SAME;
        if on_mark {
            return print_quantity(quantity, &fine);
        }
    }
    if quantity.number() == 0.0 || !nothing(&shown) {
        return shown;
    }
    let (finer, least) = match quantity {
        Quantity::Length(l) if style.unit.is_metric() => {
            (format!("{} mm", print_number(l.as_mm(), 1)), "under 0.1 mm")
        }
        Quantity::Length(_) => (print_quantity(quantity, &fine), "under 1/64 in"),
        // An angle below this differs from none by rounding.
        Quantity::Angle(a) => (format!("{}°", print_number(a.0, 4)), shown.as_str()),
        _ => return shown,
    };
    if nothing(&finer) { least.to_owned() } else { finer }
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
impl<Q: Copy + Into<Quantity>> From<&Q> for Said<'_> {
    fn from(quantity: &Q) -> Self {
        Said::Quantity((*quantity).into())
    }
}
impl<'a> From<&Said<'a>> for Said<'a> {
    fn from(said: &Said<'a>) -> Self {
        *said
    }
}
impl<'a> From<&'a String> for Said<'a> {
    fn from(words: &'a String) -> Self {
        Said::Words(words)
    }
}
impl<'a> From<&&'a str> for Said<'a> {
    fn from(words: &&'a str) -> Self {
        Said::Words(words)
    }
}
impl<'a> From<&'a Cow<'_, str>> for Said<'a> {
    fn from(words: &'a Cow<'_, str>) -> Self {
        Said::Words(words)
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

/// A sentence with quantities in it: `say!("Needs at least {}.", length)`. A hole takes whatever a
/// [`Said`] is made from, and reads it by reference; the whole sentence is one call.
///
/// ```
/// use offsquare_units::{Length, Style, say};
/// let text = say!("Each foot lands {} out.", Length(2.5));
/// assert_eq!(text.render(&Style::default()), "Each foot lands 2 1/2 in out.");
/// ```
#[macro_export]
macro_rules! say {
    (@ $value:expr) => { () };
    ($words:literal $(,)?) => { $crate::Text::words($words) };
    ($words:literal, $($value:expr),+ $(,)?) => {{
        const { assert!($crate::holes($words) == [$($crate::say!(@ $value)),+].len(), "a hole a value") };
        $crate::Text::said($words, &[$($crate::Said::from(&$value)),+])
    }};
    ($value:expr) => { $crate::Text::said("{}", &[$crate::Said::from(&$value)]) };
}

/// How many holes a sentence has: `{}`.
pub const fn holes(words: &str) -> usize {
    let (bytes, mut found, mut at) = (words.as_bytes(), 0, 1);
    while at < bytes.len() {
        if bytes[at - 1] == b'{' && bytes[at] == b'}' {
            found += 1;
        }
        at += 1;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Angle, Fraction, Length, Unit};

    #[test]
    fn what_reads_alike_is_said_as_a_hair() {
        let said = |is: f64, was: f64, style: &Style| {
            let of = |inches| Quantity::Length(Length(inches));
            Text(vec![Bit::Instead(of(is), of(was))]).render(style)
        };
        let sixteenths = Style::default();
        assert_eq!(said(43.75, 44.0, &sixteenths), "43 3/4 in instead of 44 in");
        // Strong and shy are no sizes to compare: what reads alike is told in 1/64.
        assert_eq!(said(44.0 - 1.0 / 64.0, 44.0, &sixteenths), "43 63/64 in instead of 44 in");
        assert_eq!(said(44.02, 44.0, &sixteenths), "44 1/64 in instead of 44 in");
        // An edge that stood off the mark, and did not change, or by less than a tape shows: 23.796 is 23 51/64.
        assert_eq!(said(23.79, 23.79 + 1e-12, &sixteenths), "23 13/16 in shy as before");
        assert_eq!(said(23.795, 23.796, &sixteenths), "a hair less than 23 51/64 in");
        assert_eq!(said(43.993, 44.0, &sixteenths), "a hair less than 44 in");
        // Between "44" and "44 strong" there is always a border; a change too small for a tape is none.
        assert_eq!(said(44.016, 44.0155, &sixteenths), "a hair more than 44 in");
        let eighths = Style { fraction: Fraction::Eighth, strong_shy: false, ..sixteenths };
        assert_eq!(said(44.04, 44.0, &eighths), "44 3/64 in instead of 44 in");
        // The finest is 0.5 mm: 0.2 mm less still reads 600.
        let mm = Style::of(Unit::Millimeter);
        let at = |mm: f64| mm / crate::MM_PER_INCH;
        assert_eq!(said(at(599.5), at(600.0), &mm), "599.5 mm instead of 600 mm");
        assert_eq!(said(at(599.75), at(600.0), &mm), "a hair less than 600 mm");
        assert_eq!(said(at(599.79), at(600.0), &mm), "a hair less than 600 mm");
        let degrees =
            |is, was| Bit::Instead(Quantity::Angle(Angle(is)), Quantity::Angle(Angle(was)));
        let angle = Text(vec![degrees(30.02, 30.0)]).render(&sixteenths);
        assert_eq!(angle, "a hair more than 30.0°");
    }

    #[test]
    fn small_lengths_are_told_by_their_own_mark() {
        let said = |inches: f64, style: &Style| {
            Text(vec![Bit::Quantity(Quantity::Length(Length(inches)))]).render(style)
        };
        let sixteenths = Style::default();
        for (inches, words) in [
            (1.0 / 32.0, "1/32 in"),
            (3.0 / 64.0, "3/64 in"),
            (1.0 / 16.0, "1/16 in"),
            (0.0148, "1/64 in"),
            (0.005, "under 1/64 in"),
            (0.0, "0 in"),
            (0.08, "1/16 in strong"),
            (2.0 + 1.0 / 32.0, "2 1/16 in shy"),
        ] {
            assert_eq!(said(inches, &sixteenths), words);
        }
        let mm = Style::of(Unit::Millimeter);
        assert_eq!(said(0.4 / 25.4, &mm), "0.4 mm");
        assert_eq!(said(0.01 / 25.4, &mm), "under 0.1 mm");
    }
}
