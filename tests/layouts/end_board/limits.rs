//! Boards that cannot be: the limit that was passed is named; nothing typed breaks.

use super::{ask, close, nested};
use serde_json::{Value, json};

fn stopped(inputs: Value, field: &str) -> Value {
    let reply = ask(inputs.clone());
    let all = reply["problems"].as_array().expect("problems").clone();
    assert_eq!(reply["solutions"], json!([]), "{inputs}");
    all.into_iter()
        .find(|p| p["path"] == format!("/inputs/{field}") && p["level"] == "stop")
        .unwrap_or_else(|| panic!("{inputs}: no stop at {field}: {reply}"))
}

#[test]
fn impossible_boards_name_their_limit() {
    let p = stopped(
        json!({"base_width": 12, "top_width": 5, "height": 9, "shoulder_height": 9}),
        "shoulder_height",
    );
    assert_eq!(p["limit"], 9.0);
    let p = stopped(
        json!({"base_width": 12, "top_width": 5, "height": 9, "shoulder_height": 10}),
        "shoulder_height",
    );
    assert_eq!(p["limit"], 9.0);
    // 12 - 8 leaves 4 for the other inset.
    let p = stopped(
        json!({"base_width": 12, "height": 9, "left_inset": 8, "right_inset": 6}),
        "right_inset",
    );
    assert_eq!(p["limit"], 4.0);
    // 45° each way at height 7 needs insets of 7 and 7 of 12: the second may be atan(5/7).
    let p = stopped(
        json!({"base_width": 12, "height": 7, "left_reading_deg": 45, "right_reading_deg": 45}),
        "right_reading_deg",
    );
    close(p["limit"].as_f64().expect("limit"), (5.0f64 / 7.0).atan().to_degrees(), 1e-9, "by hand");
    stopped(
        json!({"top_width": 4, "height": 9, "left_inset": -8, "right_inset": 1}),
        "right_inset",
    );
    stopped(json!({"base_width": 12, "top_width": 5}), "height");
    stopped(json!({"base_width": 12, "height": 5, "left_inset": 1}), "top_width");
    let p = stopped(
        json!({"base_width": 12, "top_width": 5, "height": 9, "left_slope_length": 8}),
        "left_slope_length",
    );
    assert_eq!(p["limit"], 9.0);
    let p = stopped(
        json!({"base_width": 12, "top_width": 5, "left_inset": 3, "left_slope_length": 2}),
        "left_slope_length",
    );
    assert_eq!(p["limit"], 3.0);
    let narrow = json!({"base_width": 12, "top_width": 5, "height": 9, "board_width": 8, "board_length": 96});
    assert_eq!(stopped(narrow, "board_width")["limit"], 9.0);
    let upright = json!({"base_width": 12, "top_width": 5, "height": 9, "board_width": 11, "board_length": 96, "grain": "upright"});
    assert_eq!(stopped(upright, "board_width")["limit"], 12.0);
    let short = ask(
        json!({"base_width": 12, "top_width": 5, "height": 9, "board_width": 9.25, "board_length": 11}),
    );
    assert_eq!(short["problems"][0]["limit"], 12.0);
    assert_eq!(short["solutions"][0]["answers"]["fit_n"], 0.0);
    let boxed = |extra: Value| {
        let mut all = json!({"base_width": 12, "top_width": 5, "height": 9, "end_thickness": 0.75, "box_length": 24});
        for (k, v) in extra.as_object().expect("object") {
            all[k] = v.clone();
        }
        all
    };
    assert_eq!(stopped(boxed(json!({"box_length": 1.5})), "box_length")["limit"], 1.5);
    assert_eq!(stopped(boxed(json!({"floor_height": 8.5})), "floor_height")["limit"], 8.25);
    assert_eq!(stopped(boxed(json!({"divider_height": 0.5})), "divider_height")["limit"], 0.75);
    assert_eq!(stopped(boxed(json!({"divider_height": 9.5})), "divider_height")["limit"], 9.0);
    stopped(
        json!({"base_width": 1e-9, "top_width": 1e-9, "height": 1, "board_width": 1, "board_length": 1e6, "kerf": 0}),
        "board_length",
    );
}

#[test]
fn hostile_sizes_never_break() {
    let hostile =
        [0.0, -0.0, 1e-300, 5e-324, 1e-9, 1.0, 12.0, 1e9, 1e308, -1.0, -1e9, f64::MIN_POSITIVE];
    let keys = ["base_width", "top_width", "height", "shoulder_height", "left_inset"];
    for i in 0..keys.len() {
        for j in 0..keys.len() {
            for (x, y) in hostile.iter().flat_map(|x| hostile.iter().map(move |y| (*x, *y))) {
                let mut inputs = nested((12.0, 5.0, 9.0, 2.0, 3.0), 0.125, "upright");
                inputs["board_width"] = json!(1e9);
                inputs[keys[i]] = json!(x);
                inputs[keys[j]] = json!(y);
                let reply = ask(inputs.clone()).to_string();
                assert!(!reply.contains("null,\"lef") && !reply.contains("NaN"), "{inputs}");
                let reply: Value = serde_json::from_str(&reply).expect("JSON");
                let solved = !reply["solutions"].as_array().expect("solutions").is_empty();
                let said = !reply["problems"].as_array().expect("problems").is_empty();
                assert!(solved || said, "{inputs}");
                if solved {
                    for (key, v) in reply["solutions"][0]["answers"].as_object().expect("answers") {
                        assert!(!v.is_null(), "{key} of {inputs}");
                    }
                }
            }
        }
    }
}
