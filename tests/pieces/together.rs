//! Several pieces in one buy, each with its own count and cost.

use crate::{add, one_stock, trellis, worked, write};
use offsquare_units::{Length, Money};
use offsquare_work::cutlist::{Entry, Summary};
use offsquare_work::piece::{LOOSE, MOST_PIECES, MOST_SOURCES, Shop, Work, WorkEdit};
use std::collections::BTreeMap;

/// One board of 96 for $10.00 gives a 48 to one piece and a 24 to the other: by length, two thirds and one third of
/// $10.00, $6.67 and $3.33, and of 96, 64 and 32.
#[test]
fn a_board_is_shared_out_by_length() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 1_000), ..Work::default() };
    let [long, short] = [add(&mut work, None), add(&mut work, None)];
    for (piece, length) in [(long, "48"), (short, "24")] {
        work.apply(WorkEdit::AddPart(piece), &shop);
        let id = work.parts_of(piece).next().expect("a part").id;
        let text = length.to_owned();
        work.apply(WorkEdit::Part { id, key: "length", text }, &shop);
    }
    let jobs = work.jobs(&shop);
    let of: Vec<u32> = jobs.jobs[0].parts.iter().map(|p| p.piece).collect();
    assert_eq!(of, [long, short]);
    let summary = work.summary(&jobs, &worked(&jobs));
    let got: Vec<_> = summary.shares.iter().map(|s| (s.piece, s.money, s.open)).collect();
    assert_eq!(got, [(long, Money(667), false), (short, Money(333), false)]);
    assert!((summary.shares[0].bought - Length(64.0)).abs().0 < 1e-9);
    // Not planned, a piece takes nothing, and the other bears the board.
    work.apply(WorkEdit::PlanPiece { id: long, planned: false }, &shop);
    let jobs = work.jobs(&shop);
    let summary = work.summary(&jobs, &worked(&jobs));
    assert_eq!(summary.share(long), None);
    assert_eq!(summary.share(short).map(|s| s.money), Some(Money(1_000)));
    // A board without a price: what it costs is open.
    work.rack.stocks[0].sold[0].price = Money::ZERO;
    let jobs = work.jobs(&shop);
    let summary = work.summary(&jobs, &worked(&jobs));
    assert_eq!(summary.share(short).map(|s| (s.money, s.open)), Some((Money::ZERO, true)));
}

/// Ripped 1 wide and 1 1/2 wide, parts of one length take two fifths and three fifths of $10.00.
#[test]
fn a_ripped_board_is_shared_out_by_area() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 1_000), ..Work::default() };
    let [narrow, wide] = [add(&mut work, None), add(&mut work, None)];
    for (piece, seen) in [(narrow, "1"), (wide, "1 1/2")] {
        work.apply(WorkEdit::AddPart(piece), &shop);
        let id = work.parts_of(piece).next().expect("a part").id;
        for (key, text) in [("length", "40"), ("seen", seen)] {
            work.apply(WorkEdit::Part { id, key, text: text.to_owned() }, &shop);
        }
    }
    let jobs = work.jobs(&shop);
    assert!(jobs.jobs[0].is_ripped());
    let shares = work.summary(&jobs, &worked(&jobs)).shares;
    let got: Vec<_> = shares.iter().map(|s| (s.piece, s.money)).collect();
    assert_eq!(got, [(narrow, Money(400)), (wide, Money(600))]);
}

/// What each piece takes of each stock, counted from the parts themselves: length, or on a sheet and where a stock is
/// ripped area. `money`: what the stock's boards cost.
fn by_hand(work: &Work, stock: u32, money: Money, ripped: bool) -> BTreeMap<u32, f64> {
    let mut uses = BTreeMap::new();
    for e in work.parts.iter().filter(|e| e.stock == Some(stock)) {
        let batch = work.piece(e.piece).map_or(0, |p| p.batch);
        let wide = if ripped { e.seen.map_or(0.0, |l| l.0) } else { 1.0 };
        let used = f64::from(e.count * batch) * e.length.0 * wide;
        *uses.entry(e.piece).or_insert(0.0) += used;
    }
    let all: f64 = uses.values().sum();
    uses.values_mut().for_each(|u| *u *= money.0 as f64 / all);
    uses
}

/// 12 gates and 6 trugs: counts by the examples' lists (2+3+2+6+2 parts a gate, 8+2+2 a trug), money to a cent a stock
/// what lengths and areas give, and in sum that of the boards, for the plain plan too.
#[test]
fn gates_and_trugs_have_each_their_count_and_cost() {
    let shop = Shop::default();
    let mut work = Work::default();
    let (gate, trug) = (add(&mut work, None), add(&mut work, None));
    work.apply(WorkEdit::Example(gate, 0), &shop);
    work.apply(WorkEdit::Example(trug, 2), &shop);
    let names = [gate, trug].map(|id| work.piece(id).map(|p| p.called()));
    assert_eq!(names, [Some("Garden gate".to_owned()), Some("Garden trug".to_owned())]);
    write(&mut work, gate, "batch", "12");
    write(&mut work, trug, "batch", "6");
    let jobs = work.jobs(&shop);
    assert!(jobs.troubles.is_empty(), "{:?}", jobs.troubles);
    let planned = worked(&jobs);
    for plain in [false, true] {
        let summary = Summary::of(&jobs, &planned, plain, &work.rack, &work.parts);
        let share = |id: u32| summary.share(id).expect("a share").clone();
        assert_eq!((share(gate).times, share(gate).parts), (12, 12 * 15));
        assert_eq!((share(trug).times, share(trug).parts), (6, 6 * 12));
        let sum: Money = summary.shares.iter().map(|s| s.money).sum();
        assert_eq!(Some(sum), planned.money(&jobs, plain));
        assert_eq!(sum, summary.money);
        let bought: f64 = summary.shares.iter().map(|s| s.bought.0).sum();
        assert!((bought - summary.bought.0).abs() < 1e-6);
        let mut exact: BTreeMap<u32, f64> = BTreeMap::new();
        for shown in &summary.shown {
            let job = &jobs.jobs[shown.job];
            let money = shown.money.expect("all have prices");
            for (piece, cents) in by_hand(&work, job.stock, money, job.is_ripped()) {
                *exact.entry(piece).or_insert(0.0) += cents;
            }
        }
        for (piece, cents) in exact {
            let off = (share(piece).money.0 as f64 - cents).abs();
            assert!(off <= summary.shown.len() as f64, "{piece}: {off} cents");
        }
        assert_eq!(share(gate).each().0, (share(gate).money.0 as f64 / 12.0).round() as i64);
    }
    // The curve stands for one piece by itself.
    assert_eq!(work.alone(), None);
    work.apply(WorkEdit::PlanPiece { id: trug, planned: false }, &shop);
    assert_eq!(work.alone().map(|p| p.id), Some(gate));
    let alone = work.jobs_of(gate, 12, &shop);
    assert_eq!(alone.jobs, work.jobs(&shop).jobs);
}

/// Two pieces after one pattern, 3 and 2 of them, are planned as five of it in one piece.
#[test]
fn two_pieces_of_one_pattern_are_bought_as_one_with_both_batches() {
    let shop = Shop::default();
    let cost = |batches: &[&str]| {
        let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
        for batch in batches {
            let id = add(&mut work, Some(trellis("60")));
            write(&mut work, id, "batch", batch);
        }
        let jobs = work.jobs(&shop);
        assert!(jobs.troubles.is_empty(), "{:?}", jobs.troubles);
        let planned = worked(&jobs);
        let shares = work.summary(&jobs, &planned).shares;
        (planned.money(&jobs, false).expect("prices"), shares)
    };
    let (five, _) = cost(&["5"]);
    let (both, shares) = cost(&["3", "2"]);
    assert_eq!(both, five);
    // Alike, so by their numbers: three fifths and two fifths, to the cent.
    let exact = [five.0 as f64 * 0.6, five.0 as f64 * 0.4];
    for (share, exact) in shares.iter().zip(exact) {
        assert!((share.money.0 as f64 - exact).abs() <= 0.5 + 1e-6, "{share:?} {exact}");
    }
}

/// A kept board holds while its piece is planned; beside the plan it is neither cut nor complained of.
#[test]
fn a_kept_board_rests_with_its_piece() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    let [kept, other] = [add(&mut work, Some(trellis("60"))), add(&mut work, Some(trellis("50")))];
    work.apply(WorkEdit::PlanPiece { id: other, planned: false }, &shop);
    let jobs = work.jobs(&shop);
    let planned = worked(&jobs);
    let cut = work.summary(&jobs, &planned).shown[0].lying[0].cut.clone();
    work.apply(WorkEdit::Keep(Box::new(jobs.jobs[0].to_keep(&cut))), &shop);
    let plan = |work: &Work| {
        let jobs = work.jobs(&shop);
        (jobs.jobs.iter().map(|j| j.kept.len()).sum::<usize>(), jobs.troubles.len())
    };
    assert_eq!(plan(&work), (1, 0));
    work.apply(WorkEdit::PlanPiece { id: kept, planned: false }, &shop);
    work.apply(WorkEdit::PlanPiece { id: other, planned: true }, &shop);
    assert_eq!(plan(&work), (0, 0));
    work.apply(WorkEdit::PlanPiece { id: kept, planned: true }, &shop);
    assert_eq!(plan(&work), (1, 0));
    // With its piece, the board goes.
    work.apply(WorkEdit::RemovePiece(kept), &shop);
    assert!(work.kept.is_empty());
    assert!(work.parts.iter().all(|e| e.piece == other) && work.sources.len() == 1);
}

/// Loose parts cannot be taken away; what is past a limit is refused, and why.
#[test]
fn what_cannot_be_is_refused() {
    let shop = Shop::default();
    let mut work = Work::default();
    work.apply(WorkEdit::Example(LOOSE, 0), &shop);
    work.apply(WorkEdit::RemovePiece(LOOSE), &shop);
    assert_eq!((work.pieces.len(), work.parts.len()), (1, 5));
    for (text, right) in
        [("0", false), ("1", true), ("500", true), ("501", false), ("2 1/2", false)]
    {
        assert_eq!(work.try_piece(LOOSE, "batch", text, shop.unit).is_ok(), right, "{text}");
        let before = work.pieces[0].batch;
        write(&mut work, LOOSE, "batch", text);
        assert_eq!(work.pieces[0].batch != before, right && before.to_string() != text);
    }
    assert!(work.try_piece(LOOSE, "batch", "501", shop.unit).is_err_and(|why| why.contains("500")));
    // Into a piece that there is not, nothing is put.
    let before = work.clone();
    for edit in [
        WorkEdit::AddPart(9),
        WorkEdit::Paste(9, "Rail\t3\t10".into()),
        WorkEdit::Example(9, 0),
        WorkEdit::Follow(9, trellis("60")),
        WorkEdit::CopyPiece(9),
    ] {
        work.apply(edit, &shop);
    }
    assert_eq!(work, before);
    // A pattern takes one of the places for layouts; a size that gives no answer makes a piece all the same.
    let id = add(&mut work, Some(trellis("")));
    assert!(work.pattern(id).is_some() && work.parts_of(id).next().is_none());
    while work.no_room_to_follow(1).is_none() {
        work.apply(WorkEdit::Follow(LOOSE, trellis("60")), &shop);
    }
    assert_eq!(work.sources.len(), MOST_SOURCES);
    let before = work.clone();
    work.apply(WorkEdit::AddPiece { pattern: Some(trellis("60")) }, &shop);
    work.apply(WorkEdit::CopyPiece(id), &shop);
    assert_eq!(work, before);
    while work.no_room_for_piece().is_none() {
        work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
    }
    work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
    assert_eq!(work.pieces.len(), MOST_PIECES + 1);
    assert!(work.no_room_for_piece().is_some_and(|why| why.contains("1,000")));
    // All of it comes back.
    let mut bench = offsquare_work::save::Bench { work, ..Default::default() };
    bench.work.sources.iter_mut().for_each(|s| s.live = false);
    let opened = offsquare_work::save::read(&offsquare_work::save::write(&bench));
    assert_eq!((opened.repaired.len(), opened.bench), (0, bench));
}

/// A list without pieces is planned as before: a batch of loose parts.
#[test]
fn loose_parts_are_a_piece_like_any_other() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 279), ..Work::default() };
    work.parts.push(Entry {
        id: 1,
        count: 3,
        stock: Some(1),
        length: Length(40.0),
        ..Entry::default()
    });
    write(&mut work, LOOSE, "batch", "4");
    let jobs = work.jobs(&shop);
    let sticks = jobs.jobs[0].instance.sticks().expect("sticks");
    assert_eq!((sticks.parts[0].qty, jobs.jobs[0].parts[0].each), (12, 3));
    assert_eq!(work.piece(LOOSE).map(|p| p.called()), Some("Loose parts".into()));
}
