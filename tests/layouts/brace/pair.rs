//! K and chevron: both braces as polygons in the whole opening.

use super::polygon::{ALL, Landing, P, Quad, brace, geo, measure, minus};
use super::request::{close, number, only};
use super::single;
use ::geo::{Area, BooleanOps};
use serde_json::{Value, json};

/// Width, height, strip. Shapes made up here.
const SHAPES: &[(f64, f64, f64)] = &[(48.0, 60.0, 2.5), (60.0, 30.0, 1.5), (36.0, 36.0, 3.0)];
const APEXES: [&str; 4] = ["left", "right", "top", "bottom"];

/// The half opening of the first brace, corners in the brace's order: the lower left one first where
/// the brace rises to the right.
fn halves(w: f64, h: f64, apex: &str) -> [Vec<P>; 2] {
    let (mx, my) = (w / 2.0, h / 2.0);
    let rectangle =
        |x: [f64; 2], y: [f64; 2]| vec![(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
    match apex {
        "left" | "right" => [rectangle([0.0, w], [my, h]), rectangle([0.0, w], [0.0, my])],
        _ => [rectangle([mx, w], [0.0, h]), rectangle([0.0, mx], [0.0, h])],
    }
}

/// A brace in its half, from the apex to the far corner, with "below" meant in the opening for the
/// first one; built by mirroring the half so that the brace rises to the right.
fn in_half(half: &[P], apex: P, landing: Landing, s: f64, turned_over: bool) -> Vec<P> {
    let (lo, hi) = (half[0], half[2]);
    let (w, h) = minus(hi, lo);
    // Flip so that the apex is the lower left corner.
    let (fx, fy) = (apex.0 > lo.0, apex.1 > lo.1);
    let flip =
        |p: P| (if fx { hi.0 - p.0 } else { lo.0 + p.0 }, if fy { hi.1 - p.1 } else { lo.1 + p.1 });
    let landing = match (landing, turned_over) {
        (Landing::EdgeBelow, true) => Landing::EdgeAbove,
        (Landing::EdgeAbove, true) => Landing::EdgeBelow,
        (l, _) => l,
    };
    let quad: Quad = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    let mut all: Vec<P> = brace(&quad, landing, s).outline.into_iter().map(flip).collect();
    if fx != fy {
        all.reverse();
    }
    all
}

/// How much of a polygon's outline lies on an upright (or level) line.
fn on_line(p: &[P], level: bool, at: f64, size: f64) -> Vec<(f64, f64)> {
    let on = |q: P| (if level { q.1 } else { q.0 } - at).abs() < 1e-9 * size;
    let along = |q: P| if level { q.0 } else { q.1 };
    (0..p.len())
        .filter_map(|i| {
            let (a, b) = (p[i], p[(i + 1) % p.len()]);
            (on(a) && on(b)).then(|| (along(a).min(along(b)), along(a).max(along(b))))
        })
        .collect()
}

fn total(spans: &[(f64, f64)]) -> f64 {
    spans.iter().map(|(a, b)| b - a).sum()
}

#[test]
fn both_braces_stand_in_the_opening_and_meet_on_the_line() {
    let mut compared = 0;
    for (w, h, s) in SHAPES {
        for apex in APEXES {
            for landing in ALL {
                let k = matches!(apex, "left" | "right");
                let [one, two] = halves(*w, *h, apex);
                let at = match apex {
                    "left" => (0.0, h / 2.0),
                    "right" => (*w, h / 2.0),
                    "top" => (w / 2.0, *h),
                    _ => (w / 2.0, 0.0),
                };
                // The first brace: the upper one of a K, the right one of a chevron. Hanging from a
                // top rail, its below is the mirror image's above. The second is the mirror image.
                let first = in_half(&one, at, landing, *s, apex == "top");
                let second = in_half(&two, at, landing, *s, apex == "top");
                let what = format!("{w} x {h}, {s}, {apex}, {landing:?}");
                let a = only(&json!({"opening_width": w, "opening_height": h, "strip_width": s,
                    "apex": apex, "ends": landing.key(), "side": landing.side()}));
                let slack = 1e-9 * w.hypot(*h);
                // They do not run into each other (geo's overlay grid: to 1e-6 of the area).
                let overlap = geo(&first).intersection(&geo(&second)).unsigned_area();
                close(overlap, 0.0, 1e-6 * w * h, &what);
                // Where they meet: what both have on the line.
                let line = if k { h / 2.0 } else { w / 2.0 };
                let (m1, m2) = (on_line(&first, k, line, w + h), on_line(&second, k, line, w + h));
                let both: f64 = m1
                    .iter()
                    .flat_map(|a| m2.iter().map(move |b| (a.1.min(b.1) - a.0.max(b.0)).max(0.0)))
                    .sum();
                close(number(&a, "meeting_length"), both, slack, &what);
                let member = match apex {
                    "left" => (false, 0.0),
                    "right" => (false, *w),
                    "top" => (true, *h),
                    _ => (true, 0.0),
                };
                let seat = total(&on_line(&first, member.0, member.1, w + h))
                    + total(&on_line(&second, member.0, member.1, w + h));
                close(number(&a, "apex_seat_length"), seat, slack, &what);
                // Each is a single brace in its half.
                let (hw, hh) = if k { (*w, h / 2.0) } else { (w / 2.0, *h) };
                close(number(&a, "half_opening_width"), hw, 0.0, &what);
                close(number(&a, "half_opening_height"), hh, 0.0, &what);
                single::agrees(&a, hw, hh, *s, landing);
                let slope = measure(
                    &brace(&[(0.0, 0.0), (hw, 0.0), (hw, hh), (0.0, hh)], landing, *s),
                    &[(0.0, 0.0), (hw, 0.0), (hw, hh), (0.0, hh)],
                )
                .slope;
                let between = if k { 2.0 * slope } else { 180.0 - 2.0 * slope };
                close(number(&a, "angle_between_braces_deg"), between, 1e-8, &what);
                compared += 1;
            }
        }
    }
    assert_eq!(compared, 60);
}

#[test]
fn the_arrangement_may_be_named() {
    let base =
        json!({"opening_width": 48, "opening_height": 60, "strip_width": 2.5, "ends": "corner"});
    let with = |extra: &[(&str, &str)]| -> Value {
        let mut i = base.clone();
        for (k, v) in extra {
            i[*k] = json!(v);
        }
        only(&i)
    };
    assert_eq!(with(&[("arrangement", "k")]), with(&[("apex", "left")]));
    assert_eq!(with(&[("arrangement", "chevron"), ("apex", "top")]), with(&[("apex", "bottom")]));
    assert_eq!(with(&[("arrangement", "single")]), with(&[]));
}
