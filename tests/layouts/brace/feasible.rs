//! Limits, each with its sentence and its number; and what nobody should type.

use super::request::{ask, ask_in, close, finite, number, way};
use serde_json::{Value, json};

fn single(w: f64, h: f64, s: f64) -> Value {
    json!({"opening_width": w, "opening_height": h, "strip_width": s})
}

#[test]
fn each_landing_has_its_own_limit() {
    // GEOMETRY 2: corner 2WH/D, rails W, stiles H, edge WH/D. For 30 by 40 (D = 50, by hand): 48, 30,
    // 40, 24.
    let reply = ask(&single(30.0, 40.0, 60.0));
    assert_eq!(reply["solutions"], json!([]));
    let problems = reply["problems"].as_array().expect("problems");
    assert_eq!(problems.len(), 4);
    let limits = [("corner", 48.0), ("rails", 30.0), ("stiles", 40.0), ("edge", 24.0)];
    for (p, (key, limit)) in problems.iter().zip(limits) {
        assert_eq!(p["way"], key);
        assert_eq!(p["path"], "/inputs/strip_width");
        assert_eq!(p["level"], "stop");
        close(number(p, "limit"), limit, 1e-12, key);
        let text = p["text"].as_str().expect("a sentence");
        assert!(text.contains("too wide") && text.contains(&format!("{limit} in")), "{text}");
    }
    // A hair to either side; one impossible way does not silence the others.
    for (key, limit) in limits {
        for (s, possible) in
            [(limit * (1.0 - 1e-9), true), (limit, false), (limit * (1.0 + 1e-9), false)]
        {
            let reply = ask(&single(30.0, 40.0, s));
            assert_eq!(way(&reply, key).is_some(), possible, "{key} {s}");
            let told = reply["problems"]
                .as_array()
                .expect("problems")
                .iter()
                .filter(|p| p["way"] == key)
                .count();
            assert_eq!(told, usize::from(!possible), "{key} {s}");
            let all = reply["solutions"].as_array().map_or(0, Vec::len);
            let beside = reply["problems"].as_array().map_or(0, Vec::len);
            assert_eq!(all + beside, 4);
        }
    }
}

#[test]
fn the_second_root_is_never_an_answer() {
    // Trap: W sin f − H cos f = s has a second root beyond 90 degrees, f' = 180 + t − asin(s/D).
    for (w, h) in [(30.0, 44.0), (60.0, 9.0), (9.0, 60.0)] {
        let reply = ask(
            &json!({"opening_width": w, "opening_height": h, "strip_width": 1, "ends": "rails"}),
        );
        assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(1));
        assert!(number(&way(&reply, "rails").expect("rails"), "slope_to_rail_deg") < 90.0);
    }
}

#[test]
fn readings_past_any_saw_are_true_answers() {
    // Trap: readings pass 60 as soon as the aspect passes about 1.73 (tan 60 = √3).
    for (aspect, past) in [(1.732, false), (1.733, true), (20.0, true)] {
        let reply = ask(&json!({"opening_width": 10.0, "opening_height": 10.0 * aspect,
            "strip_width": 0.5, "ends": "corner"}));
        let a = way(&reply, "corner").expect("corner");
        assert_eq!(number(&a, "reading_stile_cut_deg") > 60.0, past, "{aspect}");
        assert_eq!(reply["problems"], json!([]));
    }
}

#[test]
fn a_frame_without_an_opening() {
    let reply = ask(
        &json!({"outside_width": 5, "outside_height": 4, "stile_width": 2.5, "rail_width": 2.5,
        "strip_width": 1}),
    );
    assert_eq!(reply["solutions"], json!([]));
    for (p, path) in reply["problems"]
        .as_array()
        .expect("problems")
        .iter()
        .zip(["/inputs/outside_width", "/inputs/outside_height"])
    {
        assert_eq!(p["path"], path);
        // Twice the member: 5.
        close(number(p, "limit"), 5.0, 1e-12, path);
    }
    assert_eq!(reply["problems"].as_array().map(Vec::len), Some(2));
    // The same where the crossed pair takes the outside.
    let crossed = ask(&json!({"outside_width": 5, "opening_height": 44, "stile_width": 2.5,
        "strip_width_1": 1, "strip_width_2": 1}));
    assert_eq!(crossed["solutions"], json!([]));
    assert_eq!(crossed["problems"][0]["path"], "/inputs/outside_width");
}

#[test]
fn halves_of_the_opening_have_their_own_limits() {
    // A K in 48 by 60: halves 48 by 30, D = √(48² + 30²); on the stiles narrower than 30.
    let reply = ask(
        &json!({"opening_width": 48, "opening_height": 60, "strip_width": 31, "apex": "right"}),
    );
    let stiles = reply["problems"]
        .as_array()
        .expect("problems")
        .iter()
        .find(|p| p["way"] == "stiles")
        .expect("a problem");
    close(number(stiles, "limit"), 30.0, 1e-12, "stiles");
    assert!(stiles["text"].as_str().is_some_and(|t| t.contains("half of the opening")));
    assert!(way(&reply, "rails").is_some());
}

#[test]
fn hostile_sizes_never_break_it() {
    let odd = [
        json!(0),
        json!(-1),
        json!(-0.0),
        json!(1e-320),
        json!(1e-300),
        json!(1e-12),
        json!(1e9),
        json!(9_999_999.999),
        json!(1e8),
        json!(1e308),
        json!("2 1/2"),
        json!("1/0"),
        json!(null),
        json!(true),
        json!([]),
        json!([30]),
        json!({}),
    ];
    let forms = [
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5}),
        json!({"opening_width": 30, "opening_height": 44, "strip_width_1": 2.5, "strip_width_2": 3,
            "thickness_1": 1.5}),
        json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "apex": "top", "side": "above"}),
        json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "diagonal_up": 53.5, "strip_width": 2.5}),
        json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "diagonal_down": 53.3, "strip_width": 2.5}),
        json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5, "rail_width": 2.5, "strip_width": 2.5}),
    ];
    let mut asked = 0;
    for form in &forms {
        let keys: Vec<String> = form.as_object().expect("form").keys().cloned().collect();
        for key in &keys {
            for value in &odd {
                for unit in ["in", "mm"] {
                    let mut inputs = form.clone();
                    inputs[key.as_str()] = value.clone();
                    let reply = ask_in(unit, &inputs);
                    asked += 1;
                    assert!(finite(&reply["solutions"]), "{inputs} -> {reply}");
                    let none = reply["solutions"] == json!([]);
                    let said = reply["problems"].as_array().is_some_and(|p| !p.is_empty());
                    assert!(!none || said, "{inputs} -> {reply}");
                    for p in reply["problems"].as_array().expect("problems") {
                        let text = p["text"].as_str().expect("a sentence");
                        assert!(text.ends_with('.') && !text.contains("NaN"), "{text}");
                    }
                }
            }
        }
    }
    assert!(asked > 1000, "{asked}");
    for inputs in [json!({}), json!({"strip_width": 2}), json!({"apex": "left"})] {
        let reply = ask(&inputs);
        assert_eq!(reply["solutions"], json!([]));
        assert!(reply["problems"].as_array().is_some_and(|p| !p.is_empty()), "{inputs}");
    }
    // Tiny and huge at once.
    for (w, h, s) in [
        (1e9, 1e-300, 1e-301),
        (1e-300, 1e9, 1e-305),
        (1e-160, 1e-160, 1e-161),
        (1e9, 1e9, 1e-300),
        (1e9, 1.0, 0.999_999),
        (1e-320, 1e-320, 1e-321),
    ] {
        let reply = ask(&single(w, h, s));
        assert!(finite(&reply["solutions"]), "{w} {h} {s} -> {reply}");
    }
}

#[test]
fn strange_keys_are_told_and_left_aside() {
    let reply = ask(
        &json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5, "color": "red"}),
    );
    assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(4));
    assert_eq!(reply["problems"][0]["path"], "/inputs/color");
    assert_eq!(reply["problems"][0]["level"], "warn");
}
