//! Sheets in the rack: rectangles for the planner of sheets, and back to a buy list. Expected numbers are
//! worked out by hand from sizes and kerfs.

use crate::jobs::{KERF, worked};
use offsquare_cuts::facts::PLYWOOD;
use offsquare_planner::guillotine::{Grain as Lies, Instance};
use offsquare_units::{Length, Money, Style, Unit};
use offsquare_work::cutlist::{Entry, Grain, Jobs, Origin, Planned, Summary, rip_steps};
use offsquare_work::piece::{LOOSE, Row, Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Rack, Sold, Stock, Written};
use offsquare_work::save;

fn rack(stock: Stock) -> Rack {
    Rack {
        stocks: vec![Stock {
            id: 1,
            name: "Plywood".into(),
            sheet: true,
            thickness: Length(0.71875),
            width: Length(48.0),
            sold: vec![Sold { length: Length(96.0), price: Money(5870), ..Sold::default() }],
            ..stock
        }],
        ..Rack::default()
    }
}

fn part(id: u32, count: u32, length: f64, seen: f64) -> Entry {
    Entry {
        id,
        count,
        stock: Some(1),
        length: Length(length),
        seen: Some(Length(seen)),
        ..Entry::default()
    }
}

fn rectangles(jobs: &Jobs) -> &Instance {
    jobs.jobs[0].instance.rectangles().expect("rectangles")
}

fn planned(entries: &[Entry], rack: &Rack, batch: u32) -> (Jobs, Planned, Summary) {
    let jobs = Jobs::of(entries, rack, KERF, batch, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, rack, entries);
    for (i, job) in jobs.jobs.iter().enumerate() {
        if let Some(plan) = planned.plan(i, false) {
            assert!(job.is_ripped());
            assert_eq!(job.instance.verify(&plan.boards), Ok(plan.price));
        }
    }
    (jobs, planned, summary)
}

/// Four of 47 15/16 by 23 15/16 fill a sheet of 96 by 48 with its two kerfs: 58.70 · 1.08875 = 63.909…
#[test]
fn a_sheet_is_bought_with_its_tax_and_counted() {
    let mut r = rack(Stock { taxed: true, ..Stock::default() });
    r.tax = 8_875;
    let list = [part(1, 4, 47.9375, 23.9375)];
    let (jobs, planned, summary) = planned(&list, &r, 2);
    assert_eq!(planned.money(&jobs, false), Some(Money(2 * 6391)));
    assert_eq!(planned.bound(&jobs), Some(Money(2 * 6391)));
    let shown = &summary.shown[0];
    assert_eq!((shown.buy[0].count, shown.lying[0].members.len()), (2, 2));
    assert!(!shown.lying[0].left.keep);
    let cuts: Vec<String> = rip_steps(&jobs.jobs[0], &shown.lying[0].cut, &list)
        .iter()
        .map(|s| s.words.render(&Style::default()))
        .collect();
    assert!(cuts[0].starts_with("The whole sheet: "), "{cuts:?}");
    assert_eq!(cuts.len(), 3, "{cuts:?}");
}

/// 30 by 50: with its grain along the sheet it is too wide for 48, turned it lies in it.
#[test]
fn grain_is_respected_or_free() {
    let mut list = [part(1, 1, 30.0, 50.0)];
    let r = rack(Stock::default());
    let (_, _, along) = planned(&list, &r, 1);
    assert!(along.shown.is_empty());
    let why = along.without[0].render(&Style::default());
    assert!(why.contains("Part 1 is 30 in by 50 in, and no sheet"), "{why}");
    list[0].grain = Grain::Either;
    let (jobs, _, free) = planned(&list, &r, 1);
    assert_eq!(rectangles(&jobs).parts[0].grain, Lies::Free);
    assert!(free.shown[0].lying[0].cut.parts[0].turned);
    list[0].grain = Grain::Across;
    let (jobs, _, across) = planned(&list, &r, 1);
    assert_eq!(rectangles(&jobs).parts[0].length, 50.0);
    assert!(!across.shown[0].lying[0].cut.parts[0].turned);
}

/// An offcut of 30 by 20 costs nothing; what is left of it goes back with its width.
#[test]
fn an_offcut_is_used_first_and_its_rest_kept() {
    let r = rack(Stock {
        owned: vec![Owned {
            length: Length(30.0),
            width: Some(Length(20.0)),
            count: 1,
            ..Owned::default()
        }],
        ..Stock::default()
    });
    let list = [part(1, 1, 12.0, 20.0)];
    let (jobs, planned, summary) = planned(&list, &r, 1);
    assert_eq!(planned.money(&jobs, false), Some(Money::ZERO));
    let board = &summary.shown[0].lying[0].board;
    assert_eq!(board.origin, Origin::Owned(0));
    assert_eq!((board.length, board.width), (Length(30.0), Length(20.0)));
    let mut work = Work { rack: r.clone(), parts: list.to_vec().into(), ..Work::default() };
    let away = summary.put_away(&jobs, &r);
    work.apply(WorkEdit::PutAway(away), &Shop::default());
    // 30 less 12 less the kerf of 1/8.
    let owned = &work.rack.stocks[0].owned;
    assert_eq!(owned.len(), 1);
    assert_eq!(owned[0].length, Length(17.875));
    assert_eq!(owned[0].width, Some(Length(20.0)));
}

/// Trimmed 1/4 all round, a sheet gives 47 1/2 across: a part of 48 fits no more, one of 47 1/2 does.
#[test]
fn the_trim_is_given_up_all_round() {
    let mut r = rack(Stock::default());
    let s = &mut r.stocks[0];
    s.write("trim", "1/4", Unit::Inch).unwrap();
    assert_eq!((s.trim_left, s.trim_right), (Length(0.25), Length(0.25)));
    let (_, _, wide) = planned(&[part(1, 1, 30.0, 48.0)], &r, 1);
    assert_eq!((wide.shown.len(), wide.without.len()), (0, 1));
    let (_, _, fits) = planned(&[part(1, 1, 95.5, 47.5)], &r, 1);
    assert_eq!(fits.shown.len(), 1);
}

#[test]
fn what_is_no_part_of_the_sheet_says_why() {
    let mut thick = part(1, 1, 10.0, 10.0);
    thick.away = Some(Length(1.5));
    let mut unknown = part(2, 1, 10.0, 10.0);
    unknown.seen = None;
    let jobs = Jobs::of(&[thick, unknown], &rack(Stock::default()), KERF, 1, &[]);
    let said: Vec<String> =
        jobs.troubles.iter().map(|t| t.text.render(&Style::default())).collect();
    assert!(said[0].contains("cannot be cut from Plywood"), "{said:?}");
    assert!(said[1].contains("give its size seen"), "{said:?}");
}

/// PS 1 (as `facts` quotes it): plywood of the category 23/32 measures from 0.688 to 0.750.
#[test]
fn the_usual_rack_has_plywood_that_measures_what_it_may() {
    let all = Rack::default();
    let ply = all.stocks.iter().find(|s| s.sheet).expect("plywood");
    let fact = PLYWOOD.iter().find(|f| f.value.category == "23/32");
    let fact = fact.expect("a fact").value;
    assert!(fact.least <= ply.thickness && ply.thickness <= fact.greatest);
    assert!(ply.sample);
    assert_eq!(all.suiting(Some(Length(16.0)), Some(ply.thickness)).map(|s| s.id), Some(ply.id));
    // To 1/64 in; a 32nd more is another plywood.
    let thicker = |by: f64| all.suiting(Some(Length(16.0)), Some(ply.thickness + Length(by)));
    assert_eq!(thicker(1.0 / 64.0).map(|s| s.id), Some(ply.id));
    assert!(thicker(1.0 / 32.0).is_none());
}

/// The example's parts all come from the usual rack's sheets, and what is saved comes back.
#[test]
fn the_example_is_planned_and_saved() {
    let mut bench = save::Bench::default();
    let shop = Shop::default();
    bench.work.apply(WorkEdit::Example(LOOSE, 3), &shop);
    let ply = bench.work.rack.stocks.iter().find(|s| s.sheet).unwrap().id;
    assert!(bench.work.parts.iter().all(|e| e.stock == Some(ply)));
    bench.work.apply(WorkEdit::AddOwned(ply), &shop);
    let edit = WorkEdit::Rack { row: Row::Owned(ply, 0), key: "width", text: "20".into() };
    bench.work.apply(edit, &shop);
    let opened = save::read(&save::write(&bench));
    assert_eq!(opened.repaired, Vec::<String>::new());
    assert_eq!(opened.bench, bench);
    let (jobs, _, summary) = planned(&bench.work.parts, &bench.work.rack, 1);
    assert_eq!((jobs.jobs.len(), jobs.jobs[0].is_ripped()), (1, true));
    assert_eq!(jobs.troubles, []);
    assert_eq!(summary.without, []);
    assert_eq!(summary.shown.len(), 1);
}
