//! Tabs over one device, beside a plain model: edits, undo, redo, reloads, and kills between any two writes.

use crate::device::{Device, Page, Told};
use crate::plain::Plain;
use offsquare_tests::dice::Dice;
use offsquare_units::{Length, Unit};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Ids, LOOSE, Shop, WorkEdit};
use offsquare_work::save::{Bench, Unsettled, VERSION};

/// What the plain table tells of; what else belongs together is tried below.
fn any_edit(bench: &mut Bench, dice: &mut Dice) {
    let shop = bench.shop.clone();
    let piece = bench.work.pieces[dice.below(bench.work.pieces.len())].id;
    let part = match bench.work.parts.len() {
        0 => 0,
        n => bench.work.parts[dice.below(n)].id,
    };
    let n = dice.below(40);
    let edit = match dice.below(14) {
        0 => WorkEdit::AddPiece { pattern: None },
        1 => WorkEdit::CopyPiece(piece),
        2 if dice.one_in(2) => WorkEdit::RemovePiece(piece),
        2 | 3 => WorkEdit::RemovePart(part),
        4 => WorkEdit::Piece { id: piece, key: "name", text: format!("Gate {n}") },
        5 => WorkEdit::Piece { id: piece, key: "batch", text: (n + 1).to_string() },
        6 => WorkEdit::Part { id: part, key: "count", text: n.to_string() },
        7 => WorkEdit::Part { id: part, key: "length", text: (n + 4).to_string() },
        8 => WorkEdit::Part { id: part, key: "note", text: format!("note {n}") },
        9 => {
            bench.shop.saw.kerf = Length(0.05 + n as f64 / 400.0);
            return;
        }
        10 => {
            let layout = offsquare_cuts::layouts::find("brace").expect("the brace");
            let fresh = || Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
            let mut draft = bench.draft("brace").cloned().unwrap_or_else(fresh);
            let key = ["opening_width", "opening_height"][n % 2];
            draft.set(key, &(n + 20).to_string(), Unit::Inch);
            bench.put(draft);
            return;
        }
        11 => WorkEdit::AddStock { of: None, wood: String::new() },
        12 => WorkEdit::Plain(n.is_multiple_of(2)),
        _ => WorkEdit::AddPart(piece),
    };
    bench.work.apply(edit, &shop);
}

/// What a run did, so that it is known to try what it says it does.
#[derive(Default, Debug)]
struct Tried {
    kills: usize,
    lost: usize,
    steps: usize,
    settled: usize,
}

fn run(seed: u64, turns: usize, tried: &mut Tried) {
    let mut dice = Dice(seed);
    let mut device = Device::default();
    let mut told = Told::new();
    let mut model = Plain::of(&Bench::default());
    let mut born = 0;
    let mut pages: Vec<Page> = Vec::new();
    for _ in 0..turns {
        if pages.len() < 2 && (pages.is_empty() || dice.one_in(4)) {
            born += 1;
            pages.push(Page::start(&device, &format!("page{born}"), Ids(born), None));
        }
        let at = dice.below(pages.len());
        let page = &mut pages[at];
        match dice.below(12) {
            0..=4 => {
                page.edit(&mut told, |bench| any_edit(bench, &mut dice));
                // Killed before the journal is written: the key being pressed is lost.
                match dice.one_in(25) {
                    true => {
                        tried.lost += 1;
                        drop(pages.remove(at));
                    }
                    false => page.write_journal(&mut device),
                }
            }
            5 | 6 => {
                tried.steps += 1;
                page.step(dice.below(3) > 0, &mut told);
                page.write_journal(&mut device);
            }
            7 | 8 => {
                tried.settled += 1;
                page.settle(&mut device, &told, &mut model);
                // Killed before the journal is put away, or the browser forgets that it was.
                match dice.one_in(5) {
                    true => drop(pages.remove(at)),
                    false => page.write_journal(&mut device),
                }
            }
            9 => {
                // A transaction that is aborted, or whose end is never heard of.
                let mut copy = device.clone();
                let mut unheard = model.clone();
                page.settle(&mut copy, &told, &mut unheard);
                tried.kills += 1;
                drop(pages.remove(at));
                if dice.one_in(2) {
                    (device, model) = (copy, unheard);
                }
            }
            10 => page.look(&device),
            _ => {
                tried.kills += 1;
                drop(pages.remove(at));
            }
        }
    }
    pages.push(Page::start(&device, "last", Ids(born + 1), None));
    for _ in 0..2 {
        for page in &mut pages {
            page.settle(&mut device, &told, &mut model);
            page.write_journal(&mut device);
        }
    }
    let read = Page::start(&device, "reader", Ids(0), None);
    assert_eq!(Plain::of(&read.shown), model, "seed {seed}");
    for page in &mut pages {
        page.look(&device);
        assert_eq!(page.shown, read.shown, "seed {seed}, {}", page.name);
    }
}

#[test]
fn two_tabs_with_undo_and_kills_are_a_plain_model() {
    let mut tried = Tried::default();
    for seed in 1..=60 {
        run(seed, 160, &mut tried);
    }
    assert!(
        tried.kills > 500 && tried.lost > 50 && tried.steps > 500 && tried.settled > 500,
        "{tried:?}"
    );
}

fn two_pages(device: &Device) -> (Page, Page) {
    let page = |name, ids| Page::start(device, name, Ids(ids), None);
    (page("first", 0), page("second", 1))
}

/// An Undo in one tab leaves five parts alone that another one added.
#[test]
fn undo_takes_back_its_own() {
    let (mut device, mut told, mut model) = (Device::default(), Told::new(), Plain::default());
    let (mut a, mut b) = two_pages(&device);
    let add = |bench: &mut Bench| bench.work.apply(WorkEdit::AddPart(LOOSE), &Shop::default());
    a.edit(&mut told, add);
    a.settle(&mut device, &told, &mut model);
    for _ in 0..5 {
        b.edit(&mut told, add);
    }
    b.settle(&mut device, &told, &mut model);
    a.look(&device);
    assert_eq!(a.shown.work.parts.len(), 6);
    a.step(true, &mut told);
    a.settle(&mut device, &told, &mut model);
    b.look(&device);
    assert_eq!((a.shown.work.parts.len(), b.shown.work.parts.len()), (5, 5));
    a.step(false, &mut told);
    assert_eq!(a.shown.work.parts.len(), 6);
}

/// Sizes of one pattern from two tabs: the parts are those of both sizes, in both tabs.
#[test]
fn parts_follow_sizes_that_two_tabs_have_changed() {
    let (mut device, mut told, mut model) = (Device::default(), Told::new(), Plain::default());
    let shop = Shop::default();
    let layout = patterns::find("slatted_trellis").expect("the trellis");
    let (mut a, _) = two_pages(&device);
    let draft = Draft::fresh(&layout.layout, &layout.forms[0], Unit::Inch);
    a.edit(&mut told, |bench| {
        bench.put(draft.clone());
        bench.work.apply(WorkEdit::AddPiece { pattern: Some(draft.clone()) }, &shop);
    });
    a.settle(&mut device, &told, &mut model);
    let mut b = Page::start(&device, "second", Ids(1), None);
    let size = |key: &'static str, text: &'static str| {
        move |bench: &mut Bench| {
            let mut draft = bench.draft("slatted_trellis").expect("a draft").clone();
            draft.set(key, text, Unit::Inch);
            bench.put_followed(draft);
        }
    };
    a.edit(&mut told, size("width", "20"));
    b.edit(&mut told, size("height", "60"));
    a.settle(&mut device, &told, &mut model);
    b.settle(&mut device, &told, &mut model);
    a.look(&device);
    assert_eq!(a.shown, b.shown);
    let mut expected = Bench::default();
    let mut both = draft;
    both.set("width", "20", Unit::Inch);
    both.set("height", "60", Unit::Inch);
    expected.work.apply(WorkEdit::AddPiece { pattern: Some(both) }, &shop);
    let lengths = |bench: &Bench| -> Vec<(String, u32, Length)> {
        bench.work.parts.iter().map(|e| (e.name.clone(), e.count, e.length)).collect()
    };
    assert_eq!(lengths(&a.shown), lengths(&expected));
}

/// Steps to undo are there again after a restart, and lead back as they would have.
#[test]
fn undo_outlives_a_restart() {
    let (mut device, mut told, mut model) = (Device::default(), Told::new(), Plain::default());
    let (mut a, _) = two_pages(&device);
    let mut dice = Dice(7);
    let mut before = vec![a.shown.clone()];
    for _ in 0..260 {
        a.edit(&mut told, |bench| any_edit(bench, &mut dice));
        if *before.last().expect("one") != a.shown {
            before.push(a.shown.clone());
        }
        if dice.one_in(3) {
            a.settle(&mut device, &told, &mut model);
        }
    }
    a.step(true, &mut told);
    a.settle(&mut device, &told, &mut model);
    let mut again = Page::start(&device, "again", Ids(0), Some("first"));
    assert_eq!((&again.history, &again.shown), (&a.history, &a.shown));
    assert!(again.history.can_redo());
    again.plain = a.plain;
    for shown in before.iter().rev().skip(2).take(199) {
        again.step(true, &mut told);
        assert_eq!(again.shown, *shown);
    }
    assert!(!again.history.can_undo());
    assert!(device.steps.len() <= 201);
}

/// What the device kept as one text comes in once, whoever brings it.
#[test]
fn what_was_kept_before_comes_in_once() {
    use offsquare_work::save::{BEFORE, Pending, diff, journal};
    let mut old = Bench::default();
    old.work.apply(WorkEdit::Example(LOOSE, 0), &Shop::default());
    let mut device = Device::default();
    let patch = diff(&Bench::default(), &old);
    let before = Pending { page: BEFORE.into(), number: 1, patch };
    let told = Told::from([((BEFORE.to_owned(), 1), Vec::new())]);
    device.journals.insert(BEFORE.into(), journal(&[before]).to_string());
    let (mut a, mut b) = two_pages(&device);
    assert_eq!((&a.shown, &b.shown), (&old, &old));
    let mut model = Plain::default();
    a.settle(&mut device, &told, &mut model);
    b.settle(&mut device, &told, &mut model);
    assert_eq!((&a.shown, &b.shown, &device.tab().base), (&old, &old, &old));
}

/// A tab older than what is stored writes nothing; what it could not keep stays in its journal.
#[test]
fn a_tab_older_than_what_is_stored_stops() {
    let mut device = Device::default();
    let (mut a, _) = two_pages(&device);
    a.edit(&mut Told::new(), |bench| bench.lengths.push("33".into()));
    device.marks.insert("offsquare".into(), (VERSION + 1).to_string());
    let found = device.found(0);
    assert!(found.is_newer());
    assert_eq!(a.try_settle(&found).err(), Some(Unsettled::Newer));
    assert_eq!(a.try_look(&found).err(), Some(Unsettled::Newer));
}
