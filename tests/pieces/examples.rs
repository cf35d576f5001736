//! The examples: each is solved, opens as a piece of its own, and is cut from the usual rack but for what is told.

use crate::worked;
use offsquare_cuts::problem::Problem;
use offsquare_units::Length;
use offsquare_work::piece::{LOOSE, Shop, Work, WorkEdit, answer, examples};

#[test]
fn every_example_is_a_piece_that_is_solved() {
    let shop = Shop::default();
    let mut work = Work::default();
    // Parts by hand: a post and three legs; two rails, two stiles, two braces; two ends, two sides, a floor, a
    // handle; four sides and a floor; two legs and a knee; two stiles, two rails, seven slats; four of the frame, a
    // back, a front; two sections; a top, four legs, four stretchers.
    let parts = [4, 6, 6, 5, 3, 11, 6, 2, 9];
    assert_eq!(examples().len(), parts.len());
    for (i, example) in examples().iter().enumerate() {
        let answered = answer(&example.draft().expect("a pattern"), &shop);
        assert_eq!(answered.problems, Vec::<Problem>::new(), "{}", example.name);
        assert_eq!(answered.solved.len(), 1, "{}", example.name);
        let id = work.next_piece();
        work.apply(WorkEdit::OpenExample(i), &shop);
        let piece = work.piece(id).expect("a piece");
        assert_eq!(
            (piece.name.as_str(), piece.note.as_str(), piece.batch, piece.planned),
            (example.name, example.note, example.batch, true)
        );
        let count: u32 = work.parts_of(id).map(|e| e.count).sum();
        assert_eq!(count, parts[i], "{}", example.name);
        assert!(work.pattern(id).is_some_and(|s| s.draft.layout == example.pattern));
    }
    assert!(work.parts_of(LOOSE).next().is_none());
}

/// Every part has a board in the rack, but what no yard sells so: the six-sided post, the dowel, the square legs. Those are
/// told, and the rest is planned.
#[test]
fn examples_are_cut_from_the_usual_rack_but_for_what_is_told() {
    let shop = Shop::default();
    for (i, example) in examples().iter().enumerate() {
        let mut work = Work::default();
        work.apply(WorkEdit::OpenExample(i), &shop);
        let jobs = work.jobs(&shop);
        let missing: Vec<&str> = jobs
            .troubles
            .iter()
            .filter_map(|t| work.part(t.entry?))
            .map(|e| e.name.as_str())
            .collect();
        let expected: &[&str] = match example.name {
            "Sundial stand" => &["Post"],
            "Garden trug" => &["Handle"],
            "Step stool" => &["Leg"],
            _ => &[],
        };
        assert_eq!(missing, expected, "{}: {:?}", example.name, jobs.troubles);
        let planned = worked(&jobs);
        assert!(planned.money(&jobs, false).is_some(), "{}", example.name);
    }
}

/// Opened twice it is two pieces, each by itself; another of the list is nothing.
#[test]
fn an_example_opens_as_a_copy() {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::OpenExample(1), &shop);
    work.apply(WorkEdit::OpenExample(1), &shop);
    let names: Vec<String> = work.pieces.iter().skip(1).map(|p| p.called()).collect();
    assert_eq!(names, ["Garden gate", "Garden gate 2"]);
    let [first, second] = [1, 2].map(|at| work.pieces[at].id);
    let stile = work.parts_of(first).find(|e| e.name == "Stile").expect("a stile").id;
    work.apply(WorkEdit::Part { id: stile, key: "length", text: "50".into() }, &shop);
    let other = work.parts_of(second).find(|e| e.name == "Stile").expect("a stile");
    assert_eq!(other.length, Length(44.5));
    let before = work.clone();
    work.apply(WorkEdit::OpenExample(99), &shop);
    assert_eq!(work, before);
}
