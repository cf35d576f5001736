//! Files: added to what is here, of every version, cut off, mutated; never a crash, always a sentence.

use crate::patches::change;
use offsquare_tests::dice::Dice;
use offsquare_work::piece::{LOOSE, Row, Shop, WorkEdit};
use offsquare_work::price::{List, PriceRow};
use offsquare_work::save::{self, Bench, Pending, VERSION, diff};
use serde_json::{Value, json};

/// A document that some have worked on.
fn any(dice: &mut Dice, turns: usize) -> Bench {
    let mut bench = Bench::default();
    for _ in 0..turns {
        change(&mut bench, dice);
    }
    bench
}

#[test]
fn a_file_added_to_itself_adds_nothing() {
    for seed in 1..=40 {
        let bench = any(&mut Dice(seed), 30);
        let (merged, added) = bench.merged(&bench);
        assert_eq!(added.words(), "", "seed {seed}");
        assert_eq!(merged, bench, "seed {seed}");
    }
}

/// What was here stays as it was, and what came belongs together as it did: each piece has as many parts, cut from stock
/// of the same name, following a layout with the same sizes.
#[test]
fn what_is_added_keeps_together_and_changes_nothing() {
    let told = |bench: &Bench, piece: u32| {
        let work = &bench.work;
        let parts = work.parts_of(piece).map(|e| {
            let stock = work.rack.stock_of(e.stock).map(|s| s.name.clone());
            let from = e.from.as_ref().and_then(|f| work.sources.iter().find(|s| s.id == f.source));
            (e.name.clone(), e.count, e.length, stock, from.map(|s| s.draft.typed.clone()))
        });
        parts.collect::<Vec<_>>()
    };
    for seed in 1..=40 {
        let mut dice = Dice(seed);
        let here = any(&mut dice, 25);
        let file = any(&mut dice, 25);
        let (merged, added) = here.merged(&file);
        assert_eq!(added.left_out, 0);
        let opened = save::read(&save::write(&merged));
        assert_eq!((opened.repaired, &opened.bench), (Vec::new(), &merged), "seed {seed}");
        assert_eq!(merged.shop, here.shop);
        for piece in &here.work.pieces {
            assert_eq!(merged.work.piece(piece.id), Some(piece));
            let before = told(&here, piece.id);
            assert_eq!(told(&merged, piece.id)[..before.len()], before, "seed {seed}");
        }
        let new = merged.work.pieces.iter().filter(|p| here.work.piece(p.id).is_none());
        assert_eq!(new.clone().count(), added.pieces);
        let names = |b: &Bench, id: u32| (b.work.piece(id).map(|p| p.name.clone()), told(b, id));
        let mut come: Vec<_> = new.map(|p| names(&merged, p.id)).collect();
        for piece in file.work.pieces.iter().filter(|p| p.id != LOOSE) {
            let this = names(&file, piece.id);
            let at = come.iter().position(|c| *c == this);
            let same = here.work.pieces.iter().any(|p| names(&here, p.id) == this);
            assert!(at.is_some() || same, "seed {seed}: {this:?}");
            at.into_iter().for_each(|at| drop(come.remove(at)));
        }
        let diff = diff(&here, &merged);
        assert!(diff.0.iter().all(|c| c.old.is_none() || c.path.len() < 3), "seed {seed}");
    }
}

/// Usual figures come in where there are none, opened packs that are not here yet; prices of boards are in the money that
/// holds then: 1,250 without decimals are 1,250.00 with two.
#[test]
fn usual_figures_and_opened_packs_are_added_where_there_are_none() {
    let shop = Shop::default();
    let put = |bench: &mut Bench, row: PriceRow, key: &'static str, text: &str| {
        let edit = WorkEdit::Price { piece: LOOSE, row, key, text: text.into() };
        bench.work.apply(edit, &shop);
    };
    let opened = |bench: &mut Bench, name: &str, left: &str| {
        let list = List::Shelf;
        let at = bench.work.shelf.len();
        let edit = WorkEdit::AddLine { piece: LOOSE, list, key: "name", text: name.into() };
        bench.work.apply(edit, &shop);
        put(bench, PriceRow::Line(list, at), "left", left);
    };
    let mut file = Bench::default();
    put(&mut file, PriceRow::Rates, "decimals", "0");
    put(&mut file, PriceRow::Rates, "rate", "2400");
    file.work.apply(WorkEdit::AddStock { of: None, wood: String::new() }, &shop);
    let id = file.work.rack.stocks.last().expect("the new one").id;
    for (key, text) in [("name", "Ash"), ("rate", "1250")] {
        file.work.apply(WorkEdit::Rack { row: Row::Stock(id), key, text: text.into() }, &shop);
    }
    opened(&mut file, "Screws", "40");
    opened(&mut file, "Oil", "1/2");
    let rate = |bench: &Bench| {
        let ash = bench.work.rack.stocks.iter().find(|s| s.name == "Ash").expect("the stock");
        bench.work.currency().plain(ash.rate)
    };
    let (merged, added) = Bench::default().merged(&file);
    assert!(added.words().contains("set of usual figures"), "{}", added.words());
    assert_eq!((&merged.work.rates, &merged.work.shelf), (&file.work.rates, &file.work.shelf));

    let mut here = Bench::default();
    put(&mut here, PriceRow::Rates, "rate", "30");
    opened(&mut here, "screws", "7");
    let (merged, added) = here.merged(&file);
    assert!(!added.rates && added.opened == 1, "{}", added.words());
    assert_eq!(merged.work.rates, here.work.rates);
    let names: Vec<&str> = merged.work.shelf.iter().map(|o| o.text("name")).collect();
    assert_eq!(names, ["screws", "Oil"]);
    assert_eq!((rate(&file), rate(&merged)), ("1250".into(), "1250.00".into()));
}

/// A text of each version.
fn of_every_version() -> Vec<String> {
    let mut bench = any(&mut Dice(5), 40);
    bench.work.apply(WorkEdit::Example(LOOSE, 0), &Shop::default());
    let newest: Value = serde_json::from_str(&save::write(&bench)).expect("JSON");
    let mut out = vec![newest.to_string()];
    let mut third = newest.clone();
    third["offsquare"] = json!(3);
    out.push(third.to_string());
    let mut second = newest.clone();
    second["offsquare"] = json!(2);
    let work = second["bench"]["work"].as_object_mut().expect("the work");
    work.remove("pieces");
    work.insert("batch".into(), json!(2));
    out.push(second.to_string());
    let mut first = newest;
    first["offsquare"] = json!(1);
    first["bench"].as_object_mut().expect("the bench").remove("work");
    out.push(first.to_string());
    out
}

/// What was read is whole: written and read once more it is the same, and nothing is left to repair.
fn whole(text: &str, what: &str) -> Vec<String> {
    let opened = save::read(text);
    let again = save::read(&save::write(&opened.bench));
    assert_eq!((again.repaired, &again.bench), (Vec::new(), &opened.bench), "{what}");
    opened.repaired
}

#[test]
fn files_of_every_version_cut_off_at_every_tenth_byte_say_so() {
    for text in of_every_version() {
        for end in (0..text.len()).step_by(10).filter(|&end| text.is_char_boundary(end)) {
            let opened = save::read(&text[..end]);
            assert!(!opened.repaired.is_empty() && opened.bench == Bench::default(), "{end}");
        }
    }
}

/// Puts a value of another kind in some place.
fn odd_somewhere(value: &mut Value, dice: &mut Dice) {
    let step = dice.below(64);
    match value {
        Value::Object(map) if !map.is_empty() => {
            let at = step % map.len();
            let member = map.values_mut().nth(at).expect("a member");
            odd_somewhere(member, dice);
        }
        Value::Array(list) if !list.is_empty() => {
            let at = step % list.len();
            odd_somewhere(&mut list[at], dice);
        }
        _ => {
            let odd =
                [json!(null), json!(-1), json!("x"), json!([]), json!({}), json!(1e9), json!(true)];
            *value = odd[dice.below(odd.len())].clone();
        }
    }
}

#[test]
fn mutated_files_are_repaired_and_whole() {
    let mut dice = Dice(3);
    let bits: [&[u8]; 8] = [b"0", b"-", b"9", b"\"", b"null", b"[]", b"{}", b"1e300"];
    let mut read = 0;
    for text in of_every_version() {
        for turn in 0..300 {
            let mut bytes = text.clone().into_bytes();
            for _ in 0..=dice.below(3) {
                let at = dice.below(bytes.len());
                let bit = bits[dice.below(bits.len())];
                let end = (at + dice.below(6)).min(bytes.len());
                bytes.splice(at..end, bit.iter().copied());
            }
            let text = String::from_utf8_lossy(&bytes);
            let said = whole(&text, &format!("turn {turn}"));
            read += usize::from(said.is_empty() || !said[0].contains("cannot be read"));
        }
        // Values of another kind in the place of any.
        let mut value: Value = serde_json::from_str(&text).expect("JSON");
        for turn in 0..300 {
            odd_somewhere(&mut value["bench"], &mut dice);
            whole(&value.to_string(), &format!("value {turn}"));
        }
    }
    assert!(read > 100, "{read}");
}

/// A file of a newer version is read for what is known, and says so; one with a journal has what stands in it.
#[test]
fn newer_files_and_journals_are_read() {
    let bench = any(&mut Dice(9), 30);
    let mut file = save::to_value(&bench);
    file["offsquare"] = json!(VERSION + 1);
    file["bench"]["holograms"] = json!([1]);
    let opened = save::read(&file.to_string());
    assert!(opened.repaired[0].contains("newer"), "{:?}", opened.repaired);
    assert_eq!(opened.bench, bench);
    let mut after = bench.clone();
    after.lengths.push("7 + 1/2".into());
    let pending = Pending { page: "p".into(), number: 1, patch: diff(&bench, &after) };
    let mut file = save::to_value(&bench);
    file["journal"] = save::journal(&[pending])["journal"].clone();
    let opened = save::read(&file.to_string());
    assert_eq!((opened.repaired, opened.bench), (Vec::new(), after));
}
