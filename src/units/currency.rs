//! The maker's own money: its sign, where the sign stands, how many decimals it has. All money that is shown or typed
//! passes through here.

use super::Money;
use super::kind::Kind;
use super::print::grouped_digits;
use super::typed::{ParsedFraction, parse_kind};

/// How amounts of minor units are read and printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Currency {
    pub sign: String,
    /// The sign stands behind the amount.
    pub after: bool,
    /// Decimals of an amount; 10 to this power minor units are one unit.
    pub places: u32,
}

impl Default for Currency {
    fn default() -> Currency {
        Currency { sign: "$".into(), after: false, places: 2 }
    }
}

impl Currency {
    /// Longest sign, in characters.
    pub const LONGEST_SIGN: usize = 4;

    /// Minor units in one unit.
    pub fn unit(&self) -> i64 {
        10_i64.pow(self.places.min(9))
    }

    /// ```
    /// use offsquare_units::{Currency, Money};
    /// assert_eq!(Currency::default().print(Money(-123_450)), "-$1,234.50");
    /// let crowns = Currency { sign: "kr".into(), after: true, places: 0 };
    /// assert_eq!(crowns.print(Money(1_234)), "1,234 kr");
    /// ```
    pub fn print(&self, money: Money) -> String {
        self.print_digits(money.0 < 0, &money.0.unsigned_abs().to_string())
    }

    /// The same for any number of minor units, in its digits.
    pub fn print_digits(&self, negative: bool, digits: &str) -> String {
        let (whole, part) = self.split(digits);
        let amount = [&grouped_digits(&whole), part.as_str()].concat();
        let minus = if negative { "-" } else { "" };
        match (self.sign.as_str(), self.after) {
            ("", _) => format!("{minus}{amount}"),
            (sign, true) => format!("{minus}{amount} {sign}"),
            (sign, false) => format!("{minus}{sign}{amount}"),
        }
    }

    /// An amount as it stands in a field: `1234.50`, without a sign.
    pub fn plain(&self, money: Money) -> String {
        let (whole, part) = self.split(&money.0.unsigned_abs().to_string());
        let minus = if money.0 < 0 { "-" } else { "" };
        [minus, &whole, &part].concat()
    }

    /// Whole units, and the decimals with their point.
    fn split(&self, digits: &str) -> (String, String) {
        let places = self.places as usize;
        let digits = format!("{digits:0>0$}", places + 1);
        let (whole, part) = digits.split_at(digits.len() - places);
        let point = if part.is_empty() { "" } else { "." };
        (whole.to_owned(), [point, part].concat())
    }

    /// Reads an amount, or a sum of amounts, with the sign or without it, as minor units; only a sum may come to a part
    /// of one. Otherwise says what would be right.
    ///
    /// ```
    /// use offsquare_units::Currency;
    /// let euros = Currency { sign: "€".into(), after: true, places: 2 };
    /// let read = euros.read("3 * 4.28 €").unwrap();
    /// assert_eq!((read.over, read.under), (1284, 1));
    /// assert_eq!(euros.read("$4.28").unwrap_err(), "“$” does not belong in a price. Type it as 4.28.");
    /// ```
    pub fn read(&self, text: &str) -> Result<ParsedFraction, String> {
        // Dollars are typed in more ways: with the sign first, in words, in cents.
        let dollars = self.places == 2 && ["$", ""].contains(&&*self.sign);
        let (kind, hundredths) =
            if dollars { (Kind::Money, 100) } else { (Kind::Amount(self.places), 1) };
        let plain = match dollars && !self.after {
            true => text.to_owned(),
            false => self.without_sign(text),
        };
        let read = parse_kind(&plain, kind).map_err(|e| e.to_string())?;
        let minor = read.times(self.unit(), hundredths).ok_or("That is too large.")?;
        match (minor.under == 1 || minor.is_sum, self.places) {
            (true, _) => Ok(minor),
            (false, 0) => Err("This money has no decimals: type a whole amount.".into()),
            (false, n) => {
                let shown = &"4.2857"[..n.min(4) as usize + 2];
                Err(format!("This money has {n} decimals: type it as in {shown}."))
            }
        }
    }

    /// An amount, a sum rounded to the nearest minor unit, an exact half away from zero.
    ///
    /// ```
    /// use offsquare_units::{Currency, Money};
    /// assert_eq!(Currency::default().read_money("$10 / 3"), Ok(Money(333)));
    /// ```
    pub fn read_money(&self, text: &str) -> Result<Money, String> {
        let read = self.read(text)?;
        let size = (2 * read.over.unsigned_abs()).saturating_add(read.under.unsigned_abs())
            / (2 * read.under.unsigned_abs());
        let size = i64::try_from(size).map_err(|_| "That is too large.")?;
        Ok(Money(if read.over < 0 { -size } else { size }))
    }

    /// The text with a space in place of each sign, unless the sign is part of a longer word.
    fn without_sign(&self, text: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some(at) =
            Some(&self.sign).filter(|s| !s.is_empty()).and_then(|s| rest.find(s.as_str()))
        {
            let (before, from) = rest.split_at(at);
            let behind = &from[self.sign.len()..];
            let joins = |a: Option<char>, b: Option<char>| {
                a.zip(b).is_some_and(|(a, b)| a.is_alphabetic() && b.is_alphabetic())
            };
            let inside =
                joins(before.chars().last().or(out.chars().last()), self.sign.chars().next())
                    || joins(self.sign.chars().last(), behind.chars().next());
            out.push_str(before);
            out.push_str(if inside { &self.sign } else { " " });
            rest = behind;
        }
        out + rest
    }

    /// Whether a text may be a sign: it must not be mistaken for part of an amount.
    pub fn check_sign(text: &str) -> Result<(), String> {
        let text = text.trim();
        if text.chars().count() > Currency::LONGEST_SIGN {
            return Err(format!("At most {} letters.", Currency::LONGEST_SIGN));
        }
        let has_digit = text.chars().any(char::is_numeric);
        let is_sign =
            |c: char| c.is_alphabetic() || !(c.is_ascii() || c == '×' || c == '÷') || c == '$';
        if has_digit || !(text.is_empty() || text.chars().any(is_sign)) {
            return Err("Letters or a sign of money, such as €, without figures.".into());
        }
        Ok(())
    }

    /// An amount of another money in this one's minor units, rounded half up.
    pub fn rescaled(&self, money: Money, from: &Currency) -> Money {
        let (to, from) = (i128::from(self.unit()), i128::from(from.unit()));
        let minor = (i128::from(money.0) * to * 2 + from).div_euclid(2 * from);
        Money(i64::try_from(minor).unwrap_or(money.0))
    }
}
