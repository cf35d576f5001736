//! A stretcher between two legs: upright section, ends flat on the legs' inner faces.

use super::Leg;
use super::leg::{axes, readings};
use crate::geometry::{Point, Point3, Polygon, Solid, Vector3};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::num;
use crate::parts::{Cut, End, Part, Side, StockShape};
use crate::problem::Problem;
use crate::say;
use crate::scene::{Role, Scene};
use crate::units::{Angle, Length, Quantity};

/// A stretcher's place and section, checked.
#[derive(Clone, Copy, Debug)]
pub struct Stretcher {
    front: Length,
    side: Length,
    height: Length,
    width: Length,
    thickness: Length,
    which: &'static str,
}

pub fn read(inputs: &Inputs) -> Option<Stretcher> {
    Some(Stretcher {
        front: inputs.length("axis_spacing_front_at_top")?,
        side: inputs.length("axis_spacing_side_at_top")?,
        height: inputs.length("stretcher_height")?,
        width: inputs.length("stretcher_width")?,
        thickness: inputs.length("stretcher_thickness")?,
        which: inputs.choice("which").unwrap_or("front"),
    })
}

/// Lengths along the stretcher's middle and its four long edges; end cuts lying on either face.
pub fn solve(leg: Leg, s: Stretcher, detail: Detail) -> Outcome {
    let mut out = Outcome::default();
    if s.height.0 > leg.height.0 {
        out.problems.push(
            Problem::stop(
                "stretcher_height",
                say![
                    "The stretcher must stand below the top of the legs, at most ",
                    leg.height,
                    " up."
                ],
            )
            .with_limit(Quantity::Length(leg.height)),
        );
        return out;
    }
    let a = axes(leg);
    let drop = leg.height.0 - s.height.0;
    // Along the stretcher, across it on the level, and up; the inner face that its end lies on.
    let (along, level, n, spacing, lean) = if s.which == "side" {
        (
            Vector3::new(0.0, -1.0, 0.0),
            Vector3::new(1.0, 0.0, 0.0),
            a.face_f,
            s.side,
            leg.side,
        )
    } else {
        (
            Vector3::new(1.0, 0.0, 0.0),
            Vector3::new(0.0, 1.0, 0.0),
            a.face_s,
            s.front,
            leg.front,
        )
    };
    let up = Vector3::new(0.0, 0.0, 1.0);
    let between = spacing.0 + 2.0 * drop * num::tan_deg(lean.0);
    let (na, nl, nu) = (n.dot(along), n.dot(level), n.dot(up));
    // Half the length at (across, up) from the middle: the inner face is half a section inside the axis.
    let half = |across: f64, above: f64| {
        between / 2.0 - (leg.section.0 / 2.0 + nl * across + nu * above) / na
    };
    let middle = 2.0 * half(0.0, 0.0);
    let (q, w) = (s.thickness.0 / 2.0, s.width.0 / 2.0);
    let edges = [(q, w), (q, -w), (-q, w), (-q, -w)].map(|(x, z)| 2.0 * half(x, z));
    let longest = edges.iter().fold(f64::NEG_INFINITY, |m, e| m.max(*e));
    let shortest = edges.iter().fold(f64::INFINITY, |m, e| m.min(*e));
    if shortest <= 0.0 || !longest.is_finite() {
        let key = if s.which == "side" {
            "axis_spacing_side_at_top"
        } else {
            "axis_spacing_front_at_top"
        };
        let least = Length(spacing.0 - shortest);
        out.problems.push(
            Problem::stop(
                key,
                say![
                    "The legs stand too close for this stretcher: they must be more than ",
                    least,
                    " apart at the top."
                ],
            )
            .with_limit(Quantity::Length(least)),
        );
        return out;
    }
    let (m_wide, b_wide) = readings(n, along, level, up);
    let (m_edge, b_edge) = readings(n, along, up, level);
    let mut wide = Answers::new();
    wide.angle("mitre_deg", m_wide).angle("bevel_deg", b_wide);
    let mut edge = Answers::new();
    edge.angle("mitre_deg", m_edge).angle("bevel_deg", b_edge);
    let mut answers = Answers::new();
    answers
        .length("centre_to_centre", between)
        .length("shoulder_length_on_centre", middle)
        .length("overall_length", longest)
        .length("longest_edge", longest)
        .length("shortest_edge", shortest)
        .group("on_wide_face", wide)
        .group("on_edge", edge);
    let mut solution = Solution {
        way: s.which,
        title: if s.which == "side" {
            "Stretcher at the side"
        } else {
            "Stretcher at front or back"
        },
        answers,
        headline: vec![
            "on_wide_face.mitre_deg",
            "on_wide_face.bevel_deg",
            "shoulder_length_on_centre",
            "longest_edge",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.parts = vec![part(
            s,
            m_wide,
            b_wide,
            half(q, -w).max(half(-q, -w)) * 2.0,
            half(q, w).max(half(-q, w)) * 2.0,
        )];
        // In its own frame: along, across on the level, up. The other end is the mirror image.
        let ring = |end: f64| {
            [(-q, -w), (q, -w), (q, w), (-q, w)].map(|(x, z)| Point3::new(end * half(x, z), x, z))
        };
        solution.solids = vec![Solid::prism(&ring(-1.0), &ring(1.0))];
        solution.figure = picture(leg, s, between, lean, &solution.parts[0]);
        solution.derivation = vec![
            say![
                "The legs' middles stand ",
                spacing,
                " apart at the top; ",
                Length(drop),
                " lower they stand ",
                Length(between),
                " apart."
            ],
            say![
                "Less half a leg at each end, measured along the stretcher: ",
                Length(middle),
                " on its middle line."
            ],
            say![
                "Its four edges run from ",
                Length(shortest),
                " to ",
                Length(longest),
                "."
            ],
        ];
        if b_wide > 0.005 {
            solution.cautions.push(Caution::CompoundCut);
        }
    }
    out.solutions.push(solution);
    out
}

/// Lying on its wide face: the lower edge toward you, the upper one at the fence.
fn part(s: Stretcher, miter: f64, bevel: f64, lower: f64, upper: f64) -> Part {
    let w = s.width.0;
    let run = (lower - upper) / 2.0;
    let (l0, r0) = ((-run).max(0.0), (-run).max(0.0) + lower);
    let (l1, r1) = (l0 + run, r0 - run);
    let swing_left = if run > 0.0 { Side::Left } else { Side::Right };
    let swing_right = if run > 0.0 { Side::Right } else { Side::Left };
    let cut = |name: &'static str, end, from: f64, to: f64, swing: Side| Cut {
        name: name.into(),
        end,
        miter: Angle(miter),
        swing: if miter > 0.0 { swing } else { Side::Neither },
        bevel: Angle(bevel),
        lean: match (bevel > 0.0, end) {
            (false, _) => Side::Neither,
            (true, End::Left) => Side::Left,
            (true, _) => Side::Right,
        },
        miter_key: Some("on_wide_face.mitre_deg"),
        bevel_key: Some("on_wide_face.bevel_deg"),
        across: s.width,
        from: Point::new(from, 0.0),
        to: Point::new(to, w),
    };
    Part {
        name: "Stretcher".into(),
        count: 2,
        seen: s.width,
        away: Some(s.thickness),
        length: Length(lower.max(upper)),
        outline: Polygon(vec![
            Point::new(l0, 0.0),
            Point::new(r0, 0.0),
            Point::new(r1, w),
            Point::new(l1, w),
        ]),
        edge_a: Length(lower),
        edge_b: Length(upper),
        cuts: vec![
            cut("Left end", End::Left, l0, l1, swing_left),
            cut("Right end", End::Right, r0, r1, swing_right),
        ],
        marks: Vec::new(),
        stock: StockShape::Straight,
    }
}

/// Seen square to the stretcher: both legs, the stretcher between.
fn picture(leg: Leg, s: Stretcher, between: f64, lean: Angle, part: &Part) -> Scene {
    let h = leg.height.0;
    let tan = num::tan_deg(lean.0);
    let w = leg.section.0 / num::cos_deg(lean.0) / 2.0;
    let top = between / 2.0 - (h - s.height.0) * tan;
    let foot = top + h * tan;
    let mut scene = Scene::new();
    for side in [-1.0, 1.0] {
        scene.shape(
            vec![
                Point::new(side * (foot - w), 0.0),
                Point::new(side * (foot + w), 0.0),
                Point::new(side * (top + w), h),
                Point::new(side * (top - w), h),
            ],
            Role::Frame,
        );
    }
    let shift = Point::new(-part.length.0 / 2.0, s.height.0 - s.width.0 / 2.0);
    let place = |p: &Point| Point::new(p.x + shift.x, p.y + shift.y);
    scene.shape(part.outline.0.iter().map(place).collect(), Role::Stock);
    for c in &part.cuts {
        scene.line(place(&c.from), place(&c.to), Role::Cut);
    }
    let key = if s.which == "side" {
        "axis_spacing_side_at_top"
    } else {
        "axis_spacing_front_at_top"
    };
    let spacing = if s.which == "side" { s.side } else { s.front };
    scene
        .given(
            Point::new(top, h),
            Point::new(-top, h),
            -1,
            Quantity::Length(spacing),
            key,
        )
        .given(
            Point::new(foot + w, 0.0),
            Point::new(foot + w, s.height.0),
            -1,
            Quantity::Length(s.height),
            "stretcher_height",
        );
    scene
}
