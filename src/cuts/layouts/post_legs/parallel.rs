//! Legs of one depth all along: every lean that gives the wished size, with its answers, part,
//! figure and derivation.

use super::figure::{self, Outline};
use super::lean::{Foot, Lean, Stance};
use super::notes::joint_notes;
use super::post::{Hang, Post};
use super::roots::{self, Basis};
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::parts::{CutName, Part, Sides};
use crate::problem::{Level, Problem};
use offsquare_geometry::scene::{Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Angle, Length, Quantity, Text, say};

/// Parallel legs with one size from which the lean follows; inches and degrees.
#[derive(Clone, Copy, Debug)]
pub struct Legs {
    pub post: Post,
    pub footprint: f64,
    pub depth: f64,
    pub foot: Foot,
    pub basis: Basis,
    /// The basis, as it was given.
    pub value: f64,
}

/// Every solution by rising splay.
/// Example: post 3 1/2, footprint 15 1/2, leg 1 1/2 deep and 12 long: run 6, splay 30°, reading 60°.
pub fn solve(legs: &Legs, detail: Detail) -> Outcome {
    let mut out = Outcome { solutions: Vec::new(), problems: legs.post.problems() };
    out.problems.extend(legs.post.check_footprint(legs.footprint));
    out.problems.extend(legs.check_overall());
    if out.problems.iter().any(|p| p.level == Level::Stop) {
        return out;
    }
    let stance = Stance {
        run: (legs.footprint - legs.post.width_with_cleats()) / 2.0,
        depth: legs.depth,
        foot: legs.foot,
    };
    if stance.foot == Foot::Floor && stance.run <= stance.depth {
        out.problems.push(legs.too_deep(stance.run));
        return out;
    }
    let (size, shift) = legs.sought();
    let leans = match roots::leans(&stance, legs.basis, size) {
        Ok(leans) => leans,
        Err(refusal) => {
            out.problems.push(legs.refused(refusal, shift));
            return out;
        }
    };
    let count = leans.len();
    let mut failed = Vec::new();
    for lean in leans {
        match legs.solution(&stance, lean, detail) {
            Ok(mut s) => {
                if count > 1 && detail == Detail::Full {
                    s.notes.push(
                        Text::words(format!("{count} leans give these sizes; this one leans "))
                            .and(Angle(lean.degrees))
                            .and("."),
                    );
                }
                out.solutions.push(s);
            }
            Err(p) => failed.push((lean, p)),
        }
    }
    // Where another lean can be made, one that cannot is worth knowing, but stops nothing.
    for (lean, mut p) in failed {
        if !out.solutions.is_empty() {
            p.level = Level::Warn;
            let mut text = say!("Leaning {} gives this size too, but: ", Angle(lean.degrees));
            text.0.append(&mut p.text.0);
            p.text = text;
        }
        out.problems.push(p.of_way(legs.foot.key()));
    }
    out
}

impl Legs {
    /// The size that the lean must give, and what must be added to it for the size as given.
    pub(super) fn sought(&self) -> (f64, f64) {
        match (self.basis, self.post.length) {
            (Basis::OverallHeight, Some(length)) => {
                let shift = length - self.post.below_joint;
                (self.value - shift, shift)
            }
            _ => (self.value, 0.0),
        }
    }

    fn solution(&self, s: &Stance, lean: Lean, detail: Detail) -> Result<Solution, Problem> {
        let t = lean.t;
        let size = |basis: Basis, computed: f64| {
            // The size that was given stays as it was given.
            if basis == self.basis { self.value } else { computed }
        };
        let joint = s.joint(t);
        let bottom = match self.basis {
            Basis::RiseBottom | Basis::OverallHeight => self.sought().0,
            _ => s.rise_bottom(t),
        };
        let outer = size(Basis::LongPoint, s.outer_edge(t));
        let inner = size(Basis::ShortPoint, s.inner_edge(t));
        let rise_top = size(Basis::RiseTop, s.rise_top(t));
        let scale = self.footprint.max(outer).max(rise_top);
        let hang = self.post.hang(bottom, joint, scale)?;
        let foot_reading = match s.foot {
            Foot::Floor => lean.degrees,
            Foot::Square => 0.0,
        };
        let mut answers = Answers::new();
        answers
            .angle("splay_deg", lean.degrees)
            .angle("slope_to_floor_deg", 90.0 - lean.degrees)
            .angle("top_reading_deg", 90.0 - lean.degrees)
            .angle("foot_reading_deg", foot_reading)
            .length("long_point_length", outer)
            .length("short_point_length", inner)
            .length("outer_edge_length", outer)
            .length("inner_edge_length", inner)
            .length("rise_to_joint_top", rise_top)
            .length("rise_to_joint_middle", size(Basis::RiseMiddle, s.rise_middle(t)))
            .length("rise_to_joint_bottom", bottom)
            .length("joint_length_on_post", joint)
            .length("foot_cut_length", s.foot_cut(t));
        self.post.answers(
            &mut answers,
            &hang,
            joint,
            self.footprint,
            match s.foot {
                Foot::Floor => self.footprint,
                Foot::Square => self.footprint - 2.0 * s.toe_to_heel(t),
            },
        );
        if let (Basis::OverallHeight, Some(slot)) =
            (self.basis, answers.0.iter_mut().find(|(k, _)| k == "overall_height"))
        {
            slot.1 = crate::layouts::Answer::Quantity(Quantity::Length(Length(self.value)));
        }
        answers.check_finite(self.basis.key())?;
        let mut solution = Solution {
            way: self.foot.key(),
            title: match self.foot {
                Foot::Floor => "Foot flat on the floor",
                Foot::Square => "Foot left square",
            },
            answers,
            headline: match self.foot {
                Foot::Floor => vec!["top_reading_deg", "foot_reading_deg", "long_point_length"],
                Foot::Square => vec!["top_reading_deg", "long_point_length"],
            },
            ..Solution::default()
        };
        if detail == Detail::Full {
            let part = self.part(s, t);
            solution.figure = self.figure(s, lean, &hang, outer, inner);
            solution.parts.push(part);
            solution.derivation = self.derivation(s, lean, outer, inner, joint);
            solution.notes = joint_notes(&self.post, joint, self.foot);
            solution.cautions = cautions(90.0 - lean.degrees, outer);
            solution.cautions.extend(stands(self.footprint, &solution.answers));
        }
        Ok(solution)
    }

    /// The leg with its outer edge at the fence and its foot at the left.
    fn part(&self, s: &Stance, t: f64) -> Part {
        let (outer, d) = (s.outer_edge(t), s.depth);
        let tan = 2.0 * t / ((1.0 - t) * (1.0 + t));
        let foot = match s.foot {
            Foot::Floor => d * tan,
            Foot::Square => 0.0,
        };
        let mut part = Part::stick(
            "Leg",
            Length(d),
            self.post.breadth.map(Length),
            &[Point::new(foot, 0.0), Point::new(0.0, d)],
            &[Point::new(outer - d / tan, 0.0), Point::new(outer, d)],
            &[
                CutName::read(s.foot.cut_name(), "foot_reading_deg"),
                CutName::read("Joint, on the post", "top_reading_deg"),
            ],
        );
        part.count = self.post.legs;
        part.called(Sides::LEG)
    }

    fn figure(&self, s: &Stance, lean: Lean, hang: &Hang, outer: f64, inner: f64) -> Scene {
        let t = lean.t;
        let face = self.post.width_with_cleats() / 2.0;
        let half = self.footprint / 2.0;
        let leg = Outline {
            joint_top: Point::new(face, s.rise_top(t)),
            joint_bottom: Point::new(face, s.rise_bottom(t)),
            toe: Point::new(half, s.toe_height(t)),
            heel: Point::new(half - s.toe_to_heel(t), 0.0),
        };
        let mut scene = figure::side_view(&self.post, hang, &leg, Length(self.footprint));
        let up = Vector::at(Angle(90.0 + lean.degrees));
        let across = up.left() * s.depth;
        let middle = leg.toe.middle(leg.joint_top);
        let at = |p: Point| figure::aside(self.post.legs, p, 0).0;
        scene.given(at(middle), at(middle + across), 0, Length(s.depth), "leg_depth");
        if self.basis == Basis::LongPoint {
            scene.given(leg.toe, leg.joint_top, -1, Length(outer), "long_point_length");
        } else {
            scene.computed(leg.toe, leg.joint_top, -1, Length(outer), "long_point_length");
        }
        if self.basis == Basis::ShortPoint {
            scene.given(leg.heel, leg.joint_bottom, 1, Length(inner), "short_point_length");
        }
        // Heights stand clear at the left, where the other foot ends.
        let at = |y: f64| Point::new(-half, y);
        let rise = match self.basis {
            Basis::RiseMiddle => Some((leg.joint_top.y + leg.joint_bottom.y) / 2.0),
            Basis::RiseBottom => Some(leg.joint_bottom.y),
            Basis::RiseTop => Some(leg.joint_top.y),
            Basis::OverallHeight => hang.top,
            _ => None,
        };
        match rise {
            Some(y) => {
                scene.given(at(y), at(0.0), -1, Length(self.value), self.basis.key());
            }
            None => {
                scene.computed(
                    at(leg.joint_top.y),
                    at(0.0),
                    -1,
                    Length(leg.joint_top.y),
                    "rise_to_joint_top",
                );
            }
        }
        scene.angle(
            leg.toe,
            (90.0, 90.0 + lean.degrees),
            lean.degrees,
            if self.basis == Basis::Splay {
                Source::Given("splay_deg")
            } else {
                Source::Computed("splay_deg")
            },
        );
        scene.angle(
            leg.joint_top,
            (180.0 + lean.degrees, 270.0),
            90.0 - lean.degrees,
            Source::Computed("top_reading_deg"),
        );
        scene
    }
}

/// `reading` at the joint, degrees; `longest` edge, inches. A saw commonly swings 50° and holds 8 in
/// (common practice).
pub fn cautions(reading: f64, longest: f64) -> Vec<Caution> {
    let mut all = Vec::new();
    if longest < 8.0 {
        all.push(Caution::ShortPiece);
    }
    if reading > 50.0 {
        all.push(Caution::SteepCut);
    }
    all
}

/// Of a post on legs: someone hangs a load on it, and it tips where it is higher than its footprint is
/// wide (a rule of thumb, for as long as tipping is not computed).
pub fn stands(footprint: f64, answers: &Answers) -> Vec<Caution> {
    let length = |path| match answers.quantity(path) {
        Some(Quantity::Length(l)) => l.0,
        _ => 0.0,
    };
    // Without the post's length it is at least as high as the joint.
    let height = length("overall_height").max(length("rise_to_joint_top"));
    let mut all = vec![Caution::SplayedLegs];
    if height > footprint {
        all.push(Caution::TallStand);
    }
    all
}
