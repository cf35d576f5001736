//! Mitered frames: published polygon miters, frames built here from offset lines, properties, limits.

mod offset_lines;

use offsquare_layout_tests::asking::{
    answers, ask, ask_for, close, contradicts, keeps_its_shape, n, off_rows, stop, survives,
    works_back,
};
use serde_json::{Value, json};

const LAYOUT: &str = "mitred_frame";

fn regular(sides: u32, given: &str, value: f64, width: f64) -> Value {
    json!({"sides": sides, "given": given, "value": value, "width": width})
}

/// 180° divided by the number of sides (operator's manual no. DCS361, compound miter saw).
#[test]
fn published_polygon_miters() {
    let printed = [
        (4, 45.0),
        (5, 36.0),
        (6, 30.0),
        (7, 25.714),
        (8, 22.5),
        (9, 20.0),
        (10, 18.0),
        (12, 15.0),
    ];
    for (sides, miter) in printed {
        let a = answers(LAYOUT, &regular(sides, "across_flats", 16.0, 1.0));
        close(n(&a, "reading_deg"), miter, 0.0005, "miter");
    }
}

/// Steel square (Hodgson, *ABC of the Steel Square*): an octagon is 12 & 5 (exactly 4 31/32), a
/// hexagon 12 & 7 (6 15/16), a square 12 & 12: the side of the figure 12 in across its flats. And the
/// "eight-square" scale: the octagon in a 6 in square has a side of 2.485 in.
#[test]
fn on_the_steel_square() {
    for (sides, tongue, exact) in
        [(4, 12.0, 12.0), (8, 5.0, 4.0 + 31.0 / 32.0), (6, 7.0, 6.0 + 15.0 / 16.0)]
    {
        let a = answers(LAYOUT, &regular(sides, "across_flats", 12.0, 1.0));
        close(n(&a, "outer_edge_length"), tongue, 0.08, "as printed");
        close(n(&a, "outer_edge_length"), exact, 1.0 / 64.0, "to the nearest 32nd");
    }
    let a = answers(LAYOUT, &regular(8, "across_flats", 6.0, 0.5));
    close(n(&a, "outer_edge_length"), 2.485, 0.0005, "eight-square");
}

/// "You multiply each adjustment 16 times for an octagonal project" (*Wood* magazine).
#[test]
fn errors_add_up_at_the_closing_joint() {
    let mut i = regular(8, "across_flats", 16.0, 2.0);
    i["saw_off_deg"] = json!(0.25);
    let a = answers(LAYOUT, &i);
    close(n(&a, "closing_error_deg"), 16.0 * 0.25, 1e-12, "16 times");
    // The opening's chord at the end of the cut: a thin triangle with two sides as long as the cut.
    let (cut, half) = (n(&a, "cut_length"), 2f64.to_radians());
    close(n(&a, "closing_gap"), 2.0 * cut * half.sin(), 1e-12, "gap");
    // A tenth of a degree unless told otherwise.
    let a = answers(LAYOUT, &regular(5, "inner_side", 6.0, 1.5));
    close(n(&a, "closing_error_deg"), 1.0, 1e-12, "pentagon");
}

/// The same octagon by each of its sizes; and as a polygon of eight corners.
#[test]
fn one_figure_by_each_of_its_sizes() {
    for sides in [3u32, 4, 5, 7, 8, 12, 64] {
        let w = 1.25;
        let by_flats = answers(LAYOUT, &regular(sides, "across_flats", 40.0, w));
        let keys = [
            "outer_edge_length",
            "inner_edge_length",
            "cut_length",
            "tape_mark",
            "across_flats",
            "corner_radius",
        ];
        for (given, key) in [
            ("corner_radius", "corner_radius"),
            ("inner_side", "inner_edge_length"),
            ("outer_side", "outer_edge_length"),
        ] {
            let again = answers(LAYOUT, &regular(sides, given, n(&by_flats, key), w));
            for k in keys {
                close(n(&again, k), n(&by_flats, k), 1e-9 * 40.0, given);
            }
        }
        let r = n(&by_flats, "corner_radius");
        let corners: Vec<[f64; 2]> = (0..sides)
            .map(|k| {
                let t = std::f64::consts::TAU * f64::from(k) / f64::from(sides);
                [r * t.cos(), r * t.sin()]
            })
            .collect();
        let a = answers(LAYOUT, &json!({"outer_corners": corners, "widths": [w]}));
        for m in a["members"].as_array().expect("members") {
            close(n(m, "outer_edge_length"), n(&by_flats, "outer_edge_length"), 1e-9 * r, "outer");
            close(n(m, "inner_edge_length"), n(&by_flats, "inner_edge_length"), 1e-9 * r, "inner");
            close(n(m, "start_reading_deg"), 180.0 / f64::from(sides), 1e-9, "reading");
        }
    }
}

/// The rule of rectangles, worked by hand: tan m = neighbor's width over own; the two add up to 90.
#[test]
fn rectangles_by_hand() {
    let i = json!({"measured": "sight", "frame_width": 16, "frame_height": 20, "rail_width": 2, "stile_width": 3});
    let a = answers(LAYOUT, &i);
    close(n(&a, "rail.reading_deg"), (1.5f64).atan().to_degrees(), 1e-9, "rail");
    close(n(&a, "rail.reading_deg") + n(&a, "stile.reading_deg"), 90.0, 1e-12, "sum");
    close(n(&a, "outside_width"), 22.0, 1e-12, "16 + 2·3");
    close(n(&a, "outside_height"), 24.0, 1e-12, "20 + 2·2");
    close(n(&a, "rail.tape_mark"), 3.0, 1e-12, "rail's mark is the stile's width");
    close(n(&a, "rail.cut_length"), 13f64.sqrt(), 1e-12, "one cut, both members");
    close(n(&a, "stile.cut_length"), 13f64.sqrt(), 1e-12, "one cut, both members");
    // The same frame given from outside, and by a panel 3/8 behind the frame with 1/8 room in all.
    let outside = json!({"measured": "outside", "frame_width": 22, "frame_height": 24, "rail_width": 2, "stile_width": 3});
    let b = answers(LAYOUT, &outside);
    close(n(&b, "sight_width"), 16.0, 1e-12, "sight");
    let rabbet = json!({"measured": "rabbet", "frame_width": 16.625, "frame_height": 20.625, "rail_width": 2,
        "stile_width": 3, "rabbet_width": 0.375, "rabbet_allowance": 0.125});
    let c = answers(LAYOUT, &rabbet);
    close(n(&c, "sight_width"), 16.0, 1e-12, "16 5/8 + 1/8 - 2·3/8");
    close(n(&c, "panel_height"), 20.625, 1e-12, "panel");
    close(n(&c, "rabbet_size_width"), 16.75, 1e-12, "rabbet");
    for i in [&i, &outside, &rabbet] {
        keeps_its_shape(LAYOUT, i);
    }
}

/// GEOMETRY 7, trap: at an obtuse corner with v < -w cos C the wider member's reading is negative, and
/// its long point on the inner edge. By hand at 120°: w 4, v 1: tan m = (1 - 2)/(4 sin 120).
#[test]
fn the_wider_member_of_an_obtuse_corner_reads_backward() {
    let s = 3f64.sqrt() / 2.0;
    let hexagon: Vec<[f64; 2]> =
        [(1.0, 0.0), (0.5, s), (-0.5, s), (-1.0, 0.0), (-0.5, -s), (0.5, -s)]
            .map(|(x, y)| [40.0 * x, 40.0 * y])
            .to_vec();
    let a = answers(LAYOUT, &json!({"outer_corners": hexagon, "widths": [4, 1, 4, 1, 4, 1]}));
    let m = &a["members"][0];
    let should = (-1.0 / (4.0 * s)).atan().to_degrees();
    close(n(m, "start_reading_deg"), should, 1e-9, "backward");
    close(n(m, "start_reading_deg"), -16.10, 0.005, "backward");
    assert!(n(m, "inner_edge_length") > n(m, "outer_edge_length"));
    close(n(m, "long_point_length"), n(m, "inner_edge_length"), 1e-9, "long point inside");
    close(n(&a["members"][1], "start_reading_deg"), 60.0 - should, 1e-9, "its neighbor");
    // Triangle: every reading is 60.
    let a = answers(LAYOUT, &regular(3, "corner_radius", 20.0, 1.5));
    close(n(&a, "reading_deg"), 60.0, 1e-12, "triangle");
}

/// A corner so nearly straight or closed that sines of it alone would lose digits: the run of a thin
/// turn e is w tan(e/2), known here from the series; and of a sharp corner c it is w / tan(c/2).
#[test]
fn digits_are_kept_at_nearly_straight_and_nearly_closed_corners() {
    for e in [1e-3f64, 1e-6, 1e-9] {
        // Rise e over 1 to the right of the corner at (10, 0), as the square of e is lost anyway.
        let corners = [[0.0, 0.0], [10.0, 0.0], [20.0, 10.0 * e], [20.0, 12.0], [0.0, 12.0]];
        let a = answers(LAYOUT, &json!({"outer_corners": corners, "widths": [1.5]}));
        let half_turn = e.atan() / 2.0;
        close(n(&a, "members.0.end_reading_deg"), half_turn.to_degrees(), 1e-12, "half the turn");
        close(n(&a, "members.0.end_tape_mark"), 1.5 * half_turn.tan(), 1e-14, "run");
    }
    for c in [0.01f64, 1e-4] {
        let corners = [[0.0, 0.0], [1000.0, 0.0], [1000.0, 1000.0 * c.tan()]];
        let w = 1e-3 * c;
        let a = answers(LAYOUT, &json!({"outer_corners": corners, "widths": [w]}));
        let run = w / (c / 2.0).tan();
        close(n(&a, "members.0.start_tape_mark"), run, 1e-9 * run, "run");
        close(n(&a, "members.0.start_reading_deg"), 90.0 - (c / 2.0).to_degrees(), 1e-9, "reading");
    }
}

#[test]
fn impossible_frames_name_their_limit() {
    let square = json!([[0, 0], [10, 0], [10, 10], [0, 10]]);
    // Too wide: in proportion, the limit is half the side; and it is the limit.
    let with = |w: Value| json!({"outer_corners": square, "widths": w});
    close(n(&stop(LAYOUT, &with(json!([6])), "widths"), "limit"), 5.0, 1e-9, "half");
    answers(LAYOUT, &with(json!([4.999_999])));
    stop(LAYOUT, &with(json!([5.0])), "widths");
    // By hand: the sides 4 wide lose 8 at either end of their 10; at 10/16 of all widths nothing is left.
    let p = stop(LAYOUT, &with(json!([8, 4, 8, 4])), "widths");
    close(n(&p, "limit"), 4.0 * 10.0 / 16.0, 1e-9, "second side");
    let share = n(&p, "limit") / 4.0;
    answers(LAYOUT, &with(json!([8.0, 4.0, 8.0, 4.0].map(|w| w * share * 0.999_999))));
    stop(LAYOUT, &with(json!([8.0, 4.0, 8.0, 4.0].map(|w| w * share * 1.000_001))), "widths");
    close(n(&stop(LAYOUT, &with(json!([1, 1, 1])), "widths"), "limit"), 4.0, 0.0, "four sides");
    // Clockwise, bent inward, in line, doubled, twice around, too few, not finite.
    for bad in [
        json!([[0, 0], [0, 10], [10, 10], [10, 0]]),
        json!([[0, 0], [10, 0], [4, 4], [0, 10]]),
        json!([[0, 0], [5, 0], [10, 0], [10, 10], [0, 10]]),
        json!([[0, 0], [0, 0], [10, 0], [10, 10]]),
        json!([[1, 0], [-0.809, 0.588], [0.309, -0.951], [0.309, 0.951], [-0.809, -0.588]]),
        json!([[0, 0], [10, 0]]),
        json!([]),
    ] {
        stop(LAYOUT, &json!({"outer_corners": bad, "widths": [0.1]}), "outer_corners");
    }
    // Regular and rectangle.
    let p = stop(LAYOUT, &regular(6, "across_flats", 10.0, 5.0), "width");
    close(n(&p, "limit"), 5.0, 1e-9, "half the flats");
    answers(LAYOUT, &regular(6, "across_flats", 10.0, 4.999_999));
    let with = |measured: &str, w: f64, rabbet: f64| {
        json!({"measured": measured, "frame_width": w, "frame_height": 20, "rail_width": 2, "stile_width": 3,
            "rabbet_width": rabbet})
    };
    close(
        n(&stop(LAYOUT, &with("outside", 6.0, 0.25), "frame_width"), "limit"),
        6.0,
        1e-9,
        "two stiles",
    );
    answers(LAYOUT, &with("outside", 6.000_001, 0.25));
    close(
        n(&stop(LAYOUT, &with("rabbet", 0.5, 0.25), "frame_width"), "limit"),
        0.5,
        1e-9,
        "two rabbets",
    );
    close(
        n(&stop(LAYOUT, &with("sight", 16.0, 2.0), "rabbet_width"), "limit"),
        2.0,
        1e-9,
        "the rail",
    );
    let mut i = regular(6, "across_flats", 10.0, 1.0);
    i["rabbet_width"] = json!(1.0);
    close(n(&stop(LAYOUT, &i, "rabbet_width"), "limit"), 1.0, 1e-9, "the stock");
}

/// A regular panel behind a rabbet: the opening's flats, two rabbets, less the room (by hand: opening
/// 10 - 2·1 = 8 across, + 2·3/8 - 1/8).
#[test]
fn regular_panel_in_its_rabbet() {
    let mut i = regular(8, "across_flats", 10.0, 1.0);
    i["rabbet_width"] = json!(0.375);
    i["rabbet_allowance"] = json!(0.125);
    let a = answers(LAYOUT, &i);
    close(n(&a, "panel_across_flats"), 8.625, 1e-9, "flats");
    close(n(&a, "panel_side"), 8.625 * (22.5f64).to_radians().tan(), 1e-9, "side");
}

#[test]
fn worked_back_contradicted_off_and_hostile() {
    let rectangle = json!({"measured": "sight", "frame_width": 16, "frame_height": 20, "rail_width": 2, "stile_width": 3});
    let found = works_back(LAYOUT, &rectangle, "stile_width", "rail.reading_deg", 50.0);
    close(found, 2.0 * 50f64.to_radians().tan(), 1e-9, "stile for 50°");
    works_back(LAYOUT, &rectangle, "frame_width", "outside_width", 24.0);
    let octagon = regular(8, "across_flats", 16.0, 2.0);
    let found = works_back(LAYOUT, &octagon, "value", "outer_edge_length", 7.0);
    close(found, 7.0 / 22.5f64.to_radians().tan(), 1e-9, "flats for a side of 7");
    contradicts(LAYOUT, &octagon, "inner_edge_length");
    contradicts(LAYOUT, &rectangle, "outside_width");
    assert_eq!(off_rows(LAYOUT, &rectangle), 1);
    assert_eq!(off_rows(LAYOUT, &octagon), 1);
    survives(LAYOUT, &rectangle);
    survives(LAYOUT, &octagon);
    let polygon = json!({"outer_corners": [[0, 0], [24, 0], [20, 14], [4, 14]], "widths": [1.5]});
    survives(LAYOUT, &polygon);
    keeps_its_shape(LAYOUT, &octagon);
    // One width serves all; tiny and huge frames.
    let bare = json!({"outer_corners": [[0, 0], [24, 0], [20, 14], [4, 14]], "widths": 1.5});
    assert_eq!(ask(LAYOUT, &bare)["solutions"], ask(LAYOUT, &polygon)["solutions"]);
    // Members too short to hold are cut from a longer stick.
    let small = regular(8, "across_flats", 6.0, 0.75);
    let reply = ask_for(LAYOUT, &small, &json!({"saw": {}}));
    let short = &reply["solutions"][0]["saw"]["parts"][0]["short_piece"];
    let side = 6.0 * 22.5f64.to_radians().tan();
    close(n(short, "cut_from_length"), side + 0.125 + 8.0, 1e-9, "piece, kerf and what is held");
}
