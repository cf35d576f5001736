//! What a field holds: the units that may be typed in it, and its limits.

use super::Unit;
use super::rational::Rational;

/// The dimension that a text is read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// In ticks; a number without a unit counts in the given unit.
    Length(Unit),
    /// In degrees.
    Angle,
    /// In kilograms; a number without a unit is pounds, or kilograms where millimeters are used.
    Mass(Unit),
    /// In cents; a number without a sign is dollars.
    Money,
    /// The text without its sign, read as an amount with that many decimals.
    Amount(u32),
    /// A plain number.
    Number,
    /// A whole number, 0 or more.
    Count,
}

/// Units that may stand one after the other, larger first (`1 ft 3 in`), are of one family.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Family {
    Imperial,
    Metric,
    Degree,
    Pound,
    Kilogram,
    Money,
}

/// A unit as it may be typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TypedUnit {
    pub family: Family,
    /// The larger unit has the higher rank.
    pub rank: u8,
    num: i64,
    den: i64,
}

impl TypedUnit {
    const fn new(family: Family, rank: u8, num: i64, den: i64) -> TypedUnit {
        TypedUnit { family, rank, num, den }
    }
    /// How many of the kind's base (tick, degree, kilogram, cent) it is.
    pub(super) fn factor(self) -> Rational {
        Rational::new(self.num.into(), self.den.into()).unwrap_or(Rational::whole(1))
    }
    /// The unit that a number without one has after this one: after feet, inches.
    pub(super) fn implied_next(self) -> Option<TypedUnit> {
        (self == FOOT).then_some(INCH)
    }
}

pub(super) const INCH: TypedUnit = TypedUnit::new(Family::Imperial, 0, 2_032_000, 1);
pub(super) const FOOT: TypedUnit = TypedUnit::new(Family::Imperial, 1, 12 * 2_032_000, 1);
const YARD: TypedUnit = TypedUnit::new(Family::Imperial, 2, 36 * 2_032_000, 1);
const MM: TypedUnit = TypedUnit::new(Family::Metric, 0, 80_000, 1);
const CM: TypedUnit = TypedUnit::new(Family::Metric, 1, 800_000, 1);
const METER: TypedUnit = TypedUnit::new(Family::Metric, 2, 80_000_000, 1);
pub(super) const DEGREE: TypedUnit = TypedUnit::new(Family::Degree, 2, 1, 1);
pub(super) const MINUTE: TypedUnit = TypedUnit::new(Family::Degree, 1, 1, 60);
pub(super) const SECOND: TypedUnit = TypedUnit::new(Family::Degree, 0, 1, 3600);
// The pound is 0.45359237 kg exactly (international agreement of 1959), the ounce a sixteenth of it.
const POUND: TypedUnit = TypedUnit::new(Family::Pound, 1, 45_359_237, 100_000_000);
const OUNCE: TypedUnit = TypedUnit::new(Family::Pound, 0, 45_359_237, 1_600_000_000);
const KILOGRAM: TypedUnit = TypedUnit::new(Family::Kilogram, 1, 1, 1);
const GRAM: TypedUnit = TypedUnit::new(Family::Kilogram, 0, 1, 1000);
pub(super) const DOLLAR: TypedUnit = TypedUnit::new(Family::Money, 1, 100, 1);
pub(super) const CENT: TypedUnit = TypedUnit::new(Family::Money, 0, 1, 1);

const LENGTH_WORDS: &[(&str, TypedUnit)] = &[
    ("in", INCH),
    ("ins", INCH),
    ("inch", INCH),
    ("inches", INCH),
    ("ft", FOOT),
    ("foot", FOOT),
    ("feet", FOOT),
    ("yd", YARD),
    ("yds", YARD),
    ("yard", YARD),
    ("yards", YARD),
    ("mm", MM),
    ("millimeter", MM),
    ("millimeters", MM),
    ("millimetre", MM),
    ("millimetres", MM),
    ("cm", CM),
    ("centimeter", CM),
    ("centimeters", CM),
    ("centimetre", CM),
    ("centimetres", CM),
    ("m", METER),
    ("meter", METER),
    ("meters", METER),
    ("metre", METER),
    ("metres", METER),
];
const ANGLE_WORDS: &[(&str, TypedUnit)] = &[
    ("deg", DEGREE),
    ("degree", DEGREE),
    ("degrees", DEGREE),
    ("min", MINUTE),
    ("minute", MINUTE),
    ("minutes", MINUTE),
    ("sec", SECOND),
    ("second", SECOND),
    ("seconds", SECOND),
];
const MASS_WORDS: &[(&str, TypedUnit)] = &[
    ("lb", POUND),
    ("lbs", POUND),
    ("pound", POUND),
    ("pounds", POUND),
    ("oz", OUNCE),
    ("ounce", OUNCE),
    ("ounces", OUNCE),
    ("kg", KILOGRAM),
    ("kilogram", KILOGRAM),
    ("kilograms", KILOGRAM),
    ("g", GRAM),
    ("gram", GRAM),
    ("grams", GRAM),
];
const MONEY_WORDS: &[(&str, TypedUnit)] = &[
    ("dollar", DOLLAR),
    ("dollars", DOLLAR),
    ("usd", DOLLAR),
    ("c", CENT),
    ("ct", CENT),
    ("cent", CENT),
    ("cents", CENT),
];

impl Kind {
    /// The unit that this word names here, in any case of letters.
    pub(super) fn unit(self, word: &str) -> Option<TypedUnit> {
        let words = match self {
            Kind::Length(_) => LENGTH_WORDS,
            Kind::Angle => ANGLE_WORDS,
            Kind::Mass(_) => MASS_WORDS,
            Kind::Money => MONEY_WORDS,
            Kind::Amount(_) | Kind::Number | Kind::Count => &[],
        };
        words.iter().find(|(name, _)| name.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
    }
    /// The unit of a number without one; none where numbers have no unit.
    pub(super) fn default_unit(self) -> Option<TypedUnit> {
        match self {
            Kind::Length(Unit::Millimeter) => Some(MM),
            Kind::Length(Unit::Inch | Unit::FeetInches) => Some(INCH),
            Kind::Angle => Some(DEGREE),
            Kind::Mass(Unit::Millimeter) => Some(KILOGRAM),
            Kind::Mass(Unit::Inch | Unit::FeetInches) => Some(POUND),
            Kind::Money => Some(DOLLAR),
            Kind::Amount(_) | Kind::Number | Kind::Count => None,
        }
    }
    /// The mark ' or ′: feet, or minutes of arc.
    pub(super) fn single_mark(self) -> Option<TypedUnit> {
        match self {
            Kind::Length(_) => Some(FOOT),
            Kind::Angle => Some(MINUTE),
            _ => None,
        }
    }
    /// The mark " or ″: inches, or seconds of arc.
    pub(super) fn double_mark(self) -> Option<TypedUnit> {
        match self {
            Kind::Length(_) => Some(INCH),
            Kind::Angle => Some(SECOND),
            _ => None,
        }
    }
    /// Whether one comma before three digits can only mean thousands: money has two places, unless it
    /// has three, and counts have none.
    pub(super) fn groups_thousands(self) -> bool {
        match self {
            Kind::Amount(places) => places != 3,
            kind => matches!(kind, Kind::Money | Kind::Count),
        }
    }
    /// The largest size that is taken, in the base; `ParseError` says it in words.
    pub(super) fn limit(self) -> Rational {
        Rational::whole(match self {
            Kind::Length(_) => 120_000 * 2_032_000,
            Kind::Angle => 360,
            Kind::Mass(_) => 100_000,
            Kind::Money => 1_000_000_000 * 100,
            Kind::Amount(_) | Kind::Number | Kind::Count => 1_000_000_000,
        })
    }
    /// The step that a number typed without fraction or decimals counts as, in the base.
    pub(super) fn whole_step(self, unit: TypedUnit) -> Rational {
        let half = || Rational::new(1, 2).unwrap_or(Rational::ZERO);
        match unit.family {
            Family::Imperial => Rational::whole(2_032_000 / 16),
            Family::Metric => Rational::whole(80_000),
            Family::Degree => half(),
            Family::Pound | Family::Kilogram | Family::Money => unit.factor(),
        }
    }
}
