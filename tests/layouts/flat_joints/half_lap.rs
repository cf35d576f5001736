//! Half laps and notches against strips clipped by geo.

use super::{answers, close, n, stop};
use geo::{Area, BooleanOps, BoundingRect, Coord, LineString, Polygon, Rotate};
use serde_json::json;

/// The lap is where two long rectangles overlap: clipped by geo, which works on a grid of its own
/// (hence 1e-5), then measured along each strip.
#[test]
fn lap_agrees_with_clipped_strips() {
    let strip = |w: f64| {
        Polygon::new(
            LineString::from(vec![
                (-60.0, -w / 2.0),
                (60.0, -w / 2.0),
                (60.0, w / 2.0),
                (-60.0, w / 2.0),
            ]),
            vec![],
        )
    };
    for x in [90.0, 60.0, 30.0, 117.5, 150.0] {
        for (w1, w2) in [(2.5, 1.5), (1.5, 1.5), (1.0, 3.5)] {
            let a = answers(
                "half_lap",
                json!({"crossing_deg": x, "width_1": w1, "width_2": w2, "thickness_1": 0.75, "thickness_2": 0.75}),
            );
            let turned = strip(w2).rotate_around_point(x, geo::Point::new(0.0, 0.0));
            let lap = strip(w1).intersection(&turned);
            close(n(&a, "lap_area"), lap.unsigned_area(), 1e-5, "area");
            close(
                n(&a["strip_1"], "lap_extent"),
                lap.bounding_rect().expect("lap").width(),
                1e-5,
                "extent 1",
            );
            let back = lap.rotate_around_point(-x, geo::Point::new(0.0, 0.0));
            close(
                n(&a["strip_2"], "lap_extent"),
                back.bounding_rect().expect("lap").width(),
                1e-5,
                "extent 2",
            );
            // A parallelogram: area is one side's length along the strip times the strip's width.
            close(n(&a["strip_1"], "lap_length") * w1, n(&a, "lap_area"), 1e-12, "lap length");
            close(n(&a["strip_2"], "lap_length") * w2, n(&a, "lap_area"), 1e-12, "lap length");
            close(n(&a["strip_1"], "shoulder_reading_deg"), (90.0f64 - x).abs(), 1e-12, "reading");
        }
    }
}

/// Shoulder marks lie on the other strip's edges, turned into this strip's frame here.
#[test]
fn shoulder_marks_lie_on_the_other_strip() {
    let (x, w1, w2) = (65.0f64, 2.0, 1.25);
    let a = answers(
        "half_lap",
        json!({"crossing_deg": x, "width_1": w1, "width_2": w2, "thickness_1": 1,
        "thickness_2": 1, "length_1": 20, "at_1": 8, "length_2": 16}),
    );
    let r = x.to_radians();
    let off = |c: Coord| (c.x * r.sin() - c.y * r.cos()).abs();
    for (key, v) in [("left_edge", w1 / 2.0), ("right_edge", -w1 / 2.0)] {
        for which in ["first", "second"] {
            let u = n(&a["strip_1"], &format!("{key}_{which}_shoulder")) - 8.0;
            close(off(Coord { x: u, y: v }), w2 / 2.0, 1e-12, "on the edge of strip 2");
        }
    }
    // Looking along strip 2 (middle at 8), strip 1 runs at 180 - x.
    let r = (180.0 - x).to_radians();
    let off = |c: Coord| (c.x * r.sin() - c.y * r.cos()).abs();
    for (key, v) in [("left_edge", w2 / 2.0), ("right_edge", -w2 / 2.0)] {
        let u = n(&a["strip_2"], &format!("{key}_first_shoulder")) - 8.0;
        close(off(Coord { x: u, y: v }), w1 / 2.0, 1e-12, "on the edge of strip 1");
    }
    stop(
        "half_lap",
        json!({"crossing_deg": 65, "width_1": 2, "width_2": 2, "thickness_1": 1, "thickness_2": 1, "length_1": 20, "at_1": 0.5}),
        "at_1",
    );
    stop(
        "half_lap",
        json!({"crossing_deg": 65, "width_1": 2, "width_2": 2, "thickness_1": 1, "thickness_2": 1, "length_1": 2}),
        "length_1",
    );
}

/// LAYOUTS 13: the two thicknesses left add up to the flush thickness.
#[test]
fn depths_add_up_to_the_flush_thickness() {
    for (t1, t2) in [(0.75, 0.75), (1.5, 0.75), (0.75, 1.5), (1.0, 0.5)] {
        for face in ["front", "back"] {
            let a = answers(
                "half_lap",
                json!({"width_1": 2, "width_2": 2, "thickness_1": t1, "thickness_2": t2, "flush_face": face}),
            );
            let left = n(&a["strip_1"], "thickness_left") + n(&a["strip_2"], "thickness_left");
            // Flush in front, the strip behind (1) reaches to its own back; flush behind, strip 2 to its front.
            close(left, if face == "front" { t1 } else { t2 }, 1e-12, "left");
            close(n(&a, "flush_thickness"), left, 1e-12, "flush");
        }
    }
    // By hand, 3/4 stock: 3/8 each.
    let a = answers(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75}),
    );
    assert_eq!((n(&a["strip_1"], "depth"), n(&a["strip_2"], "depth")), (0.375, 0.375));
    // Notch: strip 2 stays whole.
    let a = answers(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 1.5, "thickness_2": 0.75, "joint": "notch"}),
    );
    assert_eq!((n(&a["strip_1"], "depth"), n(&a["strip_2"], "depth")), (0.75, 0.0));
    stop(
        "half_lap",
        json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75, "joint": "notch"}),
        "thickness_1",
    );
    assert_eq!(
        stop(
            "half_lap",
            json!({"width_1": 2, "width_2": 2, "thickness_1": 0.75, "thickness_2": 0.75, "depth_1": 0.8}),
            "depth_1"
        ),
        0.75
    );
}
