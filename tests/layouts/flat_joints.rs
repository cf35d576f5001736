//! Half laps, angles from three measures, measured marks and glued-up panels through the JSON door.

use geo::{Area, BooleanOps, BoundingRect, Coord, LineString, Polygon, Rotate};
use serde_json::{Value, json};

fn ask(layout: &str, inputs: &Value) -> Value {
    offsquare_core::door::solve_value(
        &json!({"id": 1, "layout": layout, "unit": "in", "inputs": inputs}),
    )
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
    assert!(
        (is - should).abs() <= slack,
        "{what}: is {is}, should be {should}"
    );
}

/// The lap is where two long rectangles overlap: clipped by geo, which works on a grid of its own
/// (hence 1e-5), then measured along each strip.
#[test]
fn lap_agrees_with_clipped_strips() {
    let strip = |w: f64| {
        Polygon::new(
            LineString::from(vec![
                (-60.0, -w / 2.0),
                (60.0, -w / 2.0),
                (60.0, w / 2.0),
                (-60.0, w / 2.0),
            ]),
            vec![],
        )
    };
    for x in [90.0, 60.0, 30.0, 117.5, 150.0] {
        for (w1, w2) in [(2.5, 1.5), (1.5, 1.5), (1.0, 3.5)] {
            let a = answers(
                "half_lap",
                json!({"crossing_deg": x, "width_1": w1, "width_2": w2, "thickness_1": 0.75, "thickness_2": 0.75}),
            );
            let turned = strip(w2).rotate_around_point(x, geo::Point::new(0.0, 0.0));
            let lap = strip(w1).intersection(&turned);
            close(n(&a, "lap_area"), lap.unsigned_area(), 1e-5, "area");
            close(
                n(&a["strip_1"], "lap_extent"),
                lap.bounding_rect().expect("lap").width(),
                1e-5,
                "extent 1",
            );
            let back = lap.rotate_around_point(-x, geo::Point::new(0.0, 0.0));
            close(
                n(&a["strip_2"], "lap_extent"),
                back.bounding_rect().expect("lap").width(),
                1e-5,
                "extent 2",
            );
            // A parallelogram: area is one side's length along the strip times the strip's width.
            close(
                n(&a["strip_1"], "lap_length") * w1,
                n(&a, "lap_area"),
                1e-12,
                "lap length",
            );
            close(
                n(&a["strip_2"], "lap_length") * w2,
                n(&a, "lap_area"),
                1e-12,
                "lap length",
            );
            close(
                n(&a["strip_1"], "shoulder_reading_deg"),
                (90.0f64 - x).abs(),
                1e-12,
                "reading",
            );
        }
    }
}

/// Shoulder marks lie on the other strip's edges, turned into this strip's frame here.
#[test]
fn shoulder_marks_lie_on_the_other_strip() {
    let (x, w1, w2) = (65.0f64, 2.0, 1.25);
    let a = answers(
        "half_lap",
        json!({"crossing_deg": x, "width_1": w1, "width_2": w2, "thickness_1": 1,
        "thickness_2": 1, "length_1": 20, "at_1": 8, "length_2": 16}),
    );
    let r = x.to_radians();
    let off = |c: Coord| (c.x * r.sin() - c.y * r.cos()).abs();
    for (key, v) in [("left_edge", w1 / 2.0), ("right_edge", -w1 / 2.0)] {
        for which in ["first", "second"] {
            let u = n(&a["strip_1"], &format!("{key}_{which}_shoulder")) - 8.0;
            close(
                off(Coord { x: u, y: v }),
                w2 / 2.0,
                1e-12,
                "on the edge of strip 2",
            );
        }
    }
    // Looking along strip 2 (middle at 8), strip 1 runs at 180 - x.
    let r = (180.0 - x).to_radians();
    let off = |c: Coord| (c.x * r.sin() - c.y * r.cos()).abs();
    for (key, v) in [("left_edge", w2 / 2.0), ("right_edge", -w2 / 2.0)] {
        let u = n(&a["strip_2"], &format!("{key}_first_shoulder")) - 8.0;
        close(
            off(Coord { x: u, y: v }),
            w1 / 2.0,
            1e-12,
            "on the edge of strip 1",
        );
    }
    stop(
        "half_lap",
        json!({"crossing_deg": 65, "width_1": 2, "width_2": 2, "thickness_1": 1, "thickness_2": 1, "length_1": 20, "at_1": 0.5}),
        "at_1",
    );
    stop(
        "half_lap",
        json!({"crossing_deg": 65, "width_1": 2, "width_2": 2, "thickness_1": 1, "thickness_2": 1, "length_1": 2}),
        "length_1",
    );
}

/// LAYOUTS 13: the two thicknesses left add up to the flush thickness.
#[test]
fn depths_add_up_to_the_flush_thickness() {
    for (t1, t2) in [(0.75, 0.75), (1.5, 0.75), (0.75, 1.5), (1.0, 0.5)] {
        for face in ["front", "back"] {
            let a = answers(
                "half_lap",
                json!({"width_1": 2, "width_2": 2, "thickness_1": t1, "thickness_2": t2, "flush_face": face}),
            );
            let left = n(&a["strip_1"], "thickness_left") + n(&a["strip_2"], "thickness_left");
            // Flush in front, the strip behind (1) reaches to its own back; flush behind, strip 2 to its front.
            close(left, if face == "front" { t1 } else { t2 }, 1e-12, "left");
            close(n(&a, "flush_thickness"), left, 1e-12, "flush");
        }
    }
    // By hand, 3/4 stock: 3/8 each.
    let a = answers(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75}),
    );
    assert_eq!(
        (n(&a["strip_1"], "depth"), n(&a["strip_2"], "depth")),
        (0.375, 0.375)
    );
    // Notch: strip 2 stays whole.
    let a = answers(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 1.5, "thickness_2": 0.75, "joint": "notch"}),
    );
    assert_eq!(
        (n(&a["strip_1"], "depth"), n(&a["strip_2"], "depth")),
        (0.75, 0.0)
    );
    stop(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75, "joint": "notch"}),
        "thickness_1",
    );
    assert_eq!(
        stop(
            "half_lap",
            json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75, "depth_1": 0.8}),
            "depth_1"
        ),
        0.75
    );
}

/// 3-4-5 (from memory): 90° between 3 and 4; atan(3/4) = 36.8699 between 4 and 5.
#[test]
fn angle_of_known_triangles() {
    let angle = |a: f64, b: f64, c: f64| {
        n(
            &answers(
                "three_measures",
                json!({"side_a": a, "side_b": b, "side_c": c}),
            ),
            "angle_deg",
        )
    };
    close(angle(3.0, 4.0, 5.0), 90.0, 1e-9, "3-4-5");
    close(angle(4.0, 5.0, 3.0), 36.869_897_645_844_02, 1e-9, "3-4-5");
    close(angle(7.0, 7.0, 7.0), 60.0, 1e-9, "equal sides");
    let a = answers("three_measures", json!({"rise": 3, "run": 4}));
    close(
        n(&a, "angle_deg"),
        36.869_897_645_844_02,
        1e-9,
        "rise and run",
    );
    close(
        n(&a, "reading_deg"),
        53.130_102_354_155_98,
        1e-9,
        "complement",
    );
    // REFERENCES 3.4: 12 & 5 on the square is near the octagon's 22.5 (exact 12 & 4.9706).
    let a = answers(
        "three_measures",
        json!({"tape_mark": 4.970_562_748_477_14, "width": 12}),
    );
    close(n(&a, "reading_deg"), 22.5, 1e-9, "octagon");
    assert_eq!(
        stop(
            "three_measures",
            json!({"side_a": 3, "side_b": 4, "side_c": 7}),
            "side_c"
        ),
        7.0
    );
    assert_eq!(
        stop(
            "three_measures",
            json!({"side_a": 3, "side_b": 4, "side_c": 1}),
            "side_c"
        ),
        1.0
    );
}

/// First order against finite steps of the angle worked here by the cosine rule, and the extremes
/// against a grid of measures within their limits. Tape limits: REFERENCES 7.1 (2014/32/EU, OIML R 35-1).
#[test]
fn uncertainty_agrees_with_moved_measures() {
    let angle = |a: f64, b: f64, c: f64| {
        ((a * a + b * b - c * c) / (2.0 * a * b))
            .acos()
            .to_degrees()
    };
    // Up to 1 m: class I 0.2, II 0.5, III 1.0 mm; at 5 m 0.6, 1.3, 2.6 (printed table).
    for (class, at_1, at_5) in [("I", 0.2, 0.6), ("II", 0.5, 1.3), ("III", 1.0, 2.6)] {
        for (sides, mm) in [([24.0, 30.0, 20.0], at_1), ([190.0, 180.0, 196.0], at_5)] {
            let step = 1.0 / 16.0;
            let by = step / 2.0 + mm / 25.4;
            let a = answers(
                "three_measures",
                json!({"side_a": sides[0], "side_b": sides[1], "side_c": sides[2],
                "tape_class": class, "reading_step": step}),
            );
            let (x, y, z) = (sides[0], sides[1], sides[2]);
            let h = 1e-4;
            let slopes = [
                (angle(x + h, y, z) - angle(x - h, y, z)) / (2.0 * h),
                (angle(x, y + h, z) - angle(x, y - h, z)) / (2.0 * h),
                (angle(x, y, z + h) - angle(x, y, z - h)) / (2.0 * h),
            ];
            let worst: f64 = slopes.iter().map(|s| s.abs() * by).sum();
            close(n(&a, "uncertainty_deg"), worst, 1e-6, "first order");
            let tape = mm / 25.4;
            let se: f64 = slopes
                .iter()
                .map(|s| s * s * (step * step / 12.0 + tape * tape / 3.0))
                .sum::<f64>()
                .sqrt();
            close(
                n(&a, "standard_uncertainty_deg"),
                se,
                1e-6,
                "standard deviation",
            );
            let (mut low, mut high) = (f64::MAX, f64::MIN);
            for i in -4..=4 {
                for j in -4..=4 {
                    for k in -4..=4 {
                        let t = |i: i32| f64::from(i) / 4.0 * by;
                        let g = angle(x + t(i), y + t(j), z + t(k));
                        (low, high) = (low.min(g), high.max(g));
                    }
                }
            }
            close(n(&a, "angle_least_deg"), low, 1e-9, "least");
            close(n(&a, "angle_greatest_deg"), high, 1e-9, "greatest");
            assert_eq!(a["half_degree_readable"], json!(worst <= 0.25));
        }
    }
    // A short measure cannot tell half a degree, a long one can.
    assert_eq!(
        answers("three_measures", json!({"tape_mark": 2, "width": 3.5}))["half_degree_readable"],
        false
    );
    assert_eq!(
        answers("three_measures", json!({"rise": 30, "run": 40}))["half_degree_readable"],
        true
    );
}

/// By hand: marks each 1 from 2 to 47 on 48 with 1 free: 46; long ones every 4: 12, figured 0, 5, 10 …
#[test]
fn marks_on_a_board() {
    let a = answers(
        "marks",
        json!({"board_length": 48, "offset": 2, "spacing": 1, "end_clear": 1, "long_every": 4,
        "figure_step": 5, "sections": 1}),
    );
    assert_eq!(
        (n(&a, "marks_n"), n(&a, "long_marks_n"), n(&a, "last_mark")),
        (46.0, 12.0, 47.0)
    );
    assert_eq!(
        a["marks"][4],
        json!({"at": 6.0, "kind": "long", "figure": 5.0, "section": 1.0, "from_section_start": 6.0})
    );
    assert_eq!(a["marks"][5]["figure"], Value::Null);
    // No creeping error: the 1000th third of an inch is where it belongs.
    let a = answers(
        "marks",
        json!({"board_length": 400, "spacing": 1.0 / 3.0, "sections": 7, "offset": 0.1}),
    );
    let marks = a["marks"].as_array().expect("marks");
    close(
        n(&marks[1000], "at"),
        0.1 + 1000.0 / 3.0,
        1e-10,
        "mark 1000",
    );
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
    let r = ask(
        "marks",
        &json!({"board_length": 48, "spacing": 1, "sections": 2}),
    );
    assert_eq!(r["problems"][0]["path"], "/inputs/sections");
    assert_eq!(r["problems"][0]["level"], "warn");
    assert_eq!(r["problems"][0]["limit"], 24.0);
    assert_eq!(
        stop(
            "marks",
            json!({"board_length": 48, "spacing": 1, "offset": 50}),
            "offset"
        ),
        48.0
    );
    stop(
        "marks",
        json!({"board_length": 48, "spacing": 1e-9}),
        "spacing",
    );
}

/// By hand: 16 ÷ (5.5 - 1/16) = 2.94, so 3 strips of 5.333, ripped 5.3958.
#[test]
fn panel_from_boards() {
    let base = json!({"panel_width": 16, "panel_length": 30, "board_width": 5.5, "joint_allowance": 0.03125, "kerf": 0.125});
    let a = answers("glued_panel", base.clone());
    assert_eq!(
        (n(&a, "strips_n"), n(&a, "boards_n"), n(&a, "glue_joints_n")),
        (3.0, 3.0, 2.0)
    );
    close(n(&a, "rip_width"), 16.0 / 3.0 + 0.0625, 1e-12, "rip");
    // Strips at most 2 in: 8 of 2, ripped 2.0625; two and a kerf are 4.25 of 5.5.
    let mut narrow = base.clone();
    narrow["widest_strip"] = json!(2);
    let a = answers("glued_panel", narrow);
    assert_eq!(
        (
            n(&a, "strips_n"),
            n(&a, "strips_per_board_n"),
            n(&a, "boards_n")
        ),
        (8.0, 2.0, 4.0)
    );
    close(
        n(&a, "rip_offcut_width"),
        5.5 - 4.25 - 0.125,
        1e-12,
        "offcut",
    );
    // Mitered ends 3 wide on strips of 4: tan m = neighbor over own width (GEOMETRY 7 at 90°).
    let a = answers(
        "glued_panel",
        json!({"panel_width": 16, "panel_length": 30, "board_width": 5, "widest_strip": 4,
        "ends": "mitred", "end_width": 3}),
    );
    close(
        n(&a, "strip_reading_deg"),
        0.75f64.atan().to_degrees(),
        1e-9,
        "strip",
    );
    close(
        n(&a, "strip_reading_deg") + n(&a, "end_reading_deg"),
        90.0,
        1e-9,
        "sum of a corner",
    );
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
        (
            "three_measures",
            json!({"side_a": 3, "side_b": 4, "side_c": 5, "reading_step": 0.1}),
        ),
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
                    for (k, v) in reply["solutions"][0]["answers"]
                        .as_object()
                        .expect("answers")
                    {
                        let open = k == "angle_least_deg" || k == "angle_greatest_deg";
                        assert!(open || !v.is_null(), "{layout} {k} {inputs}");
                    }
                }
            }
        }
    }
}
