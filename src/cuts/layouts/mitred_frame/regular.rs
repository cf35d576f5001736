//! A frame of n equal sides: one member, one reading, 180/n.

use super::polygon::{self, closing};
use super::rectangle::rabbet_fits;
use crate::inputs::{Inputs, Missing};
use crate::layouts::{Answers, Detail, Outcome, Refused, Solution};
use crate::parts::Part;
use crate::problem::Problem;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Scene, Source};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, num, say};

/// A frame of equal sides, lengths in inches.
struct Regular {
    n: f64,
    /// Half the angle that a side is seen under from the middle.
    half: f64,
    /// Which size was given, and how large.
    given: &'static str,
    value: Length,
    width: Length,
    /// What a miter takes off the inside edge.
    run: f64,
    outer: f64,
    inner: f64,
}

/// side = flats·tan(180/n) = 2 R sin(180/n) = inner side + 2 w tan(180/n).
/// Example: 8 sides, 12 in across the flats: side 4.9706 in, reading 22.5 (Hodgson, *ABC of the Steel
/// Square*: an octagon is 12 & 5 on the square).
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let frame = Regular::read(inputs)?;
    let (half, width) = (frame.half, frame.width);
    if frame.inner <= 0.0 {
        let limit = Length(frame.outer / (2.0 * num::tan_deg(half)));
        return Err(Problem::at_limit(
            "width",
            "Stock this wide leaves no inside edge: it must be narrower than {}.",
            limit,
        )
        .into());
    }
    rabbet_fits(inputs.length("rabbet_width").unwrap_or_default(), width)?;
    let mut solution = Solution {
        way: "regular",
        title: "Equal sides",
        answers: frame.answers(inputs),
        headline: vec!["reading_deg", "outer_edge_length", "inner_edge_length"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        solution.parts = vec![frame.part()];
        solution.figure = frame.picture();
        solution.derivation = vec![
            say!("180° ÷ sides = {}: what every saw scale is set to.", Angle(half)),
            say!("Outside edge: {}.", Length(frame.outer)),
            say!(
                "Each end takes width × tan(reading) = {} off the inside edge: {}.",
                Length(frame.run),
                Length(frame.inner)
            ),
        ];
    }
    closing(&mut solution, inputs, frame.n as usize, num::hypot(width.0, frame.run));
    Ok(solution.into())
}

impl Regular {
    fn read(inputs: &Inputs) -> Result<Regular, Missing> {
        let n = inputs.need("sides")?;
        let (value, width) = (Length(inputs.need("value")?), Length(inputs.need("width")?));
        let half = 180.0 / n;
        let run = width.0 * num::tan_deg(half);
        let given = inputs.choice("given").unwrap_or("across_flats");
        let outer = match given {
            "corner_radius" => 2.0 * value.0 * num::sin_deg(half),
            "inner_side" => value.0 + 2.0 * run,
            "outer_side" => value.0,
            _ => value.0 * num::tan_deg(half),
        };
        Ok(Regular { n, half, given, value, width, run, outer, inner: outer - 2.0 * run })
    }

    fn answers(&self, inputs: &Inputs) -> Answers {
        let half = self.half;
        let mut answers = Answers::new();
        answers
            .length("outer_edge_length", self.outer)
            .length("inner_edge_length", self.inner)
            .angle("reading_deg", half)
            .length("cut_length", num::hypot(self.width.0, self.run))
            .length("across_flats", self.outer / num::tan_deg(half))
            .length("corner_radius", self.outer / (2.0 * num::sin_deg(half)))
            .length("tape_mark", self.run);
        let rabbet = inputs.length("rabbet_width").unwrap_or_default();
        if rabbet.0 > 0.0 {
            // The panel: the opening and the rabbet all round, less the room.
            let room = inputs.length("rabbet_allowance").unwrap_or_default();
            let flats = self.inner / num::tan_deg(half) + 2.0 * rabbet.0 - room.0;
            answers
                .length("panel_side", flats * num::tan_deg(half))
                .length("panel_across_flats", flats);
        }
        answers
    }

    fn part(&self) -> Part {
        let member = polygon::Member {
            outer: self.outer,
            inner: self.inner,
            start_run: self.run,
            end_run: self.run,
            width: self.width.0,
        };
        let mut part = member.part("Side".to_owned(), self.n as u32);
        for cut in &mut part.cuts {
            cut.miter_key = Some("reading_deg");
        }
        part
    }

    /// The first side lies level at the bottom; the size that was given stands where it is measured.
    fn picture(&self) -> Scene {
        let radius = self.outer / (2.0 * num::sin_deg(self.half));
        let corners: Vec<Point> = (0..self.n as usize)
            .map(|k| {
                let angle = -90.0 - self.half + 2.0 * self.half * k as f64;
                Point::new(radius * num::cos_deg(angle), radius * num::sin_deg(angle))
            })
            .gather();
        let Ok(frame) = polygon::frame(&corners, &vec![self.width.0; corners.len()]) else {
            return Scene::new();
        };
        let mut figure = polygon::picture(&corners, &frame);
        for item in &mut figure.items {
            if let Item::Dimension { source, .. } = item {
                *source = Source::Computed("outer_edge_length");
            }
        }
        let flat = corners[0].y;
        let (from, to, row) = match self.given {
            "corner_radius" => (Point::ORIGIN, corners[0], 0),
            "inner_side" => (frame.inner.0[0], frame.inner.0[1], 1),
            "outer_side" => (corners[0], corners[1], -1),
            _ => (Point::new(0.0, flat), Point::new(0.0, -flat), 0),
        };
        if self.given == "outer_side" {
            figure.items.retain(|i| !matches!(i, Item::Dimension { .. }));
        }
        let third = corners[0].toward(corners[1], 0.3);
        let above = Point::new(third.x, third.y + self.width.0);
        figure
            .given(from, to, row, self.value, "value")
            .given(third, above, 0, self.width, "width");
        figure.items.retain(|i| !matches!(i, Item::Label { .. }));
        figure
    }
}
