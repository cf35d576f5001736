//! Text that no one would type, and text that almost is a length. Nothing may panic, overflow, hang
//! or leave a length that is not finite; every refusal is a short sentence.

use offsquare_units::{
    Currency, Kind, ParseError, Style, Tape, Unit, goes_on, parse_angle, parse_count, parse_length,
    parse_length_from, parse_mass, parse_number, print_length,
};

/// A small generator with a fixed seed (PCG-style, after M. O'Neill, from memory).
struct Dice(u64);
impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % sides
    }
    fn pick<'a>(&mut self, from: &[&'a str]) -> &'a str {
        from[self.roll(from.len())]
    }
}

const NASTY: &[&str] = &[
    "0",
    "1",
    "9",
    "23",
    "64",
    "999999999999999999",
    "170141183460469231731687303715884105727",
    "0.000000000000000001",
    "1e18",
    "1e-18",
    "1e308",
    "E",
    ".",
    ",",
    ",,",
    "..",
    "/",
    "//",
    "⁄",
    "÷",
    "*",
    "×",
    "+",
    "-",
    "−",
    "--",
    " - ",
    " ",
    "  ",
    "\t",
    "\n",
    "\u{a0}",
    "\u{200b}",
    "\u{feff}",
    "\u{202e}",
    "(",
    ")",
    "((",
    "))",
    "'",
    "''",
    "\"",
    "′",
    "″",
    "’",
    "”",
    "in",
    "in.",
    "ft",
    "ft.",
    "mm",
    "cm",
    "m",
    "yd",
    "foot",
    "inches",
    "and",
    "&",
    "x",
    "X",
    "½",
    "⅝",
    "⅟",
    "²",
    "³",
    "⁵⁄₈",
    "₈",
    "°",
    "º",
    "$",
    "¢",
    "%",
    "=",
    "#",
    "\0",
    "\u{7f}",
    "é",
    "ß",
    "İ",
    "漢",
    "🪚",
    "👩‍🔧",
    "٣",
    "２",
    "．",
    "kg",
    "lb",
    "oz",
    "deg",
    "min",
    "strong",
    "nan",
    "inf",
    "1/0",
    "5/8",
    "23-5/8",
    "1'",
];

const GOOD: &[&str] = &[
    "23 5/8",
    "23-5/8",
    "1' 11 5/8\"",
    "1 ft 11 5/8 in",
    "23.625",
    "600 mm",
    "60 cm",
    "0.6 m",
    "33 - 2 * 2",
    "72 / 3",
    "5 1/2 + 3/4",
    "(33 - 2 * 2) / 2",
    "23⅝",
    "1′11⅝″",
    "2 * (5 + 3 / 4)",
    "34° 30'",
    "$4.28",
    "1,234.5 mm",
    "120000",
    "10000 ft",
];

fn check(error: ParseError, text: &str) {
    let said = error.to_string();
    assert!(said.ends_with('.') && said.len() > 15, "{text:?}: {said}");
    assert!(said.chars().count() < 160, "{text:?}: {said}");
    assert!(!said.chars().any(char::is_control), "{text:?}: {said:?}");
    assert!(!said.contains("NaN") || text.contains("nan"), "{text:?}: {said}");
}

/// Reads a text in every way; counts how many could be read as a length.
fn try_all(text: &str) -> usize {
    let mut lengths = 0;
    for unit in Unit::ALL {
        match parse_length(text, unit) {
            Ok(typed) => {
                lengths += 1;
                assert!(typed.length.as_inches().abs() <= 120_000.0, "{text:?}");
                assert!(typed.step.0 > 0, "{text:?}");
                // The length is that of the ticks to half a tick, and f64's own grain.
                let off = (typed.length - typed.ticks.to_length()).abs();
                assert!(off.as_inches() < 0.51 / 2_032_000.0, "{text:?}");
                for style_unit in Unit::ALL {
                    let shown = print_length(typed.length, &Style::of(style_unit));
                    assert!(shown.known && !shown.spoken().is_empty());
                }
                if let Err(error) = parse_length_from(&typed, text, unit) {
                    check(error, text);
                }
            }
            Err(error) => check(error, text),
        }
        if let Err(error) = parse_mass(text, unit) {
            check(error, text);
        }
    }
    goes_on(text);
    match parse_angle(text) {
        Ok(typed) => {
            assert!(typed.angle.degrees().abs() <= 360.0 && typed.step.degrees() > 0.0, "{text:?}")
        }
        Err(error) => check(error, text),
    }
    match parse_number(text) {
        Ok(n) => assert!(n.abs() <= 1e9, "{text:?}"),
        Err(error) => check(error, text),
    }
    if let Err(error) = parse_count(text) {
        check(error, text);
    }
    for sign in ["$", "kr", "\u{20ac}"] {
        for places in [0, 2, 3] {
            let currency = Currency { sign: sign.into(), after: true, places };
            match currency.read_money(text) {
                Ok(money) => assert!(money.0.abs() <= 1_000_000_000_000, "{text:?}"),
                Err(said) => assert!(said.ends_with(['.', '?']) && said.len() < 300, "{said}"),
            }
        }
    }
    lengths
}

#[test]
fn random_strings() {
    let mut dice = Dice(1);
    let mut lengths = 0;
    for _ in 0..100_000 {
        let mut text = String::new();
        for _ in 0..=dice.roll(9) {
            text.push_str(dice.pick(NASTY));
        }
        lengths += try_all(&text);
    }
    // The alphabet is not so nasty that nothing is ever read.
    assert!(lengths > 1_000, "{lengths}");
}

#[test]
fn lengths_with_a_slip() {
    let mut dice = Dice(2);
    let (mut lengths, mut refused) = (0, 0);
    for _ in 0..100_000 {
        let mut chars: Vec<char> = dice.pick(GOOD).chars().collect();
        for _ in 0..=dice.roll(3) {
            let at = dice.roll(chars.len() + 1);
            match dice.roll(4) {
                0 if at < chars.len() => {
                    chars.remove(at);
                }
                1 if at + 1 < chars.len() => chars.swap(at, at + 1),
                2 if at < chars.len() => chars.insert(at, chars[at]),
                _ => {
                    let piece: Vec<char> = dice.pick(NASTY).chars().collect();
                    chars.splice(at..at, piece);
                }
            }
            if chars.is_empty() {
                break;
            }
        }
        let text: String = chars.into_iter().collect();
        match try_all(&text) {
            0 => refused += 1,
            _ => lengths += 1,
        }
    }
    assert!(lengths > 10_000 && refused > 10_000, "{lengths} read, {refused} refused");
}

/// Sums built from their own syntax, worked out a second time in f64 by a separate little evaluator.
#[test]
fn random_sums_agree_with_f64() {
    fn build(dice: &mut Dice, depth: usize) -> (String, f64) {
        if depth == 0 || dice.roll(3) == 0 {
            return match dice.roll(4) {
                0 => {
                    let n = dice.roll(40);
                    (n.to_string(), n as f64)
                }
                1 => {
                    let (n, d) = (dice.roll(40), 1 << (1 + dice.roll(6)));
                    let top = dice.roll(d);
                    (format!("{n} {top}/{d}"), n as f64 + top as f64 / d as f64)
                }
                2 => {
                    let (n, k) = (dice.roll(40), dice.roll(1000));
                    (format!("{n}.{k:03}"), n as f64 + k as f64 / 1000.0)
                }
                _ => {
                    let d = 2 + dice.roll(14);
                    let top = 1 + dice.roll(d - 1);
                    (format!("{top}/{d}"), top as f64 / d as f64)
                }
            };
        }
        let (a, x) = build(dice, depth - 1);
        let (b, y) = build(dice, depth - 1);
        match dice.roll(4) {
            0 => (format!("({a} + {b})"), x + y),
            1 => (format!("({a} - {b})"), x - y),
            2 => (format!("({a}) * ({b})"), x * y),
            _ => (format!("({a}) / ({b} + 1/2)"), x / (y + 0.5)),
        }
    }
    let mut dice = Dice(3);
    let mut tried = 0;
    for _ in 0..20_000 {
        let (text, expected) = build(&mut dice, 2);
        match parse_length(&text, Unit::Inch) {
            Ok(typed) => {
                tried += 1;
                let off = (typed.length.as_inches() - expected).abs();
                assert!(
                    off <= 1e-9 * (1.0 + expected.abs()),
                    "{text}: {} not {expected}",
                    typed.length.as_inches()
                );
            }
            Err(error) => {
                let near_zero = text.contains("/ (") && error.to_string().contains("divided by 0");
                let far = error.to_string().contains("10,000 ft");
                assert!(near_zero || far, "{text}: {error}");
            }
        }
    }
    assert!(tried > 19_000, "{tried}");
}

#[test]
fn long_text_ends_soon() {
    for text in [
        "(".repeat(100_000),
        "1+".repeat(100_000),
        "-".repeat(199),
        "9".repeat(200),
        " ".repeat(100_000),
        "½".repeat(200),
        "1/".repeat(100),
    ] {
        assert_eq!(try_all(&text), 0);
    }
    // 66 thirds: the denominators stay small.
    let thirds = ["1/3"; 40].join(" + ");
    assert!(thirds.len() > 200 || parse_length(&thirds, Unit::Inch).is_ok());
    let mut tape = Tape::default();
    for i in 0..500 {
        tape.push(if i == 0 { "1" } else { "/ 7" }, Unit::Inch);
    }
    assert!(matches!(
        tape.lines()[499].result,
        Err(ParseError { kind: Kind::Length(Unit::Inch), .. })
    ));
}
