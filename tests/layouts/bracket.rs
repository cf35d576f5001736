//! Bracket through the JSON door, against a knee built here as a polygon (GEOMETRY 6).

use geo::{Area, Coord, LineString, Polygon};
use serde_json::{Value, json};

fn ask(inputs: &Value) -> Value {
    offsquare_door::solve_value(
        &json!({"id": 1, "layout": "bracket", "unit": "in", "inputs": inputs}),
    )
}
fn answers(inputs: &Value) -> Value {
    let reply = ask(inputs);
    assert_eq!(reply["problems"], json!([]), "{inputs}");
    reply["solutions"][0]["answers"].clone()
}
fn n(a: &Value, key: &str) -> f64 {
    a[key].as_f64().unwrap_or_else(|| panic!("{key} in {a}"))
}
fn close(is: f64, should: f64, what: &str) {
    assert!((is - should).abs() <= 1e-9, "{what}: is {is}, should be {should}");
}

/// The knee cut out of a strip between the legs' inside edges: corners found by meeting lines, then
/// measured. Nothing here uses an angle formula of the layout.
#[test]
fn knee_agrees_with_a_polygon_built_here() {
    for corner in [90.0f64, 60.0, 75.5, 120.0, 140.0] {
        for (u, v, w) in [(8.0, 6.5, 1.5), (5.0, 5.0, 0.75), (10.0, 3.0, 1.0), (2.5, 9.0, 0.5)] {
            for seat_to in ["outer", "centre", "inner"] {
                let along = Coord { x: corner.to_radians().cos(), y: corner.to_radians().sin() };
                let (p, q) = (Coord { x: u, y: 0.0 }, along * v);
                let dir = q - p;
                let long = (dir.x * dir.x + dir.y * dir.y).sqrt();
                // Towards the corner: to the left of the way from A to B is where the origin lies.
                let normal = Coord { x: -dir.y / long, y: dir.x / long };
                let out = match seat_to {
                    "outer" => 0.0,
                    "centre" => 0.5,
                    _ => 1.0,
                } * w;
                let line = |off: f64| {
                    let s = p + normal * off;
                    // On leg A: y = 0; on leg B: cross(along, s + t dir) = 0.
                    let ta = -s.y / dir.y;
                    let tb = -(along.x * s.y - along.y * s.x) / (along.x * dir.y - along.y * dir.x);
                    (s + dir * ta, s + dir * tb)
                };
                let (oa, ob) = line(-out);
                let (ia, ib) = line(w - out);
                let inputs = json!({"leg_a": 40, "leg_b": 40, "leg_width": 1.5, "brace_width": w,
                    "seat_a": u, "seat_b": v, "seat_to": seat_to, "corner_angle_deg": corner});
                if ia.x <= 1e-9 {
                    assert_eq!(ask(&inputs)["solutions"], json!([]), "{inputs}");
                    continue;
                }
                let a = answers(&inputs);
                let dist = |a: Coord, b: Coord| ((a.x - b.x).powi(2) + (a.y - b.y).powi(2)).sqrt();
                close(n(&a, "outer_edge_length"), dist(oa, ob), "outer");
                close(n(&a, "inner_edge_length"), dist(ia, ib), "inner");
                close(n(&a, "seat_on_leg_a"), dist(oa, ia), "seat a");
                close(n(&a, "seat_on_leg_b"), dist(ob, ib), "seat b");
                close(n(&a, "seat_a_from_corner"), dist(ia, Coord::zero()), "from corner");
                close(n(&a, "seat_b_from_corner"), dist(ib, Coord::zero()), "from corner");
                let polygon = Polygon::new(LineString::from(vec![oa, ob, ib, ia]), vec![]);
                close(n(&a, "face_area"), polygon.unsigned_area(), "area by geo");
                let at = |c: Coord| (c.x * dir.x + c.y * dir.y) / long;
                let (e1, e2) = ([at(oa), at(ia)], [at(ob), at(ib)]);
                close(n(&a, "long_point_length"), e2[0].max(e2[1]) - e1[0].min(e1[1]), "long");
                close(n(&a, "short_point_length"), e2[0].min(e2[1]) - e1[0].max(e1[1]), "short");
                // Off square: the cut's run along the knee over its width.
                close(
                    n(&a, "reading_on_leg_a_deg"),
                    ((e1[1] - e1[0]).abs() / w).atan().to_degrees(),
                    "reading a",
                );
                close(
                    n(&a, "reading_on_leg_b_deg"),
                    ((e2[1] - e2[0]).abs() / w).atan().to_degrees(),
                    "reading b",
                );
                // Legs: half the corner's cotangent of their width is lost inside.
                let inside = 40.0 - 1.5 / (corner.to_radians() / 2.0).tan();
                close(n(&a, "leg_a_inside_length"), inside, "inside");
                close(n(&a, "leg_a_beyond_seat"), inside - oa.x, "beyond");
            }
        }
    }
}

/// Common practice, no source: equal seats at a right angle have 45° on both ends. And by hand: 45°
/// with a 1 1/2 knee, seats 6: long point 6√2, short point 3 less.
#[test]
fn equal_seats() {
    let a = answers(
        &json!({"leg_a": 10, "leg_b": 10, "leg_width": 1.5, "brace_width": 1.5, "seat_a": 6, "seat_b": 6}),
    );
    close(n(&a, "reading_on_leg_a_deg"), 45.0, "45");
    close(n(&a, "reading_on_leg_b_deg"), 45.0, "45");
    close(n(&a, "long_point_length"), 72f64.sqrt(), "6√2");
    close(n(&a, "short_point_length"), 72f64.sqrt() - 3.0, "3 less");
    close(n(&a, "leg_a_inside_length"), 8.5, "length - leg width");
    close(n(&a["leg_a_member"], "corner_reading_deg"), 45.0, "mitered corner");
}

/// Members cut either way cover the same L: areas of both legs add up (worked here at 60° and 90°).
#[test]
fn corner_joints() {
    for corner in [90.0f64, 60.0, 110.0] {
        for joint in ["mitre", "a_through", "b_through"] {
            let a = answers(
                &json!({"leg_a": 12, "leg_b": 10, "leg_width": 2, "brace_width": 1, "seat_a": 5,
                "seat_b": 5, "corner_angle_deg": corner, "joint": joint}),
            );
            let area: f64 = ["leg_a_member", "leg_b_member"]
                .iter()
                .map(|k| {
                    (n(&a[*k], "outer_edge_length") + n(&a[*k], "inner_edge_length")) / 2.0 * 2.0
                })
                .sum();
            let half = (corner / 2.0).to_radians();
            let inside = 2.0 / half.tan();
            // The L: two parallelograms' worth of strip, mean of outside and inside lengths.
            let should = (12.0 + 12.0 - inside) + (10.0 + 10.0 - inside);
            close(area, should, &format!("{joint} {corner}"));
        }
    }
    let a = answers(
        &json!({"leg_a": 12, "leg_b": 10, "leg_width": 2, "brace_width": 1, "seat_a": 5, "seat_b": 5, "joint": "a_through"}),
    );
    close(n(&a["leg_a_member"], "inner_edge_length"), 12.0, "runs through");
    close(n(&a["leg_b_member"], "outer_edge_length"), 8.0, "butts");
}

#[test]
fn impossible_brackets_name_their_limit() {
    let with = |key: &str, value: Value| {
        let mut i = json!({"leg_a": 10, "leg_b": 10, "leg_width": 1.5, "brace_width": 1.5, "seat_a": 6, "seat_b": 8});
        i[key] = value;
        ask(&i)
    };
    // 6 × 8 ÷ 10 = 4.8.
    let r = with("brace_width", json!(4.8));
    assert_eq!(r["solutions"], json!([]));
    close(r["problems"][0]["limit"].as_f64().expect("limit"), 4.8, "uv/hypot");
    let r = with("seat_a", json!(9));
    assert_eq!(r["problems"][0]["path"], "/inputs/seat_a");
    close(r["problems"][0]["limit"].as_f64().expect("limit"), 8.5, "inside length");
    let r = with("leg_a", json!(1));
    assert_eq!(r["problems"][0]["path"], "/inputs/leg_a");
    for bad in [json!(0), json!(-1), json!(1e308), json!("x")] {
        let r = with("seat_a", bad);
        assert_eq!(r["solutions"], json!([]));
        assert_ne!(r["problems"], json!([]));
    }
}

/// A limit put in for the size at fault is the last one that works, to whichever line the seats are measured.
#[test]
fn limits_of_the_knee_are_where_it_stops_working() {
    let with = |inputs: &Value, path: &str, size: f64| {
        let mut i = inputs.clone();
        i[path.rsplit_once('/').expect("a path").1] = json!(size);
        ask(&i)["solutions"].as_array().map_or(0, Vec::len)
    };
    for seat_to in ["outer", "centre", "inner"] {
        for corner in [90.0, 65.0, 125.0] {
            for (key, size) in [("seat_a", 11.5), ("seat_b", 30.0), ("brace_width", 20.0)] {
                let mut inputs = json!({"leg_a": 12, "leg_b": 14, "leg_width": 1.5, "brace_width": 1.25,
                    "seat_a": 7, "seat_b": 8, "seat_to": seat_to, "corner_angle_deg": corner});
                if key == "brace_width" {
                    // Long legs: only the corner is in the way.
                    inputs["leg_a"] = json!(200);
                    inputs["leg_b"] = json!(200);
                    if seat_to == "inner" {
                        continue;
                    }
                }
                inputs[key] = json!(size);
                let reply = ask(&inputs);
                let problem = &reply["problems"][0];
                assert_eq!(problem["path"], format!("/inputs/{key}"), "{inputs}: {reply}");
                let limit = n(problem, "limit");
                let path = problem["path"].as_str().expect("a path");
                assert_eq!(with(&inputs, path, limit * (1.0 + 1e-10)), 0, "{inputs}: {reply}");
                assert_eq!(with(&inputs, path, limit * (1.0 - 1e-10)), 1, "{inputs}: {reply}");
            }
        }
    }
}
