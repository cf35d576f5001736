//! From list and rack to the planner, and back to a buy list.

use offsquare_planner::message::{Ask, Message};
use offsquare_planner::{PlanAnswer, Request, plan};
use offsquare_units::kept::Kept;
use offsquare_units::{Currency, Length, Money, Style};
use offsquare_work::cutlist::{
    Entry, Hand, Instance, Jobs, KeptBoard, PartEnd, Planned, Summary, Trouble, best_sizes,
};
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Rack, Sold, Stock};
use serde_json::json;
use std::collections::BTreeSet;

pub const KERF: Length = Length(0.125);

fn entry(id: u32, count: u32, length: f64, left: f64, right: f64) -> Entry {
    Entry {
        id,
        name: format!("Part {id}"),
        count,
        stock: Some(1),
        length: Length(length),
        left: PartEnd::mitered(left),
        right: PartEnd::mitered(right),
        ..Entry::default()
    }
}

fn rack(stock: Stock) -> Rack {
    Rack {
        stocks: vec![Stock {
            id: 1,
            name: "1\u{d7}4 pine".into(),
            thickness: Length(0.75),
            width: Length(3.5),
            ..stock
        }],
        ..Rack::default()
    }
}

fn sold(inches: f64, cents: i64) -> Sold {
    Sold { length: Length(inches), price: Money(cents), ..Sold::default() }
}

fn plain_rack() -> Rack {
    rack(Stock { sold: vec![sold(96.0, 428), sold(72.0, 330)], ..Stock::default() })
}

/// The same, sent: written as a record and read back.
fn sent<T: Kept>(value: &T) -> T {
    T::restore(&value.keep()).expect("what is written is read")
}

/// The same for one piece.
fn of_one(jobs: &Jobs) -> Jobs {
    let mut one = jobs.clone();
    for job in &mut one.jobs {
        let wanted: Vec<&mut u64> = match &mut job.instance {
            Instance::Sticks(of) => of.parts.iter_mut().map(|p| &mut p.qty).collect(),
            Instance::Rectangles(of) => of.parts.iter_mut().map(|p| &mut p.qty).collect(),
        };
        wanted.into_iter().zip(&job.parts).for_each(|(qty, part)| *qty = part.each);
    }
    one
}

pub fn worked(jobs: &Jobs, curve: u32) -> Planned {
    let mut planned = Planned::new(3, jobs);
    let mut run = Request::new(sent(&planned.request(jobs, curve, &of_one(jobs))));
    while !run.is_done() {
        for message in run.step(20_000_000) {
            assert_eq!(sent(&message), message);
            assert!(planned.hear(sent(&message)), "{message:?}");
        }
    }
    assert!(!planned.running);
    planned
}

/// Lengths less trims plus twice the planner's trim, all ways of trimming mixed: a dog-eared picket (1 1/2 in at
/// one end), a sawn offcut (0), a board with a bad stretch. Places come back on the whole board.
#[test]
fn trims_and_bad_stretches_are_taken_out_beforehand() {
    let r = rack(Stock {
        sold: vec![sold(72.0, 300)],
        trim_left: Length(1.5),
        owned: vec![
            Owned { length: Length(30.0), count: 1, ..Owned::default() },
            Owned {
                length: Length(60.0),
                count: 1,
                bad: vec![(Length(20.0), Length(22.0))],
                ..Owned::default()
            },
        ],
        ..Stock::default()
    });
    let jobs = Jobs::of(
        &[entry(1, 1, 30.0, 0.0, 0.0), entry(2, 1, 38.0, 0.0, 0.0), entry(3, 1, 70.5, 0.0, 0.0)],
        &r,
        KERF,
        1,
        &[],
    );
    let job = &jobs.jobs[0];
    let instance = job.instance.sticks().expect("sticks");
    assert_eq!(instance.trim, 0.0);
    let kinds: Vec<(f64, f64, Option<u64>)> =
        instance.boards.iter().map(|b| (b.length, b.price, b.limit)).collect();
    assert_eq!(
        kinds,
        [(30.0, 0.0, Some(1)), (20.0, 0.0, Some(1)), (38.0, 0.0, Some(1)), (70.5, 300.0, None)]
    );
    let starts: Vec<f64> = job.boards.iter().map(|b| b.start).collect();
    assert_eq!(starts, [0.0, 0.0, 22.0, 1.5]);
    // Each part fills its board exactly: 30 and 38 cost nothing, 70 1/2 is the picket.
    assert_eq!(worked(&jobs, 0).money(&jobs, false), Some(Money(300)));
    // One trim everywhere goes to the planner as it is.
    let same = rack(Stock {
        sold: vec![sold(72.0, 300)],
        trim_left: Length(0.5),
        trim_right: Length(0.5),
        ..Stock::default()
    });
    let jobs = Jobs::of(&[entry(1, 1, 71.0, 0.0, 0.0)], &same, KERF, 1, &[]);
    let i = jobs.jobs[0].instance.sticks().expect("sticks");
    assert_eq!((i.trim, i.boards[0].length), (0.5, 72.0));
}

/// The preamble of the plan's definition: a bevelled or compound end goes in as square, its length
/// longer by k(1/|N·e3| − 1); 1/8 in at 60° bevel: 1/8 in.
#[test]
fn ends_that_cannot_nest_go_in_square_and_longer() {
    let mut bevelled = entry(1, 1, 20.0, 0.0, 45.0);
    bevelled.left.bevel = 60.0;
    // On edge: mitered in the other plane, so square too, with k(1/cos 45° − 1).
    let mut on_edge = entry(2, 1, 20.0, 45.0, 0.0);
    (on_edge.seen, on_edge.away) = (Some(Length(0.75)), Some(Length(3.5)));
    let flat = entry(3, 5, 20.0, 30.0, -30.0);
    let jobs = Jobs::of(&[bevelled, on_edge, flat], &plain_rack(), KERF, 2, &[]);
    let instance = jobs.jobs[0].instance.sticks().expect("sticks");
    let parts = &instance.parts;
    assert_eq!(instance.width, 3.5);
    let seen: Vec<(u64, f64, f64)> = parts.iter().map(|p| (p.qty, p.left, p.right)).collect();
    assert_eq!(seen, [(2, 0.0, 45.0), (2, 0.0, 0.0), (10, 30.0, -30.0)]);
    assert!((parts[0].length - 20.125).abs() < 1e-12);
    assert!((parts[1].length - (20.0 + 0.125 * (2f64.sqrt() - 1.0))).abs() < 1e-12);
    assert_eq!(parts[2].length, 20.0);
}

/// Pairs of hands differ only where one face is good.
#[test]
fn pairs_are_mirror_images_where_the_face_matters() {
    let mut pair = entry(1, 5, 20.0, 45.0, 0.0);
    pair.hand = Hand::Pairs;
    let one = Jobs::of(std::slice::from_ref(&pair), &plain_rack(), KERF, 1, &[]);
    assert_eq!(one.jobs[0].parts.len(), 1);
    pair.one_good_face = true;
    let two = Jobs::of(&[pair], &plain_rack(), KERF, 1, &[]);
    let two = two.jobs[0].instance.sticks().expect("sticks");
    let parts: Vec<(u64, f64)> = two.parts.iter().map(|p| (p.qty, p.left)).collect();
    assert_eq!(parts, [(3, 45.0), (2, -45.0)]);
}

fn said(troubles: &[Trouble]) -> Vec<String> {
    troubles.iter().map(|t| t.text.render(&Style::default())).collect()
}

/// What cannot be planned is said with its part and its limit; the rest is planned.
#[test]
fn what_cannot_be_planned_says_which_part_and_why() {
    let mut no_stock = entry(1, 1, 20.0, 0.0, 0.0);
    no_stock.stock = None;
    let crossing = entry(2, 1, 3.0, 45.0, 45.0);
    let mut wide = entry(3, 1, 20.0, 0.0, 0.0);
    wide.seen = Some(Length(5.5));
    let mut narrow = entry(4, 1, 20.0, 0.0, 0.0);
    narrow.seen = Some(Length(2.0));
    let jobs = Jobs::of(&[no_stock, crossing.clone(), wide, narrow], &plain_rack(), KERF, 1, &[]);
    let all = said(&jobs.troubles);
    assert_eq!(all.len(), 2, "{all:?}");
    assert!(all[0].contains("Part 1") && all[0].contains("stock"), "{all:?}");
    assert!(all[1].contains("5 1/2") && all[1].contains("3 1/2"), "{all:?}");
    // What is narrower is ripped: the stock's parts that can be cut go to the planner of strips.
    assert_eq!((jobs.jobs.len(), jobs.jobs[0].is_ripped(), jobs.jobs[0].parts.len()), (1, true, 2));
    // Two 45° ends over 3 1/2 in need a long edge of 7 in.
    let square = entry(5, 1, 20.0, 0.0, 0.0);
    let jobs = Jobs::of(&[crossing, square], &plain_rack(), KERF, 1, &[]);
    let why = said(&jobs.troubles);
    assert!(why[0].contains("Part 2") && why[0].contains("7 in"), "{why:?}");
    assert_eq!(jobs.jobs[0].parts.len(), 1);

    // Too long for every board, and not enough boards.
    let long = Jobs::of(&[entry(1, 1, 99.5, 0.0, 0.0)], &plain_rack(), KERF, 1, &[]);
    let summary =
        Summary::of(&long, &worked(&long, 0), false, &plain_rack(), &[entry(1, 1, 99.5, 0.0, 0.0)]);
    let why = summary.without[0].render(&Style::default());
    assert!(why.contains("Part 1") && why.contains("99 1/2") && why.contains("96"), "{why}");
    let mut few = plain_rack();
    few.stocks[0].sold[0].left = Some(1);
    few.stocks[0].sold[1].left = Some(0);
    let short = Jobs::of(&[entry(1, 4, 60.0, 0.0, 0.0)], &few, KERF, 1, &[]);
    let summary = Summary::of(&short, &worked(&short, 0), false, &few, &[]);
    assert!(summary.without[0].render(&Style::default()).contains("not enough"));
}

/// What the worker sends is what the planner finds, to the bit: money, boards, curve.
#[test]
fn messages_carry_the_plan_exactly() {
    let entries = [
        entry(1, 7, 14.4375, 45.0, -45.0),
        entry(2, 5, 31.0 + 1.0 / 3.0, 22.5, 10.1),
        entry(3, 9, 17.3, 0.0, 0.0),
    ];
    let jobs = Jobs::of(&entries, &plain_rack(), KERF, 3, &[]);
    let planned = worked(&jobs, 4);
    let PlanAnswer::Plan(direct) = plan(jobs.jobs[0].instance.sticks().expect("sticks")) else {
        panic!("a plan");
    };
    let best = planned.plan(0, false).expect("a plan");
    assert_eq!(best.price, direct.price);
    assert_eq!(best.bound, direct.bound);
    jobs.jobs[0].instance.verify(&best.boards).expect("a sound plan");
    assert!(planned.money(&jobs, true) >= planned.money(&jobs, false));
    let sizes: Vec<u32> = planned.curve.iter().map(|c| c.0).collect();
    assert_eq!(sizes, [1, 2, 3, 4]);
    assert_eq!(Some(planned.curve[2].1), planned.money(&jobs, false));
    // Another request's messages, and those after a stop, are dropped.
    let mut other = Planned::new(4, &jobs);
    let mut run = Request::new(planned.request(&jobs, 0, &Jobs::default()));
    let first = run.step(1_000_000_000).remove(0);
    assert!(!other.hear(first.clone()));
    let mut stopped = Planned::new(3, &jobs);
    assert!(stopped.hear(first.clone()));
    stopped.stop();
    assert!(!stopped.hear(first.clone()));
    // Neither a job that the request does not have, nor a record of another version, does anything.
    let mut astray = first.keep();
    astray["id"] = json!(4);
    astray["about"]["job"] = json!(9);
    assert!(!other.hear(Message::restore(&astray).expect("a message")));
    for (path, junk) in
        [("/about/news", json!(1)), ("/about/about", json!("x")), ("", json!("end"))]
    {
        let mut message = first.keep();
        *message.pointer_mut(path).expect(path) = junk;
        assert_eq!(Message::restore(&message), None, "{path}");
    }
    let mut ask = planned.request(&jobs, 0, &Jobs::default()).keep();
    assert!(Ask::restore(&ask).is_some());
    ask["sticks"][0]["rest"]["kerf"] = json!(null);
    assert_eq!(Ask::restore(&ask), None);
}

/// A kept board stays as it is when the list changes around it, and lets go when its part changes.
#[test]
fn a_kept_board_is_held_until_its_part_changes() {
    let r = plain_rack();
    let mut entries = vec![entry(1, 4, 20.0, 0.0, 0.0), entry(2, 3, 25.0, 45.0, 45.0)];
    let jobs = Jobs::of(&entries, &r, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let cut = planned.boards(&jobs, 0, false).expect("a plan")[0].clone();
    let kept: Vec<KeptBoard> = vec![jobs.jobs[0].to_keep(&cut)];
    entries.push(entry(3, 6, 11.0, 0.0, 0.0));
    let jobs = Jobs::of(&entries, &r, KERF, 1, &kept);
    assert!(jobs.troubles.is_empty(), "{:?}", said(&jobs.troubles));
    let planned = worked(&jobs, 0);
    let boards = planned.boards(&jobs, 0, false).expect("a plan");
    assert_eq!(boards[0].parts.len(), cut.parts.len());
    for (a, b) in boards[0].parts.iter().zip(&cut.parts) {
        assert_eq!((a.x, a.turned, a.flipped), (b.x, b.turned, b.flipped));
    }
    jobs.jobs[0].instance.verify(&boards).expect("kept and planned together are sound");
    // The order of cuts goes over all boards: no part is as long as its board, so each takes a cut.
    let shown = &Summary::of(&jobs, &planned, false, &r, &entries).shown[0];
    assert!(boards.len() > 1);
    for alike in &shown.lying {
        let cuts = shown.order.cuts.iter().filter(|c| c.board == alike.members[0]).count();
        assert!(cuts >= alike.cut.parts.len(), "board {}: {cuts} cuts", alike.number);
    }
    let members = shown.lying.iter().flat_map(|l| l.members.iter().copied());
    assert_eq!(members.collect::<BTreeSet<usize>>().len(), boards.len());
    assert!(shown.order.cuts.iter().all(|c| c.board < boards.len()));
    assert!(planned.bound(&jobs) <= planned.money(&jobs, false));
    // Nothing on the kept board may change unsaid.
    let on = jobs.jobs[0].parts[cut.parts[0].part].entry;
    for e in entries.iter_mut().filter(|e| e.id == on) {
        e.length = Length(19.0);
    }
    let jobs = Jobs::of(&entries, &r, KERF, 1, &kept);
    assert_eq!(jobs.troubles[0].kept, Some(0));
    assert!(jobs.jobs[0].kept.is_empty());
}

/// Cutting takes owned boards off the rack, counts bought ones down, keeps what is worth keeping, and marks the
/// parts as cut. 96 − 80 − 1/8 = 15 7/8 is kept, 30 − 29 − 1/8 is not.
#[test]
fn leftovers_go_to_the_rack_after_cutting() {
    let mut work = Work {
        rack: rack(Stock {
            sold: vec![Sold { left: Some(5), ..sold(96.0, 428) }],
            owned: vec![Owned { length: Length(30.0), count: 2, ..Owned::default() }],
            ..Stock::default()
        }),
        parts: vec![entry(1, 1, 80.0, 0.0, 0.0), entry(2, 1, 29.0, 0.0, 0.0)].into(),
        ..Work::default()
    };
    let shop = Shop::default();
    let jobs = work.jobs(&shop);
    let planned = worked(&jobs, 0);
    let put = work.summary(&jobs, &planned).put_away(&jobs, &work.rack);
    work.apply(WorkEdit::PutAway(put), &shop);
    let stock = &work.rack.stocks[0];
    assert_eq!(stock.sold[0].left, Some(4));
    let owned: Vec<(f64, u32)> = stock.owned.iter().map(|o| (o.length.0, o.count)).collect();
    assert_eq!(owned, [(30.0, 1), (15.875, 1)]);
    assert!(work.parts.iter().all(|e| e.done));
    assert!(work.jobs(&shop).jobs.is_empty());
}

/// Three 32 in parts are 1/4 in too long for 8 ft: a hair less on each saves a board, and one tap applies it.
#[test]
fn what_nearly_fits_is_told_and_applied() {
    let mut work = Work {
        rack: rack(Stock { sold: vec![sold(96.0, 428)], ..Stock::default() }),
        parts: vec![entry(1, 3, 32.0, 0.0, 0.0)].into(),
        ..Work::default()
    };
    let shop = Shop::default();
    let before = work.jobs(&shop);
    let planned = worked(&before, 0);
    assert_eq!(planned.money(&before, false), Some(Money(856)));
    let nearly = planned.results[0].nearly.clone().expect("it nearly fits");
    assert!(!nearly.over && (nearly.by.0 - 0.25 / 3.0).abs() < 1e-5, "{nearly:?}");
    work.apply(WorkEdit::NearlyFits { job: 0, nearly: Box::new(nearly) }, &shop);
    let jobs = work.jobs(&shop);
    assert_eq!(worked(&jobs, 0).money(&jobs, false), Some(Money(428)));
    assert_eq!(work.parts[0].length, Length(32.0));
}

/// Two strips of 1 11/16 and a kerf are the 3 1/2 of a 1×4: eight slats of 47 15/16 come from two boards of 8 ft,
/// ripped; and the plan that arrives is one that the strips' own verifier takes.
#[test]
fn narrower_parts_are_ripped_from_their_stock() {
    let mut slat = entry(1, 8, 47.9375, 0.0, 0.0);
    slat.seen = Some(Length(1.6875));
    let r = rack(Stock { sold: vec![sold(96.0, 428)], ..Stock::default() });
    let jobs = Jobs::of(std::slice::from_ref(&slat), &r, KERF, 1, &[]);
    let planned = worked(&jobs, 3);
    assert_eq!(planned.money(&jobs, false), Some(Money(856)));
    assert_eq!(planned.bound(&jobs), Some(Money(856)));
    let plan = planned.plan(0, false).expect("a plan");
    assert!(jobs.jobs[0].is_ripped());
    jobs.jobs[0].instance.verify(&plan.boards).expect("a sound plan");
    let costs: Vec<i64> = planned.curve.iter().map(|c| c.1.0).collect();
    assert_eq!(costs, [856, 1712, 2568]);
    let summary = Summary::of(&jobs, &planned, false, &r, std::slice::from_ref(&slat));
    assert_eq!((summary.shown[0].lying.len(), summary.shown[0].buy[0].count), (1, 2));
    let cuts =
        offsquare_work::cutlist::rip_steps(&jobs.jobs[0], &summary.shown[0].lying[0].cut, &[slat]);
    assert!(
        cuts.iter().any(|s| s.words.render(&Style::default()).contains("rip at 1 11/16 in")),
        "{cuts:?}"
    );
}

/// 96 in less a trim of 1 in at either end leave 94; a batch that only grows dearer has no best size.
#[test]
fn what_is_too_long_is_told_what_the_longest_board_gives() {
    let r = rack(Stock {
        sold: vec![sold(96.0, 428), sold(72.0, 300)],
        trim_left: Length(1.0),
        trim_right: Length(1.0),
        ..Stock::default()
    });
    let entries = [entry(1, 1, 94.5, 0.0, 0.0)];
    let jobs = Jobs::of(&entries, &r, KERF, 1, &[]);
    let summary = Summary::of(&jobs, &worked(&jobs, 0), false, &r, &entries);
    let told: Vec<String> = summary.without.iter().map(|t| t.render(&Style::default())).collect();
    assert!(told[0].contains("94 1/2 in long"), "{told:?}");
    assert!(told[0].contains("the longest board gives 94 in"), "{told:?}");
    let dearer = [(1, Money(100)), (2, Money(300)), (3, Money(600))];
    assert_eq!(best_sizes(&dearer, &Currency::default()), "");
}

/// The ends of a part in a row of the list.
#[test]
fn ends_are_told_by_their_angles() {
    assert_eq!(PartEnd::SQUARE.words(), "square");
    assert_eq!(PartEnd::mitered(-45.0).words(), "45.0° miter");
    let both = PartEnd { bevel: 30.0, ..PartEnd::mitered(22.5) };
    assert_eq!(both.words(), "22.5° miter + 30.0° bevel");
    let upright = PartEnd { bevel: 30.0, ..PartEnd::SQUARE };
    assert_eq!(upright.words(), "30.0° bevel");
}
