//! Fields as layouts declare them, in one line each.

use crate::inputs::{Choice, Field, Kind, Need, Range, Start};

/// A length that must be given and is more than nothing; it starts at so many inches or millimeters.
pub const fn length(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    inches: f64,
    mm: f64,
) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Length(Range::Positive),
        need: Need::Required,
        start: Start::Length(inches, mm),
        ..Field::PLAIN
    }
}

/// A length, more than nothing, that may be left out.
pub const fn maybe_length(key: &'static str, label: &'static str, help: &'static str) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Length(Range::Positive),
        need: Need::Optional,
        start: Start::Empty,
        ..Field::PLAIN
    }
}

/// An angle that must be given, from `least` to `most` degrees.
pub const fn angle(
    key: &'static str,
    label: &'static str,
    help: &'static str,
    least: f64,
    most: f64,
    start: f64,
) -> Field {
    Field {
        key,
        label,
        help,
        kind: Kind::Angle(least, most),
        need: Need::Required,
        start: Start::Number(start),
        ..Field::PLAIN
    }
}

/// One of several choices; the given one stands unless changed.
pub const fn choice(
    key: &'static str,
    label: &'static str,
    choices: &'static [Choice],
    standing: &'static str,
) -> Field {
    Field {
        key,
        label,
        help: "",
        kind: Kind::Choice(choices),
        need: Need::Choice(standing),
        start: Start::Choice(standing),
        ..Field::PLAIN
    }
}

/// A choice's key and words.
pub const fn option(key: &'static str, label: &'static str) -> Choice {
    Choice { key, label }
}

impl Field {
    /// The same field with any length taken, or none too.
    pub const fn ranged(self, range: Range) -> Field {
        Field { kind: Kind::Length(range), ..self }
    }
    /// The same field, left out unless given.
    pub const fn optional(self) -> Field {
        Field { need: Need::Optional, start: Start::Empty, ..self }
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
