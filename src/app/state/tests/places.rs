//! Pieces as places: when a pattern becomes one, and what an address, undo and other pieces do to it.

use super::super::{Edit, Face, Route, Store};
use offsquare_units::Unit;
use offsquare_work::piece::{LOOSE, WorkEdit};
use offsquare_work::save::Bench;

const STOOL: &str = "splayed_stool";

fn at(route: Route) -> Store {
    Store::new(Bench::default(), route)
}

fn size(store: &mut Store, key: &str, text: &str) {
    let (key, text) = (key.to_owned(), text.to_owned());
    store.apply(Edit::Type { layout: STOOL, key, text, unit: Unit::Inch });
}

fn height(store: &Store, piece: u32) -> String {
    let source = store.bench.work.pattern(piece).expect("a pattern");
    source.draft.text("overall_height").map(|t| t.text.clone()).unwrap_or_default()
}

#[test]
fn addresses_of_pieces_lead_where_they_say() {
    let piece = |id, face| (Route::Piece(id, face), Route::Piece(id, face).fragment());
    for (route, fragment) in
        [piece(3, Face::Piece), piece(3, Face::Parts), piece(LOOSE, Face::Boards)]
    {
        assert_eq!(Route::of_fragment(&fragment), route, "{fragment}");
    }
    assert_eq!(Route::of_fragment("#/parts"), Route::Piece(LOOSE, Face::Parts));
    assert_eq!(Route::of_fragment("#/boards"), Route::Piece(LOOSE, Face::Boards));
    for nowhere in ["#/piece", "#/piece/x", "#/piece/1/attic", "#/piece/-1"] {
        assert_eq!(Route::of_fragment(nowhere), Route::Bench, "{nowhere}");
    }
    // A piece of another device.
    assert_eq!(at(Route::Piece(7, Face::Parts)).route, Route::Bench);
}

#[test]
fn a_pattern_that_is_looked_at_is_none_of_mine_until_it_is_changed() {
    let mut s = at(Route::Bench);
    s.apply(Edit::Visit(format!("#/{STOOL}")));
    s.apply(Edit::Visit("#/".to_owned()));
    assert_eq!(s.bench.work.pieces.len(), 1);
    s.apply(Edit::Visit(format!("#/{STOOL}")));
    size(&mut s, "overall_height", "2");
    size(&mut s, "overall_height", "20");
    assert_eq!(s.route, Route::Piece(1, Face::Piece));
    assert_eq!((s.bench.work.pieces.len(), height(&s, 1).as_str()), (2, "20"));
    // The step under the keypad still says the pattern: it stays the piece.
    let visits = s.visits;
    s.apply(Edit::Visit(format!("#/{STOOL}")));
    assert_eq!((s.route, s.visits), (Route::Piece(1, Face::Piece), visits + 1));
    assert_eq!(s.title(), "Stool with splayed legs \u{b7} Offsquare");
    // One step of undo, back to the pattern on the same screen.
    s.apply(Edit::Undo);
    assert_eq!((s.route, s.bench.work.pieces.len()), (Route::Layout(STOOL), 1));
    assert!(!s.can_undo());
    s.apply(Edit::Redo);
    assert_eq!(s.bench.work.pieces.len(), 2);
}

#[test]
fn a_face_of_the_bar_makes_a_piece_and_the_next_one_starts_fresh() {
    let mut s = at(Route::Layout(STOOL));
    s.apply(Edit::Keep { pattern: Some(STOOL), face: Face::Boards });
    assert_eq!(s.route, Route::Piece(1, Face::Boards));
    s.apply(Edit::Go(Route::Piece(1, Face::Piece)));
    size(&mut s, "overall_height", "21");
    s.apply(Edit::Go(Route::Bench));
    s.apply(Edit::Go(Route::Layout(STOOL)));
    size(&mut s, "overall_height", "30");
    assert_eq!(s.route, Route::Piece(2, Face::Piece));
    assert_eq!([height(&s, 1), height(&s, 2)], ["21", "30"]);
    // What is typed is the piece's that is on screen.
    s.apply(Edit::Go(Route::Piece(1, Face::Piece)));
    size(&mut s, "overall_height", "22");
    assert_eq!([height(&s, 1), height(&s, 2)], ["22", "30"]);
    s.apply(Edit::Fresh(STOOL));
    assert_eq!([height(&s, 1), height(&s, 2)], ["18", "30"]);
    // Neither is among the recent answers.
    s.apply(Edit::Remember { layout: STOOL, at_ms: 1.0, pinned: false, left: true });
    assert!(s.bench.recent.is_empty());
    s.apply(Edit::Work(WorkEdit::RemovePiece(1)));
    assert_eq!(s.route, Route::Layout(STOOL));
}

#[test]
fn a_layout_of_a_piece_is_taken_up_on_its_own_screen_and_a_pattern_on_its_piece() {
    let mut s = at(Route::Layout("brace"));
    s.apply(Edit::Keep { pattern: None, face: Face::Parts });
    assert_eq!(s.route, Route::Piece(1, Face::Parts));
    let brace = s.draft("brace").expect("a draft");
    s.apply(Edit::Work(WorkEdit::Follow(1, brace)));
    assert!(s.bench.work.parts_of(1).next().is_some());
    let source = s.bench.work.sources[0].id;
    s.apply(Edit::TakeUp(source));
    assert_eq!(s.route, Route::Layout("brace"));
    s.apply(Edit::Go(Route::Layout(STOOL)));
    s.apply(Edit::Keep { pattern: Some(STOOL), face: Face::Parts });
    let pattern = s.bench.work.pattern(2).map(|s| s.id).expect("a pattern");
    s.apply(Edit::TakeUp(pattern));
    assert_eq!(s.route, Route::Piece(2, Face::Piece));
}
