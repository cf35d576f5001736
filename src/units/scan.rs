//! From characters to signs, numbers and units, whatever keyboard they come from.

use super::error::Why;
use super::kind::{CENT, DEGREE, DOLLAR, Kind, TypedUnit};
use super::rational::Rational;
use crate::num::Gather;

/// One sign, number or unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sign {
    Whole(i128),
    /// A number with a decimal point, and how many digits stand after it.
    Decimal(Rational, u32),
    /// A fraction that is one sign: ⅝ or ⁵⁄₈.
    Fraction(i128, i128),
    Unit(TypedUnit),
    /// The `$` before an amount.
    Dollar,
    Plus,
    Minus,
    Times,
    /// ÷, which never makes a fraction.
    Divide,
    Slash,
    Open,
    Close,
    /// "and" or a comma between the parts of one value.
    And,
}

impl Sign {
    pub(super) fn is_plus_or_minus(self) -> bool {
        matches!(self, Sign::Plus | Sign::Minus)
    }
    pub(super) fn is_operator(self) -> bool {
        self.is_plus_or_minus() || matches!(self, Sign::Times | Sign::Divide | Sign::Slash)
    }
}

/// A sign and where it stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Token {
    pub sign: Sign,
    /// Its bytes in the text.
    pub from: usize,
    pub to: usize,
    /// Whether a space stands before it.
    pub spaced: bool,
}

/// Fractions that are one character.
const VULGAR: [(char, u8, u8); 19] = [
    ('¼', 1, 4),
    ('½', 1, 2),
    ('¾', 3, 4),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('↉', 0, 3),
];

/// Digits beyond this many before the point, or an exponent beyond it, are out of range.
const MOST_DIGITS: usize = 18;

/// An ASCII or full-width digit.
fn digit(c: char) -> Option<char> {
    match c {
        '0'..='9' => Some(c),
        '０'..='９' => char::from_digit(c as u32 - '０' as u32, 10),
        _ => None,
    }
}
fn raised(c: char) -> Option<i128> {
    match c {
        '⁰' => Some(0),
        '¹' => Some(1),
        '²' => Some(2),
        '³' => Some(3),
        '⁴'..='⁹' => Some(i128::from(c as u32 - '⁴' as u32) + 4),
        _ => None,
    }
}
fn lowered(c: char) -> Option<i128> {
    match c {
        '₀'..='₉' => Some(i128::from(c as u32 - '₀' as u32)),
        _ => digit(c).and_then(|d| d.to_digit(10)).map(|value| value.into()),
    }
}
fn is_slash(c: char) -> bool {
    matches!(c, '/' | '⁄' | '∕' | '／')
}
fn is_foot_mark(c: char) -> bool {
    matches!(c, '\'' | '′' | '’' | '‘' | '‛' | '`' | '´' | 'ʹ' | 'ʼ' | '＇')
}
fn is_inch_mark(c: char) -> bool {
    matches!(c, '"' | '″' | '”' | '“' | '„' | '‟' | 'ʺ' | '˝' | '＂')
}
/// Characters without width that come along with pasted text.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}' | '\u{2066}'..='\u{2069}' | '\u{feff}' | '\u{fe0e}' | '\u{fe0f}')
}

/// All tokens of a text, left to right; the first that cannot be read ends it.
pub(super) fn scan(text: &str, kind: Kind) -> Result<Vec<Token>, Why> {
    if text.chars().count() > Why::LONGEST {
        return Err(Why::TooLong);
    }
    let mut reader = Reader { chars: text.char_indices().gather(), end: text.len(), at: 0, kind };
    let mut tokens: Vec<Token> = Vec::new();
    let mut spaced = true;
    while let Some(c) = reader.peek(0) {
        if is_invisible(c) {
            reader.at += 1;
        } else if c.is_whitespace() {
            reader.at += 1;
            spaced = true;
        } else {
            let from = reader.byte();
            let after_unit = matches!(tokens.last(), Some(Token { sign: Sign::Unit(_), .. }));
            let sign = reader.next_sign(c, after_unit)?;
            tokens.push(Token { sign, from, to: reader.byte(), spaced });
            spaced = false;
        }
    }
    Ok(tokens)
}

struct Reader {
    chars: Vec<(usize, char)>,
    /// Bytes in the whole text.
    end: usize,
    at: usize,
    kind: Kind,
}

impl Reader {
    fn peek(&self, ahead: usize) -> Option<char> {
        self.chars.get(self.at + ahead).map(|&(_, c)| c)
    }
    fn byte(&self) -> usize {
        self.chars.get(self.at).map_or(self.end, |&(byte, _)| byte)
    }
    fn digit_follows(&self, ahead: usize) -> bool {
        self.peek(ahead).and_then(digit).is_some()
    }

    fn next_sign(&mut self, c: char, after_unit: bool) -> Result<Sign, Why> {
        if c == ',' && after_unit {
            return self.take(1, Sign::And);
        }
        if digit(c).is_some() || (matches!(c, '.' | ',' | '．') && self.digit_follows(1)) {
            return self.number();
        }
        if let Some(&(_, n, d)) = VULGAR.iter().find(|v| v.0 == c) {
            return self.take(1, Sign::Fraction(n.into(), d.into()));
        }
        if raised(c).is_some() || c == '⅟' {
            return self.raised_fraction(c);
        }
        if is_foot_mark(c) {
            // Two single marks are an inch mark, as typewriters had it.
            let twice = self.peek(1).is_some_and(is_foot_mark);
            let unit = if twice { self.kind.double_mark() } else { self.kind.single_mark() };
            return match unit {
                Some(unit) => self.take(1 + usize::from(twice), Sign::Unit(unit)),
                None => Err(Why::Sign(c)),
            };
        }
        if is_inch_mark(c) {
            return match self.kind.double_mark() {
                Some(unit) => self.take(1, Sign::Unit(unit)),
                None => Err(Why::Sign(c)),
            };
        }
        if is_slash(c) {
            return self.take(1, Sign::Slash);
        }
        match c {
            '+' | '＋' => self.take(1, Sign::Plus),
            '-' | '−' | '–' | '—' | '‐' | '‑' | '‒' | '－' => {
                self.take(1, Sign::Minus)
            }
            '*' | '×' | '·' | '⋅' | '∙' | '∗' | '＊' | '✕' | '✖' => {
                self.take(1, Sign::Times)
            }
            '÷' | '➗' => self.take(1, Sign::Divide),
            '(' | '（' => self.take(1, Sign::Open),
            ')' | '）' => self.take(1, Sign::Close),
            '&' => self.take(1, Sign::And),
            '°' | 'º' | '˚' if self.kind == Kind::Angle => self.take(1, Sign::Unit(DEGREE)),
            '$' if self.kind == Kind::Money => self.take(1, Sign::Dollar),
            '¢' if self.kind == Kind::Money => self.take(1, Sign::Unit(CENT)),
            'º' => Err(Why::Sign(c)),
            _ if is_letter(c) => self.word(),
            _ => Err(Why::Sign(c)),
        }
    }

    fn take(&mut self, count: usize, sign: Sign) -> Result<Sign, Why> {
        self.at += count;
        Ok(sign)
    }

    fn word(&mut self) -> Result<Sign, Why> {
        let mut word = String::new();
        while let Some(c) = self.peek(0).filter(|c| is_letter(*c) && *c != 'º') {
            word.push(c);
            self.at += 1;
        }
        if word.eq_ignore_ascii_case("and") {
            return Ok(Sign::And);
        }
        if word.eq_ignore_ascii_case("x") {
            return if self.x_is_times() { Ok(Sign::Times) } else { Err(Why::LetterX) };
        }
        if word.eq_ignore_ascii_case("strong") || word.eq_ignore_ascii_case("shy") {
            return Err(Why::StrongShy);
        }
        match self.kind.unit(&word) {
            Some(unit) => {
                // The point of an abbreviation: "23 in."
                if self.peek(0) == Some('.') && !self.digit_follows(1) {
                    self.at += 1;
                }
                Ok(if unit == DOLLAR && word.eq_ignore_ascii_case("usd") {
                    // "USD 4.28" and "4.28 USD" both occur; before a number it is a `$`.
                    self.dollar_word()
                } else {
                    Sign::Unit(unit)
                })
            }
            None => Err(Why::Word(word)),
        }
    }

    /// Whether the x that was just read can only mean times. Among lengths, 2 x 4 may as well be two sizes of
    /// one board: there it is times between how many and a length with its unit, as in `3 x 7 1/2 in`.
    fn x_is_times(&self) -> bool {
        if !matches!(self.kind, Kind::Length(_)) {
            return true;
        }
        let (before, after) = self.chars.split_at(self.at);
        let how_many =
            before.iter().all(|&(_, c)| digit(c).is_some() || c == ' ' || c == 'x' || c == 'X');
        let has_unit =
            after.iter().any(|&(_, c)| is_letter(c) || is_inch_mark(c) || is_foot_mark(c));
        how_many && has_unit
    }

    fn dollar_word(&self) -> Sign {
        let next = self.chars[self.at..].iter().map(|&(_, c)| c).find(|c| !c.is_whitespace());
        if next.is_some_and(|c| digit(c).is_some()) { Sign::Dollar } else { Sign::Unit(DOLLAR) }
    }

    /// ⁵⁄₈, ¹⁵/16, ⅟₁₆
    fn raised_fraction(&mut self, first: char) -> Result<Sign, Why> {
        let mut top = 1;
        if first == '⅟' {
            self.at += 1;
        } else {
            top = self.run(raised)?;
            if !self.peek(0).is_some_and(is_slash) {
                return Err(Why::Sign(first));
            }
            self.at += 1;
        }
        if self.peek(0).and_then(lowered).is_none() {
            return Err(Why::MissingAfter("/".to_owned()));
        }
        let below = self.run(lowered)?;
        Ok(Sign::Fraction(top, below))
    }

    fn run(&mut self, value: fn(char) -> Option<i128>) -> Result<i128, Why> {
        let mut total: i128 = 0;
        while let Some(next) = self.peek(0).and_then(value) {
            total = total * 10 + next;
            if total > 1_000_000_000 {
                return Err(Why::TooFine);
            }
            self.at += 1;
        }
        Ok(total)
    }

    fn number(&mut self) -> Result<Sign, Why> {
        let mut typed = String::new();
        while let Some(c) = self.peek(0) {
            match (digit(c), c) {
                (Some(d), _) => typed.push(d),
                (None, '.' | '．') => typed.push('.'),
                (None, ',') => typed.push(','),
                _ => break,
            }
            self.at += 1;
        }
        let (before, after) = split(&typed, self.kind)?;
        let exponent = self.exponent(&typed)?;
        let whole = before.trim_start_matches('0');
        if whole.len() > MOST_DIGITS {
            return Err(Why::TooLarge);
        }
        let whole = digits_value(whole);
        // Digits past the 18th place are below anything that an f64 of inches can hold.
        let after = &after[..after.len().min(MOST_DIGITS)];
        if after.is_empty() && exponent == 0 {
            return Ok(Sign::Whole(whole));
        }
        let places = after.len() as u32;
        let scale = 10_i128.pow(places);
        let value = Rational::new(whole * scale + digits_value(after), scale);
        let shift = Rational::whole(10_i128.pow(exponent.unsigned_abs()));
        let value = value.and_then(|v| if exponent < 0 { v.div(shift) } else { v.mul(shift) });
        match value {
            Some(value) => {
                let places = (places as i32 - exponent).max(0) as u32;
                match value.as_whole() {
                    Some(n) if places == 0 => Ok(Sign::Whole(n)),
                    _ => Ok(Sign::Decimal(value, places)),
                }
            }
            None if exponent < 0 => Err(Why::TooFine),
            None => Err(Why::TooLarge),
        }
    }

    /// The power of ten in 1e3; 0 where there is none.
    fn exponent(&mut self, typed: &str) -> Result<i32, Why> {
        if !matches!(self.peek(0), Some('e' | 'E')) {
            return Ok(0);
        }
        let signed = matches!(self.peek(1), Some('+' | '-' | '−'));
        let negative = matches!(self.peek(1), Some('-' | '−'));
        let first = 1 + usize::from(signed);
        if !self.digit_follows(first) {
            return Ok(0);
        }
        self.at += first;
        let mut power: i32 = 0;
        while let Some(d) = self.peek(0).and_then(digit).and_then(|d| d.to_digit(10)) {
            power = (power * 10 + d as i32).min(1_000);
            self.at += 1;
        }
        if power as usize > MOST_DIGITS {
            let is_zero = !typed.chars().any(|c| ('1'..='9').contains(&c));
            return match (is_zero, negative) {
                (true, _) => Ok(0),
                (false, true) => Err(Why::TooFine),
                (false, false) => Err(Why::TooLarge),
            };
        }
        Ok(if negative { -power } else { power })
    }
}

/// At most 18 digits, as a number.
fn digits_value(digits: &str) -> i128 {
    digits.bytes().fold(0, |total, b| total * 10 + i128::from(b - b'0'))
}

/// Digits before and after the decimal point. A comma is a decimal comma (`23,5`) or stands between
/// thousands (`1,234.5`); where it could be either (`23,625`), the typist is asked.
fn split(typed: &str, kind: Kind) -> Result<(String, String), Why> {
    let wrong = || Why::NotANumber(typed.to_owned());
    let points = typed.matches('.').count();
    let commas = typed.matches(',').count();
    let (before, after) = match typed.split_once('.') {
        Some((before, after)) => (before, after),
        None => (typed, ""),
    };
    if points > 1 || after.contains(',') {
        return Err(wrong());
    }
    if commas == 0 {
        return Ok((before.to_owned(), after.to_owned()));
    }
    let mut groups = before.split(',');
    let first = groups.next().unwrap_or("");
    let grouped =
        (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|g| g.len() == 3);
    let joined = before.replace(',', "");
    if grouped && (commas > 1 || points == 1 || kind.groups_thousands()) {
        return Ok((joined, after.to_owned()));
    }
    if commas > 1 || points > 0 {
        return Err(wrong());
    }
    if grouped {
        return Err(Why::Comma {
            typed: typed.to_owned(),
            decimal: typed.replace(',', "."),
            thousands: joined,
        });
    }
    match typed.split_once(',') {
        Some((before, after)) if !after.is_empty() => Ok((before.to_owned(), after.to_owned())),
        _ => Err(wrong()),
    }
}

/// Near enough a letter to tell a word that is not understood from a sign that is not: of the scripts above ASCII, all
/// but the blocks of signs.
fn is_letter(c: char) -> bool {
    c.is_ascii_alphabetic()
        || matches!(c, 'ª' | 'º' | 'µ' | '\u{c0}'..'\u{2000}' | '\u{2c00}'..'\u{3000}' | '\u{3040}'..'\u{fe00}')
            && !matches!(c, '×' | '÷')
}
