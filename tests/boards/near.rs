//! What nearly fits in strips and sheets, against the naive planner.

use crate::rectangles::{naive, planned, small};
use offsquare_planner::guillotine::{
    BoardKind, Change, CutKind, Instance, Nearing, Nearly, PartKind, PlanAnswer, nearly, plan,
    verify_plan,
};

const STEPS: i64 = 2_000_000_000;

fn gives(give: (f64, f64), parts: usize) -> Change {
    Change { gives: vec![give; parts], ..Change::default() }
}

fn over(over: (f64, f64)) -> Change {
    Change { over, ..Change::default() }
}

/// What the naive planner says of money and boards; nothing where there is no plan.
fn worth(job: &Instance) -> Option<(f64, usize)> {
    naive(job).map(|b| (b.price, b.boards))
}

fn reaches(job: &Instance, goal: (f64, usize)) -> bool {
    worth(job).is_some_and(|w| w.0 < goal.0 - 1e-6 || (w.0 <= goal.0 + 1e-6 && w.1 <= goal.1))
}

/// All changes at their most are worth what is found, the amount that is found is enough, and a little
/// less is not; the changes before it do not reach it at all.
#[test]
fn small_jobs_agree_with_trying_everything() {
    let (mut found, mut none) = (0, 0);
    for seed in 0..160 {
        let cut = if seed % 2 == 0 { CutKind::Strips } else { CutKind::Sheets };
        let job = small(cut, 7000 + seed, 4);
        let base = planned(&job);
        let n = job.parts.len();
        let ways = if seed % 3 == 0 {
            [over((0.5, 0.0)), over((0.0, 0.125)), over((0.5, 0.125))]
        } else {
            [gives((0.125, 0.0), n), gives((0.0, 0.0625), n), gives((0.125, 0.0625), n)]
        };
        let before = worth(&job);
        let most = worth(&ways[2].apply(&job, f64::INFINITY));
        let Some(near) = nearly(&job, base.as_ref(), &ways, STEPS) else {
            none += 1;
            let same = match (before, most) {
                (Some(b), Some(m)) => (b.0 - m.0).abs() < 1e-6 && b.1 <= m.1,
                (b, m) => b.is_none() && m.is_none(),
            };
            assert!(same, "seed {seed}: {before:?}, changed {most:?}: {job:?}");
            continue;
        };
        found += 1;
        let (goal, way) = (most.expect("a plan"), &ways[near.change]);
        assert!((near.plan.price - goal.0).abs() < 1e-6, "seed {seed}");
        verify_plan(&near.instance, &near.plan).expect("a sound plan");
        assert!(near.instance == way.apply(&job, near.by));
        assert!(reaches(&near.instance, goal), "seed {seed}: {near:?}");
        let less = way.apply(&job, near.by - 1e-4);
        assert!(!reaches(&less, goal), "seed {seed}: less does it too");
        for earlier in &ways[..near.change] {
            assert!(!reaches(&earlier.apply(&job, f64::INFINITY), goal));
        }
        let saved = near.money.map(|m| before.expect("a plan").0 - m);
        assert!(saved.is_none_or(|s| (s - goal.0).abs() < 1e-6));
    }
    assert!(found > 25 && none > 60, "{found} found, {none} not");
}

/// Quarters of a sheet, 48 by 24, with a kerf of 1/8 both ways, of which as they are only one fits: 1/16 less in both directions on each,
/// or a sheet that measures 1/8 more both ways.
#[test]
fn quarters_of_a_sheet_nearly_fit_in_both_directions() {
    let job = Instance {
        cut: CutKind::Sheets,
        kerf: 0.125,
        rip_kerf: 0.125,
        trim: 0.0,
        edge_trim: 0.0,
        boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
        parts: vec![PartKind::along("quarter", 4, 48.0, 24.0)],
    };
    let PlanAnswer::Plan(base) = plan(&job) else { panic!("no plan") };
    let ways = |l: f64, w: f64| [gives((l, 0.0), 1), gives((0.0, w), 1), gives((l, w), 1)];
    let near = nearly(&job, Some(&base), &ways(0.125, 0.125), STEPS).expect("it nearly fits");
    assert_eq!((near.change, near.boards), (2, Some(3)));
    assert!((near.by - 0.0625).abs() < 2e-6, "{}", near.by);
    assert_eq!(near.money, Some(186.0));
    // Where they may give 1/32 only across, what they give along still saves two of four.
    let near = nearly(&job, Some(&base), &ways(0.125, 0.03125), STEPS).expect("two sheets");
    assert_eq!((near.change, near.boards), (0, Some(2)));
    assert_eq!(nearly(&job, Some(&base), &ways(0.03125, 0.03125), STEPS), None);
    let larger = [over((0.5, 0.0)), over((0.0, 0.125)), over((0.5, 0.125))];
    let near = nearly(&job, Some(&base), &larger, STEPS).expect("it nearly fits");
    assert!(near.change == 2 && (near.by - 0.125).abs() < 2e-6);
}

/// Where nothing may give there is nothing to say; a job without a plan may nearly have one.
#[test]
fn what_fits_nowhere_may_nearly_fit() {
    let job = Instance {
        cut: CutKind::Strips,
        kerf: 0.125,
        rip_kerf: 0.125,
        trim: 0.0,
        edge_trim: 0.0,
        boards: vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0)],
        parts: vec![PartKind::along("p", 2, 96.0625, 2.5)],
    };
    assert_eq!(nearly(&job, None, &[], STEPS), None);
    assert_eq!(nearly(&job, None, &[gives((0.0, 0.0), 1)], STEPS), None);
    let near = nearly(&job, None, &[gives((0.125, 0.0), 1)], STEPS).expect("a plan");
    assert!((near.by - 0.0625).abs() < 2e-6);
    assert_eq!((near.money, near.boards), (None, None));
    assert_eq!(near.plan.boards.len(), 1);
}

/// Asked in small steps the answer is the same in what it saves and how, holds, and takes several of them.
#[test]
fn what_nearly_fits_is_asked_in_small_steps() {
    let mut told = 0;
    for seed in 0..60 {
        let cut = if seed % 2 == 0 { CutKind::Strips } else { CutKind::Sheets };
        let job = small(cut, 7000 + seed, 7);
        let (base, n) = (planned(&job), job.parts.len());
        let ways = vec![gives((0.25, 0.0), n), gives((0.0, 0.25), n), gives((0.25, 0.25), n)];
        let mut asked = Nearing::new(&job, base.clone(), vec![ways.clone()], STEPS);
        let mut steps = 0;
        while !asked.step(300_000) {
            steps += 1;
            assert!(steps < 20_000, "seed {seed}: it does not end");
        }
        let whole = nearly(&job, base.as_ref(), &ways, STEPS);
        let key = |n: &Nearly| (n.change, n.plan.price, n.boards);
        assert_eq!(asked.found().map(key), whole.as_ref().map(key), "seed {seed}");
        let Some(near) = asked.found() else { continue };
        told += 1;
        assert!(steps > 2, "seed {seed}: in one go");
        verify_plan(&near.instance, &near.plan).expect("a sound plan");
    }
    assert!(told > 3, "only {told} jobs nearly fit");
}
