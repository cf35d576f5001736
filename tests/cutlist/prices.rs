//! Whole cents, rounded once. Expected amounts worked out by hand in decimals.

use offsquare_core::rack::{By, Owned, Rack, Sold, Stock, Written, price};
use offsquare_core::units::{Length, Money, Unit};

fn stock(by: By, rate: i64, taxed: bool) -> Stock {
    Stock {
        nominal: Some((1.0, 6.0)),
        thickness: Length(0.75),
        width: Length(5.5),
        by,
        rate: Money(rate),
        taxed,
        ..Stock::default()
    }
}

fn sold(inches: f64, cents: i64) -> Sold {
    Sold { length: Length(inches), price: Money(cents), ..Sold::default() }
}

#[test]
fn each_way_of_pricing_is_rounded_once_half_up() {
    let cases = [
        // By the piece, tax in it or on top: 4.28 · 1.07 = 4.5796; 4.50 · 1.05 = 4.725, a half.
        (By::Piece, 0, false, 96.0, 428, 7_000, 428),
        (By::Piece, 0, true, 96.0, 428, 7_000, 458),
        (By::Piece, 0, true, 96.0, 450, 5_000, 473),
        // 0.99 a foot, 7 ft 6 in: 7.425, a half; with 8.875 %: 7.425 · 1.08875 = 8.08396…
        (By::Foot, 99, false, 90.0, 0, 8_875, 743),
        (By::Foot, 99, true, 90.0, 0, 8_875, 808),
        // 3.45 a meter, 2400 mm: 8.28.
        (By::Meter, 345, false, 2400.0 / 25.4, 0, 0, 828),
        // 1×6, 10 ft: 5 board feet of nominal size at 3.33: 16.65; of 7 ft at 3.35: 11.725, a half.
        (By::BoardFoot, 333, false, 120.0, 0, 0, 1_665),
        (By::BoardFoot, 335, false, 84.0, 0, 0, 1_173),
    ];
    for (by, rate, taxed, inches, cents, tax, wanted) in cases {
        let got = price(&stock(by, rate, taxed), &sold(inches, cents), tax);
        assert_eq!(got, Some(Money(wanted)), "{by:?} {rate} {inches}");
    }
}

/// PS 20: a 1×6 measures 3/4 by 5 1/2, a 5/4×6 1 by 5 1/2.
#[test]
fn a_nominal_size_fills_in_the_actual_one_which_stays_editable() {
    let mut s = Stock::default();
    s.write("nominal", "1 x 6", Unit::Inch).unwrap();
    assert_eq!((s.thickness, s.width), (Length(0.75), Length(5.5)));
    s.write("nominal", "5/4x6", Unit::Inch).unwrap();
    assert_eq!((s.thickness, s.width), (Length(1.0), Length(5.5)));
    assert_eq!(s.text("nominal", Unit::Inch), "5/4x6");
    s.write("width", "5 5/8", Unit::Inch).unwrap();
    assert_eq!(s.width, Length(5.625));
    let before = s.clone();
    for bad in ["six", "2", "0x4", "1x", "-1x4"] {
        assert!(s.write("nominal", bad, Unit::Inch).is_err(), "{bad}");
    }
    assert_eq!(s, before);
}

#[test]
fn bad_stretches_leave_what_can_be_used() {
    let mut o =
        Owned { length: Length(96.0), count: 1, trim_left: Length(1.5), ..Owned::default() };
    o.write("bad", "40 to 43 1/2, 42 to 45; 0 to 1, 95 \u{2013} 97", Unit::Inch).unwrap();
    let usable: Vec<(f64, f64)> = o.usable().iter().map(|u| (u.0.0, u.1.0)).collect();
    assert_eq!(usable, [(1.5, 40.0), (45.0, 95.0)]);
    let text = o.text("bad", Unit::Inch);
    let before = o.bad.clone();
    o.write("bad", &text, Unit::Inch).unwrap();
    assert_eq!(o.bad, before);
    for wrong in ["40", "43 to 40", "97 to 98", "a to b"] {
        assert!(o.write("bad", wrong, Unit::Inch).is_err(), "{wrong}");
    }
}

#[test]
fn a_stock_is_found_by_its_name_or_its_nominal_size() {
    let rack = Rack::default();
    for text in ["1×3 pine", "1X3  PINE", "1x3", " 1 x 3 "] {
        assert_eq!(rack.named(text).map(|s| s.id), Some(2), "{text}");
    }
    assert!(rack.named("oak").is_none());
}
