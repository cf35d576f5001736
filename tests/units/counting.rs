//! Money, counts, plain numbers and weights.

use offsquare_units::{
    Currency, Length, Money, Unit, parse_count, parse_length, parse_mass, parse_number,
};

fn parse_money(text: &str) -> Result<Money, String> {
    Currency::default().read_money(text)
}

#[test]
fn prices() {
    for (text, cents) in [
        ("4.28", 428),
        ("$4.28", 428),
        ("$ 4.28", 428),
        ("USD 4.28", 428),
        ("4.28 USD", 428),
        ("4.28 dollars", 428),
        ("4", 400),
        ("$4", 400),
        (".50", 50),
        ("4.5", 450),
        ("4,28", 428),
        ("1,234", 123_400),
        ("$1,234.50", 123_450),
        ("28¢", 28),
        ("28 cents", 28),
        ("3 dollars 28 cents", 328),
        ("-$4.28", -428),
        ("0", 0),
        ("3 * 4.28", 1284),
        ("3 * $4.28", 1284),
        ("$4.28 + 72¢", 500),
        ("10 / 3", 333),
        ("20 / 3", 667),
        ("0.01 / 2", 1),
        ("4.28 * 1.0725", 459), // 4.5903
        ("1000000000", 100_000_000_000),
    ] {
        assert_eq!(parse_money(text), Ok(Money(cents)), "{text}");
    }
}

#[test]
fn prices_that_are_none() {
    let says = |text: &str| parse_money(text).unwrap_err();
    assert_eq!(says(""), "Type a price, such as 4.28.");
    assert_eq!(says("$"), "A number is missing after “$”.");
    assert_eq!(says("4.285"), "This money has 2 decimals: type it as in 4.28.");
    assert_eq!(says("4 in"), "“in” is not a unit of a price. Use $ or no unit.");
    assert_eq!(says("€4"), "“€” does not belong in a price. Type it as 4.28.");
    assert_eq!(
        says("$2 * $2"),
        "Money cannot be multiplied by money. Use a number without a unit."
    );
    assert_eq!(says("1e10"), "That is more than $1,000,000,000. Check the number.");
}

#[test]
fn money_is_printed_and_read_back() {
    for (cents, shown) in [
        (428, "$4.28"),
        (5, "$0.05"),
        (0, "$0.00"),
        (-50, "-$0.50"),
        (100_000, "$1,000.00"),
        (123_456_789, "$1,234,567.89"),
        (-123_450, "-$1,234.50"),
    ] {
        assert_eq!(Currency::default().print(Money(cents)), shown);
        assert_eq!(parse_money(shown), Ok(Money(cents)));
    }
    assert_eq!(Currency::default().print(Money(i64::MIN)), "-$92,233,720,368,547,758.08");
}

/// Moneys of every kind: sign before and behind, of letters and of none, with 0, 2 and 3 decimals.
fn moneys() -> Vec<Currency> {
    let signs = ["$", "\u{20ac}", "kr", "Fr.", "KD", "R$", "\u{a5}", "z\u{142}"];
    let all = signs.iter().flat_map(|sign| {
        let of = move |(after, places)| Currency { sign: (*sign).into(), after, places };
        [(false, 0), (true, 0), (false, 2), (true, 2), (false, 3), (true, 3)].map(of)
    });
    all.collect()
}

#[test]
fn every_money_is_read_back_as_it_is_printed_and_as_it_stands_in_a_field() {
    for currency in moneys() {
        for minor in (0..2_000).chain((0..60).map(|i| i * i * 7_919 + i)).chain([999_999_999]) {
            let money = Money(minor);
            let (shown, plain) = (currency.print(money), currency.plain(money));
            assert_eq!(currency.read_money(&shown), Ok(money), "{currency:?} {shown}");
            assert_eq!(currency.read_money(&plain), Ok(money), "{currency:?} {plain}");
            assert!(!shown.contains('$') || currency.sign.contains('$'), "{shown}");
        }
    }
}

#[test]
fn another_money_is_refused_without_a_word_of_dollars() {
    let says = |sign: &str, places, text: &str| {
        let currency = Currency { sign: sign.into(), after: true, places };
        currency.read_money(text).expect_err(text)
    };
    for (sign, places, text, wanted) in [
        ("\u{20ac}", 2, "$4.28", "\u{201c}$\u{201d} does not belong in a price. Type it as 4.28."),
        ("\u{20ac}", 2, "4.285", "This money has 2 decimals: type it as in 4.28."),
        ("\u{a5}", 0, "4.5", "This money has no decimals: type a whole amount."),
        ("KD", 3, "4.2857 KD", "This money has 3 decimals: type it as in 4.285."),
        (
            "KD",
            3,
            "1,234",
            "\u{201c}1,234\u{201d} can mean 1.234 or 1234. Type it without the comma.",
        ),
        (
            "kr",
            2,
            "4 dollars",
            "\u{201c}dollars\u{201d} is not a unit of a price. Use the sign of your money or no unit.",
        ),
        (
            "m",
            2,
            "4 mm",
            "\u{201c}mm\u{201d} is not a unit of a price. Use the sign of your money or no unit.",
        ),
        ("kr", 2, "1e10", "That is more than 1,000,000,000. Check the number."),
        ("kr", 2, "", "Type a price, such as 4.28."),
    ] {
        assert_eq!(says(sign, places, text), wanted);
    }
}

#[test]
fn a_sign_of_money_holds_no_figures() {
    for good in ["", "$", "\u{20ac}", "kr", "Fr.", " KD ", "R$"] {
        assert_eq!(Currency::check_sign(good), Ok(()), "{good}");
    }
    for bad in ["1", "kr1", "+", ".", "-", "(", "kroner"] {
        assert!(Currency::check_sign(bad).is_err(), "{bad}");
    }
}

#[test]
fn amounts_stay_the_same_in_another_number_of_decimals() {
    let of = |places| Currency { places, ..Currency::default() };
    for (minor, from, to, wanted) in [
        (385, 2, 3, 3_850),
        (385, 2, 0, 4),
        (350, 2, 0, 4),
        (349, 2, 0, 3),
        (4, 0, 2, 400),
        (0, 2, 3, 0),
    ] {
        assert_eq!(of(to).rescaled(Money(minor), &of(from)), Money(wanted));
    }
}

#[test]
fn money_does_not_overflow() {
    assert_eq!(Money(i64::MAX) + Money(1), Money(i64::MAX));
    assert_eq!(Money(i64::MIN) - Money(1), Money(i64::MIN));
    assert_eq!(-Money(i64::MIN), Money(i64::MAX));
    assert_eq!(Money(i64::MAX) * 2, Money(i64::MAX));
    // 4.28 · 1.5 = 6.42; half a cent goes up, and down below zero.
    assert_eq!(Money(428).times(1.5), Some(Money(642)));
    assert_eq!(Money(1).times(0.5), Some(Money(1)));
    assert_eq!(Money(-1).times(0.5), Some(Money(-1)));
    assert_eq!(Money(1).times(f64::NAN), None);
    assert_eq!(Money(1).times(f64::INFINITY), None);
    assert_eq!(Money(1).times(1e300), None);
}

#[test]
fn counts() {
    for (text, count) in [
        ("12", 12),
        ("0", 0),
        ("1,200", 1200),
        ("3 * 4", 12),
        ("12/4", 3),
        ("1e3", 1000),
        ("7 - 2", 5),
    ] {
        assert_eq!(parse_count(text), Ok(count), "{text}");
    }
    let says = |text: &str| parse_count(text).unwrap_err().to_string();
    assert_eq!(says("2.5"), "Only a whole number fits here, such as 12.");
    assert_eq!(says("7/2"), "Only a whole number fits here, such as 12.");
    assert_eq!(says("-3"), "This cannot be less than 0. Type 0 or more.");
    assert_eq!(says("5 in"), "“in” does not belong in a number. Use digits only.");
    assert_eq!(says("5'"), "“'” does not belong in a number. Type it as 12.");
    assert_eq!(says("4294967296"), "That is more than 1,000,000,000. Check the number.");
}

#[test]
fn numbers_and_weights() {
    assert_eq!(parse_number("2.5"), Ok(2.5));
    assert_eq!(parse_number("1 3/4"), Ok(1.75));
    assert_eq!(parse_number("-0.125"), Ok(-0.125));
    assert_eq!(parse_number("1 / 3"), Ok(1.0 / 3.0));
    // 1 lb = 0.45359237 kg (international agreement of 1959), 16 oz to the pound.
    assert_eq!(parse_mass("1 lb", Unit::Inch), Ok(0.453_592_37));
    assert_eq!(parse_mass("100", Unit::FeetInches), Ok(45.359_237));
    assert_eq!(parse_mass("16 oz", Unit::Millimeter), Ok(0.453_592_37));
    assert_eq!(parse_mass("3 lb 8 oz", Unit::Inch), Ok(1.587_573_295)); // 3.5 · 0.45359237
    assert_eq!(parse_mass("12", Unit::Millimeter), Ok(12.0));
    assert_eq!(parse_mass("1 kg 200 g", Unit::Inch), Ok(1.2));
    assert_eq!(parse_mass("800 g", Unit::Inch), Ok(0.8));
}

/// "4x" and "x 4" are how many is written in lists; between two numbers x is times, except between two bare lengths,
/// which may as well be two sizes of one board.
#[test]
fn an_x_is_times_where_it_can_be_nothing_else() {
    for text in ["4x", "4 x", "x4", "X 4", "4\u{d7}", "2 x 2", "2X2"] {
        assert_eq!(parse_count(text), Ok(4), "{text}");
    }
    for text in ["x", "4xx", "x 4 x", "4x x4"] {
        assert!(parse_count(text).is_err(), "{text}");
    }
    assert_eq!(parse_number("1 1/2 x 3"), Ok(4.5));
    let length = |text: &str| parse_length(text, Unit::Inch).map(|p| p.length);
    assert_eq!(length("3 x 7 1/2 in"), Ok(Length(22.5)));
    assert_eq!(length("2 x 1' 3"), Ok(Length(30.0)));
    for text in ["2 x 4", "2x4", "30 x 44", "1 1/2 x 3 1/2 in", "2 in x 4 in", "2 in x 4"] {
        assert!(length(text).unwrap_err().to_string().contains("One size here"), "{text}");
    }
}
