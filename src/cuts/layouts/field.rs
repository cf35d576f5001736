//! Fields as layouts declare them: what kind, by a constructor; what else is special, by a word behind it.

use crate::inputs::{Choice, Field, Kind, Need, Range, Start};

/// A length that must be given and is more than nothing; it starts at so many inches or millimeters.
pub const fn length(key: &'static str, label: &'static str, inches: f64, mm: f64) -> Field {
    Field { need: Need::Required, ..maybe_length(key, label).start(inches, mm) }
}

/// A length, more than nothing, that may be left out.
pub const fn maybe_length(key: &'static str, label: &'static str) -> Field {
    Field { key, label, kind: Kind::Length(Range::Positive), ..Field::PLAIN }
}

/// A length, nothing or more, that is so many inches or millimeters unless changed.
pub const fn standing_length(
    key: &'static str,
    label: &'static str,
    inches: f64,
    mm: f64,
) -> Field {
    Field { need: Need::Length(inches), ..maybe_length(key, label).or_zero().start(inches, mm) }
}

/// An angle that must be given, from `least` to `most` degrees.
pub const fn angle(
    key: &'static str,
    label: &'static str,
    (least, most): (f64, f64),
    start: f64,
) -> Field {
    let start = Start::Number(start);
    Field { need: Need::Required, start, ..maybe_angle(key, label, (least, most)) }
}

/// An angle, from `least` to `most` degrees, that may be left out.
pub const fn maybe_angle(
    key: &'static str,
    label: &'static str,
    (least, most): (f64, f64),
) -> Field {
    Field { key, label, kind: Kind::Angle(least, most), ..Field::PLAIN }
}

/// A whole number that must be given.
pub const fn count(
    key: &'static str,
    label: &'static str,
    (least, most): (u32, u32),
    start: f64,
) -> Field {
    let (kind, start) = (Kind::Count(least, most), Start::Number(start));
    Field { key, label, kind, need: Need::Required, start, ..Field::PLAIN }
}

/// One choice [`Field::of`] several; the given one stands unless changed.
pub const fn choice(key: &'static str, label: &'static str, standing: &'static str) -> Field {
    let (need, start) = (Need::Choice(standing), Start::Choice(standing));
    Field { key, label, need, start, ..Field::PLAIN }
}

/// A choice's key and words.
pub const fn option(key: &'static str, label: &'static str) -> Choice {
    Choice { key, label }
}

/// The fields of several lists, in their order: `&join::<12>(&[SIZES, &[GRAIN]])`.
pub const fn join<const N: usize>(lists: &[&[Field]]) -> [Field; N] {
    let mut all = [Field::PLAIN; N];
    let (mut list, mut at, mut place) = (0, 0, 0);
    while list < lists.len() {
        if at < lists[list].len() {
            all[place] = lists[list][at];
            (at, place) = (at + 1, place + 1);
        } else {
            (list, at) = (list + 1, 0);
        }
    }
    assert!(place == N, "as many fields as told");
    all
}

impl Field {
    /// The same field with a sentence on where to measure it.
    pub const fn help(self, help: &'static str) -> Field {
        Field { help, ..self }
    }
    /// The same field, one of these choices.
    pub const fn of(self, choices: &'static [Choice]) -> Field {
        Field { kind: Kind::Choice(choices), ..self }
    }
    /// The same field, of no length too.
    pub const fn or_zero(self) -> Field {
        Field { kind: Kind::Length(Range::NotNegative), ..self }
    }
    /// The same field, on either side of nothing.
    pub const fn either_side(self) -> Field {
        Field { kind: Kind::Length(Range::Any), ..self }
    }
    /// The same field, which starts at so many inches or millimeters.
    pub const fn start(self, inches: f64, mm: f64) -> Field {
        Field { start: Start::Length(inches, mm), ..self }
    }
    /// The same field, which is this number of degrees or pieces unless changed.
    pub const fn standing(self, number: f64) -> Field {
        Field { need: Need::Number(number), ..self }
    }
    /// The same field, empty at first.
    pub const fn empty(self) -> Field {
        Field { start: Start::Empty, ..self }
    }
    /// The same field, which may be cleared.
    pub const fn open(self) -> Field {
        Field { need: Need::Optional, ..self }
    }
    /// The same field, left out unless given.
    pub const fn optional(self) -> Field {
        self.open().empty()
    }
    /// The same field, free to give where something else is off.
    pub const fn free(self) -> Field {
        Field { free: true, ..self }
    }
    /// The same field, the size that other forms know as `meaning`.
    pub const fn meaning(self, meaning: &'static str) -> Field {
        Field { meaning, ..self }
    }
}
