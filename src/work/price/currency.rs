//! The maker's own money: its sign, where the sign stands, how many decimals it has.

use super::exact::{Exact, fraction, half_up, whole};
use num_bigint::{BigInt, Sign};
use offsquare_units::{parse_cents, parse_fraction};

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
    /// Minor units in one unit.
    fn unit(&self) -> Exact {
        Exact::from_integer(BigInt::from(10).pow(self.places))
    }

    /// Hundredths of a unit, as the rack has its prices, in minor units.
    pub fn of_hundredths(&self, hundredths: i64) -> Exact {
        Exact::from_integer(hundredths.into()) * self.unit() / whole(100)
    }

    /// Minor units as an amount, rounded half up.
    ///
    /// ```
    /// use offsquare_work::price::{Currency, whole};
    /// assert_eq!(Currency::default().print(&whole(123_450)), "$1,234.50");
    /// let crowns = Currency { sign: "kr".into(), after: true, places: 0 };
    /// assert_eq!(crowns.print(&(whole(25) / whole(2))), "13 kr");
    /// ```
    pub fn print(&self, minor: &Exact) -> String {
        let rounded = half_up(minor);
        let digits = format!("{:0>1$}", rounded.magnitude().to_string(), self.places as usize + 1);
        let (whole, part) = digits.split_at(digits.len() - self.places as usize);
        let mut out = String::new();
        for (i, c) in whole.chars().enumerate() {
            if i > 0 && (whole.len() - i).is_multiple_of(3) {
                out.push(',');
            }
            out.push(c);
        }
        if !part.is_empty() {
            out.push('.');
            out.push_str(part);
        }
        let minus = if rounded.sign() == Sign::Minus { "-" } else { "" };
        match (self.sign.as_str(), self.after) {
            ("", _) => format!("{minus}{out}"),
            (sign, true) => format!("{minus}{out} {sign}"),
            (sign, false) => format!("{minus}{sign}{out}"),
        }
    }

    /// Reads an amount, or a sum of amounts, 0 or more, with the sign or without it; a sum is rounded half up. Otherwise
    /// says what would be right.
    ///
    /// ```
    /// use offsquare_work::price::{Currency, whole};
    /// let euros = Currency { sign: "€".into(), after: true, places: 2 };
    /// assert_eq!(euros.read("3 * 4.28 €"), Ok(whole(1284)));
    /// assert!(euros.read("4.285").is_err());
    /// ```
    pub fn read(&self, text: &str) -> Result<Exact, String> {
        let hundred = whole(100);
        let (amount, is_sum) = match self.sign.as_str() {
            "$" | "" => {
                let read = parse_cents(text).map_err(|e| e.to_string())?;
                (fraction(&read) / hundred, read.is_sum)
            }
            sign => {
                let plain = text.replace(sign, " ");
                let read = parse_fraction(plain.trim()).map_err(|e| e.to_string())?;
                (fraction(&read), read.is_sum)
            }
        };
        let minor = amount * self.unit();
        match (minor.is_integer() || is_sum, self.places) {
            (true, _) if minor < whole(0) => Err("An amount of 0 or more.".into()),
            (true, _) => Ok(Exact::from_integer(half_up(&minor))),
            (false, 0) => Err("This money has no decimals: type a whole amount.".into()),
            (false, n) => {
                let shown = &"4.2857"[..n.min(4) as usize + 2];
                Err(format!("This money has {n} decimals: type it as in {shown}."))
            }
        }
    }
}
