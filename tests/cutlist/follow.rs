//! Parts that come from a layout follow its inputs.

use offsquare_cuts::layouts;
use offsquare_units::{Length, Unit};
use offsquare_work::piece::{Draft, LOOSE, Shop, Work, WorkEdit};

fn brace() -> Draft {
    let layout = layouts::find("brace").expect("the brace");
    Draft::fresh(layout, &layout.forms()[0], Unit::Inch)
}

/// The point in the corner of a 30 × 44 opening, 2 1/2 strip: the long point is on the diagonal's
/// own line; the list shows what the layout's part says, and follows a wider opening.
#[test]
fn a_brace_on_the_list_follows_its_opening() {
    let shop = Shop::default();
    let mut work = Work::default();
    let mut draft = brace();
    for (key, text) in [("opening_width", "30"), ("opening_height", "44"), ("strip_width", "2 1/2")]
    {
        draft.set(key, text, Unit::Inch);
    }
    work.apply(WorkEdit::Follow(LOOSE, draft.clone()), &shop);
    let part = |d: &Draft| {
        let answered = offsquare_work::piece::answer(d, &shop);
        answered.solved[d.way.unwrap_or(0)].solution.parts[0].clone()
    };
    assert_eq!(work.parts.len(), 1);
    assert_eq!(work.parts[0].length, part(&draft).length);
    assert_eq!(work.parts[0].stock, Some(2), "2 1/2 is a dressed 1×3");
    assert_eq!(
        Some(work.parts[0].left.miter),
        part(&draft).plan_angle(offsquare_cuts::parts::End::Left).map(|a| a.0)
    );
    let id = work.parts[0].id;
    work.apply(WorkEdit::Part { id, key: "note", text: "cedar".into() }, &shop);
    draft.set("opening_width", "36", Unit::Inch);
    work.changed(&draft, &shop);
    assert_eq!(work.parts[0].length, part(&draft).length);
    assert_eq!((work.parts[0].note.as_str(), work.parts[0].id), ("cedar", id));
    // Nonsense leaves the last sizes, marked; another way of landing is followed too.
    let last = work.parts[0].length;
    draft.set("opening_width", "3/", Unit::Inch);
    work.changed(&draft, &shop);
    assert!(work.parts[0].stale && work.parts[0].length == last);
    draft.set("opening_width", "36", Unit::Inch);
    draft.way = Some(1);
    work.changed(&draft, &shop);
    assert!(!work.parts[0].stale);
    assert_eq!(work.parts[0].length, part(&draft).length);
    // The screen turns to another question of the same kind: the list keeps what it has.
    work.part_ways("brace");
    let kept = work.parts.clone();
    draft.set("opening_width", "20", Unit::Inch);
    work.changed(&draft, &shop);
    assert_eq!(work.parts, kept);
    // Taken up again from the list, it is followed again.
    let source = work.sources[0].id;
    let back = work.take_up(source).expect("its draft");
    assert_eq!(back.text("opening_width").map(|t| t.text.as_str()), Some("36"));
    work.changed(&draft, &shop);
    assert_ne!(work.parts, kept);
}

/// One brace becomes a crossed pair: its parts change places with the pair's; a part taken off stays off.
#[test]
fn parts_of_another_form_take_their_places() {
    let shop = Shop::default();
    let mut work = Work::default();
    let draft = brace();
    work.apply(WorkEdit::Follow(LOOSE, draft.clone()), &shop);
    let layout = draft.layout().expect("the brace");
    let crossed = layout.forms().iter().find(|f| f.id == "crossed").expect("crossed");
    let pair = draft.in_form(crossed, &Shop::default(), None).expect("a draft");
    work.changed(&pair, &shop);
    let made = work.parts.len();
    assert!(made >= 1, "{:?}", work.parts);
    assert!(work.parts.iter().all(|e| !e.stale && e.length > Length::ZERO));
    if made > 1 {
        let gone = work.parts[0].id;
        work.apply(WorkEdit::RemovePart(gone), &shop);
        work.changed(&pair, &shop);
        assert_eq!(work.parts.len(), made - 1);
    }
}

/// A bracket's part that is the maker's own now keeps its sizes, and the layout does not put it on the list once more.
#[test]
fn a_part_let_go_is_not_made_again() {
    let shop = Shop::default();
    let mut work = Work::default();
    let layout = layouts::find("bracket").expect("the bracket");
    let mut draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    work.apply(WorkEdit::Follow(LOOSE, draft.clone()), &shop);
    let made = work.parts.len();
    assert!(made > 1);
    let own = work.parts[0].clone();
    work.apply(WorkEdit::LetGo(own.id), &shop);
    let first = layout.forms()[0].fields[0].key;
    let wider = format!("{} + 1", draft.text(first).map_or("10", |t| &t.text));
    draft.set(first, &wider, Unit::Inch);
    work.changed(&draft, &shop);
    assert_eq!(work.parts.len(), made);
    assert_eq!((work.parts[0].length, work.parts[0].from.is_none()), (own.length, true));
}

/// One choice for all parts without stock; those that have one, and stock that is no longer there.
#[test]
fn one_stock_goes_to_all_parts_that_have_none() {
    let shop = Shop::default();
    let mut work = Work::default();
    for _ in 0..3 {
        work.apply(WorkEdit::AddPart(LOOSE), &shop);
    }
    let [first, second, _] = [0, 1, 2].map(|i: usize| work.parts[i].id);
    let known = work.rack.stocks[1].id;
    let pick = |id, stock| WorkEdit::CutFrom { id, stock };
    work.apply(pick(Some(first), Some(known)), &shop);
    work.apply(pick(Some(second), None), &shop);
    work.parts[2].stock = Some(9_999);
    let rest = work.rack.stocks[0].id;
    work.apply(pick(None, Some(rest)), &shop);
    let stocks: Vec<_> = work.parts.iter().map(|e| e.stock).collect();
    assert_eq!(stocks, [Some(known), Some(rest), Some(rest)]);
    assert!(work.jobs(&shop).troubles.is_empty());
}
