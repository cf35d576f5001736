//! A rectangle with two slopes: fronts and sides, mitered or butted.

use super::{board, solids};
use crate::geometry::Vector3;
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Form, Outcome, Solution, missing};
use crate::num;
use crate::problem::Problem;
use crate::say;
use crate::units::{Angle, Length, Quantity};

/// One of the two pairs of boards.
struct Pair {
    bottom: f64,
    tilt: f64,
    thickness: f64,
    /// What the neighbors' thickness takes off, on the level, both ends together.
    lost: f64,
    /// Growth of the outer size per unit of height: it follows the neighbors' lean.
    spread: f64,
}

/// Example: both leans 45, equal thickness: miter 35.26, bevel 30.00 on both.
pub fn solve(form: &Form, inputs: &Inputs, detail: Detail) -> Outcome {
    let (Some(w), Some(d), Some(a), Some(b), Some(tf), Some(ts), Some(h)) = (
        inputs.length("outer_bottom_width"),
        inputs.length("outer_bottom_depth"),
        inputs.angle("tilt_front_deg"),
        inputs.angle("tilt_side_deg"),
        inputs.length("thickness_front"),
        inputs.length("thickness_side"),
        inputs.length("height"),
    ) else {
        return missing(form, inputs);
    };
    let joint = inputs.choice("joint").unwrap_or("mitre");
    let (a, b, tf, ts, h) = (a.0, b.0, tf.0, ts.0, h.0);
    let front = Pair {
        bottom: w.0,
        tilt: a,
        thickness: tf,
        lost: 2.0 * ts / num::cos_deg(b),
        spread: 2.0 * num::tan_deg(b),
    };
    let side = Pair {
        bottom: d.0,
        tilt: b,
        thickness: ts,
        lost: 2.0 * tf / num::cos_deg(a),
        spread: 2.0 * num::tan_deg(a),
    };
    let mut out = Outcome::default();
    check(&front, h, "tilt_side_deg", "thickness_side", ts, &mut out);
    check(&side, h, "tilt_front_deg", "thickness_front", tf, &mut out);
    if !out.problems.is_empty() {
        return out;
    }
    let dihedral = num::acos_deg(-num::sin_deg(a) * num::sin_deg(b));
    let corner =
        h * num::sqrt(1.0 + num::tan_deg(a) * num::tan_deg(a) + num::tan_deg(b) * num::tan_deg(b));
    let front_miter = num::atan2_deg(num::cos_deg(a) * num::tan_deg(b).abs(), 1.0);
    let side_miter = num::atan2_deg(num::cos_deg(b) * num::tan_deg(a).abs(), 1.0);
    let bevel = |own: f64, other: f64| {
        if joint != "mitre" {
            (90.0 - dihedral).abs()
        } else if own == other {
            90.0 - dihedral / 2.0
        } else {
            num::atan2_deg(
                other + own * num::cos_deg(dihedral),
                own * num::sin_deg(dihedral),
            )
            .abs()
        }
    };
    let mut answers = Answers::new();
    answers.angle("dihedral_deg", dihedral);
    let mut boards = Vec::new();
    for (name, pair, miter, other, between) in [
        ("front", &front, front_miter, ts, joint == "front_between"),
        ("side", &side, side_miter, tf, joint == "sides_between"),
    ] {
        let size = board(h, pair.tilt, pair.thickness);
        let (outer_lost, inner_lost) = match joint {
            "mitre" => (0.0, pair.lost),
            _ if between => (pair.lost, pair.lost),
            _ => (0.0, 0.0),
        };
        let grown = h * pair.spread;
        let (ob, ib) = (pair.bottom - outer_lost, pair.bottom - inner_lost);
        let bevel = bevel(pair.thickness, other);
        let (held_miter, held_bevel) = held(pair, h, joint, other, a, b, name == "front");
        let mut g = Answers::new();
        g.length("outer_bottom_width", ob)
            .length("outer_top_width", ob + grown)
            .length("inner_bottom_width", ib)
            .length("inner_top_width", ib + grown)
            .length("slant_height", size.slant)
            .length("corner_edge_length", corner)
            .length("length_needed", ob.max(ob + grown).max(ib).max(ib + grown))
            .length("width_needed", size.width_needed)
            .angle("mitre_deg", miter)
            .angle("bevel_deg", bevel)
            .angle("edge_rip_deg", pair.tilt.abs())
            .angle("held_at_slope_mitre_deg", held_miter)
            .angle("held_at_slope_bevel_deg", held_bevel);
        answers.group(name, g);
        boards.push((ob, ob + grown, size.slant, pair.thickness, miter, bevel));
    }
    if let Some(at) = inputs.length("floor_height") {
        if at.0 >= h {
            out.problems.push(
                Problem::warn(
                    "floor_height",
                    say!["The floor must lie below the rim, at ", Length(h), "."],
                )
                .with_limit(Quantity::Length(Length(h))),
            );
        } else {
            answers
                .length(
                    "floor_width",
                    front.bottom - front.lost + at.0 * front.spread,
                )
                .length("floor_depth", side.bottom - side.lost + at.0 * side.spread);
        }
    }
    let mut solution = Solution {
        way: joint_key(joint),
        title: match joint {
            "front_between" => "Front between the sides",
            "sides_between" => "Sides between front and back",
            _ => "Mitered corners",
        },
        answers,
        headline: vec![
            "front.mitre_deg",
            "front.bevel_deg",
            "front.outer_bottom_width",
            "side.outer_bottom_width",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        let names = [
            ("Front and back", ("front.mitre_deg", "front.bevel_deg")),
            ("Sides", ("side.mitre_deg", "side.bevel_deg")),
        ];
        let sides: Vec<solids::Side> = boards
            .iter()
            .zip(names)
            .map(
                |((bottom, top, slant, thickness, miter, bevel), (name, keys))| solids::Side {
                    name,
                    count: 2,
                    bottom: *bottom,
                    top: *top,
                    slant: *slant,
                    thickness: *thickness,
                    miter: *miter,
                    bevel: *bevel,
                    keys,
                },
            )
            .collect();
        solution.parts = sides.iter().map(solids::Side::part).collect();
        solution.figure = sides[0].picture((
            "outer_bottom_width",
            "front.outer_top_width",
            "front.slant_height",
        ));
        solution.solids = solids::rectangle(
            (front.bottom, side.bottom),
            (
                front.bottom + h * front.spread,
                side.bottom + h * side.spread,
            ),
            (front.lost, side.lost),
            h,
            joint,
        );
        solution.derivation = vec![
            say![
                "Front boards: tan(miter) = cos(front lean) × tan(side lean): ",
                Angle(front_miter),
                "."
            ],
            say![
                "Sides: tan(miter) = cos(side lean) × tan(front lean): ",
                Angle(side_miter),
                "."
            ],
            say![
                "Angle between the outer faces: cos = −sin(front lean) × sin(side lean): ",
                Angle(dihedral),
                "."
            ],
            if joint == "mitre" {
                say![
                    "Mitered, the bevel shares it out: 90° − half of it where both are equally thick."
                ]
            } else {
                say![
                    "Butted, the bevel is what it differs from 90°: ",
                    Angle((90.0 - dihedral).abs()),
                    "."
                ]
            },
        ];
        solution.notes = vec![say![
            "Rip level edges at ",
            Angle(a.abs()),
            " on front and back, ",
            Angle(b.abs()),
            " on the sides."
        ]];
        solution.cautions = vec![Caution::CompoundCut];
    }
    out.solutions.push(solution);
    out
}

fn joint_key(joint: &str) -> &'static str {
    match joint {
        "front_between" => "front_between",
        "sides_between" => "sides_between",
        _ => "mitre",
    }
}

/// The sides must not meet below the rim, and the boards must leave room between them.
fn check(p: &Pair, h: f64, lean: &'static str, thick: &'static str, t: f64, out: &mut Outcome) {
    let top = p.bottom + h * p.spread;
    if top <= 0.0 {
        let limit = Length(-p.bottom / p.spread);
        out.problems.push(
            Problem::stop(
                lean,
                say![
                    "Leaning inward like this the boards meet at ",
                    limit,
                    ": the box must be lower."
                ],
            )
            .with_limit(Quantity::Length(limit)),
        );
    } else if p.bottom.min(top) <= p.lost {
        let limit = Length(t * p.bottom.min(top) / p.lost);
        out.problems.push(
            Problem::stop(
                thick,
                say![
                    "Boards this thick fill the box: they must be thinner than ",
                    limit,
                    "."
                ],
            )
            .with_limit(Quantity::Length(limit)),
        );
    }
}

/// The end cut with the board standing at its slope against the fence: level edges along the fence,
/// so along is along, up is up. The cut's plane passes through the outer corner edge and, mitered,
/// through the inner one; butted, it is the neighbor's face.
fn held(
    own: &Pair,
    h: f64,
    joint: &str,
    other_t: f64,
    a: f64,
    b: f64,
    is_front: bool,
) -> (f64, f64) {
    // For the front board: x along, y outward (to the front), z up.
    let (own_tilt, other_tilt) = if is_front { (a, b) } else { (b, a) };
    let edge = Vector3::new(h * num::tan_deg(other_tilt), h * num::tan_deg(own_tilt), h);
    let inner = if joint == "mitre" {
        // From the outer corner to the inner one, on the level.
        Vector3::new(
            -other_t / num::cos_deg(other_tilt),
            -own.thickness / num::cos_deg(own_tilt),
            0.0,
        )
    } else {
        // Along the neighbor's face, on the level.
        Vector3::new(0.0, 1.0, 0.0)
    };
    match edge.cross(inner).unit() {
        Some(n) => (
            num::atan2_deg(n.y.abs(), n.x.abs()),
            num::asin_deg(n.z.abs()),
        ),
        None => (0.0, 0.0),
    }
}
