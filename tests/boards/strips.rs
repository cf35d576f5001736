//! Strips ripped from boards.

use crate::rectangles::{compare, planned, planned_within};
use offsquare_door::plan::plan_value;
use offsquare_planner::guillotine::{
    BoardKind, CutKind, Instance, PartKind, PlanAnswer, Saw, Then, plan, steps, verify,
};
use serde_json::json;

pub fn job(boards: Vec<BoardKind>, parts: Vec<PartKind>) -> Instance {
    Instance {
        cut: CutKind::Strips,
        kerf: 0.125,
        rip_kerf: 0.125,
        trim: 0.0,
        edge_trim: 0.0,
        boards,
        parts,
    }
}

#[test]
fn small_jobs_agree_with_trying_everything() {
    let (plans, none) = compare(CutKind::Strips, 0..250, 4);
    assert!(plans > 150 && none > 5, "{plans} plans, {none} without");
    compare(CutKind::Strips, 1000..1012, 5);
}

/// Three strips and two kerfs of 1/8: 5 1/2 is enough for 1 3/4 each, 5.49 is not.
#[test]
fn exact_widths_have_no_slack() {
    for (width, boards) in [(5.5, 1), (5.49, 2)] {
        let job = job(
            vec![BoardKind::unlimited("b", 96.0, width, 9.0)],
            vec![PartKind::along("slat", 3, 96.0, 1.75)],
        );
        let plan = planned(&job).expect("a plan");
        assert_eq!(plan.boards.len(), boards);
        assert!(plan.proven);
    }
}

#[test]
fn a_part_as_wide_as_the_board_is_not_ripped() {
    let job = job(
        vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0)],
        vec![PartKind::along("shelf", 3, 31.9, 5.5)],
    );
    let plan = planned(&job).expect("a plan");
    let cuts = steps(&job, &plan.boards[0]);
    assert!(!cuts.is_empty() && cuts.iter().all(|c| c.saw == Saw::Crosscut));
}

/// 1x6 into a wide and a narrow strip: 3 1/2 + 1/8 + 1 3/4 = 5 3/8. Two boards hold two of each over
/// their full length, and nothing but the 1/8 strips is lost.
#[test]
fn different_widths_lie_side_by_side() {
    let job = job(
        vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0)],
        vec![PartKind::along("wide", 4, 47.9, 3.5), PartKind::along("narrow", 4, 47.9, 1.75)],
    );
    let plan = planned(&job).expect("a plan");
    assert_eq!((plan.boards.len(), plan.proven), (2, true));
    for board in &plan.boards {
        let cuts = steps(&job, board);
        // Each cut is made on a piece that exists by then.
        let mut there = vec![0];
        for cut in &cuts {
            assert!(there.contains(&cut.piece));
            let Then::Cut { first, second, .. } = board.pieces[cut.piece].then else {
                panic!("a step without a cut");
            };
            there.extend(first.into_iter().chain(second));
        }
        assert_eq!(there.len(), board.pieces.len());
    }
}

/// A thin blade for rips and a thick one for crosscuts, each counted in its direction:
/// 2 · 2.7 + 0.1 = 5.5 across, 2 · 47.875 + 0.25 = 96 along.
#[test]
fn each_saw_has_its_kerf() {
    let mut job = job(
        vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0)],
        vec![PartKind::along("p", 4, 47.875, 2.7)],
    );
    (job.kerf, job.rip_kerf) = (0.25, 0.1);
    assert_eq!(planned(&job).map(|p| p.boards.len()), Some(1));
    job.rip_kerf = 0.11;
    assert_eq!(planned(&job).map(|p| p.boards.len()), Some(2));
    (job.kerf, job.rip_kerf) = (0.26, 0.1);
    assert_eq!(planned(&job).map(|p| p.boards.len()), Some(2));
}

#[test]
fn owned_boards_come_first_and_only_as_many_as_there_are() {
    let job = job(
        vec![BoardKind::unlimited("new", 96.0, 5.5, 9.0), BoardKind::owned("old", 40.0, 3.5, 2)],
        vec![PartKind::along("p", 10, 39.0, 1.6)],
    );
    // Two from each old board, six from a new one: two rows of three.
    let plan = planned(&job).expect("a plan");
    assert_eq!((plan.price, plan.proven), (9.0, true));
    assert_eq!(plan.boards.len(), 3);
}

#[test]
fn impossible_jobs_name_the_part_and_why() {
    let cases = [
        (PartKind::along("long", 1, 97.0, 2.0), "longer"),
        (PartKind::along("wide", 1, 40.0, 5.6), "wider"),
        (PartKind::along("across", 1, 5.0, 20.0), "across the grain"),
    ];
    for (part, word) in cases {
        let id = part.id.clone();
        let job = job(
            vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0)],
            vec![PartKind::along("fits", 1, 10.0, 2.0), part],
        );
        let PlanAnswer::Infeasible { part, reason } = plan(&job) else {
            panic!("{id}: planned");
        };
        assert_eq!(part, Some(1));
        assert!(reason.contains(word) && reason.contains(&id), "{reason}");
    }
    let short =
        job(vec![BoardKind::owned("b", 96.0, 5.5, 1)], vec![PartKind::along("p", 3, 90.0, 2.0)]);
    let PlanAnswer::Infeasible { part, reason } = plan(&short) else {
        panic!("planned");
    };
    assert_eq!(part, None);
    assert!(reason.contains("not enough"), "{reason}");
}

#[test]
fn the_door_speaks_strips() {
    let v = plan_value(&json!({"cut": "strips", "kerf": 0.125, "width": 5.5,
        "boards": [{"id": "1x6", "length": 96, "price": 9.4}],
        "parts": [{"id": "slat", "qty": 6, "length": 47.9, "width": 1.75}]}));
    assert_eq!(v["status"], json!("ok"));
    assert_eq!((v["price"].as_f64(), v["proven"].as_bool()), (Some(9.4), Some(true)));
    assert_eq!(v["boards"][0]["parts"].as_array().map(Vec::len), Some(6));
    let cuts = v["boards"][0]["cuts"].as_array().expect("cuts");
    // Two rips give three strips or one crosscut two halves: five or six cuts to six parts and trims.
    assert!((5..=9).contains(&cuts.len()), "{}", cuts.len());
    for (bad, path) in [
        (json!({"cut": "logs", "kerf": 0, "boards": [], "parts": []}), "/cut"),
        (json!({"cut": "strips", "kerf": 0, "parts": []}), "/boards"),
        (
            json!({"cut": "strips", "kerf": 0, "boards": [{"id": "b", "length": 5, "price": 1}], "parts": []}),
            "/boards/0/width",
        ),
        (
            json!({"cut": "strips", "kerf": 0, "boards": [], "parts": [{"id": "p", "qty": 1, "length": 5, "width": 1, "grain": "up"}]}),
            "/parts/0/grain",
        ),
        (json!({"cut": "strips", "kerf": -1, "boards": [], "parts": []}), "/kerf"),
    ] {
        let v = plan_value(&bad);
        assert_eq!(v["status"], json!("invalid"), "{bad}");
        assert_eq!(v["problems"][0]["path"], json!(path), "{bad}: {v}");
    }
}

/// A plan broken in any one place is not let pass.
#[test]
fn broken_plans_are_rejected() {
    let job = job(
        vec![BoardKind::unlimited("b", 96.0, 5.5, 9.0), BoardKind::owned("old", 50.0, 5.5, 1)],
        vec![PartKind::along("a", 5, 30.0, 2.5), PartKind::along("b", 3, 44.0, 1.75)],
    );
    let sound = planned(&job).expect("a plan").boards;
    assert!(verify(&job, &sound).is_ok());
    let broken = |change: &dyn Fn(&mut Vec<offsquare_planner::guillotine::CutBoard>)| {
        let mut boards = sound.clone();
        change(&mut boards);
        assert!(verify(&job, &boards).is_err());
    };
    broken(&|b| b[0].parts[0].x += 0.01);
    broken(&|b| b[0].parts[0].y -= 0.01);
    broken(&|b| b[0].parts[0].turned = true);
    broken(&|b| b[0].parts[0].part = 9);
    broken(&|b| b[0].board = 9);
    broken(&|b| {
        b.pop();
    });
    broken(&|b| b.push(b[0].clone()));
    broken(&|b| b[0].parts.clear());
    broken(&|b| {
        b[0].parts.pop();
    });
    broken(&|b| b[0].pieces.clear());
    broken(&|b| b[0].pieces[0].length += 1.0);
    for i in 0..sound[0].pieces.len() {
        broken(&|b| b[0].pieces[i].x += 0.01);
        broken(&|b| b[0].pieces[i].width -= 0.01);
        broken(&|b| match &mut b[0].pieces[i].then {
            Then::Cut { at, .. } => *at += 0.01,
            Then::Part(p) => *p += 1,
            rest => *rest = Then::Part(0),
        });
        if let Then::Cut { first, second, .. } = sound[0].pieces[i].then {
            broken(&|b| {
                if let Then::Cut { first, second, .. } = &mut b[0].pieces[i].then {
                    core::mem::swap(first, second);
                }
            });
            if first.is_some() && second.is_some() {
                broken(&|b| {
                    if let Then::Cut { second, .. } = &mut b[0].pieces[i].then {
                        *second = None;
                    }
                });
            }
        }
    }
    // Two boards of a kind of which there is one.
    let mut other = job.clone();
    other.boards[1].limit = Some(0);
    if sound.iter().any(|b| b.board == 1) {
        assert!(verify(&other, &sound).is_err());
    }
    // The same plan does not serve a thicker blade or a trim.
    let mut thick = job.clone();
    (thick.kerf, thick.rip_kerf) = (0.2, 0.2);
    assert!(verify(&thick, &sound).is_err());
    let mut trimmed = job.clone();
    trimmed.trim = 0.5;
    assert!(verify(&trimmed, &sound).is_err());
}

/// Absurd but lawful sizes get an answer, and quickly.
#[test]
fn hostile_sizes_are_answered() {
    let boards = || vec![BoardKind::unlimited("b", 1e6, 1e6, 1e6)];
    let many = job(boards(), vec![PartKind::along("p", 10_000, 1e-3, 1e-3)]);
    assert_eq!(planned_within(&many, 1).map(|p| p.boards.len()), Some(1));
    let thin = job(
        vec![BoardKind::unlimited("b", 96.0, 1e-7, 0.0)],
        vec![PartKind::along("p", 3, 96.0, 1e-7)],
    );
    assert_eq!(planned(&thin).map(|p| p.boards.len()), Some(3));
    let mut wide_blade = job(
        vec![BoardKind::unlimited("b", 96.0, 5.5, 1.0)],
        vec![PartKind::along("p", 4, 10.0, 1.0)],
    );
    (wide_blade.kerf, wide_blade.rip_kerf) = (1e6, 1e6);
    assert_eq!(planned(&wide_blade).map(|p| p.boards.len()), Some(4));
    let mut bad = job(boards(), vec![PartKind::along("p", 10_001, f64::NAN, -1.0)]);
    bad.trim = f64::INFINITY;
    let PlanAnswer::Invalid(flaws) = plan(&bad) else {
        panic!("not invalid");
    };
    let paths: Vec<&str> = flaws.iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["/trim", "/parts/0/length", "/parts/0/width", "/parts"]);
    let nothing = job(boards(), vec![PartKind::along("p", 0, 1.0, 1.0)]);
    assert_eq!(planned(&nothing).map(|p| (p.price, p.proven_all)), Some((0.0, true)));
}
