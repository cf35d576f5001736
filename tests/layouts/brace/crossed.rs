//! Crossed braces against the polygons of both strips.

use super::polygon::{
    ALL, Brace, Landing, P, area, brace, clip, cross, dot, geo, minus, rectangle, shared,
};
use super::request::{ask, close, number, only};
use super::single;
use ::geo::{Area, BooleanOps};
use serde_json::{Value, json};

const PAIRS: &[(f64, f64, f64, f64)] = &[
    (30.0, 44.0, 2.5, 2.5),
    (30.0, 44.0, 2.5, 3.5),
    (44.0, 30.0, 3.5, 1.5),
    (36.0, 36.0, 3.5, 3.5),
    (60.0, 24.0, 2.5, 1.0),
    (24.0, 60.0, 1.5, 2.25),
    (800.0, 1100.0, 45.0, 70.0),
];

/// The second brace: the mirror image of one that runs up to the right.
fn mirrored(w: f64, h: f64, landing: Landing, s: f64) -> Brace {
    let b = brace(&rectangle(w, h), landing, s);
    let flip = |p: P| (w - p.0, p.1);
    let along = (-b.along.0, b.along.1);
    // The right edge of the image is the left one of the original.
    let left = (b.right.0 - b.along.1 * s, b.right.1 + b.along.0 * s);
    Brace {
        along,
        width: s,
        outline: b.outline.iter().rev().map(|p| flip(*p)).collect(),
        right: flip(left),
    }
}

fn inputs(w: f64, h: f64, s1: f64, s2: f64, landing: Landing, joint: &str) -> Value {
    json!({"opening_width": w, "opening_height": h, "strip_width_1": s1, "strip_width_2": s2,
        "ends": landing.key(), "side": landing.side(), "joint": joint})
}

/// Everything that is told of one strip's lap.
fn lap_agrees(a: &Value, own: &Brace, lap: &[P], slack: f64, what: &str) {
    let u = own.along;
    let n = (-u.1, u.0);
    let x = |p: P| dot(p, u);
    let across = |p: P| dot(minus(p, own.right), n);
    let on_edge = |points: &[P], y: f64| -> Vec<f64> {
        let mut v: Vec<f64> =
            points.iter().filter(|p| (across(**p) - y).abs() < slack).map(|p| x(*p)).collect();
        v.sort_by(f64::total_cmp);
        v
    };
    let point = own.outline.iter().map(|p| x(*p)).fold(f64::INFINITY, f64::min);
    for (key, y) in [("left", own.width), ("right", 0.0)] {
        let own_edge = on_edge(&own.outline, y);
        let at = on_edge(lap, y);
        assert_eq!((own_edge.len(), at.len()), (2, 2), "{what} {key}");
        for i in 0..2 {
            close(number(a, &format!("{key}_from_point.{i}")), at[i] - point, slack, what);
            close(number(a, &format!("{key}_from_edge_end.{i}")), at[i] - own_edge[0], slack, what);
        }
        close(number(a, "lap_length"), at[1] - at[0], slack, what);
    }
    let all: Vec<f64> = lap.iter().map(|p| x(*p)).collect();
    let (least, most) =
        all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), x| (l.min(*x), m.max(*x)));
    close(number(a, "lap_extent"), most - least, slack, what);
    // A shoulder line: a side of the parallelogram that runs across the strip.
    let shoulder = (0..lap.len())
        .map(|i| minus(lap[(i + 1) % lap.len()], lap[i]))
        .find(|d| cross(u, *d).abs() > 1e-6 * own.width);
    let d = shoulder.expect("a shoulder");
    close(number(a, "shoulder_line_length"), d.0.hypot(d.1), slack, what);
    close(
        number(a, "shoulder_reading_deg"),
        dot(d, u).abs().atan2(cross(u, d).abs()).to_degrees(),
        1e-8,
        what,
    );
}

#[test]
fn half_laps_agree_with_the_shared_polygon() {
    for (w, h, s1, s2) in PAIRS {
        for landing in ALL {
            let what = format!("{w} x {h}, {s1} / {s2}, {landing:?}");
            let (one, two) =
                (brace(&rectangle(*w, *h), landing, *s1), mirrored(*w, *h, landing, *s2));
            let lap = shared(&one.outline, &two.outline);
            assert_eq!(lap.len(), 4, "{what}");
            let a = only(&inputs(*w, *h, *s1, *s2, landing, "half_lap"));
            let slack = 1e-9 * w.hypot(*h);
            close(number(&a, "lap_area"), area(&lap), slack * s1.max(*s2), &what);
            let by_geo = geo(&one.outline).intersection(&geo(&two.outline)).unsigned_area();
            close(number(&a, "lap_area"), by_geo, 1e-5 * by_geo, &what);
            lap_agrees(&a["brace_1"], &one, &lap, slack, &what);
            lap_agrees(&a["brace_2"], &two, &lap, slack, &what);
            // Sector above the crossing, between the first brace going up and the second going up.
            let facing = cross(one.along, two.along).atan2(dot(one.along, two.along)).to_degrees();
            close(number(&a, "angle_facing_rails_deg"), facing, 1e-8, &what);
            close(number(&a, "angle_facing_stiles_deg"), 180.0 - facing, 1e-8, &what);
            close(number(&a, "crossing_acute_deg"), facing.min(180.0 - facing), 1e-8, &what);
            // Each brace is a single brace besides.
            single::agrees(&a["brace_1"], *w, *h, *s1, landing);
            single::agrees(&a["brace_2"], *w, *h, *s2, landing);
        }
    }
}

#[test]
fn halves_agree_with_what_is_left_of_the_second_brace() {
    for (w, h, s1, s2) in PAIRS {
        for landing in ALL {
            let what = format!("{w} x {h}, {s1} / {s2}, {landing:?}");
            let (one, two) =
                (brace(&rectangle(*w, *h), landing, *s1), mirrored(*w, *h, landing, *s2));
            // Below the first brace: right of its right edge; above it: left of its left edge.
            let along = one.along;
            let left = (one.right.0 - along.1 * s1, one.right.1 + along.0 * s1);
            let lower = clip(&two.outline, one.right, (-along.0, -along.1));
            let upper = clip(&two.outline, left, along);
            let a = only(&inputs(*w, *h, *s1, *s2, landing, "second_in_halves"));
            let slack = 1e-9 * w.hypot(*h);
            half_agrees(&a["half"], &one, &two, &lower, slack, &what);
            // Alike, or both are told.
            let unlike = matches!(landing, Landing::EdgeBelow | Landing::EdgeAbove);
            assert_eq!(a.get("upper_half").is_some(), unlike, "{what}");
            let other = if unlike { &a["upper_half"] } else { &a["half"] };
            if unlike {
                half_agrees(other, &one, &two, &upper, slack, &what);
            } else {
                close(area(&upper), area(&lower), slack * s2, &what);
            }
            let by_geo = geo(&two.outline).difference(&geo(&one.outline)).unsigned_area();
            let both = number(&a["half"], "face_area") + number(other, "face_area");
            close(both, by_geo, 1e-5 * by_geo, &what);
            single::agrees(&a["brace_1"], *w, *h, *s1, landing);
        }
    }
}

fn half_agrees(a: &Value, one: &Brace, two: &Brace, half: &[P], slack: f64, what: &str) {
    close(number(a, "face_area"), area(half), slack * two.width, what);
    let u = two.along;
    let n = (-u.1, u.0);
    let across = |p: P| dot(minus(p, two.right), n);
    let edge = |y: f64| {
        let on: Vec<f64> =
            half.iter().filter(|p| (across(**p) - y).abs() < slack).map(|p| dot(*p, u)).collect();
        assert_eq!(on.len(), 2, "{what}");
        (on[0] - on[1]).abs()
    };
    close(number(a, "left_edge_length"), edge(two.width), slack, what);
    close(number(a, "right_edge_length"), edge(0.0), slack, what);
    let all: Vec<f64> = half.iter().map(|p| dot(*p, u)).collect();
    let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    close(number(a, "long_point_length"), most - least, slack, what);
    // The joint lies along the first brace.
    let lean = dot(one.along, u).abs().atan2(cross(one.along, u).abs());
    close(number(a, "joint_reading_deg"), lean.to_degrees(), 1e-8, what);
    close(number(a, "joint_cut_length"), two.width / lean.cos(), slack, what);
}

#[test]
fn depths_add_up_to_the_flush_thickness() {
    // By hand. Equal stock: half each. 1 1/2 and 3/4: the thinner gives 3/8, the first brace keeps 3/8
    // in front of the second's 3/8, flush in front: 3/8 + 3/8 = the second's 3/4.
    let with = |t1: f64, t2: Option<f64>| {
        let mut i = inputs(30.0, 44.0, 2.5, 2.5, Landing::Rails, "half_lap");
        i["thickness_1"] = json!(t1);
        if let Some(t2) = t2 {
            i["thickness_2"] = json!(t2);
        }
        let a = only(&i);
        [
            number(&a, "brace_1.lap_depth"),
            number(&a, "brace_1.thickness_left_in_lap"),
            number(&a, "brace_2.lap_depth"),
            number(&a, "brace_2.thickness_left_in_lap"),
        ]
    };
    assert_eq!(with(1.5, None), [0.75, 0.75, 0.75, 0.75]);
    assert_eq!(with(1.5, Some(0.75)), [1.125, 0.375, 0.375, 0.375]);
    assert_eq!(with(0.75, Some(1.5)), [0.375, 0.375, 0.375, 1.125]);
}

#[test]
fn unequal_widths_change_the_crossing_on_rails_and_stiles_only() {
    // GEOMETRY 2, traps.
    let crossing = |landing, s2: f64| {
        number(&only(&inputs(30.0, 44.0, 2.5, s2, landing, "half_lap")), "angle_facing_rails_deg")
    };
    assert_eq!(crossing(Landing::Corner, 2.5).to_bits(), crossing(Landing::Corner, 3.5).to_bits());
    assert!(crossing(Landing::Rails, 3.5) < crossing(Landing::Rails, 2.5) - 0.5);
    assert!(crossing(Landing::Stiles, 3.5) > crossing(Landing::Stiles, 2.5) + 0.5);
}

#[test]
fn a_lap_that_runs_into_an_end_cut_is_told() {
    // Flat on the rails in an opening 10 by 12, both strips 6 wide: the lap is 6 / sin X long in edges
    // of 12 / sin f each, and starts before the edge does.
    let reply = ask(&inputs(10.0, 12.0, 6.0, 6.0, Landing::Rails, "half_lap"));
    assert_eq!(reply["solutions"], json!([]), "{reply}");
    let p = &reply["problems"][0];
    assert_eq!(p["way"], "rails");
    assert_eq!(p["level"], "stop");
    assert!(p["text"].as_str().is_some_and(|t| t.contains("runs into an end cut")), "{p}");
    // Just inside the limit told, the polygons share a whole parallelogram; just outside not.
    let limit = p["limit"].as_f64().expect("a limit");
    assert_eq!(p["path"], "/inputs/strip_width_1");
    for (s1, corners, found) in [(limit * 0.999, 4, 1), (limit * 1.001, 5, 0)] {
        let lap = shared(
            &brace(&rectangle(10.0, 12.0), Landing::Rails, s1).outline,
            &mirrored(10.0, 12.0, Landing::Rails, 6.0).outline,
        );
        if corners == 4 {
            assert_eq!(lap.len(), 4);
        } else {
            assert!(lap.len() > 4, "{lap:?}");
        }
        let reply = ask(&inputs(10.0, 12.0, s1, 6.0, Landing::Rails, "half_lap"));
        assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(found), "{s1}");
    }
    // The same in halves.
    let halves = ask(&inputs(10.0, 12.0, 6.0, 6.0, Landing::Rails, "second_in_halves"));
    assert_eq!(halves["solutions"], json!([]));
}
