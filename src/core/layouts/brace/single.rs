//! One brace in a rectangle, from the opening or from outside; two like ones as a K or a chevron.

use super::asked;
use super::landing::{Landing, Opening, Strip};
use super::picture;
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Outcome, Solution};
use crate::num;
use crate::parts::CutName;
use crate::problem::Problem;
use crate::say;
use crate::units::{Angle, Length, Quantity};

/// A rectangle and a strip.
#[derive(Clone, Copy, Debug)]
pub struct Given {
    pub w: f64,
    pub h: f64,
    pub s: f64,
    pub thickness: Option<Length>,
}

pub fn solve(inputs: &Inputs, detail: Detail) -> Option<Outcome> {
    let g = Given {
        w: inputs.length("opening_width")?.0,
        h: inputs.length("opening_height")?.0,
        s: inputs.length("strip_width")?.0,
        thickness: inputs.length("thickness"),
    };
    let keys = ("opening_width", "opening_height");
    Some(each_landing(g, &asked(inputs), |strip, solution| {
        if detail == Detail::Full {
            solution.figure = picture::in_rectangle(g.w, g.h, keys, &[strip]);
        }
    }))
}

pub fn solve_outside(inputs: &Inputs, detail: Detail) -> Option<Outcome> {
    let (ow, oh) = (
        inputs.length("outside_width")?,
        inputs.length("outside_height")?,
    );
    let (stile, rail) = (inputs.length("stile_width")?, inputs.length("rail_width")?);
    let g = Given {
        w: ow.0 - 2.0 * stile.0,
        h: oh.0 - 2.0 * rail.0,
        s: inputs.length("strip_width")?.0,
        thickness: inputs.length("thickness"),
    };
    for (key, left, frame) in [("outside_width", g.w, stile), ("outside_height", g.h, rail)] {
        if left <= 0.0 {
            let limit = frame * 2.0;
            return Some(Outcome::stop(
                Problem::stop(
                    key,
                    say![
                        "No opening is left: outside it must be more than ",
                        limit,
                        "."
                    ],
                )
                .with_limit(Quantity::Length(limit)),
            ));
        }
    }
    Some(each_landing(g, &asked(inputs), |strip, solution| {
        solution
            .answers
            .length("opening_width", g.w)
            .length("opening_height", g.h);
        if detail == Detail::Full {
            solution.figure = picture::in_rectangle(g.w, g.h, ("", ""), &[strip]);
            picture::around(&mut solution.figure, g, ow, oh);
        }
    }))
}

/// Two like braces, mirror images, meeting in the middle of a stile (K) or of a rail (chevron): each
/// is a single brace in its half of the opening.
pub fn solve_pair(inputs: &Inputs, detail: Detail) -> Option<Outcome> {
    let (w, h) = (
        inputs.length("opening_width")?.0,
        inputs.length("opening_height")?.0,
    );
    let apex = inputs.choice("apex")?;
    let is_k = matches!(apex, "left" | "right");
    let g = Given {
        w: if is_k { w } else { w / 2.0 },
        h: if is_k { h / 2.0 } else { h },
        s: inputs.length("strip_width")?.0,
        thickness: inputs.length("thickness"),
    };
    Some(each_landing(g, &asked(inputs), |strip, solution| {
        solution
            .answers
            .length("half_opening_width", g.w)
            .length("half_opening_height", g.h);
        if detail == Detail::Full {
            for part in &mut solution.parts {
                part.count = 2;
            }
            solution.notes.push(say![
                "Make two, one the mirror image of the other: swing the saw to the other side, or turn the strip over."
            ]);
            solution.figure = picture::pair(w, h, apex, strip);
        }
    }))
}

/// Every landing asked for, each by itself.
fn each_landing(
    g: Given,
    landings: &[Landing],
    mut finish: impl FnMut(&Strip, &mut Solution),
) -> Outcome {
    let mut out = Outcome::default();
    let opening = Opening::rectangle(g.w, g.h);
    for landing in landings {
        let limit = widest(g, *landing);
        let strip = (g.s < limit)
            .then(|| Strip::lay(&opening, *landing, g.s))
            .flatten();
        match strip {
            Some(strip) => {
                let mut solution = answer(g, *landing, &strip);
                finish(&strip, &mut solution);
                out.solutions.push(solution);
            }
            None => out.problems.push(too_wide(*landing, Length(limit))),
        }
    }
    out
}

/// The width at which a landing stops being possible.
pub fn widest(g: Given, landing: Landing) -> f64 {
    let d = num::hypot(g.w, g.h);
    match landing {
        Landing::Corner => 2.0 * (g.w / d) * g.h,
        Landing::Rails => g.w,
        Landing::Stiles => g.h,
        Landing::Edge { .. } => (g.w / d) * g.h,
    }
}

pub fn too_wide(landing: Landing, limit: Length) -> Problem {
    Problem::stop(
        "strip_width",
        say![
            landing.title(),
            ": the strip is too wide for this opening. It must be narrower than ",
            limit,
            "."
        ],
    )
    .with_limit(Quantity::Length(limit))
    .of_way(landing.key())
}

/// The closed forms of GEOMETRY 2, in the strip's own terms.
fn answer(g: Given, landing: Landing, strip: &Strip) -> Solution {
    let (w, h, s) = (g.w, g.h, g.s);
    let d = num::hypot(w, h);
    let t = num::atan2_deg(h, w);
    let (tan, cot) = (h / w, w / h);
    let mut a = Answers::new();
    let named = |name, key| CutName {
        name,
        miter_key: Some(key),
    };
    let (headline, names): (Vec<&'static str>, Vec<CutName>) = match landing {
        Landing::Corner => {
            a.angle("slope_to_rail_deg", t)
                .angle("reading_rail_cut_deg", 90.0 - t)
                .angle("reading_stile_cut_deg", t)
                .length("facet_on_rail", s / 2.0 * d / h)
                .length("facet_on_stile", s / 2.0 * d / w)
                .length("point_to_point", d)
                .length("edge_length", d - s / 2.0 * (tan + cot))
                .length("point_ahead_of_rail_facet_end", s / 2.0 * cot)
                .length("point_ahead_of_stile_facet_end", s / 2.0 * tan);
            let (rail, stile) = ("reading_rail_cut_deg", "reading_stile_cut_deg");
            (
                vec![rail, stile, "point_to_point", "edge_length"],
                vec![
                    named("Lower end, on the rail", rail),
                    named("Lower end, on the stile", stile),
                    named("Upper end, on the stile", stile),
                    named("Upper end, on the rail", rail),
                ],
            )
        }
        Landing::Rails | Landing::Stiles => {
            let turn = num::asin_deg(s / d);
            let (slope, reading) = if landing == Landing::Rails {
                (t + turn, 90.0 - t - turn)
            } else {
                (t - turn, t - turn)
            };
            let edge = strip.edge_a();
            let lean = s * num::tan_deg(reading);
            a.angle("slope_to_rail_deg", slope)
                .angle("reading_deg", reading)
                .length("edge_length", edge)
                .length("long_point_length", edge + lean)
                .length("short_point_length", edge - lean)
                .length("tip_to_tip_straight", d)
                .length("end_cut_length", num::hypot(s, lean));
            let on = if landing == Landing::Rails {
                ("Lower end, on the rail", "Upper end, on the rail")
            } else {
                ("Lower end, on the stile", "Upper end, on the stile")
            };
            (
                vec!["reading_deg", "edge_length"],
                vec![named(on.0, "reading_deg"), named(on.1, "reading_deg")],
            )
        }
        Landing::Edge { above } => {
            a.angle("slope_to_rail_deg", t)
                .angle("reading_rail_cut_deg", 90.0 - t)
                .angle("reading_stile_cut_deg", t)
                .length("long_edge_length", d)
                .length("short_edge_length", d - s * (tan + cot))
                .length("long_point_length", strip.long_point())
                .length("short_point_length", strip.short_point())
                .length("facet_on_rail", s * d / h)
                .length("facet_on_stile", s * d / w);
            let (rail, stile) = ("reading_rail_cut_deg", "reading_stile_cut_deg");
            let names = if above {
                vec![
                    named("Lower end, on the stile", stile),
                    named("Upper end, on the rail", rail),
                ]
            } else {
                vec![
                    named("Lower end, on the rail", rail),
                    named("Upper end, on the stile", stile),
                ]
            };
            (
                vec![rail, stile, "long_edge_length", "short_edge_length"],
                names,
            )
        }
    };
    let part = strip.part("Brace", g.thickness, &names);
    let mut solution = Solution {
        way: landing.key(),
        title: landing.title(),
        answers: a,
        headline,
        derivation: derivation(g, landing, d, t, strip),
        ..Solution::default()
    };
    if part.cuts.iter().any(|c| c.miter.0 > 50.0) {
        solution.cautions.push(Caution::SteepCut);
    }
    solution.parts.push(part);
    solution
}

fn derivation(
    g: Given,
    landing: Landing,
    d: f64,
    t: f64,
    strip: &Strip,
) -> Vec<crate::units::Text> {
    let mut out = vec![say![
        "The opening's diagonal is ",
        Length(d),
        " long and rises at ",
        Angle(t),
        "."
    ]];
    match landing {
        Landing::Corner => {
            out.push(say![
                "On the rail the saw reads 90° less that, ",
                Angle(90.0 - t),
                "; on the stile ",
                Angle(t),
                "."
            ]);
            out.push(say!["The two readings of a corner add up to 90°."]);
        }
        Landing::Rails | Landing::Stiles => {
            let turn = num::asin_deg(g.s / d);
            out.push(say![
                "The strip's width turns it by asin(strip ÷ diagonal) = ",
                Angle(turn),
                ": it rises at ",
                Angle(strip.slope()),
                "."
            ]);
            let reading = if landing == Landing::Rails {
                90.0 - strip.slope()
            } else {
                strip.slope()
            };
            out.push(say!["Off square both ends read ", Angle(reading), "."]);
            out.push(say!["Either edge is ", Length(strip.edge_a()), " long."]);
        }
        Landing::Edge { .. } => {
            out.push(say![
                "One edge lies on it: ",
                Length(d),
                " long. On the rail the saw reads ",
                Angle(90.0 - t),
                ", on the stile ",
                Angle(t),
                "."
            ]);
        }
    }
    out
}
