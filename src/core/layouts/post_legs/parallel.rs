//! Legs of one depth all along: every lean that gives the wished size, with its answers, part,
//! figure and derivation.

use super::figure::{self, Outline};
use super::lean::{Foot, Lean, Stance};
use super::post::{Hang, Post};
use super::roots::{self, Basis, Refusal};
use super::{check_finite, joint_notes};
use crate::geometry::{Point, Vector};
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::parts::{CutName, Part};
use crate::problem::{Level, Problem};
use crate::say;
use crate::scene::{Item, Scene, Source};
use crate::units::{Angle, Length, Quantity, Text};

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
    let mut out = Outcome {
        solutions: Vec::new(),
        problems: legs.post.problems(),
    };
    out.problems
        .extend(legs.post.check_footprint(legs.footprint));
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
        out.problems.push(too_deep(legs, stance.run));
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
            let mut text = say![
                "Leaning ",
                Angle(lean.degrees),
                " gives this size too, but: "
            ];
            text.0.append(&mut p.text.0);
            p.text = text;
        }
        out.problems.push(p.of_way(legs.foot.key()));
    }
    out
}

fn too_deep(legs: &Legs, run: f64) -> Problem {
    let least = legs.post.width_with_cleats() + 2.0 * legs.depth;
    Problem::stop(
        "leg_depth",
        say![
            "With a level foot at this footprint the leg must be less than ",
            Length(run),
            " deep, or its inner edge vanishes; a leg this deep needs a footprint of more than ",
            Length(least),
            "."
        ],
    )
    .with_limit(Quantity::Length(Length(run)))
    .of_way(legs.foot.key())
}

impl Legs {
    /// The size that the lean must give, and what must be added to it for the size as given.
    fn sought(&self) -> (f64, f64) {
        match (self.basis, self.post.length) {
            (Basis::OverallHeight, Some(length)) => {
                let shift = length - self.post.below_joint;
                (self.value - shift, shift)
            }
            _ => (self.value, 0.0),
        }
    }

    /// An overall height below the post's length puts its lower end under the floor.
    fn check_overall(&self) -> Option<Problem> {
        let length = self.post.length?;
        (self.basis == Basis::OverallHeight && self.value < length).then(|| {
            Problem::stop(
                "overall_height",
                say![
                    "The post would go through the floor: overall it stands at least as high as it is long, ",
                    Length(length),
                    "."
                ],
            )
            .with_limit(Quantity::Length(Length(length)))
        })
    }

    fn refused(&self, refusal: Refusal, shift: f64) -> Problem {
        let limit = self.basis.quantity(refusal.limit + shift);
        let (most, why) = if refusal.above {
            (false, ".")
        } else {
            (true, ": past that its inner edge vanishes.")
        };
        let why = match (self.basis, refusal.above) {
            (Basis::Splay, _) if refusal.limit == 90.0 => "; it must stand up.",
            (Basis::RiseMiddle | Basis::RiseBottom | Basis::OverallHeight, false) => {
                ": no lean brings the joint higher."
            }
            (Basis::ShortPoint, false) => ": at that it lies down.",
            _ => why,
        };
        let text = match (self.basis, most) {
            (Basis::LongPoint, false) => say![
                "At this footprint the leg needs at least ",
                limit,
                " along its outer edge",
                why
            ],
            (Basis::LongPoint, true) => say![
                "At this footprint the leg may be at most ",
                limit,
                " along its outer edge",
                why
            ],
            (Basis::ShortPoint, false) => say![
                "At this footprint the leg needs at least ",
                limit,
                " along its inner edge",
                why
            ],
            (Basis::ShortPoint, true) => say![
                "At this footprint the leg must be less than ",
                limit,
                " along its inner edge",
                why
            ],
            (Basis::Splay, false) => say![
                "At this footprint the leg must lean more than ",
                limit,
                " from upright",
                why
            ],
            (Basis::Splay, true) => say![
                "At this footprint the leg must lean less than ",
                limit,
                " from upright",
                why
            ],
            (Basis::RiseTop, false) => say![
                "At this footprint the joint's upper end must be more than ",
                limit,
                " above the floor",
                why
            ],
            (Basis::RiseTop, true) => say![
                "At this footprint the joint's upper end must be less than ",
                limit,
                " above the floor",
                why
            ],
            (Basis::RiseMiddle, false) => say![
                "At this footprint the joint's middle must be more than ",
                limit,
                " above the floor",
                why
            ],
            (Basis::RiseMiddle, true) => say![
                "At this footprint the joint's middle may be at most ",
                limit,
                " above the floor",
                why
            ],
            (Basis::RiseBottom, false) => say![
                "At this footprint the joint's lower end must be more than ",
                limit,
                " above the floor",
                why
            ],
            (Basis::RiseBottom, true) => say![
                "At this footprint the joint's lower end may be at most ",
                limit,
                " above the floor",
                why
            ],
            (Basis::OverallHeight, false) => say![
                "The overall height must be more than ",
                limit,
                " for the joint to be above the floor",
                why
            ],
            (Basis::OverallHeight, true) => say![
                "At this footprint the overall height may be at most ",
                limit,
                why
            ],
        };
        Problem::stop(self.basis.key(), text)
            .with_limit(limit)
            .of_way(self.foot.key())
    }

    fn solution(&self, s: &Stance, lean: Lean, detail: Detail) -> Result<Solution, Problem> {
        let t = lean.t;
        let size = |basis: Basis, computed: f64| {
            // The size that was given stays as it was given.
            if basis == self.basis {
                self.value
            } else {
                computed
            }
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
            .length(
                "rise_to_joint_middle",
                size(Basis::RiseMiddle, s.rise_middle(t)),
            )
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
        if let (Basis::OverallHeight, Some(slot)) = (
            self.basis,
            answers.0.iter_mut().find(|(k, _)| k == "overall_height"),
        ) {
            slot.1 = crate::layouts::Answer::Quantity(Quantity::Length(Length(self.value)));
        }
        check_finite(&answers, self.basis.key())?;
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
                CutName {
                    name: match s.foot {
                        Foot::Floor => "Foot, on the floor",
                        Foot::Square => "Foot, left square",
                    },
                    miter_key: Some("foot_reading_deg"),
                },
                CutName {
                    name: "Joint, on the post",
                    miter_key: Some("top_reading_deg"),
                },
            ],
        );
        part.count = self.post.legs;
        part
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
        let across = up.left().times(s.depth);
        let middle = leg.toe.middle(leg.joint_top);
        scene.given(
            middle,
            middle.plus(across),
            0,
            Quantity::Length(Length(s.depth)),
            "leg_depth",
        );
        let length = |x: f64| Quantity::Length(Length(x));
        if self.basis == Basis::LongPoint {
            scene.given(
                leg.toe,
                leg.joint_top,
                -1,
                length(outer),
                "long_point_length",
            );
        } else {
            scene.computed(
                leg.toe,
                leg.joint_top,
                -1,
                length(outer),
                "long_point_length",
            );
        }
        if self.basis == Basis::ShortPoint {
            scene.given(
                leg.heel,
                leg.joint_bottom,
                1,
                length(inner),
                "short_point_length",
            );
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
                scene.given(at(y), at(0.0), -1, length(self.value), self.basis.key());
            }
            None => {
                scene.computed(
                    at(leg.joint_top.y),
                    at(0.0),
                    -1,
                    length(leg.joint_top.y),
                    "rise_to_joint_top",
                );
            }
        }
        scene.add(Item::AngleMark {
            at: leg.toe,
            from: Angle(90.0),
            to: Angle(90.0 + lean.degrees),
            value: Quantity::Angle(Angle(lean.degrees)),
            source: if self.basis == Basis::Splay {
                Source::Given("splay_deg")
            } else {
                Source::Computed("splay_deg")
            },
        });
        scene.add(Item::AngleMark {
            at: leg.joint_top,
            from: Angle(180.0 + lean.degrees),
            to: Angle(270.0),
            value: Quantity::Angle(Angle(90.0 - lean.degrees)),
            source: Source::Computed("top_reading_deg"),
        });
        scene
    }

    fn derivation(&self, s: &Stance, lean: Lean, outer: f64, inner: f64, joint: f64) -> Vec<Text> {
        let a = Angle(lean.degrees);
        let run = Length(s.run);
        let mut steps = vec![say![
            "Each foot lands ",
            run,
            if self.post.cleat > 0.0 {
                " out from its cleat: (footprint − post − 2 cleats) ÷ 2."
            } else {
                " out from the post: (footprint − post) ÷ 2."
            }
        ]];
        let value = self.basis.quantity(self.value);
        let d = Length(s.depth);
        steps.push(match (self.basis, s.foot) {
            (Basis::LongPoint, _) => say!["Splay: asin(", run, " ÷ ", value, ") = ", a, "."],
            (Basis::Splay, _) => say!["The splay is given: ", a, "."],
            (Basis::RiseTop, Foot::Floor) => {
                say!["Splay: atan(", run, " ÷ ", value, ") = ", a, "."]
            }
            (Basis::RiseTop, Foot::Square) => say![
                "The splay for which ",
                run,
                " ÷ tan(splay) + ",
                d,
                " × sin(splay) = ",
                value,
                ": ",
                a,
                "."
            ],
            (Basis::RiseMiddle, Foot::Floor) => say![
                "The splay for which ",
                run,
                " ÷ tan(splay) − ",
                d,
                " ÷ 2 sin(splay) = ",
                value,
                ": ",
                a,
                "."
            ],
            (Basis::RiseMiddle, Foot::Square) => say![
                "The splay for which ",
                run,
                " ÷ tan(splay) + ",
                d,
                " × sin(splay) − ",
                d,
                " ÷ 2 sin(splay) = ",
                value,
                ": ",
                a,
                "."
            ],
            (Basis::ShortPoint, Foot::Floor) => say![
                "The splay for which ",
                run,
                " ÷ sin(splay) − ",
                d,
                " × (tan(splay) + 1 ÷ tan(splay)) = ",
                value,
                ": ",
                a,
                "."
            ],
            (Basis::ShortPoint, Foot::Square) => say![
                "The splay for which ",
                run,
                " ÷ sin(splay) − ",
                d,
                " ÷ tan(splay) = ",
                value,
                ": ",
                a,
                "."
            ],
            (Basis::RiseBottom | Basis::OverallHeight, foot) => {
                let (rise, _) = self.sought();
                let mut t = Text::default();
                if self.basis == Basis::OverallHeight {
                    t = say![
                        "The joint's lower end stands ",
                        Length(rise),
                        " up: overall height − post length + post below the joint. "
                    ];
                }
                let rest = if foot == Foot::Floor {
                    say![
                        "The splay for which ",
                        run,
                        " ÷ tan(splay) − ",
                        d,
                        " ÷ sin(splay) = ",
                        Length(rise),
                        ": ",
                        a,
                        "."
                    ]
                } else {
                    say![
                        "The splay for which ",
                        run,
                        " ÷ tan(splay) + ",
                        d,
                        " × sin(splay) − ",
                        d,
                        " ÷ sin(splay) = ",
                        Length(rise),
                        ": ",
                        a,
                        "."
                    ]
                };
                t.0.extend(rest.0);
                t
            }
        });
        steps.push(say![
            "The joint is cut off square by 90° less the splay: ",
            Angle(90.0 - a.0),
            match s.foot {
                Foot::Floor => "; the foot by the splay itself.",
                Foot::Square => "; the foot is left square.",
            }
        ]);
        steps.push(say![
            "Outer edge: ",
            run,
            " ÷ sin(splay) = ",
            Length(outer),
            "."
        ]);
        steps.push(match s.foot {
            Foot::Floor => say![
                "Inner edge: shorter by ",
                d,
                " × (tan(splay) + 1 ÷ tan(splay)): ",
                Length(inner),
                "."
            ],
            Foot::Square => say![
                "Inner edge: shorter by ",
                d,
                " ÷ tan(splay): ",
                Length(inner),
                "."
            ],
        });
        steps.push(say![
            "Joint on the post: ",
            d,
            " ÷ sin(splay) = ",
            Length(joint),
            "."
        ]);
        steps
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
    all.push(Caution::TallStand);
    all
}
