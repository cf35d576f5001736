//! What must hold for any brace: mirror images, scale, units, the defining equations.

use super::polygon::{ALL, Landing};
use super::request::{Scatter, ask, ask_in, close, number, only, way};
use serde_json::{Value, json};

/// Scattered openings with a strip that lands every way.
fn scattered() -> Vec<(f64, f64, f64)> {
    let mut scatter = Scatter(3);
    (0..60)
        .map(|_| {
            let (w, h) = (scatter.between(5.0, 90.0), scatter.between(5.0, 90.0));
            let share = scatter.between(0.01, 0.95);
            (w, h, share * w * h / w.hypot(h))
        })
        .collect()
}

fn answers(w: f64, h: f64, s: f64, landing: Landing) -> Value {
    only(&json!({"opening_width": w, "opening_height": h, "strip_width": s, "ends": landing.key(),
        "side": landing.side()}))
}

#[test]
fn the_defining_equations_hold() {
    for (w, h, s) in scattered() {
        let d = w.hypot(h);
        // GEOMETRY 2, b and c: W sin f = H cos f + s on the rails; with the slope f, H cos f = W sin f + s
        // on the stiles.
        let f = number(&answers(w, h, s, Landing::Rails), "slope_to_rail_deg").to_radians();
        close(w * f.sin() - h * f.cos(), s, 1e-12 * d, "rails");
        let f = number(&answers(w, h, s, Landing::Stiles), "slope_to_rail_deg").to_radians();
        close(h * f.cos() - w * f.sin(), s, 1e-12 * d, "stiles");
        // a: the readings of a corner add up to 90.
        let a = answers(w, h, s, Landing::Corner);
        let sum = number(&a, "reading_rail_cut_deg") + number(&a, "reading_stile_cut_deg");
        close(sum, 90.0, 1e-12, "corner");
        // Facets are the legs of a right triangle whose height is half the strip's width, cut by its point.
        let (rail, stile) = (number(&a, "facet_on_rail"), number(&a, "facet_on_stile"));
        close(rail.hypot(stile) * s / 2.0, rail * stile, 1e-11 * d * d, "point");
        close(number(&a, "point_ahead_of_rail_facet_end").hypot(s / 2.0), rail, 1e-12 * d, "facet");
    }
}

#[test]
fn width_and_height_exchanged_exchange_rails_and_stiles() {
    for (w, h, s) in scattered() {
        let (rails, stiles) = (answers(w, h, s, Landing::Rails), answers(h, w, s, Landing::Stiles));
        for key in [
            "reading_deg",
            "edge_length",
            "long_point_length",
            "short_point_length",
            "end_cut_length",
        ] {
            close(number(&rails, key), number(&stiles, key), 1e-12 * (w + h), key);
        }
        for landing in [Landing::Corner, Landing::EdgeBelow] {
            let (one, other) = (answers(w, h, s, landing), answers(h, w, s, landing));
            for (key, mirrored) in [
                ("reading_rail_cut_deg", "reading_stile_cut_deg"),
                ("facet_on_rail", "facet_on_stile"),
            ] {
                close(number(&one, key), number(&other, mirrored), 1e-11 * (w + h), key);
            }
        }
    }
}

/// Every number of the answers with its path.
fn numbers(v: &Value, path: &str, out: &mut Vec<(String, f64)>) {
    match v {
        Value::Number(n) => out.push((path.to_owned(), n.as_f64().expect("a number"))),
        Value::Array(all) => {
            for (i, v) in all.iter().enumerate() {
                numbers(v, &format!("{path}.{i}"), out);
            }
        }
        Value::Object(o) => {
            for (k, v) in o {
                numbers(v, &format!("{path}.{k}"), out);
            }
        }
        _ => {}
    }
}

/// Every form once.
fn one_of_each(k: f64) -> Vec<Value> {
    vec![
        json!({"opening_width": 30.0 * k, "opening_height": 44.0 * k, "strip_width": 2.5 * k}),
        json!({"opening_width": 30.0 * k, "opening_height": 44.0 * k, "strip_width_1": 2.5 * k,
            "strip_width_2": 3.0 * k, "thickness_1": 1.5 * k}),
        json!({"opening_width": 30.0 * k, "opening_height": 44.0 * k, "strip_width_1": 2.5 * k,
            "strip_width_2": 3.0 * k, "joint": "second_in_halves"}),
        json!({"opening_width": 60.0 * k, "opening_height": 44.0 * k, "strip_width": 2.5 * k, "apex": "left"}),
        json!({"opening_width": 60.0 * k, "opening_height": 44.0 * k, "strip_width": 2.5 * k, "apex": "top"}),
        json!({"bottom": 30.0 * k, "right": 44.25 * k, "top": 30.125 * k, "left": 44.0 * k,
            "diagonal_up": 53.5 * k, "strip_width": 2.5 * k}),
        json!({"bottom": 30.0 * k, "right": 44.25 * k, "top": 30.125 * k, "left": 44.0 * k,
            "diagonal_down": 53.25 * k, "strip_width": 2.5 * k}),
        json!({"outside_width": 35.0 * k, "outside_height": 49.0 * k, "stile_width": 2.5 * k,
            "rail_width": 2.5 * k, "strip_width": 2.5 * k}),
    ]
}

#[test]
fn lengths_scale_and_angles_do_not() {
    let k = 3.75;
    for (small, large) in one_of_each(1.0).iter().zip(&one_of_each(k)) {
        same_shape(&ask(small), &ask(large), k);
        // Millimeters: the same piece, its lengths in the request's unit.
        same_shape(&ask(small), &ask_in("mm", small), 1.0);
    }
}

fn same_shape(one: &Value, other: &Value, k: f64) {
    let all = |v: &Value| {
        let mut out = Vec::new();
        for s in v["solutions"].as_array().expect("solutions") {
            numbers(&s["answers"], s["way"].as_str().expect("way"), &mut out);
        }
        out
    };
    let (one, other) = (all(one), all(other));
    assert!(one.len() > 20);
    assert_eq!(one.len(), other.len());
    for ((path, a), (path_2, b)) in one.iter().zip(&other) {
        assert_eq!(path, path_2);
        let angle = path.contains("_deg");
        let factor = if angle {
            1.0
        } else if path.ends_with("area") {
            k * k
        } else {
            k
        };
        let slack = if angle { 1e-10 } else { 1e-11 * 60.0 * factor * 60.0 };
        close(*b, a * factor, slack, path);
    }
}

#[test]
fn one_landing_is_the_same_alone_and_among_the_others() {
    for inputs in one_of_each(1.0) {
        let all = ask(&inputs);
        for landing in ALL.into_iter().filter(|l| l.side() == "below") {
            let mut one = inputs.clone();
            one["ends"] = json!(landing.key());
            assert_eq!(way(&all, landing.key()), way(&ask(&one), landing.key()));
        }
    }
}

#[test]
fn an_opening_just_wider_than_the_strip_is_as_exact_as_any() {
    // Flat on the rails, s = W − e: with q = √(D² − s²), tan(reading) = (W² − s²)/(W q + H s)
    // over (H q + W s) — from GEOMETRY's equation squared and solved for cos f by hand.
    for e in [1e-3, 1e-6, 1e-9] {
        let (w, h) = (30.0_f64, 44.0_f64);
        let s = w - e;
        let q = ((w - s) * (w + s) + h * h).sqrt();
        let run = (w - s) * (w + s) / (w * q + h * s);
        let rise = (h * q + w * s) / (w * w + h * h);
        let is = number(&answers(w, h, s, Landing::Rails), "reading_deg");
        let should = run.atan2(rise).to_degrees();
        close(is, should, 1e-13 + 1e-12 * should, "reading");
    }
}
