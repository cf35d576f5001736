//! Patches: they lead from one document to another and back, and touch nothing else.

use offsquare_tests::dice::Dice;
use offsquare_units::kept::Kept as _;
use offsquare_units::{Length, Unit};
use offsquare_work::piece::{Draft, LOOSE, Shop, WorkEdit};
use offsquare_work::rack::Owned;
use offsquare_work::save::{self, Bench, History, Patch, Recent, Way, apply, diff};
use serde_json::Value;

/// Anything at all that a maker may do to a document.
pub fn change(bench: &mut Bench, dice: &mut Dice) {
    let shop = bench.shop.clone();
    let pieces: Vec<u32> = bench.work.pieces.iter().map(|p| p.id).collect();
    let piece = pieces[dice.below(pieces.len())];
    let part = match bench.work.parts.len() {
        0 => 0,
        n => bench.work.parts[dice.below(n)].id,
    };
    let layouts = ["brace", "end_board", "post_legs"];
    let layout = offsquare_cuts::layouts::find(layouts[dice.below(3)]).expect("a layout");
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let n = dice.below(90);
    match dice.below(17) {
        0 => bench.work.apply(WorkEdit::AddPiece { pattern: None }, &shop),
        1 => bench.work.apply(WorkEdit::CopyPiece(piece), &shop),
        2 => bench.work.apply(WorkEdit::RemovePiece(piece), &shop),
        3 => bench.work.apply(WorkEdit::Example(piece, n % 3), &shop),
        4 => bench.work.apply(WorkEdit::Follow(piece, draft), &shop),
        5 => bench.work.apply(WorkEdit::RemovePart(part), &shop),
        6 => {
            let (key, text) =
                [("count", n.to_string()), ("note", format!("note {n}"))][n % 2].clone();
            bench.work.apply(WorkEdit::Part { id: part, key, text }, &shop);
        }
        7 => {
            let (key, text) = ("name", format!("Gate {n}"));
            bench.work.apply(WorkEdit::Piece { id: piece, key, text }, &shop);
        }
        8 => {
            let typed = bench.draft(layout.id()).cloned().unwrap_or(draft);
            let mut typed = typed;
            let key = layout.forms()[0].fields[n % 3].key;
            typed.set(key, &n.to_string(), Unit::Inch);
            bench.put_followed(typed);
        }
        9 => bench.remember(Recent {
            draft,
            at_ms: n as f64,
            line: "31.6".into(),
            pinned: n.is_multiple_of(5),
        }),
        10 if !bench.recent.is_empty() => {
            let at = n % bench.recent.len();
            bench.recent[at].pinned ^= true;
        }
        11 => bench.lengths.insert(n % (bench.lengths.len() + 1), format!("{} - 2", n % 4)),
        12 if !bench.lengths.is_empty() => drop(bench.lengths.remove(n % bench.lengths.len())),
        13 => {
            let at = dice.below(bench.work.rack.stocks.len());
            let stock = &mut bench.work.rack.stocks[at];
            match n % 3 {
                0 => stock.owned.insert(
                    n % (stock.owned.len() + 1),
                    Owned {
                        length: Length(f64::from(n as u32 % 7) + 4.0),
                        count: 1,
                        ..Owned::default()
                    },
                ),
                1 if !stock.owned.is_empty() => drop(stock.owned.remove(n % stock.owned.len())),
                _ => stock.owned.iter_mut().for_each(|o| o.count += 1),
            }
        }
        14 => bench.shop.unit = if n.is_multiple_of(2) { Unit::Inch } else { Unit::Millimeter },
        15 => bench.work.plain ^= true,
        _ => bench.work.apply(WorkEdit::AddPart(piece), &shop),
    }
}

/// As another tab or the next start reads it.
fn through_text(patch: &Patch) -> Patch {
    let value: Value = serde_json::from_str(&patch.keep().to_string()).expect("JSON");
    Patch::restore(&value).expect("a patch")
}

#[test]
fn a_patch_leads_there_and_back() {
    for seed in 1..=200 {
        let mut dice = Dice(seed);
        let mut bench = Bench::default();
        for _ in 0..30 {
            let before = bench.clone();
            for _ in 0..=dice.below(4) {
                change(&mut bench, &mut dice);
            }
            let (forth, back) = (diff(&before, &bench), diff(&bench, &before));
            assert_eq!(forth.0.is_empty(), before == bench);
            let mut there = before.clone();
            assert!(!apply(&mut there, &through_text(&forth), Way::Own).any());
            assert_eq!(there, bench, "seed {seed}: {forth:?}");
            assert!(!apply(&mut there, &through_text(&back), Way::Own).any());
            assert_eq!(there, before, "seed {seed}: {back:?}");
        }
    }
}

/// An edit costs what it touches: one field of one part among thousands is one place.
#[test]
fn a_patch_names_what_was_touched_and_nothing_else() {
    let mut bench = Bench::default();
    let shop = Shop::default();
    bench.work.apply(WorkEdit::Paste(LOOSE, "Rail\t1\t10\n".repeat(1_500)), &shop);
    let mut after = bench.clone();
    let edit = WorkEdit::Part { id: 700, key: "count", text: "3".into() };
    after.work.apply(edit, &shop);
    let patch = diff(&bench, &after);
    assert_eq!(patch.0.len(), 1);
    assert_eq!(
        patch.keep().to_string(),
        r#"[{"at":["work","parts",["700"],"count"],"old":1,"new":3}]"#
    );
}

/// Two tabs change length and count of one part: both stay. The same field: the later one, and it is told.
#[test]
fn two_fields_of_one_part_both_stay_and_of_one_field_the_later() {
    let shop = Shop::default();
    let mut base = Bench::default();
    base.work.apply(WorkEdit::AddPart(LOOSE), &shop);
    let edited = |key: &'static str, text: &str| {
        let mut bench = base.clone();
        bench.work.apply(WorkEdit::Part { id: 1, key, text: text.into() }, &shop);
        diff(&base, &bench)
    };
    let mut bench = base.clone();
    assert!(!apply(&mut bench, &edited("length", "31"), Way::Later).any());
    assert!(!apply(&mut bench, &edited("count", "4"), Way::Later).any());
    assert_eq!((bench.work.parts[0].length, bench.work.parts[0].count), (Length(31.0), 4));
    let met = apply(&mut bench, &edited("count", "5"), Way::Later);
    assert_eq!((bench.work.parts[0].count, met.over), (5, 1));
    let met = apply(&mut bench, &edited("count", "6"), Way::Own);
    assert_eq!((bench.work.parts[0].count, met.left), (5, 1));
}

/// A line of sums typed key by key is one change of one row; typed back to what it was, it is none.
#[test]
fn a_line_typed_back_to_what_it_was_leaves_no_step() {
    let with =
        |text: &str| Bench { lengths: vec!["33 - 2".into(), text.into()], ..Bench::default() };
    let mut history = History::default();
    let texts = ["4", "45", "457", "45", "4"];
    for (at, typed) in texts.windows(2).enumerate() {
        let left = history.note(&with(typed[0]), &with(typed[1]), at > 0);
        assert_eq!(left, Some(typed[1] != "4"));
        assert_eq!(history.steps.len(), usize::from(typed[1] != "4"));
        assert!(history.steps.iter().all(|s| s.back.0.len() == 1 && s.forth.0.len() == 1));
    }
    history.note(&with("4"), &with("45"), false);
    history.note(&with("45"), &with("451"), true);
    let mut bench = with("451");
    history.take(&mut bench, true);
    assert_eq!(bench, with("4"));
    history.take(&mut bench, false);
    assert_eq!(bench, with("451"));
}

/// What no edit of ours would say changes nothing.
#[test]
fn junk_changes_nothing() {
    let mut base = Bench::default();
    base.work.apply(WorkEdit::Example(LOOSE, 0), &Shop::default());
    for text in [
        r#"[{"at":[],"new":5}]"#,
        r#"[{"at":["work"],"new":null}]"#,
        r#"[{"at":["work","parts"],"new":[1]}]"#,
        r#"[{"at":["work","parts",["1"]],"old":{},"new":{"length":"long"}}]"#,
        r#"[{"at":["work","parts",["1"],"length"],"old":10,"new":"long"}]"#,
        r#"[{"at":["work","parts",["99"],"length"],"old":10,"new":11}]"#,
        r#"[{"at":["work","parts",["100"]],"new":7}]"#,
        r#"[{"at":["work","rack","tax"],"old":0,"new":-1}]"#,
        r#"[{"at":["shop","saw","kerf"],"new":{}}]"#,
        r#"[{"at":["recent"],"new":{"a":1}}]"#,
        r#"[{"at":["lengths",[3,"x"],"deep"],"new":1}]"#,
        r#"[{"at":["nothing","of","ours"],"new":1}]"#,
    ] {
        let patch = Patch::restore(&serde_json::from_str(text).expect("JSON")).expect(text);
        let mut bench = base.clone();
        apply(&mut bench, &patch, Way::Later);
        assert_eq!(bench, base, "{text}");
    }
    for text in
        ["5", "[5]", r#"[{"new":1}]"#, r#"[{"at":[7]}]"#, r#"[{"at":[[]]}]"#, r#"{"at":[]}"#]
    {
        let value: Value = serde_json::from_str(text).expect("JSON");
        assert_eq!(Patch::restore(&value), None, "{text}");
    }
}

/// Records are a document, whole and in order, however they come.
#[test]
fn records_hold_all_of_a_document() {
    for seed in 1..=60 {
        let mut dice = Dice(seed);
        let mut bench = Bench::default();
        let mut kept: std::collections::BTreeMap<String, Value> = Default::default();
        for (key, value) in save::records(&bench) {
            kept.insert(key, value.expect("a record"));
        }
        for _ in 0..20 {
            let before = bench.clone();
            change(&mut bench, &mut dice);
            for (key, value) in save::changed(&before, &bench) {
                match value {
                    Some(value) => drop(kept.insert(key, value)),
                    None => drop(kept.remove(&key)),
                }
            }
            let whole = save::joined(kept.clone().into_iter());
            let opened = save::read(&whole.to_string());
            assert_eq!(opened.repaired, Vec::<String>::new());
            assert_eq!(opened.bench, bench, "seed {seed}");
        }
    }
}

/// Before they can be told place by place, changes stand in a journal as documents: what is read of it is the same patch.
/// Nothing is read of one that is damaged.
#[test]
fn a_journal_between_two_documents_is_their_patch() {
    let mut dice = Dice(61);
    let mut bench = Bench::default();
    let mut told = 0;
    for _ in 0..200 {
        let first = |bench: &Bench| Bench { work: Bench::default().work, ..bench.clone() };
        let before = first(&bench);
        change(&mut bench, &mut dice);
        let after = first(&bench);
        let text = save::journal_between("page", &before, &after).to_string();
        let mut journal: Value = serde_json::from_str(&text).expect("JSON");
        let read = save::read_journal(&journal).expect("a journal");
        let patch = diff(&before, &after);
        told += usize::from(!patch.0.is_empty());
        assert_eq!(read, [save::Pending { page: "page".into(), number: 1, patch }]);
        journal["journal"][0]["after"]["drafts"] = "a text".into();
        assert_eq!(save::read_journal(&journal), None);
        journal["journal"][0]["after"] = Value::Null;
        assert_eq!(save::read_journal(&journal), None);
    }
    assert!(told > 30, "{told} changes");
}
