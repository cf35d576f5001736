//! What a run holds, and what it comes to.

use crate::{next, one_stock, plan_anew, run, shown, start, to_the_end};
use offsquare_units::{Length, Money, Style, Unit};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, LOOSE, Reason, Shop, Work, WorkEdit};
use offsquare_work::rack::{Sold, Stock};
use offsquare_work::save::{self, Bench};
use offsquare_work::walk::{AtBench, Walk, What};
use std::collections::{BTreeMap, BTreeSet};

/// `count` parts of one length from boards of 96.
fn strips(parts: &[(&str, &str)], shop: &Shop) -> Work {
    let mut work = Work { rack: one_stock(96.0, 1_000), ..Work::default() };
    for (length, count) in parts {
        work.apply(WorkEdit::AddPart(LOOSE), shop);
        let id = work.parts.last().expect("a part").id;
        for (key, text) in [("length", *length), ("count", *count)] {
            work.apply(WorkEdit::Part { id, key, text: text.to_owned() }, shop);
        }
    }
    work
}

/// A piece of a pattern as it starts, made so often.
fn patterned(id: &str, batch: &str, shop: &Shop) -> Work {
    let mut work = Work::default();
    let pattern = patterns::find(id).expect("a pattern");
    let mut draft = Draft::fresh(&pattern.layout, &pattern.forms[0], Unit::Inch);
    // Braces that cross, to a point in the corner: laps and second cuts.
    if id == "braced_frame" {
        draft.set("braces", "crossed", Unit::Inch);
        draft.set("ends", "corner", Unit::Inch);
    }
    let piece = work.next_piece();
    work.apply(WorkEdit::AddPiece { pattern: Some(draft) }, shop);
    work.apply(WorkEdit::Piece { id: piece, key: "batch", text: batch.to_owned() }, shop);
    work
}

fn gates(batch: &str, shop: &Shop) -> Work {
    let mut work = Work::default();
    let piece = work.next_piece();
    work.apply(WorkEdit::AddPiece { pattern: None }, shop);
    work.apply(WorkEdit::Example(piece, 0), shop);
    work.apply(WorkEdit::Piece { id: piece, key: "batch", text: batch.to_owned() }, shop);
    work
}

/// A stock of its own for every section, long enough for every part.
fn stocked(work: &mut Work, shop: &Shop) {
    work.rack.stocks.clear();
    for e in &work.parts.clone() {
        let (seen, away) = (e.seen.expect("a size"), e.away.expect("a size"));
        let id = match work.rack.suiting(Some(seen), Some(away)) {
            Some(stock) => stock.id,
            None => {
                let id = work.rack.next_id();
                let sold = Sold { length: Length(200.0), price: Money(900), ..Sold::default() };
                let (width, thickness) = (seen.max(away), seen.min(away));
                let name = format!("stock {id}");
                let sold = vec![sold];
                work.rack.stocks.push(Stock {
                    id,
                    name,
                    width,
                    thickness,
                    sold,
                    ..Stock::default()
                });
                id
            }
        };
        work.apply(WorkEdit::CutFrom { id: Some(e.id), stock: Some(id) }, shop);
    }
}

/// By part, how many ends of its single parts are finished by the steps, and how many are freed; ends on a board's own
/// end need no cut.
fn every_end_once(work: &Work) {
    let walk = Walk::of(run(work));
    let mut ends: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    let mut ticks = BTreeSet::new();
    for stage in &walk.stages {
        assert!(ticks.insert(stage.tick), "{:?} twice", stage.tick);
        if let What::Cut(cut) = &stage.what {
            for place in cut.sides.into_iter().flatten() {
                *ends.entry((stage.tick.board, place)).or_default() += 1;
            }
        }
    }
    for (number, board) in walk.boards.iter().enumerate() {
        let board = board.as_ref().expect("a board as it was");
        let Some(instance) = walk.jobs.jobs[board.job].instance.sticks() else { continue };
        for (place, p) in board.cut.parts.iter().enumerate() {
            let kind = &instance.parts[p.part];
            let whole = walk.jobs.jobs[board.job].boards[board.cut.board].length.0;
            let own = u32::from(p.x + board.start < 1e-6)
                + u32::from((p.x + board.start + kind.length - whole).abs() < 1e-6);
            let cut = ends.get(&(number as u32, place as u32)).copied().unwrap_or(0);
            assert_eq!(cut + own.min(2 - cut.min(2)), 2, "board {number}, place {place}");
        }
    }
}

#[test]
fn twelve_gates_are_cut_once_each() {
    let shop = Shop::default();
    let mut work = gates("12", &shop);
    start(&mut work, &shop);
    every_end_once(&work);
    let steps = to_the_end(&mut work, &shop);
    // 12 times 2 stiles, 3 rails, 2 braces, 6 slats, 2 cap sides.
    let singles: usize =
        Walk::of(run(&work)).boards.iter().flatten().map(|b| b.numbers.len()).sum();
    assert_eq!(singles, 12 * 15);
    assert!(steps >= singles, "{steps}");
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    assert_eq!(outcome.made.values().sum::<u32>(), 180);
    work.apply(WorkEdit::EndRun(Box::new(outcome)), &shop);
    assert!(work.begun.is_none() && work.parts.iter().all(|e| e.done));
    assert!(work.jobs(&shop).jobs.is_empty());
}

/// The whole run is kept with every step, and nothing that is changed of the list afterwards changes it.
#[test]
fn a_run_is_kept_as_it_stood() {
    let shop = Shop::default();
    let mut work = gates("2", &shop);
    start(&mut work, &shop);
    let steps = Walk::of(run(&work)).stages;
    for _ in 0..3 {
        let (tick, _) = next(&work).expect("a step");
        work.apply(WorkEdit::Tick(tick), &shop);
    }
    let id = work.parts[0].id;
    work.apply(WorkEdit::Part { id, key: "length", text: "20".into() }, &shop);
    work.apply(WorkEdit::RemovePart(work.parts[1].id), &shop);
    let bench = Bench { work, ..Bench::default() };
    let opened = save::read(&save::write(&bench));
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench, bench);
    let work = opened.bench.work;
    assert_eq!(Walk::of(run(&work)).stages, steps);
    assert_eq!(run(&work).done.len(), 3);
    // The next one is the fourth.
    assert_eq!(Walk::of(run(&work)).next(run(&work)), Some(3));
}

/// A file whose run could not be true opens without it, and says so.
#[test]
fn a_run_that_cannot_be_true_is_set_aside() {
    let shop = Shop::default();
    let mut work = strips(&[("20", "3")], &shop);
    start(&mut work, &shop);
    let text = save::write(&Bench { work, ..Bench::default() });
    let mut value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    value["bench"]["work"]["begun"][0]["of"]["parts"][0]["length"] = serde_json::json!(-4.0);
    let opened = save::read(&value.to_string());
    assert!(opened.bench.work.begun.is_none());
    assert!(opened.repaired.iter().any(|s| s.contains("run at the saw")), "{:?}", opened.repaired);
    // All else stands.
    assert_eq!(opened.bench.work.parts.len(), 1);
}

/// Three of 20 from a board of 96, and 35 1/2 are left. One is spoiled: a fourth is cut from what is left of that board.
#[test]
fn what_is_spoiled_is_cut_from_what_is_left() {
    let shop = Shop::default();
    let mut work = strips(&[("20", "3")], &shop);
    start(&mut work, &shop);
    assert_eq!(run(&work).boards().count(), 1);
    let walk = Walk::of(run(&work));
    work.apply(WorkEdit::Tick(walk.stages[0].tick), &shop);
    let lost = walk.touched(&walk.stages[1], run(&work))[0];
    let name = walk.called(lost);
    work.apply(WorkEdit::Skip { reason: Reason::Knot, places: vec![lost] }, &shop);
    assert!(run(&work).open().is_some());
    plan_anew(&mut work, &shop);
    let now = run(&work);
    assert!(now.open().is_none());
    let boards: Vec<_> = now.boards().collect();
    assert_eq!(boards.len(), 2);
    // 96 - 3 · (20 + 1/8): the fresh end is no end to trim, and the yard's boards cost money.
    assert!((boards[1].length - Length(96.0 - 3.0 * 20.125)).abs().0 < 1e-9, "{:?}", boards[1]);
    assert!(boards[1].owned);
    let walk = Walk::of(now);
    // It keeps its number, and its board is told.
    assert_eq!(walk.called((1, 0)), name);
    assert!(walk.board_called(1, &Style::default()).contains("left of board 1"));
    to_the_end(&mut work, &shop);
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    assert_eq!(outcome.made.values().sum::<u32>(), 3);
    work.apply(WorkEdit::EndRun(Box::new(outcome)), &shop);
    // Of the board 35 5/8 were left, of that 15 1/2.
    let left: Vec<Length> = work.rack.stocks[0].owned.iter().map(|o| o.length).collect();
    let keep = work.rack.keep;
    assert!(left.iter().all(|l| *l >= keep && (*l - Length(15.5)).abs().0 < 1e-9), "{left:?}");
    assert!(work.parts.iter().all(|e| e.done));
}

/// Three of 20 from a board of 96: after the first cut 96 - 20 1/8 = 75 7/8 are in hand, after the second 55 3/4; of a board
/// of which only the middle is cut out, both ends are.
#[test]
fn what_is_in_hand_is_left_when_a_run_ends_early() {
    let shop = Shop::default();
    let mut work = strips(&[("20", "3")], &shop);
    start(&mut work, &shop);
    for (made, left) in [(1, 75.875), (2, 55.75), (3, 35.625)] {
        let (tick, _) = next(&work).expect("a step");
        work.apply(WorkEdit::Tick(tick), &shop);
        let outcome = Walk::of(run(&work)).outcome(run(&work));
        assert_eq!(outcome.made.values().sum::<u32>(), made);
        let [away] = &outcome.put_away[..] else { panic!("{:?}", outcome.put_away) };
        let kept: Vec<(f64, u32)> = away.kept.iter().map(|o| (o.length.0, o.count)).collect();
        assert!(matches!(kept[..], [(l, 1)] if (l - left).abs() < 1e-9), "{kept:?} {left}");
        assert_eq!(away.bought, [(0, 1)]);
    }
    // Not as the run has it, as a maker may: the last cut alone leaves one stick of 60 1/4 left of it.
    let mut work = strips(&[("20", "3")], &shop);
    start(&mut work, &shop);
    let last = Walk::of(run(&work)).stages.last().expect("a cut").tick;
    work.apply(WorkEdit::Tick(last), &shop);
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    let mut kept: Vec<f64> = outcome.put_away[0].kept.iter().map(|o| o.length.0).collect();
    kept.sort_by(f64::total_cmp);
    assert!((kept[0] - 35.625).abs() < 1e-9 && (kept[1] - 60.25).abs() < 1e-9, "{kept:?}");
    // A knot is no clear wood: 20 1/8 of the stick are lost in its middle.
    work.apply(WorkEdit::Skip { reason: Reason::Knot, places: vec![(0, 1)] }, &shop);
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    let kept: Vec<Length> = outcome.put_away[0].kept.iter().map(|o| o.length).collect();
    assert!(kept.iter().all(|l| *l < Length(36.0)), "{kept:?}");
}

/// A sheet that is not cut to its end leaves the pieces that lie there: beside them and what is made, only kerfs are gone.
#[test]
fn pieces_of_a_sheet_are_left_when_a_run_ends_early() {
    let shop = Shop::default();
    let mut work = Work { rack: one_stock(96.0, 6_000), ..Work::default() };
    let stock = &mut work.rack.stocks[0];
    (stock.sheet, stock.width) = (true, Length(48.0));
    work.rack.keep = Length(0.5);
    for (length, width, count) in [("30", "20", "4"), ("22", "11 1/2", "3")] {
        work.apply(WorkEdit::AddPart(LOOSE), &shop);
        let id = work.parts.last().expect("a part").id;
        for (key, text) in [("length", length), ("seen", width), ("away", "3/4"), ("count", count)]
        {
            work.apply(WorkEdit::Part { id, key, text: text.into() }, &shop);
        }
    }
    start(&mut work, &shop);
    let (sheet, mut made_before) = (96.0 * 48.0, 0);
    for step in 1.. {
        let Some((tick, _)) = next(&work) else { break };
        work.apply(WorkEdit::Tick(tick), &shop);
        let walk = Walk::of(run(&work));
        let outcome = walk.outcome(run(&work));
        let made = outcome.made.values().sum::<u32>();
        assert!(made >= made_before && outcome.put_away.len() == 1);
        made_before = made;
        assert_eq!(outcome.put_away[0].bought, [(0, 1)]);
        if walk.next(run(&work)).is_none() {
            break;
        }
        let area = |id: u32| {
            let e = work.parts.iter().find(|e| e.id == id).expect("a part");
            e.length.0 * e.seen.expect("a width").0
        };
        let cut: f64 = outcome.made.iter().map(|(of, n)| area(of.0) * f64::from(*n)).sum();
        let kept = outcome.put_away[0].kept.iter();
        let left: f64 =
            kept.map(|o| o.length.0 * o.width.expect("a sheet's").0 * f64::from(o.count)).sum();
        let gone = sheet - cut - left;
        // Each kerf takes 1/8 of 11 1/2 at least and of 96 at most.
        let steps = f64::from(step);
        assert!((steps * 1.4..=steps * 12.0).contains(&gone), "{step}: {gone}");
    }
    assert_eq!(made_before, 7);
}

/// Taken back, a skip is gone with its boards, and ticks before it follow one by one.
#[test]
fn ticks_and_skips_are_taken_back_newest_first() {
    let shop = Shop::default();
    let mut work = strips(&[("20", "3"), ("31", "5")], &shop);
    start(&mut work, &shop);
    let before = run(&work).clone();
    let (first, _) = next(&work).expect("a step");
    work.apply(WorkEdit::Tick(first), &shop);
    work.apply(WorkEdit::Tick(first), &shop);
    assert_eq!(run(&work).done.len(), 1, "a step is ticked once");
    let ticked = run(&work).clone();
    let walk = Walk::of(run(&work));
    let lost = walk.touched(&walk.stages[1], run(&work));
    work.apply(WorkEdit::Skip { reason: Reason::Miscut, places: lost }, &shop);
    plan_anew(&mut work, &shop);
    let (second, _) = next(&work).expect("a step");
    work.apply(WorkEdit::Tick(second), &shop);
    work.apply(WorkEdit::Untick, &shop);
    assert_eq!(run(&work).skips.len(), 1);
    work.apply(WorkEdit::Untick, &shop);
    assert_eq!(run(&work), &ticked);
    work.apply(WorkEdit::Untick, &shop);
    assert_eq!(run(&work), &before);
    work.apply(WorkEdit::Untick, &shop);
    assert_eq!(run(&work), &before);
}

/// A whole board is no good, and the yard has one board more, then none: the parts stay on the list, and nothing else does.
#[test]
fn parts_without_a_board_stay_on_the_list() {
    let shop = Shop::default();
    let mut work = strips(&[("40", "4")], &shop);
    work.rack.stocks[0].sold[0].left = Some(2);
    start(&mut work, &shop);
    let walk = Walk::of(run(&work));
    let places = walk.rest(0, run(&work));
    assert_eq!(places.len(), 2);
    work.apply(WorkEdit::Skip { reason: Reason::Board, places }, &shop);
    plan_anew(&mut work, &shop);
    assert!(run(&work).open().is_none());
    assert_eq!(run(&work).boards().count(), 2, "no board more");
    to_the_end(&mut work, &shop);
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    assert_eq!(outcome.made.values().sum::<u32>(), 2);
    work.apply(WorkEdit::EndRun(Box::new(outcome)), &shop);
    let e = &work.parts[0];
    assert_eq!((e.done, e.made, e.count), (false, 2, 4));
    // Two are planned now, where there are boards.
    work.rack.stocks[0].sold[0].left = None;
    let parts: usize = shown(&work, &shop).iter().map(|b| b.parts.len()).sum();
    assert_eq!(parts, 2);
    // To be cut again means all of them.
    let id = e.id;
    work.apply(WorkEdit::Done { id, done: false }, &shop);
    let parts: usize = shown(&work, &shop).iter().map(|b| b.parts.len()).sum();
    assert_eq!(parts, 4);
}

/// Boards that are whole when something is skipped come in one round with the new one, so that the saw is set once for all.
#[test]
fn whole_boards_are_put_in_order_with_the_new_ones() {
    let shop = Shop::default();
    let mut work = strips(&[("40", "8")], &shop);
    start(&mut work, &shop);
    let boards = run(&work).boards().count() as u32;
    let (tick, _) = next(&work).expect("a step");
    work.apply(WorkEdit::Tick(tick), &shop);
    let places = Walk::of(run(&work)).rest(tick.board, run(&work));
    work.apply(WorkEdit::Skip { reason: Reason::Board, places }, &shop);
    plan_anew(&mut work, &shop);
    let rounds = run(&work).rounds(&Walk::of(run(&work)).wholes);
    assert_eq!(rounds.len(), 2);
    assert!(!rounds[1].contains(&tick.board));
    assert_eq!(rounds[1].len() as u32, boards - 1 + run(&work).skips[0].boards.len() as u32);
    let steps = Walk::of(run(&work)).stages;
    assert!(steps.iter().all(|s| s.tick.board != tick.board || run(&work).done.contains(&s.tick)));
    to_the_end(&mut work, &shop);
    let outcome = Walk::of(run(&work)).outcome(run(&work));
    assert_eq!(outcome.made.values().sum::<u32>(), 8);
}

/// Laps, holes and second cuts come at the bench with their cards, each single part by itself.
#[test]
fn everything_that_a_part_needs_is_in_the_run() {
    let shop = Shop::default();
    let style = Style::default();
    let (mut runs, mut all_laps, mut holes, mut cuts) = (0, 0, 0, 0);
    for id in patterns::IDS {
        let mut work = patterned(id, "2", &shop);
        stocked(&mut work, &shop);
        let jobs = work.jobs(&shop);
        let summary = work.summary(&jobs, &crate::worked(&jobs));
        let boards: Vec<_> = summary
            .shown
            .iter()
            .flat_map(|s| s.boards.iter().map(|b| jobs.jobs[s.job].to_keep(b)))
            .collect();
        assert!(!boards.is_empty(), "{id}");
        work.apply(WorkEdit::StartRun(boards), &shop);
        let walk = Walk::of(run(&work));
        let mut laps = 0;
        for stage in &walk.stages {
            let card = walk.card(stage, &shop.saw, &style);
            assert!(!card.title.is_empty() && !card.rows.is_empty(), "{id}: {stage:?}");
            let aloud = card.aloud(&style);
            assert!(!aloud.contains("NaN") && !aloud.contains("inf"), "{id}: {aloud}");
            laps += usize::from(matches!(stage.what, What::Bench(AtBench::Lap(_))));
            holes += usize::from(matches!(stage.what, What::Bench(AtBench::Drill)));
            cuts += usize::from(matches!(stage.what, What::Bench(AtBench::Cut(_))));
        }
        let wanted: usize = walk
            .boards
            .iter()
            .flatten()
            .flat_map(|b| b.cut.parts.iter().map(|p| walk.kinds[b.job][p.part].part.laps.len()))
            .sum();
        assert_eq!(laps, wanted, "{id}");
        all_laps += laps;
        runs += 1;
        every_end_once(&work);
        to_the_end(&mut work, &shop);
        assert!(Walk::of(run(&work)).next(run(&work)).is_none());
    }
    assert!(
        runs == patterns::IDS.len() && all_laps > 0 && holes > 0 && cuts > 0,
        "{runs} {all_laps} {holes} {cuts}"
    );
}
