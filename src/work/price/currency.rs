//! Exact amounts in the maker's own money.

use super::exact::{Exact, fraction, half_up, whole};
use num_bigint::Sign;
use offsquare_units::{Currency, Money};

/// An exact amount of minor units as it is printed, rounded half up.
///
/// ```
/// use offsquare_units::Currency;
/// use offsquare_work::price::{printed, whole};
/// let crowns = Currency { sign: "kr".into(), after: true, places: 0 };
/// assert_eq!(printed(&crowns, &(whole(25) / whole(2))), "13 kr");
/// ```
pub fn printed(currency: &Currency, minor: &Exact) -> String {
    let rounded = half_up(minor);
    currency.print_digits(rounded.sign() == Sign::Minus, &rounded.magnitude().to_string())
}

/// Whole minor units.
pub fn of_money(money: Money) -> Exact {
    Exact::from_integer(money.0.into())
}

/// Reads an amount of 0 or more, or a sum of amounts, which is rounded half up.
pub(super) fn read(currency: &Currency, text: &str) -> Result<Exact, String> {
    let minor = fraction(&currency.read(text)?);
    match minor < whole(0) {
        true => Err("An amount of 0 or more.".into()),
        false => Ok(Exact::from_integer(half_up(&minor))),
    }
}
