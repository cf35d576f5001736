//! What the maker changes of a pattern's parts stands over the pattern, whatever its sizes do.

use crate::{add, one_stock, pattern, trellis};
use offsquare_units::{Length, Unit};
use offsquare_work::cutlist::{Entry, PartEnd};
use offsquare_work::piece::{LOOSE, Shop, Work, WorkEdit, answer};
use offsquare_work::rack::Stock;

fn named<'a>(work: &'a Work, piece: u32, name: &str) -> &'a Entry {
    work.parts_of(piece).find(|e| e.name == name).expect("a part of that name")
}

fn set(work: &mut Work, id: u32, key: &'static str, text: &str) {
    work.apply(WorkEdit::Part { id, key, text: text.to_owned() }, &Shop::default());
}

/// Another height typed on the piece's screen.
fn resize(work: &mut Work, piece: u32, key: &str, text: &str) {
    let mut draft = work.pattern(piece).expect("a pattern").draft.clone();
    draft.set(key, text, Unit::Inch);
    work.changed(&draft, &Shop::default());
}

/// Slats are as tall as the frame (the pattern's own rule), stiles too: with the height 60 and then 48, what is not
/// overridden is 60 and then 48; what is stays as typed.
#[test]
fn an_override_survives_a_change_of_sizes() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    work.rack.stocks.push(Stock { id: 2, name: "other".into(), ..work.rack.stocks[0].clone() });
    let piece = add(&mut work, Some(trellis("60")));
    let [stile, rail, slat] = ["Stile", "Rail", "Slat"].map(|n| named(&work, piece, n).id);
    assert_eq!(
        (named(&work, piece, "Stile").length, named(&work, piece, "Slat").length),
        (Length(60.0), Length(60.0))
    );
    let slats = named(&work, piece, "Slat").count;
    set(&mut work, stile, "length", "62 1/2");
    set(&mut work, stile, "left", "30");
    set(&mut work, rail, "count", "3");
    work.apply(WorkEdit::CutFrom { id: Some(rail), stock: Some(2) }, &shop);
    work.apply(WorkEdit::RemovePart(slat), &shop);
    for height in ["60", "48", "nonsense", "48"] {
        resize(&mut work, piece, "height", height);
        let stile = named(&work, piece, "Stile");
        assert_eq!((stile.length, stile.left), (Length(62.5), PartEnd::mitered(30.0)), "{height}");
        assert_eq!(stile.stale, height == "nonsense");
        assert_eq!(
            (named(&work, piece, "Rail").count, named(&work, piece, "Rail").stock),
            (3, Some(2))
        );
        assert_eq!(named(&work, piece, "Slat").count, 0);
    }
    assert_eq!(named(&work, piece, "Slat").length, Length(48.0));
    // Left out is not planned; what it is stays to be seen on the part.
    let planned: Vec<u32> =
        work.jobs(&shop).jobs.iter().flat_map(|j| j.parts.iter().map(|p| p.entry)).collect();
    assert!(planned.contains(&stile) && !planned.contains(&slat), "{planned:?}");
    let keys = |work: &Work, id: u32| work.overridden(id).map(|(at, o)| (at, o.keys()));
    assert_eq!(keys(&work, stile), Some((0, vec!["length", "left"])));
    assert_eq!(keys(&work, rail), Some((1, vec!["stock", "count"])));
    assert_eq!(keys(&work, slat), Some((2, vec!["count"])));
    // A frame has places for two rails.
    let strays = work.strays(piece, &shop);
    assert_eq!(strays.iter().map(|s| s.0).collect::<Vec<_>>(), [1], "{strays:?}");
    // Taken back one by one, the pattern's own comes again.
    let back = |work: &mut Work, at, key| {
        work.apply(WorkEdit::AsMade { piece, at, key }, &shop);
    };
    back(&mut work, 0, Some("length"));
    let stile = named(&work, piece, "Stile").clone();
    assert_eq!((stile.length, stile.left), (Length(48.0), PartEnd::mitered(30.0)));
    back(&mut work, 2, None);
    assert_eq!(named(&work, piece, "Slat").count, slats);
    back(&mut work, 1, None);
    back(&mut work, 0, Some("left"));
    assert!(work.piece(piece).is_some_and(|p| p.overrides.is_empty()));
    let mut fresh = Work { rack: work.rack.clone(), ..Work::default() };
    add(&mut fresh, Some(trellis("48")));
    assert_eq!(work.parts, fresh.parts);
}

/// A box without its lid has no part of that name: the override is told, kept, and holds again once it is there.
#[test]
fn an_override_of_a_part_that_is_gone_is_said() {
    let shop = Shop::default();
    let mut work = Work::default();
    let piece = add(&mut work, Some(pattern("plain_box", &[("lid", "yes")])));
    let lid = named(&work, piece, "Lid").id;
    set(&mut work, lid, "length", "20");
    assert!(work.strays(piece, &shop).is_empty());
    resize(&mut work, piece, "lid", "no");
    assert!(work.parts_of(piece).all(|e| e.name != "Lid"));
    let strays = work.strays(piece, &shop);
    assert_eq!((strays.len(), strays[0].0), (1, 0));
    assert!(strays[0].1.contains("\u{201c}Lid\u{201d}"), "{}", strays[0].1);
    resize(&mut work, piece, "lid", "yes");
    assert!(work.strays(piece, &shop).is_empty());
    assert_eq!(named(&work, piece, "Lid").length, Length(20.0));
    // A stock that is gone from the rack is said as well.
    let lid = named(&work, piece, "Lid").id;
    work.apply(WorkEdit::CutFrom { id: Some(lid), stock: Some(6) }, &shop);
    work.rack.stocks.retain(|s| s.id != 6);
    assert!(work.strays(piece, &shop)[0].1.contains("rack"));
    // What is let go takes its override along, and is not made again.
    work.apply(WorkEdit::LetGo(lid), &shop);
    assert!(
        work.strays(piece, &shop).is_empty() && work.part(lid).is_some_and(|e| e.from.is_none())
    );
    resize(&mut work, piece, "width", "15");
    assert_eq!(work.parts_of(piece).filter(|e| e.name == "Lid").count(), 1);
}

/// A stock is found by the part's section as long as none is picked: a wider stile is cut from what is as wide.
#[test]
fn a_part_of_a_pattern_takes_the_stock_of_its_section() {
    let mut work = Work::default();
    let piece = add(&mut work, Some(trellis("60")));
    let stock = |work: &Work| {
        let stock = named(work, piece, "Stile").stock;
        work.rack.stock_of(stock).map(|s| s.name.clone())
    };
    assert_eq!(stock(&work).as_deref(), Some("1\u{d7}2 pine"));
    resize(&mut work, piece, "stile_seen", "2 1/2");
    assert_eq!(stock(&work).as_deref(), Some("1\u{d7}3 pine"));
}

/// The same edits of a layout's parts, and of loose ones, are no overrides; a layout put into a piece by hand is none.
#[test]
fn only_a_patterns_parts_are_overridden() {
    let shop = Shop::default();
    let mut work = Work::default();
    let piece = add(&mut work, Some(trellis("60")));
    work.apply(WorkEdit::Follow(piece, trellis("40")), &shop);
    work.apply(WorkEdit::AddPart(piece), &shop);
    let own = work.pattern(piece).map(|s| s.id);
    let others: Vec<u32> = work
        .parts_of(piece)
        .filter(|e| e.from.as_ref().map(|f| f.source) != own)
        .map(|e| e.id)
        .collect();
    assert_eq!(others.len(), 4);
    for id in others.clone() {
        set(&mut work, id, "length", "33");
        set(&mut work, id, "count", "7");
    }
    assert!(work.piece(piece).is_some_and(|p| p.overrides.is_empty()));
    // Removed, they are gone; the pattern's stay through a clearing of the list.
    work.apply(WorkEdit::RemovePart(others[0]), &shop);
    assert!(work.part(others[0]).is_none());
    work.apply(WorkEdit::ClearParts(piece), &shop);
    let left: Vec<_> = work.parts.iter().map(|e| e.from.as_ref().map(|f| f.source)).collect();
    assert_eq!(left, [own, own, own]);
    work.apply(WorkEdit::ClearParts(LOOSE), &shop);
    assert_eq!(work.parts.len(), 3);
}

/// Every pattern as it starts: its piece holds the parts that it answers, in their numbers, all in that piece.
#[test]
fn every_pattern_is_a_piece() {
    let shop = Shop::default();
    let mut work = Work::default();
    for one in offsquare_work::patterns::all() {
        let draft = pattern(one.id, &[]);
        let solved = answer(&draft, &shop).solved;
        let wanted: Vec<(String, u32, Length)> = solved[0]
            .solution
            .parts
            .iter()
            .map(|p| (p.name.to_string(), p.count, p.length))
            .collect();
        let id = add(&mut work, Some(draft));
        let got: Vec<(String, u32, Length)> =
            work.parts_of(id).map(|e| (e.name.clone(), e.count, e.length)).collect();
        assert_eq!(got, wanted, "{}", one.id);
        assert_eq!(work.piece(id).map(|p| p.name.as_str()), Some(one.question));
    }
}

/// Rails lie between the stiles: one that is longer by 1/4 in runs into one of them, on the drawing too; with a frame that
/// is as much wider it fits again.
#[test]
fn an_override_that_no_longer_fits_is_said_until_it_does() {
    let shop = Shop::default();
    let mut work = Work::default();
    let piece = add(&mut work, Some(trellis("60")));
    let rail = named(&work, piece, "Rail").clone();
    let longer = (rail.length.0 + 0.25).to_string();
    set(&mut work, rail.id, "length", &longer);
    let strays = work.strays(piece, &shop);
    assert_eq!((strays.len(), strays[0].0), (1, 0));
    assert!(strays[0].1.contains("runs into the stile"), "{}", strays[0].1);
    let source = work.pattern(piece).expect("a pattern");
    let solved = answer(&source.draft, &shop).solved.swap_remove(0);
    let overrides = &work.piece(piece).expect("the piece").overrides;
    let (parts, _) = offsquare_work::piece::with_changes(&solved.solution, overrides);
    let at = parts.iter().position(|p| p.name == "rail").expect("a rail");
    let long = offsquare_cuts::assembly::extent(&parts[at].bodies).expect("it stands");
    assert!((long.1.x - long.0.x - rail.length.0 - 0.25).abs() < 1e-9);
    resize(&mut work, piece, "width", "24 1/4");
    assert!(work.strays(piece, &shop).is_empty());
    // A tilt is typed without a side: a stool's leg keeps leaning as it did.
    let stool = add(&mut work, Some(pattern("splayed_stool", &[])));
    let leg = named(&work, stool, "Leg").clone();
    set(&mut work, leg.id, "left", &leg.left.miter.abs().to_string());
    assert!(work.strays(stool, &shop).is_empty(), "{:?}", work.strays(stool, &shop));
}
