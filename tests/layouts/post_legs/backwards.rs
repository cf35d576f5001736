//! More and other sizes than the usual ones: stood in for, checked, worked backwards.

use crate::request::{answers, ask, near, number, problems, solutions};
use serde_json::{Value, json};

/// Inputs of a leg and all answers that may be typed instead of one of them.
fn known() -> (Value, Value) {
    let inputs =
        json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "long_point_length": 9.625});
    let answers = solutions(inputs.clone())[0].clone();
    (inputs, answers)
}

#[test]
fn any_two_lengths_stand_in_for_the_footprint() {
    let (_, a) = known();
    let keys = [
        "splay_deg",
        "long_point_length",
        "short_point_length",
        "rise_to_joint_top",
        "rise_to_joint_middle",
        "rise_to_joint_bottom",
    ];
    for (i, one) in keys.iter().enumerate() {
        for two in &keys[i + 1..] {
            let reply = ask(
                json!({"post_width": 3.5, "leg_depth": 1.5, *one: number(&a, one), *two: number(&a, two)}),
            );
            // Several footprints may give the two sizes; ours is among them, and all of them do.
            let found: Vec<f64> = reply["solutions"]
                .as_array()
                .expect("array")
                .iter()
                .map(|s| number(&s["inputs"], "footprint"))
                .collect();
            assert!(
                found.iter().any(|f| (f - 17.5).abs() < 1e-7),
                "{one} and {two}: {found:?} {reply}"
            );
            for s in answers(&reply) {
                near(number(&s, one), number(&a, one), 1e-8, one);
                near(number(&s, two), number(&a, two), 1e-8, two);
            }
        }
    }
}

#[test]
fn any_answer_stands_in_for_the_leg_length() {
    let (_, a) = known();
    for key in [
        "top_reading_deg",
        "slope_to_floor_deg",
        "joint_length_on_post",
        "foot_cut_length",
        "post_bottom_height",
        "outer_edge_length",
        "inner_edge_length",
    ] {
        let all = solutions(
            json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, key: number(&a, key)}),
        );
        assert!(
            all.iter().any(|s| (number(s, "splay_deg") - number(&a, "splay_deg")).abs() < 1e-6),
            "{key}: {all:?}"
        );
    }
}

#[test]
fn sizes_that_agree_pass_and_sizes_that_do_not_are_told() {
    let (inputs, a) = known();
    let mut more = inputs.clone();
    for key in [
        "splay_deg",
        "short_point_length",
        "rise_to_joint_top",
        "rise_to_joint_bottom",
        "joint_length_on_post",
    ] {
        more[key] = json!(number(&a, key));
    }
    assert!(problems(&ask(more.clone())).is_empty(), "{}", ask(more));
    let mut wrong = inputs;
    wrong["rise_to_joint_top"] = json!(number(&a, "rise_to_joint_top") + 0.25);
    let reply = ask(wrong.clone());
    let p = &problems(&reply)[0];
    assert_eq!(p["level"], "warn");
    near(p["by"].as_f64().expect("by"), 0.25, 1e-9, "by");
    for key in ["footprint", "long_point_length", "rise_to_joint_top"] {
        let mut fixed = wrong.clone();
        fixed[key] = p["agree"][key].clone();
        assert!(fixed[key].is_number(), "{key}: {p}");
        assert!(problems(&ask(fixed)).is_empty(), "{key}");
    }
}

#[test]
fn a_surplus_size_picks_among_several_solutions() {
    // R < d, square foot: two leans give one rise of the lower end; the splay says which.
    let base = json!({"post_width": 4, "footprint": 8, "leg_depth": 3, "foot": "square", "rise_to_joint_bottom": 0.2});
    let both = solutions(base.clone());
    assert_eq!(both.len(), 2);
    for want in &both {
        let mut one = base.clone();
        one["joint_length_on_post"] = want["joint_length_on_post"].clone();
        let got = solutions(one);
        assert_eq!(got.len(), 1);
        near(number(&got[0], "splay_deg"), number(want, "splay_deg"), 1e-9, "picked");
    }
}

#[test]
fn a_footprint_lands_the_cut_on_a_stop() {
    // By hand: reading 45 wants run = 9.625/√2, footprint = 3.5 + 2 run.
    let want = 3.5 + 9.625 * 2.0_f64.sqrt();
    let reply = offsquare_door::solve_value(&json!({"id": 1, "layout": "post_legs", "unit": "in",
        "inputs": {"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 9.625},
        "work_back": {"give": "footprint", "answer": "top_reading_deg", "target": 45}}));
    near(number(&reply["solutions"][0]["inputs"], "footprint"), want, 1e-9, "footprint");
    near(number(&reply["solutions"][0]["answers"], "top_reading_deg"), 45.0, 1e-9, "reading");
}

#[test]
fn half_a_degree_off_is_solved_again() {
    // By hand: lengths kept, splay half a degree more or less, footprint = 3.5 + 2·9.625·sin(splay);
    // the worse sign moves it more: the flatter reading, for the sine is concave.
    let reply = offsquare_door::solve_value(
        &json!({"id": 1, "layout": "post_legs", "unit": "in", "off": true,
        "inputs": {"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 9.625}}),
    );
    let splay = (7.0_f64 / 9.625).asin().to_degrees();
    let of = |s: f64| 3.5 + 2.0 * 9.625 * s.to_radians().sin();
    let worse = [of(splay + 0.5), of(splay - 0.5)]
        .into_iter()
        .max_by(|a, b| (a - 17.5).abs().total_cmp(&(b - 17.5).abs()))
        .expect("two");
    let row = &reply["solutions"][0]["off"][0];
    assert_eq!(row["answer"], "top_reading_deg");
    near(row["value"].as_f64().expect("value"), worse, 1e-8, "footprint off");
}

#[test]
fn a_reply_names_the_value_as_the_request_did() {
    // By hand: reading 45 wants the leg 7·√2 long.
    let asked = json!({"id": 1, "layout": "post_legs", "unit": "in",
        "inputs": {"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 9.625},
        "work_back": {"give": "value", "answer": "top_reading_deg", "target": 45}});
    let reply = offsquare_door::solve_value(&asked);
    let found = &reply["solutions"][0]["inputs"];
    near(number(found, "value"), 7.0 * 2.0_f64.sqrt(), 1e-9, "leg length");
    assert_eq!(found["given"], "long_point");
    assert!(found["long_point_length"].is_null(), "{found}");
    // Put back, it lands.
    let again = solutions(found.clone());
    near(number(&again[0], "top_reading_deg"), 45.0, 1e-9, "put back");
    // A contradiction names it so too.
    let reply = ask(
        json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "given": "long_point", "value": 9.625,
        "rise_to_joint_top": 8}),
    );
    let agree = &problems(&reply)[0]["agree"];
    // By hand: a rise of 8 over a run of 7 is a leg √113 long.
    near(number(agree, "value"), 113.0_f64.sqrt(), 1e-8, "agrees");
}
