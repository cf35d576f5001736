//! An opening as built: four sides and a diagonal; each end is cut to its own corner.

use super::asked;
use super::landing::{Landing, Opening, Strip, reading};
use super::picture;
use super::single::too_wide;
use crate::geometry::{Point, cross};
use crate::inputs::Inputs;
use crate::layouts::{Answer, Answers, Caution, Detail, Outcome, Solution};
use crate::num;
use crate::parts::CutName;
use crate::problem::Problem;
use crate::say;
use crate::units::{Angle, Length, Quantity};

/// The corners, or what keeps the sides from closing.
fn corners(inputs: &Inputs) -> Option<Result<Opening, Box<Problem>>> {
    let side = |key| inputs.length(key).map(|l| l.0);
    let (b, r, t, l, d) = (
        side("bottom")?,
        side("right")?,
        side("top")?,
        side("left")?,
        side("diagonal_up")?,
    );
    // The diagonal closes a triangle with bottom and right, and another with left and top.
    let least = (b - r).abs().max((l - t).abs());
    let most = (b + r).min(l + t);
    if d <= least || d >= most {
        let limit = Length(if d >= most { most } else { least });
        let text = if d >= most {
            say![
                "No opening has this diagonal: with these sides it must be shorter than ",
                limit,
                "."
            ]
        } else {
            say![
                "No opening has this diagonal: with these sides it must be longer than ",
                limit,
                "."
            ]
        };
        return Some(Err(Box::new(
            Problem::stop("diagonal_up", text).with_limit(Quantity::Length(limit)),
        )));
    }
    // Along a base from its start: where the apex stands, given both other sides.
    let apex = |base: f64, from_start: f64, from_end: f64| {
        let x = (base * base + (from_start - from_end) * (from_start + from_end)) / (2.0 * base);
        let y = num::sqrt(((from_start - x) * (from_start + x)).max(0.0));
        (x, y)
    };
    let (x3, y3) = apex(b, d, r);
    let c3 = Point::new(x3, y3);
    // Corner 4 over the diagonal, on its left.
    let (along, off) = apex(d, l, t);
    let (ux, uy) = (x3 / d, y3 / d);
    let c4 = Point::new(ux * along - uy * off, uy * along + ux * off);
    let opening = Opening([Point::ORIGIN, Point::new(b, 0.0), c3, c4]);
    let c = opening.0;
    let convex = (0..4).all(|i| {
        cross(
            c[(i + 1) % 4].from(c[i]),
            c[(i + 2) % 4].from(c[(i + 1) % 4]),
        ) > 0.0
    });
    if !convex {
        return Some(Err(Box::new(Problem::stop(
            "diagonal_up",
            say![
                "These sides and this diagonal make an opening with a corner that points inward. Measure again."
            ],
        ))));
    }
    Some(Ok(opening))
}

/// Example: 30, 44 1/4, 30 1/8, 44, diagonal up 53 1/2, strip 2 1/2, flat on the rails: 31.519491
/// below, 31.994938 above, the other diagonal 53.284616.
pub fn solve(inputs: &Inputs, detail: Detail) -> Option<Outcome> {
    let s = inputs.length("strip_width")?.0;
    let opening = match corners(inputs)? {
        Ok(o) => o,
        Err(p) => return Some(Outcome::stop(*p)),
    };
    let mut out = Outcome::default();
    for landing in asked(inputs) {
        match Strip::lay(&opening, landing, s) {
            Some(strip) => {
                let mut solution = answer(&opening, landing, &strip);
                let names = names(landing);
                let part = strip.part("Brace", inputs.length("thickness"), &names);
                if part.cuts.iter().any(|c| c.miter.0 > 50.0) {
                    solution.cautions.push(Caution::SteepCut);
                }
                solution.parts.push(part);
                if detail == Detail::Full {
                    solution.figure = picture::as_built(&opening, &strip);
                }
                out.solutions.push(solution);
            }
            None => out
                .problems
                .push(too_wide(landing, Length(widest(&opening, landing, s)))),
        }
    }
    Some(out)
}

/// The width at which the landing stops being possible in this opening: closed in from both sides.
fn widest(opening: &Opening, landing: Landing, s: f64) -> f64 {
    let (mut good, mut bad) = (0.0, s);
    for _ in 0..200 {
        let middle = good + (bad - good) / 2.0;
        if middle <= good || middle >= bad {
            break;
        }
        if Strip::lay(opening, landing, middle).is_some() {
            good = middle;
        } else {
            bad = middle;
        }
    }
    good
}

fn names(landing: Landing) -> Vec<CutName> {
    let named = |(name, key)| CutName {
        name,
        miter_key: Some(key),
    };
    let list: Vec<(&'static str, &'static str)> = match landing {
        Landing::Corner => vec![
            ("Lower end, on the rail", "reading_lower_rail_cut_deg"),
            ("Lower end, on the stile", "reading_lower_stile_cut_deg"),
            ("Upper end, on the stile", "reading_upper_stile_cut_deg"),
            ("Upper end, on the rail", "reading_upper_rail_cut_deg"),
        ],
        Landing::Rails => vec![
            ("Lower end, on the rail", "reading_lower_deg"),
            ("Upper end, on the rail", "reading_upper_deg"),
        ],
        Landing::Stiles => vec![
            ("Lower end, on the stile", "reading_lower_deg"),
            ("Upper end, on the stile", "reading_upper_deg"),
        ],
        Landing::Edge { above: false } => vec![
            ("Lower end, on the rail", "reading_lower_rail_cut_deg"),
            ("Upper end, on the stile", "reading_upper_stile_cut_deg"),
        ],
        Landing::Edge { above: true } => vec![
            ("Lower end, on the stile", "reading_lower_stile_cut_deg"),
            ("Upper end, on the rail", "reading_upper_rail_cut_deg"),
        ],
    };
    list.into_iter().map(named).collect()
}

fn answer(opening: &Opening, landing: Landing, strip: &Strip) -> Solution {
    let c = opening.0;
    let angles: Vec<f64> = (0..4)
        .map(|i| {
            let (next, before) = (c[(i + 1) % 4].from(c[i]), c[(i + 3) % 4].from(c[i]));
            num::atan2_deg(cross(next, before), crate::geometry::dot(next, before))
        })
        .collect();
    let out = angles.iter().fold(0.0_f64, |m, a| m.max((a - 90.0).abs()));
    let (up, down) = (c[0].distance(c[2]).0, c[1].distance(c[3]).0);
    let mut a = Answers::new();
    a.angle("slope_to_rail_deg", strip.slope());
    let cuts: Vec<(Point, Point)> = strip
        .lower
        .windows(2)
        .chain(strip.upper.windows(2))
        .map(|w| (w[0], w[1]))
        .collect();
    let names = names(landing);
    let mut headline = Vec::new();
    for (name, (p, q)) in names.iter().zip(&cuts) {
        if let Some(key) = name.miter_key {
            a.angle(key, reading(*p, *q));
            headline.push(key);
        }
    }
    let cut = |i: usize| cuts.get(i).map_or(0.0, |(p, q)| p.distance(*q).0);
    let half = cuts.len() / 2;
    a.length("right_edge_length", strip.edge_a())
        .length("left_edge_length", strip.edge_b())
        .length("long_point_length", strip.long_point())
        .length("short_point_length", strip.short_point())
        .length("tip_to_tip_straight", strip.tip_to_tip())
        .length("lower_cut_length", cut(0))
        .length("upper_cut_length", cut(half))
        .put(
            "corner_deg",
            Answer::List(
                angles
                    .iter()
                    .map(|x| Answer::Quantity(Quantity::Angle(Angle(*x))))
                    .collect(),
            ),
        )
        .length("diagonal_up", up)
        .length("diagonal_down", down)
        .length("diagonal_difference", (up - down).abs())
        .angle("out_of_square_deg", out);
    headline.extend(["right_edge_length", "left_edge_length"]);
    Solution {
        way: landing.key(),
        title: landing.title(),
        answers: a,
        headline,
        derivation: vec![
            say![
                "The sides and the diagonal put the corners at ",
                Angle(angles[0]),
                ", ",
                Angle(angles[1]),
                ", ",
                Angle(angles[2]),
                " and ",
                Angle(angles[3]),
                "."
            ],
            say![
                "The other diagonal comes out at ",
                Length(down),
                ": the two differ by ",
                Length((up - down).abs()),
                "."
            ],
            say![
                "The strip rises at ",
                Angle(strip.slope()),
                "; each end is cut along the member as it lies."
            ],
        ],
        notes: vec![say!["The worst corner is ", Angle(out), " out of square."]],
        ..Solution::default()
    }
}
