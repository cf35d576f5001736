//! What a field makes of its text: a length, an angle, a number.

use super::error::{ParseError, Why};
use super::kind::Kind;
use super::parse::{self, Named, Reading};
use super::rational::Rational;
use super::{Angle, Length, Ticks, Unit};

/// A length that was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parsed {
    /// Its value: that of `ticks` where it is a whole number of them, as every n/64 in, n/1000 in
    /// and mm to four places are; otherwise (a third of an inch) the nearest f64.
    pub length: Length,
    /// To the nearest tick, an exact half away from zero.
    pub ticks: Ticks,
    /// The step to which it was typed. A whole number counts as 1/16 in or 1 mm, a fraction n/d as
    /// 1/d in, a decimal as its last digit; feet, meters, centimeters count as no coarser than whole
    /// inches or millimeters do; `1' 11 5/8"` has the step of its finest part. A sum has the step of
    /// its coarsest size; a plain number beside a size with a unit, and a divisor, do not count.
    pub step: Ticks,
    /// Whether it was worked out from more than one value.
    pub is_sum: bool,
    /// The unit that was typed, when it was one only.
    pub unit: Option<Unit>,
    reading: Reading,
}

/// Reads a length or a sum of lengths. A number without a unit counts in `default` (inches for
/// feet-and-inches). No length below 0 is refused: the field has its own limits. Beyond 10,000 ft
/// there is no answer.
///
/// ```
/// use offsquare_units::{Length, Ticks, Unit, parse_length};
/// let typed = parse_length("33 - 2 * 2 3/4", Unit::Inch).unwrap();
/// assert_eq!(typed.length, Length::inches(27.5));
/// assert!(typed.is_sum);
/// let typed = parse_length("60 cm", Unit::Inch).unwrap();
/// assert_eq!(typed.ticks, Ticks::mm(600));
/// ```
pub fn parse_length(text: &str, default: Unit) -> Result<Parsed, ParseError> {
    let kind = Kind::Length(default);
    length(parse::read(text, kind)?, kind)
}

/// Reads a text that goes on from an earlier length, as on an adding machine: `+ 3/4`, `× 2`,
/// `- 1 1/2`. Works with the exact earlier value, not with the one shown.
///
/// ```
/// use offsquare_units::{Length, Unit, goes_on, parse_length, parse_length_from};
/// let third = parse_length("10 / 3", Unit::Inch).unwrap();
/// assert!(goes_on("× 3"));
/// let whole = parse_length_from(&third, "× 3", Unit::Inch).unwrap();
/// assert_eq!(whole.length, Length::inches(10.0));
/// ```
pub fn parse_length_from(
    earlier: &Parsed,
    text: &str,
    default: Unit,
) -> Result<Parsed, ParseError> {
    let kind = Kind::Length(default);
    length(parse::read_on(earlier.reading, text, kind)?, kind)
}

/// Whether a text begins with a sign that needs an earlier length: + × ÷, or a minus with a space
/// after it (`-2` is a length below 0 instead).
pub fn goes_on(text: &str) -> bool {
    parse::goes_on(text, Kind::Length(Unit::Inch))
}

fn length(reading: Reading, kind: Kind) -> Result<Parsed, ParseError> {
    let fits = |r: Rational| r.nearest().map(Ticks).ok_or(ParseError { kind, why: Why::TooLarge });
    let ticks = fits(reading.value)?;
    let per_inch = Rational::whole(Ticks::PER_INCH.into());
    let length = match reading.value.div(per_inch) {
        Some(inches) if reading.value.as_whole().is_none() => Length(inches.to_f64()),
        _ => ticks.to_length(),
    };
    let unit = match reading.named {
        Named { inches: true, feet: false, metric: false } => Some(Unit::Inch),
        Named { feet: true, metric: false, .. } => Some(Unit::FeetInches),
        Named { inches: false, feet: false, metric: true } => Some(Unit::Millimeter),
        _ => None,
    };
    Ok(Parsed {
        length,
        ticks,
        step: Ticks(fits(reading.step)?.0.max(1)),
        is_sum: reading.is_sum,
        unit,
        reading,
    })
}

/// An angle that was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ParsedAngle {
    /// The f64 nearest to what was typed.
    pub angle: Angle,
    /// The step to which it was typed, never above 1/2°: whole degrees count as that.
    pub step: Angle,
    /// Whether it was worked out from more than one value.
    pub is_sum: bool,
}

/// Reads an angle in degrees, with minutes and seconds if wanted, or a sum of angles. Beyond ±360°
/// there is no answer.
///
/// ```
/// use offsquare_units::{Angle, parse_angle};
/// assert_eq!(parse_angle("34° 30'").unwrap().angle, Angle(34.5));
/// assert_eq!(parse_angle("90 - 34.5").unwrap().angle, Angle(55.5));
/// ```
pub fn parse_angle(text: &str) -> Result<ParsedAngle, ParseError> {
    let reading = parse::read(text, Kind::Angle)?;
    Ok(ParsedAngle {
        angle: Angle(reading.value.to_f64()),
        step: Angle(reading.step.to_f64()),
        is_sum: reading.is_sum,
    })
}

/// A number that was typed, as an exact fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ParsedFraction {
    pub over: i128,
    /// Above 0, and without a divisor in common with `over`.
    pub under: i128,
    /// Whether it was worked out from more than one value.
    pub is_sum: bool,
}

impl ParsedFraction {
    /// Times a fraction; none where that is too large.
    pub(super) fn times(self, by: i64, under: i64) -> Option<ParsedFraction> {
        let value =
            Rational::new(self.over, self.under)?.mul(Rational::new(by.into(), under.into())?)?;
        let (over, under) = value.parts();
        Some(ParsedFraction { over, under, ..self })
    }
}

fn fraction(reading: Reading) -> ParsedFraction {
    let (over, under) = reading.value.parts();
    ParsedFraction { over, under, is_sum: reading.is_sum }
}

/// Reads a plain number, or a sum of numbers, and loses nothing of it.
///
/// ```
/// use offsquare_units::parse_fraction;
/// let third = parse_fraction("1 / 3").unwrap();
/// assert_eq!((third.over, third.under), (1, 3));
/// ```
pub fn parse_fraction(text: &str) -> Result<ParsedFraction, ParseError> {
    parse_kind(text, Kind::Number)
}

/// A text of this kind, as an exact fraction of its base.
pub(super) fn parse_kind(text: &str, kind: Kind) -> Result<ParsedFraction, ParseError> {
    parse::read(text, kind).map(fraction)
}

/// Reads how many: a whole number, 0 or more, or a sum that comes to one.
///
/// ```
/// use offsquare_units::parse_count;
/// assert_eq!(parse_count("3 * 4"), Ok(12));
/// assert_eq!(parse_count("4x"), Ok(4));
/// assert!(parse_count("2 1/2").is_err());
/// ```
pub fn parse_count(text: &str) -> Result<u32, ParseError> {
    let kind = Kind::Count;
    // "4x" and "× 4" are how many is written in lists.
    let is_times = |c: char| matches!(c, 'x' | 'X' | '×');
    let plain = text.trim();
    let plain = plain.strip_suffix(is_times).or(plain.strip_prefix(is_times)).unwrap_or(plain);
    let value = parse::read(if plain.trim().is_empty() { text } else { plain }, kind)?.value;
    let error = |why| ParseError { kind, why };
    let whole = value.as_whole().ok_or(error(Why::NotWhole))?;
    if value.is_negative() {
        return Err(error(Why::Negative));
    }
    u32::try_from(whole).map_err(|_| error(Why::TooLarge))
}

/// Reads a plain number, or a sum of numbers: hours, a rate, a factor.
///
/// ```
/// use offsquare_units::parse_number;
/// assert_eq!(parse_number("1 3/4"), Ok(1.75));
/// ```
pub fn parse_number(text: &str) -> Result<f64, ParseError> {
    Ok(parse::read(text, Kind::Number)?.value.to_f64())
}

/// Reads a weight, in kilograms: `25 lb`, `3 lb 4 oz`, `12 kg`, `800 g`. A number without a unit is
/// pounds, or kilograms where lengths are in millimeters.
///
/// ```
/// use offsquare_units::{Unit, parse_mass};
/// assert_eq!(parse_mass("100 lb", Unit::Inch), Ok(45.359237));
/// ```
pub fn parse_mass(text: &str, default: Unit) -> Result<f64, ParseError> {
    Ok(parse::read(text, Kind::Mass(default))?.value.to_f64())
}
