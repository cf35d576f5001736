//! The planner through its JSON door and its verifier.

#[allow(dead_code)]
mod jobs;
mod judged;
mod naive;
mod near;
mod order;
mod plainly;
mod properties;
mod rectangles;
mod sheets;
mod solver;
mod strips;

use offsquare_door::plan::plan_value;
use offsquare_planner::{PlanAnswer, Planner, plan, verify};
use serde_json::{Value, json};

fn answer(instance: Value) -> Value {
    plan_value(&instance)
}

fn three_from(length: f64) -> Value {
    answer(
        json!({"width": 3.5, "kerf": 0.125, "boards": [{"id": "b", "length": length, "price": 4.28}],
        "parts": [{"id": "p", "qty": 3, "length": 32}]}),
    )
}

/// CUTPLAN 4: three 32 in parts with a 1/8 in kerf need 96 1/4 in, neither 96 nor 96 3/8.
#[test]
fn exact_fits_have_no_slack() {
    let count = |v: &Value| v["boards"].as_array().map(Vec::len);
    assert_eq!(count(&three_from(96.0)), Some(2));
    assert_eq!(count(&three_from(96.25)), Some(1));
}

/// REFERENCES 9.3 (derived): w 3.5, miter 45, long point 12, kerf 1/8: parts turned end for end follow
/// one another every 12 − 3.5 + 0.125·√2 = 8.677 in.
#[test]
fn mitered_parts_nest_at_the_pitch_of_the_reference() {
    let v = answer(
        json!({"width": 3.5, "kerf": 0.125, "boards": [{"id": "b", "length": 96, "price": 5}],
        "parts": [{"id": "p", "qty": 4, "length": 12, "left": 45, "right": 45}]}),
    );
    let x = |i: usize| v["boards"][0]["parts"][i]["x"].as_f64().expect("a place");
    let pitch = 12.0 - 3.5 + 0.125 * 2.0_f64.sqrt();
    for i in 0..3 {
        assert!((x(i + 1) - x(i) - pitch).abs() < 1e-9);
    }
}

/// REFERENCES 9.2: small instances of capacity 150 (data read, optima derived), first-fit-decreasing
/// traps among them; BPPLIB-style sizes, no kerf.
#[test]
fn small_published_instances_are_proven() {
    let cases: [(&[u64], usize); 4] = [
        (&[97, 42, 100, 77, 28, 80, 23, 40, 58, 25], 4),
        (&[27, 47, 54, 96, 67, 46, 25, 91, 23, 51, 32, 93, 29, 62, 44, 24, 69, 35, 64, 49], 7),
        (&[58, 78, 41, 99, 76, 33, 95, 74, 57, 50, 70, 67, 23, 32, 39, 99, 43, 72, 34, 48], 8),
        (&[31, 41, 73, 50, 32, 78, 45, 80, 44, 57, 88, 39, 73, 52, 59, 46, 24, 45, 59, 31], 8),
    ];
    for (sizes, best) in cases {
        let instance = jobs::packing(150, sizes);
        let PlanAnswer::Plan(plan) = plan(&instance) else {
            panic!("no plan for {sizes:?}");
        };
        assert!(verify(&instance, &plan.boards).is_ok());
        assert_eq!(plan.boards.len(), best, "{sizes:?}");
        assert!(plan.proven, "{sizes:?}");
    }
}

/// The textbook instance (REFERENCES 9.2; origin Chvátal 1983, from memory): stock 100, optimum 453.
#[test]
fn the_textbook_instance_takes_453() {
    let v =
        answer(json!({"width": 1, "kerf": 0, "boards": [{"id": "b", "length": 100, "price": 1}],
        "parts": [{"id": "a", "qty": 97, "length": 45}, {"id": "b", "qty": 610, "length": 36},
            {"id": "c", "qty": 395, "length": 31}, {"id": "d", "qty": 211, "length": 14}]}));
    assert_eq!(v["boards"].as_array().map(Vec::len), Some(453));
    assert_eq!(v["proven"], json!(true));
}

#[test]
fn an_impossible_job_names_its_part() {
    let v = answer(
        json!({"width": 3.5, "kerf": 0.125, "boards": [{"id": "b", "length": 96, "price": 5}],
        "parts": [{"id": "short", "qty": 1, "length": 10}, {"id": "long", "qty": 1, "length": 97}]}),
    );
    assert_eq!(v["status"], json!("infeasible"));
    assert_eq!(v["part"], json!("long"));
    assert!(v["reason"].as_str().is_some_and(|r| !r.is_empty()));
}

#[test]
fn nonsense_is_invalid_with_its_place() {
    for (bad, path) in [
        (json!([1]), ""),
        (json!({"width": -1, "kerf": 0, "boards": [], "parts": []}), "width"),
        (
            json!({"width": 1, "kerf": 0, "boards": [], "parts": [{"id": "p", "qty": 1, "length": "x"}]}),
            "length",
        ),
        (
            json!({"width": 1, "kerf": 0, "boards": [], "parts": [{"id": "p", "qty": 1, "length": 5, "left": 76}]}),
            "left",
        ),
    ] {
        let v = answer(bad.clone());
        assert_eq!(v["status"], json!("invalid"), "{bad}");
        let all = v["problems"].as_array().expect("problems");
        assert!(
            all.iter().any(|p| p["path"].as_str().is_some_and(|at| at.contains(path))),
            "{bad}: {v}"
        );
    }
}

/// What may be left out may also be null.
#[test]
fn null_is_as_left_out() {
    let v = answer(
        json!({"width": 3.5, "kerf": 0.125, "trim": null, "boards": [{"id": "b", "length": 96, "price": 5, "limit": null}],
        "parts": [{"id": "p", "qty": 1, "length": 96, "left": null, "right": null, "one_good_face": null}]}),
    );
    assert_eq!(v["status"], "ok", "{v}");
    assert_eq!(v["price"], 5.0);
}

/// Seeded shop jobs: every plan passes the verifier; a plan broken in one place does not; the same
/// job shuffled costs the same; a thicker blade never costs less.
#[test]
fn shop_jobs_hold_together() {
    let solved = |instance: &offsquare_planner::Instance| {
        let mut planner = Planner::new(instance.clone());
        // A few slices are enough for a sound plan and a bound; proofs are the bench's business.
        for _ in 0..2 {
            if planner.step(50_000).done {
                break;
            }
        }
        match planner.answer() {
            PlanAnswer::Plan(plan) => Some(plan),
            _ => None,
        }
    };
    let mut plans = 0;
    for seed in 0..6 {
        let (_, instance) = jobs::shop(seed);
        let Some(plan) = solved(&instance) else {
            continue;
        };
        plans += 1;
        assert!(verify(&instance, &plan.boards).is_ok(), "seed {seed}");
        assert!(plan.bound <= plan.price + 1e-6, "seed {seed}");
        let mut lost = plan.boards.clone();
        lost.pop();
        assert!(verify(&instance, &lost).is_err(), "seed {seed}: a board lost");
        let mut moved = plan.boards.clone();
        if let Some(part) = moved[0].parts.first_mut() {
            part.x -= 1.0;
        }
        assert!(verify(&instance, &moved).is_err(), "seed {seed}: a part off the board");
        let mut turned = instance.clone();
        turned.parts.reverse();
        turned.boards.reverse();
        if let Some(other) = solved(&turned).filter(|o| o.proven && plan.proven) {
            assert!((other.price - plan.price).abs() < 1e-6, "seed {seed}: shuffled");
        }
        let mut thick = instance.clone();
        thick.kerf *= 1.5;
        if let Some(other) = solved(&thick) {
            assert!(other.price >= plan.bound - 1e-6, "seed {seed}: a thicker blade");
        }
    }
    assert!(plans >= 5, "only {plans} jobs had plans");
}

/// Many lengths, about three to a board (drawn with a fixed seed): the sum of the lengths says that there cannot
/// be fewer boards than one less.
#[test]
fn hundreds_of_lengths_come_within_a_board_of_what_they_must_take() {
    for (n, seed) in [(60, 1), (120, 1), (250, 1), (250, 2), (500, 0), (500, 1), (500, 2)] {
        let job = jobs::thirds(n, seed);
        let sum: f64 = job.parts.iter().map(|p| p.length).sum();
        let least = (sum / 1000.0).ceil();
        let mut planner = Planner::new(job.clone());
        let near = loop {
            let now = planner.step(1_000_000);
            let near = now.best.filter(|b| b.price <= least + 1.0 || now.done);
            if let Some(plan) = near {
                break plan;
            }
        };
        assert!(verify(&job, &near.boards).is_ok());
        assert!(near.price <= least + 1.0, "{n} parts, seed {seed}: {} for {least}", near.price);
    }
}

/// A board more than the relaxation says (worked out by hand beside the job), in the text of published sets.
#[test]
fn sets_are_read_and_gaps_of_the_relaxation_are_seen() {
    let job = jobs::set("11\n132\n44\n44\n33\n33\n33\n12\n12\n12\n12\n12\n12\n").expect("a set");
    let PlanAnswer::Plan(plan) = plan(&job) else { panic!("no plan") };
    assert_eq!((plan.boards.len(), plan.bound, plan.proven), (3, 3.0, true));
    let PlanAnswer::Plan(same) = offsquare_planner::plan(&jobs::gaps(1, 0)) else { panic!() };
    assert_eq!(same.price, 3.0);
    for wrong in ["", "2\n10\n3\n", "1\n10\n11\n", "1 10 x", "-1 10 3"] {
        assert!(jobs::set(wrong).is_none(), "{wrong}");
    }
}
