//! What a start or an import can meet: texts too deep or too large to build, lists past what can be handled,
//! members of the wrong kind. Each is told, whatever can be kept is kept, and no list costs its square.

use offsquare_units::Unit;
use offsquare_work::cutlist::{self, MOST_PARTS};
use offsquare_work::piece::{LOOSE, MOST_SOURCES, Shop, WorkEdit};
use offsquare_work::rack::{MOST_ROWS, MOST_STOCKS, Rack};
use offsquare_work::save::{
    self, Bench, MOST_DEPTH, MOST_LENGTHS, MOST_RECENT, MOST_TEXT, MOST_VALUES,
};
use serde_json::{Value, json};

/// The reader of JSON is not even asked for a text that it could not bear.
fn unread(text: &str) -> String {
    let opened = save::read_by(text, |_| panic!("nothing is built of it"));
    assert_eq!(opened.bench, Bench::default());
    assert_eq!(opened.repaired.len(), 1);
    opened.repaired[0].clone()
}

/// The 2,500 levels, in objects, in lists, behind quotes and escapes, unclosed.
#[test]
fn nesting_without_end_is_refused_before_anything_is_built() {
    let deep = |open: &str, close: &str| {
        format!(
            "{{\"offsquare\":2,\"bench\":{{\"drafts\":{}{}}}}}",
            open.repeat(2_500),
            close.repeat(2_500)
        )
    };
    for text in [
        deep("[", "]"),
        deep("{\"a\":", "}").replace("}}}", "1}}}"),
        deep("[\"\\\\\",", "0]"),
        deep("[\"]]]\",", "0]"),
        "[".repeat(2_500),
    ] {
        assert!(unread(&text).contains("more than 64 deep"), "{text:.60}");
    }
    // At the limit it is read; brackets in a text are none.
    let levels = "[".repeat(MOST_DEPTH) + &"]".repeat(MOST_DEPTH);
    assert_eq!(save::fits(&levels), Ok(()));
    let words = json!({"offsquare": 2, "bench": {"lengths": ["[".repeat(2_500) + "\"[\\"]}});
    assert_eq!(save::fits(&words.to_string()), Ok(()));
    assert_eq!(save::read(&words.to_string()).bench.lengths.len(), 1);
}

#[test]
fn a_text_too_large_or_of_too_many_entries_is_refused_before_anything_is_built() {
    assert!(unread(&" ".repeat(MOST_TEXT + 1)).contains("17 MB, and 16 MB is the most"));
    let many = format!("[{}0]", "0,".repeat(MOST_VALUES));
    assert!(many.len() < MOST_TEXT);
    assert!(unread(&many).contains("more than 1,000,000 entries"));
}

fn stored(body: Value) -> save::Opened {
    save::read(&json!({"offsquare": 2, "bench": body}).to_string())
}

/// The document and each of its lists as something else: none is taken for empty. What is missing or null holds nothing.
#[test]
fn a_member_of_the_wrong_kind_is_told() {
    for wrong in [json!(7), json!("text"), json!(true), json!({"a": 1}), json!([7])] {
        if !wrong.is_object() {
            let opened = stored(wrong.clone());
            assert_eq!(opened.repaired.len(), 1, "bench {wrong}");
            assert!(opened.repaired[0].contains("bench"), "{:?}", opened.repaired);
        }
        for key in ["drafts", "recent", "lengths", "shop", "work"] {
            let opened = stored(json!({key: wrong}));
            assert!(!opened.repaired.is_empty(), "{key} {wrong}");
            assert!(opened.repaired[0].contains("set aside") || key == "shop", "{key} {wrong}");
        }
    }
    for none in [json!({}), json!({"drafts": null, "recent": [], "lengths": null}), Value::Null] {
        assert_eq!(stored(none.clone()).repaired, Vec::<String>::new(), "{none}");
    }
}

/// Anything anywhere in a file that would not be written back is told with its place: every value of a full file is in
/// turn replaced by one of each other kind, and a stranger is put into every object.
#[test]
fn whatever_would_be_lost_is_told_wherever_it_stands() {
    let mut bench = Bench::default();
    bench.work.apply(WorkEdit::Example(LOOSE, 0), &Shop::default());
    bench.lengths = vec!["33 - 2".into()];
    let file = save::to_value(&bench);
    assert_eq!(save::read(&file.to_string()).repaired, Vec::<String>::new());
    let mut places = Vec::new();
    fn walk(value: &Value, at: String, out: &mut Vec<String>) {
        out.push(at.clone());
        match value {
            Value::Object(all) => all.iter().for_each(|(k, v)| walk(v, format!("{at}/{k}"), out)),
            // One row stands for its list.
            Value::Array(all) => all.iter().take(1).for_each(|v| walk(v, format!("{at}/0"), out)),
            _ => {}
        }
    }
    walk(&file["bench"], "/bench".into(), &mut places);
    assert!(places.len() > 80, "{}", places.len());
    for place in &places {
        for other in [json!("\u{1}"), json!({"\u{1}": 1}), json!([[1]]), json!(1e300)] {
            let mut changed = file.clone();
            *changed.pointer_mut(place).expect("a place") = other.clone();
            let opened = save::read(&changed.to_string());
            // A text may be any text.
            let held = save::to_value(&opened.bench).pointer(place) == Some(&other);
            assert!(held || !opened.repaired.is_empty(), "{place} {other}");
        }
        let mut changed = file.clone();
        if let Some(Value::Object(all)) = changed.pointer_mut(place) {
            all.insert("stranger".into(), json!("kept by another version"));
            let opened = save::read(&changed.to_string());
            assert_eq!(opened.repaired.len(), 1, "{place}");
            assert!(opened.repaired[0].contains("stranger"), "{:?}", opened.repaired);
        }
    }
}

/// 200,000 parts and 3,000 stocks, as in the issue: what can be handled is kept, and how many were not is told.
#[test]
fn lists_past_what_can_be_handled_are_cut_and_told() {
    let parts = |n: u32| {
        let all: Vec<Value> = (0..n).map(|i| json!({"id": i, "length": 3.5})).collect();
        stored(json!({"work": {"parts": all}}))
    };
    let opened = parts(200_000);
    assert_eq!(opened.bench.work.parts.len(), MOST_PARTS);
    assert_eq!(
        opened.repaired,
        ["Of the kinds of parts, 8,000 can be kept; 192,000 more were set aside."]
    );
    let stock = |i: u32| json!({"id": i, "name": "s", "thickness": 0.75, "width": 3.5});
    let all: Vec<Value> = (0..3_000).map(stock).collect();
    let opened = stored(json!({"work": {"rack": {"stocks": all}}}));
    assert_eq!(opened.bench.work.rack.stocks.len(), MOST_STOCKS);
    assert!(opened.repaired[0].contains("2,800 more"), "{:?}", opened.repaired);
    let rows = json!({"length": 96});
    let mut one = stock(1);
    one["sold"] = Value::Array(vec![rows.clone(); 800]);
    one["owned"] = Value::Array(vec![rows; 800]);
    let opened = stored(json!({"work": {"rack": {"stocks": [one]}}}));
    let stock = &opened.bench.work.rack.stocks[0];
    assert_eq!(stock.sold.len() + stock.owned.len(), MOST_ROWS);
    assert!(opened.repaired[0].contains("600 more"), "{:?}", opened.repaired);
    let opened = stored(json!({"lengths": vec!["1"; MOST_LENGTHS + 3]}));
    assert_eq!(opened.bench.lengths.len(), MOST_LENGTHS);
    assert!(opened.repaired[0].contains("3 more"), "{:?}", opened.repaired);
    let recent = json!({"draft": {"layout": "brace", "form": "opening", "typed": []}, "at_ms": 0, "line": ""});
    let opened = stored(json!({"recent": vec![recent; MOST_RECENT + 9]}));
    assert!(opened.bench.recent.len() <= MOST_RECENT);
    assert!(opened.repaired.iter().any(|s| s.contains("9 more")), "{:?}", opened.repaired);
    let source = json!({"id": 1, "draft": {"layout": "brace", "form": "opening", "typed": []}});
    let opened = stored(json!({"work": {"sources": vec![source; MOST_SOURCES + 4]}}));
    assert!(opened.repaired.iter().any(|s| s.contains("4 more")), "{:?}", opened.repaired);
}

/// A full list takes no more, by whatever way, and says so; what does not fit of a table stays with its reason.
#[test]
fn a_full_list_and_a_full_rack_say_so() {
    let shop = Shop::default();
    let mut bench = Bench::default();
    let work = &mut bench.work;
    let table = "Rail\t1\t10\n".repeat(MOST_PARTS + 5);
    let read = work.pasted(&table, Unit::Inch);
    assert_eq!((read.entries.len(), read.skipped.len()), (MOST_PARTS, 5));
    assert!(read.skipped[0].why.contains("The list is full: 8,000"), "{}", read.skipped[0].why);
    assert_eq!(work.no_room(1), None);
    work.apply(WorkEdit::Paste(LOOSE, table), &shop);
    assert!(work.no_room(1).is_some_and(|why| why.contains("full")));
    assert_eq!(work.pasted("Rail\t1\t10\n", Unit::Inch).skipped.len(), 1);
    let first = work.parts[0].id;
    for edit in [WorkEdit::AddPart(LOOSE), WorkEdit::CopyPart(first), WorkEdit::Example(LOOSE, 0)] {
        work.apply(edit, &shop);
        assert_eq!(work.parts.len(), MOST_PARTS);
    }
    while work.rack.no_stock().is_none() {
        work.apply(WorkEdit::AddStock { of: None, wood: String::new() }, &shop);
    }
    work.apply(WorkEdit::AddStock { of: None, wood: String::new() }, &shop);
    assert_eq!(work.rack.stocks.len(), MOST_STOCKS);
    while work.rack.no_row().is_none() {
        work.apply(WorkEdit::AddOwned(1), &shop);
    }
    let before = work.rack.clone();
    work.apply(WorkEdit::AddSold(1), &shop);
    assert_eq!(work.rack, before);
    // All that the app itself can hold comes back whole.
    let opened = save::read(&save::write(&bench));
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench, bench);
}

#[test]
fn a_table_too_long_to_read_is_told() {
    let text = "Rail\t1\t10\n".repeat(100_000);
    let read = cutlist::paste(&(text + "\n"), &Rack::default(), Unit::Inch);
    assert!(read.entries.is_empty());
    assert!(read.said[0].contains("too long"), "{:?}", read.said);
}
