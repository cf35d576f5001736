//! What to mind at an order of cuts.

use offsquare_cuts::facts::{Caution, GENERAL, caution};
use offsquare_cuts::layouts;
use offsquare_units::{Length, Unit};
use offsquare_work::cutlist::{Entry, JobPart, PartEnd};
use offsquare_work::piece::{Draft, LOOSE, Shop, Work, WorkEdit};

fn told(work: &Work, ripped: bool) -> String {
    let part = |e: &Entry| JobPart { entry: e.id, ..JobPart::default() };
    let parts: Vec<JobPart> = work.parts.iter().map(part).collect();
    let shop = Shop::default();
    let all = work.to_mind(&parts, ripped, &shop);
    all.iter().map(|t| t.render(&shop.style())).collect::<Vec<_>>().join("\n")
}

fn says(text: &str, c: Caution) -> bool {
    text.contains(&caution(c).render(&Shop::default().style()))
}

/// A typed part by its ends: 2 1/2 in wide, mitered 45° both ways, its shorter edge is 5 in shorter.
#[test]
fn a_typed_part_by_its_length_and_ends() {
    let end = |miter| PartEnd { miter, ..PartEnd::default() };
    let with = |length: f64, left: f64, right: f64| {
        let entry = Entry {
            id: 7,
            length: Length(length),
            seen: Some(Length(2.5)),
            left: end(left),
            right: end(right),
            ..Entry::default()
        };
        told(&Work { parts: vec![entry].into(), ..Work::default() }, false)
    };
    let plain = with(13.5, 45.0, 45.0);
    assert!(GENERAL.iter().all(|g| plain.contains(g)), "{plain}");
    assert!(!says(&plain, Caution::ShortPiece), "8 1/2 in of edge: {plain}");
    assert!(says(&with(12.5, 45.0, 45.0), Caution::ShortPiece), "7 1/2 in of edge");
    // Parallel ends: each edge loses one of them only.
    assert!(!says(&with(12.5, 45.0, -45.0), Caution::ShortPiece), "10 in of edge");
    assert!(says(&with(40.0, 58.0, 0.0), Caution::SteepCut));
    assert!(!says(&with(40.0, 49.0, 0.0), Caution::SteepCut));
}

/// A part that follows a layout has that layout's cautions, once; ripped ones their saw's manual.
#[test]
fn a_followed_part_by_its_layout() {
    let layout = layouts::find("end_board").expect("a layout");
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let mut work = Work::default();
    work.apply(WorkEdit::Follow(LOOSE, draft), &Shop::default());
    assert!(!work.parts.is_empty());
    let text = told(&work, false);
    assert!(says(&text, Caution::EndBoard), "{text}");
    assert!(!says(&text, Caution::RippedEdge), "{text}");
    let lines: Vec<&str> = text.lines().collect();
    let mut once = lines.clone();
    once.dedup();
    assert_eq!(lines, once);
    assert!(says(&told(&work, true), Caution::RippedEdge));
}
