//! One leg: its lean, its end cuts lying on either face, its foot on the floor.

use super::Leg;
use crate::geometry::Polygon;
use crate::geometry::{Point, Point3, Solid, Vector3};
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::num;
use crate::parts::{Cut, End, Part, Side, StockShape};
use crate::say;
use crate::scene::{Role, Scene};
use crate::units::{Angle, Length, Quantity};

/// The leg's axis (upward) and the outward normals of its faces: F faces front, S faces right.
#[derive(Clone, Copy, Debug)]
pub struct Axes {
    pub axis: Vector3,
    pub face_f: Vector3,
    pub face_s: Vector3,
}

const UP: Vector3 = Vector3::new(0.0, 0.0, 1.0);

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
                v.times(c)
                    .plus(w.cross(v))
                    .plus(w.times(w.dot(v) / (1.0 + c)))
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
    let outward = |v: Vector3, toward: f64| if toward < 0.0 { v.times(-1.0) } else { v };
    Axes {
        axis,
        face_f: outward(f, -f.y),
        face_s: outward(s, s.x),
    }
}

/// tan(miter) = |N·e1| / |N·e3|, sin(bevel) = |N·e2|, the piece along e3 lying on the face with
/// normal e2, across e1 (GEOMETRY 1).
pub fn readings(n: Vector3, along: Vector3, face: Vector3, across: Vector3) -> (f64, f64) {
    (
        num::atan2_deg(n.dot(across).abs(), n.dot(along).abs()),
        num::asin_deg(n.dot(face).abs()),
    )
}

/// Everything of one leg. Example: 8 and 5 degrees, roll front: on F miter 7.97, bevel 5.00.
pub fn solve(leg: Leg, detail: Detail) -> Outcome {
    let (t, h) = (leg.section.0, leg.height.0);
    let (ta, tb) = (num::tan_deg(leg.front.0), num::tan_deg(leg.side.0));
    let k = num::sqrt(1.0 + ta * ta + tb * tb);
    let a = axes(leg);
    let length = h * k;
    let sight = num::atan2_deg(tb, ta);
    let (mf, bf) = readings(UP, a.axis, a.face_f, a.face_s);
    let (ms, bs) = readings(UP, a.axis, a.face_s, a.face_f);
    let overall = length + t * k * (a.face_f.z.abs() + a.face_s.z.abs());
    // Edges of the foot on the floor: where the faces meet it.
    let (ef, es) = (a.face_f.cross(UP), a.face_s.cross(UP));
    let corner = num::atan2_deg(ef.cross(es).length(), ef.dot(es).abs());
    let mut answers = Answers::new();
    let mut on_f = Answers::new();
    on_f.angle("mitre_deg", mf)
        .angle("bevel_deg", bf)
        .length("cut_line", t / num::cos_deg(mf));
    let mut on_s = Answers::new();
    on_s.angle("mitre_deg", ms)
        .angle("bevel_deg", bs)
        .length("cut_line", t / num::cos_deg(ms));
    answers
        .angle("resultant_deg", num::atan_deg(num::hypot(ta, tb)))
        .angle("sight_line_from_front_deg", sight)
        .angle("sight_line_from_side_deg", 90.0 - sight)
        .length("axis_length", length)
        .length("edge_length", length)
        .length("overall_length", overall)
        .group("on_face_F", on_f)
        .group("on_face_S", on_s)
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
        solution.parts = vec![
            lying(
                "Leg on its front face",
                t,
                length,
                mf,
                bf,
                "on_face_F.mitre_deg",
                "on_face_F.bevel_deg",
            ),
            lying(
                "Leg on its side face",
                t,
                length,
                ms,
                bs,
                "on_face_S.mitre_deg",
                "on_face_S.bevel_deg",
            ),
        ];
        solution.solids = vec![solid(leg, a)];
        solution.figure = picture(leg);
        solution.derivation = vec![
            say![
                "Out over the height: front ",
                Length(h * ta),
                ", side ",
                Length(h * tb),
                "."
            ],
            say![
                "True length: √(height² + both outs²) = ",
                Length(length),
                "."
            ],
            say![
                "Lean seen along the sight line: ",
                Angle(num::atan_deg(num::hypot(ta, tb))),
                ", which lies ",
                Angle(sight),
                " from the front."
            ],
            say![
                "Lying on the front face: miter ",
                Angle(mf),
                ", bevel ",
                Angle(bf),
                "; on the side face: miter ",
                Angle(ms),
                ", bevel ",
                Angle(bs),
                "."
            ],
        ];
        solution.notes = vec![
            say!["Both ends are parallel: slide the leg along, do not turn it."],
            say!["Make two left and two right: the other hand swings and tilts the other way."],
        ];
        solution.cautions = vec![Caution::CompoundCut];
    }
    Outcome {
        solutions: vec![solution],
        problems: Vec::new(),
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

/// The leg lying on a face: parallel ends, swung alike.
fn lying(
    name: &'static str,
    t: f64,
    length: f64,
    miter: f64,
    bevel: f64,
    miter_key: &'static str,
    bevel_key: &'static str,
) -> Part {
    let run = t * num::tan_deg(miter);
    let cut = |name: &'static str, end, x: f64| Cut {
        name: name.into(),
        end,
        miter: Angle(miter),
        swing: if run > 0.0 { Side::Left } else { Side::Neither },
        bevel: Angle(bevel),
        lean: if bevel > 0.0 {
            Side::Left
        } else {
            Side::Neither
        },
        miter_key: Some(miter_key),
        bevel_key: Some(bevel_key),
        across: Length(t),
        from: Point::new(x, 0.0),
        to: Point::new(x + run, t),
    };
    Part {
        name: name.into(),
        count: 1,
        seen: Length(t),
        away: Some(Length(t)),
        length: Length(length + run),
        outline: Polygon(vec![
            Point::new(0.0, 0.0),
            Point::new(length, 0.0),
            Point::new(length + run, t),
            Point::new(run, t),
        ]),
        edge_a: Length(length),
        edge_b: Length(length),
        cuts: vec![cut("Foot", End::Left, 0.0), cut("Top", End::Right, length)],
        marks: Vec::new(),
        stock: StockShape::Straight,
    }
}

/// The real leg between floor and top, its axis through the floor's origin.
fn solid(leg: Leg, a: Axes) -> Solid {
    let half = leg.section.0 / 2.0;
    let corner = |f: f64, s: f64, z: f64| {
        let off = a.face_f.times(f * half).plus(a.face_s.times(s * half));
        // Along the axis to the level z.
        let reach = (z - off.z) / a.axis.z;
        let p = off.plus(a.axis.times(reach));
        Point3::new(p.x, p.y, p.z)
    };
    let ring = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let foot: Vec<Point3> = ring.iter().map(|(f, s)| corner(*f, *s, 0.0)).collect();
    let top: Vec<Point3> = ring
        .iter()
        .map(|(f, s)| corner(*f, *s, leg.height.0))
        .collect();
    Solid::prism(&foot, &top)
}

/// Seen from the front: upright against the lean.
fn picture(leg: Leg) -> Scene {
    let h = leg.height.0;
    let out = h * num::tan_deg(leg.front.0);
    let w = leg.section.0 / num::cos_deg(leg.front.0) / 2.0;
    let mut scene = Scene::new();
    let base = Point::new(out, 0.0);
    scene.line(
        Point::new(-h * 0.25, 0.0),
        Point::new(out + h * 0.25, 0.0),
        Role::Frame,
    );
    scene.shape(
        vec![
            Point::new(out - w, 0.0),
            Point::new(out + w, 0.0),
            Point::new(w, h),
            Point::new(-w, h),
        ],
        Role::Stock,
    );
    scene.line(
        Point::new(out - w, 0.0),
        Point::new(out + w, 0.0),
        Role::Cut,
    );
    scene.line(Point::new(-w, h), Point::new(w, h), Role::Cut);
    scene.line(Point::new(0.0, h), Point::new(0.0, 0.0), Role::Center);
    scene.given(
        Point::new(-h * 0.2, h),
        Point::new(-h * 0.2, 0.0),
        -1,
        Quantity::Length(leg.height),
        "height",
    );
    scene.computed(
        Point::new(0.0, 0.0),
        base,
        -1,
        Quantity::Length(Length(out)),
        "toe_out_x",
    );
    scene.add(crate::scene::Item::AngleMark {
        at: Point::new(0.0, h),
        from: Angle(-90.0),
        to: Angle(-90.0 + leg.front.0),
        value: Quantity::Angle(leg.front),
        source: crate::scene::Source::Given("splay_front_deg"),
    });
    scene
}
