//! The rack's forms: every field as text, read and written in one place.

use super::read::{nominal_text, percent_text, read_bad, read_length, read_nominal, read_share};
use super::{By, Owned, Rack, Sold, Stock};
use offsquare_cuts::facts;
use offsquare_units::num::Gather;
use offsquare_units::{Currency, Length, Money, Unit, length_text, parse_count};

/// One field of a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Blank {
    pub key: &'static str,
    pub label: &'static str,
    pub help: &'static str,
    /// Key and label of each choice; none for a typed field.
    pub choices: &'static [(&'static str, &'static str)],
    pub typed: Typed,
}

/// What is typed in a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    Words,
    /// A price, a percentage, a number of boards.
    Number,
    /// A whole number from 1 on that is stepped, too.
    Count,
    Length,
}

impl Blank {
    pub const fn typed(key: &'static str, label: &'static str, help: &'static str) -> Blank {
        Blank { key, label, help, choices: &[], typed: Typed::Words }
    }
    pub const fn number(key: &'static str, label: &'static str, help: &'static str) -> Blank {
        Blank { typed: Typed::Number, ..Blank::typed(key, label, help) }
    }
    pub const fn count(key: &'static str, label: &'static str, help: &'static str) -> Blank {
        Blank { typed: Typed::Count, ..Blank::typed(key, label, help) }
    }
    pub const fn length(key: &'static str, label: &'static str, help: &'static str) -> Blank {
        Blank { typed: Typed::Length, ..Blank::typed(key, label, help) }
    }
    pub const fn one_of(
        key: &'static str,
        label: &'static str,
        choices: &'static [(&'static str, &'static str)],
    ) -> Blank {
        Blank { choices, ..Blank::typed(key, label, "") }
    }
}

/// A row of a form: fields by key, as text in the maker's unit; prices need the maker's money, and are read by themselves
/// (`Work::try_rack`).
pub trait Written {
    fn text(&self, key: &str, unit: Unit) -> String;
    /// Takes a text in, or says in a plain sentence what would be right; nothing changes then.
    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String>;
}

pub const STOCK: &[Blank] = &[
    Blank::typed("name", "Name", ""),
    Blank::typed("nominal", "Nominal size", "1x6 or 5/4x6; fills in the actual one"),
    Blank::one_of("sheet", "Sold as", &[("no", "Boards"), ("yes", "Sheets")]),
    Blank::length("thickness", "Actual thickness", "3/4 plywood is about 23/32"),
    Blank::length("width", "Actual width", ""),
    Blank::length("trim_left", "Trim, left end", "what each board gives up"),
    Blank::length("trim_right", "Trim, right end", ""),
    Blank::length("trim", "Trim, all four edges", "offcuts too"),
    Blank::one_of(
        "by",
        "Priced by",
        &[("piece", "Piece"), ("foot", "Foot"), ("meter", "Meter"), ("board_foot", "Board foot")],
    ),
    Blank::number("rate", "Price of one", "foot, meter or board foot; empty: not known"),
    Blank::one_of("taxed", "Sales tax", &[("no", "In the price"), ("yes", "On top")]),
];

pub const SOLD: &[Blank] = &[
    Blank::length("length", "Length", ""),
    Blank::number("price", "Price", "empty: not known"),
    Blank::number("left", "In stock", "empty: plenty"),
];

pub const OWNED: &[Blank] = &[
    Blank::length("length", "Length", ""),
    Blank::length("width", "Width", "empty: the sheet\u{2019}s"),
    Blank::number("count", "How many", ""),
    Blank::typed("bad", "Bad stretches", "12 to 14 1/2, 30 to 31"),
    Blank::length("trim_left", "Trim, left end", ""),
    Blank::length("trim_right", "Trim, right end", ""),
    Blank::typed("note", "Note", ""),
];

pub const SETTINGS: &[Blank] = &[
    Blank::number("tax", "Sales tax, %", "one rate for all"),
    Blank::length("keep", "Keep leftovers from", ""),
    Blank::length("trim", "Trimmed off each end", "of a board you buy"),
];

impl Stock {
    /// Fields that the forms of its owned boards do without.
    pub fn without_owned(&self) -> &'static [&'static str] {
        if self.sheet { &["bad", "trim_left", "trim_right"] } else { &["width"] }
    }
    /// Fields that the forms of this stock and of its sold lengths do without.
    pub fn without(&self) -> &'static [&'static str] {
        match (self.sheet, self.by == By::Piece) {
            (true, _) => &["nominal", "trim_left", "trim_right", "by", "rate"],
            (false, true) => &["trim", "rate"],
            (false, false) => &["trim", "price"],
        }
    }
}

const TOO_MANY: u32 = 10_000;

fn count(text: &str) -> Result<u32, String> {
    let n = parse_count(text).map_err(|e| e.to_string())?;
    if n > TOO_MANY {
        return Err("At most 10,000.".into());
    }
    Ok(n)
}

/// A price as it stands in a field: `4.28`; nothing where there is none yet.
pub(crate) fn price_text(m: Money, currency: &Currency) -> String {
    if m == Money::ZERO { String::new() } else { currency.plain(m) }
}

/// Highest price, in whole units of a money.
pub(crate) const MOST_PRICE: i64 = 1_000_000;

pub(crate) fn read_price(text: &str, currency: &Currency) -> Result<Money, String> {
    if text.trim().is_empty() {
        return Ok(Money::ZERO);
    }
    let m = currency.read_money(text)?;
    if m == Money::ZERO {
        return Err(
            "Leave it empty while you do not know it; what costs nothing goes on hand.".into()
        );
    }
    if m < Money::ZERO || m.0 > MOST_PRICE * currency.unit() {
        return Err("A price up to 1,000,000.".into());
    }
    Ok(m)
}

fn words(text: &str, most: usize) -> Result<String, String> {
    if text.chars().count() > most {
        return Err(format!("At most {most} letters."));
    }
    Ok(text.to_owned())
}

impl Written for Stock {
    fn text(&self, key: &str, unit: Unit) -> String {
        match key {
            "name" => self.name.clone(),
            "nominal" => self.nominal.map(nominal_text).unwrap_or_default(),
            "thickness" => length_text(self.thickness, unit),
            "width" => length_text(self.width, unit),
            "sheet" => if self.sheet { "yes" } else { "no" }.to_owned(),
            "trim" | "trim_left" => length_text(self.trim_left, unit),
            "trim_right" => length_text(self.trim_right, unit),
            "by" => match self.by {
                By::Piece => "piece",
                By::Foot => "foot",
                By::Meter => "meter",
                By::BoardFoot => "board_foot",
            }
            .to_owned(),
            "taxed" => if self.taxed { "yes" } else { "no" }.to_owned(),
            _ => String::new(),
        }
    }
    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        match key {
            "name" => self.name = words(text, 60)?,
            "nominal" if text.trim().is_empty() => self.nominal = None,
            "nominal" => {
                let size = read_nominal(text)?;
                // A name that nobody gave follows.
                let named = |n| nominal_text(n).replace('x', "\u{d7}");
                let own =
                    [format!("Stock {}", self.id), self.nominal.map(named).unwrap_or_default()];
                if own.contains(&self.name) {
                    self.name = named(size);
                }
                self.nominal = Some(size);
                if let Some((thickness, width)) = facts::dressed(size.0, size.1) {
                    (self.thickness, self.width) = (thickness, width);
                }
            }
            "thickness" => self.thickness = read_length(text, unit, false)?,
            "width" => self.width = read_length(text, unit, false)?,
            "sheet" => {
                self.sheet = text == "yes";
                if self.sheet {
                    (self.by, self.trim_right) = (By::Piece, self.trim_left);
                }
            }
            "trim" => {
                self.trim_left = read_length(text, unit, true)?;
                self.trim_right = self.trim_left;
            }
            "trim_left" => self.trim_left = read_length(text, unit, true)?,
            "trim_right" => self.trim_right = read_length(text, unit, true)?,
            "by" => {
                self.by = match text {
                    "foot" => By::Foot,
                    "meter" => By::Meter,
                    "board_foot" => By::BoardFoot,
                    _ => By::Piece,
                }
            }
            "taxed" => self.taxed = text == "yes",
            _ => {}
        }
        Ok(())
    }
}

impl Written for Sold {
    fn text(&self, key: &str, unit: Unit) -> String {
        match key {
            "length" => length_text(self.length, unit),
            "left" => self.left.map(|n| n.to_string()).unwrap_or_default(),
            _ => String::new(),
        }
    }
    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        match key {
            "length" => {
                self.length = read_length(text, unit, false)?;
                self.over = Length::ZERO;
            }
            "left" if text.trim().is_empty() => self.left = None,
            "left" => self.left = Some(count(text)?),
            _ => {}
        }
        Ok(())
    }
}

impl Written for Owned {
    fn text(&self, key: &str, unit: Unit) -> String {
        match key {
            "length" => length_text(self.length, unit),
            "width" => self.width.map(|w| length_text(w, unit)).unwrap_or_default(),
            "count" => self.count.to_string(),
            "bad" => {
                let all: Vec<String> = self
                    .bad
                    .iter()
                    .map(|(from, to)| {
                        format!("{} to {}", length_text(*from, unit), length_text(*to, unit))
                    })
                    .gather();
                all.join(", ")
            }
            "trim_left" => length_text(self.trim_left, unit),
            "trim_right" => length_text(self.trim_right, unit),
            "note" => self.note.clone(),
            _ => String::new(),
        }
    }
    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        match key {
            "length" => self.length = read_length(text, unit, false)?,
            "width" if text.trim().is_empty() => self.width = None,
            "width" => self.width = Some(read_length(text, unit, false)?),
            "count" => self.count = count(text)?,
            "bad" => self.bad = read_bad(text, unit, self.length)?,
            "trim_left" => self.trim_left = read_length(text, unit, true)?,
            "trim_right" => self.trim_right = read_length(text, unit, true)?,
            "note" => self.note = words(text, 200)?,
            _ => {}
        }
        Ok(())
    }
}

impl Written for Rack {
    fn text(&self, key: &str, unit: Unit) -> String {
        match key {
            "tax" => percent_text(self.tax),
            "keep" => length_text(self.keep, unit),
            "trim" => self.trim.map(|l| length_text(l, unit)).unwrap_or_default(),
            _ => String::new(),
        }
    }
    fn write(&mut self, key: &str, text: &str, unit: Unit) -> Result<(), String> {
        match key {
            "tax" => self.tax = read_share(text)?,
            "keep" => self.keep = read_length(text, unit, true)?,
            "trim" => self.trim_ends(read_length(text, unit, true)?),
            _ => {}
        }
        Ok(())
    }
}
