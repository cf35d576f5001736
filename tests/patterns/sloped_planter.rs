//! A planter with sloping sides against its corners, worked out here from its sizes.

use crate::checks::{refusal, solid_of, volume_as_cut};
use offsquare_door::piece::piece_value;
use offsquare_geometry::Point3;
use offsquare_tests::dice::Dice;
use serde_json::{Value, json};

fn near(value: &Value, expected: f64) {
    let is = value.as_f64().unwrap_or(f64::NAN);
    assert!((is - expected).abs() < 1e-9 * expected.abs().max(1.0), "{is} is not {expected}");
}

fn part<'v>(answer: &'v Value, name: &str) -> &'v Value {
    let parts = answer["parts"].as_array().expect("parts");
    parts.iter().find(|p| p["name"] == name).unwrap_or_else(|| panic!("no {name} in {answer}"))
}

fn placed<'v>(answer: &'v Value, name: &str) -> Vec<&'v Value> {
    let parts = answer["parts"].as_array().expect("parts");
    let at = parts.iter().position(|p| p["name"] == name).expect("the part");
    answer["placed"].as_array().unwrap().iter().filter(|p| p["part"] == at).collect()
}

/// Both leans 45° and mitered: the miter is atan(sin 45°) = 35.264°, the bevel 30° (the textbook case of a
/// square corner, cos of the angle between the faces = -1/2). Rim: 10 + 2 × 4 wide; blank: 4/cos 45° + 1 × tan 45°.
#[test]
fn leaning_at_45_degrees_it_is_the_case_of_the_tables() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "sloped_planter",
        "sizes": {"outside_bottom_width": 10, "outside_bottom_depth": 6, "height": 4, "tilt_front_deg": 45,
            "tilt_side_deg": 45, "thickness": 1, "joint": "mitered", "floor_height": 0.5,
            "floor_thickness": 1, "feet_height": 2},
    }));
    assert_eq!(answer["problems"], json!([]));
    near(&answer["extent"]["width"], 18.0);
    near(&answer["extent"]["depth"], 14.0);
    near(&answer["extent"]["height"], 6.0);
    let (front, floor) = (part(&answer, "front"), part(&answer, "floor"));
    // Lying outside up with the rim at the fence, the ends run out toward the rim.
    let end = &front["left"];
    near(&end["mitre_deg"], -0.5_f64.sqrt().atan().to_degrees());
    near(&end["bevel_deg"], 30.0);
    assert_eq!(front["rips"], json!({"near_deg": -45.0, "far_deg": 45.0}));
    near(&front["seen"], 4.0 * 2.0_f64.sqrt() + 1.0);
    near(&front["length"], 18.0);
    assert!(front["outline"].is_null() && floor["outline"].is_null());
    // Between the inner faces, √2 inside the outer ones on the level: 10 - 2√2 + 2 × 1 1/2 above.
    near(&floor["length"], 13.0 - 8.0_f64.sqrt());
    near(&floor["seen"], 9.0 - 8.0_f64.sqrt());
    near(&floor["left"]["bevel_deg"], 45.0);
    assert_eq!(floor["rips"], json!({"near_deg": 45.0, "far_deg": 45.0}));
    // It lies from 2 1/2 to 3 1/2 above the ground.
    for placed in placed(&answer, "floor") {
        for v in placed["vertices"].as_array().unwrap() {
            let z = v[2].as_f64().unwrap();
            assert!((z - 2.5).abs() < 1e-9 || (z - 3.5).abs() < 1e-9);
        }
    }
    let foot = part(&answer, "foot");
    assert_eq!((&foot["qty"], &foot["length"]), (&json!(4), &json!(2.0)));
    assert_eq!((&foot["seen"], &foot["away"]), (&json!(1.5), &json!(1.5)));
}

/// Butted, front and back end on the sides' inner faces: upright sides 1 thick take 2 off 10.
#[test]
fn butted_fronts_stand_between_the_sides() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "sloped_planter",
        "sizes": {"outside_bottom_width": 10, "outside_bottom_depth": 6, "height": 4, "tilt_front_deg": 30,
            "tilt_side_deg": 0, "thickness": 1, "joint": "butted", "floor_height": 0,
            "floor_thickness": 0.5, "feet_height": 0},
    }));
    assert_eq!(answer["problems"], json!([]));
    near(&part(&answer, "front")["length"], 8.0);
    assert_eq!(part(&answer, "front")["left"], json!({"mitre_deg": 0.0, "bevel_deg": 0.0}));
    // The upright sides are square boards with ends along the fronts' slope: 6 + 2 × 4 tan 30° at the rim.
    let side = part(&answer, "side");
    near(&side["length"], 6.0 + 8.0 / 3.0_f64.sqrt());
    near(&side["left"]["mitre_deg"], -30.0);
    assert!(side["rips"].is_null());
    assert!(answer["parts"].as_array().unwrap().iter().all(|p| p["name"] != "foot"));
}

/// The rim may be given in place of a tilt: 2 × 8 × tan of it is what it is wider than the bottom.
#[test]
fn a_rim_is_given_in_place_of_a_tilt() {
    let answer = piece_value(&json!({
        "unit": "mm", "pattern": "sloped_planter",
        "sizes": {"outside_bottom_width": 400, "height": 200, "outside_top_width": 500,
            "outside_bottom_depth": 200, "tilt_front_deg": 0},
    }));
    assert_eq!(answer["problems"], json!([]));
    near(&answer["sizes"]["tilt_side_deg"], 0.25_f64.atan().to_degrees());
    near(&answer["extent"]["width"], 500.0);
}

/// Volume of a frustum between two level rectangles (prismatoid: ends and four times the middle, over six).
fn frustum(low: (f64, f64), high: (f64, f64), height: f64) -> f64 {
    let middle = (low.0 + high.0) * (low.1 + high.1);
    height / 6.0 * (low.0 * low.1 + middle + high.0 * high.1)
}

/// Any planter: its extent is the wider of bottom and rim; its four boards are the outer frustum less the
/// inner one; no corner of them lies outside of the four outer faces or inside the four inner ones; the floor
/// is the frustum between its two heights.
#[test]
fn three_hundred_planters_are_frustums() {
    let mut dice = Dice(77);
    let mut made = 0;
    for k in 0..300 {
        let mut from = |a: f64, b: f64| a + (b - a) * dice.share();
        let (w, d, h) = (from(8.0, 40.0), from(6.0, 20.0), from(4.0, 14.0));
        let tilts = if k % 4 == 0 { (-12.0, 40.0) } else { (0.0, 25.0) };
        let (a, b) = (from(tilts.0, tilts.1), from(tilts.0, tilts.1));
        let (t, up, ft) = (from(0.4, 1.6), from(0.0, 1.5), from(0.3, 1.2));
        let feet = if k % 3 == 0 { 0.0 } else { from(0.5, 4.0) };
        let joint = if k % 2 == 0 { "mitered" } else { "butted" };
        let answer = piece_value(&json!({
            "unit": "in", "pattern": "sloped_planter",
            "sizes": {"outside_bottom_width": w, "outside_bottom_depth": d, "height": h, "tilt_front_deg": a,
                "tilt_side_deg": b, "thickness": t, "joint": joint, "floor_height": up,
                "floor_thickness": ft, "feet_height": feet},
        }));
        if answer["parts"].is_null() {
            continue;
        }
        made += 1;
        let (tan_a, tan_b) = (a.to_radians().tan(), b.to_radians().tan());
        let (lost_w, lost_d) = (2.0 * t / b.to_radians().cos(), 2.0 * t / a.to_radians().cos());
        let outer = |z: f64| (w + 2.0 * z * tan_b, d + 2.0 * z * tan_a);
        let inner = |z: f64| (outer(z).0 - lost_w, outer(z).1 - lost_d);
        let size = outer(h).0.max(outer(h).1).max(w).max(d);
        let alike = |value: &Value, expected: f64| {
            assert!((value.as_f64().unwrap() - expected).abs() < 1e-9 * size, "{value} {expected}");
        };
        alike(&answer["extent"]["width"], w.max(outer(h).0));
        alike(&answer["extent"]["depth"], d.max(outer(h).1));
        alike(&answer["extent"]["height"], h + feet);
        let volumes =
            |name: &str| placed(&answer, name).iter().map(|p| solid_of(p).volume()).sum::<f64>();
        let walls = frustum(outer(0.0), outer(h), h) - frustum(inner(0.0), inner(h), h);
        let is = volumes("front") + volumes("side");
        assert!((is - walls).abs() < 1e-9 * size.powi(3), "{is} {walls}");
        let floor = frustum(inner(up), inner(up + ft), ft);
        assert!((volumes("floor") - floor).abs() < 1e-9 * size.powi(3));
        let cut = volume_as_cut(part(&answer, "front")) + volume_as_cut(part(&answer, "side"));
        assert!((2.0 * cut - walls).abs() < 1e-9 * size.powi(3), "{cut} {walls}");
        for name in ["front", "side"] {
            for p in placed(&answer, name).iter().flat_map(|p| solid_of(p).faces).flatten() {
                between(p, feet, &outer, &inner, 1e-9 * size);
            }
        }
    }
    assert!(made > 200, "{made}");
}

/// A corner of a board lies within the outer rectangle at its height, and not within the inner one.
fn between(
    p: Point3,
    feet: f64,
    outer: &dyn Fn(f64) -> (f64, f64),
    inner: &dyn Fn(f64) -> (f64, f64),
    slip: f64,
) {
    let (out, within) = (outer(p.z - feet), inner(p.z - feet));
    assert!(p.x.abs() <= out.0 / 2.0 + slip && p.y.abs() <= out.1 / 2.0 + slip, "{p:?}");
    assert!(p.x.abs() >= within.0 / 2.0 - slip || p.y.abs() >= within.1 / 2.0 - slip, "{p:?}");
}

/// Start sizes in inches: 18 × 8 bottom, 7 high, 12° and 8°, 3/4 thick.
#[test]
fn what_cannot_be_is_refused_at_its_size_with_the_limit() {
    let start = "sloped_planter";
    // 18 in of bottom less 2 × 9 in at 45° inward: nothing is left at 9 in.
    let sizes = json!({"tilt_side_deg": -45, "height": 10});
    refusal(start, &sizes, "height", Some(9.0));
    // Two boards of half the bottom's depth fill it: 4 in on the level, × cos 12°.
    refusal(start, &json!({"thickness": 5}), "thickness", Some(4.0 * 12.0_f64.to_radians().cos()));
    refusal(start, &json!({"floor_height": 7.5}), "floor_height", Some(7.0));
    refusal(start, &json!({"floor_height": 6.5}), "floor_thickness", Some(0.5));
    refusal(start, &json!({"outside_bottom_depth": 2.75}), "outside_bottom_depth", Some(3.0));
}
