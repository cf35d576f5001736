//! A stretcher between two legs: upright section, ends flat on the legs' inner faces.

use super::leg::{Axes, UP, axes, solid};
use super::picture;
use super::sizes::{Leg, Stretcher};
use crate::inputs::Value;
use crate::layouts::compound::{Ended, Piece, readings, tell};
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::parts::{Part, Sides};
use crate::problem::Problem;
use offsquare_geometry::{Point3, Solid, Vector3};
use offsquare_units::{Angle, Length, Text, num, say};

/// A stretcher's geometry in its own frame: u along it toward the leg at hand, v across it on the
/// level, w up; from its middle.
struct Bar {
    between: f64,
    /// The leg's face that it lies on: its outward normal in that frame, and how far the face stands
    /// from the axis.
    n: Vector3,
    off: f64,
    /// Half its thickness and half its height.
    q: f64,
    w: f64,
}

impl Bar {
    /// From the middle to the leg's inner face.
    fn half(&self, v: f64, w: f64) -> f64 {
        self.between / 2.0 - (self.off + self.n.y * v + self.n.z * w) / self.n.x
    }
    fn edges(&self) -> [f64; 4] {
        let (q, w) = (self.q, self.w);
        [(q, w), (q, -w), (-q, w), (-q, -w)].map(|(v, w)| 2.0 * self.half(v, w))
    }
    fn solid(&self) -> Solid {
        let (q, w) = (self.q, self.w);
        // The other end is the mirror image.
        let ring = |end: f64| {
            [(-q, -w), (q, -w), (q, w), (-q, w)]
                .map(|(v, w)| Point3::new(end * self.half(v, w), v, w))
        };
        Solid::prism(&ring(-1.0), &ring(1.0))
    }
    /// Lying on its inner wide face, seen from outside, upper edge at the fence. `out`: the outside in
    /// the direction of v, 1 or -1.
    fn part(&self, out: f64) -> Part {
        let at = self.half(out * self.q, -self.w);
        let (nu, outside) = (self.n.z, self.n.y * out);
        let end = |name, along: f64| Ended {
            name,
            normal: Vector3::new(along * self.n.x, nu, outside),
            at: along * at,
        };
        Piece {
            name: "Stretcher",
            count: 2,
            seen: 2.0 * self.w,
            away: 2.0 * self.q,
            sides: Sides { face: "outside", ..Sides::DRAWN },
            ripped: None,
            left: end("Left end", -1.0),
            right: end("Right end", 1.0),
            keys: (Some("on_wide_face.mitre_deg"), Some("on_wide_face.bevel_deg")),
        }
        .part()
    }
}

/// The stretcher between its legs; the inner face that its ends lie on, how far the legs' middles stand apart at
/// the top, and the field that says so.
fn bar_of(leg: Leg, s: &Stretcher, a: Axes) -> (Bar, Vector3, Length, &'static str) {
    let drop = leg.height.0 - s.height.0;
    // Along the stretcher, across it on the level; the inner face that its end lies on.
    let (along, level, n, spacing, lean, key) = if s.which == "side" {
        (
            Vector3::new(0.0, -1.0, 0.0),
            Vector3::new(1.0, 0.0, 0.0),
            a.face_f,
            s.side,
            leg.side,
            "axis_spacing_side_at_top",
        )
    } else {
        (
            Vector3::new(1.0, 0.0, 0.0),
            Vector3::new(0.0, 1.0, 0.0),
            a.face_s,
            s.front,
            leg.front,
            "axis_spacing_front_at_top",
        )
    };
    let bar = Bar {
        between: spacing.0 + 2.0 * drop * num::tan_deg(lean.0),
        n: Vector3::new(n.dot(along), n.dot(level), n.dot(UP)),
        off: leg.section.0 / 2.0,
        q: s.thickness.0 / 2.0,
        w: s.width.0 / 2.0,
    };
    (bar, n, spacing, key)
}

/// The leg is turned so that none of its faces looks toward this stretcher: the ways to turn it in which one does.
fn no_face(leg: Leg, s: &Stretcher) -> Problem {
    let faces = |roll: &&'static str| {
        let turned = Leg { roll, ..leg };
        bar_of(turned, s, axes(turned)).0.n.x.abs() >= 1e-12
    };
    let others = ["front", "side", "tilt", "lean"].into_iter().filter(faces);
    let text =
        say!("Turned like this, the leg has no face toward this stretcher: turn it another way.");
    Problem::stop("roll", text).mended_by("roll", others.map(Value::Choice))
}

/// Lengths along the stretcher's middle and its four long edges; end cuts lying on either face.
pub fn solve(leg: Leg, s: Stretcher, detail: Detail) -> Outcome {
    let mut out = Outcome::default();
    if s.height.0 > leg.height.0 {
        out.problems.push(Problem::at_limit(
            "stretcher_height",
            "The stretcher must stand below the top of the legs, at most {} up.",
            leg.height,
        ));
        return out;
    }
    let side = s.which == "side";
    let a = axes(leg);
    let (bar, n, spacing, key) = bar_of(leg, &s, a);
    if bar.n.x.abs() < 1e-12 {
        out.problems.push(no_face(leg, &s));
        return out;
    }
    let edges = bar.edges();
    let longest = edges.iter().fold(f64::NEG_INFINITY, |m, e| m.max(*e));
    let shortest = edges.iter().fold(f64::INFINITY, |m, e| m.min(*e));
    if shortest <= 0.0 || !longest.is_finite() {
        let least = Length(spacing.0 - shortest);
        out.problems.push(Problem::at_limit(
            key,
            "The legs stand too close for this stretcher: they must be more than {} apart \
                     at the top.",
            least,
        ));
        return out;
    }
    out.problems.extend(warnings(leg, &s, &bar, n));
    let middle = 2.0 * bar.half(0.0, 0.0);
    let on_wide = Vector3::new(bar.n.x, bar.n.z, bar.n.y);
    let on_edge = bar.n;
    let mut wide = Answers::new();
    tell(&mut wide, on_wide, s.width.0, s.thickness.0);
    let mut edge = Answers::new();
    tell(&mut edge, on_edge, s.thickness.0, s.width.0);
    let mut answers = Answers::new();
    answers
        .length("centre_to_centre", bar.between)
        .length("shoulder_length_on_centre", middle)
        .length("overall_length", longest)
        .length("longest_edge", longest)
        .length("shortest_edge", shortest)
        .group("on_wide_face", wide)
        .group("on_edge", edge);
    let mut solution = Solution {
        way: s.which,
        title: if side { "Stretcher at the side" } else { "Stretcher at front or back" },
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
        solution.solids = vec![bar.solid()];
        // From the front the outside is toward the eye, at the right side it is to the right.
        solution.parts = vec![bar.part(if side { 1.0 } else { -1.0 })];
        let leg_solid = solid(leg, a);
        solution.figure = picture::stretcher(leg, &s, bar.between, &leg_solid, &solution.solids[0]);
        solution.derivation = derivation(spacing, leg.height - s.height, &bar, (shortest, longest));
        solution.notes = vec![say!(
            "Both ends are mirror images: flip it end over end for the second cut. Drawn from \
             outside, upper edge at the fence."
        )];
        let (miter, bevel) = readings(on_wide);
        if bevel == 0.0 {
            solution.notes.push(say!(
                "The leg's face runs level across the stretcher: a plain miter of {} does it.",
                Angle(miter)
            ));
        }
        if miter > 0.0 && bevel > 0.0 {
            solution.cautions.push(Caution::CompoundCut);
        }
        solution.cautions.push(Caution::SplayedLegs);
    }
    out.solutions.push(solution);
    out
}

/// From the legs' spacing at the top to the edges.
fn derivation(
    spacing: Length,
    drop: Length,
    bar: &Bar,
    (shortest, longest): (f64, f64),
) -> Vec<Text> {
    let middle = 2.0 * bar.half(0.0, 0.0);
    vec![
        say!(
            "The legs' middles stand {} apart at the top; {} lower they stand {} apart.",
            spacing,
            drop,
            Length(bar.between)
        ),
        say!(
            "Less half a leg at each end, measured along the stretcher ({}): {} on its middle \
             line.",
            Length((bar.between - middle) / 2.0),
            Length(middle)
        ),
        say!("Its four edges run from {} to {}.", Length(shortest), Length(longest)),
    ]
}

/// What is true all the same but stands out.
fn warnings(leg: Leg, s: &Stretcher, bar: &Bar, face: Vector3) -> Vec<Problem> {
    let mut all = Vec::new();
    let slack = 1e-9 * leg.height.0;
    let most = leg.height.0 - bar.w;
    if s.height.0 > most + slack {
        all.push(
            Problem::at_limit(
                "stretcher_height",
                "The stretcher's upper edge stands above the legs: its middle may be {} up at \
                     most.",
                Length(most),
            )
            .as_warning(),
        );
    }
    if s.height.0 < bar.w - slack {
        all.push(
            Problem::at_limit(
                "stretcher_height",
                "The stretcher reaches below the floor: its middle must be at least {} up.",
                Length(bar.w),
            )
            .as_warning(),
        );
    }
    // Along the level line of the leg's face, whose width is what the strip between its edges leaves.
    let level_line = face.cross(UP).unit().unwrap_or(UP);
    let a = axes(leg);
    let other = if s.which == "side" { a.face_s } else { a.face_f };
    let room = leg.section.0 / level_line.dot(other).abs();
    let wants = s.thickness.0 * num::hypot(1.0, bar.n.y / bar.n.x);
    if wants > room * (1.0 + 1e-9) {
        let limit = Length(s.thickness.0 * room / wants);
        all.push(
            Problem::at_limit(
                "stretcher_thickness",
                "Thicker than the leg's face is wide there: more than {} stands over.",
                limit,
            )
            .as_warning(),
        );
    }
    all
}
