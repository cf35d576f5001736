//! A brace in an opening as built: each end is cut to its own corner, along the members as they lie.

use super::built_opening;
use super::given::{cautions, too_wide};
use super::landing::{Landing, Opening, Strip, asked};
use super::picture;
use crate::inputs::Inputs;
use crate::layouts::last_that::last_that;
use crate::layouts::{Answers, Detail, Outcome, Refused, Solution};
use crate::parts::CutName;
use offsquare_geometry::{Point, cross, dot};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num, say};

/// Example: 30, 44 1/4, 30 1/8, 44, diagonal up 53 1/2, strip 2 1/2, flat on the rails: 31.519491
/// below, 31.994938 above, the other diagonal 53.284616.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let s = inputs.need("strip_width")?;
    let opening = built_opening::opening(inputs)?;
    let shape = Shape::of(&opening);
    let mut out = Outcome::default();
    for landing in asked(inputs) {
        let Some(strip) = Strip::lay(&opening, landing, s) else {
            let lands = |s| Strip::lay(&opening, landing, s).is_some();
            let limit = Length(last_that(lands, 0.0, s));
            let words = "for this opening";
            out.problems.push(too_wide(landing, words, limit, "strip_width"));
            continue;
        };
        let (answers, headline) = answers(landing, &strip, &shape);
        let mut solution = Solution {
            way: landing.key(),
            title: landing.title(),
            answers,
            headline,
            ..Solution::default()
        };
        if detail == Detail::Full {
            let part = strip.part("Brace", inputs.length("thickness"), &names(landing));
            solution.parts.push(part);
            solution.cautions = cautions(landing, &solution.parts);
            solution.opening = Some(strip.around(&opening));
            solution.figure = picture::as_built(&opening, &strip, inputs);
            explain(&mut solution, &strip, &shape);
        }
        out.solutions.push(solution);
    }
    Ok(out)
}

/// How the opening is out of square.
struct Shape {
    corners: [f64; 4],
    up: f64,
    down: f64,
}

impl Shape {
    fn of(opening: &Opening) -> Shape {
        let c = opening.0;
        let corner = |i: usize| {
            let next = c[(i + 1) % 4] - c[i];
            let before = c[(i + 3) % 4] - c[i];
            num::atan2_deg(cross(next, before), dot(next, before))
        };
        Shape {
            corners: [corner(0), corner(1), corner(2), corner(3)],
            up: c[0].distance(c[2]).0,
            down: c[1].distance(c[3]).0,
        }
    }
    fn worst(&self) -> f64 {
        let off = |a: f64| (a - 90.0).abs();
        self.corners.iter().fold(0.0, |m, a| off(*a).max(m))
    }
}

/// What the cuts are called and which answers they are, lower end first, each from edge A to edge B.
fn names(landing: Landing) -> Vec<CutName> {
    let list: &[(&'static str, &'static str)] = match landing {
        Landing::Corner => &[
            ("Lower end, on the rail", "reading_lower_rail_cut_deg"),
            ("Lower end, on the stile", "reading_lower_stile_cut_deg"),
            ("Upper end, on the stile", "reading_upper_stile_cut_deg"),
            ("Upper end, on the rail", "reading_upper_rail_cut_deg"),
        ],
        Landing::Rails => &[
            ("Lower end, on the rail", "reading_lower_deg"),
            ("Upper end, on the rail", "reading_upper_deg"),
        ],
        Landing::Stiles => &[
            ("Lower end, on the stile", "reading_lower_deg"),
            ("Upper end, on the stile", "reading_upper_deg"),
        ],
        Landing::Edge { above: false } => &[
            ("Lower end, on the rail", "reading_lower_rail_cut_deg"),
            ("Upper end, on the stile", "reading_upper_stile_cut_deg"),
        ],
        Landing::Edge { above: true } => &[
            ("Lower end, on the stile", "reading_lower_stile_cut_deg"),
            ("Upper end, on the rail", "reading_upper_rail_cut_deg"),
        ],
    };
    list.iter().map(|(name, key)| CutName { name, miter_key: Some(key) }).gather()
}

/// The lengths of the cuts, in the same order.
fn cut_lengths(landing: Landing) -> &'static [&'static str] {
    match landing {
        Landing::Corner => &[
            "lower_facet_on_rail",
            "lower_facet_on_stile",
            "upper_facet_on_stile",
            "upper_facet_on_rail",
        ],
        Landing::Rails | Landing::Stiles => &["lower_end_cut_length", "upper_end_cut_length"],
        Landing::Edge { above: false } => &["lower_facet_on_rail", "upper_facet_on_stile"],
        Landing::Edge { above: true } => &["lower_facet_on_stile", "upper_facet_on_rail"],
    }
}

fn answers(landing: Landing, strip: &Strip, shape: &Shape) -> (Answers, Vec<&'static str>) {
    let mut a = Answers::new();
    a.angle("slope_to_rail_deg", strip.slope());
    let cuts = strip.cuts();
    let mut headline = Vec::new();
    for (name, reading) in names(landing).iter().zip(&strip.readings) {
        if let Some(key) = name.miter_key {
            a.angle(key, *reading);
            headline.push(key);
        }
    }
    for (key, (p, q)) in cut_lengths(landing).iter().zip(&cuts) {
        a.length(key, p.distance(*q).0);
    }
    if landing == Landing::Corner {
        // How far, along the strip, each point stands ahead of the shoulder where a facet ends.
        let ahead_below =
            |shoulder: Option<&Point>| shoulder.map_or(0.0, |p| p.x) - strip.lower[1].x;
        let ahead_above =
            |shoulder: Option<&Point>| strip.upper[1].x - shoulder.map_or(0.0, |p| p.x);
        a.length("lower_point_ahead_of_rail_facet_end", ahead_below(strip.lower.first()))
            .length("lower_point_ahead_of_stile_facet_end", ahead_below(strip.lower.last()))
            .length("upper_point_ahead_of_rail_facet_end", ahead_above(strip.upper.last()))
            .length("upper_point_ahead_of_stile_facet_end", ahead_above(strip.upper.first()))
            .length("point_to_point", shape.up);
        headline.push("point_to_point");
    }
    a.length("left_edge_length", strip.edge_b())
        .length("right_edge_length", strip.edge_a())
        .length("long_point_length", strip.long_point())
        .length("short_point_length", strip.short_point())
        .length("tip_to_tip_straight", strip.tip_to_tip())
        .angles("corner_deg", shape.corners)
        .length("diagonal_up", shape.up)
        .length("diagonal_down", shape.down)
        .length("diagonal_difference", (shape.up - shape.down).abs())
        .angle("out_of_square_deg", shape.worst());
    headline.extend(["left_edge_length", "right_edge_length"]);
    (a, headline)
}

fn explain(solution: &mut Solution, strip: &Strip, shape: &Shape) {
    let [c1, c2, c3, c4] = shape.corners.map(Angle);
    solution.derivation = vec![
        say!(
            "By the law of cosines the corners are {} lower left, {} lower right, {} upper right \
             and {} upper left.",
            c1,
            c2,
            c3,
            c4
        ),
        say!("The diagonals are {} up and {} down.", Length(shape.up), Length(shape.down)),
        say!(
            "The strip rises at {} over the lower rail; each end is cut along the member as it \
             lies.",
            Angle(strip.slope())
        ),
    ];
    let difference = Length((shape.up - shape.down).abs());
    solution.notes.push(say!(
        "Out of square: the diagonals differ by {}, the worst corner is off by {}.",
        difference,
        Angle(shape.worst())
    ));
}
