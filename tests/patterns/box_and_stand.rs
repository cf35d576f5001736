//! A box and a stand against sizes worked out by hand.

use offsquare_door::piece::piece_value;
use serde_json::{Value, json};

fn near(value: &Value, expected: f64) {
    let is = value.as_f64().unwrap_or(f64::NAN);
    assert!((is - expected).abs() < 1e-9, "{is} is not {expected}");
}

#[test]
fn a_mitered_box_has_its_inside_and_its_boards() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "plain_box",
        "sizes": {"width": 14, "depth": 9, "height": 8, "thickness": 0.75, "joint": "mitered", "lid": false},
        "stock": {"front": {"species": "white_oak"}},
    }));
    near(&answer["sizes"]["inside_width"], 12.5);
    near(&answer["sizes"]["inside_depth"], 7.5);
    near(&answer["sizes"]["inside_height"], 7.25);
    let front = &answer["parts"][0];
    assert_eq!(front["name"], "front");
    assert_eq!(front["left"], json!({"mitre_deg": 0.0, "bevel_deg": 45.0}));
    near(&front["length"], 14.0);
    near(&front["seen"], 8.0);
    // Only one of four sticks says its species.
    assert_eq!(answer.get("weight_kg"), None);
}

#[test]
fn the_inside_may_be_given_instead() {
    let answer = piece_value(&json!({
        "unit": "mm", "pattern": "plain_box",
        "sizes": {"inside_width": 300, "inside_height": 150, "thickness": 18},
    }));
    assert_eq!(answer["problems"], json!([]));
    near(&answer["sizes"]["width"], 336.0);
    near(&answer["sizes"]["height"], 186.0);
    near(&answer["sizes"]["depth"], 230.0);
}

#[test]
fn a_box_of_one_wood_weighs_its_boards() {
    let oak = json!({"species": "White oak"});
    let answer = piece_value(&json!({
        "unit": "mm", "pattern": "plain_box",
        "sizes": {"width": 300, "depth": 200, "height": 100, "thickness": 10},
        "stock": {"front": oak, "back": oak, "side": oak, "floor": oak, "lid": oak},
    }));
    // Full block less the inside, 280 × 180 × 80 mm, at 1120 × 0.68 kg/m³.
    near(&answer["weight_kg"], (0.3 * 0.2 * 0.1 - 0.28 * 0.18 * 0.08) * 1120.0 * 0.68);
    near(&answer["centre_of_mass"][2], 50.0);
    near(&answer["centre_of_mass"][0], 0.0);
}

#[test]
fn a_stand_has_its_toes_on_the_footprint_and_its_post_where_the_joint_ends() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "post_stand",
        "sizes": {"overall_height": 36, "footprint": 18, "legs": 4, "post_width": 3.5, "post_shape": "square",
            "leg_seen": 1.5, "leg_away": 1.5, "cleat": 0.5, "post_length": 31},
    }));
    assert_eq!(answer["problems"], json!([]));
    for side in ["width", "depth"] {
        near(&answer["extent"][side], 18.0);
    }
    near(&answer["extent"]["height"], 36.0);
    let names: Vec<&Value> =
        answer["parts"].as_array().unwrap().iter().map(|p| &p["name"]).collect();
    assert_eq!(names, ["post", "leg", "cleat"]);
    // The lower end of the joint and of the post, from the plan's own rule: R cos a - h sin a = d with
    // R = (18 - 4.5) / 2 and h = 5.
    let a = answer["sizes"]["splay_deg"].as_f64().unwrap().to_radians();
    assert!((6.75 * a.cos() - 5.0 * a.sin() - 1.5).abs() < 1e-9);
    let lowest = |part: usize| {
        let placed = answer["placed"].as_array().unwrap().iter().filter(|p| p["part"] == part);
        let corners = placed.flat_map(|p| p["vertices"].as_array().unwrap());
        corners.map(|v| v[2].as_f64().unwrap()).fold(f64::INFINITY, f64::min)
    };
    assert!(
        (lowest(0) - 5.0).abs() < 1e-9 && (lowest(2) - 5.0).abs() < 1e-9 && lowest(1).abs() < 1e-9
    );
}
