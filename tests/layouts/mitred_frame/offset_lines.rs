//! Frames built here: each inner edge is the outer one moved in by its width.

use crate::LAYOUT;
use geo::{Area, Coord, LineString, Polygon};
use offsquare_layout_tests::asking::{answers, close, keeps_its_shape, n};
use serde_json::json;

type P = Coord<f64>;

fn meet(a: P, u: P, b: P, v: P) -> P {
    let t = ((b.x - a.x) * v.y - (b.y - a.y) * v.x) / (u.x * v.y - u.y * v.x);
    a + u * t
}
fn long(v: P) -> f64 {
    v.x.hypot(v.y)
}

/// A frame built here: each inner edge is the outer one moved in by its width, corners where they
/// meet. Everything is measured on the members' outlines.
#[track_caller]
fn agrees_with_offset_lines(outer: &[(f64, f64)], widths: &[f64]) {
    let p: Vec<P> = outer.iter().map(|(x, y)| Coord { x: *x, y: *y }).collect();
    let k = p.len();
    let side = |i: usize| p[(i + 1) % k] - p[i % k];
    let unit = |v: P| v / long(v);
    let line = |i: usize| {
        let u = unit(side(i));
        (p[i % k] + Coord { x: -u.y, y: u.x } * widths[i % k], u)
    };
    let inner: Vec<P> = (0..k)
        .map(|i| {
            let ((a, u), (b, v)) = (line(i + k - 1), line(i));
            meet(a, u, b, v)
        })
        .collect();
    let corners: Vec<[f64; 2]> = p.iter().map(|c| [c.x, c.y]).collect();
    let a = answers(LAYOUT, &json!({"outer_corners": corners, "widths": widths}));
    let size = p.iter().map(|c| long(*c)).fold(0.0, f64::max);
    let slack = 1e-9 * size;
    let area = |c: &[P]| Polygon::new(LineString::from(c.to_vec()), vec![]).unsigned_area();
    let mut members = 0.0;
    for i in 0..k {
        let j = (i + 1) % k;
        let m = &a["members"][i];
        let u = unit(side(i));
        let along = |c: P| c.x * u.x + c.y * u.y;
        let (o0, o1, i0, i1) = (along(p[i]), along(p[j]), along(inner[i]), along(inner[j]));
        let what = format!("side {i} of {outer:?} {widths:?}");
        close(n(m, "outer_edge_length"), o1 - o0, slack, &what);
        close(n(m, "inner_edge_length"), i1 - i0, slack, &what);
        let w = widths[i];
        close(n(m, "start_reading_deg"), ((i0 - o0) / w).atan().to_degrees(), 1e-9, &what);
        close(n(m, "end_reading_deg"), ((o1 - i1) / w).atan().to_degrees(), 1e-9, &what);
        close(n(m, "start_cut_length"), long(inner[i] - p[i]), slack, &what);
        close(n(m, "end_cut_length"), long(inner[j] - p[j]), slack, &what);
        close(n(m, "long_point_length"), o1.max(i1) - o0.min(i0), slack, &what);
        close(n(m, "short_point_length"), o1.min(i1) - o0.max(i0), slack, &what);
        close(n(m, "face_area"), area(&[p[i], p[j], inner[j], inner[i]]), slack * size, &what);
        members += n(m, "face_area");
        // The two readings of a corner add up to 180 less it, always.
        let before = &a["members"][(i + k - 1) % k];
        let sum = n(m, "start_reading_deg") + n(before, "end_reading_deg");
        close(sum, 180.0 - a["corner_deg"][i].as_f64().expect("corner"), 1e-9, &what);
        close(n(m, "start_cut_length"), n(before, "end_cut_length"), slack, &what);
    }
    close(n(&a, "opening_area"), area(&inner), slack * size, "opening");
    close(n(&a, "opening_area") + members, area(&p), slack * size, "all of it");
    keeps_its_shape(LAYOUT, &json!({"outer_corners": corners, "widths": widths}));
    // The mirror image: corners the other way round, start and end change places.
    let flipped: Vec<[f64; 2]> = (0..k).map(|i| p[(k - i) % k]).map(|c| [-c.x, c.y]).collect();
    let turned: Vec<f64> = (0..k).map(|i| widths[k - 1 - i]).collect();
    let b = answers(LAYOUT, &json!({"outer_corners": flipped, "widths": turned}));
    for i in 0..k {
        let (m, f) = (&a["members"][i], &b["members"][k - 1 - i]);
        close(n(m, "start_reading_deg"), n(f, "end_reading_deg"), 1e-9, "mirrored");
        close(n(m, "inner_edge_length"), n(f, "inner_edge_length"), slack, "mirrored");
    }
}

#[test]
fn any_convex_polygon_agrees_with_offset_lines() {
    agrees_with_offset_lines(
        &[(0.0, 0.0), (24.0, 0.0), (20.0, 14.0), (4.0, 14.0)],
        &[1.5, 2.5, 1.0, 3.0],
    );
    agrees_with_offset_lines(&[(0.0, 0.0), (30.0, 1.0), (11.0, 22.0)], &[1.5, 0.75, 2.0]);
    agrees_with_offset_lines(
        &[(0.0, 0.0), (10.0, -3.0), (19.0, 2.0), (21.0, 12.0), (9.0, 19.0), (-2.0, 11.0)],
        &[1.0, 1.5, 0.5, 2.0, 1.25, 0.75],
    );
    // Sharp: a corner of 8.5°.
    agrees_with_offset_lines(&[(0.0, 0.0), (40.0, 0.0), (40.0, 6.0)], &[0.5, 1.0, 0.75]);
    // Nearly straight: 179.9°, like widths, and widths that differ by little.
    agrees_with_offset_lines(
        &[(0.0, 0.0), (10.0, 0.0), (20.0, 0.0175), (20.0, 12.0), (0.0, 12.0)],
        &[1.5; 5],
    );
    agrees_with_offset_lines(
        &[(0.0, 0.0), (10.0, 0.0), (20.0, 0.0175), (20.0, 12.0), (0.0, 12.0)],
        &[1.5, 1.501, 1.5, 1.5, 1.5],
    );
}
