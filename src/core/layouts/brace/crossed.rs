//! Two braces that cross: half lapped, or one through and the other in two halves.

use super::asked;
use super::landing::{Landing, Opening, Strip};
use super::picture;
use super::single::{Given, too_wide, widest};
use crate::geometry::{Line, Point};
use crate::inputs::Inputs;
use crate::layouts::{Answer, Answers, Caution, Detail, Outcome, Solution};
use crate::num;
use crate::parts::{CutName, Part};
use crate::problem::Problem;
use crate::say;
use crate::units::{Angle, Length, Quantity};

/// The two crossings of the other strip's edges with one edge, in order along the strip.
fn crossings(own: &Strip, other: &Strip, y: f64) -> Option<[f64; 2]> {
    let edge = Line {
        at: own.place(Point::new(0.0, y)),
        along: own.along,
    };
    let at = |v: f64| {
        let line = Line {
            at: other.place(Point::new(0.0, v)),
            along: other.along,
        };
        Some(own.frame(edge.meets(&line)?).x)
    };
    let (a, b) = (at(0.0)?, at(other.width)?);
    Some([a.min(b), a.max(b)])
}

pub fn solve(inputs: &Inputs, detail: Detail) -> Option<Outcome> {
    let (w, h) = (
        inputs.length("opening_width")?.0,
        inputs.length("opening_height")?.0,
    );
    let (s1, s2) = (
        inputs.length("strip_width_1")?.0,
        inputs.length("strip_width_2")?.0,
    );
    let thickness = inputs.length("thickness");
    let halves = inputs.choice("joint") == Some("second_in_halves");
    let opening = Opening::rectangle(w, h);
    let mut out = Outcome::default();
    for landing in asked(inputs) {
        let given = Given {
            w,
            h,
            s: s1,
            thickness,
        };
        let limit = widest(given, landing);
        let strip = |s: f64| {
            (s < limit)
                .then(|| Strip::lay(&opening, landing, s))
                .flatten()
        };
        let (first, second) = (strip(s1), strip(s2));
        for (strip, key) in [(&first, "strip_width_1"), (&second, "strip_width_2")] {
            if strip.is_none() {
                out.problems.push(Problem {
                    path: format!("/inputs/{key}").into(),
                    ..too_wide(landing, Length(limit))
                });
            }
        }
        let (Some(first), Some(second)) = (first, second) else {
            continue;
        };
        let second = second.mirrored(w / 2.0);
        match answer(&first, &second, landing, halves, thickness) {
            Ok(mut solution) => {
                if detail == Detail::Full {
                    solution.figure = picture::in_rectangle(
                        w,
                        h,
                        ("opening_width", "opening_height"),
                        &[&first, &second],
                    );
                    let cuts = solution.parts.iter().flat_map(|p| &p.cuts);
                    if cuts.clone().any(|c| c.miter.0 > 50.0) {
                        solution.cautions.push(Caution::SteepCut);
                    }
                    if !halves {
                        solution.cautions.push(Caution::LapCut);
                    }
                }
                out.solutions.push(solution);
            }
            Err(problem) => out.problems.push(*problem),
        }
    }
    Some(out)
}

/// One strip's lap: both edges, looking up along it.
struct Lap {
    left: [f64; 2],
    right: [f64; 2],
}

fn lap(own: &Strip, other: &Strip, landing: Landing, key: &str) -> Result<Lap, Box<Problem>> {
    let runs_out = || {
        Box::new(
            Problem::stop(
                key,
                say![landing.title(), ": the lap runs into an end cut. Narrower strips or a larger opening keep them apart."],
            )
            .of_way(landing.key()),
        )
    };
    let left = crossings(own, other, own.width).ok_or_else(runs_out)?;
    let right = crossings(own, other, 0.0).ok_or_else(runs_out)?;
    let (a, b) = own.starts();
    let inside = |at: [f64; 2], start: f64, length: f64| at[0] > start && at[1] < start + length;
    if inside(left, b, own.edge_b()) && inside(right, a, own.edge_a()) {
        Ok(Lap { left, right })
    } else {
        Err(runs_out())
    }
}

fn answer(
    first: &Strip,
    second: &Strip,
    landing: Landing,
    halves: bool,
    thickness: Option<Length>,
) -> Result<Solution, Box<Problem>> {
    let facing_stiles = first.slope() + second.slope();
    let facing_rails = 180.0 - facing_stiles;
    let sin = num::sin_deg(facing_rails);
    let shoulder = (90.0 - facing_rails).abs();
    let lap_1 = lap(first, second, landing, "strip_width_1")?;
    let lap_2 = lap(second, first, landing, "strip_width_2")?;
    let mut a = Answers::new();
    a.angle("angle_facing_rails_deg", facing_rails)
        .angle("angle_facing_stiles_deg", facing_stiles)
        .angle("crossing_acute_deg", facing_rails.min(facing_stiles))
        .area("lap_area", first.width * second.width / sin);
    let end = |name| CutName {
        name,
        miter_key: None,
    };
    let names: Vec<CutName> = match landing {
        Landing::Corner => [
            "Lower end, first cut",
            "Lower end, second cut",
            "Upper end, first cut",
            "Upper end, second cut",
        ]
        .map(end)
        .to_vec(),
        _ => ["Lower end", "Upper end"].map(end).to_vec(),
    };
    let mut parts = vec![first.part("First brace", thickness, &names)];
    if halves {
        let half = half_of(second, &lap_2);
        a.group("half", half.answers(shoulder, second.width / sin));
        parts.push(half.part(second, thickness));
    } else {
        for (key, own, other, lap) in [
            ("brace_1", first, second, &lap_1),
            ("brace_2", second, first, &lap_2),
        ] {
            a.group(key, lap_answers(own, other, lap, sin, shoulder));
        }
        if let Some(t) = thickness {
            a.length("lap_depth", t.0 / 2.0);
        }
        parts.push(second.part("Second brace", thickness, &names));
        for (part, own, lap) in [(0, first, &lap_1), (1, second, &lap_2)] {
            parts[part].marks = marks(own, lap);
        }
    }
    let mut derivation = vec![
        say![
            "The braces rise at ",
            Angle(first.slope()),
            " and ",
            Angle(second.slope()),
            "; they cross at ",
            Angle(facing_rails.min(facing_stiles)),
            "."
        ],
        say!["The shoulder lines read ", Angle(shoulder), " off square."],
    ];
    derivation.push(if halves {
        say!["The halves' joint is cut at the same reading along the first brace's edges."]
    } else {
        say![
            "Along an edge the lap is the other strip's width ÷ sin(crossing): ",
            Length(second.width / sin),
            " and ",
            Length(first.width / sin),
            "."
        ]
    });
    let headline = if halves {
        vec![
            "half.joint_reading_deg",
            "half.long_point_length",
            "crossing_acute_deg",
        ]
    } else {
        vec![
            "brace_1.shoulder_reading_deg",
            "brace_1.lap_length",
            "brace_2.lap_length",
        ]
    };
    Ok(Solution {
        way: landing.key(),
        title: landing.title(),
        answers: a,
        headline,
        parts,
        derivation,
        ..Solution::default()
    })
}

fn pair(at: [f64; 2], less: f64) -> Answer {
    Answer::List(
        at.iter()
            .map(|x| Answer::Quantity(Quantity::Length(Length(x - less))))
            .collect(),
    )
}

fn lap_answers(own: &Strip, other: &Strip, lap: &Lap, sin: f64, shoulder: f64) -> Answers {
    let (start_a, start_b) = own.starts();
    let least = own.least();
    let length = other.width / sin;
    let mut a = Answers::new();
    a.put("left_from_point", pair(lap.left, least))
        .put("left_from_edge_end", pair(lap.left, start_b))
        .put("right_from_point", pair(lap.right, least))
        .put("right_from_edge_end", pair(lap.right, start_a))
        .length("lap_length", length)
        .length("lap_extent", length + own.width * num::tan_deg(shoulder))
        .angle("shoulder_reading_deg", shoulder)
        .length("shoulder_line_length", own.width / sin)
        .length("right_edge_length", own.edge_a())
        .length("left_edge_length", own.edge_b())
        .length("long_point_length", own.long_point());
    a
}

/// The shoulder lines on the part's face, in the part's frame.
fn marks(own: &Strip, lap: &Lap) -> Vec<(Point, Point)> {
    let least = own.least();
    // The other strip's edges are parallel, so the lower one meets both own edges lower.
    (0..2)
        .map(|i| {
            (
                Point::new(lap.right[i] - least, 0.0),
                Point::new(lap.left[i] - least, own.width),
            )
        })
        .collect()
}

/// The lower half of the second brace, below the first one.
struct Half {
    lower: Vec<Point>,
    joint: [Point; 2],
    left: f64,
    right: f64,
}

fn half_of(own: &Strip, lap: &Lap) -> Half {
    let (a, b) = own.starts();
    Half {
        lower: own.lower.clone(),
        joint: [
            Point::new(lap.right[0], 0.0),
            Point::new(lap.left[0], own.width),
        ],
        left: lap.left[0] - b,
        right: lap.right[0] - a,
    }
}

impl Half {
    fn outline(&self) -> crate::geometry::Polygon {
        let mut all = vec![self.lower[0], self.joint[0], self.joint[1]];
        all.extend(self.lower[1..].iter().rev());
        crate::geometry::Polygon(all)
    }
    fn answers(&self, joint: f64, cut: f64) -> Answers {
        let outline = self.outline();
        let most = outline.0.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.x));
        let least = outline.0.iter().fold(f64::INFINITY, |m, p| m.min(p.x));
        let mut a = Answers::new();
        a.length("long_point_length", most - least)
            .length("left_edge_length", self.left)
            .length("right_edge_length", self.right)
            .angle("joint_reading_deg", joint)
            .length("joint_cut_length", cut)
            .area("face_area", outline.area().0);
        a
    }
    fn part(&self, own: &Strip, thickness: Option<Length>) -> Part {
        let mut names: Vec<CutName> = self
            .lower
            .windows(2)
            .map(|_| CutName {
                name: "Outer end",
                miter_key: None,
            })
            .collect();
        names.push(CutName {
            name: "Against the first brace",
            miter_key: Some("half.joint_reading_deg"),
        });
        let mut part = Part::stick(
            "Half of the second brace",
            Length(own.width),
            thickness,
            &self.lower,
            &self.joint,
            &names,
        );
        part.count = 2;
        part
    }
}
