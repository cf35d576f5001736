//! n equal sides: one board, one setting.

use super::{board, solids};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Form, Outcome, Solution, missing};
use crate::num;
use crate::problem::Problem;
use crate::say;
use crate::units::{Angle, Length, Quantity};

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
    let top = bottom + h * spread;
    // The inner face stands t/cos(tilt) further in, on the level.
    let lost = 2.0 * tan_half * t / num::cos_deg(tilt);
    let mut out = Outcome::default();
    if top <= 0.0 {
        let limit = Length(-bottom / spread);
        out.problems.push(
            Problem::stop(
                "height",
                say![
                    "Leaning inward like this the sides meet at ",
                    limit,
                    ": the box must be lower."
                ],
            )
            .with_limit(Quantity::Length(limit)),
        );
        return out;
    }
    if bottom.min(top) <= lost {
        let limit = Length(t * bottom.min(top) / lost);
        out.problems.push(
            Problem::stop(
                "thickness",
                say![
                    "Boards this thick fill the box: they must be thinner than ",
                    limit,
                    "."
                ],
            )
            .with_limit(Quantity::Length(limit)),
        );
        return out;
    }
    let miter = num::atan2_deg(tan_half * num::sin_deg(tilt).abs(), 1.0);
    let bevel = num::asin_deg(num::cos_deg(tilt) * num::sin_deg(half));
    let dihedral = 180.0 - 2.0 * bevel;
    let b = board(h, tilt, t);
    let corner = num::hypot(h, (top - bottom) / (2.0 * num::sin_deg(half)));
    let mut answers = Answers::new();
    answers
        .angle("mitre_deg", miter)
        .angle("bevel_deg", bevel)
        .angle("butt_bevel_deg", (90.0 - dihedral).abs())
        .angle("dihedral_deg", dihedral)
        .angle("edge_rip_deg", tilt.abs())
        .length("outer_bottom_width", bottom)
        .length("outer_top_width", top)
        .length("inner_bottom_width", bottom - lost)
        .length("inner_top_width", top - lost)
        .length("slant_height", b.slant)
        .length("corner_edge_length", corner)
        .length("length_needed", bottom.max(top))
        .length("width_needed", b.width_needed)
        .angle("held_at_slope_mitre_deg", half);
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
            answers.length("floor_side", bottom - lost + at.0 * spread);
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
        let side = solids::Side {
            name: "Side",
            count: n as u32,
            bottom,
            top,
            slant: b.slant,
            thickness: t,
            miter,
            bevel,
            keys: ("mitre_deg", "bevel_deg"),
        };
        solution.parts = vec![side.part()];
        solution.figure = side.picture(("outer_bottom_side", "outer_top_width", "slant_height"));
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
                " to make them level."
            ],
        ];
        solution.cautions = vec![Caution::CompoundCut];
    }
    out.solutions.push(solution);
    out
}
