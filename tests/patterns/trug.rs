//! A trug against its outline, worked out here from its sizes.

use crate::checks::{refusal, solid_of};
use offsquare_door::piece::piece_value;
use offsquare_tests::dice::Dice;
use serde_json::{Map, Value, json};

fn near(value: &Value, expected: f64) {
    let is = value.as_f64().unwrap_or(f64::NAN);
    assert!((is - expected).abs() < 1e-9 * expected.abs().max(1.0), "{is} is not {expected}");
}

fn part<'v>(answer: &'v Value, name: &str) -> &'v Value {
    let parts = answer["parts"].as_array().expect("parts");
    parts.iter().find(|p| p["name"] == name).unwrap_or_else(|| panic!("no {name} in {answer}"))
}

fn volumes(answer: &Value, name: &str) -> f64 {
    let parts = answer["parts"].as_array().expect("parts");
    let Some(at) = parts.iter().position(|p| p["name"] == name) else { return 0.0 };
    let placed = answer["placed"].as_array().unwrap().iter().filter(|p| p["part"] == at);
    placed.map(|p| solid_of(p).volume()).sum()
}

/// Insets of 3 over a rise of 4: slopes 5 long, and 1/2 in boards measure 5/8 on the level. The floor, 3/4 thick,
/// lies below the shoulder: upright edges.
#[test]
fn with_a_shoulder_a_side_is_two_boards() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "trug",
        "sizes": {"base_width": 12, "top_width": 6, "height": 7, "shoulder_height": 3, "end_thickness": 0.75,
            "length": 20, "side_thickness": 0.5, "floor_thickness": 0.75, "handle": "dowel",
            "handle_size": 1, "divider_height": 4},
    }));
    assert_eq!(answer["problems"], json!([]));
    let names: Vec<&Value> =
        answer["parts"].as_array().unwrap().iter().map(|p| &p["name"]).collect();
    assert_eq!(names, ["end", "upper_side", "lower_side", "floor", "divider", "handle"]);
    near(&answer["extent"]["width"], 12.0 + 2.0 * 0.625);
    near(&answer["extent"]["depth"], 20.0);
    near(&answer["extent"]["height"], 7.0);
    near(&answer["sizes"]["overall_width"], 13.25);
    let upper = part(&answer, "upper_side");
    // tan of the rip is 3/4: a blank of 5 in and 1/2 × 3/4.
    near(&upper["seen"], 5.375);
    near(&upper["length"], 20.0);
    near(&upper["rips"]["near_deg"], 0.75_f64.atan().to_degrees());
    near(&upper["rips"]["far_deg"], -0.75_f64.atan().to_degrees());
    assert!(upper["outline"].is_null());
    let lower = part(&answer, "lower_side");
    assert_eq!((&lower["seen"], &lower["rips"]), (&json!(3.0), &Value::Null));
    let floor = part(&answer, "floor");
    assert_eq!(
        (&floor["seen"], &floor["length"], &floor["rips"]),
        (&json!(12.0), &json!(18.5), &Value::Null)
    );
    // Its middle 1 1/2 diameters below the top.
    let hole = json!([{"x": 6.0, "y": 5.5, "diameter": 1.0, "depth": null}]);
    assert_eq!(part(&answer, "end")["holes"], hole);
    assert_eq!(part(&answer, "handle")["length"], json!(20.0));
    // From 3/4 to 3 upright, 12 wide; then 1 in up the slopes, 12 to 10 1/2.
    near(&json!(volumes(&answer, "divider")), 0.75 * (12.0 * 2.25 + 11.25));
}

/// A gable of 6 over 4, no shoulder, flush floor 1 thick with both edges at atan(3/4); a strip does not fit, a
/// flaring one holds it.
#[test]
fn a_gable_and_a_flaring_one_close() {
    let sizes = json!({"base_width": 6, "top_width": 0, "height": 4, "shoulder_height": 0, "handle": "none",
        "floor_thickness": 1, "end_thickness": 1, "length": 10});
    let answer = piece_value(&json!({"unit": "in", "pattern": "trug", "sizes": sizes}));
    assert_eq!(answer["problems"], json!([]));
    near(&json!(volumes(&answer, "end")), 24.0);
    let floor = part(&answer, "floor");
    near(&floor["rips"]["near_deg"], -0.75_f64.atan().to_degrees());
    // 6 wide below, 4 1/2 above, 8 long.
    near(&json!(volumes(&answer, "floor")), 8.0 * 5.25);
    let side = part(&answer, "side");
    assert_eq!(side["qty"], json!(2));

    let sizes = json!({"base_width": 6, "top_width": 12, "height": 6, "shoulder_height": 2, "handle": "strip",
        "handle_size": 2, "floor_thickness": 1, "end_thickness": 1, "length": 10, "divider_height": 4});
    let answer = piece_value(&json!({"unit": "in", "pattern": "trug", "sizes": sizes}));
    assert_eq!(answer["problems"], json!([]));
    // 6 × 2 and 9 × 4 of either end; the divider 6 × 1 and 7 1/2 × 2; the strip 2 × 3/4 × 8.
    near(&json!(volumes(&answer, "end")), 2.0 * (12.0 + 36.0));
    near(&json!(volumes(&answer, "divider")), 6.0 + 15.0);
    near(&json!(volumes(&answer, "handle")), 12.0);
    near(&answer["extent"]["width"], 12.0 + 2.0 * 0.5 * 1.25);
}

/// The inside length may be given: 400 and two ends of 19.
#[test]
fn the_inside_length_is_given_in_place_of_the_length() {
    let sizes = json!({"floor_length": 400});
    let answer = piece_value(&json!({"unit": "mm", "pattern": "trug", "sizes": sizes}));
    assert_eq!(answer["problems"], json!([]));
    near(&answer["sizes"]["length"], 438.0);
}

/// Ends are planned as square blanks: 12 in and a kerf of 1/8, seven from 96 in, as they do not nest into
/// each other's shoulders.
#[test]
fn shouldered_ends_do_not_nest_into_each_other() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "trug",
        "sizes": {"base_width": 12, "top_width": 5, "height": 9.25, "shoulder_height": 3},
        "boards": {"end": {"kerf": 0.125, "boards": [{"id": "8ft", "length": 96, "price": 1450}]}},
        "price": {"batch": 4},
    }));
    let placed: Vec<f64> = answer["boards"][0]["boards"]
        .as_array()
        .unwrap_or_else(|| panic!("{}", answer["boards"]))
        .iter()
        .flat_map(|b| b["parts"].as_array().unwrap())
        .map(|p| p["x"].as_f64().unwrap())
        .collect();
    assert_eq!(placed.len(), 8);
    for x in placed {
        assert!((x / 12.125).fract().min(1.0 - (x / 12.125).fract()) < 1e-6, "{x}");
    }
}

/// Half the outline's width at a height.
fn half(s: &[f64; 4], z: f64) -> f64 {
    let [base, top, height, shoulder] = *s;
    if z <= shoulder {
        base / 2.0
    } else {
        (base + (top - base) * (z - shoulder) / (height - shoulder)) / 2.0
    }
}

/// The outline's area between two heights, by trapezoids.
fn area(s: &[f64; 4], low: f64, high: f64) -> f64 {
    let at = s[3].clamp(low, high);
    (half(s, low) + half(s, at)) * (at - low) + (half(s, at) + half(s, high)) * (high - at)
}

/// Any trug: extent; the ends hold their outline's area less the hole's; the floor fills the outline between its
/// heights, by a straight edge; the divider fills it above; the sides are slope and shoulder times thickness;
/// inside, nothing but floor, divider and handle.
#[test]
fn three_hundred_trugs_fill_their_outline() {
    let mut dice = Dice(78);
    let mut made = 0;
    for k in 0..300 {
        let mut from = |a: f64, b: f64| a + (b - a) * dice.share();
        let (base, height) = (from(5.0, 16.0), from(5.0, 16.0));
        let top = if k % 5 == 0 { 0.0 } else { from(2.0, 18.0) };
        let shoulder = if k % 3 == 0 { 0.0 } else { from(0.2, 0.6) * height };
        let (end, side, floor) = (from(0.5, 1.0), from(0.25, 1.0), from(0.3, 1.2));
        let (long, size) = (from(10.0, 30.0), from(0.5, 1.5));
        let handle = ["none", "dowel", "strip"][k % 3];
        let divider = if k % 2 == 0 { 0.0 } else { from(0.3, 0.7) * height };
        let answer = piece_value(&json!({
            "unit": "in", "pattern": "trug",
            "sizes": {"base_width": base, "top_width": top, "height": height, "shoulder_height": shoulder,
                "end_thickness": end, "length": long, "side_thickness": side, "floor_thickness": floor,
                "handle": handle, "handle_size": size, "divider_height": divider},
        }));
        if answer["parts"].is_null() {
            continue;
        }
        made += 1;
        let s = [base, top, height, shoulder];
        let (run, rise) = ((base - top) / 2.0, height - shoulder);
        let slope = run.hypot(rise);
        let largest = long.max(base.max(top) + 2.0 * side * slope / rise).max(height);
        let alike = |is: f64, expected: f64, what: &str| {
            assert!((is - expected).abs() < 1e-9 * largest.powi(3), "{what}: {is} {expected}");
        };
        let over = |key: &str, expected: f64| {
            let is = answer["extent"][key].as_f64().unwrap();
            assert!((is - expected).abs() < 1e-9 * largest, "{key}: {is} {expected}");
        };
        over("width", base.max(top) + 2.0 * side * slope / rise);
        over("depth", long);
        over("height", height);
        // The hole as it is drawn: 36 corners on its circle.
        let prism = 18.0 * (size / 2.0).powi(2) * 10.0_f64.to_radians().sin();
        let hole = if handle == "dowel" { prism } else { 0.0 };
        alike(volumes(&answer, "end"), 2.0 * end * (area(&s, 0.0, height) - hole), "ends");
        let inside = long - 2.0 * end;
        alike(
            volumes(&answer, "floor"),
            inside * floor * (half(&s, 0.0) + half(&s, floor)),
            "floor",
        );
        let sides = ["side", "upper_side", "lower_side"].map(|n| volumes(&answer, n));
        alike(sides.iter().sum(), 2.0 * long * side * (slope + shoulder), "sides");
        if divider > 0.0 {
            alike(volumes(&answer, "divider"), end * area(&s, floor, divider), "divider");
        }
        let handle = match handle {
            "dowel" => prism * long,
            "strip" => 0.75 * size * inside,
            _ => 0.0,
        };
        alike(volumes(&answer, "handle"), handle, "handle");
    }
    assert!(made > 150, "{made}");
}

fn with(start: &Value, changes: &[(&str, Value)]) -> Value {
    let mut sizes: Map<String, Value> = start.as_object().unwrap().clone();
    sizes.extend(changes.iter().map(|(k, v)| ((*k).to_owned(), v.clone())));
    Value::Object(sizes)
}

#[test]
fn what_cannot_be_is_refused_at_its_size_with_the_limit() {
    let start = json!({"base_width": 12, "top_width": 6, "height": 7, "shoulder_height": 3, "end_thickness": 0.75,
        "length": 20, "floor_thickness": 0.75, "handle": "none"});
    let refused = |changes: &[(&str, Value)], key: &str, limit: Option<f64>| {
        refusal("trug", &with(&start, changes), key, limit);
    };
    refused(&[("shoulder_height", json!(7))], "shoulder_height", Some(7.0));
    refused(&[("length", json!(1.5))], "length", Some(1.5));
    refused(&[("floor_thickness", json!(7.5))], "floor_thickness", Some(7.0));
    refused(&[("divider_height", json!(8))], "divider_height", Some(7.0));
    refused(&[("divider_height", json!(0.5))], "divider_height", Some(0.75));
    let flaring = [("top_width", json!(15)), ("floor_thickness", json!(3.5))];
    refused(&flaring, "floor_thickness", Some(3.0));
    // A dowel takes twice its diameter of the height, 6 1/4 above the floor; a strip its own.
    let dowel = ("handle", json!("dowel"));
    refused(&[dowel.clone(), ("handle_size", json!(3.2))], "handle_size", Some(3.125));
    let strip = ("handle", json!("strip"));
    refused(&[strip.clone(), ("handle_size", json!(6.5))], "handle_size", Some(6.25));
    let divided = [dowel.clone(), ("handle_size", json!(1)), ("divider_height", json!(5.5))];
    refused(&divided, "divider_height", Some(5.0));
    // Upright sides 2 apart hold a dowel of less than 2.
    let narrow = [("base_width", json!(2)), ("top_width", json!(2)), dowel.clone()];
    let narrow = [narrow.as_slice(), &[("handle_size", json!(2.5))]].concat();
    refused(&narrow, "handle_size", Some(2.0));
    // Slopes 3-4-5 down from a top of 1: d / 2 = 4/5 × 1/2 + 3/5 × 1 1/2 d never; with slopes of 1 in 10 from a top
    // of 1, d / 2 = (10 × 1/2 + 1 1/2 d) / √101, so d = 5 / (√101 / 2 - 1 1/2).
    let steep = [("base_width", json!(2.0)), ("top_width", json!(1)), ("height", json!(8))];
    let more = [("shoulder_height", json!(3)), dowel.clone(), ("handle_size", json!(1.8))];
    refused(&[steep, more].concat(), "handle_size", Some(5.0 / (101.0_f64.sqrt() / 2.0 - 1.5)));
    // Below a steep gable's peak there is no room at all.
    let gable = [("base_width", json!(2)), ("top_width", json!(0)), dowel];
    refused(&gable, "handle", None);
    let strip_at = [strip, ("handle_size", json!(1))];
    let gable = [("top_width", json!(0.5))];
    refused(&[strip_at.as_slice(), &gable].concat(), "top_width", Some(0.75));
    // Flaring from the base to 2 over 8: at 7 up, the strip's lower edge, 7/8 of the way, base/8 + 7/8 × 0.6 = 3/4.
    let flaring = [
        ("base_width", json!(0.5)),
        ("top_width", json!(0.6)),
        ("height", json!(8)),
        ("shoulder_height", json!(0)),
    ];
    refused(&[strip_at.as_slice(), &flaring].concat(), "base_width", Some((0.75 - 0.525) * 8.0));
}
