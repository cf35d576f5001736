//! Lengths, angles, areas, money: as types, as typed by a person, and as shown to one.
//!
//! A length that is typed, marked or printed is a whole number of [`Ticks`]; geometry works in
//! [`Length`] (f64 inches) and quantises nothing. Rounding is a named value ([`Fraction`],
//! [`Rounding`]) and happens once, where geometry becomes something to mark or to read.

mod angle;
mod length;
mod money;
mod style;
mod text;
mod ticks;

pub use angle::Angle;
pub use length::{Area, Length};
pub use money::Money;
pub use style::{DoorUnit, Fraction, Style, Unit};
pub use text::{Bit, Quantity, Text};
pub use ticks::{Rounding, Ticks, Way};
