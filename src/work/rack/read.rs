//! Texts that only a rack has: nominal sizes, bad stretches, a share.

use super::{MOST_BAD, Rack, Stock};
use offsquare_units::num::Gather;
use offsquare_units::{Length, Unit, length_text, parse_length, parse_number};

/// Reads a length that must be more than nothing (or may be nothing), for any field of rack and parts.
pub fn read_length(text: &str, unit: Unit, zero: bool) -> Result<Length, String> {
    let length = parse_length(text, unit).map_err(|e| e.to_string())?.length;
    if length.0 > 12_000.0 {
        return Err("A length in a shop: less than 1,000 ft.".into());
    }
    if length.0 < 0.0 || (length.0 == 0.0 && !zero) {
        return Err(if zero {
            "A length of 0 or more.".into()
        } else {
            "A length of more than 0.".into()
        });
    }
    Ok(length)
}

/// Reads a nominal size: `2x4`, `1 × 6`, `5/4 by 6`.
///
/// ```
/// use offsquare_work::rack::read_nominal;
/// assert_eq!(read_nominal("5/4 x 6"), Ok((1.25, 6.0)));
/// assert!(read_nominal("2").is_err());
/// ```
pub fn read_nominal(text: &str) -> Result<(f64, f64), String> {
    let wrong = || "Two numbers with an x between, as in 1x6 or 5/4x6.".to_owned();
    let text = text.to_ascii_lowercase().replace("by", "x").replace('\u{d7}', "x");
    let (t, w) = text.split_once('x').ok_or_else(wrong)?;
    let one =
        |s: &str| parse_number(s.trim()).ok().filter(|n| *n > 0.0 && *n <= 100.0).ok_or_else(wrong);
    Ok((one(t)?, one(w)?))
}

/// A nominal size as it is written: `5/4x6`, `2x4`.
pub(super) fn nominal_text((t, w): (f64, f64)) -> String {
    let one = |n: f64| {
        let quarters = n * 4.0;
        if n != 1.0 && n < 2.0 && quarters == offsquare_units::num::floor(quarters) && n > 1.0 {
            format!("{quarters}/4")
        } else {
            n.to_string()
        }
    };
    format!("{}x{}", one(t), one(w))
}

/// Reads bad stretches: `12 to 14 1/2, 30 to 31`.
pub(super) fn read_bad(
    text: &str,
    unit: Unit,
    within: Length,
) -> Result<Vec<(Length, Length)>, String> {
    let mut out = Vec::new();
    for one in text.split([',', ';']).filter(|s| !s.trim().is_empty()) {
        let one = one.replace('\u{2013}', " to ");
        let (from, to) = one.split_once(" to ").ok_or_else(|| {
            "Each bad stretch as from and to: 12 to 14 1/2. Put a comma between two.".to_owned()
        })?;
        let (from, to) = (read_length(from, unit, true)?, read_length(to, unit, false)?);
        if to <= from {
            return Err("A bad stretch ends behind where it begins: 12 to 14 1/2.".into());
        }
        if from >= within {
            return Err("That bad stretch begins past the end of the board.".into());
        }
        out.push((from, to));
    }
    if out.len() > MOST_BAD {
        return Err(format!("At most {MOST_BAD} bad stretches a board."));
    }
    Ok(out)
}

/// Reads a percentage to a thousandth: `8.875`, `8.875 %`, or nothing for none.
pub fn read_share(text: &str) -> Result<u32, String> {
    let text = text.trim().trim_end_matches('%').trim();
    if text.is_empty() {
        return Ok(0);
    }
    let n = parse_number(text).map_err(|e| e.to_string())?;
    if !(0.0..=40.0).contains(&n) {
        return Err("A percentage from 0 to 40, as in 8.875.".into());
    }
    Ok(offsquare_units::num::round_half_up(n * 1000.0) as u32)
}

/// A percentage as it is written: 8,875 thousandths are `8.875`.
pub fn percent_text(thousandths: u32) -> String {
    (f64::from(thousandths) / 1000.0).to_string()
}

/// A stock's section as it was typed: "23/32 × 48 sheets"; feet are no unit for it.
pub fn section(stock: &Stock, unit: Unit) -> String {
    let unit = if unit.is_metric() { unit } else { Unit::Inch };
    let one = |l: Length| length_text(l, unit);
    let sheet = if stock.sheet { " sheets" } else { "" };
    format!("{} \u{d7} {}{sheet}", one(stock.thickness), one(stock.width))
}

impl Rack {
    /// The stock that a text means: by its name, or by its nominal size.
    pub fn named(&self, text: &str) -> Option<&Stock> {
        let plain = |s: &str| {
            s.to_ascii_lowercase().replace('\u{d7}', "x").split_whitespace().gather().join(" ")
        };
        let wanted = plain(text);
        self.stocks.iter().find(|s| plain(&s.name) == wanted).or_else(|| {
            let size = read_nominal(&wanted).ok()?;
            self.stocks.iter().find(|s| s.nominal == Some(size))
        })
    }
}
