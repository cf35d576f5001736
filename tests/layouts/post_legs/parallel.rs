//! Parallel legs: every answer of a solution is what a ruler finds on the constructed leg.

use crate::polygon;
use crate::request::{Dice, answers, ask, near, number, problems, solutions};
use serde_json::{Value, json};

/// The size that GEOMETRY's `given` names, measured.
fn measured(m: &polygon::Measured, given: &str, lean: f64) -> f64 {
    match given {
        "splay" => lean,
        "long_point" => m.outer,
        "short_point" => m.inner,
        "rise_top" => m.top,
        "rise_middle" => (m.top + m.bottom) / 2.0,
        "rise_bottom" => m.bottom,
        other => panic!("{other}"),
    }
}

pub const GIVEN: [&str; 6] =
    ["splay", "long_point", "short_point", "rise_top", "rise_middle", "rise_bottom"];

fn agrees(a: &Value, width: f64, footprint: f64, depth: f64, square: bool, what: &str) {
    let lean = number(a, "splay_deg");
    let Some(m) = polygon::leg(width, footprint, depth, lean, square) else {
        panic!("{what}: no such leg at {lean}");
    };
    // The constructed strip is that long, and its corners are that exact.
    let scale = footprint.max(m.outer).max(m.top) + depth / lean.to_radians().cos();
    let allowed = 3e-10 * scale;
    for (key, want) in [
        ("long_point_length", m.outer),
        ("outer_edge_length", m.outer),
        ("short_point_length", m.inner),
        ("inner_edge_length", m.inner),
        ("rise_to_joint_top", m.top),
        ("rise_to_joint_middle", (m.top + m.bottom) / 2.0),
        ("rise_to_joint_bottom", m.bottom),
        ("joint_length_on_post", m.top - m.bottom),
        ("foot_cut_length", m.foot_cut),
        ("floor_contact_span", m.span),
        ("post_bottom_height", m.bottom),
    ] {
        near(number(a, key), want, allowed, &format!("{what}: {key}"));
    }
    near(number(a, "slope_to_floor_deg"), 90.0 - lean, 1e-12, what);
    near(number(a, "top_reading_deg"), 90.0 - lean, 1e-12, what);
    let foot = if square { 0.0 } else { lean };
    near(number(a, "foot_reading_deg"), foot, 1e-12, what);
    // The library's boolean operations snap to a grid of about a billionth of the strip.
    let area = (number(a, "outer_edge_length") + number(a, "inner_edge_length")) / 2.0 * depth;
    near(area, m.area, 1e-6 * scale * scale, &format!("{what}: area"));
}

#[test]
fn every_given_finds_the_constructed_leg() {
    let mut dice = Dice::new(2);
    let mut tried = 0;
    for turn in 0..900 {
        let width = dice.between(0.5, 8.0);
        let run = dice.between(0.3, 20.0);
        let footprint = width + 2.0 * run;
        let depth = dice.between(0.1, 1.4) * run.min(6.0);
        let lean = dice.between(3.0, 86.0);
        let square = dice.coin();
        let Some(m) = polygon::leg(width, footprint, depth, lean, square) else {
            continue;
        };
        for given in GIVEN {
            let value = measured(&m, given, lean);
            let what = format!("turn {turn}, {given} {value}, square {square}, lean {lean}");
            let all = solutions(json!({
                "post_width": width, "footprint": footprint, "leg_depth": depth,
                "given": given, "value": value, "foot": if square { "square" } else { "floor" },
            }));
            assert!(!all.is_empty(), "{what}: none");
            let splays: Vec<f64> = all.iter().map(|a| number(a, "splay_deg")).collect();
            assert!(splays.windows(2).all(|w| w[0] < w[1]), "{what}: not rising {splays:?}");
            let nearest = splays.iter().fold(f64::INFINITY, |n, s| n.min((s - lean).abs()));
            // Where two solutions nearly meet, the lean follows the size only by its square root.
            let gap = splays.windows(2).fold(90.0_f64, |g, w| g.min(w[1] - w[0]));
            let allowed = if gap < 1.0 { 1e-4 } else { 1e-7 };
            assert!(nearest < allowed, "{what}: off by {nearest:e}, gap {gap}");
            for a in &all {
                agrees(a, width, footprint, depth, square, &what);
            }
            tried += 1;
        }
    }
    assert!(tried > 2000, "only {tried} legs could be made");
}

#[test]
fn angles_are_right_to_a_billionth_of_a_degree() {
    // From the defining equations of GEOMETRY 3, solved for the lean by halving in here.
    let mut dice = Dice::new(5);
    for _ in 0..400 {
        let run = dice.between(2.0, 12.0);
        let depth = dice.between(0.2, 0.8) * run;
        let lean = dice.between(20.0, 30.0);
        let a = f64::to_radians(lean);
        for (given, value) in [
            ("long_point", run / a.sin()),
            ("rise_top", run / a.tan()),
            ("short_point", run / a.sin() - depth * (a.tan() + 1.0 / a.tan())),
            ("rise_bottom", run / a.tan() - depth / a.sin()),
            ("rise_middle", run / a.tan() - depth / a.sin() / 2.0),
        ] {
            let all = solutions(json!({
                "post_width": 3.0, "footprint": 3.0 + 2.0 * run, "leg_depth": depth,
                "given": given, "value": value,
            }));
            assert_eq!(all.len(), 1, "{given}");
            near(number(&all[0], "splay_deg"), lean, 1e-9, given);
        }
    }
}

#[test]
fn facts_of_common_practice() {
    // Common practice, no source (LAYOUTS.md): a parallel leg 12 in along its outer edge whose foot
    // lands 6 in out wants 60.0°.
    let a = &solutions(json!({"post_width": 3.5, "footprint": 15.5, "leg_depth": 1.5,
        "given": "long_point", "value": 12}))[0];
    near(number(a, "top_reading_deg"), 60.0, 1e-12, "12 in leg, 6 in out");
    near(number(a, "foot_out_from_post"), 6.0, 1e-12, "6 in out");
    // Common practice, no source (issue 2): a 16 in leg whose foot lands about 10 in out wants a saw
    // set near 50°, one degree or two.
    let a = &solutions(json!({"post_width": 3.5, "footprint": 23.5, "leg_depth": 1.5,
        "given": "long_point", "value": 16}))[0];
    near(number(a, "top_reading_deg"), 50.0, 2.0, "16 in leg, 10 in out");
}

#[test]
fn cleats_widen_the_post() {
    // GEOMETRY 3: use p + 2c for p.
    let with =
        &solutions(json!({"post_width": 3.5, "footprint": 20, "leg_depth": 1.5, "cleat": 0.75,
        "given": "long_point", "value": 12}))[0];
    let plain = &solutions(json!({"post_width": 5, "footprint": 20, "leg_depth": 1.5,
        "given": "long_point", "value": 12}))[0];
    for key in ["splay_deg", "long_point_length", "rise_to_joint_bottom", "joint_length_on_post"] {
        near(number(with, key), number(plain, key), 1e-12, key);
    }
    near(
        number(with, "cleat_length_at_least"),
        number(with, "joint_length_on_post"),
        0.0,
        "the cleat is at least the joint's length",
    );
    near(number(with, "foot_out_from_post"), (20.0 - 3.5) / 2.0, 1e-12, "out from the post itself");
}

#[test]
fn three_legs_sit_on_their_post() {
    // GEOMETRY 3: p is the diameter (round), across flats (hexagonal), side/√3 (triangular); the
    // footprint is the circle through the toes, toe to toe 0.8660 F.
    let splay = |shape: &str, width: f64| {
        let a =
            solutions(json!({"post_width": width, "footprint": 16, "leg_depth": 1.5, "legs": 3,
            "post_shape": shape, "given": "long_point", "value": 10}));
        near(number(&a[0], "toe_to_toe"), 0.8660 * 16.0, 5e-5 * 16.0, "toe to toe");
        number(&a[0], "splay_deg")
    };
    let p = 3.0;
    let sin = |degrees: f64| degrees.to_radians().sin();
    near(sin(splay("round", p)), (16.0 - p) / 2.0 / 10.0, 1e-12, "round");
    near(sin(splay("hexagonal", p)), (16.0 - p) / 2.0 / 10.0, 1e-12, "hexagonal");
    // A triangle of side s has its flats s/(2√3) from the middle (in-circle of a regular triangle).
    let side = 4.0;
    let flat = side / (2.0 * 3.0_f64.sqrt());
    near(sin(splay("triangular", side)), (8.0 - flat) / 10.0, 1e-12, "triangular");
    // Toes on a circle 120° apart, measured.
    let toe = |turn: f64| (8.0 * f64::to_radians(turn).cos(), 8.0 * f64::to_radians(turn).sin());
    let (a, b) = (toe(0.0), toe(120.0));
    let chord = f64::hypot(a.0 - b.0, a.1 - b.1);
    let got = solutions(
        json!({"post_width": 3, "footprint": 16, "leg_depth": 1.5, "legs": 3, "splay_deg": 40}),
    );
    near(number(&got[0], "toe_to_toe"), chord, 1e-12, "chord");
    // No leg of three stands across from another: the two-legged span would be no distance between any two feet.
    for legs in [2, 3, 4] {
        let got = solutions(
            json!({"post_width": 3, "footprint": 16, "leg_depth": 1.5, "legs": legs, "splay_deg": 40}),
        );
        let span = got[0].get("floor_contact_span");
        assert_eq!(span.is_none(), legs == 3, "{legs} legs");
    }
}

#[test]
fn the_post_hangs_where_it_says() {
    let a = &solutions(json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5,
        "post_length": 30, "post_below_joint": 2, "given": "splay", "value": 40}))[0];
    let bottom = number(a, "rise_to_joint_bottom");
    near(number(a, "post_bottom_height"), bottom - 2.0, 1e-12, "GEOMETRY 3");
    near(number(a, "overall_height"), bottom - 2.0 + 30.0, 1e-12, "GEOMETRY 3");
    near(number(a, "joint_bottom_from_post_bottom"), 2.0, 0.0, "joint from below");
    near(
        number(a, "joint_top_from_post_top"),
        number(a, "overall_height") - number(a, "rise_to_joint_top"),
        1e-12,
        "joint from above",
    );
    // The same leg from its overall height: rise_bottom = overall − post length + post below the joint.
    let b = &solutions(json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5,
        "post_length": 30, "post_below_joint": 2, "given": "overall_height",
        "value": number(a, "overall_height")}))[0];
    near(number(b, "splay_deg"), 40.0, 1e-9, "from the overall height");
}

#[test]
fn larger_and_metric_legs_are_the_same_legs() {
    let base = json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "post_below_joint": 0.25,
        "cleat": 0.5, "given": "short_point", "value": 6.4, "foot": "square"});
    let one = solutions(base.clone());
    for k in [1e-3, 7.0, 1e4] {
        let mut scaled = base.clone();
        for key in ["post_width", "footprint", "leg_depth", "post_below_joint", "cleat", "value"] {
            scaled[key] = json!(base[key].as_f64().expect("number") * k);
        }
        let many = solutions(scaled);
        assert_eq!(one.len(), many.len());
        for (a, b) in one.iter().zip(&many) {
            for (key, v) in a.as_object().expect("object") {
                let (v, w) = (v.as_f64().expect("number"), number(b, key));
                if key.ends_with("_deg") {
                    near(w, v, 1e-9, key);
                } else {
                    near(w, v * k, 1e-11 * 20.0 * k, key);
                }
            }
        }
    }
    let mm = offsquare_door::solve_value(&json!({"id": 1, "layout": "post_legs", "unit": "mm",
        "inputs": {"post_width": 3.5 * 25.4, "footprint": 17.5 * 25.4, "leg_depth": 1.5 * 25.4,
        "post_below_joint": 0.25 * 25.4, "cleat": 12.7, "given": "short_point", "value": 6.4 * 25.4, "foot": "square"}}));
    for (a, b) in one.iter().zip(&answers(&mm)) {
        near(number(b, "long_point_length"), number(a, "long_point_length") * 25.4, 1e-9, "mm");
        near(number(b, "splay_deg"), number(a, "splay_deg"), 1e-10, "mm");
    }
}

#[test]
fn a_closed_form_from_the_lower_end() {
    // GEOMETRY 3: from rise_bottom with a floor foot a = acos(d/hypot(R,h)) − atan(h/R).
    let (r, d, h) = (7.0_f64, 1.5_f64, 4.0_f64);
    let want = (d / r.hypot(h)).acos() - (h / r).atan();
    let a = solutions(json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": d,
        "given": "rise_bottom", "value": h}));
    near(number(&a[0], "splay_deg"), want.to_degrees(), 1e-12, "closed form");
}

#[test]
fn spellings_of_the_given_size_are_one() {
    let by_word = ask(
        json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "rise_top", "value": 6.5}),
    );
    let by_key = ask(
        json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "rise_to_joint_top": 6.5}),
    );
    assert_eq!(by_word, by_key);
    for (inputs, path) in [
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "length", "value": 6.5}),
            "/inputs/given",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": 7, "value": 6.5}),
            "/inputs/given",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "rise_top"}),
            "/inputs/value",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "value": 6.5}),
            "/inputs/given",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "rise_top", "value": "6 1/2"}),
            "/inputs/value",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "rise_top", "value": -6.5}),
            "/inputs/value",
        ),
        (
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 6.5}),
            "/inputs/value",
        ),
        (json!({}), "/inputs/post_width"),
    ] {
        let reply = ask(inputs.clone());
        assert!(answers(&reply).is_empty(), "{inputs}");
        assert!(
            problems(&reply).iter().any(|p| p["path"] == path && p["level"] == "stop"),
            "{inputs}: {reply}"
        );
    }
}
