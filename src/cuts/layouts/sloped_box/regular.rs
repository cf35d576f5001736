//! n equal sides: one board, one setting.

use super::board::{Board, butt_plane_turned, check, floor};
use super::{picture, solids};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Outcome, Refused, Solution};
use offsquare_geometry::scene::{Scene, Source};
use offsquare_geometry::{Point, Vector3};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Text, num, say};

/// tan m = tan(180/n)·|sin tilt|, sin bevel = cos tilt·sin(180/n).
/// Example: 4 sides at tilt 45: miter 35.26, bevel 30.00 (operator's manual no. 315.21212, p. 24).
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (n, bottom) = (inputs.need("sides")?, inputs.need("outer_bottom_side")?);
    let (tilt, t, h) =
        (inputs.need("tilt_deg")?, inputs.need("thickness")?, inputs.need("height")?);
    let half = 180.0 / n;
    let tan_half = num::tan_deg(half);
    let spread = 2.0 * tan_half * num::tan_deg(tilt);
    // The inner face stands t/cos(tilt) further in, on the level.
    let lost = 2.0 * tan_half * t / num::cos_deg(tilt);
    let mut out = Outcome::default();
    let ring = solids::Ring {
        n: n as u32,
        thick: t / num::cos_deg(tilt),
        butt: inputs.choice("joint") == Some("butt"),
    };
    let (outer_lost, inner_lost) = ring.shorter();
    check(bottom, spread, lost.max(outer_lost), h, ("thickness", t), &mut out);
    if !out.problems.is_empty() {
        return Ok(out);
    }
    let board = Board {
        name: "Side",
        count: n as u32,
        outer: bottom - outer_lost,
        inner: bottom - inner_lost,
        grown: h * spread,
        height: h,
        tilt,
        thickness: t,
        end: if ring.butt {
            butt_plane_turned(tilt, 2.0 * half)
        } else {
            // The upright plane through the box's middle and the corner.
            Vector3::new(num::cos_deg(half), -num::sin_deg(half), 0.0)
        },
        keys: ("mitre_deg", "bevel_deg"),
    };
    let (miter, bevel) = board.settings();
    let dihedral = 180.0 - 2.0 * mitered(tilt, ring);
    let top = bottom + board.grown;
    let corner = num::hypot(h, (top - bottom) / (2.0 * num::sin_deg(half)));
    let mut answers = Answers::new();
    board.answers(&mut answers, corner);
    answers.angle("butt_bevel_deg", butt_bevel(tilt, ring)).angle("dihedral_deg", dihedral);
    let floor = floor(inputs.length("floor_height"), inputs.length("floor_thickness"), h, &mut out);
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
        way: if ring.butt { "butt" } else { "mitre" },
        title: if ring.butt { "Butted corners" } else { "Mitered corners" },
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
        solution.figure = figure(&board, ring, bottom, top);
        solution.solids = ring.solids(bottom, top, h);
        solution.derivation = derivation(&board, ring, (bottom, top));
        solution.standing = vec![board.standing()];
        solution.notes = notes(&board, ring, floor.is_some());
        if miter > 0.0 && bevel > 0.0 {
            solution.cautions.push(Caution::CompoundCut);
        }
        if tilt != 0.0 {
            solution.cautions.push(Caution::RippedEdge);
        }
    }
    out.solutions.push(solution);
    Ok(out)
}

/// The bevel of mitered corners: half of what neighbors turn by.
fn mitered(tilt: f64, ring: solids::Ring) -> f64 {
    num::asin_deg(num::cos_deg(tilt) * num::sin_deg(180.0 / f64::from(ring.n)))
}

/// The bevel of butted corners.
fn butt_bevel(tilt: f64, ring: solids::Ring) -> f64 {
    (90.0 - (180.0 - 2.0 * mitered(tilt, ring))).abs()
}

fn derivation(board: &Board, ring: solids::Ring, (bottom, top): (f64, f64)) -> Vec<Text> {
    let half = 180.0 / f64::from(ring.n);
    let mitred = mitered(board.tilt, ring);
    let (miter, bevel) = board.settings();
    vec![
        say!("Half the angle between neighbors, seen from above: 180° ÷ sides = {}.", Angle(half)),
        say!("tan(miter) = tan({}) × sin(lean): {}.", Angle(half), Angle(miter)),
        say!(
            "sin(half of what neighbors turn by) = cos(lean) × sin({}): {}{}{}.",
            Angle(half),
            Angle(mitred),
            if ring.butt {
                "; butted, the bevel is 90° less twice that: "
            } else {
                ", which is the bevel: "
            },
            Angle(bevel)
        ),
        say!("Each side grows from {} to {} over the height.", Length(bottom), Length(top)),
    ]
}

/// What to rip, and the other way to join the corners. `floor`: there is one.
fn notes(board: &Board, ring: solids::Ring, floor: bool) -> Vec<Text> {
    let mut notes = vec![
        say!(
            "Rip top and bottom edges at {} to make them level; the rough board must be {} wide.",
            Angle(board.tilt.abs()),
            Length(board.slant() + board.thickness * num::tan_deg(board.tilt).abs())
        ),
        if ring.butt {
            say!(
                "Each board ends on its right neighbor's inner face and covers the end of its left \
                 one."
            )
        } else {
            say!(
                "Butted instead of mitered: the same miter, bevel {}.",
                Angle(butt_bevel(board.tilt, ring))
            )
        },
    ];
    if floor {
        notes.push(say!(
            "Bevel the floor's edges at {} so that they lie on the sides.",
            Angle(board.tilt.abs())
        ));
    }
    notes
}

/// The plan with its first side at the bottom, and the board.
fn figure(board: &Board, ring: solids::Ring, bottom: f64, top: f64) -> Scene {
    // Corners come from the mitered ring; the joints as they are cut.
    let mitred = solids::Ring { butt: false, ..ring };
    let corners = |side: f64, which: usize| -> Vec<Point> {
        (0..ring.n).map(|k| mitred.board(k, side)[which]).gather()
    };
    let joint = |k: u32| {
        let b = ring.board(k, top);
        (b[1], b[2])
    };
    let plan = picture::Plan {
        outer_bottom: corners(bottom, 0),
        outer_top: corners(top, 0),
        inner_bottom: corners(bottom, 3),
        inner_top: corners(top, 3),
        tilts: vec![board.tilt; ring.n as usize],
        joints: (0..ring.n).map(joint).gather(),
    };
    let told = picture::Told {
        title: "Outer face",
        bottom: if ring.butt {
            Source::Computed("outer_bottom_width")
        } else {
            Source::Given("outer_bottom_side")
        },
        top: "outer_top_width",
        slant: "slant_height",
        tilt: "tilt_deg",
        thickness: "thickness",
    };
    let given = [(plan.outer_bottom[0], plan.outer_bottom[1], Length(bottom), "outer_bottom_side")];
    picture::picture(&[(board, told)], &plan, if ring.butt { &given } else { &[] })
}
