//! Lengths, angles, areas, money: as types, as typed by a person, and as shown to one.
//!
//! A length that is typed, marked or printed is a whole number of [`Ticks`]; geometry works in
//! [`Length`] (f64 inches) and quantises nothing. Rounding is a named value ([`Fraction`],
//! [`Rounding`]) and happens once, where geometry becomes something to mark or to read.

pub mod kept;
pub mod num;
pub mod record;

mod angle;
mod currency;
mod error;
mod field;
mod kind;
mod length;
mod money;
mod parse;
mod print;
mod quantity;
mod rational;
mod rounding;
mod scan;
mod style;
mod tape;
mod text;
mod ticks;
mod typed;

pub use angle::Angle;
pub use currency::Currency;
pub use error::{ParseError, Why};
pub use field::length_text;
pub use kind::Kind;
pub use length::{Area, Length, MM_PER_INCH};
pub use money::Money;
pub use print::{
    AngleStep, Printed, Remainder, grouped, print_angle, print_decimal, print_length, print_number,
    print_quantity, print_ticks, speak_quantity,
};
pub use quantity::Quantity;
pub use rounding::{Rounding, Way};
pub use style::{DoorUnit, Fraction, Style, Unit};
pub use tape::{Tape, TapeLine};
pub use text::{Bit, Said, Text, holes, lower_first, upper_first};
pub use ticks::Ticks;
pub use typed::{
    Parsed, ParsedAngle, ParsedFraction, goes_on, parse_angle, parse_count, parse_fraction,
    parse_length, parse_length_from, parse_mass, parse_number,
};
