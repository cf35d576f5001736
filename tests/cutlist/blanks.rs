//! Parts whose ends are more than one cut: how long their blanks are, how they are spaced, and which cuts
//! remain on them.

use crate::jobs::{KERF, worked};
use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::parts::{End, Part};
use offsquare_cuts::saw::SawProfile;
use offsquare_planner::{PlanAnswer, plan};
use offsquare_units::{Length, Money, Style, Unit, record};
use offsquare_work::cutlist::{Entry, Jobs, OrderLine, Summary, blank_lines, order, order_lines};
use offsquare_work::rack::{Rack, Sold, Stock, Written};

/// Knuth's linear congruential generator (MMIX), upper bits used.
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.share()
    }
}

fn end_board(sizes: &[(&'static str, f64)], grain: &'static str) -> Part {
    let mut inputs = Inputs::of_form("single");
    for (key, inches) in sizes {
        inputs.set(key, Value::Length(Length(*inches)));
    }
    inputs.set("grain", Value::Choice(grain));
    let layout = layouts::find("end_board").expect("the layout");
    let outcome = layout.solve(&inputs, Detail::Full);
    let mut solutions = outcome.solutions;
    assert!(!solutions.is_empty(), "{sizes:?} {:?}", outcome.problems);
    solutions.remove(0).parts.remove(0)
}

fn entry(part: &Part, count: u32) -> Entry {
    let mut entry = Entry { id: 1, count, stock: Some(1), ..Entry::default() };
    entry.take(part);
    Entry { name: "End board".into(), away: None, ..entry }
}

fn rack(width: f64, length: f64) -> Rack {
    Rack {
        stocks: vec![Stock {
            id: 1,
            name: "wide pine".into(),
            thickness: Length(0.75),
            width: Length(width),
            sold: vec![Sold { length: Length(length), price: Money(1450), ..Sold::default() }],
            ..Stock::default()
        }],
        ..Rack::default()
    }
}

/// Eight of base 12, top 5, height 9 1/4, shoulder 3 from a 1×10 (9 1/4 wide). Blanks of 12 in and kerfs of 1/8:
/// the n-th starts at 12 1/8 n; seven take 84 3/4 of 96, the eighth a second board. On each blank two slopes,
/// atan(3 1/2 / 6 1/4) = 29.249°: one change of the saw, to its mark of 29°. In the square order 6 cuts part seven
/// blanks, one more frees the last, and one the eighth: 8, and 16 slopes.
#[test]
fn shouldered_boards_are_square_blanks_and_then_slopes() {
    let sizes =
        [("base_width", 12.0), ("top_width", 5.0), ("height", 9.25), ("shoulder_height", 3.0)];
    let list = [entry(&end_board(&sizes, "level"), 8)];
    let rack = rack(9.25, 96.0);
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    let shown = &summary.shown[0];
    assert_eq!(shown.boards.len(), 2);
    let mut full = shown.boards.iter().filter(|b| b.parts.len() == 7);
    for (n, p) in full.next().expect("seven on a board").parts.iter().enumerate() {
        assert!((p.x - 12.125 * n as f64).abs() < 1e-9, "{n}: {}", p.x);
    }
    assert_eq!((shown.order.cuts.len(), shown.order.saw_changes), (24, 1));
    let lines = order_lines(
        &jobs.jobs[0],
        shown,
        &list,
        &SawProfile { width_square: Length(12.0), width_at_45: Length(8.5), ..SawProfile::usual() },
    );
    let text = |s: &OrderLine| match s {
        OrderLine::Saw(t) | OrderLine::Stop(t) | OrderLine::Cut(t) => t.render(&Style::default()),
    };
    let all: Vec<String> = lines.iter().map(text).collect();
    // From the outline: 3 in up the end, then 3 1/2 in along the top edge.
    for wanted in [
        "Set the saw square.",
        "Stop block at 12 in: End board, 8 pieces.",
        "Set the saw to 29.0° (exactly 29.2°).",
        "End board, 8 blanks: left slope, from 3 in up the left end to 3 1/2 in along the upper edge from its left end.",
        "End board, 8 blanks: right slope, from 3 in up the right end to 3 1/2 in along the upper edge from its right end.",
    ] {
        assert!(all.iter().any(|l| l == wanted), "{wanted} in {all:#?}");
    }
}

/// The outline's extent along the board, from its corners.
fn extent(part: &Part) -> f64 {
    let xs = part.outline.0.iter().map(|p| p.x);
    xs.clone().fold(f64::NEG_INFINITY, f64::max) - xs.fold(f64::INFINITY, f64::min)
}

/// Any shouldered, gabled or lopsided board, either way of the grain: its blank is as long as its outline, two
/// neighbors that are square stand one kerf apart, and every slope of every part is a cut, on its blank or of the
/// stick itself.
#[test]
fn any_end_board_is_planned_as_its_outline_and_all_of_its_slopes_are_cut() {
    let mut dice = Dice(9);
    let mut shouldered = 0;
    for case in 0..10_000 {
        let base = dice.between(3.0, 20.0);
        let height = dice.between(2.0, 12.0);
        let gable = dice.share() < 0.25;
        let left = if gable { base * dice.share() } else { dice.between(-4.0, base * 0.45) };
        let right = if gable { base - left } else { dice.between(-4.0, base * 0.45) };
        let shoulder = if dice.share() < 0.7 { height * dice.between(0.05, 0.95) } else { 0.0 };
        let grain = if dice.share() < 0.5 { "level" } else { "upright" };
        let sizes = [
            ("base_width", base),
            ("height", height),
            ("shoulder_height", shoulder),
            ("left_inset", left),
            ("right_inset", right),
        ];
        let part = end_board(&sizes, grain);
        let list = [entry(&part, 3)];
        let rack = rack(part.seen.0, 4.0 * extent(&part) + 10.0);
        let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
        let what = format!("case {case}: {sizes:?} {grain}");
        assert!(jobs.troubles.is_empty() && jobs.jobs.len() == 1, "{what}");
        let job = &jobs.jobs[0];
        let instance = job.instance.sticks().expect("sticks");
        let kind = &instance.parts[0];
        assert!((kind.length - extent(&part)).abs() < 1e-9, "{what}: {}", kind.length);
        let square = kind.left == 0.0 && kind.right == 0.0;
        let PlanAnswer::Plan(found) = plan(instance) else { panic!("{what}") };
        if square {
            for pair in found.boards[0].parts.windows(2) {
                let gap = pair[1].x - pair[0].x - kind.length;
                assert!((gap - 0.125).abs() < 1e-9, "{what}: {gap}");
            }
        }
        let each: Vec<Vec<usize>> = (0..found.boards.len()).map(|b| vec![b]).collect();
        let cuts = order(job, &found.boards, &each, false);
        let on_blanks = cuts.cuts.iter().filter(|c| c.nth.is_some());
        // A side that flares over its shoulder leaves no square end: its upright edge is a cut, too.
        let flares = [left, right].iter().filter(|i| **i < 0.0).count();
        let uprights = if grain == "level" && shoulder > 0.0 { flares } else { 0 };
        let nested = usize::from(kind.left != 0.0) + usize::from(kind.right != 0.0);
        assert_eq!(on_blanks.count(), 3 * (2 + uprights - nested), "{what}");
        shouldered += usize::from(shoulder > 0.0);
    }
    assert!((6_500..7_500).contains(&shouldered));
}

/// A brace with a point at each end: blanks from point to point, a kerf apart, its four cuts on each of them. Its
/// readings, 90° − t and t with t = atan(44 / 30) = 55.713°, are two settings beside square.
#[test]
fn a_pointed_brace_is_a_square_blank_with_four_cuts() {
    let mut inputs = Inputs::of_form("single");
    for (key, inches) in [("opening_width", 30.0), ("opening_height", 44.0), ("strip_width", 2.5)] {
        inputs.set(key, Value::Length(Length(inches)));
    }
    inputs.set("ends", Value::Choices(vec!["corner"]));
    let outcome = layouts::find("brace").expect("brace").solve(&inputs, Detail::Full);
    let part = &outcome.solutions[0].parts[0];
    let list = [entry(part, 2)];
    let jobs = Jobs::of(&list, &rack(2.5, 120.0), KERF, 1, &[]);
    let job = &jobs.jobs[0];
    // Point to point is the diagonal.
    let instance = job.instance.sticks().expect("sticks");
    assert!((instance.parts[0].length - 30f64.hypot(44.0)).abs() < 1e-9);
    let PlanAnswer::Plan(found) = plan(instance) else { panic!("a plan") };
    let placed = &found.boards[0].parts;
    assert!((placed[1].x - placed[0].x - 30f64.hypot(44.0) - 0.125).abs() < 1e-9);
    let each: Vec<Vec<usize>> = (0..found.boards.len()).map(|b| vec![b]).collect();
    let cuts = order(job, &found.boards, &each, false);
    assert_eq!(cuts.cuts.iter().filter(|c| c.nth.is_some()).count(), 8);
    assert_eq!(cuts.saw_changes, 2);
}

/// A compound end goes in as square; its setting is a cut of its own, and a change of the saw.
#[test]
fn a_compound_end_is_a_cut_on_its_blank() {
    let mut leg = Entry {
        id: 1,
        name: "Leg".into(),
        count: 2,
        stock: Some(1),
        length: Length(20.0),
        ..Entry::default()
    };
    (leg.left.miter, leg.left.bevel) = (8.0, 5.0);
    let rack = rack(1.5, 96.0);
    let jobs = Jobs::of(std::slice::from_ref(&leg), &rack, KERF, 1, &[]);
    let planned = worked(&jobs, 0);
    let shown = &Summary::of(&jobs, &planned, false, &rack, std::slice::from_ref(&leg)).shown[0];
    let last = shown.order.cuts.last().expect("cuts");
    assert_eq!((last.saw, last.bevel, shown.order.saw_changes), (8.0, 5.0, 1));
}

/// From a wider board they are ripped to 9 1/4 first; their blanks are 12 in long there, too, and the two slopes of
/// each follow at one setting.
#[test]
fn ripped_blanks_keep_their_slopes() {
    let sizes =
        [("base_width", 12.0), ("top_width", 5.0), ("height", 9.25), ("shoulder_height", 3.0)];
    let list = [entry(&end_board(&sizes, "level"), 4)];
    let rack = rack(11.25, 96.0);
    let jobs = Jobs::of(&list, &rack, KERF, 1, &[]);
    let job = &jobs.jobs[0];
    assert_eq!(job.instance.rectangles().expect("strips").parts[0].length, 12.0);
    let planned = worked(&jobs, 0);
    let summary = Summary::of(&jobs, &planned, false, &rack, &list);
    let saw =
        SawProfile { width_square: Length(12.0), width_at_45: Length(8.5), ..SawProfile::usual() };
    let lines = blank_lines(job, &summary.shown[0].lying, &list, &saw);
    let settings = lines.iter().filter(|s| matches!(s, OrderLine::Saw(_))).count();
    let slopes: Vec<String> = lines
        .iter()
        .filter_map(|s| match s {
            OrderLine::Cut(t) => Some(t.render(&Style::default())),
            _ => None,
        })
        .collect();
    assert_eq!((settings, slopes.len()), (1, 2));
    assert!(slopes.iter().all(|l| l.starts_with("End board, 4 blanks: ")), "{slopes:?}");
}

/// What remains on a blank is kept with the list; a longer part carries its right end's cuts along, and an end that is
/// typed anew is one cut.
#[test]
fn cuts_on_blanks_are_kept_and_follow_what_is_typed() {
    let sizes =
        [("base_width", 12.0), ("top_width", 5.0), ("height", 9.25), ("shoulder_height", 3.0)];
    let mut list = entry(&end_board(&sizes, "level"), 8);
    let stored = record::write(&mut list);
    assert_eq!(record::read::<Entry>(&stored), (list.clone(), 0));
    let right = |e: &Entry| e.on_blank.iter().find(|c| c.end == End::Right).map(|c| c.from.x);
    assert_eq!(right(&list), Some(12.0));
    list.write("length", "14", Unit::Inch).expect("a length");
    assert_eq!(right(&list), Some(14.0));
    list.write("right", "10", Unit::Inch).expect("an angle");
    assert!(right(&list).is_none() && !list.right.pointed && list.on_blank.len() == 1);
}
