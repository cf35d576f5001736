//! The plain plan of strips and sheets.

use crate::rectangles::{naive_plain, planned, small};
use offsquare_planner::guillotine::{
    CutKind, Grain, Instance, Plan, PlanAnswer, Planner, Saw, steps, verify_plan,
};

fn plainly(job: &Instance) -> Option<Plan> {
    let mut planner = Planner::plain(job.clone());
    // Far less than it is given: what comes later is no worse.
    while planner.spent() < 20_000_000 && !planner.step(20_000_000).done {}
    match planner.answer() {
        PlanAnswer::Plan(plan) => Some(plan),
        _ => None,
    }
}

/// On every board: parts lie in strips, all parts of a strip as wide as the strip, nothing turned that
/// would fit as it is, and no rip follows a crosscut, but for trims and the end that is left over.
fn is_plain(job: &Instance, plan: &Plan) {
    for board in &plan.boards {
        for p in &board.parts {
            let part = &job.parts[p.part];
            let (_, w) = part.extent(p.turned);
            for q in &board.parts {
                let (_, v) = job.parts[q.part].extent(q.turned);
                let strip = (p.y - q.y).abs() < 1e-7 && (w - v).abs() < 1e-7;
                let apart =
                    p.y + w + job.rip_kerf <= q.y + 1e-7 || q.y + v + job.rip_kerf <= p.y + 1e-7;
                assert!(strip || apart, "{board:?}");
            }
            let as_it_is = |b| {
                let (l, w) = job.usable(b);
                part.length <= l && part.width <= w
            };
            assert!(!p.turned || !job.boards.iter().any(as_it_is), "{board:?}");
        }
        let mut cuts = steps(job, board);
        cuts.retain(|c| !c.behind);
        let first = cuts.iter().position(|c| c.saw == Saw::Crosscut);
        let late = |c: &&offsquare_planner::guillotine::Step| c.saw == Saw::Rip;
        let late = first.map_or(0, |at| cuts[at..].iter().filter(late).count());
        // With the end for another job taken off first, all rips follow that one crosscut.
        let before = first.map_or(0, |at| cuts[..at].iter().filter(late_rip).count());
        assert!(late == 0 || before == 0, "{cuts:?}");
    }
}

fn late_rip(c: &&offsquare_planner::guillotine::Step) -> bool {
    c.saw == Saw::Rip
}

/// Small jobs: the price is the least of all plain plans, found by trying everything.
#[test]
fn small_plain_plans_agree_with_trying_everything() {
    let (mut plans, mut dearer) = (0, 0);
    for seed in 0..200 {
        let mut job =
            small(if seed % 2 == 0 { CutKind::Strips } else { CutKind::Sheets }, 11_000 + seed, 5);
        for p in &mut job.parts {
            p.grain = Grain::Along;
        }
        let (plan, least) = (plainly(&job), naive_plain(&job));
        assert_eq!(plan.is_some(), least.is_some(), "seed {seed}: {job:?}");
        let (Some(plan), Some(least)) = (plan, least) else {
            continue;
        };
        plans += 1;
        verify_plan(&job, &plan).expect("a sound plan");
        is_plain(&job, &plan);
        assert!(
            (plan.price - least).abs() < 1e-6,
            "seed {seed}: {} instead of {least}: {job:?}",
            plan.price
        );
        let any = planned(&job).expect("a plan");
        assert!(any.price <= plan.price + 1e-6, "seed {seed}");
        dearer += u32::from(any.price < plan.price - 1e-6);
    }
    assert!(plans > 120 && dearer > 3, "{plans} plans, {dearer} dearer");
}

/// Parts of free grain lie as they are given, where they fit so.
#[test]
fn larger_plain_plans_are_plain() {
    for seed in 0..12 {
        let job = small(CutKind::Sheets, 500 + seed, 24);
        let Some(plan) = plainly(&job) else { continue };
        verify_plan(&job, &plan).expect("a sound plan");
        is_plain(&job, &plan);
    }
}
