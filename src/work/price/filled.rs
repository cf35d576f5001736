//! Forms as they are filled in: texts kept as typed, so that a sum stays a sum, and read afresh where a figure needs them.

use super::currency;
use super::exact::{Exact, fraction, whole};
use crate::rack::Blank;
use core::marker::PhantomData;
use num_traits::{Signed, ToPrimitive};
use offsquare_units::Currency;
use offsquare_units::num::Gather;
use offsquare_units::parse_fraction;
use offsquare_units::record::{Record, Stored};

/// How the text of a blank is read. Every text but a pick may be empty: it is not known then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// At most so many letters.
    Words(usize),
    /// The sign of a money.
    Sign,
    /// An amount of money.
    Price,
    /// 0 or more.
    Number,
    MoreThanNone,
    /// Percent, less than so many.
    Below(u64),
    /// Percent, but money where the pick of this key is the second of the two.
    PercentOr(&'static str, &'static str),
    /// A whole number, from and to.
    Count(u64, u64),
    /// Year, month, day.
    Date,
    /// One of the blank's choices; empty is the first.
    Pick,
}

/// One blank, and how it is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    pub blank: Blank,
    pub reads: Reads,
}

impl Ask {
    pub(super) const fn typed(
        key: &'static str,
        label: &'static str,
        help: &'static str,
        reads: Reads,
    ) -> Ask {
        let blank = match reads {
            Reads::Words(_) | Reads::Sign | Reads::Date | Reads::Pick => {
                Blank::typed(key, label, help)
            }
            _ => Blank::number(key, label, help),
        };
        Ask { blank, reads }
    }
    pub(super) const fn one_of(
        key: &'static str,
        label: &'static str,
        choices: &'static [(&'static str, &'static str)],
    ) -> Ask {
        Ask { blank: Blank::one_of(key, label, choices), reads: Reads::Pick }
    }
}

/// What a kind of form asks, in parts that several forms may share.
pub trait Form: Clone + core::fmt::Debug + PartialEq {
    const ASKS: &'static [&'static [Ask]];
}

/// A form as it is filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled<F> {
    /// A text for each blank.
    texts: Vec<String>,
    form: PhantomData<F>,
}

fn place(asks: &[&[Ask]], key: &str) -> Option<(usize, Ask)> {
    asks.iter().copied().flatten().copied().enumerate().find(|(_, ask)| ask.blank.key == key)
}

impl<F: Form> Default for Filled<F> {
    fn default() -> Filled<F> {
        let blanks = F::ASKS.iter().map(|all| all.len()).sum();
        Filled { texts: vec![String::new(); blanks], form: PhantomData }
    }
}

impl<F: Form> Stored for Filled<F> {
    fn fields(&mut self, r: &mut Record) {
        fields(F::ASKS, &mut self.texts, r);
    }
}

/// What is empty is not stored.
fn fields(asks: &[&[Ask]], texts: &mut [String], r: &mut Record) {
    for (ask, text) in asks.iter().copied().flatten().zip(texts) {
        if !(r.writes() && text.is_empty()) {
            r.text(ask.blank.key, text);
        }
    }
}

impl<F: Form> Filled<F> {
    /// With one text put in.
    pub fn with(key: &str, text: &str) -> Filled<F> {
        let mut out = Filled::default();
        out.put(key, text);
        out
    }

    pub(super) fn put(&mut self, key: &str, text: &str) {
        if let Some((at, _)) = place(F::ASKS, key) {
            self.texts[at] = text.to_owned();
        }
    }

    /// The text of a blank, as typed; of a pick, the one that holds.
    pub fn text(&self, key: &str) -> &str {
        let Some((at, ask)) = place(F::ASKS, key) else { return "" };
        match (self.texts[at].as_str(), ask.blank.choices.first()) {
            ("", Some(first)) => first.0,
            (text, _) => text,
        }
    }

    pub fn is_empty(&self, key: &str) -> bool {
        self.text(key).trim().is_empty()
    }

    fn reads(&self, ask: Ask) -> Reads {
        match ask.reads {
            Reads::PercentOr(pick, money) if self.text(pick) == money => Reads::Price,
            Reads::PercentOr(..) => Reads::Below(10_000),
            reads => reads,
        }
    }

    /// Takes a text in, or says in a plain sentence what would be right; nothing changes then.
    pub fn write(&mut self, key: &str, text: &str, currency: &Currency) -> Result<(), String> {
        if let Some((at, ask)) = place(F::ASKS, key) {
            check(self.reads(ask), &ask.blank, text, currency)?;
            self.texts[at] = text.to_owned();
        }
        Ok(())
    }

    /// The number that a blank says: money in minor units, percent as typed. None where it is empty, or cannot be read.
    pub fn number(&self, key: &str, currency: &Currency) -> Option<Exact> {
        let (at, ask) = place(F::ASKS, key)?;
        let text = self.texts[at].trim();
        if text.is_empty() {
            return None;
        }
        read(self.reads(ask), text, currency).ok()
    }

    /// The whole number that a blank says.
    pub fn count(&self, key: &str) -> Option<u64> {
        self.number(key, &Currency::default())?.to_u64()
    }

    /// Empties every blank whose text could never have been typed; gives how many. Numbers are not read here: one that
    /// says nothing is missing where it is needed.
    pub fn mend(&mut self) -> usize {
        mend(F::ASKS, &mut self.texts)
    }
}

/// Longest text that is kept, in characters.
const LONGEST: usize = 200;

fn mend(asks: &[&[Ask]], texts: &mut [String]) -> usize {
    let mut wrong = 0;
    for (ask, text) in asks.iter().copied().flatten().zip(texts) {
        let most = if let Reads::Words(most) = ask.reads { most } else { LONGEST };
        let strange = match ask.reads {
            Reads::Pick => !text.is_empty() && ask.blank.choices.iter().all(|c| c.0 != text),
            Reads::Sign => Currency::check_sign(text).is_err(),
            _ => false,
        };
        if strange || text.chars().count() > most {
            text.clear();
            wrong += 1;
        }
    }
    wrong
}

/// Whether a text may stand in a blank.
fn check(reads: Reads, blank: &Blank, text: &str, currency: &Currency) -> Result<(), String> {
    match reads {
        Reads::Words(most) if text.chars().count() > most => {
            Err(format!("At most {most} letters."))
        }
        Reads::Words(_) => Ok(()),
        Reads::Sign => Currency::check_sign(text),
        Reads::Pick if text.is_empty() || blank.choices.iter().any(|c| c.0 == text) => Ok(()),
        Reads::Pick => Err("Pick one of these.".into()),
        _ if text.trim().is_empty() => Ok(()),
        Reads::Date => date(text.trim()),
        reads => read(reads, text.trim(), currency).map(|_| ()),
    }
}

/// Reads a number; a text of words is none.
fn read(reads: Reads, text: &str, currency: &Currency) -> Result<Exact, String> {
    if reads == Reads::Price {
        return currency::read(currency, text);
    }
    let plain = match reads {
        Reads::Below(_) => text.trim_end_matches('%').trim_end(),
        _ => text,
    };
    let n = fraction(&parse_fraction(plain).map_err(|e| e.to_string())?);
    let right = match reads {
        Reads::MoreThanNone if !n.is_positive() => "A number of more than 0.".to_owned(),
        Reads::Below(most) if n.is_negative() || n >= whole(most) => {
            format!("A percentage of 0 or more, less than {most}.")
        }
        Reads::Count(from, to) if !n.is_integer() || n < whole(from) || n > whole(to) => {
            format!("A whole number from {from} to {to}.")
        }
        _ if n.is_negative() => "A number of 0 or more.".to_owned(),
        _ => return Ok(n),
    };
    Err(right)
}

/// Whether a text is a day, such as 2026-05-09.
fn date(text: &str) -> Result<(), String> {
    let parts = text.split('-').gather();
    let number = |i: usize, len: usize| {
        let part: &&str = parts.get(i)?;
        (part.len() == len).then(|| part.parse::<u32>().ok())?
    };
    let days = |year: u32, month: u32| match month {
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => {
            29
        }
        2 => 28,
        _ => 31,
    };
    let read = (parts.len() == 3).then(|| Some((number(0, 4)?, number(1, 2)?, number(2, 2)?)));
    match read.flatten() {
        Some((year, month, day))
            if (1..=12).contains(&month) && day >= 1 && day <= days(year, month) =>
        {
            Ok(())
        }
        _ => Err("A day as year, month and day: 2026-05-09.".into()),
    }
}
