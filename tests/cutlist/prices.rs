//! Whole cents, rounded once. Expected amounts worked out by hand in decimals.

use crate::jobs::{KERF, worked};
use offsquare_units::{Currency, Length, Money, Style, Unit};
use offsquare_work::cutlist::{Cost, Entry, Jobs, Summary, nearly_sentence, no_price_sentence};
use offsquare_work::piece::{Row, Shop, Work, WorkEdit};
use offsquare_work::rack::{By, Owned, Rack, Sold, Stock, Written, price};

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
    let usable: Vec<(f64, f64)> = o.usable(Length(0.0)).iter().map(|u| (u.0.0, u.1.0)).collect();
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

fn priced(sold: Vec<Sold>, owned: Vec<Owned>) -> Rack {
    let stock = Stock {
        id: 1,
        name: "1\u{d7}4 pine".into(),
        thickness: Length(0.75),
        width: Length(3.5),
        sold,
        owned,
        ..Stock::default()
    };
    Rack { stocks: vec![stock], ..Rack::default() }
}

fn rails(count: u32, length: f64) -> Vec<Entry> {
    vec![Entry { id: 1, count, stock: Some(1), length: Length(length), ..Entry::default() }]
}

/// A length without a price is not free: what is bought of it has no sum, the plan takes the least wood, and
/// neither a bound nor a curve of batches is told. Four rails of 30 in with kerfs of 1/8 are 120 3/8 in, too much
/// for one board of 8 or of 10 ft: 6 + 6 ft hold two each (60 1/8 of 72), 12 ft in all, less than 8 + 6 or 10 + 6.
#[test]
fn a_length_without_a_price_is_not_free() {
    let list = rails(4, 30.0);
    let rack = priced(vec![sold(72.0, 330), sold(96.0, 428), sold(120.0, 0)], Vec::new());
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    assert!(!jobs.are_priced());
    let planned = worked(&jobs, 4);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    assert_eq!(summary.bought, Length(144.0));
    assert_eq!(summary.no_price, [("1\u{d7}4 pine".to_owned(), vec![Length(120.0)])]);
    // Those that it buys have their price; that nothing is cheaper is not known.
    assert_eq!((summary.unknown, summary.money), (false, Money(660)));
    assert_eq!((planned.bound(&jobs), planned.curve.len()), (None, 0));
    // Where the plan buys what has no price, it has no sum either.
    let rack = priced(vec![sold(144.0, 0)], Vec::new());
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 4);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    assert!(summary.unknown && planned.money(&jobs, false).is_none());
    let row = &summary.shown[0].buy[0];
    assert_eq!((row.count, row.each, row.sum), (1, None, None));
    assert_eq!(summary.cost(), Cost::Wood(Length(144.0)));
    let said = no_price_sentence(&summary.no_price, !summary.unknown, &Style::default());
    assert!(
        said.contains("1\u{d7}4 pine, 12 ft") && !said.contains("cheapest") && !said.contains('$'),
        "{said}"
    );
}

/// What is on hand costs nothing, and comes first; a length that is sold out may lack its price.
#[test]
fn what_is_on_hand_stays_free() {
    let list = rails(4, 30.0);
    let own = Owned { length: Length(62.0), count: 1, ..Owned::default() };
    let rack = priced(vec![sold(72.0, 0)], vec![own.clone()]);
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    // Two of the rails from the 62 in, two from one board of 6 ft.
    assert_eq!((summary.shown[0].owned, summary.bought), (1, Length(72.0)));
    let out = Sold { left: Some(0), ..sold(96.0, 0) };
    let rack = priced(vec![sold(72.0, 330), out], vec![own]);
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    assert!(jobs.are_priced());
    assert_eq!(planned.money(&jobs, false), Some(Money(330)));
    assert_eq!(planned.bound(&jobs), Some(Money(330)));
}

/// Sheets and ripped stock, too: fewest and smallest boards, no sum.
#[test]
fn ripped_stock_without_a_price_is_not_free() {
    let mut list = rails(8, 47.9375);
    list[0].seen = Some(Length(1.6875));
    let rack = priced(vec![sold(96.0, 0)], Vec::new());
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 3);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    assert!(summary.unknown && planned.money(&jobs, false).is_none());
    assert_eq!((planned.bound(&jobs), planned.curve.len()), (None, 0));
    assert_eq!(summary.shown[0].buy[0].count, 2);
    assert_eq!(summary.shown[0].money, None);
}

/// What would nearly fit is then told in wood: three 32 in rails are 1/4 in too long for 8 ft.
#[test]
fn what_nearly_fits_is_told_in_wood() {
    let mut list = rails(3, 32.0);
    list[0].give = Length(0.125);
    let rack = priced(vec![sold(96.0, 0)], Vec::new());
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let nearly = planned.results[0].nearly.as_ref().expect("it nearly fits");
    assert_eq!((nearly.money, nearly.wood), (Some(Money(0)), Length(96.0)));
    let said = nearly_sentence("pine", nearly, &Currency::default()).render(&Style::default());
    assert!(said.contains("96 in less of board") && !said.contains('$'), "{said}");
}

/// An empty price is none; a price of 0 is asked back; both lead to no price.
#[test]
fn a_price_is_left_empty_while_it_is_not_known() {
    let mut work = Work::default();
    work.rack.stocks =
        vec![Stock { id: 1, sold: vec![sold(96.0, 0)], ..stock(By::Piece, 0, false) }];
    let row = Row::Sold(1, 0);
    let price_of =
        |work: &Work| (work.rack.stocks[0].sold[0].price, work.rack_text(row, "price", Unit::Inch));
    assert_eq!(price_of(&work).1, "");
    assert!(work.try_rack(row, "price", "0", Unit::Inch).is_err());
    let typed = |text: &str| WorkEdit::Rack { row, key: "price", text: text.into() };
    work.apply(typed("4.28"), &Shop::default());
    assert_eq!(price_of(&work), (Money(428), "4.28".into()));
    // Nothing is taken that says nothing.
    work.apply(typed("0"), &Shop::default());
    assert_eq!(price_of(&work), (Money(428), "4.28".into()));
    work.apply(typed(""), &Shop::default());
    assert_eq!(price_of(&work), (Money::ZERO, String::new()));
    assert_eq!(price(&stock(By::Foot, 0, false), &sold(96.0, 428), 0), None);
}
