//! A rectangle with two slopes: fronts and sides, mitered or butted.

use super::board::{Board, butt_plane, check, floor, miter_plane};
use super::{picture, solids};
use crate::inputs::Inputs;
use crate::layouts::compound::{Ended, Piece};
use crate::layouts::{Answers, Caution, Detail, Outcome, Refused, Solution};
use crate::parts::{Part, Ripped, Sides};
use offsquare_geometry::scene::{Scene, Source};
use offsquare_geometry::{Point, Vector3};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Text, num, say};

/// One of the two pairs of boards.
#[derive(Clone, Copy)]
struct Pair {
    bottom: f64,
    tilt: f64,
    thickness: f64,
    /// What the neighbors' thickness takes off, on the level, both ends together.
    lost: f64,
    /// Growth of the outer size per unit of height: it follows the neighbors' lean.
    spread: f64,
}

impl Pair {
    /// Between the inner faces, at a height.
    fn inside(&self, z: f64) -> f64 {
        self.bottom - self.lost + z * self.spread
    }
    fn board(&self, other: &Pair, h: f64, joint: &str, front: bool) -> Board {
        let between = joint == if front { "front_between" } else { "sides_between" };
        let (outer_lost, inner_lost) = match joint {
            "mitre" => (0.0, self.lost),
            _ if between => (self.lost, self.lost),
            _ => (0.0, 0.0),
        };
        Board {
            name: if front { "Front and back" } else { "Sides" },
            count: 2,
            outer: self.bottom - outer_lost,
            inner: self.bottom - inner_lost,
            grown: h * self.spread,
            height: h,
            tilt: self.tilt,
            thickness: self.thickness,
            end: if joint == "mitre" {
                miter_plane((self.tilt, self.thickness), (other.tilt, other.thickness))
            } else {
                butt_plane(other.tilt)
            },
            keys: if front {
                ("front.mitre_deg", "front.bevel_deg")
            } else {
                ("side.mitre_deg", "side.bevel_deg")
            },
        }
    }
}

/// Example: both leans 45, equal thickness: miter 35.26, bevel 30.00 on both.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let (w, d) = (inputs.need("outer_bottom_width")?, inputs.need("outer_bottom_depth")?);
    let (a, b) = (inputs.need("tilt_front_deg")?, inputs.need("tilt_side_deg")?);
    let (tf, ts) = (inputs.need("thickness_front")?, inputs.need("thickness_side")?);
    let h = inputs.need("height")?;
    let joint = inputs.choice("joint").unwrap_or("mitre");
    let front = Pair {
        bottom: w,
        tilt: a,
        thickness: tf,
        lost: 2.0 * ts / num::cos_deg(b),
        spread: 2.0 * num::tan_deg(b),
    };
    let side = Pair {
        bottom: d,
        tilt: b,
        thickness: ts,
        lost: 2.0 * tf / num::cos_deg(a),
        spread: 2.0 * num::tan_deg(a),
    };
    let mut out = Outcome::default();
    for (p, thick) in [(&front, ("thickness_side", ts)), (&side, ("thickness_front", tf))] {
        check(p.bottom, p.spread, p.lost, h, thick, &mut out);
    }
    if !out.problems.is_empty() {
        return Ok(out);
    }
    // Twice the sine of half of it tells small differences from 90 as well.
    let dihedral = 90.0 + num::asin_deg(num::sin_deg(a) * num::sin_deg(b));
    let corner = h * num::hypot(num::hypot(1.0, num::tan_deg(a)), num::tan_deg(b));
    let boards = [front.board(&side, h, joint, true), side.board(&front, h, joint, false)];
    let mut answers = Answers::new();
    answers.angle("dihedral_deg", dihedral);
    for (name, board) in ["front", "side"].into_iter().zip(&boards) {
        let mut g = Answers::new();
        board.answers(&mut g, corner);
        answers.group(name, g);
    }
    let floor = floor(inputs.length("floor_height"), inputs.length("floor_thickness"), h, &mut out);
    if let Some((below, above)) = floor {
        floor_answers((&front, &side), below, above, &mut answers);
    }
    let mut solution = Solution {
        way: way(joint),
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
        solution.parts = boards.iter().map(Board::part).gather();
        if let Some((below, Some(above))) = floor {
            let size = |z: f64| (front.inside(z), side.inside(z));
            solution.parts.push(floor_part(size(above), size(below).1, above - below, (a, b)));
        }
        solution.figure = figure(&front, &side, &boards, joint);
        solution.solids = solids::rectangle(
            (front.bottom, side.bottom),
            (front.bottom + h * front.spread, side.bottom + h * side.spread),
            (front.lost, side.lost),
            h,
            joint,
        );
        solution.derivation = derivation(&boards, dihedral, joint);
        solution.standing = boards.iter().map(Board::standing).gather();
        solution.notes = notes(a, b, floor.is_some());
        let compound = |b: &Board| b.settings().0 > 0.0 && b.settings().1 > 0.0;
        if boards.iter().any(compound) {
            solution.cautions.push(Caution::CompoundCut);
        }
        if a != 0.0 || b != 0.0 {
            solution.cautions.push(Caution::RippedEdge);
        }
    }
    out.solutions.push(solution);
    Ok(out)
}

/// The floor's sizes at its lower face, and at its upper one where it has a thickness.
fn floor_answers(
    (front, side): (&Pair, &Pair),
    below: f64,
    above: Option<f64>,
    answers: &mut Answers,
) {
    answers.length("floor_width", front.inside(below)).length("floor_depth", side.inside(below));
    if let Some(above) = above {
        answers
            .length("floor_width_above", front.inside(above))
            .length("floor_depth_above", side.inside(above));
    }
}

/// What to rip; `floor`: there is one.
fn notes(a: f64, b: f64, floor: bool) -> Vec<Text> {
    let mut notes = vec![say!(
        "Rip level edges at {} on front and back, {} on the sides.",
        Angle(a.abs()),
        Angle(b.abs())
    )];
    if floor {
        notes.push(say!(
            "Bevel the floor's edges: {} at front and back, {} at the sides.",
            Angle(a.abs()),
            Angle(b.abs())
        ));
    }
    notes
}

fn way(joint: &str) -> &'static str {
    match joint {
        "front_between" => "front_between",
        "sides_between" => "sides_between",
        _ => "mitre",
    }
}

fn derivation([front, side]: &[Board; 2], dihedral: f64, joint: &str) -> Vec<Text> {
    let ((fm, fb), (sm, sb)) = (front.settings(), side.settings());
    let mut lines = vec![
        say!("Front boards: tan(miter) = cos(front lean) × tan(side lean): {}.", Angle(fm)),
        say!("Sides: tan(miter) = cos(side lean) × tan(front lean): {}.", Angle(sm)),
        say!(
            "Angle between the outer faces: cos = −sin(front lean) × sin(side lean): {}.",
            Angle(dihedral)
        ),
    ];
    lines.push(if joint != "mitre" {
        say!("Butted, the bevel is what it differs from 90°: {}.", Angle((90.0 - dihedral).abs()))
    } else if front.thickness == side.thickness {
        say!("Mitered, each bevel is 90° less half of it: {}.", Angle(fb))
    } else {
        say!(
            "Mitered in unequal stock: tan(bevel) = (neighbor's thickness + own × cos of it) ÷ \
             (own × sin of it): front {}, sides {}.",
            Angle(fb),
            Angle(sb)
        )
    });
    lines
}

/// The floor from above, its width along the saw: bevelled ends that lie on the sides, edges that are
/// ripped to lie on front and back. `below`: how deep it is on its under side.
fn floor_part(
    (width, depth): (f64, f64),
    below: f64,
    thick: f64,
    (front, tilt): (f64, f64),
) -> Part {
    let normal = |along: f64| Vector3::new(along * num::cos_deg(tilt), 0.0, -num::sin_deg(tilt));
    Piece {
        name: "Floor",
        count: 1,
        seen: depth.max(below),
        away: thick,
        sides: Sides {
            face: "upper face",
            edge_a: "front edge",
            edge_b: "back edge",
            ..Sides::DRAWN
        },
        ripped: (front != 0.0).then(|| Ripped { tilt: Angle(front.abs()), leaves: Length(depth) }),
        left: Ended { name: "Left end", normal: normal(-1.0), at: -width / 2.0 },
        right: Ended { name: "Right end", normal: normal(1.0), at: width / 2.0 },
        keys: (None, Some("side.edge_rip_deg")),
    }
    .part()
}

fn figure(front: &Pair, side: &Pair, boards: &[Board; 2], joint: &str) -> Scene {
    let h = boards[0].height;
    let ring = |w: f64, d: f64| -> Vec<Point> {
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
            .map(|(x, y)| Point::new(x * w / 2.0, y * d / 2.0))
            .to_vec()
    };
    let outer = |z: f64| (front.bottom + z * front.spread, side.bottom + z * side.spread);
    let (ow, od) = outer(h);
    let (iw, id) = (front.inside(h), side.inside(h));
    let inner_top = ring(iw, id);
    let from = match joint {
        "front_between" => ring(iw, od),
        "sides_between" => ring(ow, id),
        _ => ring(ow, od),
    };
    let plan = picture::Plan {
        outer_bottom: ring(front.bottom, side.bottom),
        outer_top: ring(ow, od),
        inner_bottom: ring(front.inside(0.0), side.inside(0.0)),
        tilts: vec![front.tilt, side.tilt, front.tilt, side.tilt],
        joints: from.into_iter().zip(inner_top.iter().copied()).gather(),
        inner_top,
    };
    let (w, d) = (front.bottom / 2.0, side.bottom / 2.0);
    // Above the plan and on its left, out of the way of the boards' sizes.
    let given = [
        (Point::new(w, d), Point::new(-w, d), Length(front.bottom), "outer_bottom_width"),
        (Point::new(-w, d), Point::new(-w, -d), Length(side.bottom), "outer_bottom_depth"),
    ];
    let [f, s] = boards;
    let sides = picture::Told {
        title: "Side",
        bottom: Source::Computed("side.outer_bottom_width"),
        top: "side.outer_top_width",
        slant: "side.slant_height",
        tilt: "tilt_side_deg",
        thickness: "thickness_side",
    };
    let fronts = picture::Told {
        title: "Front",
        bottom: Source::Computed("front.outer_bottom_width"),
        top: "front.outer_top_width",
        slant: "front.slant_height",
        tilt: "tilt_front_deg",
        thickness: "thickness_front",
    };
    picture::picture(&[(f, fronts), (s, sides)], &plan, &given)
}
