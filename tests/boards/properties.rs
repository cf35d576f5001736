//! What must hold between a job and its relatives, and at every stop on the way.

use crate::jobs;
use offsquare_planner::{
    BoardKind, CutBoard, Fault, Instance, PartKind, Placement, Plan, PlanAnswer, Planner, plan,
    squared, verify,
};

/// Plans until the price is proven, for a while at most.
fn solved(job: &Instance) -> Option<Plan> {
    let mut planner = Planner::new(job.clone());
    for _ in 0..60 {
        let progress = planner.step(5_000_000);
        if progress.done || progress.best.is_some_and(|b| b.proven) {
            break;
        }
    }
    match planner.answer() {
        PlanAnswer::Plan(plan) => Some(plan),
        _ => None,
    }
}

/// `b` may cost no more than `a`, as far as both are known.
fn no_dearer(a: &Plan, b: &Plan, what: &str, seed: u64) {
    assert!(b.bound <= a.price + 1e-6, "seed {seed}: {what}");
    if a.proven && b.proven {
        assert!(b.price <= a.price + 1e-6, "seed {seed}: {what}");
    }
}

#[test]
fn more_stock_less_kerf_and_nesting_never_cost_more() {
    let mut proven = 0;
    for seed in 100..116 {
        let (_, job) = jobs::shop(seed);
        let Some(base) = solved(&job) else { continue };
        proven += u32::from(base.proven);
        assert!(verify(&job, &base.boards).is_ok());

        let mut shuffled = job.clone();
        shuffled.parts.reverse();
        shuffled.boards.rotate_left(1);
        let other = solved(&shuffled).expect("a plan");
        no_dearer(&base, &other, "shuffled", seed);
        no_dearer(&other, &base, "shuffled", seed);

        let mut more = job.clone();
        more.boards.push(BoardKind::unlimited("more", 108.0, 3.0));
        more.boards.push(BoardKind::owned("found", 40.0, 1));
        no_dearer(&base, &solved(&more).expect("a plan"), "more stock", seed);

        let mut thick = job.clone();
        thick.kerf += 0.125;
        let thick = solved(&thick).expect("a plan");
        no_dearer(&thick, &base, "a thinner blade", seed);

        let blanks = solved(&squared(&job)).expect("a plan");
        no_dearer(&blanks, &base, "nested", seed);
    }
    assert!(proven >= 14, "{proven} of 16 proven");
}

#[test]
fn every_stop_gives_a_sound_plan_and_a_bound_that_holds() {
    for seed in [0, 6, 30, 45] {
        let (_, job) = jobs::shop(seed);
        let mut planner = Planner::new(job.clone());
        let mut stops = Vec::new();
        loop {
            let progress = planner.step(2_000_000);
            let best = progress.best.clone().expect("a plan at the first stop");
            assert!(verify(&job, &best.boards).is_ok(), "seed {seed}");
            stops.push((best.price, progress.bound));
            if progress.done || best.proven {
                break;
            }
        }
        let &(price, _) = stops.last().expect("a stop");
        for pair in stops.windows(2) {
            assert!(pair[1].0 <= pair[0].0 + 1e-9, "seed {seed}: dearer");
            assert!(pair[1].1 >= pair[0].1 - 1e-9, "seed {seed}: bound fell");
        }
        assert!(stops.iter().all(|s| s.1 <= price + 1e-6), "seed {seed}");
    }
}

fn rack(boards: Vec<BoardKind>, parts: Vec<PartKind>) -> Instance {
    Instance { width: 3.5, kerf: 0.125, trim: 0.0, boards, parts }
}

/// Few boards: 3 x 30 + 2 kerfs = 90 1/4 a board, so nine fit on three boards of 90 1/4 and ten do not;
/// three braces that fit only nested (12 - 3.5 + 0.125 / cos 45 a step) do fit.
#[test]
fn a_short_supply_is_decided_not_guessed() {
    let slats = |n, length| {
        plan(&rack(
            vec![BoardKind::owned("own", length, 3)],
            vec![PartKind::square("slat", n, 30.0)],
        ))
    };
    assert!(matches!(slats(9, 90.25), PlanAnswer::Plan(p) if p.proven && p.boards.len() == 3));
    for answer in [slats(10, 90.25), slats(9, 90.24)] {
        let PlanAnswer::Infeasible { part: None, reason } = answer else {
            panic!("{answer:?}");
        };
        assert!(reason.contains("not enough boards"), "{reason}");
    }
    let braces = |length| {
        plan(&rack(
            vec![BoardKind::owned("own", length, 2)],
            vec![PartKind::mitered("brace", 6, 12.0, 45.0, -45.0)],
        ))
    };
    let three = 12.0 + 2.0 * (12.0 - 3.5 + 0.125 * 2f64.sqrt());
    assert!(matches!(braces(three + 1e-6), PlanAnswer::Plan(_)));
    assert!(matches!(braces(three - 1e-3), PlanAnswer::Infeasible { .. }));
}

/// Each way of breaking a plan is named for what it is.
#[test]
fn broken_plans_are_told_apart() {
    let job = rack(
        vec![BoardKind::owned("own", 60.0, 1)],
        vec![
            PartKind::mitered("side", 1, 20.0, 45.0, 45.0).good_face(),
            PartKind::square("rail", 1, 30.0),
        ],
    );
    let place = |part, x| Placement { part, x, ..Placement::default() };
    // A miter beside a square end: two cuts, 0.125 / cos 45 apart, nothing nests (CUTPLAN 3).
    let second = 20.0 + 0.125 * 2f64.sqrt();
    let sound =
        vec![CutBoard { parts: vec![place(0, 0.0), place(1, second)], ..CutBoard::default() }];
    assert!(verify(&job, &sound).is_ok());
    let broken = |change: &dyn Fn(&mut Vec<CutBoard>)| {
        let mut boards = sound.clone();
        change(&mut boards);
        verify(&job, &boards).expect_err("broken")
    };
    let flipped = broken(&|b| b[0].parts[0].flipped = true);
    assert!(matches!(flipped[0], Fault::Flipped { board: 0, place: 0 }));
    let close = broken(&|b| b[0].parts[1].x -= 1e-6);
    assert!(matches!(close[0], Fault::TooClose { by, .. } if (by - 1e-6).abs() < 1e-9));
    let out = broken(&|b| b[0].parts[1].x = 35.0);
    assert!(matches!(out[0], Fault::Outside { by, .. } if (by - 5.0).abs() < 1e-9));
    let nowhere = broken(&|b| b[0].parts[1].x = f64::NAN);
    assert!(nowhere.len() >= 2);
    let strange = broken(&|b| b[0].parts[1].part = 7);
    assert!(matches!(strange[0], Fault::NoSuchPart { .. }));
    let kind = broken(&|b| b[0].board = 3);
    assert!(matches!(kind[0], Fault::NoSuchBoard { board: 0 }));
    let empty = broken(&|b| b[0].parts.clear());
    assert!(matches!(empty[0], Fault::Empty { board: 0 }));
    let many = broken(&|b| {
        let mut part = b[0].parts.remove(1);
        part.x = 0.0;
        b.push(CutBoard { parts: vec![part], ..CutBoard::default() });
    });
    let limit = |f: &Fault| matches!(f, Fault::TooManyBoards { cut: 2, limit: 1, .. });
    assert!(many.len() == 1 && limit(&many[0]), "{many:?}");
    let lost = broken(&|b| {
        b[0].parts.pop();
    });
    assert!(matches!(lost[0], Fault::WrongCount { part: 1, cut: 0, wanted: 1 }));
}

/// Three parts of one length on boards of two: by hand, one on the owned board leaves
/// 41.5 - 14.8125 - 0.1 = 26.5875, two on it leave 36 - 14.8125 - 0.1 = 21.0875 on the other. The two are no
/// whole number of parts apart.
#[test]
fn the_largest_leftover_is_sought_on_every_length() {
    let mut job = rack(
        vec![
            BoardKind { limit: Some(1), ..BoardKind::unlimited("bought", 36.0, 1.97) },
            BoardKind { limit: Some(1), ..BoardKind::unlimited("own", 41.5, 0.0) },
        ],
        vec![PartKind::square("a", 3, 14.8125)],
    );
    job.kerf = 0.1;
    let PlanAnswer::Plan(p) = plan(&job) else {
        panic!("no plan");
    };
    assert!(p.proven_all && (p.leftover - 26.5875).abs() < 1e-9, "{}", p.leftover);
}

/// The third aim by hand: 60 - 2 holds 20 and 30 with one kerf, and what is right of the last cut is
/// 60 - 1 - 50.125 - 0.125 = 8.75 in (CUTPLAN 5: the right-hand trim is not taken off).
#[test]
fn a_leftover_runs_to_the_boards_end() {
    let mut job = rack(
        vec![BoardKind::unlimited("b", 60.0, 2.0)],
        vec![PartKind::square("a", 1, 20.0), PartKind::square("b", 1, 30.0)],
    );
    job.trim = 1.0;
    let PlanAnswer::Plan(p) = plan(&job) else {
        panic!("no plan");
    };
    assert!(p.proven_all && (p.leftover - 8.75).abs() < 1e-9, "{}", p.leftover);
}
