//! What is printed is read back as the same length.

use offsquare_units::{Fraction, Style, Ticks, Unit, parse_length, print_decimal, print_ticks};

fn style(unit: Unit, fraction: Fraction) -> Style {
    Style { unit, fraction, strong_shy: false, decimals: false }
}

/// Every 1/64 from 0 to 100 in, and below zero, in inches and in feet and inches, in a field of any
/// unit (a printed length has its unit with it).
#[test]
fn every_sixty_fourth() {
    let mut tried = 0;
    for n in -6400..=6400_i64 {
        let ticks = Ticks(n * 31_750);
        for unit in [Unit::Inch, Unit::FeetInches] {
            let text = print_ticks(ticks, &style(unit, Fraction::SixtyFourth)).to_string();
            for field in Unit::ALL {
                let back = parse_length(&text, field).unwrap_or_else(|e| panic!("{text}: {e}"));
                assert_eq!(back.ticks, ticks, "{text}");
                assert_eq!(
                    back.unit,
                    if text.contains('\'') { Some(Unit::FeetInches) } else { Some(Unit::Inch) }
                );
                tried += 1;
            }
            // Without the unit, in the field of that unit.
            let bare = print_ticks(Ticks(ticks.0.abs()), &style(Unit::Inch, Fraction::SixtyFourth))
                .figures();
            assert_eq!(parse_length(&bare, unit).unwrap().ticks, Ticks(ticks.0.abs()), "{bare}");
        }
        // The exact decimal of a 64th has six places.
        let text = print_decimal(ticks.to_length(), Unit::Inch);
        assert_eq!(parse_length(&text, Unit::Inch).unwrap().ticks, ticks, "{text}");
        let text = print_decimal(ticks.to_length(), Unit::FeetInches);
        assert_eq!(parse_length(&text, Unit::Inch).unwrap().ticks, ticks, "{text}");
        // In millimeters a 64th is rounded: to the half millimeter, so at most 1/4 mm off.
        let text = print_ticks(ticks, &style(Unit::Millimeter, Fraction::HalfMm)).to_string();
        let back = parse_length(&text, Unit::Inch).unwrap().ticks;
        assert!((back - ticks).abs() <= Ticks(20_000), "{text}");
        assert_eq!(print_ticks(back, &style(Unit::Millimeter, Fraction::HalfMm)).to_string(), text);
    }
    assert_eq!(tried, 12_801 * 6);
}

/// Every half millimeter from 0 to 2,540 mm, which is 100 in.
#[test]
fn every_half_millimeter() {
    for n in 0..=5080_i64 {
        let ticks = Ticks(n * 40_000);
        let text = print_ticks(ticks, &style(Unit::Millimeter, Fraction::HalfMm)).to_string();
        for field in Unit::ALL {
            assert_eq!(parse_length(&text, field).unwrap().ticks, ticks, "{text}");
        }
        let text = print_decimal(ticks.to_length(), Unit::Millimeter);
        assert_eq!(parse_length(&text, Unit::Inch).unwrap().ticks, ticks, "{text}");
    }
}

/// At every fraction, what is shown is within half a step, its `off` says by how much, and showing
/// what was read back changes nothing.
#[test]
fn what_is_shown_is_the_nearest_mark() {
    let mut seed = 0x5eed_u64;
    for _ in 0..20_000 {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let ticks = Ticks((seed >> 30) as i64 % (200 * 2_032_000));
        for unit in Unit::ALL {
            for fraction in Fraction::ALL {
                let style = style(unit, fraction);
                let step = style.shown_fraction().step();
                let printed = print_ticks(ticks, &style);
                let text = printed.to_string();
                let back = parse_length(&text, Unit::Inch).unwrap().ticks;
                assert_eq!(back + printed.off, ticks, "{text}");
                assert!(printed.off.0 * 2 < step.0 && printed.off.0 * 2 >= -step.0, "{text}");
                assert_eq!(print_ticks(back, &style).to_string(), text);
            }
        }
    }
}
