//! Lengths and angles as they are shown.

use offsquare_units::{
    Angle, AngleStep, Area, DoorUnit, Fraction, Length, Quantity, Remainder, Rounding, Style, Text,
    Ticks, Unit, Way, print_angle, print_decimal, print_length, print_number,
};

fn style(unit: Unit, fraction: Fraction) -> Style {
    Style { unit, fraction, ..Style::default() }
}

#[track_caller]
fn shows(inches: f64, style: Style, expected: &str) {
    assert_eq!(print_length(Length::inches(inches), &style).to_string(), expected);
}

/// REFERENCES.md, inch rounding (derived): 3/32 in to sixteenths is a tie and goes up, to 2/16.
#[test]
fn a_tie_goes_up() {
    let to = style(Unit::Inch, Fraction::Sixteenth);
    shows(3.0 / 32.0, to, "1/8 in shy");
    shows(-3.0 / 32.0, to, "-1/8 in shy");
    let nearest = Rounding { to: Fraction::Sixteenth, way: Way::Nearest };
    assert_eq!(Length::inches(3.0 / 32.0).rounded(nearest), Some(Ticks::sixty_fourths(8)));
    assert_eq!(Length::inches(-3.0 / 32.0).rounded(nearest), Some(Ticks::sixty_fourths(-8)));
    // 1/32 in is a tie to sixteenths as well, 0.25 mm one to half millimeters.
    shows(1.0 / 32.0, to, "1/16 in shy");
    shows(0.25 / 25.4, style(Unit::Millimeter, Fraction::HalfMm), "0.5 mm shy");
}

/// A quarter of 1/16 is 1/64: from there on the remainder is said.
#[test]
fn strong_and_shy_from_a_quarter_of_the_fraction() {
    let to = style(Unit::Inch, Fraction::Sixteenth);
    let at = |ticks_off: i64| Length::inches((1_016_000 + ticks_off) as f64 / 2_032_000.0); // 1/2 in
    let said = |off: i64| print_length(at(off), &to).remainder;
    assert_eq!(said(0), Remainder::Exact);
    assert_eq!(said(31_749), Remainder::Exact);
    assert_eq!(said(31_750), Remainder::Strong);
    assert_eq!(said(63_499), Remainder::Strong);
    assert_eq!(said(-31_749), Remainder::Exact);
    assert_eq!(said(-31_750), Remainder::Shy);
    assert_eq!(said(-63_500), Remainder::Shy); // the tie, up to 1/2
    assert_eq!(print_length(at(63_500), &to).to_string(), "9/16 in shy");
    assert_eq!(print_length(at(31_750), &to).to_string(), "1/2 in strong");
    assert_eq!(print_length(at(31_750), &to).off, Ticks(31_750));
    assert_eq!(print_length(at(-31_750), &to).off, Ticks(-31_750));
    let silent = Style { strong_shy: false, ..to };
    assert_eq!(print_length(at(31_750), &silent).to_string(), "1/2 in");
    shows(600.25 / 25.4, style(Unit::Millimeter, Fraction::Mm), "600 mm strong");
    shows(600.2 / 25.4, style(Unit::Millimeter, Fraction::Mm), "600 mm");
}

#[test]
fn every_fraction_and_unit() {
    // 23 41/64 = 23.640625
    let x = 23.0 + 41.0 / 64.0;
    shows(x, style(Unit::Inch, Fraction::SixtyFourth), "23 41/64 in");
    shows(x, style(Unit::Inch, Fraction::ThirtySecond), "23 21/32 in shy");
    shows(x, style(Unit::Inch, Fraction::Sixteenth), "23 5/8 in strong");
    shows(x, style(Unit::Inch, Fraction::Eighth), "23 5/8 in");
    // 23.640625 · 25.4 = 600.471875 mm
    shows(x, style(Unit::Millimeter, Fraction::HalfMm), "600.5 mm");
    shows(x, style(Unit::Millimeter, Fraction::Mm), "600 mm strong");
    shows(x, style(Unit::FeetInches, Fraction::SixtyFourth), "1' 11 41/64\"");
    // A fraction of the other system gives way to the nearest of this one.
    shows(x, style(Unit::Millimeter, Fraction::SixtyFourth), "600.5 mm");
    shows(x, style(Unit::Inch, Fraction::HalfMm), "23 41/64 in");
}

#[test]
fn whole_feet_inches_and_nothing() {
    let feet = style(Unit::FeetInches, Fraction::Sixteenth);
    shows(0.0, feet, "0\"");
    shows(0.625, feet, "5/8\"");
    shows(11.0, feet, "11\"");
    shows(12.0, feet, "1' 0\"");
    shows(12.625, feet, "1' 0 5/8\"");
    shows(24.0, feet, "2' 0\"");
    shows(11.99, feet, "1' 0\""); // 0.01 short, under a quarter of 1/16
    shows(-12.625, feet, "-1' 0 5/8\"");
    let inches = Style::default();
    shows(0.0, inches, "0 in");
    shows(-0.0, inches, "0 in");
    shows(-0.001, inches, "0 in");
    shows(0.5, inches, "1/2 in");
    shows(-0.5, inches, "-1/2 in");
    shows(-23.625, inches, "-23 5/8 in");
    shows(1200.0, inches, "1200 in");
    shows(0.5 - 1e-16, inches, "1/2 in");
}

#[test]
fn what_is_no_length_is_a_dash() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300] {
        for unit in Unit::ALL {
            let printed = print_length(Length::inches(bad), &Style::of(unit));
            assert_eq!(printed.to_string(), "—");
            assert_eq!(printed.spoken(), "unknown");
            assert_eq!(print_decimal(Length::inches(bad), unit), "—");
        }
        assert_eq!(print_number(bad, 2), "—");
        assert_eq!(print_angle(Angle(bad), AngleStep::Tenth), "—");
    }
}

#[test]
fn decimals() {
    for (inches, unit, expected) in [
        (23.625, Unit::Inch, "23.625 in"),
        (1.0 / 64.0, Unit::Inch, "0.015625 in"),
        (1.0 / 3.0, Unit::Inch, "0.3333 in"),
        (2.0 / 3.0, Unit::Inch, "0.6667 in"),
        (12.0, Unit::Inch, "12 in"),
        (-0.25, Unit::Inch, "-0.25 in"),
        (0.99999, Unit::Inch, "1 in"),
        (23.625, Unit::Millimeter, "600.075 mm"),
        (1.0 / 64.0, Unit::Millimeter, "0.397 mm"), // 0.396875
        (600.0 / 25.4, Unit::Millimeter, "600 mm"),
        (23.625, Unit::FeetInches, "1' 11.625\""),
    ] {
        assert_eq!(print_decimal(Length::inches(inches), unit), expected);
    }
}

#[test]
fn angles() {
    for (degrees, tenth, half) in [
        (34.287, "34.3°", "34 1/2°"),
        (34.25, "34.3°", "34 1/2°"),
        (34.24, "34.2°", "34°"),
        (45.0, "45.0°", "45°"),
        (0.25, "0.3°", "1/2°"),
        (0.0, "0.0°", "0°"),
        (-0.04, "0.0°", "0°"),
        (-34.25, "-34.3°", "-34 1/2°"),
        (-0.5, "-0.5°", "-1/2°"),
        (89.96, "90.0°", "90°"),
        (0.15, "0.2°", "0°"),
        (55.71, "55.7°", "55 1/2°"),
    ] {
        assert_eq!(print_angle(Angle(degrees), AngleStep::Tenth), tenth);
        assert_eq!(print_angle(Angle(degrees), AngleStep::Half), half);
    }
}

#[test]
fn read_aloud() {
    let say = |inches: f64, unit| print_length(Length::inches(inches), &Style::of(unit)).spoken();
    assert_eq!(say(23.625, Unit::Inch), "23 and 5 eighths inches");
    assert_eq!(say(23.5, Unit::Inch), "23 and a half inches");
    assert_eq!(say(0.5, Unit::Inch), "half an inch");
    assert_eq!(say(0.625, Unit::Inch), "5 eighths of an inch");
    assert_eq!(say(0.25, Unit::Inch), "1 quarter of an inch");
    assert_eq!(say(1.0, Unit::Inch), "1 inch");
    assert_eq!(say(0.0, Unit::Inch), "0 inches");
    assert_eq!(say(-2.0, Unit::Inch), "minus 2 inches");
    assert_eq!(say(23.65, Unit::Inch), "23 and 5 eighths inches, strong");
    assert_eq!(say(23.625, Unit::FeetInches), "1 foot 11 and 5 eighths inches");
    assert_eq!(say(24.0, Unit::FeetInches), "2 feet 0 inches");
    assert_eq!(say(600.0 / 25.4, Unit::Millimeter), "600 millimeters");
    assert_eq!(say(1.0 / 25.4, Unit::Millimeter), "1 millimeter");
}

#[test]
fn sentences_speak_the_readers_unit() {
    let text = Text::words("Opening ")
        .and(Length::inches(30.0))
        .and(", strip at ")
        .and(Angle(34.287))
        .and(", ")
        .and(Area::square_inches(112.5))
        .and(", holds ")
        .and(Quantity::Mass(11.339_809_25)) // 25 lb
        .and(", pull ")
        .and(Quantity::Force(44.482_216_152_605)) // 10 lb: 10 · 0.45359237 · 9.80665
        .and(", ")
        .and(Quantity::Count(1200.0))
        .and(" at ")
        .and(Quantity::Ratio(1.0 / 3.0))
        .and(".");
    assert_eq!(
        text.render(&Style::default()),
        "Opening 30 in, strip at 34.3°, 112.5 sq in, holds 25 lb, pull 10 lb, 1,200 at 0.333."
    );
    // 112.5 · 6.4516 = 725.805 sq cm
    assert_eq!(
        text.render(&Style::of(Unit::Millimeter)),
        "Opening 762 mm, strip at 34.3°, 725.8 sq cm, holds 11.34 kg, pull 44.5 N, 1,200 at 0.333."
    );
    assert_eq!(
        text.spoken(&Style::default()),
        "Opening 30 inches, strip at 34.3 degrees, 112.5 square inches, holds 25 pounds, pull 10 pounds, 1,200 at 0.333."
    );
}

#[test]
fn numbers() {
    for (value, places, expected) in [
        (2.5, 2, "2.5"),
        (2.0, 2, "2"),
        (1234.5, 1, "1,234.5"),
        (1_234_567.0, 0, "1,234,567"),
        (0.285, 2, "0.29"),
        (0.005, 2, "0.01"),
        (-0.001, 2, "0"),
        (-1.005, 2, "-1.01"),
        (0.999, 2, "1"),
    ] {
        assert_eq!(print_number(value, places), expected);
    }
}

/// 1/64 in, 1/128 in, 0.001 in, 1 mm and 0.5 mm are whole ticks, by 2,032,000 = 2^7 · 5^3 · 127.
#[test]
fn ticks_are_exact() {
    assert_eq!(Ticks::from_length(Length::inches(1.0 / 64.0)), Some(Ticks(31_750)));
    assert_eq!(Ticks::from_length(Length::inches(1.0 / 128.0)), Some(Ticks(15_875)));
    assert_eq!(Ticks::from_length(Length::inches(0.001)), Some(Ticks(2_032)));
    assert_eq!(Ticks::from_length(Length::mm(1.0)), Some(Ticks(80_000)));
    for n in 0..=10_000 {
        assert_eq!(Ticks::from_length(Length::inches(n as f64 / 64.0)), Some(Ticks(n * 31_750)));
        assert_eq!(Ticks::from_length(Length::mm(n as f64)), Some(Ticks::mm(n)));
        assert_eq!(Ticks::from_length(Ticks::mm(n).to_length()), Some(Ticks::mm(n)));
        assert_eq!(Ticks::from_length(Ticks(-n).to_length()), Some(Ticks(-n)));
    }
    let steps: Vec<i64> = Fraction::ALL.iter().map(|f| f.step().0).collect();
    assert_eq!(steps, [254_000, 127_000, 63_500, 31_750, 40_000, 80_000]);
    assert_eq!(Ticks::from_length(Length::inches(f64::NAN)), None);
    assert_eq!(Ticks::from_length(Length::inches(f64::INFINITY)), None);
    assert_eq!(Ticks::from_length(Length::inches(1e12)), None);
    assert_eq!(Ticks(i64::MAX) + Ticks(1), Ticks(i64::MAX));
    assert_eq!(Ticks(i64::MIN) - Ticks(1), Ticks(i64::MIN));
    assert_eq!(Ticks::inches(i64::MAX), Ticks(i64::MAX));
    // The ends of the range still tell neighbors apart.
    for t in [Ticks::LIMIT, Ticks::LIMIT - 1, -Ticks::LIMIT] {
        assert_eq!(Ticks::from_length(Ticks(t).to_length()), Some(Ticks(t)));
    }
}

#[test]
fn rounding_up_and_down() {
    let to = |way| Rounding { to: Fraction::Sixteenth, way };
    let x = Length::inches(0.51); // between 8/16 and 9/16, nearer the first
    assert_eq!(x.rounded(to(Way::Up)), Some(Ticks::sixty_fourths(36)));
    assert_eq!(x.rounded(to(Way::Down)), Some(Ticks::sixty_fourths(32)));
    assert_eq!(x.rounded(to(Way::Nearest)), Some(Ticks::sixty_fourths(32)));
    // On its mark but for float noise: stays there.
    let noisy = Length::inches(0.1 + 0.2 + 0.2);
    assert_eq!(noisy.rounded(to(Way::Up)), Some(Ticks::sixty_fourths(32)));
    assert_eq!(Length::inches(-0.51).rounded(to(Way::Down)), Some(Ticks::sixty_fourths(-36)));
    assert_eq!(Length::inches(f64::NAN).rounded(to(Way::Up)), None);
    // The ends of i64 do not overflow.
    assert_eq!(Ticks(i64::MAX).rounded(to(Way::Up)), Ticks(i64::MAX));
}

#[test]
fn units_go_around() {
    assert_eq!(Unit::Inch.next(), Unit::FeetInches);
    assert_eq!(Unit::FeetInches.next(), Unit::Millimeter);
    assert_eq!(Unit::Millimeter.next(), Unit::Inch);
    assert_eq!(DoorUnit::In.inches_per_unit(), 1.0);
    assert_eq!(DoorUnit::Mm.inches_per_unit(), 1.0 / 25.4);
    assert_eq!(DoorUnit::Mm.length(254.0), Length::inches(10.0));
    assert_eq!(DoorUnit::Mm.value(Length::inches(10.0)), 254.0);
    assert_eq!(Length::inches(3.0) * Length::inches(4.0), Area::square_inches(12.0));
    assert_eq!(Length::inches(3.0) / Length::inches(4.0), 0.75);
}
