//! How many nest in a board: steps by sliding polygons, closed forms, counts by laying pieces.

use super::{SHAPES, answers, ask, close, nested, number, outline, turned};
use geo::algorithm::line_measures::metric_spaces::Euclidean;
use geo::{BoundingRect, Distance, Polygon, Translate};
use serde_json::json;

/// Least distance of two polygons by geo, 0 when they overlap.
fn apart(a: &Polygon, b: &Polygon) -> f64 {
    Euclidean.distance(a, b)
}

/// The least shift at which `b`, slid in from the right, is `kerf` from `a`: a scan for the first
/// shift that is free of every further one, then halving. Distances by geo.
fn slide(a: &Polygon, b: &Polygon, kerf: f64) -> f64 {
    let (ra, rb) = (a.bounding_rect().expect("a"), b.bounding_rect().expect("b"));
    let b = b.translate(ra.min().x - rb.min().x, 0.0);
    let free = |s: f64| apart(a, &b.translate(s, 0.0)) >= kerf && s >= 0.0;
    let far = ra.width() + kerf + 1.0;
    let steps = 1000;
    let mut taken = 0.0;
    for i in 0..=steps {
        let s = far * f64::from(i) / f64::from(steps);
        if apart(a, &b.translate(s, 0.0)) < kerf.max(1e-9) {
            taken = s;
        }
    }
    let (mut low, mut high) = (taken, taken + far / f64::from(steps));
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if free(middle) && apart(a, &b.translate(middle, 0.0)) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

#[test]
fn nesting_agrees_with_a_slide_search() {
    for shape in SHAPES {
        for kerf in [0.0, 0.125, 0.9] {
            let up = outline(*shape);
            let down = turned(&up);
            let (first, second) = (slide(&up, &down, kerf), slide(&down, &up, kerf));
            let a = answers(nested(*shape, kerf, "upright"));
            // geo's distances carry some 1e-15; halving over a touching pair loses half the figures
            // where kerf is 0.
            let slack = if kerf == 0.0 { 1e-7 } else { 1e-9 };
            close(number(&a, "first_step"), first, slack, &format!("{shape:?} kerf {kerf}"));
            close(number(&a, "second_step"), second, slack, &format!("{shape:?} kerf {kerf}"));
            let b = answers(nested(*shape, kerf, "turned"));
            close(number(&b, "first_step"), second, slack, "turned first");
            close(number(&b, "second_step"), first, slack, "turned first");
        }
    }
}

/// GEOMETRY 5's closed form for K = 0: B - r+ + l- + kerf √(1 + (r/H)²), then l and r exchanged.
#[test]
fn nesting_closed_form_without_a_shoulder() {
    for shape in SHAPES.iter().filter(|s| s.3 == 0.0) {
        let (b, t, h, _, l) = *shape;
        let r = b - t - l;
        for kerf in [0.0, 0.1] {
            let a = answers(nested(*shape, kerf, "upright"));
            let first = b - r.max(0.0) - l.min(0.0) + kerf * (1.0 + (r / h).powi(2)).sqrt();
            let second = b - l.max(0.0) - r.min(0.0) + kerf * (1.0 + (l / h).powi(2)).sqrt();
            close(number(&a, "first_step"), first, 1e-11, &format!("{shape:?}"));
            close(number(&a, "second_step"), second, 1e-11, &format!("{shape:?}"));
        }
    }
}

/// The count by laying pieces one by one and looking at their bounds.
#[test]
fn count_by_laying_pieces() {
    for shape in SHAPES {
        for (first, length) in
            [("upright", 96.0), ("turned", 96.0), ("upright", 40.0), ("turned", 30.5)]
        {
            let mut inputs = nested(*shape, 0.125, first);
            inputs["board_length"] = json!(length);
            let a = answers(inputs);
            let wide = number(&a, "bounding_width");
            let steps = [number(&a, "first_step"), number(&a, "second_step")];
            let (mut at, mut count, mut used) = (0.0, 0, 0.0);
            while at + wide <= length {
                used = at + wide;
                at += steps[count % 2];
                count += 1;
            }
            assert_eq!(number(&a, "fit_n"), count as f64, "{shape:?} {first} {length}");
            close(number(&a, "used_length"), used, 1e-9, "used length");
            let blanks = ((length + 0.125) / (wide + 0.125)).floor();
            assert_eq!(number(&a, "blank_fit_n"), blanks);
        }
    }
}

/// An exact fit counts: 12 + 7 more of 12 1/8 are 96 7/8 (by hand).
#[test]
fn exact_fit_and_grain_upright() {
    // 12 by 9 upright-sided blanks without kerf: eight in 96 in, and nothing is left.
    let mut exact = nested((12.0, 12.0, 9.0, 0.0, 0.0), 0.0, "upright");
    let a = answers(exact.clone());
    assert_eq!((number(&a, "fit_n"), number(&a, "left_over_length")), (8.0, 0.0));
    exact["board_length"] = json!(96.25);
    let rest = number(&answers(exact), "left_over_length");
    close(rest, 0.25, 1e-9, "a quarter inch more");
    // A board as long as one of them holds it, and nothing is said; a hair shorter and none fits.
    let mut one = nested((12.0, 12.0, 9.0, 0.0, 0.0), 0.0, "upright");
    one["board_length"] = json!(12);
    assert_eq!(ask(one.clone())["problems"], json!([]));
    one["board_length"] = json!(11.99);
    assert_eq!(ask(one)["problems"][0]["limit"], 12.0);
    let mut inputs = json!({"base_width": 12, "top_width": 12, "height": 6, "board_width": 6,
        "board_length": 96.875, "kerf": 0.125});
    assert_eq!(number(&answers(inputs.clone()), "fit_n"), 8.0);
    inputs["board_length"] = json!(96.87);
    assert_eq!(number(&answers(inputs), "fit_n"), 7.0);
    // Grain upright: blanks 6 long from a board 12 wide; (60 + 1/8)/(6 1/8) = 9.8.
    let a = answers(json!({"base_width": 12, "top_width": 4, "height": 6, "board_width": 12,
        "board_length": 60, "kerf": 0.125, "grain": "upright"}));
    assert_eq!(number(&a, "fit_n"), 9.0);
    close(number(&a, "first_step"), 6.125, 1e-12, "height and kerf");
}

/// A shoulder over half the height gains nothing (GEOMETRY 5).
#[test]
fn high_shoulder_gains_nothing() {
    let a = answers(nested((12.0, 5.0, 9.0, 5.0, 3.5), 0.125, "upright"));
    close(number(&a, "first_step"), 12.125, 1e-12, "base and kerf");
    assert_eq!(a["fit_n"], a["blank_fit_n"]);
}
