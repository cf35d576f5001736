//! The reducer by itself: steps of undo, links, the last good answer.

mod places;
mod plain;

use super::{Edit, Route, Store};
use offsquare_units::Unit;
use offsquare_work::cutlist::{KeptBoard, KeptPart};
use offsquare_work::piece::{Shop, Tick, WorkEdit, from_link};
use offsquare_work::save::Bench;
use std::rc::Rc;

fn store() -> Store {
    Store::new(Bench::default(), Route::Layout("brace"))
}

fn type_in(store: &mut Store, key: &str, text: &str) {
    store.apply(Edit::Type {
        layout: "brace",
        key: key.to_owned(),
        text: text.to_owned(),
        unit: Unit::Inch,
    });
}

fn text(store: &Store, key: &str) -> String {
    let draft = store.draft("brace").expect("a draft");
    draft.text(key).map(|t| t.text.clone()).unwrap_or_default()
}

fn steps_back(store: &Store) -> usize {
    let mut store = store.clone();
    let mut steps = 0;
    while store.can_undo() {
        store.apply(Edit::Undo);
        steps += 1;
    }
    steps
}

#[test]
fn a_word_typed_in_one_field_is_one_step() {
    let mut s = store();
    let before = text(&s, "opening_width");
    for typed in ["4", "41", "41 1/2"] {
        type_in(&mut s, "opening_width", typed);
    }
    type_in(&mut s, "opening_height", "50");
    assert_eq!(steps_back(&s), 2);
    s.apply(Edit::Undo);
    assert_eq!(text(&s, "opening_width"), "41 1/2");
    s.apply(Edit::Undo);
    assert_eq!(text(&s, "opening_width"), before);
    assert!(!s.can_undo() && s.can_redo());
    s.apply(Edit::Redo);
    assert_eq!(text(&s, "opening_width"), "41 1/2");
    // After a step back, or another screen, the same field begins a new step.
    type_in(&mut s, "opening_width", "42");
    assert!(!s.can_redo());
    assert_eq!(steps_back(&s), 2);
    s.apply(Edit::Go(Route::Shop));
    s.apply(Edit::Go(Route::Layout("brace")));
    type_in(&mut s, "opening_width", "43");
    assert_eq!(steps_back(&s), 3);
}

#[test]
fn two_hundred_steps_are_kept() {
    let mut s = store();
    for i in 0..150 {
        type_in(&mut s, "opening_width", &format!("{}", 40 + i));
        type_in(&mut s, "opening_height", &format!("{}", 50 + i));
    }
    assert_eq!(steps_back(&s), 200);
    for _ in 0..200 {
        s.apply(Edit::Undo);
    }
    // 300 steps less 200: the last that stays is the 50th of each.
    assert_eq!((text(&s, "opening_width"), text(&s, "opening_height")), ("89".into(), "99".into()));
}

#[test]
fn what_is_only_looked_at_is_no_step() {
    let mut s = store();
    s.apply(Edit::Way { layout: "brace", way: 1 });
    s.apply(Edit::Remember { layout: "brace", at_ms: 1.0, pinned: false, left: false });
    assert!(!s.can_undo());
    assert_eq!((s.bench.recent.len(), s.draft("brace").and_then(|d| d.way)), (1, Some(1)));
    // A screen that was only left is remembered if something was done on it.
    let mut s = store();
    let left = || Edit::Remember { layout: "brace", at_ms: 1.0, pinned: false, left: true };
    s.apply(left());
    assert!(s.bench.recent.is_empty());
    type_in(&mut s, "opening_width", "41");
    s.apply(left());
    assert_eq!(s.bench.recent.len(), 1);
}

#[test]
fn an_address_leads_to_a_screen_or_brings_a_piece() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    for (fragment, route) in [
        ("#/shop", Route::Shop),
        ("#/rack", Route::Rack),
        ("#/brace", Route::Layout("brace")),
        ("#/nowhere", Route::Bench),
        // The door alone has it.
        ("#/molding", Route::Bench),
    ] {
        s.apply(Edit::Visit(fragment.to_owned()));
        assert_eq!(s.route, route, "{fragment}");
    }
    assert!(!s.can_undo() && s.bench.drafts.is_empty());
    let link = "#/brace?form=single&opening_width=31&opening_height=45&strip_width=2";
    s.apply(Edit::Visit(link.to_owned()));
    assert_eq!(s.route, Route::Layout("brace"));
    assert_eq!(s.draft("brace"), from_link(link, Unit::Inch));
    s.apply(Edit::Undo);
    assert!(s.bench.drafts.is_empty());
}

#[test]
fn the_last_good_answer_stays_marked_as_old() {
    let mut s = store();
    let shown = |s: &Store| {
        let (_, shown) = s.shown.clone().expect("a layout");
        let (answer, old) = shown.answer().expect("an answer");
        (answer.solved.len(), old)
    };
    let (ways, old) = shown(&s);
    assert!(ways > 0 && !old);
    type_in(&mut s, "strip_width", "abc");
    assert_eq!(shown(&s), (ways, true));
    // Not that of another layout.
    s.apply(Edit::Go(Route::Layout("bracket")));
    assert!(!shown(&s).1);
    s.apply(Edit::Go(Route::Layout("brace")));
    assert!(s.shown.as_ref().is_some_and(|(_, shown)| shown.good.is_none()));
}

#[test]
fn lines_of_sums_are_as_long_as_the_last_that_says_something() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    let line = |s: &mut Store, index, text: &str| s.apply(Edit::Line { index, text: text.into() });
    line(&mut s, 2, "3/4");
    assert_eq!(s.bench.lengths, ["", "", "3/4"]);
    line(&mut s, 0, "33");
    line(&mut s, 2, "");
    assert_eq!(s.bench.lengths, ["33"]);
}

#[test]
fn another_tab_is_followed_without_a_step() {
    let mut s = store();
    let other =
        Bench { shop: Shop { unit: Unit::Millimeter, ..Shop::default() }, ..Bench::default() };
    s.apply(Edit::Elsewhere(Rc::new(other.clone())));
    assert_eq!(*s.bench, other);
    assert!(!s.can_undo());
}

#[test]
fn undo_takes_sizes_and_never_what_was_remembered() {
    let remember = |at_ms, pinned| Edit::Remember { layout: "brace", at_ms, pinned, left: false };
    let told = |s: &Store| -> Vec<(f64, bool)> {
        s.bench.recent.iter().map(|r| (r.at_ms, r.pinned)).collect()
    };
    let mut s = store();
    type_in(&mut s, "opening_width", "41");
    s.apply(remember(1.0, false));
    type_in(&mut s, "opening_width", "42");
    s.apply(remember(2.0, true));
    assert_eq!(steps_back(&s), 1, "two words in one field");
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(2.0, true), (1.0, false)]);
    s.apply(Edit::Redo);
    assert_eq!(
        (text(&s, "opening_width"), told(&s)),
        ("42".into(), vec![(2.0, true), (1.0, false)])
    );
    // Being kept on top is no step, and stays; taking an answer out is one, and comes back where it was.
    s.apply(Edit::Pin(1));
    s.apply(Edit::Forget(0));
    s.apply(Edit::Pin(0));
    assert_eq!((steps_back(&s), told(&s)), (2, vec![(1.0, false)]));
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(2.0, true), (1.0, false)]);
    s.apply(Edit::Pin(1));
    s.apply(Edit::Redo);
    assert_eq!(told(&s), [(1.0, true)]);
    // A file that was opened brings its own, and takes them along when it is undone.
    s.apply(Edit::Import(Box::default()));
    assert_eq!(told(&s), []);
    s.apply(Edit::Undo);
    assert_eq!(told(&s), [(1.0, true)]);
}

/// A run takes its steps back by itself: undo and redo of anything else leave it where it is, and beginning it is one step.
#[test]
fn a_run_at_the_saw_keeps_its_place_over_undo() {
    let mut s = Store::new(Bench::default(), Route::Bench);
    s.apply(Edit::Work(WorkEdit::Example(0, 1)));
    let entry = s.bench.work.parts[0].id;
    let stock = s.bench.work.parts[0].stock.expect("a stock");
    let part = KeptPart { entry, length: 66.0, ..KeptPart::default() };
    let board = KeptBoard { stock, parts: vec![part], ..KeptBoard::default() };
    s.apply(Edit::Work(WorkEdit::StartRun(vec![board])));
    let begun = |s: &Store| s.bench.work.begun.as_ref().map(|r| r.done.len());
    assert_eq!(begun(&s), Some(0));
    s.apply(Edit::Line { index: 0, text: "33".into() });
    let steps = steps_back(&s);
    let tick = |at| Edit::Work(WorkEdit::Tick(Tick { board: 0, at, work: 0 }));
    s.apply(tick(0));
    s.apply(tick(1));
    assert_eq!((begun(&s), steps_back(&s)), (Some(2), steps));
    s.apply(Edit::Undo);
    assert_eq!((begun(&s), s.bench.lengths.len()), (Some(2), 0));
    s.apply(Edit::Work(WorkEdit::Untick));
    s.apply(Edit::Redo);
    assert_eq!((begun(&s), s.bench.lengths.len()), (Some(1), 1));
    s.apply(Edit::Undo);
    s.apply(Edit::Undo);
    assert_eq!(begun(&s), None);
    s.apply(Edit::Redo);
    assert_eq!(begun(&s), Some(1));
}
