//! One leg: its lean, its end cuts lying on either face, its foot on the floor.

use super::picture;
use super::sizes::{Leg, Sizes};
use crate::layouts::compound::{Ended, Piece, in_frame, readings, tell};
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::parts::{Part, Sides};
use offsquare_geometry::{Point3, Solid, Vector3};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num, say};

/// The leg's axis (upward) and the outward normals of its faces: F faces front, S faces right.
#[derive(Clone, Copy, Debug)]
pub struct Axes {
    pub axis: Vector3,
    pub face_f: Vector3,
    pub face_s: Vector3,
}

pub const UP: Vector3 = Vector3::new(0.0, 0.0, 1.0);

/// How the square section lies about the axis (GEOMETRY 4, `roll`).
pub fn axes(leg: Leg) -> Axes {
    let (ta, tb) = (num::tan_deg(leg.front.0), num::tan_deg(leg.side.0));
    let k = num::sqrt(1.0 + ta * ta + tb * tb);
    // Upward the leg at the right front runs to the left and to the back.
    let axis = Vector3::new(-ta / k, tb / k, 1.0 / k);
    let normal = |v: Vector3, otherwise: Vector3| v.unit().unwrap_or(otherwise);
    let x = Vector3::new(1.0, 0.0, 0.0);
    let y = Vector3::new(0.0, 1.0, 0.0);
    let (f, s) = match leg.roll {
        "side" => {
            let s = normal(axis.cross(y), x);
            (axis.cross(s), s)
        }
        "tilt" => {
            // The least rotation from upright to the axis, applied to y: Rodrigues with
            // c = axis.z and the rotation vector z × axis.
            let turn = |v: Vector3| {
                let w = UP.cross(axis);
                let c = 1.0 / k;
                v * c + w.cross(v) + w * (w.dot(v) / (1.0 + c))
            };
            (turn(y), turn(x))
        }
        "lean" => {
            let f = normal(UP.cross(axis), y);
            (f, axis.cross(f))
        }
        _ => {
            let f = normal(axis.cross(x), y);
            (f, axis.cross(f))
        }
    };
    let outward = |v: Vector3, toward: f64| if toward < 0.0 { -v } else { v };
    Axes { axis, face_f: outward(f, -f.y), face_s: outward(s, s.x) }
}

/// Everything of one leg. Example: 8 and 5 degrees, roll front: on F miter 7.97, bevel 5.00.
pub fn solve(leg: Leg, sizes: Option<Sizes>, detail: Detail) -> Outcome {
    let (t, h) = (leg.section.0, leg.height.0);
    let (ta, tb) = (num::tan_deg(leg.front.0), num::tan_deg(leg.side.0));
    let k = num::sqrt(1.0 + ta * ta + tb * tb);
    let a = axes(leg);
    let length = h * k;
    let sight = num::atan2_deg(tb, ta);
    // Level planes end it: lying on a face, that face is down.
    let on = |face: Vector3| in_frame(UP, a.axis, -face);
    let (on_f, on_s) = (on(a.face_f), on(a.face_s));
    let overall = length + t * k * (a.face_f.z.abs() + a.face_s.z.abs());
    // Edges of the foot on the floor: where the faces meet it.
    let (ef, es) = (a.face_f.cross(UP), a.face_s.cross(UP));
    let corner = num::atan2_deg(ef.cross(es).length(), ef.dot(es).abs());
    let mut answers = Answers::new();
    if sizes.is_some() {
        answers.angle("splay_front_deg", leg.front.0).angle("splay_side_deg", leg.side.0);
    }
    let lying = |n: Vector3| {
        let mut group = Answers::new();
        tell(&mut group, n, t, t);
        group.length("cut_line", t / num::cos_deg(readings(n).0));
        group
    };
    answers
        .angle("resultant_deg", num::atan_deg(num::hypot(ta, tb)))
        .angle("sight_line_from_front_deg", sight)
        .angle("sight_line_from_side_deg", 90.0 - sight)
        .length("axis_length", length)
        .length("edge_length", length)
        .length("overall_length", overall)
        .group("on_face_F", lying(on_f))
        .group("on_face_S", lying(on_s))
        .angle("footprint_corner_acute_deg", corner)
        .area("footprint_area", t * t * k)
        .length("toe_out_x", h * ta)
        .length("toe_out_y", h * tb);
    let mut solution = Solution {
        way: leg.roll,
        title: title(leg.roll),
        answers,
        headline: vec![
            "on_face_F.mitre_deg",
            "on_face_F.bevel_deg",
            "edge_length",
            "overall_length",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.parts = vec![part(leg, on_f)];
        solution.solids = vec![solid(leg, a)];
        solution.figure = picture::leg(leg, sizes, &solution.solids[0]);
        let ((mf, bf), (ms, bs)) = (readings(on_f), readings(on_s));
        solution.derivation = vec![
            say!("Out over the height: front {}, side {}.", Length(h * ta), Length(h * tb)),
            say!("True length: √(height² + both outs²) = {}.", Length(length)),
            say!(
                "Lean seen along the sight line: {}, which lies {} from the front.",
                Angle(num::atan_deg(num::hypot(ta, tb))),
                Angle(sight)
            ),
            rule(leg.roll),
            say!(
                "Lying on the front face: miter {}, bevel {}; on the side face: miter {}, bevel \
                 {}.",
                Angle(mf),
                Angle(bf),
                Angle(ms),
                Angle(bs)
            ),
        ];
        solution.notes = vec![
            say!(format!(
                "Drawn is the right front leg lying on {}, foot to the left, its outer side at the fence.",
                if leg.roll == "lean" { "an upright face" } else { "its front face" }
            )),
            say!("Both ends are parallel: slide the leg along, do not turn it."),
            say!(
                "Two and two: right front and left back are alike, the other two are their mirror \
                 image."
            ),
        ];
        if ta > 0.0 && tb > 0.0 {
            solution.notes.push(say!(
                "Splayed two ways, a square leg cannot lie flush with level rails on both sides; \
                 this foot has a corner of {}.",
                Angle(corner)
            ));
        }
        if readings(on_f).0 > 0.0 && readings(on_f).1 > 0.0 {
            solution.cautions.push(Caution::CompoundCut);
        }
        solution.cautions.push(Caution::SplayedLegs);
        if sizes.is_some_and(|s| leg.height > s.narrowest_footprint()) {
            solution.cautions.push(Caution::TallStand);
        }
    }
    Outcome { solutions: vec![solution], problems: Vec::new() }
}

/// The closed form of the readings on the front face (GEOMETRY 4; k is true length over height).
fn rule(roll: &str) -> offsquare_units::Text {
    match roll {
        "side" => {
            say!(
                "On the front face: tan(miter) = length ÷ height × sin(lean from the front); \
                 sin(bevel) = height ÷ length × tan(lean from the side) × cos(lean from the \
                 front)."
            )
        }
        "tilt" => say!(
            "On the front face: the miter is the lean from the front; sin(bevel) = height ÷ length \
             × tan(lean from the side)."
        ),
        "lean" => {
            say!("On the upright pair the miter is the lean along the sight line, without bevel.")
        }
        _ => say!(
            "On the front face: tan(miter) = tan(lean from the front) × cos(lean from the side); \
             the bevel is the lean from the side."
        ),
    }
}

fn title(roll: &str) -> &'static str {
    match roll {
        "side" => "Side face runs level",
        "tilt" => "Tipped straight over",
        "lean" => "One pair upright along the lean",
        _ => "Front face runs level",
    }
}

/// The right front leg lying on F, foot to the left: parallel ends.
fn part(leg: Leg, level: Vector3) -> Part {
    let (ta, tb) = (num::tan_deg(leg.front.0), num::tan_deg(leg.side.0));
    let length = leg.height.0 * num::sqrt(1.0 + ta * ta + tb * tb);
    let end = |name, at| Ended { name, normal: level, at };
    Piece {
        name: "Leg",
        count: 4,
        seen: leg.section.0,
        away: leg.section.0,
        // The front face is down, so that the one toward the middle of the piece is seen.
        sides: Sides {
            // Along its lean both faces of that pair are upright and cut alike.
            face: if leg.roll == "lean" { "upright face" } else { "back face" },
            edge_a: "inner side",
            edge_b: "outer side",
            left: "foot",
            right: "top",
        },
        ripped: None,
        left: end("Foot", 0.0),
        right: end("Top", length),
        keys: (Some("on_face_F.mitre_deg"), Some("on_face_F.bevel_deg")),
    }
    .part()
}

/// The real leg between floor and top, its axis through the floor's origin.
pub fn solid(leg: Leg, a: Axes) -> Solid {
    let half = leg.section.0 / 2.0;
    let corner = |f: f64, s: f64, z: f64| {
        let off = a.face_f * (f * half) + a.face_s * (s * half);
        // Along the axis to the level z.
        let reach = (z - off.z) / a.axis.z;
        let p = off + a.axis * reach;
        Point3::new(p.x, p.y, z)
    };
    let ring = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let foot: Vec<Point3> = ring.iter().map(|(f, s)| corner(*f, *s, 0.0)).gather();
    let top: Vec<Point3> = ring.iter().map(|(f, s)| corner(*f, *s, leg.height.0)).gather();
    Solid::prism(&foot, &top)
}
