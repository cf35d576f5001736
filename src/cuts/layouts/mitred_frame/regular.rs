//! A frame of n equal sides: one member, one reading, 180/n.

use super::polygon::{self, closing};
use super::rectangle::rabbet_problem;
use crate::inputs::Inputs;
use crate::layouts::{Answers, Detail, Form, Outcome, Solution, missing};
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num, say};

/// side = flats·tan(180/n) = 2 R sin(180/n) = inner side + 2 w tan(180/n).
/// Example: 8 sides, 12 in across the flats: side 4.9706 in, reading 22.5 (Hodgson, *ABC of the Steel
/// Square*: an octagon is 12 & 5 on the square).
pub fn solve(form: &Form, inputs: &Inputs, detail: Detail) -> Outcome {
    let (Some(n), Some(value), Some(width)) =
        (inputs.number("sides"), inputs.length("value"), inputs.length("width"))
    else {
        return missing(form, inputs);
    };
    let half = 180.0 / n;
    let run = width.0 * num::tan_deg(half);
    let given = inputs.choice("given").unwrap_or("across_flats");
    let outer = match given {
        "corner_radius" => 2.0 * value.0 * num::sin_deg(half),
        "inner_side" => value.0 + 2.0 * run,
        "outer_side" => value.0,
        _ => value.0 * num::tan_deg(half),
    };
    let inner = outer - 2.0 * run;
    if inner <= 0.0 {
        let limit = Length(outer / (2.0 * num::tan_deg(half)));
        return Outcome::stop(
            Problem::stop(
                "width",
                say![
                    "Stock this wide leaves no inside edge: it must be narrower than ",
                    limit,
                    "."
                ],
            )
            .with_limit(Quantity::Length(limit)),
        );
    }
    let rabbet = inputs.length("rabbet_width").unwrap_or_default();
    if rabbet.0 >= width.0 {
        return Outcome::stop(rabbet_problem(width));
    }
    let mut answers = Answers::new();
    answers
        .length("outer_edge_length", outer)
        .length("inner_edge_length", inner)
        .angle("reading_deg", half)
        .length("cut_length", num::hypot(width.0, run))
        .length("across_flats", outer / num::tan_deg(half))
        .length("corner_radius", outer / (2.0 * num::sin_deg(half)))
        .length("tape_mark", run);
    if rabbet.0 > 0.0 {
        // The panel: the opening and the rabbet all round, less the room.
        let room = inputs.length("rabbet_allowance").unwrap_or_default();
        let flats = inner / num::tan_deg(half) + 2.0 * rabbet.0 - room.0;
        answers
            .length("panel_side", flats * num::tan_deg(half))
            .length("panel_across_flats", flats);
    }
    let mut solution = Solution {
        way: "regular",
        title: "Equal sides",
        answers,
        headline: vec!["reading_deg", "outer_edge_length", "inner_edge_length"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        let member = polygon::Member { outer, inner, start_run: run, end_run: run, width: width.0 };
        let mut part = member.part("Side".to_owned(), n as u32);
        for cut in &mut part.cuts {
            cut.miter_key = Some("reading_deg");
        }
        solution.parts = vec![part];
        let radius = outer / (2.0 * num::sin_deg(half));
        // The first side lies level at the bottom.
        let corners: Vec<Point> = (0..n as usize)
            .map(|k| {
                let angle = -90.0 - half + 2.0 * half * k as f64;
                Point::new(radius * num::cos_deg(angle), radius * num::sin_deg(angle))
            })
            .gather();
        if let Ok(frame) = polygon::frame(&corners, &vec![width.0; corners.len()]) {
            solution.figure = polygon::picture(&corners, &frame);
            for item in &mut solution.figure.items {
                if let offsquare_geometry::scene::Item::Dimension { source, .. } = item {
                    *source = offsquare_geometry::scene::Source::Computed("outer_edge_length");
                }
            }
            // The size that was given, where it is measured.
            let flat = corners[0].y;
            let (from, to, row) = match given {
                "corner_radius" => (Point::ORIGIN, corners[0], 0),
                "inner_side" => (frame.inner.0[0], frame.inner.0[1], 1),
                "outer_side" => (corners[0], corners[1], -1),
                _ => (Point::new(0.0, flat), Point::new(0.0, -flat), 0),
            };
            if given == "outer_side" {
                solution
                    .figure
                    .items
                    .retain(|i| !matches!(i, offsquare_geometry::scene::Item::Dimension { .. }));
            }
            let third = corners[0].toward(corners[1], 0.3);
            solution.figure.given(from, to, row, Quantity::Length(value), "value").given(
                third,
                Point::new(third.x, third.y + width.0),
                0,
                Quantity::Length(width),
                "width",
            );
            solution
                .figure
                .items
                .retain(|i| !matches!(i, offsquare_geometry::scene::Item::Label { .. }));
        }
        solution.derivation = vec![
            say!["180° ÷ sides = ", Angle(half), ": what every saw scale is set to."],
            say!["Outside edge: ", Length(outer), "."],
            say![
                "Each end takes width × tan(reading) = ",
                Length(run),
                " off the inside edge: ",
                Length(inner),
                "."
            ],
        ];
    }
    closing(&mut solution, inputs, n as usize, num::hypot(width.0, run));
    Outcome { solutions: vec![solution], problems: Vec::new() }
}
