//! Rectangles cut from sheets.

use crate::jobs::Dice;
use crate::rectangles::{compare, planned, planned_within, small};
use offsquare_door::plan::plan_value;
use offsquare_planner::guillotine::{BoardKind, CutKind, Instance, PartKind, Planner, verify_plan};
use serde_json::json;

fn job(boards: Vec<BoardKind>, parts: Vec<PartKind>) -> Instance {
    Instance {
        cut: CutKind::Sheets,
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
    let (plans, none) = compare(CutKind::Sheets, 0..250, 4);
    assert!(plans > 150 && none > 5, "{plans} plans, {none} without");
    compare(CutKind::Sheets, 1000..1012, 5);
}

/// Four quarters of a sheet and the two kerfs between them: 2 · 47.9375 + 1/8 = 96 exactly.
#[test]
fn exact_fits_have_no_slack() {
    let quarter = |length| {
        job(
            vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
            vec![PartKind::along("q", 4, length, 23.9375)],
        )
    };
    assert_eq!(planned(&quarter(47.9375)).map(|p| p.boards.len()), Some(1));
    let two = planned(&quarter(47.938)).expect("a plan");
    assert_eq!((two.boards.len(), two.proven), (2, true));
}

/// 47 × 30 lies along twice and across three times: 3 · 30 + 2/8 ≤ 96.
#[test]
fn grain_decides_whether_a_part_turns() {
    let parts = |free| {
        let part = if free { PartKind::free } else { PartKind::along };
        job(vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)], vec![part("panel", 3, 47.0, 30.0)])
    };
    let along = planned(&parts(false)).expect("a plan");
    assert_eq!((along.boards.len(), along.proven), (2, true));
    let free = planned(&parts(true)).expect("a plan");
    assert_eq!((free.boards.len(), free.proven), (1, true));
    assert!(free.boards[0].parts.iter().all(|p| p.turned));
}

/// Five rectangles around a middle one in a pinwheel fill 5 × 5 without waste, but no cut runs through:
/// two sheets for guillotine cuts, one without the rule.
#[test]
fn a_pinwheel_is_not_a_guillotine_plan() {
    let mut pinwheel = job(
        vec![BoardKind::unlimited("s", 5.0, 5.0, 1.0)],
        vec![
            PartKind::along("flat", 2, 3.0, 2.0),
            PartKind::along("tall", 2, 2.0, 3.0),
            PartKind::along("middle", 1, 1.0, 1.0),
        ],
    );
    (pinwheel.kerf, pinwheel.rip_kerf) = (0.0, 0.0);
    let plan = planned(&pinwheel).expect("a plan");
    assert_eq!((plan.boards.len(), plan.proven), (2, true));
}

/// The trim goes off all round, and the blade may run off a trim thinner than itself.
#[test]
fn trims_are_kept_clear() {
    for (trim, boards) in [(0.0, 1), (0.25, 1), (0.26, 4)] {
        let mut job = job(
            vec![BoardKind::unlimited("ply", 96.5, 48.5, 62.0)],
            vec![PartKind::along("q", 4, 47.9375, 23.9375)],
        );
        (job.trim, job.edge_trim) = (trim, trim);
        let plan = planned(&job).expect("a plan");
        assert_eq!(plan.boards.len(), boards, "trim {trim}");
        for part in &plan.boards[0].parts {
            assert!(part.x >= trim - 1e-9 && part.y >= trim - 1e-9);
        }
    }
}

#[test]
fn the_cheaper_mix_of_sheets_is_found() {
    // Three halves: a sheet at 62 and a half sheet at 36 (98) beat two sheets (124) and three halves (108).
    let job = job(
        vec![
            BoardKind::unlimited("full", 96.0, 48.0, 62.0),
            BoardKind::unlimited("half", 48.0, 48.0, 36.0),
        ],
        vec![PartKind::along("top", 3, 47.5, 47.5)],
    );
    let plan = planned(&job).expect("a plan");
    assert_eq!((plan.price, plan.proven), (98.0, true));
}

/// Shuffled, with more stock, with a thicker blade: the price does what it must where it is proven, and
/// bounds always do.
#[test]
fn properties_hold() {
    for seed in 0..60 {
        let cut = if seed % 2 == 0 { CutKind::Strips } else { CutKind::Sheets };
        let job = small(cut, 5000 + seed, 9);
        let Some(plan) = planned(&job) else { continue };
        let mut shuffled = job.clone();
        let mut dice = Dice(seed);
        dice.shuffle(&mut shuffled.parts);
        dice.shuffle(&mut shuffled.boards);
        let other = planned(&shuffled).expect("a plan");
        assert!(other.bound <= plan.price + 1e-6 && plan.bound <= other.price + 1e-6);
        if plan.proven && other.proven {
            assert!((other.price - plan.price).abs() < 1e-6, "seed {seed}: shuffled");
        }
        if plan.proven_all && other.proven_all {
            let area =
                |p: &offsquare_planner::guillotine::Plan| p.leftover.map_or(0.0, |l| l.1.area());
            assert_eq!(plan.boards.len(), other.boards.len(), "seed {seed}");
            assert!((area(&plan) - area(&other)).abs() < 1e-6, "seed {seed}: leftover");
        }
        let mut more = job.clone();
        more.boards.push(BoardKind::unlimited("more", 30.0, 12.0, 40.0));
        for b in &mut more.boards {
            b.limit = b.limit.map(|l| l + 1);
        }
        let other = planned(&more).expect("a plan");
        assert!(other.bound <= plan.price + 1e-6, "seed {seed}: more stock");
        let mut thick = job.clone();
        thick.kerf += 0.2;
        thick.rip_kerf += 0.2;
        if let Some(other) = planned(&thick) {
            assert!(other.price >= plan.bound - 1e-6, "seed {seed}: a thicker blade");
        }
    }
}

/// A search cut into small steps ends where one long step ends, and shows sound plans on the way.
#[test]
fn the_search_goes_on_in_steps() {
    let (job, whole) = (77..99)
        .find_map(|seed| {
            let job = small(CutKind::Sheets, seed, 9);
            let plan = planned(&job)?;
            (plan.boards.len() > 1).then_some((job, plan))
        })
        .expect("a job with a plan");
    let mut planner = Planner::new(job.clone());
    let mut bound = 0.0;
    loop {
        let progress = planner.step(200_000);
        assert!(progress.bound >= bound, "a bound never falls");
        bound = progress.bound;
        if let Some(plan) = &progress.best {
            verify_plan(&job, plan).expect("a sound plan");
        }
        if progress.done {
            assert_eq!(progress.best, Some(whole));
            break;
        }
    }
}

#[test]
fn a_shop_job_is_bounded_after_a_few_steps() {
    let mut dice = Dice(3);
    let mut parts = Vec::new();
    for i in 0..15 {
        let (l, w) = (dice.between(8, 60) as f64, dice.between(4, 30) as f64);
        let qty = dice.between(1, 5);
        let part = if dice.chance(0.5) { PartKind::free } else { PartKind::along };
        parts.push(part(&format!("p{i}"), qty, l, w));
    }
    let job = job(vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)], parts);
    let plan = planned_within(&job, 1).expect("a first plan");
    assert!(plan.bound <= plan.price);
}

#[test]
fn the_door_speaks_sheets() {
    let v = plan_value(&json!({"cut": "sheets", "kerf": 0.125, "trim": 0.25,
        "boards": [{"id": "ply", "length": 96, "width": 48, "price": 62, "limit": 3}],
        "parts": [{"id": "side", "qty": 2, "length": 30, "width": 47.5, "grain": "free"}]}));
    assert_eq!((v["status"].as_str(), v["proven_all"].as_bool()), (Some("ok"), Some(true)));
    // Trimmed at all four edges, though only `trim` was given.
    for part in v["boards"][0]["parts"].as_array().expect("parts") {
        assert!(part["x"].as_f64() >= Some(0.25) && part["y"].as_f64() >= Some(0.25));
    }
    // 96 − 1/4 − 2 · 30 − 2/8 = 35.5 at full width.
    assert_eq!(v["leftover"]["length"].as_f64().map(|l| (l * 1e6).round() / 1e6), Some(35.5));
    let v = plan_value(&json!({"cut": "sheets", "kerf": 0, "boards": [],
        "parts": [{"id": "side", "qty": 2, "length": 30, "width": 47.5}]}));
    assert_eq!((v["status"].as_str(), v["part"].as_str()), (Some("infeasible"), Some("side")));
}

/// The optimum of each job of the table was found by a general-purpose MIP solver over all sets of
/// pieces that can be cut from a board (tests/oracles/sheets/make.py).
#[test]
fn the_table_of_optima_is_reached() {
    let rows: serde_json::Value =
        serde_json::from_str(include_str!("sheets_table.json")).expect("the table");
    let rows = rows.as_array().expect("rows");
    assert!(rows.len() >= 50, "{} rows", rows.len());
    for row in rows {
        let answer = plan_value(&row["job"]);
        let seed = &row["seed"];
        let Some(best) = row["best"].as_object() else {
            assert_eq!(answer["status"], json!("infeasible"), "seed {seed}");
            continue;
        };
        assert_eq!(answer["proven_all"], json!(true), "seed {seed}: {answer}");
        let price = answer["price"].as_f64().expect("a price");
        assert!(
            best["price"].as_f64().is_some_and(|p| (p - price).abs() < 1e-5),
            "seed {seed}: {price}, table {best:?}"
        );
        let boards = answer["boards"].as_array().map(|b| b.len() as u64);
        assert_eq!(boards, best["boards"].as_u64(), "seed {seed}");
    }
}

/// Sheets cut up at random by guillotine cuts, nothing wasted: as many pieces each as are asked for.
fn cut_up(dice: &mut Dice, sheets: u64, each: usize, least: f64) -> Vec<PartKind> {
    let mut parts = Vec::new();
    for _ in 0..sheets {
        let mut pieces = vec![(96.0, 48.0)];
        while pieces.len() < each {
            let at = dice.between(0, pieces.len() as u64 - 1) as usize;
            let (l, w): (f64, f64) = pieces[at];
            let along = l >= w;
            let size: f64 = if along { l } else { w };
            if size < least {
                continue;
            }
            // The kerf is lost between the two pieces.
            let first = (size * (0.3 + 0.4 * dice.unit()) * 8.0).round() / 8.0;
            let second = size - 0.125 - first;
            pieces.swap_remove(at);
            for s in [first, second] {
                pieces.push(if along { (s, w) } else { (l, s) });
            }
        }
        for (l, w) in pieces {
            let id = format!("p{}", parts.len());
            parts.push(if dice.chance(0.3) {
                PartKind::free(&id, 1, w, l)
            } else {
                PartKind::along(&id, 1, l, w)
            });
        }
    }
    parts
}

/// The parts come from as few sheets again.
#[test]
fn sheets_cut_without_waste_are_found_again() {
    for seed in 0..12 {
        let sheets = 1 + seed % 3;
        let parts = cut_up(&mut Dice(900 + seed), sheets, 5, 16.0);
        let job = job(vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)], parts);
        let plan = planned(&job).expect("a plan");
        assert_eq!((plan.boards.len() as u64, plan.proven), (sheets, true), "seed {seed}");
    }
}

/// And a sheet that is cut into many.
#[test]
fn a_full_sheet_of_many_parts_is_found_again() {
    for seed in 0..4 {
        let parts = cut_up(&mut Dice(700 + seed), 1, 15, 8.0);
        let job = job(vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)], parts);
        let plan = planned(&job).expect("a plan");
        assert_eq!((plan.boards.len(), plan.proven), (1, true), "seed {seed}");
    }
}
