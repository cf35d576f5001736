//! Everything goes through the one door and comes back the same; older and broken files are repaired.

use offsquare_cuts::layouts;
use offsquare_planner::guillotine::{Piece, Saw, Then};
use offsquare_units::kept::Kept as _;
use offsquare_units::{Length, Money, Unit};
use offsquare_work::cutlist::{Entry, PartEnd};
use offsquare_work::piece::{Draft, LOOSE, Shop, WorkEdit};
use offsquare_work::rack::{By, Owned, Sold, Stock};
use offsquare_work::save::{self, Bench};
use serde_json::{Value, json};

fn full() -> Bench {
    let mut bench = Bench::default();
    let shop = Shop::default();
    let layout = layouts::find("post_legs").expect("legs");
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    for edit in [
        WorkEdit::Example(LOOSE, 0),
        WorkEdit::Follow(LOOSE, draft),
        WorkEdit::Paste(LOOSE, "Rail\t3\t10 1/3\nStile\t1\t7 mm".into()),
        WorkEdit::AddOwned(2),
        WorkEdit::Piece { id: LOOSE, key: "batch", text: "12".into() },
        WorkEdit::Plain(true),
    ] {
        bench.work.apply(edit, &shop);
    }
    // Nothing as it is where it is left out.
    let stock = &mut bench.work.rack.stocks[0];
    stock.nominal = Some((1.0, 3.0));
    (stock.trim_left, stock.trim_right) = (Length(0.5), Length(0.75));
    (stock.by, stock.rate, stock.taxed) = (By::BoardFoot, Money(475), !stock.taxed);
    stock.owned.push(Owned {
        length: Length(40.0),
        width: Some(Length(11.0)),
        count: 3,
        bad: vec![(Length(3.0), Length(4.0)), (Length(9.0), Length(9.5))],
        trim_left: Length(0.25),
        trim_right: Length(1.25),
        note: "by the door".into(),
    });
    bench
}

#[test]
fn what_is_written_is_read_back() {
    let bench = full();
    let opened = save::read(&save::write(&bench));
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench, bench);
}

/// An end that no saw makes is square again, a stock without a thickness is set aside; both are said.
#[test]
fn ends_and_stocks_that_cannot_be_are_told() {
    for (key, bad) in [("miter", 90.5), ("bevel", 90.5), ("bevel", -1.0)] {
        let mut file: Value = serde_json::from_str(&save::write(&full())).expect("JSON");
        let end = &mut file["bench"]["work"]["parts"][0]["left"];
        assert!(end.is_object(), "{end}");
        end[key] = json!(bad);
        let opened = save::read(&file.to_string());
        assert_eq!(opened.bench.work.parts[0].left, PartEnd::SQUARE, "{key} {bad}");
        assert_eq!(
            opened.repaired,
            ["Numbers of parts and rack that were out of range were brought back: 1."]
        );
    }
    for (key, bad) in [("thickness", 0.0), ("width", 12_001.0)] {
        let mut file: Value = serde_json::from_str(&save::write(&full())).expect("JSON");
        file["bench"]["work"]["rack"]["stocks"][0][key] = json!(bad);
        let opened = save::read(&file.to_string());
        assert_eq!(opened.bench.work.rack.stocks.len() + 1, full().work.rack.stocks.len());
        assert!(opened.repaired[0].ends_with("were set aside: 1."));
    }
}

/// A file of version 1 has no parts and no rack: the list is empty, the usual rack stands.
#[test]
fn a_file_of_version_1_opens() {
    let old = json!({"offsquare": 1, "bench": {"drafts": [], "recent": [], "lengths": ["33 - 2"], "shop": Shop::default().keep()}});
    let opened = save::read(&old.to_string());
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench.lengths, ["33 - 2"]);
    assert_eq!(opened.bench.work, Bench::default().work);
}

/// One broken row does not take the rest along, and is said; numbers out of range are brought back.
#[test]
fn broken_rows_are_set_aside_and_said() {
    let mut file: Value = serde_json::from_str(&save::write(&full())).expect("JSON");
    let work = &mut file["bench"]["work"];
    let parts = work["parts"].as_array().map_or(0, Vec::len);
    work["parts"][0] = json!("nothing");
    work["parts"][1]["length"] = json!(-3.0);
    work["parts"][2]["give"] = json!(1e9);
    work["rack"]["stocks"][0]["sold"][0]["price"] = json!(-5);
    work["rack"]["tax"] = json!(99_999_999);
    work["pieces"][0]["batch"] = json!(0);
    let opened = save::read(&file.to_string());
    let back = &opened.bench.work;
    assert_eq!(back.parts.len(), parts - 2);
    assert_eq!(back.pieces[0].batch, 1);
    assert_eq!(back.rack.tax, 40_000);
    assert!(back.parts[0].give <= Length(1000.0));
    assert_eq!(back.rack.stocks[0].sold[0].price.0, 0);
    assert_eq!(opened.repaired.len(), 4, "{:?}", opened.repaired);
}

/// A ripped board as it was kept before cuts were records: one text of words, whole numbers and bits (1 3/4 is
/// 0x3ffc000000000000), or decimals. It opens as it was, holds in the plan, and is written as records.
#[test]
fn a_ripped_board_kept_in_words_opens_unchanged() {
    let part = |entry: u32, wide: f64, y: f64| {
        json!({"entry": entry, "mirrored": false, "turned": false, "flipped": false, "x": 0.0, "y": y,
               "wide": wide, "length": 96.0, "left": 0.0, "right": 0.0})
    };
    let kept = |cuts: &str| {
        json!({"stock": 1, "owned": false, "length": 96.0, "start": 0.0, "width": 5.5, "cuts": cuts,
               "parts": [part(1, 1.75, 0.0), part(1, 1.75, 1.875)]})
    };
    let stock = Stock {
        id: 1,
        thickness: Length(0.75),
        width: Length(5.5),
        sold: vec![Sold { length: Length(96.0), price: Money(940), ..Sold::default() }],
        ..Stock::default()
    };
    let mut bench = Bench::default();
    bench.work.rack.stocks = vec![stock];
    bench.work.parts = vec![Entry {
        id: 1,
        count: 3,
        stock: Some(1),
        length: Length(96.0),
        seen: Some(Length(1.75)),
        ..Entry::default()
    }]
    .into();
    let file: Value = serde_json::from_str(&save::write(&bench)).expect("JSON");
    let piece = |y: f64, width: f64, then| Piece { x: 0.0, y, length: 96.0, width, then };
    let cut = |first, second| Then::Cut {
        saw: Saw::Rip,
        at: 1.75,
        first: Some(first),
        second: Some(second),
    };
    let tree = [
        piece(0.0, 5.5, cut(1, 2)),
        piece(0.0, 1.75, Then::Part(0)),
        piece(1.875, 3.625, cut(3, 4)),
        piece(1.875, 1.75, Then::Part(1)),
        piece(3.75, 1.75, Then::Rest),
    ];
    let words = "5 0 0 96 5.5 r x3ffc000000000000 1 2 0 0 96 1.75 p 0 0 1.875 96 3.625 r 1.75 3 4 \
                 0 1.875 96 1.75 p 1 0 3.75 96 1.75 e";
    let mut old = file.clone();
    old["bench"]["work"]["kept"] = json!([kept(words)]);
    let opened = save::read(&old.to_string());
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench.work.kept[0].cuts, tree);
    let jobs = opened.bench.work.jobs(&opened.bench.shop);
    assert_eq!((jobs.troubles.len(), jobs.jobs[0].kept.len()), (0, 1));
    let again: Value = serde_json::from_str(&save::write(&opened.bench)).expect("JSON");
    assert_eq!(again["bench"]["work"]["kept"][0]["cuts"][2]["second"], json!(4));
    assert_eq!(save::read(&again.to_string()).bench, opened.bench);
    // A board of sticks was kept with empty words; words that say nothing are told.
    for (words, wrong) in [("", 0), ("5 0 0 96", 1), ("1 0 0 96 5.5 c x 1 2", 1)] {
        let mut odd = file.clone();
        odd["bench"]["work"]["kept"] = json!([kept(words)]);
        let opened = save::read(&odd.to_string());
        assert_eq!(
            (opened.bench.work.kept[0].cuts.len(), opened.repaired.len()),
            (0, wrong),
            "{words}"
        );
    }
}
