//! A brace in a rectangle against its polygon.

use super::polygon::{ALL, Landing, brace, geo, measure, rectangle};
use super::request::{ask, close, number, only, way};
use ::geo::{Area, BooleanOps};
use serde_json::{Value, json};

/// Openings and strips made up here: upright, level, square, thin, and strips close to their limits.
pub const OPENINGS: &[(f64, f64, f64)] = &[
    (30.0, 44.0, 2.5),
    (44.0, 30.0, 2.5),
    (36.0, 36.0, 3.5),
    (24.0, 72.0, 1.5),
    (90.0, 14.0, 5.5),
    (12.0, 9.0, 0.75),
    (10.0, 10.0, 6.9),
    (300.0, 7.0, 1.5),
    (30.0, 44.0, 1e-6),
    (20.0, 15.0, 11.9),
    (1000.0, 1200.0, 45.0),
];

fn inputs(w: f64, h: f64, s: f64, landing: Landing) -> Value {
    json!({"opening_width": w, "opening_height": h, "strip_width": s, "ends": landing.key(),
        "side": landing.side()})
}

#[test]
fn every_landing_agrees_with_its_polygon() {
    let mut compared = 0;
    for (w, h, s) in OPENINGS {
        for landing in ALL {
            let d = w.hypot(*h);
            if matches!(landing, Landing::EdgeBelow | Landing::EdgeAbove) && *s >= w * h / d {
                continue;
            }
            let a = only(&inputs(*w, *h, *s, landing));
            agrees(&a, *w, *h, *s, landing);
            compared += 1;
        }
    }
    assert!(compared > 45, "{compared}");
}

/// All answers of a landing, against the polygon.
pub fn agrees(a: &Value, w: f64, h: f64, s: f64, landing: Landing) {
    let opening = rectangle(w, h);
    let b = brace(&opening, landing, s);
    let m = measure(&b, &opening);
    let slack = 1e-9 * w.hypot(h);
    let what = |key: &str| format!("{w} x {h}, {s}, {landing:?}: {key}");
    // A polygon's corners are good to the last bits of its size; over a thin strip that turns a cut.
    let turned = (1e-15 * w.hypot(h) / s).to_degrees().max(1e-8);
    let angle = |key: &str, should: f64| close(number(a, key), should, turned, &what(key));
    let length = |key: &str, should: f64| close(number(a, key), should, slack, &what(key));
    angle("slope_to_rail_deg", m.slope);
    match landing {
        Landing::Corner => {
            for lower in [true, false] {
                let (rail, stile) = (m.cut(lower, true), m.cut(lower, false));
                angle("reading_rail_cut_deg", rail.reading);
                angle("reading_stile_cut_deg", stile.reading);
                length("facet_on_rail", rail.length);
                length("facet_on_stile", stile.length);
                length("point_ahead_of_rail_facet_end", rail.ahead);
                length("point_ahead_of_stile_facet_end", stile.ahead);
            }
            length("edge_length", m.left);
            length("edge_length", m.right);
            length("point_to_point", m.long);
            length("point_to_point", m.tips);
        }
        Landing::Rails | Landing::Stiles => {
            let on_rail = landing == Landing::Rails;
            for lower in [true, false] {
                angle("reading_deg", m.cut(lower, on_rail).reading);
                length("end_cut_length", m.cut(lower, on_rail).length);
            }
            length("edge_length", m.left);
            length("edge_length", m.right);
            length("long_point_length", m.long);
            length("short_point_length", m.short);
            length("tip_to_tip_straight", w.hypot(h));
        }
        Landing::EdgeBelow | Landing::EdgeAbove => {
            let below = landing == Landing::EdgeBelow;
            let (rail, stile) = (m.cut(below, true), m.cut(!below, false));
            angle("reading_rail_cut_deg", rail.reading);
            angle("reading_stile_cut_deg", stile.reading);
            length("facet_on_rail", rail.length);
            length("facet_on_stile", stile.length);
            length("long_edge_length", m.left.max(m.right));
            length("short_edge_length", m.left.min(m.right));
            length("long_point_length", m.long);
            length("short_point_length", m.short);
        }
    }
}

#[test]
fn a_general_geometry_library_clips_the_same_band() {
    // Crate geo's overlay works on a grid of about 2⁻³⁰ of the size, so to 1e-7 of it.
    for (w, h, s) in [(30.0, 44.0, 2.5), (44.0, 30.0, 5.5), (36.0, 20.0, 3.5)] {
        for landing in ALL {
            let opening = rectangle(w, h);
            let b = brace(&opening, landing, s);
            let (u, n) = (b.along, (-b.along.1, b.along.0));
            let far = 3.0 * (w + h);
            let corner =
                |x: f64, y: f64| (b.right.0 + u.0 * x + n.0 * y, b.right.1 + u.1 * x + n.1 * y);
            let band = [corner(-far, 0.0), corner(far, 0.0), corner(far, s), corner(-far, s)];
            let by_geo = geo(&opening).intersection(&geo(&band)).unsigned_area();
            let a = only(&inputs(w, h, s, landing));
            // By the answers: edges and cuts make up the face.
            let face = match landing {
                Landing::Corner => {
                    s * (number(&a, "edge_length") + number(&a, "point_to_point")) / 2.0
                }
                Landing::Rails | Landing::Stiles => s * number(&a, "edge_length"),
                _ => s * (number(&a, "long_edge_length") + number(&a, "short_edge_length")) / 2.0,
            };
            close(face, by_geo, 1e-6 * by_geo, &format!("{w} {h} {landing:?}"));
        }
    }
}

#[test]
fn the_worked_figures_of_the_scenario() {
    // The garden gate of the demo scenario: opening 30 by 44, strip 2 1/2. By hand: t = atan(44/30) =
    // 55.713°, so 34.3 and 55.7 in the corner; asin(2.5/53.2541) = 2.691°, so 31.6 on the rails and
    // 53.0 on the stiles.
    let reply = ask(&json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5}));
    let a = |key: &str| way(&reply, key).expect(key);
    close(number(&a("corner"), "reading_rail_cut_deg"), 34.3, 0.05, "rail");
    close(number(&a("corner"), "reading_stile_cut_deg"), 55.7, 0.05, "stile");
    close(number(&a("rails"), "reading_deg"), 31.6, 0.05, "rails");
    close(number(&a("stiles"), "reading_deg"), 53.0, 0.05, "stiles");
    let ways: Vec<&str> = reply["solutions"]
        .as_array()
        .expect("solutions")
        .iter()
        .filter_map(|s| s["way"].as_str())
        .collect();
    assert_eq!(ways, ["corner", "rails", "stiles", "edge"]);
}

#[test]
fn from_outside_is_the_opening_less_the_frame() {
    // 35 − 2 · 2 1/2 = 30 and 49 − 2 · 2 1/2 = 44.
    let outside = only(&json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5,
        "rail_width": 2.5, "strip_width": 2.5, "ends": "rails"}));
    close(number(&outside, "opening_width"), 30.0, 0.0, "width");
    close(number(&outside, "opening_height"), 44.0, 0.0, "height");
    agrees(&outside, 30.0, 44.0, 2.5, Landing::Rails);
    // One size from outside, the other from the opening.
    let mixed = only(&json!({"outside_width": 35, "opening_height": 44, "stile_width": 2.5,
        "strip_width": 2.5, "ends": "stiles"}));
    agrees(&mixed, 30.0, 44.0, 2.5, Landing::Stiles);
}
