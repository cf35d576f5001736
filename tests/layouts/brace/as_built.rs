//! Openings out of square against polygons in the same four corners.

use super::polygon::{
    ALL, Brace, Landing, Measured, P, Quad, brace, cross, distance, dot, measure, minus,
};
use super::request::{Scatter, ask, close, number, only, way};
use serde_json::{Value, json};

fn inputs(q: &Quad, s: f64, landing: Landing, diagonal: &str) -> Value {
    let mut i = json!({"bottom": distance(q[0], q[1]), "right": distance(q[1], q[2]),
        "top": distance(q[2], q[3]), "left": distance(q[3], q[0]), "strip_width": s,
        "ends": landing.key(), "side": landing.side()});
    i[diagonal] =
        json!(if diagonal == "diagonal_up" { distance(q[0], q[2]) } else { distance(q[1], q[3]) });
    i
}

/// Scattered convex openings with corner 1 at the origin and corner 2 on +x.
fn openings(count: usize) -> Vec<Quad> {
    let mut scatter = Scatter(7);
    let mut out = Vec::new();
    while out.len() < count {
        let (w, h) = (scatter.between(12.0, 60.0), scatter.between(12.0, 60.0));
        let off = 0.25 * w.min(h);
        let mut near = |x: f64, y: f64| -> P {
            (x + scatter.between(-off, off), y + scatter.between(-off, off))
        };
        let q = [(0.0, 0.0), (w, 0.0), near(w, h), near(0.0, h)];
        let convex = (0..4).all(|i| {
            cross(minus(q[(i + 1) % 4], q[i]), minus(q[(i + 2) % 4], q[(i + 1) % 4])) > 1.0
        });
        if convex {
            out.push(q);
        }
    }
    out
}

/// Whether the polygon is the brace that was meant: it stands on the sides on which it should.
fn lands(m: &Measured, landing: Landing) -> bool {
    let has = |lower: bool, rail: bool| {
        m.cuts.iter().filter(|c| c.lower == lower && c.on_rail == rail).count()
    };
    let pattern = [has(true, true), has(true, false), has(false, true), has(false, false)];
    let want = match landing {
        Landing::Corner => [1, 1, 1, 1],
        Landing::Rails => [1, 0, 1, 0],
        Landing::Stiles => [0, 1, 0, 1],
        Landing::EdgeBelow => [1, 0, 0, 1],
        Landing::EdgeAbove => [0, 1, 1, 0],
    };
    pattern == want && m.left > 0.0 && m.right > 0.0
}

fn agrees(a: &Value, q: &Quad, b: &Brace, landing: Landing) {
    let m = measure(b, q);
    let slack = 1e-9 * 2.0 * distance(q[0], q[2]).max(distance(q[1], q[3]));
    let what = |key: &str| format!("{q:?} {landing:?} {}: {key}", b.width);
    // Angles of the polygon are good to about 1e-12 of the size over the cut's length.
    let angle = |key: &str, should: f64| close(number(a, key), should, 1e-8, &what(key));
    let length = |key: &str, should: f64| close(number(a, key), should, slack, &what(key));
    angle("slope_to_rail_deg", m.slope);
    length("left_edge_length", m.left);
    length("right_edge_length", m.right);
    length("long_point_length", m.long);
    length("short_point_length", m.short);
    length("tip_to_tip_straight", m.tips);
    for (end, lower) in [("lower", true), ("upper", false)] {
        for (member, on_rail) in [("rail", true), ("stile", false)] {
            let cut = m.cuts.iter().find(|c| c.lower == lower && c.on_rail == on_rail);
            let Some(cut) = cut else { continue };
            match landing {
                Landing::Rails | Landing::Stiles => {
                    angle(&format!("reading_{end}_deg"), cut.reading);
                    length(&format!("{end}_end_cut_length"), cut.length);
                }
                _ => {
                    angle(&format!("reading_{end}_{member}_cut_deg"), cut.reading);
                    length(&format!("{end}_facet_on_{member}"), cut.length);
                }
            }
            if landing == Landing::Corner {
                length(&format!("{end}_point_ahead_of_{member}_facet_end"), cut.ahead);
            }
        }
    }
    for (i, c) in q.iter().enumerate() {
        let (next, before) = (minus(q[(i + 1) % 4], *c), minus(q[(i + 3) % 4], *c));
        let corner = cross(next, before).atan2(dot(next, before)).to_degrees();
        angle(&format!("corner_deg.{i}"), corner);
    }
    length("diagonal_up", distance(q[0], q[2]));
    length("diagonal_down", distance(q[1], q[3]));
}

#[test]
fn every_landing_agrees_with_its_polygon_from_either_diagonal() {
    let mut compared = 0;
    for q in openings(60) {
        for landing in ALL {
            for s in [0.5, 1.5, 2.5, 4.0] {
                let b = brace(&q, landing, s);
                if b.outline.len() < 4 || !lands(&measure(&b, &q), landing) {
                    continue;
                }
                for diagonal in ["diagonal_up", "diagonal_down"] {
                    agrees(&only(&inputs(&q, s, landing, diagonal)), &q, &b, landing);
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 1500, "{compared}");
}

#[test]
fn what_the_polygon_cannot_do_is_told() {
    // A wide strip in scattered openings: where the polygon does not stand on the sides on which it should, so
    // it is said, with the width from which on; half that limit works.
    let mut told = 0;
    for q in openings(40) {
        for landing in ALL {
            for s in [14.0, 20.0] {
                let b = brace(&q, landing, s);
                let possible = b.outline.len() >= 4 && lands(&measure(&b, &q), landing);
                let reply = ask(&inputs(&q, s, landing, "diagonal_up"));
                let is = way(&reply, landing.key()).is_some();
                assert_eq!(is, possible, "{q:?} {landing:?} {reply}");
                if !possible {
                    let p = &reply["problems"][0];
                    assert_eq!(
                        (&p["path"], &p["way"]),
                        (&json!("/inputs/strip_width"), &json!(landing.key()))
                    );
                    let limit = p["limit"].as_f64().expect("a limit");
                    for (share, works) in [(0.5, true), (0.999_999, true), (1.000_001, false)] {
                        let reply = ask(&inputs(&q, limit * share, landing, "diagonal_up"));
                        assert_eq!(
                            way(&reply, landing.key()).is_some(),
                            works,
                            "{q:?} {landing:?} {limit}"
                        );
                    }
                    told += 1;
                }
            }
        }
    }
    assert!(told > 40, "{told}");
}

#[test]
fn the_check_of_geometry_2() {
    // GEOMETRY 2: 30, 44.25, 30.125, 44, diagonal_up 53.5, strip 2.5, on the rails:
    // 31.519491 / 31.994938, diagonal_down 53.284616.
    let sides = json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "strip_width": 2.5,
        "ends": "rails"});
    let mut up = sides.clone();
    up["diagonal_up"] = json!(53.5);
    let a = only(&up);
    close(number(&a, "reading_lower_deg"), 31.519491, 5e-7, "lower");
    close(number(&a, "reading_upper_deg"), 31.994938, 5e-7, "upper");
    close(number(&a, "diagonal_down"), 53.284616, 5e-7, "down");
    // From the other diagonal the same.
    let mut down = sides.clone();
    down["diagonal_down"] = a["diagonal_down"].clone();
    let b = only(&down);
    close(number(&b, "diagonal_up"), 53.5, 1e-12, "up");
    close(number(&b, "reading_lower_deg"), number(&a, "reading_lower_deg"), 1e-11, "lower");
    // Both that agree are no problem.
    let mut both = up.clone();
    both["diagonal_down"] = a["diagonal_down"].clone();
    assert_eq!(only(&both), a);
}

#[test]
fn diagonals_that_contradict_are_told_with_what_would_agree() {
    let sides = json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "strip_width": 2.5,
        "ends": "rails", "diagonal_up": 53.5, "diagonal_down": 53});
    let reply = ask(&sides);
    let p = &reply["problems"][0];
    assert_eq!(p["level"], "warn");
    assert_eq!(p["path"], "/inputs/diagonal_down");
    close(number(p, "by"), 0.284616, 5e-7, "by (GEOMETRY's 53.284616 less 53)");
    let agree = p["agree"].as_object().expect("agree");
    for key in ["bottom", "right", "top", "left", "diagonal_up", "diagonal_down"] {
        assert!(agree.contains_key(key), "{key}: {p}");
    }
    // Each put back agrees with the rest.
    for (key, value) in agree {
        let mut again = sides.clone();
        again[key.as_str()] = value.clone();
        assert_eq!(ask(&again)["problems"], json!([]), "{key} {value}");
    }
}

#[test]
fn a_square_opening_is_a_single_brace() {
    let d = 30.0_f64.hypot(44.0);
    for landing in ALL {
        let built =
            only(&json!({"bottom": 30, "right": 44, "top": 30, "left": 44, "diagonal_up": d,
            "strip_width": 2.5, "ends": landing.key(), "side": landing.side()}));
        let single = only(&json!({"opening_width": 30, "opening_height": 44, "strip_width": 2.5,
            "ends": landing.key(), "side": landing.side()}));
        let same = |of: &str, and: &str| {
            close(number(&built, of), number(&single, and), 1e-10, &format!("{landing:?} {of}"));
        };
        same("slope_to_rail_deg", "slope_to_rail_deg");
        match landing {
            Landing::Corner => {
                for end in ["lower", "upper"] {
                    for member in ["rail", "stile"] {
                        same(
                            &format!("reading_{end}_{member}_cut_deg"),
                            &format!("reading_{member}_cut_deg"),
                        );
                        same(&format!("{end}_facet_on_{member}"), &format!("facet_on_{member}"));
                        same(
                            &format!("{end}_point_ahead_of_{member}_facet_end"),
                            &format!("point_ahead_of_{member}_facet_end"),
                        );
                    }
                }
                same("left_edge_length", "edge_length");
                same("right_edge_length", "edge_length");
                same("point_to_point", "point_to_point");
            }
            Landing::Rails | Landing::Stiles => {
                for end in ["lower", "upper"] {
                    same(&format!("reading_{end}_deg"), "reading_deg");
                    same(&format!("{end}_end_cut_length"), "end_cut_length");
                }
                same("left_edge_length", "edge_length");
                same("right_edge_length", "edge_length");
                for key in ["long_point_length", "short_point_length", "tip_to_tip_straight"] {
                    same(key, key);
                }
            }
            Landing::EdgeBelow => {
                same("reading_lower_rail_cut_deg", "reading_rail_cut_deg");
                same("reading_upper_stile_cut_deg", "reading_stile_cut_deg");
                same("left_edge_length", "long_edge_length");
                same("right_edge_length", "short_edge_length");
            }
            Landing::EdgeAbove => {
                same("reading_lower_stile_cut_deg", "reading_stile_cut_deg");
                same("reading_upper_rail_cut_deg", "reading_rail_cut_deg");
                same("right_edge_length", "long_edge_length");
                same("left_edge_length", "short_edge_length");
            }
        }
        for i in 0..4 {
            close(number(&built, &format!("corner_deg.{i}")), 90.0, 1e-11, "square");
        }
        close(number(&built, "out_of_square_deg"), 0.0, 1e-11, "square");
        close(number(&built, "diagonal_difference"), 0.0, 1e-12, "square");
    }
}

#[test]
fn openings_that_cannot_exist() {
    let with = |up: f64| {
        ask(&json!({"bottom": 30, "right": 44.25, "top": 30.125, "left": 44, "diagonal_up": up,
            "strip_width": 2.5}))
    };
    // The diagonal closes triangles 30, 44.25 and 44, 30.125: between 14.25 and 74.125.
    for (up, limit, word) in
        [(80.0, 74.125, "shorter"), (74.125, 74.125, "shorter"), (14.0, 14.25, "longer")]
    {
        let reply = with(up);
        assert_eq!(reply["solutions"], json!([]));
        let p = &reply["problems"][0];
        assert_eq!(p["path"], "/inputs/diagonal_up");
        close(number(p, "limit"), limit, 1e-12, "limit");
        assert!(p["text"].as_str().is_some_and(|t| t.contains(word)), "{p}");
    }
    // A kite folded inwards: corner 3 lies inside triangle 1-2-4. It is straight where that triangle, of
    // sides 30, 30 and 32, is as high as the diagonal; with the corners the other way round as well.
    let kite = f64::sqrt(900.0 - 256.0);
    for (right, left, key) in [(16, 30, "diagonal_up"), (30, 16, "diagonal_down")] {
        let with = |d: f64| {
            ask(
                &json!({"bottom": 30, "right": right, "top": 16, "left": left, key: d, "strip_width": 0.01}),
            )
        };
        let inward = with(16.0);
        assert_eq!(inward["solutions"], json!([]), "{inward}");
        let p = &inward["problems"][0];
        assert_eq!(p["path"], format!("/inputs/{key}"));
        assert!(p["text"].as_str().is_some_and(|t| t.contains("point inward")), "{p}");
        close(number(p, "limit"), kite, 1e-12, key);
        assert_eq!(with(kite * (1.0 - 1e-9))["solutions"], json!([]));
        assert_ne!(with(kite * (1.0 + 1e-9))["solutions"], json!([]));
    }
    // One side longer than the three others together.
    let open = ask(&json!({"bottom": 100, "right": 20, "top": 25, "left": 20, "diagonal_up": 90,
        "strip_width": 1}));
    assert_eq!(open["solutions"], json!([]));
    let p = &open["problems"][0];
    assert_eq!(p["path"], "/inputs/bottom");
    assert_eq!(p["limit"], 65.0);
    assert!(p["text"].as_str().is_some_and(|t| t.contains("do not close")), "{open}");
}
