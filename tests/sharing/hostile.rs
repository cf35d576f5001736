//! Links and files as they may come: cut short, changed, foreign, malicious. Always a sentence or a sound piece, never the
//! old work lost.

use crate::{code, drawn_piece, file, link, read};
use offsquare_tests::dice::Dice;
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::save::{self, Bench};
use serde_json::{Value, json};

/// Reads it, and adds what it holds to a bench that has something: all that was there is there afterwards, and the whole
/// can be kept.
fn tried(text: &str) -> Result<Work, String> {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::Example(0, 0), &shop);
    let before = work.clone();
    let offer = match read(text) {
        Ok(offer) => offer,
        Err(sentence) => {
            let end = sentence.ends_with(['.', '!']);
            assert!(end && sentence.len() < 300, "{sentence}");
            return Err(sentence);
        }
    };
    for said in &offer.said {
        assert!(said.ends_with('.') && said.len() < 400, "{said}");
    }
    let name = &offer.piece.name;
    assert!(name.chars().count() <= 60 && !name.contains(char::is_control), "{name:?}");
    work.apply(WorkEdit::AddOffer(Box::new(offer)), &shop);
    assert_eq!(work.pieces[..before.pieces.len()], before.pieces[..]);
    assert_eq!(work.parts[..before.parts.len()], before.parts[..]);
    assert_eq!(work.rack.stocks[..before.rack.stocks.len()], before.rack.stocks);
    let bench = Bench { work, ..Bench::default() };
    let opened = save::read(&save::write(&bench));
    assert_eq!((opened.repaired, &opened.bench), (Vec::<String>::new(), &bench));
    Ok(bench.work)
}

#[test]
fn a_link_that_is_cut_short_or_changed_is_told() {
    let mut dice = Dice(5);
    for _ in 0..6 {
        let (work, id, shop) = drawn_piece(&mut dice);
        for whole in [link(&work, id, &shop), code(&work, id, &shop)] {
            let from = whole.find('=').expect("letters") + 1;
            let sound = tried(&whole);
            assert!(sound.is_ok());
            for end in 0..whole.len() {
                // The last letter may be spare bits only.
                let cut = tried(&whole[..end]);
                assert!(cut.is_err() || cut == sound, "{}", &whole[..end]);
            }
            for _ in 0..400 {
                let mut letters: Vec<u8> = whole.bytes().collect();
                let at = from + dice.below(letters.len() - from);
                letters[at] = b'0' + dice.below(70) as u8;
                let changed = String::from_utf8(letters).expect("letters");
                let changed = tried(&changed);
                assert!(changed.is_err() || changed == sound, "{whole}");
            }
        }
    }
}

#[test]
fn a_file_that_is_cut_short_or_changed_never_harms() {
    let mut dice = Dice(6);
    let (mut read, mut refused) = (0, 0);
    for _ in 0..10 {
        let (work, id, shop) = drawn_piece(&mut dice);
        let whole = file(&work, id, &shop);
        for _ in 0..60 {
            let mut end = dice.below(whole.len());
            while !whole.is_char_boundary(end) {
                end -= 1;
            }
            assert!(tried(&whole[..end]).is_err());
        }
        for _ in 0..150 {
            let mut bytes: Vec<u8> = whole.bytes().collect();
            for _ in 0..=dice.below(3) {
                let at = dice.below(bytes.len());
                bytes[at] = b" \"{}[]:,0123456789-eE.abcnulltrue"[dice.below(33)];
            }
            match tried(&String::from_utf8_lossy(&bytes)) {
                Ok(_) => read += 1,
                Err(_) => refused += 1,
            }
        }
        // One value in place of another.
        for _ in 0..100 {
            let mut value: Value = serde_json::from_str(&whole).expect("JSON");
            changed(&mut value["piece"], &mut dice);
            let _ = tried(&value.to_string());
        }
    }
    assert!(read > 50 && refused > 50, "{read} {refused}");
}

/// Puts something else in one random place of a value.
fn changed(value: &mut Value, dice: &mut Dice) {
    let odd = || {
        [
            json!(null),
            json!(-1),
            json!(1e300),
            json!(4_294_967_295_u32),
            json!("x".repeat(5_000)),
            json!([]),
            json!({}),
            json!([[1, 2], {"a": []}]),
            json!(true),
            json!(0.000_000_1),
        ]
    };
    let inner = match value {
        Value::Array(all) if !all.is_empty() => {
            let at = dice.below(all.len());
            all.get_mut(at)
        }
        Value::Object(all) if !all.is_empty() => {
            let at = dice.below(all.len());
            all.values_mut().nth(at)
        }
        _ => None,
    };
    match inner {
        Some(inner) if !dice.one_in(4) => changed(inner, dice),
        _ => *value = odd()[dice.below(10)].clone(),
    }
}

#[test]
fn foreign_and_malicious_texts_get_a_sentence() {
    let piece = |inner: &str| format!(r#"{{"offsquare":4,"piece":{{{inner}}}}}"#);
    let of = |text: &str| tried(text).expect_err("a sentence");
    assert_eq!(of("  \n"), "There is nothing in it.");
    assert!(of("https://saw.example/").contains("no link to a piece"));
    assert!(of("#/brace?form=single&opening_width=30").contains("no link to a piece"));
    assert!(of("#/open?p=").contains("not whole"));
    assert!(of("#/open?z=abc").contains("newer"));
    assert!(of(&format!("#/open?p={}", "A".repeat(1_000_000))).contains("not whole"));
    assert!(of("{").contains("cut short"));
    assert!(of("{}").contains("not one of Offsquare"));
    assert!(of(r#"{"offsquare":"4","piece":{}}"#).contains("not one of Offsquare"));
    assert!(of(r#"{"offsquare":4,"bench":{}}"#).contains("Backup"));
    assert!(of(r#"{"offsquare":4,"piece":[1]}"#).contains("no piece in it"));
    assert!(of(&piece("")).contains("no piece in it"));
    assert!(of(&piece(r#""pieces":[{"id":0}]"#)).contains("no piece in it"));
    assert!(of(&piece(&format!("\"parts\":{}", "[".repeat(5_000)))).contains("64 deep"));
    assert!(of(&format!("{{\"{}", " x".repeat(2_500_000))).contains("4 MB is the most"));
    // The other way round, a piece is no backup.
    let backup = save::read(r#"{"offsquare":4,"piece":{}}"#);
    assert!(backup.repaired[0].contains("Open a link or file"), "{:?}", backup.repaired);
    // What can be read is, and the rest is said.
    let newer =
        json!({"offsquare": 99, "piece": {"pieces": [{"id": 5, "name": "Gate", "wings": 2}]}});
    let offer = read(&newer.to_string()).expect("a piece");
    assert!(offer.said[0].contains("newer Offsquare"), "{:?}", offer.said);
    let named = |name: &str| {
        let whole = json!({"offsquare": 4, "piece": {"pieces": [{"id": 1, "name": name}]}});
        read(&whole.to_string()).expect("a piece").piece.name.clone()
    };
    assert_eq!(named("<script>alert(1)</script>"), "<script>alert(1)</script>");
    assert_eq!(named("a\u{0}b\u{202e}c\nd"), "a b c d");
    assert_eq!(named(&"\u{1f6aa}".repeat(500)).chars().count(), 60);
    // Its own batch, without end; two pieces; parts of a piece that is not there.
    let odd = json!({"offsquare": 4, "piece": {
        "pieces": [{"id": 3, "name": "A", "batch": 1_000_000_000}, {"id": 3}, {"id": 8, "name": "B"}],
        "parts": [{"id": 1, "piece": 3, "length": 10}, {"id": 2, "piece": 8}, {"id": 3, "piece": 77}],
        "sources": [{"id": 0, "piece": 3, "draft": {"layout": "folly", "form": "x", "typed": []}}],
        "rack": {"stocks": [{"id": 1, "name": "x", "thickness": 1e9, "width": 1}]},
        "kept": [{"stock": 1, "length": 96}], "plain": true}});
    let offer = read(&odd.to_string()).expect("a piece");
    assert_eq!((offer.parts.len(), offer.piece.batch), (1, 500));
    assert!(offer.said.iter().any(|s| s.contains("first of its 2")), "{:?}", offer.said);
    assert!(tried(&odd.to_string()).expect("a piece").kept.is_empty());
    // A piece without a rack is not given this shop's.
    let bare = json!({"offsquare": 4, "piece": {"pieces": [{"id": 1}], "parts": [{"id": 1, "piece": 1, "stock": 2}]}});
    let offer = read(&bare.to_string()).expect("a piece");
    assert!(offer.new_stock(&Work::default().rack).is_empty());
    assert_eq!(
        tried(&bare.to_string()).expect("a piece").parts.last().expect("a part").stock,
        None
    );
}

/// A layout that this version does not know: from a file its parts come as they were, by a link there are none, and that
/// is said.
#[test]
fn a_layout_that_is_not_known_is_said() {
    let mut dice = Dice(9);
    let (work, id, shop) = drawn_piece(&mut dice);
    let mut value: Value = serde_json::from_str(&file(&work, id, &shop)).expect("JSON");
    for source in value["piece"]["sources"].as_array_mut().expect("sources") {
        source["draft"]["layout"] = json!("hexagonal_folly");
    }
    let offer = read(&value.to_string()).expect("a piece");
    assert_eq!(offer.parts.len(), work.parts_of(id).count());
    value["piece"]["parts"] = json!([]);
    let offer = read(&value.to_string()).expect("a piece");
    assert!(offer.parts.is_empty());
    assert!(offer.said.iter().any(|s| s.contains("no answer here")), "{:?}", offer.said);
}
