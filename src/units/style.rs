//! How a person wants quantities shown.

use super::{Length, Ticks};
use crate::MM_PER_INCH;
use crate::kept;

/// The unit that lengths are shown in, and in which a typed number without a unit counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Unit {
    /// `23 5/8 in`
    #[default]
    Inch,
    /// `1' 11 5/8"`; a typed number without a unit still counts as inches.
    FeetInches,
    /// `600 mm`
    Millimeter,
}
kept!(Unit: Inch = "inch", FeetInches = "feet_inches", Millimeter = "millimeter");

impl Unit {
    pub const ALL: [Unit; 3] = [Unit::Inch, Unit::FeetInches, Unit::Millimeter];

    /// The next one around: in, ft-in, mm, and in again.
    pub const fn next(self) -> Unit {
        match self {
            Unit::Inch => Unit::FeetInches,
            Unit::FeetInches => Unit::Millimeter,
            Unit::Millimeter => Unit::Inch,
        }
    }
    /// What stands on the button beside a value.
    pub const fn label(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::FeetInches => "ft-in",
            Unit::Millimeter => "mm",
        }
    }
    /// Whether lengths are shown in millimeters.
    pub const fn is_metric(self) -> bool {
        matches!(self, Unit::Millimeter)
    }
}

/// The unit of the numbers in a JSON question or answer. Such numbers are never rounded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum DoorUnit {
    #[default]
    In,
    Mm,
}

impl DoorUnit {
    /// Inches in one of this unit: 1, or 1/25.4.
    pub const fn inches_per_unit(self) -> f64 {
        match self {
            DoorUnit::In => 1.0,
            DoorUnit::Mm => 1.0 / MM_PER_INCH,
        }
    }
    /// A number in this unit, as a length.
    pub const fn length(self, value: f64) -> Length {
        match self {
            DoorUnit::In => Length::inches(value),
            DoorUnit::Mm => Length::mm(value),
        }
    }
    /// A length, as a number in this unit.
    pub const fn value(self, length: Length) -> f64 {
        match self {
            DoorUnit::In => length.as_inches(),
            DoorUnit::Mm => length.as_mm(),
        }
    }
}

/// The finest mark that a maker works to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Fraction {
    Eighth,
    #[default]
    Sixteenth,
    ThirtySecond,
    SixtyFourth,
    HalfMm,
    Mm,
}
kept!(Fraction: Eighth = "eighth", Sixteenth = "sixteenth", ThirtySecond = "thirty_second", SixtyFourth = "sixty_fourth", HalfMm = "half_mm", Mm = "mm");

impl Fraction {
    pub const ALL: [Fraction; 6] = [
        Fraction::Eighth,
        Fraction::Sixteenth,
        Fraction::ThirtySecond,
        Fraction::SixtyFourth,
        Fraction::HalfMm,
        Fraction::Mm,
    ];

    /// Its length, exact: 1/16 in is 127,000 ticks.
    pub const fn step(self) -> Ticks {
        match self {
            Fraction::Eighth => Ticks::sixty_fourths(8),
            Fraction::Sixteenth => Ticks::sixty_fourths(4),
            Fraction::ThirtySecond => Ticks::sixty_fourths(2),
            Fraction::SixtyFourth => Ticks::sixty_fourths(1),
            Fraction::HalfMm => Ticks(Ticks::PER_MM / 2),
            Fraction::Mm => Ticks::mm(1),
        }
    }
    /// Whether it divides the millimeter rather than the inch.
    pub const fn is_metric(self) -> bool {
        matches!(self, Fraction::HalfMm | Fraction::Mm)
    }
    /// The fraction to use when lengths are shown in `unit`: itself where it belongs to that unit,
    /// otherwise the one there whose step is nearest (1/8, 1/16, 1/32 ↔ 1 mm; 1/64 ↔ 0.5 mm).
    pub const fn suited_to(self, unit: Unit) -> Fraction {
        match (self, unit.is_metric()) {
            (Fraction::Mm, false) => Fraction::ThirtySecond,
            (Fraction::HalfMm, false) => Fraction::SixtyFourth,
            (Fraction::SixtyFourth, true) => Fraction::HalfMm,
            (Fraction::Eighth | Fraction::Sixteenth | Fraction::ThirtySecond, true) => Fraction::Mm,
            (own, _) => own,
        }
    }
    /// The finest of its system.
    pub const fn finest(self) -> Fraction {
        if self.is_metric() { Fraction::HalfMm } else { Fraction::SixtyFourth }
    }
    /// What stands in a list of choices.
    pub const fn label(self) -> &'static str {
        match self {
            Fraction::Eighth => "1/8 in",
            Fraction::Sixteenth => "1/16 in",
            Fraction::ThirtySecond => "1/32 in",
            Fraction::SixtyFourth => "1/64 in",
            Fraction::HalfMm => "0.5 mm",
            Fraction::Mm => "1 mm",
        }
    }
}

/// How quantities are shown to one person: on screen, on paper, and within sentences.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Style {
    pub unit: Unit,
    /// Lengths go to this mark; see [`Fraction::suited_to`] where it is not of the shown unit.
    pub fraction: Fraction,
    /// Whether a remainder of a quarter of the fraction or more is said as *strong* or *shy*.
    pub strong_shy: bool,
    /// Lengths as decimals instead of marks on a tape.
    pub decimals: bool,
}

impl Default for Style {
    /// Inches to sixteenths, strong and shy said.
    fn default() -> Style {
        Style { unit: Unit::Inch, fraction: Fraction::Sixteenth, strong_shy: true, decimals: false }
    }
}

impl Style {
    /// The given unit with the fraction that suits it.
    pub fn of(unit: Unit) -> Style {
        Style { unit, fraction: Fraction::Sixteenth.suited_to(unit), ..Style::default() }
    }
    /// The fraction that lengths are in fact shown to.
    pub const fn shown_fraction(&self) -> Fraction {
        self.fraction.suited_to(self.unit)
    }
}
