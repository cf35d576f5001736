//! Boards with trims of their own and bad stretches: every cut that they need is in the run, and none more.

use crate::{one_stock, plan_anew, run, start, to_the_end, worked};
use offsquare_cuts::parts::Side;
use offsquare_tests::dice::Dice;
use offsquare_units::{Length, Money};
use offsquare_work::cutlist::{Entry, PartEnd};
use offsquare_work::piece::{Reason, Shop, Work, WorkEdit};
use offsquare_work::rack::{Owned, Rack, Sold};
use offsquare_work::run::{Kerf, Kind};
use offsquare_work::walk::{AtSaw, Stage, Walk, What};
use std::collections::BTreeMap;

const NEAR: f64 = 1e-6;

/// A rack of one stock, its boards with a trim each or none, some with bad stretches.
fn rack(dice: &mut Dice) -> Rack {
    let mut rack = one_stock(96.0, 700);
    let stock = &mut rack.stocks[0];
    let trims = [0.0, 0.25, 0.5, 1.5];
    let trim = |dice: &mut Dice| Length(trims[dice.below(4)]);
    for _ in 0..1 + dice.below(3) {
        let length = [40.0, 60.0, 84.0][dice.below(3)];
        let bad = |dice: &mut Dice, from: f64| {
            let from = from + dice.below(16) as f64;
            (Length(from), Length(from + [0.0625, 0.125, 0.25, 3.0][dice.below(4)]))
        };
        let bad = match dice.below(3) {
            0 => vec![bad(dice, 14.0)],
            1 if length > 50.0 => vec![bad(dice, 10.0), bad(dice, 34.0)],
            _ => Vec::new(),
        };
        let count = 1 + dice.below(2) as u32;
        let (trim_left, trim_right) = (trim(dice), trim(dice));
        let new =
            Owned { length: Length(length), count, bad, trim_left, trim_right, ..Owned::default() };
        stock.owned.push(new);
    }
    (stock.trim_left, stock.trim_right) = (trim(dice), trim(dice));
    stock.sold.push(Sold { length: Length(120.0), price: Money(880), ..Sold::default() });
    rack
}

fn random(dice: &mut Dice) -> Work {
    let mut work = Work { rack: rack(dice), ..Work::default() };
    // Now and then parts that just fill a stretch.
    let stretches: Vec<f64> = work.rack.stocks[0]
        .owned
        .iter()
        .flat_map(|o| o.usable(Length(0.125)))
        .map(|(from, to)| (to - from).0)
        .collect();
    for id in 1..=1 + dice.below(4) as u32 {
        let fills = stretches.iter().copied().filter(|s| *s > 6.0).nth(dice.below(3));
        let length = fills.filter(|_| dice.one_in(3)).unwrap_or(5.0 + dice.below(240) as f64 / 8.0);
        let end = |dice: &mut Dice| {
            let miter = [0.0, 0.0, 0.0, 22.5, -22.5, 45.0][dice.below(6)];
            let bevel = if miter == 0.0 && dice.one_in(8) { 30.0 } else { 0.0 };
            PartEnd { miter, bevel, pointed: false }
        };
        let (left, right) = (end(dice), end(dice));
        work.parts.push(Entry {
            id,
            name: format!("part {id}"),
            count: 1 + dice.below(5) as u32,
            stock: Some(1),
            length: Length(length),
            left,
            right,
            ..Entry::default()
        });
    }
    work
}

/// A random list with its run begun; none where it cannot be cut.
fn begun(dice: &mut Dice, shop: &Shop) -> Option<Work> {
    let mut work = random(dice);
    let all = work.jobs(shop);
    let summary = work.summary(&all, &worked(&all));
    if !all.troubles.is_empty() || !summary.without.is_empty() {
        return None;
    }
    start(&mut work, shop);
    Some(work)
}

/// What is known of one place: its extent on its board, and the step and x of the cuts at its two ends.
#[derive(Default)]
struct Known {
    ends: [Option<usize>; 2],
    freed: Option<usize>,
}

fn reach(face: (f64, f64), back: f64, most: bool) -> f64 {
    let all = [face.0, face.1, face.0 + back, face.1 + back];
    all.into_iter().reduce(if most { f64::max } else { f64::min }).expect("four corners")
}

/// The wood of a board between two cuts, where those run at its edges.
fn holds(cut: &AtSaw, made: &[Kerf], length: f64) {
    let [left, right] = cut.cutting.faces();
    let edge = |p: (f64, f64)| if cut.cutting.flipped { p.0 } else { p.1 };
    // Halfway through the board no two kerfs change places.
    let lies = |k: &&Kerf| k.middle < cut.cutting.middle;
    let before = made.iter().filter(lies).map(|k| edge(k.faces[1]));
    let after = made.iter().filter(|k| !lies(k)).map(|k| edge(k.faces[0]));
    let (from, to) = (before.fold(0.0, f64::max), after.fold(length, f64::min));
    let wood = [edge(cut.cutting.wood[0]), edge(cut.cutting.wood[1])];
    assert!(
        (wood[0] - from).abs() < NEAR && (wood[1] - to).abs() < NEAR,
        "{wood:?} {from} {to} {made:?} {cut:?}"
    );
    let held = match cut.cutting.held_side {
        Side::Left => edge(left) - from,
        _ => to - edge(right),
    };
    assert!((held.max(0.0) - cut.cutting.held).abs() < NEAR, "{held} {:?}", cut.cutting);
    if held < 8.0 - NEAR {
        assert!(!cut.cutting.cautions.is_empty(), "{:?}", cut.cutting);
    }
    if let Some(stop) = cut.set_up.stop {
        assert_eq!(stop.side, cut.cutting.held_side);
    }
}

/// Every sentence that must hold of a run, over the boards as the rack has them.
fn check(work: &Work) -> [usize; 3] {
    let begun = run(work);
    let walk = Walk::of(begun);
    let rows = &begun.of.rack.stocks[0].owned;
    let mut known: BTreeMap<(u32, u32), Known> = BTreeMap::new();
    let mut made: BTreeMap<usize, BTreeMap<usize, Kerf>> = BTreeMap::new();
    let mut longest: BTreeMap<(usize, usize), f64> = BTreeMap::new();
    let (mut trims, mut together) = (0, 0);
    let whole = |n: u32| walk.wholes.iter().position(|w| w.numbers.contains(&n)).expect("a board");
    for (i, stage) in walk.stages.iter().enumerate() {
        let What::Cut(cut) = &stage.what else { continue };
        let number = stage.tick.board;
        let at = whole(number);
        let board = walk.board(number).expect("a board");
        let [left, _] = cut.cutting.faces();
        let own = made.entry(at).or_default();
        holds(cut, &own.values().copied().collect::<Vec<_>>(), board.length.0);
        assert!(own.insert(cut.cutting.cut, cut.cutting.kerf()).is_none());
        for (side, place) in cut.sides.iter().enumerate().filter_map(|(s, p)| Some((s, (*p)?))) {
            let of = known.entry((number, place)).or_default();
            assert!(of.ends[1 - side].replace(i).is_none(), "{number} {place} twice");
        }
        let length =
            |p: u32| walk.kinds[board.job][board.cut.parts[p as usize].part].on_board.length.0;
        let before = longest.get(&(at, cut.cutting.set_up)).copied().unwrap_or(0.0);
        for free in &cut.cutting.frees {
            let place = free.place as u32;
            assert!(known.get_mut(&(number, place)).expect("cut").freed.replace(i).is_none());
            assert!(length(place) >= before - NEAR, "{:?}", cut.cutting);
            let most = longest.entry((at, cut.cutting.set_up)).or_insert(0.0);
            *most = most.max(length(place));
        }
        // A trim takes a raw end off, square.
        if cut.cutting.kind == Kind::Trim {
            assert!(left.0 == left.1 && cut.sides.iter().flatten().count() == 1);
            trims += 1;
        }
    }
    for (number, board) in (0..).zip(walk.boards.iter().flatten()) {
        let of = &walk.wholes[whole(number)];
        together += usize::from(of.numbers.len() > 1);
        let row = of.owned.map(|row| &rows[row]);
        let stock = &begun.of.rack.stocks[0];
        let clear = row.map_or_else(
            || vec![(stock.trim_left, board.length - stock.trim_right)],
            |row| row.usable(Length(0.0)),
        );
        assert_eq!(row.map(|r| r.length).unwrap_or(board.length), board.length);
        let kinds = &walk.jobs.jobs[board.job].instance.sticks().expect("sticks").parts;
        for (place, p) in (0..).zip(&board.cut.parts) {
            let length = kinds[p.part].length;
            let lies = [p.x + board.start, p.x + board.start + length];
            // It lies in wood that is good.
            let good = |s: &(Length, Length)| s.0.0 <= lies[0] + NEAR && lies[1] <= s.1.0 + NEAR;
            assert!(clear.iter().any(good), "{lies:?} {clear:?}");
            let own = known.remove(&(number, place)).unwrap_or_default();
            let kind = &walk.kinds[board.job][p.part].on_board;
            let ends = if p.turned { [kind.right, kind.left] } else { [kind.left, kind.right] };
            for side in 0..2 {
                let edge = [0.0, board.length.0][side];
                let own_end = ends[side].is_square() && (lies[side] - edge).abs() < NEAR;
                // Finished once, but where a square end is the board's own, and that gives nothing up.
                assert_eq!(
                    own.ends[side].is_none(),
                    own_end,
                    "{number} {place} {lies:?} {clear:?}"
                );
                let Some(step) = own.ends[side] else { continue };
                let What::Cut(cut) = &walk.stages[step].what else { unreachable!() };
                let face = cut.cutting.faces()[1 - side];
                let tip = reach(face, cut.back(kind.away.0), side == 1);
                let more = if ends[side].bevel == 0.0 { 0.0 } else { cut.cutting.along - 0.125 };
                let stands = if side == 1 { lies[1] - more } else { lies[0] + more };
                assert!((tip - stands).abs() < NEAR, "{number} {place}: {tip} {stands}");
                let rim = if side == 0 { clear[0].0 } else { clear[clear.len() - 1].1 };
                let trim = ends[side].is_square() && (tip - rim.0).abs() < NEAR;
                let alone = cut.sides.iter().flatten().count() == 1;
                assert_eq!(cut.cutting.kind == Kind::Trim, trim && alone, "{tip} {clear:?}");
            }
            // No kerf of the board enters it.
            let face = |side: usize| match own.ends[side].map(|step| &walk.stages[step].what) {
                Some(What::Cut(cut)) => cut.cutting.faces()[1 - side],
                _ => ([0.0, board.length.0][side], [0.0, board.length.0][side]),
            };
            let (from, to) = (face(0), face(1));
            for Kerf { faces: [left, right], .. } in
                made.get(&whole(number)).into_iter().flat_map(BTreeMap::values)
            {
                let before = right.0 <= from.0 + NEAR && right.1 <= from.1 + NEAR;
                let after = left.0 >= to.0 - NEAR && left.1 >= to.1 - NEAR;
                assert!(before || after, "{number} {place}: {left:?} {right:?}");
            }
            assert_eq!(own.freed, own.ends.into_iter().flatten().max());
        }
    }
    assert!(known.is_empty());
    [trims, together, walk.stages.len()]
}

/// What comes to the rack if the run ends now is in hand: beside it and what is made there is room for every cut that was
/// made, and of what is longer than the rack keeps nothing else is left.
fn in_hand(walk: &Walk, work: &Work) -> usize {
    let begun = run(work);
    let outcome = walk.outcome(begun);
    let (mut wood, mut cuts) = (0.0, 0);
    let touched = |n: &u32| begun.done.iter().any(|t| t.board == *n);
    for whole in walk.wholes.iter().filter(|w| w.numbers.iter().any(touched)) {
        wood += walk.board(whole.numbers[0]).expect("a board").length.0;
        cuts += begun.done.iter().filter(|t| whole.numbers.contains(&t.board)).count();
    }
    let long = |id: u32| work.parts.iter().find(|e| e.id == id).expect("a part").length.0;
    let made: f64 = outcome.made.iter().map(|(of, n)| long(of.0) * f64::from(*n)).sum();
    let kept = outcome.put_away.iter().flat_map(|p| &p.kept);
    let left: f64 = kept.clone().map(|o| o.length.0 * f64::from(o.count)).sum();
    assert!(kept.clone().all(|o| o.length - o.trim_left - o.trim_right >= begun.of.rack.keep));
    assert!(left <= wood + NEAR, "{left} {wood}");
    // Miters that nest share wood at their ends: of parts no wider than 1 1/2 in, less than 1 1/2 in for each cut.
    assert!(left + made - 1.5 * cuts as f64 <= wood + NEAR, "{left} {made} {wood}");
    kept.count()
}

/// By board, the kerfs of cuts that were made.
type Made = BTreeMap<u32, Vec<Kerf>>;

/// Each cut that is left finds the wood as the cuts before it leave it.
fn goes_on_as_it_lies(walk: &Walk, work: &Work, made: &Made) {
    let mut made = made.clone();
    for stage in walk.stages.iter().filter(|s| !run(work).done.contains(&s.tick)) {
        let What::Cut(cut) = &stage.what else { continue };
        let number = stage.tick.board;
        let own: Vec<Kerf> =
            walk.whole(number).iter().filter_map(|n| made.get(n)).flatten().copied().collect();
        holds(cut, &own, walk.board(number).expect("a board").length.0);
        made.entry(number).or_default().push(cut.cutting.kerf());
    }
}

/// Parts skipped while half of the boards are cut: what is left of them, and their other stretches, are cut as they lie.
#[test]
fn what_is_skipped_leaves_boards_as_they_lie() {
    let mut dice = Dice(77);
    let shop = Shop::default();
    let (mut jobs, mut anew) = (0, 0);
    while jobs < 150 {
        let Some(mut work) = begun(&mut dice, &shop) else { continue };
        jobs += 1;
        let mut made = Made::new();
        for _ in 0..3 {
            let mut walk = Walk::of(run(&work));
            for _ in 0..dice.below(walk.stages.len()) {
                let Some(at) = walk.next(run(&work)) else { break };
                let Stage { tick, what } = &walk.stages[at];
                work.apply(WorkEdit::Tick(*tick), &shop);
                if let What::Cut(cut) = what {
                    made.entry(tick.board).or_default().push(cut.cutting.kerf());
                }
                walk = Walk::of(run(&work));
                goes_on_as_it_lies(&walk, &work, &made);
            }
            let Some(at) = walk.next(run(&work)) else { break };
            let places = match dice.one_in(2) {
                true => walk.touched(&walk.stages[at], run(&work)),
                false => walk.rest(walk.stages[at].tick.board, run(&work)),
            };
            work.apply(WorkEdit::Skip { reason: Reason::Knot, places }, &shop);
            goes_on_as_it_lies(&Walk::of(run(&work)), &work, &made);
            if run(&work).open().is_some() {
                plan_anew(&mut work, &shop);
            }
            let walk = Walk::of(run(&work));
            let stretch = |b: u32| walk.whole(b).len() > 1 && walk.whole(b)[0] != b;
            let first = run(&work).of.boards.len() as u32;
            anew += (first..walk.boards.len() as u32).filter(|b| stretch(*b)).count();
            goes_on_as_it_lies(&walk, &work, &made);
        }
    }
    assert!(anew > 5, "stretches of boards that were begun: {anew}");
}

#[test]
fn every_board_is_cut_as_it_lies() {
    let mut dice = Dice(51);
    let shop = Shop::default();
    let (mut sum, mut jobs, mut kept) = ([0; 3], 0, 0);
    while jobs < 400 {
        let Some(mut work) = begun(&mut dice, &shop) else { continue };
        jobs += 1;
        let found = check(&work);
        sum = [sum[0] + found[0], sum[1] + found[1], sum[2] + found[2]];
        // Ended early, then at its end: as many of each row are used up as were cut.
        let parts: u32 = work.parts.iter().map(|e| e.count).sum();
        let walk = Walk::of(run(&work));
        for _ in 0..dice.below(walk.stages.len() + 1) {
            let at = walk.next(run(&work)).expect("a step");
            work.apply(WorkEdit::Tick(walk.stages[at].tick), &shop);
            kept += in_hand(&walk, &work);
        }
        to_the_end(&mut work, &shop);
        let walk = Walk::of(run(&work));
        let outcome = walk.outcome(run(&work));
        assert_eq!(outcome.made.values().sum::<u32>(), parts);
        let used: u32 = outcome.put_away.iter().flat_map(|p| &p.cut).map(|c| c.1).sum();
        let bought: u32 = outcome.put_away.iter().flat_map(|p| &p.bought).map(|c| c.1).sum();
        assert_eq!((used + bought) as usize, walk.wholes.len());
        for (row, n) in outcome.put_away.iter().flat_map(|p| &p.cut) {
            assert!(*n <= work.rack.stocks[0].owned[*row].count);
        }
    }
    assert!(kept > 1_000, "{kept}");
    println!(
        "{jobs} jobs: {} trims, {} stretches of boards cut as one, {} steps",
        sum[0], sum[1], sum[2]
    );
    assert!(sum[0] > 200 && sum[1] > 200);
}
