//! What an independent program that judges the door found wanting, each with the figure that is right.

use super::door::well_formed;
use offsquare_door::solve_one;
use serde_json::{Value, json};

fn ask(layout: &str, unit: &str, inputs: Value) -> Value {
    let reply = solve_one(&json!({"id": 1, "layout": layout, "unit": unit, "inputs": inputs}));
    well_formed(&reply);
    reply
}

fn text(reply: &Value) -> &str {
    reply["problems"][0]["text"].as_str().unwrap_or_default()
}

/// A billion inches are 25.4 billion millimeters: past every ruler, but the limit is to be said.
#[test]
fn the_longest_length_is_said_in_figures() {
    for unit in ["in", "mm"] {
        let inputs = json!({"opening_width": 1e308, "opening_height": 44, "strip_width": 2.5});
        let reply = ask("brace", unit, inputs);
        let said = if unit == "in" { "1000000000 in" } else { "25400000000 mm" };
        assert!(text(&reply).ends_with(&format!("is {said}.")), "{reply}");
    }
}

/// Sizes that differ by less than a mark: right inset 12 − 8 − 1 = 3.
#[test]
fn what_is_less_than_a_mark_is_not_said_to_be_nothing() {
    for (over, unit, said) in [
        (0.0133, "in", "off by 1/64 in."),
        (1e-6, "in", "off by under 1/64 in."),
        (0.25, "mm", "off by 0.3 mm."),
        (1e-6, "mm", "off by under 0.1 mm."),
    ] {
        let inputs = json!({"base_width": 12, "top_width": 8, "height": 9, "left_inset": 1, "right_inset": 3.0 + over});
        let reply = ask("end_board", unit, inputs);
        assert!(text(&reply).ends_with(said), "{reply}");
    }
    // Exactly as the others have it: nothing is off.
    let inputs =
        json!({"base_width": 12, "top_width": 8, "height": 9, "left_inset": 1, "right_inset": 3});
    assert_eq!(ask("end_board", "in", inputs)["problems"], json!([]));
}

/// The bevel on face F of a leg flush with the front rails is its lean from the side, whatever its lean
/// from the front; the last gap between equal centers is the margin less half a hole, whatever the length:
/// rounding makes no hundred answers of it, and the size is missing.
#[test]
fn an_answer_that_does_not_hang_on_a_size_finds_no_value_for_it() {
    for (layout, inputs, key) in [
        (
            "two_way_splay",
            json!({"splay_side_deg": 5, "section": 1.5, "height": 18, "roll": "front", "on_face_F.bevel_deg": 4.999999999999998}),
            "splay_front_deg",
        ),
        (
            "spacing",
            json!({"rule": "equal_centres", "holes": 4, "diameter": 2, "margin_start": 3, "margin_end": 4, "last_gap": 3}),
            "length",
        ),
    ] {
        let reply = ask(layout, "in", inputs);
        assert_eq!(reply["solutions"], json!([]), "{layout}");
        assert_eq!(reply["problems"][0]["path"], format!("/inputs/{key}"));
        assert!(text(&reply).contains("missing"), "{reply}");
    }
}

/// A cord a millionth of an inch out of level over 13.75 in: 90 − atan(1e-6 / 13.75).
#[test]
fn a_cord_nearly_square_to_the_back_is_exact() {
    let inputs = json!({"hinge_x": 0.75, "hinge_y": 6, "inner_face_from_axis": 0, "lower_edge_from_axis": 0,
        "panel_height": 16, "panel_thickness": 0.75, "back_thickness": 0.75, "panel_hole_up_panel": 13,
        "back_hole_height": 6.000001, "opening_deg": 90});
    let reply = ask("fold_down", "in", inputs);
    let square = reply["solutions"][0]["answers"]["cord_to_back_deg"].as_f64();
    let short = 90.0 - square.unwrap_or(f64::NAN);
    assert!((short - 4.166_965_78e-6).abs() < 1e-12, "{short}");
}

/// Interior angle 178 of a regular 180-gon: half the corner off square is 1, its side flats · tan 1.
#[test]
fn a_frame_and_a_box_may_have_many_sides() {
    let frame = json!({"sides": 180, "given": "across_flats", "value": 100, "width": 1});
    let reply = ask("mitred_frame", "in", frame);
    let answers = &reply["solutions"][0]["answers"];
    let is = |key: &str, expected: f64| {
        let n = answers[key].as_f64().unwrap_or(f64::NAN);
        assert!((n - expected).abs() < 1e-9, "{key}: {n}");
    };
    is("reading_deg", 1.0);
    is("outer_edge_length", 1.745_506_492_821_758_6);
    let tub = json!({"sides": 180, "outer_bottom_side": 1.745, "tilt_deg": 0, "thickness": 0.5, "height": 6});
    let reply = ask("sloped_box", "in", tub);
    let bevel = reply["solutions"][0]["answers"]["bevel_deg"].as_f64();
    assert!((bevel.unwrap_or(f64::NAN) - 1.0).abs() < 1e-9, "{reply}");
}

fn near(is: &Value, expected: f64) {
    let n = is.as_f64().unwrap_or(f64::NAN);
    assert!((n - expected).abs() < 1e-9, "{n}, not {expected}");
}

/// All three sizes of a brace from three of its answers: f = 90 − reading, H = edge · sin f, s = cut · sin f,
/// W = (H cos f + s) / sin f (GEOMETRY 2). A search within a search within a search took ten seconds.
#[test]
fn three_answers_stand_in_for_three_sizes() {
    let given = json!({"reading_deg": 31.6, "edge_length": 51.66, "end_cut_length": 2.935, "ends": "rails"});
    let reply = ask("brace", "in", given);
    let found = &reply["solutions"][0]["inputs"];
    let (sin, cos) = (90.0_f64 - 31.6).to_radians().sin_cos();
    let (high, wide) = (51.66 * sin, 2.935 * sin);
    near(&found["opening_height"], high);
    near(&found["strip_width"], wide);
    near(&found["opening_width"], (high * cos + wide) / sin);
}

/// A leg of 14 in whose joint lies from 7.124 to 12.124 in up on a post of 3.5 in: sin a = R / 14 with
/// R = √(14² − 12.124²), footprint 3.5 + 2 R, depth 5 sin a; a splay of 30 besides is off by a − 30.
#[test]
fn two_stand_ins_and_one_more_that_is_off() {
    let given = json!({"rise_to_joint_top": 12.124, "rise_to_joint_bottom": 7.124, "splay_deg": 30,
        "long_point_length": 14, "post_width": 3.5});
    let reply = ask("post_legs", "in", given);
    let reach = (14.0_f64 * 14.0 - 12.124 * 12.124).sqrt();
    let found = &reply["solutions"][0]["inputs"];
    near(&found["footprint"], 3.5 + 2.0 * reach);
    near(&found["leg_depth"], 5.0 * reach / 14.0);
    let problem = &reply["problems"][0];
    assert_eq!(problem["path"], "/inputs/splay_deg");
    let splay = (reach / 14.0).asin().to_degrees();
    near(&problem["by"], splay - 30.0);
    // With the splay true, the leg is as much longer or the joint as much higher.
    near(&problem["agree"]["long_point_length"], 12.124 / 30.0_f64.to_radians().cos());
    near(&problem["agree"]["rise_to_joint_top"], 14.0 * 30.0_f64.to_radians().cos());
}
