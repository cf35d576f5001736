//! Tapered legs, against a blank that is turned here until its outer side reaches from post to foot.

use crate::polygon::{Corner, keep};
use crate::request::{Dice, answers, ask, near, number, problems, solutions};
use serde_json::{Value, json};

struct Blank {
    big: f64,
    small: f64,
    length: f64,
}

struct Stood {
    /// Degrees from upright.
    axis: f64,
    outer: f64,
    inner: f64,
    joint: f64,
    foot: f64,
    inner_edge: f64,
    top: f64,
    bottom: f64,
    span: f64,
}

/// The blank, foot end down, its axis leaning so much (degrees); outer side's foot corner at (x, 0).
fn turned(b: &Blank, lean: f64, x: f64) -> [Corner; 4] {
    let a = lean.to_radians();
    let (up, out) = ((-a.sin(), a.cos()), (a.cos(), a.sin()));
    let toe = (x - b.small / 2.0 * out.0, -b.small / 2.0 * out.1);
    let at = |s: f64, v: f64| (toe.0 + s * up.0 + v * out.0, toe.1 + s * up.1 + v * out.1);
    [
        at(0.0, b.small / 2.0),
        at(b.length, b.big / 2.0),
        at(b.length, -b.big / 2.0),
        at(0.0, -b.small / 2.0),
    ]
}

fn lean_of(from: Corner, to: Corner) -> f64 {
    (from.0 - to.0).atan2(to.1 - from.1).to_degrees()
}

fn stand(b: &Blank, width: f64, footprint: f64, square: bool) -> Stood {
    // Turned by halving until the outer side's upper corner stands on the face.
    let (mut low, mut high) = (0.0, 90.0);
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        if turned(b, middle, footprint / 2.0)[1].0 > width / 2.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let axis = (low + high) / 2.0;
    let mut blank = turned(b, axis, footprint / 2.0);
    let lowest = blank.iter().fold(f64::INFINITY, |m, p| m.min(p.1));
    let lift = if square { -lowest } else { 0.0 };
    blank.iter_mut().for_each(|p| p.1 += lift);
    let [foot_outer, top_outer, top_inner, foot_inner] = blank;
    // The inner side goes on as far as the floor and the post need it.
    let mut cut = keep(&blank, 1.0, 0.0, width / 2.0);
    if !square {
        cut = keep(&cut, 0.0, 1.0, 0.0);
    }
    let tiny = 1e-9 * footprint;
    let on = |p: &Corner, a: Corner, b: Corner| {
        let l = (b.0 - a.0).hypot(b.1 - a.1);
        (((p.0 - a.0) * (b.1 - a.1) - (p.1 - a.1) * (b.0 - a.0)) / l).abs() < tiny
    };
    let far = |keep: &dyn Fn(&Corner) -> bool| {
        let all: Vec<&Corner> = cut.iter().filter(|p| keep(p)).collect();
        all.iter()
            .flat_map(|p| all.iter().map(move |q| (p.0 - q.0).hypot(p.1 - q.1)))
            .fold(0.0, f64::max)
    };
    let face: Vec<f64> =
        cut.iter().filter(|p| (p.0 - width / 2.0).abs() < tiny).map(|p| p.1).collect();
    Stood {
        axis,
        outer: lean_of(foot_outer, top_outer),
        inner: lean_of(foot_inner, top_inner),
        joint: far(&|p| (p.0 - width / 2.0).abs() < tiny),
        foot: far(&|p| {
            if square { on(p, foot_outer, foot_inner) } else { p.1.abs() < tiny }
        }),
        inner_edge: far(&|p| on(p, foot_inner, top_inner)),
        top: face.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        bottom: face.iter().copied().fold(f64::INFINITY, f64::min),
        span: 2.0
            * cut.iter().filter(|p| p.1.abs() < tiny).fold(f64::NEG_INFINITY, |m, p| m.max(p.0)),
    }
}

fn request(b: &Blank, width: f64, footprint: f64, square: bool) -> Value {
    json!({"post_width": width, "footprint": footprint, "big_end_depth": b.big, "small_end_depth": b.small,
        "taper_length": b.length, "foot": if square { "square" } else { "floor" }})
}

#[test]
fn every_way_of_laying_it_reads_right() {
    let mut dice = Dice::new(61);
    let mut stood = 0;
    for turn in 0..800 {
        let big = dice.between(1.0, 4.0);
        let b = Blank { big, small: big * dice.between(0.2, 1.0), length: dice.between(8.0, 40.0) };
        let width = dice.between(1.0, 6.0);
        let run = dice.between(0.15, 0.8) * b.length;
        let footprint = width + 2.0 * run;
        let square = dice.coin();
        let reply = ask(request(&b, width, footprint, square));
        let all = answers(&reply);
        let Some(a) = all.first() else { continue };
        stood += 1;
        let what = format!("turn {turn}");
        let s = stand(&b, width, footprint, square);
        let scale = footprint + b.length;
        near(number(a, "axis_lean_deg"), s.axis, 1e-9, &what);
        near(number(a, "outer_side_lean_deg"), s.outer, 1e-9, &what);
        near(number(a, "inner_side_lean_deg"), s.inner, 1e-9, &what);
        near(number(a, "joint_length_on_post"), s.joint, 1e-9 * scale, &what);
        near(number(a, "foot_cut_length"), s.foot, 1e-9 * scale, &what);
        near(number(a, "inner_edge_length"), s.inner_edge, 1e-9 * scale, &what);
        near(number(a, "rise_to_joint_top"), s.top, 1e-9 * scale, &what);
        near(number(a, "rise_to_joint_bottom"), s.bottom, 1e-9 * scale, &what);
        near(number(a, "floor_contact_span"), s.span, 1e-9 * scale, &what);
        // The reading is between the cut and square to whatever lies along the fence: at the joint
        // 90 less its lean, at a level foot the lean, at a square foot the side's angle to the axis.
        for (lay, lean) in [
            ("outer_side_on_fence", s.outer),
            ("axis_along_fence", s.axis),
            ("inner_side_on_fence", s.inner),
        ] {
            near(number(a, &format!("{lay}.top_reading_deg")), 90.0 - lean, 1e-9, lay);
            let foot = if square { (lean - s.axis).abs() } else { lean };
            near(number(a, &format!("{lay}.foot_reading_deg")), foot, 1e-9, lay);
        }
        // GEOMETRY 3's inner edge.
        let rad = f64::to_radians;
        let (side, ah, a2h) = (number(a, "side_length"), rad(s.axis), rad(s.inner));
        let foot = if square { 0.0 } else { b.small * ah.sin() / a2h.cos() };
        near(
            number(a, "inner_edge_length"),
            side - b.big * ah.cos() / a2h.sin() - foot,
            1e-9 * scale,
            "GEOMETRY 3",
        );
    }
    assert!(stood > 400, "{stood}");
}

#[test]
fn the_check_of_geometry() {
    // GEOMETRY 3: D 2.5, e 1.25, L 20, F 17.5, p 3.5: h 1.790, unpacked seat bevel 0.678, foot bevel 1.656.
    let mut inputs = request(&Blank { big: 2.5, small: 1.25, length: 20.0 }, 3.5, 17.5, false);
    inputs["tapered_faces"] = json!("four");
    let a = &solutions(inputs)[0];
    near(number(a, "half_taper_deg"), 1.790, 5e-4, "h");
    near(number(a, "unpacked.seat_bevel_deg"), 0.678, 5e-4, "seat");
    near(number(a, "unpacked.foot_bevel_deg"), 1.656, 5e-4, "foot");
    near(number(a, "thin_end_packing"), 0.625, 1e-12, "half the loss of thickness");
}

#[test]
fn unpacked_bevels_measured_in_space() {
    // The blank as a solid in its own frame: depth along x, breadth along y, axis along z (up to the
    // joint); the table is the plane through the four corners of a tapered face.
    let mut dice = Dice::new(67);
    for _ in 0..200 {
        let b = Blank {
            big: dice.between(1.5, 4.0),
            small: dice.between(0.5, 1.5),
            length: dice.between(15.0, 40.0),
        };
        let (at_joint, at_foot) = (dice.between(2.0, 3.0), dice.between(0.5, 2.0));
        let (width, footprint) = (3.0, 3.0 + b.length * dice.between(0.5, 1.2));
        let square = dice.coin();
        let mut inputs = request(&b, width, footprint, square);
        inputs["leg_breadth"] = json!(at_joint);
        inputs["small_end_breadth"] = json!(at_foot);
        let reply = ask(inputs);
        let all = answers(&reply);
        let Some(a) = all.first() else { continue };
        let p = [
            [b.big / 2.0, at_joint / 2.0, b.length],
            [-b.big / 2.0, at_joint / 2.0, b.length],
            [b.small / 2.0, at_foot / 2.0, 0.0],
        ];
        let minus = |a: [f64; 3], b: [f64; 3]| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
        let (u, v) = (minus(p[1], p[0]), minus(p[2], p[0]));
        let n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
        let size = (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt();
        let lean = stand(&b, width, footprint, square).axis.to_radians();
        // The seat is upright, the floor level, seen from the leaning blank.
        let seat = [lean.cos(), 0.0, lean.sin()];
        let floor = if square { [0.0, 0.0, 1.0] } else { [-lean.sin(), 0.0, lean.cos()] };
        let tilt = |c: [f64; 3]| {
            ((c[0] * n[0] + c[1] * n[1] + c[2] * n[2]).abs() / size).asin().to_degrees()
        };
        near(number(a, "unpacked.seat_bevel_deg"), tilt(seat), 1e-8, "seat");
        near(number(a, "unpacked.foot_bevel_deg"), tilt(floor), 1e-8, "foot");
    }
}

#[test]
fn without_taper_it_is_a_parallel_leg() {
    for foot in ["floor", "square"] {
        let t = &solutions(
            json!({"post_width": 3.5, "footprint": 17.5, "big_end_depth": 1.5, "small_end_depth": 1.5,
            "taper_length": 10, "foot": foot}),
        )[0];
        let p = &solutions(json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5,
            "given": "long_point", "value": 10, "foot": foot}))[0];
        for key in [
            "long_point_length",
            "inner_edge_length",
            "rise_to_joint_top",
            "rise_to_joint_bottom",
            "joint_length_on_post",
            "foot_cut_length",
            "floor_contact_span",
            "post_bottom_height",
        ] {
            near(number(t, key), number(p, key), 1e-12 * 20.0, key);
        }
        near(
            number(t, "axis_along_fence.top_reading_deg"),
            number(p, "top_reading_deg"),
            1e-11,
            foot,
        );
        near(number(t, "axis_along_fence.shim_thickness"), 0.0, 0.0, "no shim");
    }
}

#[test]
fn a_blank_that_cannot_be_used_says_the_nearest_that_can() {
    let mut dice = Dice::new(71);
    let mut seen = 0;
    for _ in 0..400 {
        let big = dice.between(1.0, 4.0);
        let small = big * dice.between(0.2, 1.0);
        let run = dice.between(1.0, 12.0);
        let length = dice.between(0.3, 1.3) * run;
        let square = dice.coin();
        let of =
            |l: f64| ask(request(&Blank { big, small, length: l }, 2.0, 2.0 + 2.0 * run, square));
        let reply = of(length);
        let Some(p) = problems(&reply).first() else {
            continue;
        };
        let limit = p["limit"].as_f64().expect("a limit");
        seen += 1;
        if p["path"] == "/inputs/taper_length" {
            let toward = if limit > length { 1e-7 } else { -1e-7 };
            assert!(!answers(&of(limit * (1.0 + toward))).is_empty(), "{reply}");
            assert!(answers(&of(limit * (1.0 - toward))).is_empty(), "{reply}");
        } else {
            assert_eq!(p["path"], "/inputs/footprint");
            // However long: with R ≤ e a level foot never leaves an inner edge.
            near(limit, 2.0 + 2.0 * small, 1e-12 * limit, "p + 2e");
            assert!(run <= small);
        }
    }
    assert!(seen > 100, "{seen}");
    let (big, small) = (
        json!({"post_width": 3, "footprint": 17, "big_end_depth": 1, "small_end_depth": 2, "taper_length": 20}),
        json!({"post_width": 3, "footprint": 17, "big_end_depth": 2, "small_end_depth": 1, "taper_length": 20, "leg_breadth": 1, "small_end_breadth": 1.5}),
    );
    assert_eq!(problems(&ask(big))[0]["path"], "/inputs/small_end_depth");
    assert_eq!(problems(&ask(small))[0]["path"], "/inputs/small_end_breadth");
    for (at, first, path) in
        [(21.0, 0.0, "/inputs/shim_at_from_big_end"), (3.0, 4.0, "/inputs/shim_at_from_big_end")]
    {
        let r = ask(
            json!({"post_width": 3, "footprint": 17, "big_end_depth": 2, "small_end_depth": 1, "taper_length": 20,
            "shim_at_from_big_end": at, "first_contact_from_big_end": first}),
        );
        assert_eq!(problems(&r)[0]["path"], path);
    }
}
