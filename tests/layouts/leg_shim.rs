//! Shim for a tapered leg, through the JSON door.

use offsquare_door::solve_value;
use serde_json::{Value, json};

fn ask(inputs: Value) -> Value {
    solve_value(&json!({"id": 1, "layout": "leg_shim", "unit": "in", "inputs": inputs}))
}

#[track_caller]
fn near(got: &Value, want: f64, allowed: f64) {
    let got = got.as_f64().expect("a number");
    assert!((got - want).abs() <= allowed, "got {got}, want {want}");
}

#[test]
fn the_gap_between_a_constructed_side_and_the_fence() {
    // The side runs from (0, D/2) to (L, e/2) off the axis; the fence is parallel to the axis where
    // the side first touches. The gap is read off that line.
    for (big, small, length, at, first) in [
        (2.5, 1.25, 20.0, 16.0, 0.0),
        (2.5, 1.25, 20.0, 20.0, 0.0),
        (2.5, 1.25, 20.0, 18.0, 3.0),
        (50.0, 22.0, 400.0, 333.0, 12.0),
        (2.0, 2.0, 16.0, 12.0, 0.0),
    ] {
        let reply =
            ask(json!({"big_diameter": big, "small_diameter": small, "length_along_axis": length,
            "shim_at_from_big_end": at, "first_contact_from_big_end": first}));
        let a = &reply["solutions"][0]["answers"];
        assert_eq!(reply["solutions"][0]["way"], "shim");
        let side = |x: f64| big / 2.0 + (small / 2.0 - big / 2.0) * x / length;
        near(&a["shim_thickness"], side(first) - side(at), 1e-12 * big);
        let slope = f64::atan2(side(0.0) - side(length), length).to_degrees();
        near(&a["reading_error_without_shim_deg"], slope, 1e-12);
        near(&a["side_length"], f64::hypot(length, side(0.0) - side(length)), 1e-12 * length);
    }
    // GEOMETRY 3's check: D 2.5, e 1.25, L 20: h 1.790.
    let a = ask(
        json!({"big_diameter": 2.5, "small_diameter": 1.25, "length_along_axis": 20, "shim_at_from_big_end": 16}),
    );
    near(&a["solutions"][0]["answers"]["reading_error_without_shim_deg"], 1.790, 5e-4);
    near(&a["solutions"][0]["answers"]["shim_thickness"], 0.5, 1e-15);
}

#[test]
fn a_shim_at_hand_says_where_it_goes() {
    // By hand: (2.5 − 1.25)/2 · x/20 = 3/8 gives x = 12.
    let reply = ask(
        json!({"big_diameter": 2.5, "small_diameter": 1.25, "length_along_axis": 20, "shim_thickness": 0.375}),
    );
    near(&reply["solutions"][0]["inputs"]["shim_at_from_big_end"], 12.0, 1e-9);
}

#[test]
fn what_cannot_be_is_said() {
    let base = json!({"big_diameter": 2.5, "small_diameter": 1.25, "length_along_axis": 20, "shim_at_from_big_end": 16});
    for (key, value, path, limit) in [
        ("small_diameter", json!(3), "/inputs/small_diameter", Some(2.5)),
        ("shim_at_from_big_end", json!(20.5), "/inputs/shim_at_from_big_end", Some(20.0)),
        ("first_contact_from_big_end", json!(16), "/inputs/shim_at_from_big_end", Some(16.0)),
        ("length_along_axis", json!(0), "/inputs/length_along_axis", Some(0.0)),
        ("big_diameter", json!(-1), "/inputs/big_diameter", Some(0.0)),
        ("big_diameter", json!(1e308), "/inputs/big_diameter", Some(1e9)),
        ("big_diameter", json!("2 1/2"), "/inputs/big_diameter", None),
        ("big_diameter", json!(null), "/inputs/big_diameter", None),
    ] {
        let mut inputs = base.clone();
        inputs[key] = value;
        let reply = ask(inputs.clone());
        assert_eq!(reply["solutions"], json!([]), "{inputs}");
        let p = reply["problems"].as_array().expect("array").iter().find(|p| p["path"] == path);
        let p = p.unwrap_or_else(|| panic!("{inputs}: {reply}"));
        assert_eq!(p["level"], "stop");
        if let Some(limit) = limit {
            near(&p["limit"], limit, 1e-9);
        }
    }
}

#[test]
fn every_case_is_answered() {
    let cases: Value = serde_json::from_str(include_str!("../cases/leg_shim.json")).expect("JSON");
    let replies = solve_value(&cases);
    let (cases, replies) = (cases.as_array().expect("array"), replies.as_array().expect("array"));
    assert!(cases.len() >= 30, "{}", cases.len());
    for (case, reply) in cases.iter().zip(replies) {
        assert_eq!(case["id"], reply["id"]);
        let none = reply["solutions"].as_array().is_some_and(Vec::is_empty);
        let stopped =
            reply["problems"].as_array().is_some_and(|p| p.iter().any(|p| p["level"] == "stop"));
        assert!(!none || stopped, "{case} → {reply}");
    }
}
