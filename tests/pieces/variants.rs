//! A piece copied as a variant stands by itself, and both are told side by side.

use crate::{add, one_stock, trellis, worked, write};
use offsquare_units::{Currency, Length, Money, Unit};
use offsquare_work::cutlist::{Jobs, Planned};
use offsquare_work::piece::{About, Beside, LOOSE, Shop, Work, WorkEdit};
use offsquare_work::price::{List, PriceRow};

fn copy(work: &mut Work, id: u32) -> u32 {
    let new = work.next_piece();
    work.apply(WorkEdit::CopyPiece(id), &Shop::default());
    new
}

/// Parts, sources, overrides and pattern are the copy's own: a change of one leaves the other.
#[test]
fn a_variant_goes_its_own_way() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    let first = add(&mut work, Some(trellis("60")));
    work.apply(WorkEdit::AddPart(first), &shop);
    let stile = work.parts_of(first).next().expect("a part").id;
    work.apply(WorkEdit::Part { id: stile, key: "count", text: "4".into() }, &shop);
    let second = copy(&mut work, first);
    let parts = |work: &Work, id: u32| -> Vec<(String, u32, Length)> {
        work.parts_of(id).map(|e| (e.name.clone(), e.count, e.length)).collect()
    };
    assert_eq!(parts(&work, first), parts(&work, second));
    let [a, b] = [first, second].map(|id| work.piece(id).expect("a piece").clone());
    assert_eq!(a.overrides, b.overrides);
    assert_eq!((b.name, b.planned), (format!("{} 2", a.name), false));
    assert_ne!(a.pattern, b.pattern);
    let ids: std::collections::BTreeSet<u32> = work.parts.iter().map(|e| e.id).collect();
    assert_eq!(ids.len(), work.parts.len());
    // The first is still what is on screen.
    let live: Vec<u32> = work.sources.iter().filter(|s| s.live).map(|s| s.piece).collect();
    assert_eq!(live, [first]);
    // The variant is what is on screen now, and its sizes change.
    let before = parts(&work, first);
    let draft = work.take_up(b.pattern.expect("a pattern"));
    let mut draft = draft.expect("its draft");
    draft.set("height", "50", Unit::Inch);
    work.changed(&draft, &shop);
    assert_eq!(parts(&work, first), before);
    assert_ne!(parts(&work, second), before);
    assert_eq!(parts(&work, second)[0].1, 4);
    work.apply(WorkEdit::RemovePiece(first), &shop);
    assert!(parts(&work, first).is_empty() && work.pattern(second).is_some());
    // Loose parts can be copied too.
    work.apply(WorkEdit::Example(LOOSE, 1), &shop);
    let third = copy(&mut work, LOOSE);
    assert_eq!(work.piece(third).map(|p| p.called()), Some("Loose parts 2".into()));
    assert_eq!(parts(&work, third), parts(&work, LOOSE));
}

/// Heights 60 and 50: by the pattern stiles and slats differ and rails do not; what each costs by itself is the plan of
/// that one alone.
#[test]
fn two_variants_are_told_line_by_line() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    let tall = add(&mut work, Some(trellis("60")));
    let low = add(&mut work, Some(trellis("50")));
    write(&mut work, low, "batch", "2");
    let found: Vec<(Jobs, Planned)> = [(tall, 1), (low, 2)]
        .iter()
        .map(|&(id, times)| {
            let jobs = work.jobs_of(id, times, &shop);
            let planned = worked(&jobs);
            (jobs, planned)
        })
        .collect();
    let both = [0, 1].map(|i: usize| Some((&found[i].0, &found[i].1)));
    let lines = work.compare([tall, low], both, &shop);
    let of = |about: About, name: &str| -> Beside {
        let line = lines.iter().find(|l| l.about == about && l.name == name);
        line.unwrap_or_else(|| panic!("{name} in {lines:?}")).clone()
    };
    assert!(of(About::Sizes, "Height").differs && !of(About::Sizes, "Width").differs);
    assert_eq!(of(About::Sizes, "Height").words, ["60".to_owned(), "50".to_owned()]);
    for (name, differs) in [("Stile", true), ("Slat", true), ("Rail", false)] {
        assert_eq!(of(About::Parts, name).differs, differs, "{name}");
    }
    assert!(of(About::Parts, "Stile").words[0].starts_with("2 \u{d7} 60"));
    let money = |i: usize| found[i].1.money(&found[i].0, false).expect("prices");
    let cost = of(About::Cost, "All boards");
    let usual = Currency::default();
    assert_eq!(cost.words, [usual.print(money(0)), usual.print(money(1))]);
    let each = usual.print(money(1).times(0.5).expect("money"));
    assert_eq!(of(About::Cost, "Each").words[1], each);
    let bought = |i: usize| money(i).0 / 279;
    let boards = of(About::Boards, "strip").words;
    assert!(boards[0].starts_with(&format!("{} at ", bought(0))), "{boards:?}");
    // The same work on both; the price is told once all of it is known.
    let row = PriceRow::Line(List::Steps, 0);
    for piece in [tall, low] {
        work.apply(
            WorkEdit::AddLine { piece, list: List::Steps, key: "each", text: "30".into() },
            &shop,
        );
        let text = if piece == tall { "30" } else { "20" }.into();
        work.apply(WorkEdit::Price { piece, row, key: "each", text }, &shop);
        work.apply(
            WorkEdit::Price { piece, row: PriceRow::Terms, key: "basis", text: "bought".into() },
            &shop,
        );
        assert!(
            work.compare([tall, low], both, &shop)
                .iter()
                .all(|l| l.about != About::Price || l.name == "Time")
        );
    }
    work.apply(
        WorkEdit::Price { piece: LOOSE, row: PriceRow::Rates, key: "rate", text: "12".into() },
        &shop,
    );
    let lines = work.compare([tall, low], both, &shop);
    let each = lines
        .iter()
        .find(|l| (l.about, &l.name[..]) == (About::Price, "Cost of one"))
        .expect("a cost");
    // 30 minutes are 6.00, and 20 are 4.00.
    let of_one = |i: usize, pieces: i64, labor: i64| {
        let cents = money(i).0 + labor * pieces;
        Currency::default().print(Money((cents * 2 + pieces) / (2 * pieces)))
    };
    assert_eq!(each.words, [of_one(0, 1, 600), of_one(1, 2, 400)]);
    // A copy differs in nothing; before the planner has spoken, boards and cost are not told.
    let twin = copy(&mut work, tall);
    let lines = work.compare([tall, twin], [None, None], &shop);
    assert!(lines.iter().all(|l| !l.differs) && lines.len() > 8, "{lines:?}");
    assert!(lines.iter().all(|l| matches!(l.about, About::Sizes | About::Parts)));
    // With a piece that has no pattern, each line has one side.
    let bare = add(&mut work, None);
    let lines = work.compare([tall, bare], [None, None], &shop);
    assert!(lines.iter().all(|l| l.differs && l.words[1].is_empty()));
}
