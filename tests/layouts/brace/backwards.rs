//! Working backwards, answers given as sizes, and if it's off, for braces.

use super::polygon::{Landing, brace, measure, rectangle};
use super::request::{ask, close, number, only};
use offsquare_door::solve_value;
use serde_json::{Value, json};

fn work_back(inputs: &Value, give: &str, answer: &str, target: f64) -> Value {
    solve_value(&json!({"id": 1, "layout": "brace", "unit": "in", "inputs": inputs,
        "work_back": {"give": give, "answer": answer, "target": target}}))
}

#[test]
fn what_is_found_hits_its_target_when_put_back() {
    let gate = json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5});
    let with = |extra: &[(&str, Value)]| {
        let mut i = gate.clone();
        for (k, v) in extra {
            i[*k] = v.clone();
        }
        i
    };
    let cases = [
        (with(&[("ends", json!("rails"))]), "opening_height", "reading_deg", 31.6),
        (with(&[("ends", json!("rails"))]), "opening_width", "reading_deg", 45.0),
        (with(&[("ends", json!("rails"))]), "strip_width", "reading_deg", 32.0),
        (with(&[("ends", json!("stiles"))]), "opening_height", "edge_length", 50.0),
        (with(&[("ends", json!("corner"))]), "opening_height", "reading_rail_cut_deg", 45.0),
        (with(&[("ends", json!("edge"))]), "opening_width", "short_edge_length", 48.0),
        (
            with(&[("ends", json!("corner")), ("apex", json!("left"))]),
            "opening_width",
            "reading_stile_cut_deg",
            45.0,
        ),
        (
            json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5, "rail_width": 2.5,
            "strip_width": 2.5, "ends": "rails"}),
            "outside_height",
            "reading_deg",
            31.6,
        ),
        (
            json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "diagonal_up": 53.5,
            "strip_width": 2.5, "ends": "rails"}),
            "diagonal_up",
            "reading_lower_deg",
            31.6,
        ),
        (
            json!({"opening_width": 30, "opening_height": 44, "strip_width_1": 2.5, "strip_width_2": 2.5,
            "ends": "rails"}),
            "opening_height",
            "crossing_acute_deg",
            60.0,
        ),
    ];
    for (inputs, give, answer, target) in cases {
        let reply = work_back(&inputs, give, answer, target);
        let found = reply["solutions"].as_array().expect("solutions");
        assert!(!found.is_empty(), "{inputs} {give} {answer} -> {reply}");
        for s in found {
            let again = only(&s["inputs"]);
            close(number(&again, answer), target, 1e-9, &format!("{inputs} {give}"));
            close(number(&s["answers"], answer), target, 1e-9, "told");
        }
    }
}

#[test]
fn a_corner_at_45_is_a_square_opening() {
    // By hand: 90 − t = 45 only where the height is the width.
    let reply = work_back(
        &json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "corner"}),
        "opening_height",
        "reading_rail_cut_deg",
        45.0,
    );
    let all = reply["solutions"].as_array().expect("solutions");
    assert_eq!(all.len(), 1);
    close(number(&all[0]["inputs"], "opening_height"), 30.0, 1e-9, "height");
}

#[test]
fn out_of_reach_is_said() {
    // Flat on the stiles an edge is the width over the cosine of the slope: never under 30.
    let reply = work_back(
        &json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "stiles"}),
        "opening_height",
        "edge_length",
        10.0,
    );
    assert_eq!(reply["solutions"], json!([]), "{reply}");
    assert!(reply["problems"].as_array().is_some_and(|p| !p.is_empty()));
}

#[test]
fn an_edge_in_hand_stands_in_for_the_height() {
    // The polygon tells the edge of the true height; given that edge, the height comes back.
    let opening = rectangle(30.0, 44.0);
    let m = measure(&brace(&opening, Landing::Rails, 2.5), &opening);
    let reply = ask(
        &json!({"opening_width": 30, "strip_width": 2.5, "ends": "rails", "edge_length": m.left}),
    );
    let all = reply["solutions"].as_array().expect("solutions");
    assert!(
        all.iter().any(|s| (number(&s["inputs"], "opening_height") - 44.0).abs() < 1e-9),
        "{reply}"
    );
}

#[test]
fn an_edge_that_does_not_fit_is_a_contradiction() {
    let reply = ask(
        &json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "ends": "rails",
        "edge_length": 52}),
    );
    let p = &reply["problems"][0];
    assert_eq!(p["path"], "/inputs/edge_length", "{reply}");
    let opening = rectangle(30.0, 44.0);
    let m = measure(&brace(&opening, Landing::Rails, 2.5), &opening);
    close(number(p, "by"), 52.0 - m.left, 1e-9, "by");
    // The height that would agree, put in, gives an edge of 52.
    let h = number(&p["agree"], "opening_height");
    let opening = rectangle(30.0, h);
    let m = measure(&brace(&opening, Landing::Rails, 2.5), &opening);
    close(m.left, 52.0, 1e-8, "agrees");
}

#[test]
fn outside_and_opening_that_contradict_are_told() {
    let reply = ask(
        &json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5, "rail_width": 2.5,
        "strip_width": 2.5, "ends": "rails", "opening_width": 29.5}),
    );
    let p = &reply["problems"][0];
    assert_eq!(p["path"], "/inputs/opening_width", "{reply}");
    close(number(p, "by"), 0.5, 1e-12, "35 − 5 is 30, not 29 1/2");
    close(number(&p["agree"], "outside_width"), 34.5, 1e-9, "29 1/2 + 5");
}

#[test]
fn if_it_is_off_each_landing_has_rows() {
    let reply = solve_value(&json!({"id": 1, "layout": "brace", "unit": "in", "off": true,
        "inputs": {"opening_width": 30, "opening_height": 44, "strip_width": 2.5}}));
    for s in reply["solutions"].as_array().expect("solutions") {
        let rows = s["off"].as_array().expect("rows");
        assert!(rows.len() >= 2, "{s}");
        for row in rows {
            let answer = row["answer"].as_str().expect("answer");
            // The opening stands there already; what is told is the length to cut again, if any, or that it drops in.
            assert!(row["value"].is_null() && row["give"].is_null(), "{row}");
            assert!(row["drops_in"] == true || number(row, "recut_to") > 0.0, "{row}");
            let gap = number(row, "gap");
            assert!(gap > 0.0 && gap < 0.1, "{answer} {row}");
        }
    }
    // By hand for the rails: half a degree over 2 1/2 in at 31.6 + 0.5: 2.5 sin 0.5 / cos 32.096153.
    let rails = &reply["solutions"][1];
    assert_eq!(rails["way"], "rails");
    let row = &rails["off"][0];
    assert_eq!(row["answer"], "reading_deg");
    let opening = rectangle(30.0, 44.0);
    let reading = measure(&brace(&opening, Landing::Rails, 2.5), &opening).cut(true, true).reading;
    let set = reading + number(row, "by");
    let gap = 2.5 * 0.5_f64.to_radians().sin() / set.to_radians().cos();
    close(number(row, "gap"), gap, 1e-9, "gap");
}
