//! Files of every version open with nothing lost: what had no piece is loose parts.

use crate::{add, trellis, write};
use offsquare_units::Money;
use offsquare_units::kept::Kept as _;
use offsquare_work::piece::{LOOSE, Shop, WorkEdit};
use offsquare_work::price::PriceRow;
use offsquare_work::save::{self, Bench, VERSION};
use serde_json::{Value, json};

fn two_pieces() -> Bench {
    let shop = Shop::default();
    let mut bench = Bench::default();
    let work = &mut bench.work;
    work.apply(WorkEdit::Example(LOOSE, 0), &shop);
    let piece = add(work, Some(trellis("60")));
    write(work, piece, "batch", "6");
    write(work, piece, "note", "for the south wall");
    work.apply(WorkEdit::AddPart(piece), &shop);
    let stile = work.parts_of(piece).next().expect("a part").id;
    for (key, text) in [("length", "61"), ("right", "22.5"), ("count", "3")] {
        work.apply(WorkEdit::Part { id: stile, key, text: text.into() }, &shop);
    }
    work.apply(WorkEdit::CutFrom { id: Some(stile), stock: Some(1) }, &shop);
    work.apply(WorkEdit::CopyPiece(piece), &shop);
    bench
}

fn file(bench: &Bench) -> Value {
    save::to_value(bench)
}

/// What devices kept before there were pieces: a file as version 2 wrote it, made from today's by taking out what that
/// version did not have.
fn of_version_2(bench: &Bench, batch: u32) -> Value {
    let mut old = file(bench);
    old["offsquare"] = json!(2);
    let work = old["bench"]["work"].as_object_mut().expect("the work");
    work.remove("pieces");
    work.insert("batch".into(), json!(batch));
    for list in ["parts", "sources"] {
        for row in work[list].as_array_mut().expect("a list") {
            row.as_object_mut().expect("a row").remove("piece");
        }
    }
    old
}

#[test]
fn pieces_are_written_and_read_back() {
    let bench = two_pieces();
    let opened = save::read(&save::write(&bench));
    assert_eq!((opened.repaired, opened.bench), (Vec::<String>::new(), bench));
}

#[test]
fn a_list_of_version_2_opens_as_loose_parts() {
    let shop = Shop::default();
    let mut bench = Bench::default();
    bench.work.apply(WorkEdit::Example(LOOSE, 0), &shop);
    let brace = offsquare_cuts::layouts::find("brace").expect("the brace");
    let draft = offsquare_work::piece::Draft::fresh(brace, &brace.forms()[0], shop.unit);
    bench.work.apply(WorkEdit::Follow(LOOSE, draft), &shop);
    write(&mut bench.work, LOOSE, "batch", "12");
    let opened = save::read(&of_version_2(&bench, 12).to_string());
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench, bench);
    // A batch that could not be is brought back and said, as it always was; one of another kind is told.
    for (batch, now) in [(json!(0), 1), (json!(501), 500), (json!("many"), 1)] {
        let mut odd = of_version_2(&bench, 12);
        odd["bench"]["work"]["batch"] = batch.clone();
        let opened = save::read(&odd.to_string());
        assert_eq!((opened.bench.work.pieces[0].batch, opened.repaired.len()), (now, 1), "{batch}");
        assert_eq!(opened.bench.work.parts, bench.work.parts);
    }
    // Nothing but a rack, or nothing at all.
    for work in [json!({}), json!({"rack": {}}), json!({"batch": 1})] {
        let opened = save::read(&json!({"offsquare": 2, "bench": {"work": work}}).to_string());
        assert_eq!(opened.repaired, Vec::<String>::new());
        assert_eq!(opened.bench.work.pieces.len(), 1);
    }
    let first = json!({"offsquare": 1, "bench": {"shop": shop.keep()}});
    assert_eq!(save::read(&first.to_string()).bench.work, Bench::default().work);
    assert_eq!(file(&bench)["offsquare"], json!(VERSION));
}

/// Before version 5 a price of the rack was in hundredths, also where money has no decimals, or three.
#[test]
fn prices_of_an_older_file_are_in_its_money() {
    for (decimals, now) in [("0", 13), ("2", 1_250), ("3", 12_500)] {
        let mut bench = two_pieces();
        let (shop, price) =
            (Shop::default(), |bench: &Bench| bench.work.rack.stocks[0].sold[0].price);
        bench.work.rack.stocks[0].sold[0].price = Money(1_250);
        let (key, text) = ("decimals", decimals.to_owned());
        let row = PriceRow::Rates;
        bench.work.apply(WorkEdit::Price { piece: LOOSE, row, key, text }, &shop);
        assert_eq!(price(&bench), Money(now), "12.50 with {decimals} decimals, half up");
        let mut old = file(&bench);
        assert_eq!(save::read(&old.to_string()).bench, bench);
        old["offsquare"] = json!(4);
        for stock in old["bench"]["work"]["rack"]["stocks"].as_array_mut().expect("the stock") {
            for sold in stock["sold"].as_array_mut().expect("lengths") {
                sold["price"] = json!(0);
            }
        }
        old["bench"]["work"]["rack"]["stocks"][0]["sold"][0]["price"] = json!(1_250);
        let opened = save::read(&old.to_string());
        assert_eq!(opened.repaired, Vec::<String>::new());
        assert_eq!(price(&opened.bench), Money(now), "{decimals}");
    }
}

/// Parts of a piece that is not there, pieces twice or without end, a pattern that is not there: nothing is lost but what
/// could not be, and that is said.
#[test]
fn pieces_that_could_not_be_are_put_right_and_said() {
    let bench = two_pieces();
    let parts = bench.work.parts.len();
    let read = |change: &dyn Fn(&mut Value)| {
        let mut odd = file(&bench);
        change(&mut odd["bench"]["work"]);
        let opened = save::read(&odd.to_string());
        assert!(!opened.repaired.is_empty());
        let work = opened.bench.work;
        assert_eq!((work.pieces[0].id, work.parts.len()), (LOOSE, parts));
        assert!(work.parts.iter().all(|e| work.piece(e.piece).is_some()));
        (work, opened.repaired)
    };
    let (work, said) = read(&|w| w["pieces"] = json!([]));
    assert!(work.parts.iter().all(|e| e.piece == LOOSE), "{said:?}");
    let (work, _) = read(&|w| w["parts"][0]["piece"] = json!(77));
    assert_eq!(work.parts[0].piece, LOOSE);
    let (work, _) = read(&|w| w["pieces"][1]["id"] = json!(0));
    assert_eq!(work.pieces.len(), 2);
    let (work, _) = read(&|w| w["pieces"][1]["pattern"] = json!(999));
    assert_eq!(work.pieces[1].pattern, None);
    let (work, _) = read(&|w| w["pieces"][1]["overrides"][0]["length"] = json!(-4.0));
    assert!(work.pieces[1].overrides.is_empty() && work.pieces[2].overrides.len() == 1);
    let (work, _) = read(&|w| w["pieces"] = json!(7));
    assert_eq!(work.pieces.len(), 1);
    let (work, said) = read(&|w| {
        let many = (0..1_500).map(|id| json!({"id": id})).collect();
        w["pieces"] = Value::Array(many);
    });
    assert_eq!(work.pieces.len(), 1_001, "{said:?}");
}

/// A pattern that is not known here, or has not come yet, is kept with its parts, which stand as they are.
#[test]
fn a_pattern_that_is_not_known_is_kept() {
    let bench = two_pieces();
    let mut odd = file(&bench);
    for source in odd["bench"]["work"]["sources"].as_array_mut().expect("sources") {
        source["draft"]["layout"] = json!("hexagonal_folly");
    }
    let mut opened = save::read(&odd.to_string());
    assert_eq!(opened.repaired, Vec::<String>::new());
    opened.bench.work.follow_all(&Shop::default());
    assert_eq!(opened.bench.work.parts, bench.work.parts);
    assert_eq!(opened.bench.work.pieces, bench.work.pieces);
    assert_eq!(file(&opened.bench), odd);
}
