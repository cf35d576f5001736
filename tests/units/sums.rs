//! Sums in a field, and the running tape.

use offsquare_units::{Length, Tape, Ticks, Unit, goes_on, parse_length, parse_length_from};

#[track_caller]
fn comes_to(text: &str, unit: Unit, inches: f64) {
    match parse_length(text, unit) {
        Ok(typed) => {
            assert_eq!(typed.length, Length::inches(inches), "{text}");
            assert!(typed.is_sum, "{text} is a sum");
        }
        Err(error) => panic!("{text}: {error}"),
    }
}

/// Each right-hand side is worked by hand, and is a whole number of 64ths, so exact in f64.
#[test]
fn sums_of_inches() {
    // A plain number first, one with a unit after it, then a plain one: 2 + 1 + 3, then 3 × that.
    comes_to("2 + 25.4 mm + 3", Unit::Inch, 6.0);
    comes_to("3 * (2 + 25.4 mm)", Unit::Inch, 9.0);
    comes_to("1 + 1 in", Unit::FeetInches, 2.0);
    comes_to("25.4 + 1 in", Unit::Millimeter, 2.0);
    for (text, inches) in [
        ("33 - 2 * 2", 29.0),
        ("33 − 2 × 2", 29.0),
        ("33 – 2 · 2", 29.0),
        ("72 / 3", 24.0),
        ("72 ÷ 3", 24.0),
        ("72÷3", 24.0),
        ("72/3", 24.0),
        ("72 /3", 24.0),
        ("72/ 3", 24.0),
        ("5 1/2 + 3/4", 6.25),
        ("5 1/2+3/4", 6.25),
        ("5½+¾", 6.25),
        ("5-1/2 + 3/4", 6.25),
        ("5-1/2 - 3/4", 4.75),
        ("23-5/8 - 2", 21.625),
        ("3 * 2 1/2", 7.5),
        ("2 1/2 * 3", 7.5),
        ("2 1/2 / 4", 0.625),
        ("72 / 3/4", 96.0),
        ("72 ÷ 3/4", 96.0),
        ("3/4 / 2", 0.375),
        ("3/4 * 1/2", 0.375),
        ("12÷3÷2", 2.0),
        ("24 / 2 / 3", 4.0),
        ("10 - 3 - 2", 5.0),
        ("10 - (3 - 2)", 9.0),
        ("2 * (5 + 3 / 4)", 11.5),
        ("(33 - 2 * 2) / 2", 14.5),
        ("((1 + 2) * (3 + 4))", 21.0),
        ("5 * -3 + 20", 5.0),
        ("5 - -3", 8.0),
        ("-2 * 3 + 10", 4.0),
        ("1' 11 5/8\" + 3/8", 24.0),
        ("1' 11 5/8\" / 3", 7.875),
        ("2 * 1' 3\"", 30.0),
        ("5' - 3\"", 57.0),
        ("5'-3\" - 3", 60.0),
        ("10 ft / 16", 7.5),
        ("10 ft 6 in/2", 63.0),
        ("(1 + 2) ft", 36.0),
        ("4.5/3", 1.5),
        ("9/4.5", 2.0),
        ("(9)/4", 2.25),
        ("33 + 2e0", 35.0),
    ] {
        comes_to(text, Unit::Inch, inches);
        comes_to(text, Unit::FeetInches, inches);
    }
}

#[test]
fn sums_of_mixed_units() {
    // 254 mm = 10 in and 25.4 mm = 1 in.
    comes_to("254 mm + 1/2 in", Unit::Millimeter, 10.5);
    comes_to("25.4 cm - 1", Unit::Inch, 9.0);
    comes_to("(25.4 + 25.4) mm", Unit::Inch, 2.0);
    comes_to("2 in + 25.4", Unit::Millimeter, 3.0);
    comes_to("2 * 25.4 mm", Unit::Inch, 2.0);
    comes_to("1 ft + 50.8 mm / 2", Unit::Inch, 13.0);
    // A number that multiplies has no unit, whatever the field's.
    assert_eq!(parse_length("3 * 200", Unit::Millimeter).unwrap().ticks, Ticks::mm(600));
    assert_eq!(parse_length("1200 / 7 * 7", Unit::Millimeter).unwrap().ticks, Ticks::mm(1200));
}

/// 5/8 is a fraction and 5 / 8 a division; they differ only in what they bind to.
#[test]
fn a_fraction_is_one_value() {
    assert!(!parse_length("5/8", Unit::Inch).unwrap().is_sum);
    assert!(parse_length("5 / 8", Unit::Inch).unwrap().is_sum);
    assert_eq!(
        parse_length("5/8", Unit::Inch).unwrap().length,
        parse_length("5 / 8", Unit::Inch).unwrap().length
    );
    // 13/8 is how some write 1 5/8; 72/3 can only be a division.
    assert!(!parse_length("13/8", Unit::Inch).unwrap().is_sum);
    assert!(parse_length("72/3", Unit::Inch).unwrap().is_sum);
}

#[test]
fn nothing_creeps_within_a_sum() {
    // 1/3 + 1/3 + 1/3 is 1; in ticks, 3 × 677,333 would fall one short.
    assert_eq!(parse_length("1/3 + 1/3 + 1/3", Unit::Inch).unwrap().ticks, Ticks(2_032_000));
    assert_eq!(parse_length("0.1 + 0.2", Unit::Inch).unwrap().length, Length::inches(0.3));
    assert_eq!(
        parse_length("100 / 7 / 11 / 13 * 1001", Unit::Inch).unwrap().length,
        Length::inches(100.0)
    );
}

#[test]
fn a_text_that_goes_on() {
    for text in ["+ 3/4", "+3/4", "× 2", "* 2", "÷ 3", "/ 3", "/3", "- 2", " − 2"] {
        assert!(goes_on(text), "{text}");
    }
    for text in ["-2", "5", "(3)", "", "-", "abc", "1/0"] {
        assert!(!goes_on(text), "{text}");
    }
    let ten = parse_length("10", Unit::Inch).unwrap();
    for (text, inches) in
        [("+ 3/4", 10.75), ("- 2 * 3", 4.0), ("* 2 + 1", 21.0), ("/ 4", 2.5), ("/4", 2.5)]
    {
        let typed = parse_length_from(&ten, text, Unit::Inch).unwrap();
        assert_eq!(typed.length, Length::inches(inches), "{text}");
        assert!(typed.is_sum);
    }
}

fn shown(tape: &Tape) -> Vec<Option<f64>> {
    tape.lines()
        .iter()
        .map(|line| line.result.as_ref().ok().map(|p| p.length.as_inches()))
        .collect()
}

#[test]
fn the_tape_runs_on_from_line_to_line() {
    let mut tape = Tape::default();
    tape.push("10 / 3", Unit::Inch);
    tape.push("* 3", Unit::Inch);
    tape.push("+ 25.4 mm", Unit::Inch);
    tape.push("7", Unit::Inch);
    tape.push("- 1", Unit::Inch);
    assert_eq!(shown(&tape)[1..], [Some(10.0), Some(11.0), Some(7.0), Some(6.0)]);
    assert_eq!(
        tape.lines().iter().map(|l| l.goes_on).collect::<Vec<_>>(),
        [false, true, true, false, true]
    );

    // A change runs down; a mistake stops what goes on from it and nothing else.
    tape.set(0, "20 / 3");
    assert_eq!(shown(&tape)[1..], [Some(20.0), Some(21.0), Some(7.0), Some(6.0)]);
    tape.set(1, "* oops");
    assert_eq!(shown(&tape)[1..], [None, None, Some(7.0), Some(6.0)]);
    assert_eq!(tape.lines()[1].text, "* oops", "what was typed stays");
    tape.remove(1);
    assert_eq!(shown(&tape).len(), 4);
    assert_eq!(tape.lines()[1].result.as_ref().unwrap().ticks, Ticks(15_578_667)); // 20/3 + 1 = 23/3 in = 15,578,666 2/3 ticks
    tape.remove(99);
    tape.set(99, "5");
    assert_eq!(shown(&tape).len(), 4);

    // Kept and read again, it is the same tape.
    let kept: Vec<(String, Unit)> = tape.lines().iter().map(|l| (l.text.clone(), l.unit)).collect();
    assert_eq!(Tape::of(kept.iter().map(|(t, u)| (t.as_str(), *u))), tape);

    let first = Tape::of([("+ 3", Unit::Inch)]);
    let error = first.lines()[0].result.as_ref().unwrap_err();
    assert_eq!(error.to_string(), "A number is missing before “+”.");
}
