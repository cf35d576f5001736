//! Every sentence that answers a text which cannot be read, in one place.

use super::{Kind, Text, Unit};
use core::fmt;

/// Why a text is not the length, angle, price or number that a field holds. Printing it gives a
/// plain sentence: what is wrong, and what would be right.
///
/// ```
/// use offsquare_units::{Unit, parse_length};
/// let wrong = parse_length("1/0", Unit::Inch).unwrap_err();
/// assert_eq!(
///     wrong.to_string(),
///     "A fraction cannot have 0 below the line. Write it as in 1/2."
/// );
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseError {
    pub kind: Kind,
    pub why: Why,
}

/// The reason, without its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    Empty,
    /// More characters than [`Why::LONGEST`].
    TooLong,
    /// A character that means nothing here.
    Sign(char),
    /// A word that is no unit here.
    Word(String),
    /// The letter x between numbers.
    LetterX,
    /// "strong" or "shy" after a length.
    StrongShy,
    /// Digits, points and commas that make no number.
    NotANumber(String),
    /// `23,625`: a decimal comma or a thousand?
    Comma {
        typed: String,
        decimal: String,
        thousands: String,
    },
    /// A unit with no number before it.
    NoNumber(String),
    /// Two values with nothing between them.
    TwoValues {
        first: String,
        second: String,
    },
    /// `23 5 / 8`: spaces inside a mixed number.
    SpacedFraction {
        whole: String,
        numerator: String,
        denominator: String,
    },
    MissingAfter(String),
    MissingBefore(String),
    /// A minus that has not a space on both sides.
    MinusSpacing,
    /// `1/2/3`
    SlashTwice,
    ZeroBelow,
    DivideByZero,
    /// After a whole number, a fraction of 1 or more.
    NotBelowOne {
        whole: String,
        fraction: String,
    },
    NotClosed,
    NotOpened,
    NothingInside,
    TooDeep,
    /// A unit after parentheses that hold units already.
    UnitTwice,
    Product,
    Quotient,
    Inverse,
    TooLarge,
    TooFine,
    NotWhole,
    Negative,
}

impl Why {
    /// Longest text that is read, in characters.
    pub const LONGEST: usize = 200;
}

impl Kind {
    /// Its name with its article.
    fn noun(self) -> &'static str {
        match self {
            Kind::Length(_) => "a length",
            Kind::Angle => "an angle",
            Kind::Mass(_) => "a weight",
            Kind::Money | Kind::Amount(_) => "a price",
            Kind::Number | Kind::Count => "a number",
        }
    }
    fn example(self) -> &'static str {
        match self {
            Kind::Length(Unit::Inch) => "23 5/8 or 600 mm",
            Kind::Length(Unit::FeetInches) => "1' 11 5/8\" or 600 mm",
            Kind::Length(Unit::Millimeter) => "600 or 23 5/8 in",
            Kind::Angle => "34.5 or 34 1/2",
            Kind::Mass(Unit::Millimeter) => "12 kg",
            Kind::Mass(_) => "25 lb",
            Kind::Amount(0) => "428",
            Kind::Amount(3) => "4.285",
            Kind::Money | Kind::Amount(_) => "4.28",
            Kind::Number => "2.5",
            Kind::Count => "12",
        }
    }
    fn known_units(self) -> &'static str {
        match self {
            Kind::Length(_) => "Use in, ft, yd, mm, cm or m.",
            Kind::Angle => "Use ° or deg.",
            Kind::Mass(_) => "Use lb, oz, kg or g.",
            Kind::Money => "Use $ or no unit.",
            Kind::Amount(_) => "Use the sign of your money or no unit.",
            Kind::Number | Kind::Count => "Use digits only.",
        }
    }
    fn too_large(self) -> &'static str {
        match self {
            Kind::Length(Unit::Millimeter) => "more than 3,048 m (10,000 ft)",
            Kind::Length(_) => "more than 10,000 ft (3,048 m)",
            Kind::Angle => "more than 360°",
            Kind::Mass(_) => "more than 100,000 kg (220,000 lb)",
            Kind::Money => "more than $1,000,000,000",
            Kind::Amount(_) | Kind::Number | Kind::Count => "more than 1,000,000,000",
        }
    }
    /// What a second factor would be called, with its article.
    fn square(self) -> &'static str {
        match self {
            Kind::Length(_) => "A length times a length is an area.",
            Kind::Angle => "An angle cannot be multiplied by an angle.",
            Kind::Mass(_) => "A weight cannot be multiplied by a weight.",
            _ => "Money cannot be multiplied by money.",
        }
    }
}

impl Why {
    /// What is said of what has nothing typed in its sentence; the others are told where their words are at hand.
    fn sentence(&self) -> &'static str {
        match self {
            Why::LetterX => "One size here, not two. For times, use × or *, as in 2 * 3.",
            Why::StrongShy => {
                "Strong and shy are not sizes. Type the fraction alone, or a finer one."
            }
            Why::MinusSpacing => {
                "A minus needs a space on both sides, as in 33 - 2. Without them, 23-5/8 is 23 and 5/8."
            }
            Why::SlashTwice => {
                "Two slashes in a row can be read two ways. Put spaces around the one that divides, as in 3/4 / 2."
            }
            Why::ZeroBelow => "A fraction cannot have 0 below the line. Write it as in 1/2.",
            Why::DivideByZero => "Nothing can be divided by 0. Use another number.",
            Why::NotClosed => "A closing “)” is missing.",
            Why::NotOpened => "This “)” has no “(” before it.",
            Why::NothingInside => "There is nothing between “(” and “)”.",
            Why::TooDeep => "There are too many “(” inside one another.",
            Why::UnitTwice => {
                "What stands between “(” and “)” has a unit already. Leave out the one after it."
            }
            Why::TooFine => {
                "That has more digits than can be worked with. Shorten the long numbers."
            }
            Why::NotWhole => "Only a whole number fits here, such as 12.",
            Why::Negative => "This cannot be less than 0. Type 0 or more.",
            Why::Empty
            | Why::TooLong
            | Why::Sign(_)
            | Why::Word(_)
            | Why::NotANumber(_)
            | Why::Comma { .. }
            | Why::NoNumber(_)
            | Why::TwoValues { .. }
            | Why::SpacedFraction { .. }
            | Why::MissingAfter(_)
            | Why::MissingBefore(_)
            | Why::NotBelowOne { .. }
            | Why::Product
            | Why::Quotient
            | Why::Inverse
            | Why::TooLarge => "",
        }
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = self.kind;
        let (noun, example) = (kind.noun(), kind.example());
        match &self.why {
            Why::Empty => write!(f, "Type {noun}, such as {example}."),
            Why::TooLong => write!(
                f,
                "That is too much text for {noun}. Use at most {} characters.",
                Why::LONGEST
            ),
            Why::Sign(c) if c.is_control() => {
                write!(
                    f,
                    "There is a sign here that cannot be shown. Type {noun}, such as {example}."
                )
            }
            Why::Sign(c) => write!(f, "“{c}” does not belong in {noun}. Type it as {example}."),
            Why::Word(word) => write!(
                f,
                "“{}” {} {noun}. {}",
                short(word),
                match kind {
                    Kind::Number | Kind::Count => "does not belong in",
                    _ => "is not a unit of",
                },
                kind.known_units()
            ),
            Why::NotANumber(typed) => {
                write!(f, "“{}” is not a number. Type it as {example}.", short(typed))
            }
            Why::Comma { typed, decimal, thousands } => write!(
                f,
                "“{}” can mean {} or {}. Type it without the comma.",
                short(typed),
                short(decimal),
                short(thousands)
            ),
            Why::NoNumber(unit) => {
                write!(f, "A number is missing before “{}”. Type it as {example}.", short(unit))
            }
            Why::TwoValues { first, second } => {
                let (first, second) = (short(first), short(second));
                write!(
                    f,
                    "Something is missing between “{first}” and “{second}”. Put + - × or ÷ there."
                )
            }
            Why::SpacedFraction { whole, numerator, denominator } => write!(
                f,
                "A fraction has no spaces inside. Type {} {}/{}.",
                short(whole),
                short(numerator),
                short(denominator)
            ),
            Why::MissingAfter(sign) => write!(f, "A number is missing after “{}”.", short(sign)),
            Why::MissingBefore(sign) => write!(f, "A number is missing before “{}”.", short(sign)),
            Why::NotBelowOne { whole, fraction } => {
                let (whole, part) = (short(whole), short(fraction));
                write!(
                    f,
                    "{part} is not less than 1, so it cannot follow {whole}. Check it, or type {whole} + {part}."
                )
            }
            Why::Product => write!(f, "{} Use a number without a unit.", kind.square()),
            Why::Quotient => write!(
                f,
                "That comes to a plain number, not to {noun}. Divide by a number without a unit."
            ),
            Why::Inverse => write!(
                f,
                "A number cannot be divided by {noun}. Divide by a number without a unit."
            ),
            Why::TooLarge => write!(f, "That is {}. Check the number.", kind.too_large()),
            why => f.write_str(why.sentence()),
        }
    }
}

impl core::error::Error for ParseError {}

impl From<ParseError> for Text {
    fn from(error: ParseError) -> Text {
        Text::words(error.to_string())
    }
}

/// At most 16 characters of what was typed, so that a sentence stays a sentence.
fn short(typed: &str) -> String {
    let mut out: String = typed.chars().take(16).collect();
    if typed.chars().nth(16).is_some() {
        out.push('…');
    }
    out
}
