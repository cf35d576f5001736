//! Legs splayed two ways and their stretchers: GEOMETRY 4's closed forms and checks, properties, limits.
//! (The solids that a kernel built are in `solids.rs`.)

use offsquare_layout_tests::asking::{
    answers, ask_for, close, contradicts, keeps_its_shape, n, off_rows, scaled, stop, survives,
    warn, works_back,
};
use serde_json::{Value, json};

const LAYOUT: &str = "two_way_splay";
const ROLLS: [&str; 4] = ["front", "side", "tilt", "lean"];

fn leg(a: f64, b: f64, roll: &str) -> Value {
    json!({"splay_front_deg": a, "splay_side_deg": b, "section": 1.5, "height": 18, "roll": roll})
}
fn stretcher(a: f64, b: f64, roll: &str, which: &str) -> Value {
    let mut i = leg(a, b, roll);
    for (key, value) in [
        ("axis_spacing_front_at_top", 14.0),
        ("axis_spacing_side_at_top", 11.0),
        ("stretcher_height", 7.0),
        ("stretcher_width", 2.0),
        ("stretcher_thickness", 0.75),
    ] {
        i[key] = json!(value);
    }
    i["which"] = json!(which);
    i
}

/// GEOMETRY 4, traps: 8/5 degrees, bevel on F 5.00, 4.90, 4.95, 0 for the four ways to roll the leg.
#[test]
fn bevels_of_the_four_rolls() {
    for (roll, bevel) in ROLLS.iter().zip([5.0, 4.90, 4.95, 0.0]) {
        let a = answers(LAYOUT, &leg(8.0, 5.0, roll));
        close(n(&a, "on_face_F.bevel_deg"), bevel, 0.005, roll);
    }
}

/// GEOMETRY 4's closed forms, written out here with the standard library.
#[test]
fn closed_forms_over_a_grid() {
    let mut told = 0;
    for a in [0.0f64, 0.5, 3.0, 8.0, 20.0, 45.0, 70.0, 88.0] {
        for b in [0.0f64, 1.0, 5.0, 15.0, 45.0, 60.0, 89.0] {
            let (ra, rb) = (a.to_radians(), b.to_radians());
            let (ta, tb) = (ra.tan(), rb.tan());
            let k = (1.0 + ta * ta + tb * tb).sqrt();
            let r = ta.hypot(tb).atan();
            let front =
                [(ta * rb.cos()).atan(), rb, (k * rb.sin()).atan(), (ta * rb.cos() / k).asin()];
            let side =
                [(k * ra.sin()).atan(), (tb * ra.cos() / k).asin(), (tb * ra.cos()).atan(), ra];
            let tilt = [ra, (tb / k).asin(), rb, (ta / k).asin()];
            let lean = [r, 0.0, 0.0, r];
            for (roll, should) in ROLLS.iter().zip([front, side, tilt, lean]) {
                let x = answers(LAYOUT, &leg(a, b, roll));
                let what = format!("{a} {b} {roll}");
                close(n(&x, "resultant_deg"), r.to_degrees(), 1e-9, &what);
                close(n(&x, "edge_length"), 18.0 * k, 1e-9 * 18.0 * k, &what);
                let keys = [
                    "on_face_F.mitre_deg",
                    "on_face_F.bevel_deg",
                    "on_face_S.mitre_deg",
                    "on_face_S.bevel_deg",
                ];
                for (key, value) in keys.iter().zip(should) {
                    close(n(&x, key), value.to_degrees(), 1e-9, &format!("{what} {key}"));
                }
                // The same cut as two tape marks: over the face and over the edge.
                let (m, b) = (should[0], should[1]);
                let steep = m.tan().max(b.tan() / m.cos()).max(1.0);
                close(n(&x, "on_face_F.face_tape_mark"), 1.5 * m.tan(), 1e-9 * 18.0 * steep, &what);
                close(
                    n(&x, "on_face_F.edge_tape_mark"),
                    1.5 * b.tan() / m.cos(),
                    1e-8 * steep * steep,
                    &what,
                );
                told += 1;
            }
        }
    }
    assert_eq!(told, 8 * 7 * 4);
}

/// Exchanging front and side, and the rolls named after them, exchanges the faces: the mirror image
/// in the plane between front and side.
#[test]
fn seen_from_the_other_side_front_and_side_change_places() {
    for (a, b) in [(8.0, 5.0), (3.0, 20.0), (0.0, 12.0), (44.0, 31.0)] {
        for (roll, other) in [("front", "side"), ("side", "front"), ("tilt", "tilt")] {
            let x = answers(LAYOUT, &leg(a, b, roll));
            let y = answers(LAYOUT, &leg(b, a, other));
            for key in ["mitre_deg", "bevel_deg", "cut_line", "face_tape_mark", "edge_tape_mark"] {
                let what = format!("{a} {b} {roll} {key}");
                let (f, s) = (format!("on_face_F.{key}"), format!("on_face_S.{key}"));
                close(n(&x, &f), n(&y, &s), 1e-9, &what);
                close(n(&x, &s), n(&y, &f), 1e-9, &what);
            }
            close(n(&x, "overall_length"), n(&y, "overall_length"), 1e-9, "overall");
            close(
                n(&x, "sight_line_from_front_deg"),
                n(&y, "sight_line_from_side_deg"),
                1e-9,
                "sight line",
            );
            close(n(&x, "toe_out_x"), n(&y, "toe_out_y"), 1e-9, "toe");
        }
    }
}

/// Splayed one way only, whichever way it is rolled, it is a plain miter on one face and a plain
/// bevel on the other; upright it is square.
#[test]
fn one_way_is_plain_and_upright_is_square() {
    for roll in ["front", "side", "tilt"] {
        let x = answers(LAYOUT, &leg(12.0, 0.0, roll));
        close(n(&x, "on_face_F.mitre_deg"), 12.0, 1e-9, roll);
        close(n(&x, "on_face_F.bevel_deg"), 0.0, 0.0, roll);
        close(n(&x, "on_face_S.bevel_deg"), 12.0, 1e-9, roll);
        let x = answers(LAYOUT, &leg(0.0, 0.0, roll));
        for key in ["on_face_F.mitre_deg", "on_face_F.bevel_deg", "on_face_S.mitre_deg"] {
            close(n(&x, key), 0.0, 0.0, roll);
        }
        close(n(&x, "overall_length"), 18.0, 0.0, roll);
    }
}

/// Footprint and top instead of leans: half the difference over the height.
#[test]
fn from_footprint_and_top() {
    let i = json!({"footprint_width": 18, "footprint_depth": 15, "top_width": 12, "top_depth": 11,
        "section": 1.5, "height": 20, "roll": "tilt"});
    let x = answers(LAYOUT, &i);
    close(n(&x, "splay_front_deg"), (3.0f64 / 20.0).atan().to_degrees(), 1e-9, "front");
    close(n(&x, "splay_side_deg"), (2.0f64 / 20.0).atan().to_degrees(), 1e-9, "side");
    close(n(&x, "toe_out_x"), 3.0, 1e-9, "out");
    // True length by Pythagoras in space.
    close(n(&x, "edge_length"), (400.0f64 + 9.0 + 4.0).sqrt(), 1e-9, "length");
    for (key, top) in [("footprint_width", 12.0), ("footprint_depth", 11.0)] {
        let mut inward = i.clone();
        inward[key] = json!(top - 0.5);
        let p = stop(LAYOUT, &inward, key);
        close(n(&p, "limit"), top, 1e-9, key);
    }
    keeps_its_shape(LAYOUT, &i);
    survives(LAYOUT, &i);
    assert!(off_rows(LAYOUT, &i) >= 2);
}

/// GEOMETRY 4: the stretcher that meets a face holding its cross direction has a plain cut; at the
/// top plane it spans what the legs stand apart there.
#[test]
fn plain_stretchers() {
    for (roll, which, miter) in [("side", "front", 8.0), ("front", "side", 5.0)] {
        let x = answers(LAYOUT, &stretcher(8.0, 5.0, roll, which));
        close(n(&x, "on_wide_face.mitre_deg"), miter, 1e-9, roll);
        close(n(&x, "on_wide_face.bevel_deg"), 0.0, 0.0, roll);
        close(
            n(&x, "longest_edge") - n(&x, "shortest_edge"),
            2.0 * 2.0 * miter.to_radians().tan(),
            1e-9,
            roll,
        );
    }
    for (roll, which) in [("front", "front"), ("side", "side"), ("tilt", "front")] {
        let x = answers(LAYOUT, &stretcher(8.0, 5.0, roll, which));
        assert!(n(&x, "on_wide_face.bevel_deg") > 0.1, "{roll} {which}");
    }
    let mut i = stretcher(8.0, 5.0, "tilt", "front");
    i["stretcher_height"] = json!(17);
    let x = answers(LAYOUT, &i);
    close(n(&x, "centre_to_centre"), 14.0 + 2.0 * 8f64.to_radians().tan(), 1e-9, "an inch down");
    // Straight legs: the legs' middles less one leg.
    let x = answers(LAYOUT, &stretcher(0.0, 0.0, "tilt", "side"));
    close(n(&x, "shoulder_length_on_centre"), 11.0 - 1.5, 1e-9, "upright");
}

#[test]
fn stretchers_that_cannot_be() {
    let mut i = stretcher(8.0, 5.0, "front", "front");
    i["stretcher_height"] = json!(18.5);
    close(n(&stop(LAYOUT, &i, "stretcher_height"), "limit"), 18.0, 1e-9, "top");
    // Above or below with its edge only: said, and answered.
    i["stretcher_height"] = json!(17.5);
    close(n(&warn(LAYOUT, &i, "stretcher_height"), "limit"), 17.0, 1e-9, "upper edge");
    i["stretcher_height"] = json!(0.5);
    close(n(&warn(LAYOUT, &i, "stretcher_height"), "limit"), 1.0, 1e-9, "floor");
    // Too thick for the leg: at the limit it passes.
    let mut i = stretcher(8.0, 5.0, "front", "front");
    i["stretcher_thickness"] = json!(2.5);
    let limit = n(&warn(LAYOUT, &i, "stretcher_thickness"), "limit");
    assert!((1.4..1.6).contains(&limit), "{limit}");
    i["stretcher_thickness"] = json!(limit * 1.000_001);
    warn(LAYOUT, &i, "stretcher_thickness");
    i["stretcher_thickness"] = json!(limit * 0.999_999);
    answers(LAYOUT, &i);
    // It may stand as high as the legs are, and no higher.
    let mut i = stretcher(8.0, 5.0, "front", "front");
    i["stretcher_height"] = json!(18);
    assert!(ask_for(LAYOUT, &i, &json!({}))["solutions"][0].is_object());
    i["stretcher_height"] = json!(18.001);
    stop(LAYOUT, &i, "stretcher_height");
    // Legs too close: the limit named is the first that works.
    for which in ["front", "side"] {
        let key = format!("axis_spacing_{which}_at_top");
        let mut i = stretcher(2.0, 1.0, "tilt", which);
        i["stretcher_height"] = json!(17);
        i[&key] = json!(1.0);
        let limit = n(&stop(LAYOUT, &i, &key), "limit");
        i[&key] = json!(limit + 1e-6);
        answers(LAYOUT, &i);
        i[&key] = json!(limit - 1e-6);
        stop(LAYOUT, &i, &key);
    }
    // Leaning to the side only, one pair upright along the lean: nothing faces this stretcher.
    stop(LAYOUT, &stretcher(0.0, 5.0, "lean", "front"), "roll");
}

/// Nearly upright, nearly flat, tiny and huge.
#[test]
fn hostile_legs() {
    for (a, b) in [(0.0, 0.0), (1e-7, 89.0), (89.0, 89.0), (89.0, 1e-9), (1e-12, 1e-12)] {
        for roll in ROLLS {
            let x = answers(LAYOUT, &leg(a, b, roll));
            assert!(offsquare_layout_tests::asking::finite(&x), "{x}");
            let sum = n(&x, "sight_line_from_front_deg") + n(&x, "sight_line_from_side_deg");
            close(sum, 90.0, 1e-9, "sight lines");
        }
    }
    for roll in ROLLS {
        keeps_its_shape(LAYOUT, &leg(8.0, 5.0, roll));
        keeps_its_shape(LAYOUT, &stretcher(8.0, 5.0, roll, "side"));
    }
    survives(LAYOUT, &leg(8.0, 5.0, "front"));
    survives(LAYOUT, &stretcher(8.0, 5.0, "lean", "front"));
    let large = scaled(&leg(8.0, 5.0, "front"), 1e5);
    assert!(n(&answers(LAYOUT, &large), "edge_length") > 1e6);
}

#[test]
fn worked_back_contradicted_and_off() {
    // Front roll: tan(miter on F) = tan a · cos b.
    let found =
        works_back(LAYOUT, &leg(8.0, 5.0, "front"), "splay_front_deg", "on_face_F.mitre_deg", 10.0);
    let should = (10f64.to_radians().tan() / 5f64.to_radians().cos()).atan().to_degrees();
    close(found, should, 1e-9, "front lean for a 10° miter");
    works_back(LAYOUT, &leg(8.0, 5.0, "tilt"), "height", "edge_length", 20.0);
    works_back(
        LAYOUT,
        &stretcher(8.0, 5.0, "tilt", "front"),
        "axis_spacing_front_at_top",
        "shoulder_length_on_centre",
        16.0,
    );
    contradicts(LAYOUT, &leg(8.0, 5.0, "side"), "edge_length");
    contradicts(LAYOUT, &leg(8.0, 5.0, "side"), "resultant_deg");
    contradicts(LAYOUT, &stretcher(8.0, 5.0, "side", "front"), "longest_edge");
    assert_eq!(off_rows(LAYOUT, &leg(8.0, 5.0, "front")), 2);
    assert_eq!(off_rows(LAYOUT, &stretcher(8.0, 5.0, "front", "front")), 1);
}

/// Lying on its other face, the saw's advice reads what the answers say of face S; the other hand of
/// the pair is told.
#[test]
fn the_saw_reads_both_faces_and_both_hands() {
    for roll in ROLLS {
        let i = leg(8.0, 5.0, roll);
        let reply = ask_for(LAYOUT, &i, &json!({"saw": {}}));
        let solution = &reply["solutions"][0];
        let part = &solution["saw"]["parts"][0];
        let cut = &part["cuts"][0];
        let x = &solution["answers"];
        close(n(cut, "other_face.miter_deg"), n(x, "on_face_S.mitre_deg"), 1e-9, roll);
        close(n(cut, "other_face.bevel_deg"), n(x, "on_face_S.bevel_deg"), 1e-9, roll);
        close(n(cut, "tape_mark"), n(x, "on_face_F.face_tape_mark"), 1e-9, roll);
        if n(x, "on_face_F.bevel_deg") > 0.0 {
            close(n(cut, "edge_tape_mark"), n(x, "on_face_F.edge_tape_mark"), 1e-9, roll);
            assert_eq!(part["other_hand"], "face_down");
        }
        // Parallel ends: it slides along.
        assert_eq!(part["between_ends"], "slide_along", "{part}");
    }
}
