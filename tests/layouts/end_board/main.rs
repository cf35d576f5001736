//! End boards through the JSON door, against polygons built here and measured with crate `geo`.

mod limits;
mod nesting;

use geo::{Area, BoundingRect, Coord, LineString, Polygon};
use serde_json::{Value, json};

fn ask(inputs: Value) -> Value {
    offsquare_door::solve_value(
        &json!({"id": 1, "layout": "end_board", "unit": "in", "inputs": inputs}),
    )
}

/// The answers of the only solution.
fn answers(inputs: Value) -> Value {
    let reply = ask(inputs.clone());
    assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(1), "{inputs} -> {reply}");
    reply["solutions"][0]["answers"].clone()
}

fn number(answers: &Value, key: &str) -> f64 {
    answers[key].as_f64().unwrap_or_else(|| panic!("{key} is not a number in {answers}"))
}

fn close(is: f64, should: f64, slack: f64, what: &str) {
    assert!((is - should).abs() <= slack, "{what}: is {is}, should be {should}");
}

/// Base, top, height, shoulder, left inset.
type Shape = (f64, f64, f64, f64, f64);

/// Trapezoids, gables, houses, flaring and leaning boards. Shapes made up here.
const SHAPES: &[Shape] = &[
    (12.0, 5.0, 9.25, 0.0, 3.5),
    (12.0, 5.0, 9.25, 0.0, 2.0),
    (12.0, 5.0, 9.25, 3.0, 3.5),
    (12.0, 5.0, 9.25, 3.0, 1.25),
    (12.0, 5.0, 9.25, 6.0, 3.0),
    (12.0, 0.0, 9.25, 0.0, 6.0),
    (12.0, 0.0, 9.25, 4.0, 2.0),
    (10.0, 14.0, 8.0, 0.0, -2.0),
    (10.0, 14.0, 8.0, 0.0, -5.0),
    (10.0, 9.0, 8.0, 0.0, -3.0),
    (10.0, 9.0, 8.0, 2.5, -3.0),
    (10.0, 14.0, 8.0, 3.0, -1.0),
    (7.0, 7.0, 5.5, 1.0, 0.0),
    (7.0, 7.0, 5.5, 0.0, 2.0),
    (24.0, 3.0, 7.25, 0.5, 20.0),
    (3.0, 2.5, 30.0, 1.0, 0.5),
];

fn request((base, top, height, shoulder, left): Shape) -> Value {
    json!({"base_width": base, "top_width": top, "height": height, "shoulder_height": shoulder,
           "left_inset": left})
}

fn nested(shape: Shape, kerf: f64, first: &str) -> Value {
    let mut inputs = request(shape);
    inputs["board_width"] = json!(shape.2);
    inputs["board_length"] = json!(96);
    inputs["kerf"] = json!(kerf);
    inputs["first"] = json!(first);
    inputs
}

/// The outline, built here from the words of GEOMETRY 5.
fn outline((b, t, h, k, l): Shape) -> Polygon {
    let r = b - t - l;
    Polygon::new(
        LineString::from(vec![(0.0, 0.0), (b, 0.0), (b, k), (b - r, h), (l, h), (0.0, k)]),
        vec![],
    )
}

/// Half a turn, in the same band.
fn turned(p: &Polygon) -> Polygon {
    let bounds = p.bounding_rect().expect("bounds");
    let (sx, sy) = (bounds.min().x + bounds.max().x, bounds.min().y + bounds.max().y);
    Polygon::new(
        LineString::from(p.exterior().coords().map(|c| (sx - c.x, sy - c.y)).collect::<Vec<_>>()),
        vec![],
    )
}

#[test]
fn outline_agrees_with_a_polygon_built_here() {
    for shape in SHAPES {
        let a = answers(request(*shape));
        let p = outline(*shape);
        close(number(&a, "face_area"), p.unsigned_area(), 1e-10, "area by geo");
        let bounds = p.bounding_rect().expect("bounds");
        close(number(&a, "bounding_width"), bounds.width(), 1e-12, "bounds by geo");
        let around: f64 =
            p.exterior().lines().map(|l| (l.dx() * l.dx() + l.dy() * l.dy()).sqrt()).sum();
        close(number(&a, "perimeter"), around, 1e-10, "perimeter");
        // Corners without the doubled ones, in the same order from the origin.
        let mut corners: Vec<Coord> = p.exterior().coords().copied().collect();
        corners.pop();
        corners.dedup();
        if corners.last() == corners.first() {
            corners.pop();
        }
        let given = a["corners"].as_array().expect("corners");
        assert_eq!(given.len(), corners.len(), "{shape:?}");
        for (g, c) in given.iter().zip(&corners) {
            close(g[0].as_f64().expect("x"), c.x, 1e-12, "corner x");
            close(g[1].as_f64().expect("y"), c.y, 1e-12, "corner y");
        }
        // Interior angles of a simple n-gon sum to (n - 2) 180.
        let inside: f64 = a["interior_deg"]
            .as_array()
            .expect("angles")
            .iter()
            .map(|v| v.as_f64().expect("angle"))
            .sum();
        close(inside, (corners.len() as f64 - 2.0) * 180.0, 1e-9, "angle sum");
        // GEOMETRY 5's closed form: atan(inset / (H - K)).
        let (b, t, h, k, l) = *shape;
        for (side, inset) in [("left", l), ("right", b - t - l)] {
            let reading = (inset.abs() / (h - k)).atan().to_degrees();
            close(number(&a, &format!("{side}_reading_deg")), reading, 1e-9, "reading");
            close(
                number(&a, &format!("{side}_edge_from_upright_reading_deg")),
                90.0 - reading,
                1e-9,
                "complement",
            );
        }
    }
}

/// By hand: insets (12 - 6)/2 = 3 and a rise of 4 make a 3-4-5 triangle: slope 5, reading
/// atan(3/4) = 36.8699 (common tables of the 3-4-5 triangle, from memory).
#[test]
fn three_four_five() {
    let a = answers(json!({"base_width": 12, "top_width": 6, "height": 6, "shoulder_height": 2}));
    close(number(&a, "left_slope_length"), 5.0, 1e-12, "slope");
    close(number(&a, "left_reading_deg"), 36.869_897_645_844_02, 1e-9, "reading");
    close(number(&a, "face_area"), 12.0 * 2.0 + 9.0 * 4.0, 1e-12, "area by hand");
    close(number(&a, "left_tape_mark"), 3.0, 1e-12, "tape mark");
    close(number(&a, "left_edge_from_upright_tape_mark"), 4.0, 1e-12, "tape mark");
}

/// Every sufficient set of sizes of one board leads to the same board.
#[test]
fn any_sufficient_sizes_give_the_same_board() {
    for shape in SHAPES.iter().filter(|s| s.4 > 0.0 && s.0 - s.1 - s.4 > 0.0) {
        let whole = answers(request(*shape));
        let keys = [
            "base_width",
            "top_width",
            "height",
            "left_inset",
            "right_inset",
            "left_reading_deg",
            "right_reading_deg",
            "left_slope_length",
            "right_slope_length",
        ];
        let sets: &[&[usize]] = &[
            &[0, 1, 2, 3],
            &[0, 1, 2, 4],
            &[0, 2, 3, 4],
            &[1, 2, 3, 4],
            &[0, 1, 2, 5],
            &[0, 1, 2, 6],
            &[0, 2, 5, 6],
            &[1, 2, 5, 6],
            &[0, 1, 3, 5],
            &[0, 1, 3, 7],
            &[0, 1, 4, 8],
            &[0, 1, 5, 7],
            &[0, 2, 3, 6],
            &[0, 2, 7, 8],
            &[0, 1, 2, 3, 4, 5, 6, 7, 8],
        ];
        for set in sets {
            let mut inputs = json!({"shoulder_height": shape.3});
            for i in *set {
                inputs[keys[*i]] = whole[keys[*i]].clone();
            }
            let reply = ask(inputs.clone());
            assert_eq!(reply["problems"], json!([]), "{inputs}");
            let a = &reply["solutions"][0]["answers"];
            for key in keys {
                // Angles and slopes lose figures where an inset is a small share of the slope.
                close(number(a, key), number(&whole, key), 1e-9, &format!("{key} from {inputs}"));
            }
        }
    }
}

#[test]
fn symmetric_without_insets() {
    let a = answers(json!({"base_width": 11, "top_width": 4, "height": 7}));
    close(number(&a, "left_inset"), 3.5, 0.0, "half of 11 - 4");
    close(number(&a, "right_inset"), 3.5, 0.0, "half of 11 - 4");
}

#[test]
fn contradictions_tell_by_how_much_and_what_would_agree() {
    // By hand: 12 - 5 - 2 = 5, the right inset is 1 too much.
    let reply = ask(
        json!({"base_width": 12, "top_width": 5, "height": 9, "left_inset": 2, "right_inset": 6}),
    );
    let p = &reply["problems"][0];
    assert_eq!(p["path"], "/inputs/right_inset");
    assert_eq!(p["level"], "warn");
    close(p["by"].as_f64().expect("by"), 1.0, 1e-12, "by");
    assert_eq!(
        p["agree"],
        json!({"base_width": 13.0, "top_width": 4.0, "left_inset": 1.0, "right_inset": 5.0})
    );
    // Each value that would agree, put in, leaves no problem.
    for (key, value) in p["agree"].as_object().expect("agree") {
        let mut again = json!({"base_width": 12, "top_width": 5, "height": 9, "left_inset": 2, "right_inset": 6});
        again[key] = value.clone();
        assert_eq!(ask(again)["problems"], json!([]), "{key}");
    }
    // A 3-4-5 side whose slope is said to be 6: by hand the reading or the height would have to give.
    let first = json!({"base_width": 12, "top_width": 6, "height": 4, "left_inset": 3, "left_slope_length": 6});
    let reply = ask(first.clone());
    let p = &reply["problems"][0];
    assert_eq!(p["path"], "/inputs/left_slope_length");
    close(p["by"].as_f64().expect("by"), 1.0, 1e-12, "6 - 5");
    let agree = p["agree"].as_object().expect("agree");
    close(agree["height"].as_f64().expect("height"), 27f64.sqrt(), 1e-12, "√(36 - 9)");
    for (key, value) in agree {
        let mut again = first.clone();
        again[key] = value.clone();
        assert_eq!(ask(again)["problems"], json!([]), "{key}");
    }
}

#[test]
fn box_between_two_ends() {
    // 3-4-5 sides: base 12, top 6, rise 4 over a 2 in shoulder.
    let inputs = json!({"base_width": 12, "top_width": 6, "height": 6, "shoulder_height": 2,
        "end_thickness": 0.75, "box_length": 20, "floor_height": 3, "floor_thickness": 1,
        "divider_height": 6});
    let a = answers(inputs.clone());
    close(number(&a, "floor_length"), 18.5, 1e-12, "20 - 2 × 3/4");
    // At 3 in each side has come in 3/4 × 1, at 4 in 3/4 × 2.
    close(number(&a, "floor_width_below"), 10.5, 1e-12, "by hand");
    close(number(&a, "floor_width_above"), 9.0, 1e-12, "by hand");
    close(number(&a, "floor_left_bevel_deg"), number(&a, "left_reading_deg"), 1e-9, "likewise");
    let left = &a["left_side"];
    close(number(left, "slope_width"), 5.0, 1e-12, "3-4-5");
    close(number(left, "upright_width"), 2.0, 1e-12, "shoulder");
    close(number(left, "length"), 20.0, 1e-12, "whole length");
    close(number(left, "rip_bevel_deg"), number(&a, "left_reading_deg"), 1e-12, "reading");
    // Divider: from 9 wide at 4 to 6 wide at 6: (9 + 6)/2 × 2 = 15.
    close(number(&a["divider"], "face_area"), 15.0, 1e-12, "by hand");
    // Across the shoulder: clip the outline with a band by geo.
    let mut low = inputs;
    low["floor_height"] = json!(0);
    let a = answers(low);
    let band = Polygon::new(
        LineString::from(vec![(-1.0, 1.0), (20.0, 1.0), (20.0, 6.0), (-1.0, 6.0)]),
        vec![],
    );
    let clipped = geo::BooleanOps::intersection(&outline((12.0, 6.0, 6.0, 2.0, 3.0)), &band);
    close(number(&a["divider"], "face_area"), clipped.unsigned_area(), 1e-6, "geo's clipping");
    assert_eq!(a["divider"]["corners"].as_array().map(Vec::len), Some(6));
    close(number(&a, "floor_left_bevel_deg"), 0.0, 1e-12, "upright part");
}

/// Mirrored inputs give the mirrored board; a board twice the size has twice the lengths.
#[test]
fn mirror_and_scale() {
    for shape in SHAPES {
        let (b, t, h, k, l) = *shape;
        let r = b - t - l;
        let a = answers(nested(*shape, 0.125, "upright"));
        let m = answers(nested((b, t, h, k, r), 0.125, "upright"));
        // In the mirror the band is read from its other end.
        for (one, other, within) in [
            ("left_reading_deg", "right_reading_deg", 1e-9),
            ("left_slope_length", "right_slope_length", 1e-10),
            ("first_step", "second_step", 1e-10),
        ] {
            close(number(&a, one), number(&m, other), within, "mirror");
        }
        let z = answers(nested((2.0 * b, 2.0 * t, 2.0 * h, 2.0 * k, 2.0 * l), 0.25, "upright"));
        for (key, times, within) in
            [("first_step", 2.0, 1e-10), ("face_area", 4.0, 1e-9), ("left_reading_deg", 1.0, 1e-12)]
        {
            close(number(&z, key), times * number(&a, key), within, "scale");
        }
    }
}
