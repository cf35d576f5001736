//! What a maker keeps: recent answers, and a saved file that is read back, repaired where it must be, never
//! silently.

use offsquare_cuts::layouts;
use offsquare_units::{Angle, Fraction, Unit};
use offsquare_work::piece::{Draft, Paper, Shop, Theme};
use offsquare_work::save::{self, Bench, RECENT, Recent, VERSION};
use serde_json::{Value, json};

fn recent(width: usize, pinned: bool) -> Recent {
    let brace = layouts::find("brace").expect("brace");
    let mut draft = Draft::fresh(brace, &brace.forms()[0], Unit::Inch);
    draft.set("opening_width", &width.to_string(), Unit::Inch);
    Recent { draft, at_ms: width as f64, line: format!("answer {width}"), pinned }
}

fn widths(bench: &Bench) -> Vec<f64> {
    bench.recent.iter().map(|r| r.at_ms).collect()
}

#[test]
fn recent_answers_are_the_newest_and_those_pinned() {
    let mut bench = Bench::default();
    bench.remember(recent(1, true));
    for i in 2..=RECENT {
        bench.remember(recent(i, false));
    }
    assert_eq!(bench.recent.len(), RECENT);
    // One more: the oldest that is not pinned goes.
    bench.remember(recent(100, false));
    assert_eq!(bench.recent.len(), RECENT);
    assert_eq!(widths(&bench)[0], 100.0);
    assert!(widths(&bench).contains(&1.0) && !widths(&bench).contains(&2.0));
    // The same inputs again come to the front, and stay pinned.
    bench.remember(recent(1, false));
    assert_eq!(bench.recent.len(), RECENT);
    assert_eq!(widths(&bench)[0], 1.0);
    assert!(bench.recent[0].pinned);
    assert_eq!(bench.recent.iter().filter(|r| r.at_ms == 1.0).count(), 1);
    // The same words in another form are another question.
    let mut other = recent(1, false);
    other.draft.form = "outside".into();
    bench.remember(other);
    assert_eq!(bench.recent.iter().filter(|r| r.at_ms == 1.0).count(), 2);
}

fn full() -> Bench {
    let mut bench = Bench::default();
    bench.put(recent(31, false).draft);
    bench.remember(recent(30, true));
    bench.lengths = vec!["33 - 2".into(), "+ 3/4".into()];
    bench.shop = Shop {
        unit: Unit::Millimeter,
        fraction: Fraction::HalfMm,
        paper: Paper::A4,
        bar_mm: (99.5, 100.5),
        theme: Theme::Dark,
        ..Shop::default()
    };
    bench.shop.saw.miter_left = Angle(60.0);
    bench.shop.saw.detents.push(Angle(33.9));
    bench.shop.saw.kerf_assumed = false;
    bench
}

#[test]
fn what_is_kept_is_read_back() {
    let opened = save::read(&save::write(&full()));
    assert_eq!(opened.bench, full());
    assert_eq!(opened.repaired, Vec::<String>::new());
}

/// The file with one value changed, and what is said of it.
fn changed(path: &str, value: Value) -> (Bench, Vec<String>) {
    let mut file: Value = serde_json::from_str(&save::write(&full())).expect("JSON");
    *file.pointer_mut(path).expect("a place") = value;
    let opened = save::read(&file.to_string());
    (opened.bench, opened.repaired)
}

/// The ranges are those that the shop's form takes: limits to 75° and 60°, a bar from 80 to 125 mm.
#[test]
fn a_saw_and_a_bar_that_cannot_be_are_the_usual_ones_again() {
    let usual = Shop::default();
    for (key, most) in [
        ("miter_left", 75.0),
        ("miter_right", 75.0),
        ("bevel_left", 60.0),
        ("bevel_right", 60.0),
        ("finest_mark", 5.0),
    ] {
        let path = format!("/bench/shop/saw/{key}");
        let (sound, said) = changed(&path, json!(most));
        assert!(said.is_empty() && sound.shop.saw != usual.saw, "{key} {said:?}");
        for bad in [most + 0.1, -1.0] {
            let (bench, said) = changed(&path, json!(bad));
            assert_eq!(bench.shop.saw, usual.saw, "{key} {bad}");
            assert_eq!(said.len(), 1, "{key} {bad}: {said:?}");
            // The rest of the shop stays.
            assert_eq!(bench.shop.paper, Paper::A4);
        }
    }
    for key in ["kerf", "width_square", "height_upright", "hold_length"] {
        let (bench, said) = changed(&format!("/bench/shop/saw/{key}"), json!(0.0));
        assert_eq!((bench.shop.saw, said.len()), (usual.saw.clone(), 1), "{key}");
    }
    for bar in [[79.9, 100.0], [100.0, 125.1]] {
        let (bench, said) = changed("/bench/shop/bar_mm", json!(bar));
        assert_eq!((bench.shop.bar_mm, said.len()), (usual.bar_mm, 1));
    }
    let (bench, said) = changed("/bench/shop/bar_mm", json!([80.0, 125.0]));
    assert_eq!((bench.shop.bar_mm, said.len()), ((80.0, 125.0), 0));
}

/// One broken row is set aside and said; what comes from elsewhere is said to.
#[test]
fn nothing_is_dropped_silently() {
    let (bench, said) = changed("/bench/drafts/0/layout", json!("nowhere"));
    assert!(bench.drafts.is_empty() && bench.recent.len() == 1);
    assert!(said[0].ends_with("does not know were set aside: 1."), "{said:?}");
    let (bench, said) = changed("/bench/recent/0", json!(7));
    assert!(bench.recent.is_empty() && bench.drafts.len() == 1);
    assert_eq!(said, ["A recent answer could not be read and was set aside."]);
    let (bench, said) = changed("/bench/shop", json!(7));
    assert_eq!((bench.shop, said.len()), (Shop::default(), 1));
    let (bench, said) = changed("/offsquare", json!(VERSION + 1));
    assert_eq!(bench, full());
    assert!(said[0].contains("newer Offsquare"), "{said:?}");
    for none in ["", "no JSON", "7", "{}", "{\"offsquare\": \"2\"}"] {
        let opened = save::read(none);
        assert_eq!(opened.bench, Bench::default(), "{none}");
        assert_eq!(opened.repaired.len(), 1, "{none}");
    }
}
