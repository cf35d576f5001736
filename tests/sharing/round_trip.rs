//! What goes in comes out: by link, square code and file, on a bench of the same and of another rack.

use crate::{code, drawn_piece, file, link, other_rack, read};
use offsquare_tests::dice::Dice;
use offsquare_work::cutlist::Entry;
use offsquare_work::piece::{Piece, Shop, Work, WorkEdit};
use offsquare_work::save::{self, Bench};

/// All that a maker can see of a piece: every id left out, and stock by its name.
fn seen(work: &Work, id: u32) -> (Piece, Vec<Entry>, Vec<String>, Vec<String>) {
    let stock = |id: Option<u32>| work.rack.stock_of(id).map(|s| s.name.clone());
    let mut piece = work.piece(id).expect("the piece").clone();
    let mut stocks = Vec::new();
    for over in &mut piece.overrides {
        stocks.extend(stock(over.stock.take()));
    }
    // A name that is taken gets a number.
    piece.name.clear();
    (piece.id, piece.pattern) = (0, piece.pattern.map(|_| 0));
    let mut parts = Vec::new();
    for part in work.parts_of(id) {
        let mut part = part.clone();
        stocks.push(stock(part.stock).unwrap_or_default());
        (part.id, part.piece, part.stock) = (0, 0, None);
        if let Some(from) = part.from.as_mut() {
            let source = work.sources.iter().find(|s| s.id == from.source);
            stocks.push(source.expect("a source").draft.layout.clone());
            from.source = 0;
        }
        parts.push(part);
    }
    let drafts = work.sources.iter().filter(|s| s.piece == id);
    let drafts = drafts.map(|s| format!("{:?} {:?}", s.draft.typed, s.off)).collect();
    // What the maker changed by hand may stand in another order.
    parts.sort_by_key(|p| format!("{p:?}"));
    stocks.sort();
    (piece, parts, stocks, drafts)
}

fn makes_parts(work: &Work, source: u32) -> bool {
    work.parts.iter().any(|e| e.from.as_ref().is_some_and(|f| f.source == source))
}

#[test]
fn random_pieces_come_out_as_they_went_in() {
    let mut dice = Dice(71);
    let mut longest = 0;
    for n in 0..80 {
        let (work, id, shop) = drawn_piece(&mut dice);
        let before = seen(&work, id);
        longest = longest.max(link(&work, id, &shop).len());
        let site = format!("https://saw.example/shop/{}", link(&work, id, &shop));
        for (how, text) in [
            ("link", link(&work, id, &shop)),
            ("with its site", site.clone()),
            ("in a message", format!("Look at this:\n<{site}>.\nRegards")),
            ("at the end of a sentence", format!("It is {site}.")),
            ("code", code(&work, id, &shop)),
            ("file", file(&work, id, &shop)),
        ] {
            let offer = read(&text).unwrap_or_else(|e| panic!("{n} {how}: {e}\n{text}"));
            // A pattern whose sizes do not go together makes no parts, here as there.
            let bare = work.pattern(id).is_some_and(|s| !makes_parts(&work, s.id));
            assert_eq!(offer.said.len(), usize::from(bare), "{n} {how}: {:?}", offer.said);
            let mut other = Work::default();
            other_rack(&mut other);
            let kinds = other.rack.stocks.len();
            assert_eq!(offer.new_stock(&other.rack), Vec::<&_>::new());
            let rack = other.rack.clone();
            let new = other.next_piece();
            other.apply(WorkEdit::AddOffer(Box::new(offer)), &shop);
            assert_eq!(seen(&other, new), before, "{n} {how}");
            assert_eq!((other.rack.stocks.len(), &other.rack), (kinds, &rack), "{n} {how}");
            // What was added can be kept and read again.
            let bench = Bench { work: other, ..Bench::default() };
            let opened = save::read(&save::write(&bench));
            assert_eq!((opened.repaired, opened.bench), (Vec::<String>::new(), bench));
        }
    }
    assert!(longest < 1_500, "{longest}");
}

/// Stock that the other rack does not have comes along: from a file with its prices, by a link without; boards on hand
/// are told to no one.
#[test]
fn stock_comes_along_and_prices_by_file_only() {
    let shop = Shop::default();
    let mut work = Work::default();
    other_rack(&mut work);
    work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
    work.apply(WorkEdit::AddPart(1), &shop);
    work.apply(WorkEdit::AddPart(1), &shop);
    let parts: Vec<u32> = work.parts_of(1).map(|e| e.id).collect();
    work.apply(WorkEdit::CutFrom { id: Some(parts[0]), stock: Some(7) }, &shop);
    work.apply(WorkEdit::CutFrom { id: Some(parts[1]), stock: Some(45) }, &shop);
    for (text, price) in [(link(&work, 1, &shop), 0), (file(&work, 1, &shop), 485)] {
        let offer = read(&text).expect("a piece");
        let mut bare = Work::default();
        bare.rack.stocks.clear();
        let new: Vec<&str> = offer.new_stock(&bare.rack).iter().map(|s| s.name.as_str()).collect();
        assert_eq!(new, ["5/4 oak", "2\u{d7}4 spruce"]);
        bare.apply(WorkEdit::AddOffer(Box::new(offer)), &shop);
        let [oak, spruce] = &bare.rack.stocks[..] else { panic!("two kinds of stock") };
        assert!(oak.owned.is_empty() && spruce.owned.is_empty());
        let sold: Vec<(f64, i64)> = spruce.sold.iter().map(|s| (s.length.0, s.price.0)).collect();
        assert_eq!((sold.len(), sold[0]), (3, (96.0, price)));
        let picked: Vec<Option<u32>> = bare.parts_of(1).map(|e| e.stock).collect();
        assert_eq!(picked, [Some(oak.id), Some(spruce.id)]);
    }
    assert!(!link(&work, 1, &shop).contains("485"));
}

/// *Loose parts* go as a piece; the same piece twice is told apart; what is cut already is to be cut here.
#[test]
fn names_are_told_apart_and_nothing_is_cut_yet() {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::Example(0, 1), &shop);
    let first = work.parts[0].id;
    work.apply(WorkEdit::Done { id: first, done: true }, &shop);
    let text = link(&work, 0, &shop);
    for name in ["Loose parts 2", "Loose parts 3"] {
        let offer = read(&text).expect("a piece");
        assert_eq!(offer.parts.len(), 3);
        work.apply(WorkEdit::AddOffer(Box::new(offer)), &shop);
        let added = work.pieces.last().expect("a piece");
        assert_eq!((added.called().as_str(), added.planned), (name, true));
        assert!(work.parts_of(added.id).all(|e| !e.done));
    }
    assert_eq!(work.parts.len(), 9);
}

/// The longest list that there is goes by file.
#[test]
fn a_full_list_goes_by_file() {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::AddPart(0), &shop);
    let mut one = work.parts[0].clone();
    one.left = offsquare_work::cutlist::PartEnd::mitered(33.123_456_789);
    one.right = one.left;
    work.parts = (1..=2_000)
        .map(|id| Entry {
            id,
            name: format!("Part {id}"),
            length: offsquare_units::Length(10.0 + f64::from(id) * 0.377_123_1),
            ..one.clone()
        })
        .collect::<Vec<_>>()
        .into();
    assert!(offsquare_work::save::share::pack(&work, 0, &shop).expect("a piece").link().is_none());
    let offer = read(&file(&work, 0, &shop)).expect("a piece");
    assert_eq!((offer.parts.len(), offer.said), (2_000, Vec::<String>::new()));
}

/// A full bench takes nothing, and says why before anything is asked.
#[test]
fn a_full_bench_says_so() {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::Example(0, 1), &shop);
    let offer = read(&link(&work, 0, &shop)).expect("a piece");
    while work.no_room_for_piece().is_none() {
        work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
    }
    assert!(work.no_room_for_offer(&offer).is_some_and(|why| why.contains("1,000 pieces")));
    let before = work.clone();
    work.apply(WorkEdit::AddOffer(Box::new(offer)), &shop);
    assert_eq!(work, before);
    assert!(offsquare_work::save::share::pack(&work, 9_999, &shop).is_none());
}
