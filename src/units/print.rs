//! Lengths as marks on a tape, and other quantities as figures.

use super::{Angle, Area, Fraction, Length, Quantity, Style, Ticks, Unit};
use crate::MM_PER_INCH;
use crate::num;
use core::fmt;

/// What is left between a length and the mark that it is shown at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remainder {
    /// Less than a quarter of the fraction, or not to be said.
    Exact,
    /// The length is longer than the mark by a quarter of the fraction or more.
    Strong,
    /// The length is shorter than the mark by a quarter of the fraction or more.
    Shy,
}

impl Remainder {
    /// The word after the mark; nothing for [`Remainder::Exact`].
    pub const fn word(self) -> &'static str {
        match self {
            Remainder::Exact => "",
            Remainder::Strong => "strong",
            Remainder::Shy => "shy",
        }
    }
}

/// A length as it is shown, in its parts. `to_string()` puts them in one line: `23 5/8 in strong`,
/// `1' 11 5/8"`, `600.5 mm`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    pub unit: Unit,
    /// Below 0; the other parts are of the length without its sign.
    pub negative: bool,
    /// Only in feet and inches, from 1 ft up.
    pub feet: Option<i64>,
    /// Whole inches (after the feet) or millimeters.
    pub whole: i64,
    /// What stands after the decimal point; empty where there is none.
    pub places: String,
    /// Above the line of the reduced fraction; 0 where there is none.
    pub numerator: i64,
    /// Below the line; 1 where there is no fraction.
    pub denominator: i64,
    pub remainder: Remainder,
    /// The length less what is shown (both without sign), to the tick.
    pub off: Ticks,
    /// False for what is no length (not finite, or beyond [`Ticks::LIMIT`]): then a dash is shown.
    pub known: bool,
}

/// The length at the nearest mark of the maker's fraction, exact halves upwards (3/32 in to
/// sixteenths is 1/8), and the remainder said as strong or shy when it is a quarter of the fraction
/// or more. A length below 0 is shown as the same length above it, with a minus in front.
///
/// Rounds from the nearest tick, so that 1/2 in computed as 0.49999999999999994 is on its mark.
///
/// ```
/// use offsquare_units::{Length, Style, Unit, print_length};
/// let shown = |inches| print_length(Length::inches(inches), &Style::default()).to_string();
/// assert_eq!(shown(23.625), "23 5/8 in");
/// assert_eq!(shown(23.65), "23 5/8 in strong"); // 0.025 over, above 1/64
/// let feet = print_length(Length::inches(23.625), &Style::of(Unit::FeetInches));
/// assert_eq!(feet.to_string(), "1' 11 5/8\"");
/// ```
pub fn print_length(length: Length, style: &Style) -> Printed {
    match Ticks::from_length(length) {
        Some(ticks) => print_ticks(ticks, style),
        None => beyond_ticks(length, style.unit),
    }
}

/// Too long for ticks: in whole inches or millimeters; what is no length at all is not known.
fn beyond_ticks(length: Length, unit: Unit) -> Printed {
    let per_inch = if unit.is_metric() { MM_PER_INCH } else { 1.0 };
    let size = num::round_half_up(length.0.abs() * per_inch);
    let mut printed = blank(unit);
    printed.known = size < 1e15;
    printed.negative = length.0 < 0.0;
    if printed.known {
        set_whole(&mut printed, size as i64);
    }
    printed
}

/// As [`print_length`], for a length that is ticks already.
pub fn print_ticks(ticks: Ticks, style: &Style) -> Printed {
    let size = ticks.0.saturating_abs();
    let mut printed = if style.decimals {
        in_decimals(size, style.unit)
    } else {
        at_mark(size, style.unit, style.shown_fraction(), style.strong_shy)
    };
    let is_zero = printed.feet.is_none()
        && printed.whole == 0
        && printed.numerator == 0
        && printed.places.is_empty();
    printed.negative = ticks.0 < 0 && !is_zero;
    printed
}

fn blank(unit: Unit) -> Printed {
    Printed {
        unit,
        negative: false,
        feet: None,
        whole: 0,
        places: String::new(),
        numerator: 0,
        denominator: 1,
        remainder: Remainder::Exact,
        off: Ticks::ZERO,
        known: true,
    }
}

fn at_mark(size: i64, unit: Unit, fraction: Fraction, strong_shy: bool) -> Printed {
    let step = fraction.step().0;
    let marks = size / step + i64::from(size % step * 2 >= step);
    let off = size - marks * step;
    let remainder = match off {
        _ if !strong_shy || off.abs() * 4 < step => Remainder::Exact,
        1.. => Remainder::Strong,
        _ => Remainder::Shy,
    };
    let mut printed = blank(unit);
    printed.remainder = remainder;
    printed.off = Ticks(off);
    let marks_per_whole = whole_of(unit) / step;
    let over = marks % marks_per_whole;
    set_whole(&mut printed, marks / marks_per_whole);
    if unit.is_metric() {
        // Half millimeters are read as decimals.
        if over > 0 {
            printed.places = (over * 10 / marks_per_whole).to_string();
        }
    } else if over > 0 {
        // marks_per_whole is a power of two, so the common factor is one too.
        let common = 1 << over.trailing_zeros().min(marks_per_whole.trailing_zeros());
        printed.numerator = over / common;
        printed.denominator = marks_per_whole / common;
    }
    printed
}

/// Inches to four places, or to six where six say it exactly (1/64 is 0.015625); millimeters to
/// three. Zeros at the end are left out.
fn in_decimals(size: i64, unit: Unit) -> Printed {
    let whole = whole_of(unit);
    let places = match unit {
        Unit::Millimeter => 3,
        // 1,000,000 / 2,032,000 = 125/254
        _ if size % 254 == 0 => 6,
        _ => 4,
    };
    let scale = 10_i128.pow(places);
    let exact = i128::from(size) * scale;
    let per = i128::from(whole);
    let shown = exact / per + i128::from(exact % per * 2 >= per);
    let mut printed = blank(unit);
    // Both quotients are below 2^63: shown / scale is a size in inches, the rest below 10^6.
    set_whole(&mut printed, (shown / scale) as i64);
    printed.places = places_of((shown % scale) as u64, places, true);
    let off = (exact - shown * per) * 2;
    let half_up = (off + scale).div_euclid(2 * scale);
    printed.off = Ticks(half_up as i64);
    printed
}

fn whole_of(unit: Unit) -> i64 {
    if unit.is_metric() { Ticks::PER_MM } else { Ticks::PER_INCH }
}

fn set_whole(printed: &mut Printed, whole: i64) {
    if printed.unit == Unit::FeetInches && whole >= 12 {
        printed.feet = Some(whole / 12);
        printed.whole = whole % 12;
    } else {
        printed.whole = whole;
    }
}

/// `rest` with zeros in front up to so many places, those at the end left out if wanted.
fn places_of(rest: u64, places: u32, trimmed: bool) -> String {
    if places == 0 {
        return String::new();
    }
    let digits = format!("{rest:0width$}", width = places as usize);
    if trimmed { digits.trim_end_matches('0').to_owned() } else { digits }
}

impl Printed {
    /// The figures without feet, sign and unit: `11 5/8`, `5/8`, `600.5`, `0`.
    pub fn figures(&self) -> String {
        if !self.places.is_empty() {
            format!("{}.{}", self.whole, self.places)
        } else if self.numerator == 0 {
            self.whole.to_string()
        } else if self.whole == 0 && self.feet.is_none() {
            format!("{}/{}", self.numerator, self.denominator)
        } else {
            format!("{} {}/{}", self.whole, self.numerator, self.denominator)
        }
    }

    /// As it is read aloud: `1 foot 11 and 5 eighths inches, strong`.
    pub fn spoken(&self) -> String {
        if !self.known {
            return "unknown".to_owned();
        }
        let mut out = String::new();
        if self.negative {
            out.push_str("minus ");
        }
        if let Some(feet) = self.feet {
            out.push_str(&format!("{feet} {} ", if feet == 1 { "foot" } else { "feet" }));
        }
        let (one, many) = match self.unit {
            Unit::Millimeter => ("millimeter", "millimeters"),
            _ => ("inch", "inches"),
        };
        if self.numerator > 0 {
            let part = spoken_fraction(self.numerator, self.denominator);
            if self.whole == 0 && self.feet.is_none() {
                let of = if self.denominator == 2 { "an" } else { "of an" };
                out.push_str(&format!("{part} {of} {one}"));
            } else {
                let part = if self.denominator == 2 { "a half" } else { &part };
                out.push_str(&format!("{} and {part} {many}", self.whole));
            }
        } else {
            let unit = if self.whole == 1 && self.places.is_empty() { one } else { many };
            out.push_str(&format!("{} {unit}", self.figures()));
        }
        if self.remainder != Remainder::Exact {
            out.push_str(", ");
            out.push_str(self.remainder.word());
        }
        out
    }
}

/// `half`, `1 eighth`, `3 quarters`: what a screen reader says rightly everywhere, unlike `3/4`.
fn spoken_fraction(numerator: i64, denominator: i64) -> String {
    let one = match denominator {
        2 => return "half".to_owned(),
        4 => "quarter",
        8 => "eighth",
        16 => "sixteenth",
        32 => "thirty-second",
        _ => "sixty-fourth",
    };
    let s = if numerator == 1 { "" } else { "s" };
    format!("{numerator} {one}{s}")
}

impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.known {
            return f.write_str("—");
        }
        if self.negative {
            f.write_str("-")?;
        }
        let figures = self.figures();
        match (self.unit, self.feet) {
            (Unit::Inch, _) => write!(f, "{figures} in")?,
            (Unit::Millimeter, _) => write!(f, "{figures} mm")?,
            (Unit::FeetInches, Some(feet)) => write!(f, "{feet}' {figures}\"")?,
            (Unit::FeetInches, None) => write!(f, "{figures}\"")?,
        }
        match self.remainder {
            Remainder::Exact => Ok(()),
            said => write!(f, " {}", said.word()),
        }
    }
}

/// The exact decimal, on request: inches to four places (to six where those say it exactly) or
/// millimeters to three, with the unit.
///
/// ```
/// use offsquare_units::{Length, Unit, print_decimal};
/// assert_eq!(print_decimal(Length::inches(1.0 / 64.0), Unit::Inch), "0.015625 in");
/// assert_eq!(print_decimal(Length::inches(23.625), Unit::Millimeter), "600.075 mm");
/// ```
pub fn print_decimal(length: Length, unit: Unit) -> String {
    let style = Style { unit, decimals: true, ..Style::default() };
    print_length(length, &style).to_string()
}

/// To what a saw reading is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AngleStep {
    /// `34.3°`
    Tenth,
    /// `34 1/2°`: the marks of most saws.
    Half,
}

/// An angle in degrees to a tenth or a half, exact halves away from zero; a dash for what is no angle.
///
/// ```
/// use offsquare_units::{Angle, AngleStep, print_angle};
/// assert_eq!(print_angle(Angle(34.25), AngleStep::Tenth), "34.3°");
/// assert_eq!(print_angle(Angle(34.25), AngleStep::Half), "34 1/2°");
/// ```
pub fn print_angle(angle: Angle, step: AngleStep) -> String {
    let per_degree = match step {
        AngleStep::Tenth => 10,
        AngleStep::Half => 2,
    };
    let Some(marks) = rounded(angle.0.abs(), per_degree) else {
        return "—".to_owned();
    };
    let sign = if angle.0 < 0.0 && marks > 0 { "-" } else { "" };
    let (whole, over) = (marks / per_degree, marks % per_degree);
    match (step, whole, over) {
        (AngleStep::Tenth, ..) => format!("{sign}{whole}.{over}°"),
        (AngleStep::Half, _, 0) => format!("{sign}{whole}°"),
        (AngleStep::Half, 0, _) => format!("{sign}1/2°"),
        (AngleStep::Half, ..) => format!("{sign}{whole} 1/2°"),
    }
}

/// `size · per` to the nearest whole number, exact halves up. A size is first taken to a millionth of
/// the last place, so that 0.285 · 100 = 28.499999999999996 counts as the half that was meant. None
/// when it is not finite or too large to count.
fn rounded(size: f64, per: u64) -> Option<u64> {
    let exact = size * per as f64;
    if exact.is_nan() || exact >= 1e15 {
        return None;
    }
    let guarded = num::round_half_up(exact * 1e6);
    Some(if guarded < 9e15 {
        (guarded as u64 + 500_000) / 1_000_000
    } else {
        num::round_half_up(exact) as u64
    })
}

/// A number with at most so many places, zeros at the end left out, exact halves away from zero; a
/// dash for what is no number.
///
/// ```
/// use offsquare_units::print_number;
/// assert_eq!(print_number(2.50, 2), "2.5");
/// assert_eq!(print_number(1234.0, 2), "1,234");
/// ```
pub fn print_number(value: f64, places: u32) -> String {
    let places = places.min(9);
    let scale = 10_u64.pow(places);
    let Some(n) = rounded(value.abs(), scale) else {
        return "—".to_owned();
    };
    let sign = if value < 0.0 && n > 0 { "-" } else { "" };
    let whole = grouped(n / scale);
    match places_of(n % scale, places, true).as_str() {
        "" => format!("{sign}{whole}"),
        places => format!("{sign}{whole}.{places}"),
    }
}

/// Kilograms in a pound, exact (1959).
const KG_PER_POUND: f64 = 0.453_592_37;
/// Newtons in a pound of force: a pound under standard gravity, 9.80665 m/s² (3rd CGPM, 1901).
const NEWTONS_PER_POUND: f64 = 0.453_592_37 * 9.806_65;

/// Any quantity in the reader's own unit: `23 5/8 in`, `112.5 sq in`, `34.3°`, `12`, `25 lb`.
pub fn print_quantity(quantity: Quantity, style: &Style) -> String {
    let metric = style.unit.is_metric();
    match quantity {
        Quantity::Length(length) => print_length(length, style).to_string(),
        Quantity::Area(area) => print_area(area, style),
        Quantity::Angle(angle) => print_angle(angle, AngleStep::Tenth),
        Quantity::Figure(l) if metric => print_number(l.as_mm(), 2),
        Quantity::Figure(l) => print_number(l.0, 3),
        Quantity::Count(n) => print_number(n, 2),
        Quantity::Ratio(ratio) => print_number(ratio, 3),
        Quantity::Mass(kg) if metric => format!("{} kg", print_number(kg, 2)),
        Quantity::Mass(kg) => format!("{} lb", print_number(kg / KG_PER_POUND, 1)),
        Quantity::Force(newtons) if metric => format!("{} N", print_number(newtons, 1)),
        Quantity::Force(newtons) => {
            format!("{} lb", print_number(newtons / NEWTONS_PER_POUND, 1))
        }
    }
}

fn print_area(area: Area, style: &Style) -> String {
    if style.unit.is_metric() {
        format!("{} sq cm", print_number(area.as_square_mm() / 100.0, 1))
    } else {
        format!("{} sq in", print_number(area.as_square_inches(), 1))
    }
}

/// As [`print_quantity`], to be read aloud.
pub fn speak_quantity(quantity: Quantity, style: &Style) -> String {
    match quantity {
        Quantity::Length(length) => print_length(length, style).spoken(),
        Quantity::Angle(angle) => {
            let figures = print_angle(angle, AngleStep::Tenth);
            format!("{} degrees", figures.trim_end_matches('°'))
        }
        Quantity::Area(_) => print_quantity(quantity, style)
            .replace("sq in", "square inches")
            .replace("sq cm", "square centimeters"),
        Quantity::Mass(_) | Quantity::Force(_) => print_quantity(quantity, style)
            .replace("lb", "pounds")
            .replace("kg", "kilograms")
            .replace('N', "newtons"),
        Quantity::Figure(_) | Quantity::Count(_) | Quantity::Ratio(_) => {
            print_quantity(quantity, style)
        }
    }
}

/// A whole number with commas between thousands: `1,234`.
pub fn grouped(n: u64) -> String {
    grouped_digits(&n.to_string())
}

pub(super) fn grouped_digits(digits: &str) -> String {
    let mut out = String::with_capacity(digits.len() + digits.len() / 3);
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    out
}
