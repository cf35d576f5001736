//! The plain plan, the order of cuts and what nearly fits.

use crate::jobs;
use offsquare_planner::{
    BoardKind, Instance, Nearing, PartKind, Plan, PlanAnswer, Sequence, changes, nearly, plain,
    plain_sequence, plan, sequence, squared, verify,
};

fn planned(answer: PlanAnswer) -> Plan {
    match answer {
        PlanAnswer::Plan(plan) => plan,
        other => panic!("{other:?}"),
    }
}

fn one_board(length: f64, parts: Vec<PartKind>) -> Instance {
    Instance {
        width: 3.5,
        kerf: 0.125,
        trim: 0.0,
        boards: vec![BoardKind::unlimited("b", length, 5.0)],
        parts,
    }
}

/// What holds for every order: each part is freed once, marks run from left to right along a board,
/// and the counts are those of the list.
fn sound(order: &Sequence, parts: u64) {
    let freed = order.cuts.iter().filter(|c| c.frees.is_some()).count()
        + order.cuts.iter().filter(|c| c.leaves.is_some()).count();
    assert_eq!(freed as u64, parts);
    let changes = order.cuts.windows(2).filter(|p| p[0].saw != p[1].saw);
    assert_eq!(changes.count(), order.saw_changes);
    assert_eq!(order.cuts.iter().filter(|c| c.flip).count(), order.flips);
    for (i, a) in order.cuts.iter().enumerate() {
        let lean = a.miter.to_radians().tan();
        assert!(a.saw == a.miter.abs() && (lean > 0.0) == (a.mark_a > a.mark_b));
        if let Some(b) = order.cuts[i + 1..]
            .iter()
            .find(|b| (b.board, b.blank) == (a.board, a.blank))
            .filter(|_| a.blank.is_none())
        {
            assert!(b.mark_a >= a.mark_a - 1e-7 && b.mark_b >= a.mark_b - 1e-7);
        }
    }
    let counted: usize = order.groups.iter().map(|g| g.count).sum();
    assert_eq!(counted, order.cuts.iter().filter(|c| c.group.is_some()).count());
}

/// Frame sides nest flipped over: every cut after the first leans the other way, so the saw stays
/// and the stick is flipped. (Counted by hand from CUTPLAN 2 and 3.)
#[test]
fn frame_sides_ask_for_flips_and_no_change_of_the_saw() {
    let job = one_board(96.0, vec![PartKind::mitered("side", 4, 12.0, 45.0, 45.0)]);
    let plan = planned(plan(&job));
    let order = sequence(&job, &plan.boards);
    sound(&order, 4);
    // Left end, three shared cuts, right end.
    assert_eq!((order.cuts.len(), order.saw_changes, order.flips), (5, 0, 4));
    assert_eq!((order.groups.len(), order.groups[0].count), (1, 4));
    let plain_order = plain_sequence(&job, &planned(plain(&job)).boards);
    // Four square cuts, eight miters, one change from square to 45, a flip a blank.
    assert_eq!((plain_order.cuts.len(), plain_order.saw_changes, plain_order.flips), (12, 1, 4));
}

/// Three 32 in parts from exactly 96 1/4: two cuts, the third part is what is left.
#[test]
fn a_board_that_comes_out_even_needs_no_last_cut() {
    let job = one_board(96.25, vec![PartKind::square("slat", 3, 32.0)]);
    let order = sequence(&job, &planned(plan(&job)).boards);
    sound(&order, 3);
    assert_eq!(order.cuts.len(), 2);
    assert_eq!(order.cuts[1].leaves, Some(2));
    // With a trim the ends are cut: the left one, and every part's right one.
    let mut trimmed = one_board(98.25, vec![PartKind::square("slat", 3, 32.0)]);
    trimmed.trim = 1.0;
    let order = sequence(&trimmed, &planned(plan(&trimmed)).boards);
    sound(&order, 3);
    assert_eq!((order.cuts.len(), order.cuts[0].mark_a), (4, 1.0));
}

#[test]
fn orders_of_shop_jobs_hold_together() {
    for seed in 0..12 {
        let (_, job) = jobs::shop(seed);
        let parts = job.parts.iter().map(|p| p.qty).sum();
        let mut planner = offsquare_planner::Planner::new(job.clone());
        let Some(nested) = planner.step(50_000).best else {
            continue;
        };
        sound(&sequence(&job, &nested.boards), parts);
        let square = squared(&job);
        let mut planner = offsquare_planner::Planner::new(square.clone());
        let Some(blanks) = planner.step(50_000).best else {
            continue;
        };
        assert!(verify(&square, &blanks.boards).is_ok());
        let order = plain_sequence(&job, &blanks.boards);
        sound(&order, parts);
        // Square first, then each angle once.
        let mut angles: Vec<f64> = order.cuts.iter().map(|c| c.saw).collect();
        angles.dedup();
        let settings = angles.len();
        angles.sort_by(f64::total_cmp);
        angles.dedup();
        assert_eq!(settings, angles.len(), "seed {seed}");
    }
}

/// Two parts that may not give and one that may: only that one is shortened, by all that is missing.
#[test]
fn only_what_may_give_is_shortened() {
    let job = one_board(
        96.0,
        vec![PartKind::square("rail", 2, 32.0), PartKind::square("slat", 1, 31.8125)],
    );
    // 64 + 31.8125 + two kerfs of 1/8 are 96.0625.
    let found = nearly(&job, &[0.0, 0.125], 0.0).expect("a saving");
    assert_eq!((found.over, found.least), (false, true));
    assert!((found.by - 0.0625).abs() < 1e-6, "{}", found.by);
    assert_eq!(found.shortened[0], 0.0);
    assert_eq!((found.money, found.boards), (Some(5.0), Some(1)));
    assert!(verify(&found.instance, &found.plan.boards).is_ok());
    assert!(nearly(&job, &[0.125, 0.0], 0.0).is_some_and(|n| (n.by - 0.03125).abs() < 1e-6));
    assert!(nearly(&job, &[0.0, 0.05], 0.05).is_none());
}

/// A part that is a hair longer than the only board there is: no plan without, one with.
#[test]
fn a_part_longer_than_the_board_nearly_fits() {
    let job = one_board(96.0, vec![PartKind::square("rail", 1, 96.0625)]);
    let found = nearly(&job, &[0.125], 0.0).expect("a plan");
    assert!((found.by - 0.0625).abs() < 1e-6);
    assert_eq!(found.money, None);
}

/// Asked in small steps beside the plan that is known, with mitered ends too, the answer is the same, holds, and
/// saves what it says.
#[test]
fn what_nearly_fits_is_asked_in_small_steps() {
    let mut told = 0;
    for seed in 0..30 {
        let (_, job) = jobs::shop(seed);
        let few: u64 = job.parts.iter().map(|p| p.qty).sum();
        if few > 40 {
            continue;
        }
        let gives = vec![0.125; job.parts.len()];
        let base = planned(plan(&job));
        let mut asked = Nearing::new(&job, Some(base.clone()), changes(&gives, 0.5), 750_000_000);
        let mut steps = 0;
        while !asked.step(2_000_000) {
            steps += 1;
            assert!(steps < 2_000, "seed {seed}: it does not end");
        }
        let Some(found) = asked.found() else {
            continue;
        };
        told += 1;
        assert!(steps > 2, "seed {seed}: in one go");
        let facts = verify(&found.instance, &found.plan.boards).expect("a sound plan");
        let money = base.price - found.plan.price;
        assert!((found.money.expect("a plan before") - money).abs() < 1e-6);
        let price = |(b, n): (&BoardKind, &u64)| b.price * *n as f64;
        let paid: f64 = job.boards.iter().zip(&facts.boards).map(price).sum();
        assert!((paid - found.plan.price).abs() < 1e-6, "seed {seed}");
        assert!(money > 1e-6 || found.boards.is_some_and(|b| b > 0), "seed {seed}: nothing saved");
        // The job changed by so much has that price; with nothing changed it has not.
        let again = planned(plan(&found.instance));
        assert!(again.price <= found.plan.price + 1e-6 && again.bound <= found.plan.price + 1e-6);
        if found.least && found.by > 1e-3 {
            let less = found.by - 1e-4;
            let most = |over| if found.over == over { less } else { 0.0 };
            let shorter: Vec<f64> = gives.iter().map(|g| g.min(most(false))).collect();
            let still = nearly(&job, &shorter, most(true));
            assert!(
                still.is_none_or(|n| n.plan.price > found.plan.price + 1e-6
                    || n.plan.boards.len() > found.plan.boards.len()),
                "seed {seed}: less than the least does"
            );
        }
    }
    assert!(told > 3, "only {told} jobs nearly fit");
}
