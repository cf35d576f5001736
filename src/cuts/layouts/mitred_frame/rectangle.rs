//! A rectangular frame from its outside, its sight size or the panel in its rabbet.

use super::polygon::{self, closing};
use crate::inputs::Inputs;
use crate::layouts::{Answers, Caution, Detail, Form, Outcome, Solution, missing};
use crate::problem::Problem;
use offsquare_geometry::scene::Item;
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Angle, Length, Quantity, num, say};

/// tan(rail's reading) = stile width ÷ rail width: 45 only where both are equally wide.
/// Example: rails 2, stiles 3: the rail reads 56.31, the stile 33.69.
pub fn solve(form: &Form, inputs: &Inputs, detail: Detail) -> Outcome {
    let (Some(w), Some(h), Some(rail), Some(stile)) = (
        inputs.length("frame_width"),
        inputs.length("frame_height"),
        inputs.length("rail_width"),
        inputs.length("stile_width"),
    ) else {
        return missing(form, inputs);
    };
    let rabbet = inputs.length("rabbet_width").unwrap_or_default();
    let room = inputs.length("rabbet_allowance").unwrap_or_default();
    let measured = inputs.choice("measured").unwrap_or("sight");
    if rabbet.0 >= rail.0.min(stile.0) {
        return Outcome::stop(rabbet_problem(rail.min(stile)));
    }
    // From what was measured to the sight size.
    let sight = |size: Length, stock: Length| match measured {
        "outside" => size.0 - 2.0 * stock.0,
        "rabbet" => size.0 + room.0 - 2.0 * rabbet.0,
        _ => size.0,
    };
    let (sw, sh) = (sight(w, stile), sight(h, rail));
    for (key, left, stock) in [("frame_width", sw, stile), ("frame_height", sh, rail)] {
        if left <= 0.0 {
            let limit = match measured {
                "outside" => stock * 2.0,
                _ => Length(2.0 * rabbet.0 - room.0),
            };
            return Outcome::stop(
                Problem::stop(
                    key,
                    say!["No opening is left: this size must be more than ", limit, "."],
                )
                .with_limit(Quantity::Length(limit)),
            );
        }
    }
    let (ow, oh) = (sw + 2.0 * stile.0, sh + 2.0 * rail.0);
    let rail_reading = num::atan2_deg(stile.0, rail.0);
    let mut answers = Answers::new();
    let mut member =
        |name: &'static str, outer: f64, inner: f64, width: f64, run: f64, reading: f64| {
            let mut a = Answers::new();
            a.length("outer_edge_length", outer)
                .length("inner_edge_length", inner)
                .angle("reading_deg", reading)
                .length("cut_length", num::hypot(width, run))
                .length("tape_mark", run);
            answers.group(name, a);
        };
    member("rail", ow, sw, rail.0, stile.0, rail_reading);
    member("stile", oh, sh, stile.0, rail.0, 90.0 - rail_reading);
    answers
        .length("outside_width", ow)
        .length("outside_height", oh)
        .length("sight_width", sw)
        .length("sight_height", sh)
        .length("rabbet_size_width", sw + 2.0 * rabbet.0)
        .length("rabbet_size_height", sh + 2.0 * rabbet.0)
        .length("panel_width", sw + 2.0 * rabbet.0 - room.0)
        .length("panel_height", sh + 2.0 * rabbet.0 - room.0);
    let mut solution = Solution {
        way: "rectangle",
        title: "Mitered corners",
        answers,
        headline: vec![
            "rail.reading_deg",
            "stile.reading_deg",
            "rail.outer_edge_length",
            "stile.outer_edge_length",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        let corners = [Point::ORIGIN, Point::new(ow, 0.0), Point::new(ow, oh), Point::new(0.0, oh)];
        let widths = [rail.0, stile.0, rail.0, stile.0];
        if let Ok(frame) = polygon::frame(&corners, &widths) {
            for (i, name, key) in
                [(0, "Rail", "rail.reading_deg"), (1, "Stile", "stile.reading_deg")]
            {
                let mut part = frame.members[i].part(name.to_owned(), 2);
                for cut in &mut part.cuts {
                    cut.miter_key = Some(key);
                }
                solution.parts.push(part);
            }
            solution.figure = polygon::picture(&corners, &frame);
            solution.figure.items.retain(|i| !matches!(i, Item::Dimension { .. }));
            let (a, b, c) = match measured {
                "outside" => (corners[0], corners[1], corners[2]),
                _ => (frame.inner.0[0], frame.inner.0[1], frame.inner.0[2]),
            };
            solution
                .figure
                .given(a, b, -1, Quantity::Length(w), "frame_width")
                .given(b, c, -1, Quantity::Length(h), "frame_height")
                .given(
                    Point::new(ow * 0.36, oh - rail.0),
                    Point::new(ow * 0.36, oh),
                    0,
                    Quantity::Length(rail),
                    "rail_width",
                )
                .given(
                    Point::new(0.0, oh * 0.64),
                    Point::new(stile.0, oh * 0.64),
                    0,
                    Quantity::Length(stile),
                    "stile_width",
                );
            // Pulling a side by v makes the size larger by v, whatever it is measured to.
            for (at, field, per_inch) in [
                (b.middle(c), "frame_width", Vector::new(1.0, 0.0)),
                (Point::new((a.x + b.x) / 2.0, c.y), "frame_height", Vector::new(0.0, 1.0)),
            ] {
                solution.figure.add(Item::Handle { at, field, per_inch });
            }
        }
        solution.derivation = vec![
            say![
                "What shows is ",
                Length(sw),
                " by ",
                Length(sh),
                "; outside it is ",
                Length(ow),
                " by ",
                Length(oh),
                "."
            ],
            say!["tan(rail's reading) = stile width ÷ rail width: ", Angle(rail_reading), "."],
            say!["The stile takes what is left of 90°: ", Angle(90.0 - rail_reading), "."],
        ];
        if rail_reading.max(90.0 - rail_reading) > 50.0 {
            solution.cautions.push(Caution::SteepCut);
        }
    }
    closing(&mut solution, inputs, 4, num::hypot(rail.0, stile.0));
    Outcome { solutions: vec![solution], problems: Vec::new() }
}

/// A rabbet as wide as the stock leaves nothing in front of the panel.
pub fn rabbet_problem(limit: Length) -> Problem {
    Problem::stop("rabbet_width", say!["The rabbet must be narrower than the stock, ", limit, "."])
        .with_limit(Quantity::Length(limit))
}
