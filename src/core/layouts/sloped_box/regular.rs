//! n equal sides: one board, one setting.

use super::board::{Board, check, floor};
use super::{picture, solids};
use crate::geometry::{Point, Vector3};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Form, Outcome, Solution, missing};
use crate::num;
use crate::say;
use crate::scene::{Scene, Source};
use crate::units::{Angle, Length};

/// tan m = tan(180/n)·|sin tilt|, sin bevel = cos tilt·sin(180/n).
/// Example: 4 sides at tilt 45: miter 35.26, bevel 30.00 (operator's manual no. 315.21212, p. 24).
pub fn solve(form: &Form, inputs: &Inputs, detail: Detail) -> Outcome {
    let (Some(n), Some(bottom), Some(tilt), Some(t), Some(h)) = (
        inputs.number("sides"),
        inputs.length("outer_bottom_side"),
        inputs.angle("tilt_deg"),
        inputs.length("thickness"),
        inputs.length("height"),
    ) else {
        return missing(form, inputs);
    };
    let (bottom, tilt, t, h) = (bottom.0, tilt.0, t.0, h.0);
    let half = 180.0 / n;
    let tan_half = num::tan_deg(half);
    let spread = 2.0 * tan_half * num::tan_deg(tilt);
    // The inner face stands t/cos(tilt) further in, on the level.
    let lost = 2.0 * tan_half * t / num::cos_deg(tilt);
    let mut out = Outcome::default();
    check(bottom, spread, lost, h, ("thickness", t), &mut out);
    if !out.problems.is_empty() {
        return out;
    }
    let board = Board {
        name: "Side",
        count: n as u32,
        outer: bottom,
        inner: bottom - lost,
        grown: h * spread,
        height: h,
        tilt,
        thickness: t,
        // The upright plane through the box's middle and the corner.
        end: Vector3::new(num::cos_deg(half), -num::sin_deg(half), 0.0),
        keys: ("mitre_deg", "bevel_deg"),
    };
    let (miter, bevel) = board.settings();
    let dihedral = 180.0 - 2.0 * bevel;
    let top = board.top();
    let corner = num::hypot(h, (top - bottom) / (2.0 * num::sin_deg(half)));
    let mut answers = Answers::new();
    board.answers(&mut answers, corner);
    answers
        .angle("butt_bevel_deg", (90.0 - dihedral).abs())
        .angle("dihedral_deg", dihedral);
    let floor = floor(
        inputs.length("floor_height"),
        inputs.length("floor_thickness"),
        h,
        &mut out,
    );
    let inside = |z: f64| bottom - lost + z * spread;
    if let Some((below, above)) = floor {
        answers
            .length("floor_side", inside(below))
            .length("floor_across_flats", inside(below) / tan_half);
        if let Some(above) = above {
            answers
                .length("floor_side_above", inside(above))
                .length("floor_across_flats_above", inside(above) / tan_half);
        }
    }
    let mut solution = Solution {
        way: "mitre",
        title: "Mitered corners",
        answers,
        headline: vec![
            "mitre_deg",
            "bevel_deg",
            "outer_bottom_width",
            "outer_top_width",
            "slant_height",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.parts = vec![board.part()];
        solution.figure = figure(&board, half, lost);
        solution.solids = solids::regular(n as u32, bottom, top, lost, h);
        solution.derivation = vec![
            say![
                "Half the angle between neighbors, seen from above: 180° ÷ sides = ",
                Angle(half),
                "."
            ],
            say![
                "tan(miter) = tan(",
                Angle(half),
                ") × sin(lean): ",
                Angle(miter),
                "."
            ],
            say![
                "sin(bevel) = cos(lean) × sin(",
                Angle(half),
                "): ",
                Angle(bevel),
                "."
            ],
            say![
                "Each side grows from ",
                Length(bottom),
                " to ",
                Length(top),
                " over the height."
            ],
        ];
        solution.notes = vec![
            say![
                "Standing at its slope against the fence the same cut needs no bevel: swing ",
                Angle(half),
                "."
            ],
            say![
                "Rip top and bottom edges at ",
                Angle(tilt.abs()),
                " to make them level; the rough board must be ",
                Length(board.slant() + t * num::tan_deg(tilt).abs()),
                " wide."
            ],
            say![
                "Butted instead of mitered: the same miter, bevel ",
                Angle((90.0 - dihedral).abs()),
                "."
            ],
        ];
        if floor.is_some() {
            solution.notes.push(say![
                "Bevel the floor's edges at ",
                Angle(tilt.abs()),
                " so that they lie on the sides."
            ]);
        }
        if miter > 0.0 && bevel > 0.0 {
            solution.cautions.push(Caution::CompoundCut);
        }
    }
    out.solutions.push(solution);
    out
}

/// The plan with its first side at the bottom, and the board.
fn figure(board: &Board, half: f64, lost: f64) -> Scene {
    let n = board.count as usize;
    let ring = |side: f64| -> Vec<Point> {
        let r = side / (2.0 * num::sin_deg(half));
        (0..n)
            .map(|k| {
                let angle = -90.0 - half + 2.0 * half * k as f64;
                Point::new(r * num::cos_deg(angle), r * num::sin_deg(angle))
            })
            .collect()
    };
    let (outer_top, inner_top) = (ring(board.top()), ring(board.top() - lost));
    let plan = picture::Plan {
        outer_bottom: ring(board.outer),
        inner_bottom: ring(board.inner),
        tilts: vec![board.tilt; n],
        joints: outer_top
            .iter()
            .copied()
            .zip(inner_top.iter().copied())
            .collect(),
        outer_top,
        inner_top,
    };
    let told = picture::Told {
        title: "Outer face",
        bottom: Source::Given("outer_bottom_side"),
        top: "outer_top_width",
        slant: "slant_height",
        tilt: "tilt_deg",
        thickness: "thickness",
    };
    picture::picture(&[(board, told)], &plan, &[])
}
