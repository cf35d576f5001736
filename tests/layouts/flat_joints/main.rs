//! Half laps, angles from three measures, measured marks and glued-up panels through the JSON door.

mod half_lap;
mod three_measures;

use serde_json::{Value, json};

fn ask(layout: &str, inputs: &Value) -> Value {
    offsquare_door::solve_value(&json!({"id": 1, "layout": layout, "unit": "in", "inputs": inputs}))
}

fn answers(layout: &str, inputs: Value) -> Value {
    let reply = ask(layout, &inputs);
    assert_eq!(reply["problems"], json!([]), "{inputs}");
    reply["solutions"][0]["answers"].clone()
}

fn stop(layout: &str, inputs: Value, field: &str) -> Value {
    let reply = ask(layout, &inputs);
    assert_eq!(reply["solutions"], json!([]), "{inputs}");
    let found = reply["problems"]
        .as_array()
        .expect("problems")
        .iter()
        .find(|p| p["path"] == format!("/inputs/{field}"));
    found.unwrap_or_else(|| panic!("no {field} in {reply}"))["limit"].clone()
}

fn n(a: &Value, key: &str) -> f64 {
    a[key].as_f64().unwrap_or_else(|| panic!("{key} in {a}"))
}

fn close(is: f64, should: f64, slack: f64, what: &str) {
    assert!((is - should).abs() <= slack, "{what}: is {is}, should be {should}");
}

/// By hand: marks each 1 from 2 to 47 on 48 with 1 free: 46; long ones every 4: 12, figured 0, 5, 10 …
#[test]
fn marks_on_a_board() {
    let a = answers(
        "marks",
        json!({"board_length": 48, "offset": 2, "spacing": 1, "end_clear": 1, "long_every": 4,
        "figure_step": 5, "sections": 1}),
    );
    assert_eq!((n(&a, "marks_n"), n(&a, "long_marks_n"), n(&a, "last_mark")), (46.0, 12.0, 47.0));
    assert_eq!(
        a["marks"][4],
        json!({"at": 6.0, "kind": "long", "figure": 5.0, "section": 1.0, "from_section_start": 6.0})
    );
    assert_eq!(a["marks"][5]["figure"], Value::Null);
    // Every fourth mark long, every second long one with a figure, which is what a tape shows there: 0, 8, 16 …
    let a = answers(
        "marks",
        json!({"board_length": 48, "spacing": 1, "long_every": 4, "figure_every": 2}),
    );
    for (i, m) in a["marks"].as_array().expect("marks").iter().enumerate() {
        let should = if i % 8 == 0 { json!(i as f64) } else { Value::Null };
        assert_eq!(m["figure"], should, "mark {i}");
    }
    // No creeping error: the 1000th third of an inch is where it belongs.
    let a = answers(
        "marks",
        json!({"board_length": 400, "spacing": 1.0 / 3.0, "sections": 7, "offset": 0.1}),
    );
    let marks = a["marks"].as_array().expect("marks");
    close(n(&marks[1000], "at"), 0.1 + 1000.0 / 3.0, 1e-10, "mark 1000");
    for m in marks {
        let section = n(m, "section");
        close(
            n(m, "from_section_start") + (section - 1.0) * 400.0 / 7.0,
            n(m, "at"),
            1e-10,
            "sections add up",
        );
        assert!(n(m, "from_section_start") < 400.0 / 7.0);
    }
    // 24 is a joint of 48 in two.
    let r = ask("marks", &json!({"board_length": 48, "spacing": 1, "sections": 2}));
    assert_eq!(r["problems"][0]["path"], "/inputs/sections");
    assert_eq!(r["problems"][0]["level"], "warn");
    assert_eq!(r["problems"][0]["limit"], 24.0);
    assert_eq!(
        stop("marks", json!({"board_length": 48, "spacing": 1, "offset": 50}), "offset"),
        48.0
    );
    stop("marks", json!({"board_length": 48, "spacing": 1e-9}), "spacing");
    // In millimeters too, from the first figure on; and a step that is given stands.
    let mm = json!({"board_length": 1200, "spacing": 25, "first_figure": 200});
    let reply = offsquare_door::solve_value(
        &json!({"id": 1, "layout": "marks", "unit": "mm", "inputs": mm}),
    );
    let a = &reply["solutions"][0]["answers"];
    for (i, figure) in [(0, 200.0), (4, 300.0), (8, 400.0)] {
        close(n(&a["marks"][i], "figure"), figure, 1e-9, "a tape");
    }
}

/// By hand: 16 ÷ (5.5 - 1/16) = 2.94, so 3 strips of 5.333, ripped 5.3958.
#[test]
fn panel_from_boards() {
    let base = json!({"panel_width": 16, "panel_length": 30, "board_width": 5.5, "joint_allowance": 0.03125, "kerf": 0.125});
    let a = answers("glued_panel", base.clone());
    assert_eq!((n(&a, "strips_n"), n(&a, "boards_n"), n(&a, "glue_joints_n")), (3.0, 3.0, 2.0));
    close(n(&a, "rip_width"), 16.0 / 3.0 + 0.0625, 1e-12, "rip");
    // Strips at most 2 in: 8 of 2, ripped 2.0625; two and a kerf are 4.25 of 5.5.
    let mut narrow = base.clone();
    narrow["widest_strip"] = json!(2);
    let a = answers("glued_panel", narrow);
    assert_eq!(
        (n(&a, "strips_n"), n(&a, "strips_per_board_n"), n(&a, "boards_n")),
        (8.0, 2.0, 4.0)
    );
    close(n(&a, "rip_offcut_width"), 5.5 - 4.25 - 0.125, 1e-12, "offcut");
    // 1/4 in more to trim off: 16 1/4 in are still 3 strips (at most 5 7/16 each), each 1/12 in wider.
    let mut trimmed = base;
    trimmed["trim_width"] = json!(0.25);
    let a = answers("glued_panel", trimmed);
    close(n(&a, "strip_width"), 16.25 / 3.0, 1e-12, "trim to be sawn off");
    close(n(&a, "rip_width"), 16.25 / 3.0 + 0.0625, 1e-12, "with it");
    // Mitered ends 3 wide on strips of 4: tan m = neighbor over own width (GEOMETRY 7 at 90°).
    let a = answers(
        "glued_panel",
        json!({"panel_width": 16, "panel_length": 30, "board_width": 5, "widest_strip": 4,
        "ends": "mitred", "end_width": 3}),
    );
    close(n(&a, "strip_reading_deg"), 0.75f64.atan().to_degrees(), 1e-9, "strip");
    close(n(&a, "strip_reading_deg") + n(&a, "end_reading_deg"), 90.0, 1e-9, "sum of a corner");
    close(n(&a, "inner_strip_length"), 24.0, 1e-12, "30 - 6");
    close(n(&a, "end_short_point_length"), 8.0, 1e-12, "16 - 8");
    // All pieces together cover the panel: 2 outer and 2 inner strips of 4, 2 ends.
    let outer = 2.0
        * (n(&a, "outer_strip_long_point_length") + n(&a, "outer_strip_short_point_length"))
        / 2.0
        * 4.0;
    let inner = 2.0 * n(&a, "inner_strip_length") * 4.0;
    let ends = 2.0 * (n(&a, "end_long_point_length") + n(&a, "end_short_point_length")) / 2.0 * 3.0;
    close(outer + inner + ends, 16.0 * 30.0, 1e-9, "area");
    assert_eq!(
        stop(
            "glued_panel",
            json!({"panel_width": 16, "panel_length": 30, "board_width": 0.0625, "joint_allowance": 0.03125}),
            "board_width"
        ),
        0.0625
    );
    assert_eq!(
        stop(
            "glued_panel",
            json!({"panel_width": 4, "panel_length": 30, "board_width": 5, "ends": "mitred"}),
            "widest_strip"
        ),
        2.0
    );
    assert_eq!(
        stop(
            "glued_panel",
            json!({"panel_width": 16, "panel_length": 30, "board_width": 20, "widest_strip": 4, "ends": "mitred", "end_width": 15}),
            "end_width"
        ),
        15.0
    );
    stop(
        "glued_panel",
        json!({"panel_width": 16, "panel_length": 30, "board_width": 5, "widest_strip": 1e-6}),
        "widest_strip",
    );
}

/// Zero, tiny, huge and negative sizes: an answer or a problem, never null among numbers that count.
#[test]
fn hostile_sizes_never_break() {
    let starts = [
        (
            "half_lap",
            json!({"crossing_deg": 60, "width_1": 2, "width_2": 1, "thickness_1": 1, "thickness_2": 1, "length_1": 9}),
        ),
        ("three_measures", json!({"side_a": 3, "side_b": 4, "side_c": 5, "reading_step": 0.1})),
        ("three_measures", json!({"rise": 3, "run": 4})),
        (
            "marks",
            json!({"board_length": 48, "offset": 2, "spacing": 1, "end_clear": 1, "sections": 2}),
        ),
        (
            "glued_panel",
            json!({"panel_width": 16, "panel_length": 30, "board_width": 5, "widest_strip": 4, "ends": "mitred", "end_width": 3}),
        ),
        (
            "bracket",
            json!({"leg_a": 12, "leg_b": 10, "leg_width": 2, "brace_width": 1, "seat_a": 5, "seat_b": 5, "corner_angle_deg": 100}),
        ),
        (
            "spacing",
            json!({"rule": "closest_gap", "diameter": 1, "length": 10, "gap_wanted": 2, "margin_start": 1}),
        ),
        (
            "spacing",
            json!({"rule": "equal_centres", "holes": 3, "diameter": 1, "length": 10, "margin_start": 1}),
        ),
    ];
    for (layout, start) in starts {
        let keys: Vec<String> = start.as_object().expect("object").keys().cloned().collect();
        for key in &keys {
            for value in [0.0, 5e-324, 1e-300, 1e-9, 1.0, 90.0, 1e9, 1e308, -1.0, -1e9] {
                let mut inputs = start.clone();
                inputs[key] = json!(value);
                let reply = ask(layout, &inputs);
                let solved = reply["solutions"].as_array().is_some_and(|s| !s.is_empty());
                let said = reply["problems"].as_array().is_some_and(|s| !s.is_empty());
                assert!(solved || said, "{layout} {inputs}");
                if solved && layout != "marks" && layout != "spacing" {
                    for (k, v) in reply["solutions"][0]["answers"].as_object().expect("answers") {
                        let open = k == "angle_least_deg" || k == "angle_greatest_deg";
                        assert!(open || !v.is_null(), "{layout} {k} {inputs}");
                    }
                }
            }
        }
    }
}
