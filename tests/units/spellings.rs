//! Every way to write one length, angle or price.

use offsquare_units::{Length, Ticks, Unit, parse_angle, parse_length};

/// 64ths of an inch, by hand.
fn sixty_fourths(n: i64) -> Ticks {
    Ticks(n * 31_750)
}

#[track_caller]
fn reads(text: &str, unit: Unit, expected: Ticks) {
    match parse_length(text, unit) {
        Ok(typed) => {
            assert_eq!(typed.ticks, expected, "{text}");
            assert_eq!(typed.length, expected.to_length(), "{text}");
            assert!(!typed.is_sum, "{text} is one value");
        }
        Err(error) => panic!("{text}: {error}"),
    }
}

/// 23 5/8 in = 1512/64, in every documented spelling and in those that keyboards, word processors
/// and dictation make of it.
#[test]
fn twenty_three_and_five_eighths() {
    for text in [
        "23 5/8",
        "23-5/8",
        "1' 11 5/8\"",
        "1 ft 11 5/8 in",
        "23.625",
        " 23 5/8 ",
        "23  5/8",
        "23 5/8\"",
        "23 5/8 \"",
        "23 5/8in",
        "23 5/8 in",
        "23 5/8 in.",
        "23 5/8 inches",
        "23 5/8 Inch",
        "23 5/8 IN",
        "23-5/8\"",
        "23–5/8",
        "23−5/8",
        "23‑5/8",
        "23 and 5/8",
        "23 And 5/8 inches",
        "23 & 5/8",
        "23⅝",
        "23 ⅝",
        "23-⅝",
        "23⁵⁄₈",
        "23 ⁵⁄₈",
        "23 ⁵/₈",
        "23 ⁵/8",
        "23 5⁄8",
        "23 5∕8",
        "23\u{a0}5/8",
        "23\u{202f}5/8″",
        "\u{feff}23 5/8\u{200b}",
        "23 10/16",
        "23 40/64",
        "023.6250",
        "23.625in",
        "23.625\"",
        "23.625 in.",
        "+23.625",
        "(23 5/8)",
        "(23 5/8) in",
        "2.3625e1",
        "1'11 5/8\"",
        "1' 11 5/8",
        "1'-11 5/8\"",
        "1'–11⅝\"",
        "1′ 11 5/8″",
        "1′11⅝″",
        "1’ 11 5/8”",
        "1‘11 5/8“",
        "1' 11 5/8''",
        "1′ 11 5/8′′",
        "1' 11-5/8\"",
        "1' 11.625\"",
        "1 ft. 11 5/8 in.",
        "1ft 11 5/8in",
        "1ft11 5/8in",
        "1 foot 11 5/8 inches",
        "1 Foot, 11 5/8 Inches",
        "1 foot and 11 5/8 inches",
        "1 ft 11 5/8",
        "２３ ５／８",
    ] {
        reads(text, Unit::Inch, sixty_fourths(1512));
        reads(text, Unit::FeetInches, sixty_fourths(1512));
    }
}

#[test]
fn metric() {
    // 600 mm = 48,000,000 ticks at 80,000 a millimeter.
    for text in [
        "600 mm",
        "60 cm",
        "0.6 m",
        "600mm",
        "600 MM",
        "60cm",
        ".6 m",
        "0,6 m",
        "600 millimeters",
        "600 millimetres",
        "60 centimeters",
        "60 centimetre",
        "0.6 meter",
        "0.6 metres",
        "600.0 mm",
        "600. mm",
        "0 m 60 cm",
        "50 cm 100 mm",
    ] {
        reads(text, Unit::Inch, Ticks(48_000_000));
        reads(text, Unit::Millimeter, Ticks(48_000_000));
    }
    for text in ["600", "600.0", "6e2", "600 mm", "(600)"] {
        reads(text, Unit::Millimeter, Ticks(48_000_000));
    }
    reads("600 1/2", Unit::Millimeter, Ticks(48_040_000));
    reads("600,5", Unit::Millimeter, Ticks(48_040_000));
    reads("1,234.5 mm", Unit::Millimeter, Ticks(98_760_000));
    reads("1 m 20 cm 5 mm", Unit::Inch, Ticks(1205 * 80_000));
}

/// A bare number counts in the field's unit, and a unit typed wins over it.
#[test]
fn the_field_gives_the_unit_that_is_not_typed() {
    reads("12", Unit::Inch, Ticks(12 * 2_032_000));
    reads("12", Unit::FeetInches, Ticks(12 * 2_032_000));
    reads("12", Unit::Millimeter, Ticks(12 * 80_000));
    reads("12 in", Unit::Millimeter, Ticks(12 * 2_032_000));
    reads("12 mm", Unit::FeetInches, Ticks(12 * 80_000));
    reads("3 ft", Unit::Millimeter, Ticks(36 * 2_032_000));
    reads("1 yd", Unit::Inch, Ticks(36 * 2_032_000));
    reads("1 yd 2 ft 3 in", Unit::Inch, Ticks(63 * 2_032_000));
    reads("1 1/2 ft", Unit::Inch, Ticks(18 * 2_032_000));
}

/// Every fraction that has a character of its own, as Unicode's charts give its value (memory).
#[test]
fn fractions_of_one_character() {
    for (text, top, below) in [
        ("½", 1, 2),
        ("¼", 1, 4),
        ("¾", 3, 4),
        ("⅛", 1, 8),
        ("⅜", 3, 8),
        ("⅝", 5, 8),
        ("⅞", 7, 8),
        ("⅕", 1, 5),
        ("⅖", 2, 5),
        ("⅗", 3, 5),
        ("⅘", 4, 5),
        ("⅒", 1, 10),
        ("⅟₁₆", 1, 16),
        ("⅟32", 1, 32),
        ("¹⁵⁄₁₆", 15, 16),
        ("⁶³⁄₆₄", 63, 64),
        ("²³⁄₆₄", 23, 64),
    ] {
        // All these denominators divide 2,032,000 = 2^7 · 5^3 · 127.
        let expected = Ticks(2_032_000 / below * top);
        reads(text, Unit::Inch, expected);
        reads(&format!("{text}\""), Unit::Inch, expected);
        reads(&format!("7 {text}"), Unit::Inch, expected + Ticks(7 * 2_032_000));
    }
}

#[test]
fn below_zero_is_a_length() {
    reads("-5", Unit::Inch, Ticks(-5 * 2_032_000));
    reads("- 5", Unit::Inch, Ticks(-5 * 2_032_000));
    reads("−5 1/2", Unit::Inch, sixty_fourths(-352));
    reads("-5-1/2", Unit::Inch, sixty_fourths(-352));
    reads("-1' 3\"", Unit::Inch, Ticks(-15 * 2_032_000));
    reads("0", Unit::Inch, Ticks(0));
    reads("-0", Unit::Inch, Ticks(0));
    reads("0/8", Unit::Inch, Ticks(0));
}

/// A third of an inch is no whole number of ticks: 677,333 1/3. The length is the nearest f64.
#[test]
fn thirds_are_rounded_once() {
    let third = parse_length("1/3", Unit::Inch).unwrap();
    assert_eq!(third.ticks, Ticks(677_333));
    assert_eq!(third.length, Length::inches(1.0 / 3.0));
    let two = parse_length("⅔", Unit::Inch).unwrap();
    assert_eq!(two.ticks, Ticks(1_354_667));
    // Half a tick is 1/4,064,000 in; it goes up, and down below zero.
    assert_eq!(parse_length("1/4064000", Unit::Inch).unwrap().ticks, Ticks(1));
    assert_eq!(parse_length("-1/4064000", Unit::Inch).unwrap().ticks, Ticks(-1));
    assert_eq!(parse_length("1/4064001", Unit::Inch).unwrap().ticks, Ticks(0));
}

#[test]
fn decimals_are_the_nearest_f64() {
    for text in ["0.1", "23.3", "119999.999", "0.000123", "34.287654321098765"] {
        let typed = parse_length(text, Unit::Inch).unwrap();
        let expected: f64 = text.parse().unwrap();
        // Numerator and denominator are each rounded once, and their quotient once.
        let off = (typed.length.as_inches() - expected).abs();
        assert!(off <= 2.0 * f64::EPSILON * expected, "{text}");
    }
    assert_eq!(parse_length("0.1", Unit::Inch).unwrap().length.as_inches(), 0.1);
    assert_eq!(parse_length("23.3", Unit::Inch).unwrap().length.as_inches(), 23.3);
}

/// The step to which a size is typed: whole numbers 1/16 in or 1 mm, a fraction its denominator, a
/// decimal its last digit, the coarsest size of a sum.
#[test]
fn steps() {
    for (text, unit, step) in [
        ("23", Unit::Inch, 127_000),
        ("23 in", Unit::Millimeter, 127_000),
        ("2 ft", Unit::Inch, 127_000),
        ("2' 3\"", Unit::Inch, 127_000),
        ("600", Unit::Millimeter, 80_000),
        ("60 cm", Unit::Inch, 80_000),
        ("0.6 m", Unit::Inch, 80_000),
        ("60.05 cm", Unit::Inch, 8_000),
        ("600.5 mm", Unit::Inch, 8_000),
        ("600 1/2 mm", Unit::Inch, 40_000),
        ("23 5/8", Unit::Inch, 254_000),
        ("23-5/8", Unit::Inch, 254_000),
        ("23⅝", Unit::Inch, 254_000),
        ("23 63/64", Unit::Inch, 31_750),
        ("13/16", Unit::Inch, 127_000),
        ("1' 11 63/64\"", Unit::Inch, 31_750),
        ("1 1/2 ft", Unit::Inch, 127_000),
        ("1.5 ft", Unit::Inch, 127_000),
        ("23.625", Unit::Inch, 2_032),
        ("23.6", Unit::Inch, 203_200),
        ("23.0", Unit::Inch, 203_200),
        ("-23.625", Unit::Inch, 2_032),
        ("33 - 2 * 2", Unit::Inch, 127_000),
        ("5 3/64 + 23.625", Unit::Inch, 31_750),
        ("72 / 3", Unit::Inch, 127_000),
        ("72/3", Unit::Inch, 127_000),
        ("5 3/64 in * 2", Unit::Inch, 31_750),
        ("2 * 5 3/64 in", Unit::Inch, 31_750),
    ] {
        assert_eq!(parse_length(text, unit).unwrap().step, Ticks(step), "{text}");
    }
}

/// The unit that was typed, when it was one only: the field may offer it.
#[test]
fn the_typed_unit() {
    for (text, unit) in [
        ("23 5/8", None),
        ("23 5/8 in", Some(Unit::Inch)),
        ("1' 11\"", Some(Unit::FeetInches)),
        ("2 ft", Some(Unit::FeetInches)),
        ("60 cm", Some(Unit::Millimeter)),
        ("60 cm + 5 mm", Some(Unit::Millimeter)),
        ("60 cm + 5 in", None),
        ("2 ft + 5 mm", None),
    ] {
        assert_eq!(parse_length(text, Unit::Inch).unwrap().unit, unit, "{text}");
    }
}

#[test]
fn angles() {
    for (text, degrees) in [
        ("34.3", 34.3),
        ("34.3°", 34.3),
        ("34.3 deg", 34.3),
        ("34,3", 34.3),
        ("34 1/2", 34.5),
        ("34 1/2°", 34.5),
        ("34-1/2", 34.5),
        ("34½°", 34.5),
        ("34°", 34.0),
        ("34º", 34.0),
        ("34 degrees", 34.0),
        ("34° 30'", 34.5),
        ("34°30′", 34.5),
        ("34° 30’", 34.5),
        ("34 deg 30 min", 34.5),
        ("34° 30' 36\"", 34.51),
        ("34° 30' 36''", 34.51),
        ("31.6", 31.6),
        ("-22.5", -22.5),
        ("0", 0.0),
        ("360", 360.0),
        ("90 - 34.5", 55.5),
        ("360 / 8", 45.0),
        ("360/6", 60.0),
        ("(180 - 108) / 2", 36.0),
    ] {
        assert_eq!(parse_angle(text).map(|a| a.angle.degrees()), Ok(degrees), "{text}");
    }
    // Half a degree is the mark of most saws; finer if typed finer.
    for (text, step) in
        [("34", 0.5), ("34.3", 0.1), ("34 1/4", 0.25), ("34 1/2", 0.5), ("34° 30'", 0.5)]
    {
        assert_eq!(parse_angle(text).unwrap().step.degrees(), step, "{text}");
    }
}
