//! What a price takes from pieces: faces to paint, its share of the boards, boards for each size of the batch, all of it
//! also of parts that are cut already.

use crate::{add, one_stock, pattern, trellis, worked, write};
use offsquare_door::piece::piece_value;
use offsquare_planner::Request;
use offsquare_units::{Length, Money};
use offsquare_work::cutlist::{Entry, Jobs, Planned, Summary};
use offsquare_work::piece::{LOOSE, Shop, Work, WorkEdit};
use offsquare_work::price::{Boards, Exact, Wood, as_number, whole};
use serde_json::json;

/// What is known of a piece's boards, once the planner has said all.
fn boards(work: &Work, id: u32) -> Boards {
    let shop = Shop::default();
    let piece = work.piece(id).expect("a piece");
    let jobs = work.jobs_priced(piece, &shop);
    let planned = worked(&jobs);
    let summary = Summary::of(&jobs, &planned, false, &work.rack, &work.parts);
    work.made(piece, None, (&jobs, &planned, &summary), &shop.style()).boards
}

fn wood(work: &Work, id: u32) -> Wood {
    match boards(work, id) {
        Boards::Known { wood, .. } => wood,
        other => panic!("{other:?}"),
    }
}

/// The door weighs the same box; with a board overridden longer by 4 in there is more of it, and of one left out less.
#[test]
fn faces_are_those_of_the_parts_as_they_are_cut() {
    let shop = Shop::default();
    let mut work = Work::default();
    let sizes = [("width", "14"), ("depth", "9"), ("height", "8"), ("thickness", "3/4")];
    let id = add(&mut work, Some(pattern("plain_box", &sizes)));
    let door = piece_value(&json!({
        "unit": "in", "pattern": "plain_box",
        "sizes": {"width": 14, "depth": 9, "height": 8, "thickness": 0.75},
    }));
    let area = |work: &Work| as_number(&work.surface(id, &shop).expect("an area"));
    let all = area(&work);
    assert!((all - door["surface_m2"].as_f64().unwrap()).abs() < 1e-9 * all, "{all}");
    // A typed board of 10 by 3 1/2 by 3/4 in: 2 (35 + 7.5 + 2.625) square inches.
    work.apply(WorkEdit::AddPart(id), &shop);
    let typed = work.parts_of(id).last().expect("a part").id;
    for (key, text) in [("length", "10"), ("seen", "3 1/2"), ("away", "3/4"), ("count", "2")] {
        work.apply(WorkEdit::Part { id: typed, key, text: text.into() }, &shop);
    }
    let more = 2.0 * 2.0 * (35.0 + 7.5 + 2.625) * 0.0254 * 0.0254;
    assert!((area(&work) - all - more).abs() < 1e-9);
    work.apply(WorkEdit::RemovePart(typed), &shop);
    // Nothing of a piece without parts.
    let bare = add(&mut work, None);
    assert_eq!(work.surface(bare, &shop), None);
    let floor = work.parts_of(id).find(|e| e.name == "Floor" || e.name == "Bottom").map(|e| e.id);
    let some = floor.unwrap_or_else(|| work.parts_of(id).next().expect("a part").id);
    work.apply(WorkEdit::RemovePart(some), &shop);
    assert!(area(&work) < all);
}

/// Two parts of 30 in out of 96: with two kerfs of 1/8 in 35 3/4 are left, worth 35.75 ÷ 96 of 2.79.
#[test]
fn what_is_kept_is_worth_its_part_of_the_board() {
    let part = |length: f64, count| Entry {
        id: 1,
        count,
        length: Length(length),
        stock: Some(1),
        ..Entry::default()
    };
    let mut work =
        Work { rack: one_stock(96.0, 279), parts: vec![part(30.0, 2)].into(), ..Work::default() };
    assert_eq!(Shop::default().saw.kerf, Length(0.125));
    let kept = whole(279) * whole(143) / whole(384);
    assert_eq!(wood(&work, LOOSE), Wood { bought: whole(279), kept });
    // Less than the rack keeps: nothing is left over.
    work.rack.keep = Length(36.0);
    assert_eq!(wood(&work, LOOSE).kept, Exact::default());
    // Cut already: it is what it takes to make it again.
    work.parts[0].done = true;
    assert_eq!(wood(&work, LOOSE).bought, whole(279));
    // No price in the rack, no price of the wood.
    work.rack.stocks[0].sold[0].price = Money::ZERO;
    let Boards::Open(why) = boards(&work, LOOSE) else { panic!("nothing is free") };
    assert_eq!(why, ["strip: no price in the rack for 8 ft"]);
}

/// In one buy the shares are all of it, to the cent and kept alike; by itself each is planned anew.
#[test]
fn shares_of_one_buy_are_all_of_it() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    let tall = add(&mut work, Some(trellis("60")));
    let low = add(&mut work, Some(trellis("50")));
    write(&mut work, low, "batch", "3");
    let jobs = work.jobs(&shop);
    let planned = worked(&jobs);
    let money = planned.money(&jobs, false).expect("prices");
    let (a, b) = (wood(&work, tall), wood(&work, low));
    assert_eq!(&a.bought + &b.bought, whole(money.0 as u64));
    let summary = Summary::of(&jobs, &planned, false, &work.rack, &work.parts);
    let kept: Exact = summary.shown.iter().map(|s| s.worth_kept()).sum();
    assert!((as_number(&(a.kept + b.kept)) - as_number(&kept)).abs() < 1e-6);
    work.apply(WorkEdit::PlanPiece { id: low, planned: false }, &shop);
    let own = work.jobs_of(low, 3, &shop);
    let own_money = worked(&own).money(&own, false).expect("prices");
    assert_eq!(wood(&work, low).bought, whole(own_money.0 as u64));
}

/// For each size of the batch the boards are those of that many planned by themselves, leftovers too.
#[test]
fn the_curve_has_the_boards_of_each_size() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    let id = add(&mut work, Some(trellis("60")));
    add(&mut work, Some(trellis("44")));
    let (jobs, one) = (work.jobs(&shop), work.jobs_of(id, 1, &shop));
    let mut planned = Planned::new(1, &jobs);
    let mut run = Request::new(planned.request(&jobs, 6, &one));
    while !run.is_done() {
        for message in run.step(5_000_000) {
            planned.hear(message);
        }
    }
    let piece = work.piece(id).expect("a piece");
    let summary = Summary::of(&jobs, &planned, false, &work.rack, &work.parts);
    let made = work.made(piece, None, (&jobs, &planned, &summary), &shop.style());
    let all = work.wood_by_batch(piece, &made, &work.planned_by_batch(&one, &planned));
    assert_eq!(all.iter().map(|w| w.0).collect::<Vec<_>>(), [1, 2, 3, 4, 5, 6]);
    for (n, wood) in all {
        let own: Jobs = work.jobs_of(id, n as u32, &shop);
        let alone = worked(&own);
        let money = alone.money(&own, false).expect("prices");
        assert_eq!(wood.bought, whole(money.0 as u64), "{n}");
        // Plans of one price may leave more or less over.
        assert!(wood.kept <= wood.bought, "{n}");
    }
}
