//! Strips and sheets have what sticks have: what nearly fits, kept boards, the plain plan. Expected numbers
//! are worked out by hand from sizes and kerfs.

use crate::jobs::{KERF, worked};
use offsquare_planner::guillotine::Then;
use offsquare_units::{Currency, Length, Money, Style};
use offsquare_work::cutlist::{Entry, Grain, Jobs, KeptBoard, Planned, Summary, nearly_sentence};
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Rack, Sold, Stock};
use offsquare_work::save;

fn stock(width: f64, sold: &[(f64, i64)]) -> Stock {
    let one = |&(length, cents): &(f64, i64)| Sold {
        length: Length(length),
        price: Money(cents),
        ..Sold::default()
    };
    Stock {
        id: 1,
        name: "1\u{d7}6 pine".into(),
        thickness: Length(0.75),
        width: Length(width),
        sold: sold.iter().map(one).collect(),
        ..Stock::default()
    }
}

fn work(stock: Stock, parts: Vec<Entry>) -> Work {
    Work {
        rack: Rack { stocks: vec![stock], ..Rack::default() },
        parts: parts.into(),
        ..Work::default()
    }
}

fn part(id: u32, count: u32, length: f64, seen: f64) -> Entry {
    Entry {
        id,
        name: format!("Part {id}"),
        count,
        stock: Some(1),
        length: Length(length),
        seen: Some(Length(seen)),
        ..Entry::default()
    }
}

fn money(work: &Work) -> (Jobs, Planned, i64) {
    let jobs = work.jobs(&Shop::default());
    let planned = worked(&jobs, 0);
    let cents = planned.money(&jobs, false).expect("a plan").0;
    (jobs, planned, cents)
}

/// Taps "Do that" and gives the sentence that stood by it.
fn do_that(work: &mut Work) -> String {
    let (jobs, planned, _) = money(work);
    let nearly = planned.results[0].nearly.clone().expect("it nearly fits");
    let said = nearly_sentence(&jobs.jobs[0].name, &nearly, &Currency::default())
        .render(&Style::default());
    let nearly = Box::new(nearly);
    work.apply(WorkEdit::NearlyFits { job: 0, nearly }, &Shop::default());
    said
}

/// Three slats of 1 13/16 and two kerfs of 1/8 are 5 11/16: 3/16 too wide for 5 1/2, 1/16 each.
#[test]
fn slats_that_are_a_hair_too_wide_are_told_and_narrowed() {
    let mut w = work(stock(5.5, &[(96.0, 940)]), vec![part(1, 3, 96.0, 1.8125)]);
    assert_eq!(money(&w).2, 1880);
    let said = do_that(&mut w);
    assert_eq!(
        said,
        "Nearly fits: with 1\u{d7}6 pine parts up to 1/16 in narrower, you save $9.40 and 1 board."
    );
    assert!((w.parts[0].narrowed.0 - 0.0625).abs() < 1e-5);
    assert_eq!(w.parts[0].shortened, Length::ZERO);
    assert_eq!(w.parts[0].seen, Some(Length(1.8125)));
    let (jobs, planned, cents) = money(&w);
    assert_eq!(cents, 940);
    let boards = planned.boards(&jobs, 0, false).expect("boards");
    jobs.jobs[0].instance.verify(&boards).expect("a sound plan");
    // It gave half of what it may; what is typed anew is cut as typed.
    assert!((jobs.jobs[0].parts[0].give.1 - 0.0625).abs() < 1e-5);
    let bench = save::Bench { work: w.clone(), ..save::Bench::default() };
    assert_eq!(save::read(&save::write(&bench)).bench, bench);
    let edit = WorkEdit::Part { id: 1, key: "seen", text: "1 3/4".into() };
    w.apply(edit, &Shop::default());
    assert_eq!(w.parts[0].narrowed, Length::ZERO);
}

/// Two of 48 1/16 along a board of 96, with a kerf: 1/4 too long in all, 1/8 each, and no wider board helps.
#[test]
fn strips_that_are_too_long_are_shortened_and_only_they() {
    let mut w = work(stock(5.5, &[(96.0, 940)]), vec![part(1, 6, 48.0625, 1.75)]);
    assert_eq!(money(&w).2, 1880);
    let said = do_that(&mut w);
    assert!(said.contains("up to 1/8 in shorter, you save $9.40"), "{said}");
    assert_eq!(money(&w).2, 940);
    assert_eq!(w.parts[0].narrowed, Length::ZERO);
}

/// Quarters of a sheet of 96 by 48: too large by half a kerf both ways. Those whose grain runs across have
/// their lengths across the sheet.
#[test]
fn quarters_of_a_sheet_give_in_both_directions() {
    for across in [false, true] {
        let mut sheet = stock(48.0, &[(96.0, 6200)]);
        (sheet.sheet, sheet.name) = (true, "Plywood".into());
        let mut quarter = part(1, 4, 48.0, 24.0);
        quarter.name = "Quarter".into();
        if across {
            (quarter.length, quarter.seen) = (Length(24.0), Some(Length(48.0)));
            quarter.grain = Grain::Across;
        }
        let mut w = work(sheet, vec![quarter]);
        assert_eq!(money(&w).2, 24_800);
        let said = do_that(&mut w);
        assert!(
            said.contains(
                "Plywood parts up to 1/16 in shorter and narrower, you save $186.00 and 3 boards"
            ),
            "{said}"
        );
        assert_eq!(money(&w).2, 6200);
    }
}

/// Parts that may not give: a board that measures 1/4 more does. One tap notes that it does.
#[test]
fn boards_that_measure_more_are_told_and_noted() {
    let mut long = part(1, 6, 48.0625, 1.75);
    long.give = Length::ZERO;
    let mut w = work(stock(5.5, &[(96.0, 940)]), vec![long]);
    let said = do_that(&mut w);
    assert!(said.contains("measures 1/4 in over its length"), "{said}");
    assert!((w.rack.stocks[0].sold[0].over.0 - 0.25).abs() < 1e-5);
    assert_eq!(money(&w).2, 940);
    // Three of 1 3/4 and two kerfs are 5 1/2; the board measures 5 7/16.
    let mut wide = part(1, 3, 90.0, 1.75);
    wide.give = Length::ZERO;
    let mut w = work(stock(5.4375, &[(96.0, 940)]), vec![wide]);
    let said = do_that(&mut w);
    assert!(said.contains("measures 1/16 in over its width"), "{said}");
    assert!((w.rack.stocks[0].width.0 - 5.5).abs() < 1e-5);
    assert_eq!(money(&w).2, 940);
}

/// A kept board is cut as it was, the rest is planned around it; it lets go when its part changes, or when
/// there are not as many any more.
#[test]
fn a_kept_board_is_held_until_its_part_changes() {
    let stock = Stock {
        owned: vec![Owned { length: Length(40.0), count: 1, ..Owned::default() }],
        ..stock(5.5, &[(96.0, 940)])
    };
    let w = work(stock, vec![part(1, 4, 30.0, 2.5), part(2, 5, 44.0, 1.75)]);
    let shop = Shop::default();
    let (jobs, planned, _) = money(&w);
    let boards = planned.boards(&jobs, 0, false).expect("boards");
    let all: Vec<KeptBoard> = boards.iter().map(|b| jobs.jobs[0].to_keep(b)).collect();
    for (kept, cut) in all.iter().zip(&boards) {
        let mut now = w.clone();
        now.apply(WorkEdit::Keep(Box::new(kept.clone())), &shop);
        // Saved and opened again.
        let bench = save::Bench { work: now, ..save::Bench::default() };
        let mut now = save::read(&save::write(&bench)).bench.work;
        assert_eq!(now, bench.work);
        now.parts.push(part(3, 7, 11.0, 3.0));
        let (jobs, planned, cents) = money(&now);
        assert_eq!(jobs.troubles, []);
        let boards = planned.boards(&jobs, 0, false).expect("boards");
        assert_eq!(&boards[0], cut);
        jobs.jobs[0].instance.verify(&boards).expect("kept and planned together are sound");
        assert!(planned.bound(&jobs).expect("a bound").0 <= cents);
        let summary = Summary::of(&jobs, &planned, false, &now.rack, &now.parts);
        assert_eq!(summary.shown[0].lying[0].kept, Some(0));
        assert_eq!(summary.money.0, cents);
        // Its first part changes, or is wanted no more.
        let on = kept.parts[0].entry;
        for narrower in [true, false] {
            let mut other = now.clone();
            for e in other.parts.iter_mut().filter(|e| e.id == on) {
                if narrower {
                    e.seen = Some(Length(1.5));
                } else {
                    e.count = 0;
                }
            }
            let jobs = other.jobs(&shop);
            assert_eq!(jobs.troubles[0].kept, Some(0));
            assert!(jobs.jobs[0].kept.is_empty());
        }
        // A thicker blade does not get by with the old cuts, where there are two parts.
        if kept.parts.len() > 1 {
            let jobs = Jobs::of(&now.parts, &now.rack, KERF * 2.0, 1, &now.kept);
            assert_eq!(jobs.troubles.len(), 1);
        }
        // All on hand is held: the same board cannot be kept twice.
        if kept.owned {
            now.kept.push(kept.clone());
            now.parts.iter_mut().for_each(|e| e.count *= 2);
            assert_eq!(now.jobs(&shop).jobs[0].kept.len(), 1);
        }
        // A cut that leaves a piece that is not there is none; without any cuts it is no ripped board.
        if let Some(Then::Cut { first, .. }) = now.kept[0].cuts.first_mut().map(|p| &mut p.then) {
            *first = Some(70);
        }
        assert_eq!(now.jobs(&shop).jobs[0].kept.len(), 0);
        now.kept[0].cuts.clear();
        assert_eq!(now.jobs(&shop).jobs[0].kept.len(), 0);
    }
}

/// A plain plan is shown only where the saw is changed less often for it, or as the cheapest one itself.
#[test]
fn a_plain_plan_never_has_the_saw_changed_more_often() {
    let mut dice = 5u64;
    let mut roll = |low: u64, high: u64| {
        dice = dice.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        low + (dice >> 33) % (high - low + 1)
    };
    let (mut fewer, mut same) = (0, 0);
    for _ in 0..24 {
        let kinds = roll(2, 4) as u32;
        let parts = (1..=kinds).map(|id| {
            let (length, seen) = (roll(8, 40) as f64, roll(2, 10) as f64 / 2.0);
            part(id, roll(1, 4) as u32, length, seen)
        });
        let w = work(stock(5.5, &[(96.0, 940), (48.0, 520)]), parts.collect());
        let (jobs, planned, _) = money(&w);
        let of = |plain| Summary::of(&jobs, &planned, plain, &w.rack, &w.parts);
        let (cheapest, plain) = (of(false), of(true));
        let [cheapest, plain] = [&cheapest.shown[0], &plain.shown[0]];
        assert!(cheapest.money <= plain.money);
        if plain.lying == cheapest.lying {
            same += 1;
        } else {
            assert!(plain.order.saw_changes < cheapest.order.saw_changes, "{:?}", w.parts);
            fewer += 1;
        }
    }
    assert!(fewer > 3 && same > 3, "{fewer} fewer, {same} the same");
}

/// A board of 60 with a bad stretch from 20 to 22; 20 by 3 1/2 and 38 by 3 1/2 fill the two stretches beside it: one
/// board is cut, and nothing of it is kept.
#[test]
fn stretches_of_one_board_are_one_board() {
    let owned = Owned {
        length: Length(60.0),
        count: 1,
        bad: vec![(Length(20.0), Length(22.0))],
        ..Owned::default()
    };
    let stock = Stock { owned: vec![owned], ..stock(5.5, &[(96.0, 940)]) };
    let w = work(stock, vec![part(1, 1, 20.0, 3.5), part(2, 1, 38.0, 3.5)]);
    let (jobs, planned, cents) = money(&w);
    assert_eq!((cents, jobs.jobs[0].is_ripped()), (0, true));
    let put = w.summary(&jobs, &planned).put_away(&jobs, &w.rack);
    assert_eq!((put[0].cut.as_slice(), put[0].kept.len()), ([(0, 1)].as_slice(), 0));
}
