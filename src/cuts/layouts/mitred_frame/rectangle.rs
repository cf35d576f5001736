//! A rectangular frame from its outside, its sight size or the panel in its rabbet.

use super::polygon::{self, closing};
use crate::inputs::{Inputs, Missing};
use crate::layouts::{Answers, Caution, Detail, Outcome, Refused, Solution};
use crate::problem::Problem;
use offsquare_geometry::scene::Item;
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Angle, Length, Text, num, say};

/// A rectangular frame with its sizes as they are given, and its sight size, in inches.
struct Rectangle {
    w: Length,
    h: Length,
    rail: Length,
    stile: Length,
    rabbet: Length,
    room: Length,
    /// What width and height are measured to.
    measured: &'static str,
    sight: (f64, f64),
}

/// tan(rail's reading) = stile width ÷ rail width: 45 only where both are equally wide.
/// Example: rails 2, stiles 3: the rail reads 56.31, the stile 33.69.
pub fn solve(inputs: &Inputs, detail: Detail) -> Result<Outcome, Refused> {
    let frame = Rectangle::read(inputs)?;
    frame.check()?;
    let mut solution = Solution {
        way: "rectangle",
        title: "Mitered corners",
        answers: frame.answers(),
        headline: vec![
            "rail.reading_deg",
            "stile.reading_deg",
            "rail.outer_edge_length",
            "stile.outer_edge_length",
        ],
        ..Solution::default()
    };
    if detail == Detail::Full {
        frame.draw(&mut solution);
        solution.derivation = frame.derivation();
        let reading = frame.rail_reading();
        if reading.max(90.0 - reading) > 50.0 {
            solution.cautions.push(Caution::SteepCut);
        }
    }
    closing(&mut solution, inputs, 4, num::hypot(frame.rail.0, frame.stile.0));
    Ok(solution.into())
}

impl Rectangle {
    fn read(inputs: &Inputs) -> Result<Rectangle, Missing> {
        let size = |key| inputs.need(key).map(Length);
        let (w, h) = (size("frame_width")?, size("frame_height")?);
        let (rail, stile) = (size("rail_width")?, size("stile_width")?);
        let rabbet = inputs.length("rabbet_width").unwrap_or_default();
        let room = inputs.length("rabbet_allowance").unwrap_or_default();
        let measured = inputs.choice("measured").unwrap_or("sight");
        let sight = |size: Length, stock: Length| match measured {
            "outside" => size.0 - 2.0 * stock.0,
            "rabbet" => size.0 + room.0 - 2.0 * rabbet.0,
            _ => size.0,
        };
        let sight = (sight(w, stile), sight(h, rail));
        Ok(Rectangle { w, h, rail, stile, rabbet, room, measured, sight })
    }

    fn check(&self) -> Result<(), Problem> {
        rabbet_fits(self.rabbet, self.rail.min(self.stile))?;
        let sides =
            [("frame_width", self.sight.0, self.stile), ("frame_height", self.sight.1, self.rail)];
        let Some((key, _, stock)) = sides.into_iter().find(|(_, left, _)| *left <= 0.0) else {
            return Ok(());
        };
        let limit = match self.measured {
            "outside" => stock * 2.0,
            _ => Length(2.0 * self.rabbet.0 - self.room.0),
        };
        Err(Problem::at_limit(key, "No opening is left: this size must be more than {}.", limit))
    }

    fn outside(&self) -> (f64, f64) {
        (self.sight.0 + 2.0 * self.stile.0, self.sight.1 + 2.0 * self.rail.0)
    }

    fn rail_reading(&self) -> f64 {
        num::atan2_deg(self.stile.0, self.rail.0)
    }

    fn answers(&self) -> Answers {
        let ((ow, oh), (sw, sh)) = (self.outside(), self.sight);
        let (rail, stile, reading) = (self.rail.0, self.stile.0, self.rail_reading());
        let (rabbet, room) = (self.rabbet.0, self.room.0);
        let member = |outer: f64, inner: f64, width: f64, run: f64, reading: f64| {
            let mut a = Answers::new();
            a.length("outer_edge_length", outer)
                .length("inner_edge_length", inner)
                .angle("reading_deg", reading)
                .length("cut_length", num::hypot(width, run))
                .length("tape_mark", run);
            a
        };
        let mut answers = Answers::new();
        answers
            .group("rail", member(ow, sw, rail, stile, reading))
            .group("stile", member(oh, sh, stile, rail, 90.0 - reading))
            .length("outside_width", ow)
            .length("outside_height", oh)
            .length("sight_width", sw)
            .length("sight_height", sh)
            .length("rabbet_size_width", sw + 2.0 * rabbet)
            .length("rabbet_size_height", sh + 2.0 * rabbet)
            .length("panel_width", sw + 2.0 * rabbet - room)
            .length("panel_height", sh + 2.0 * rabbet - room);
        answers
    }

    /// Parts and picture; sizes stand where they are measured.
    fn draw(&self, solution: &mut Solution) {
        let ((ow, oh), rail, stile) = (self.outside(), self.rail, self.stile);
        let corners = [Point::ORIGIN, Point::new(ow, 0.0), Point::new(ow, oh), Point::new(0.0, oh)];
        let Ok(frame) = polygon::frame(&corners, &[rail.0, stile.0, rail.0, stile.0]) else {
            return;
        };
        for (i, name, key) in [(0, "Rail", "rail.reading_deg"), (1, "Stile", "stile.reading_deg")] {
            let mut part = frame.members[i].part(name.to_owned(), 2);
            for cut in &mut part.cuts {
                cut.miter_key = Some(key);
            }
            solution.parts.push(part);
        }
        let mut figure = polygon::picture(&corners, &frame);
        figure.items.retain(|i| !matches!(i, Item::Dimension { .. }));
        let (a, b, c) = match self.measured {
            "outside" => (corners[0], corners[1], corners[2]),
            _ => (frame.inner.0[0], frame.inner.0[1], frame.inner.0[2]),
        };
        let (along, up) = (ow * 0.36, oh * 0.64);
        let (on_rail, above) = (Point::new(along, oh - rail.0), Point::new(along, oh));
        let (beside, on_stile) = (Point::new(0.0, up), Point::new(stile.0, up));
        figure
            .given(a, b, -1, self.w, "frame_width")
            .given(b, c, -1, self.h, "frame_height")
            .given(on_rail, above, 0, rail, "rail_width")
            .given(beside, on_stile, 0, stile, "stile_width");
        // Pulling a side by v makes the size larger by v, whatever it is measured to.
        for (at, field, per_inch) in [
            (b.middle(c), "frame_width", Vector::new(1.0, 0.0)),
            (Point::new((a.x + b.x) / 2.0, c.y), "frame_height", Vector::new(0.0, 1.0)),
        ] {
            figure.handle(at, field, per_inch);
        }
        solution.figure = figure;
    }

    fn derivation(&self) -> Vec<Text> {
        let ((ow, oh), (sw, sh), reading) = (self.outside(), self.sight, self.rail_reading());
        vec![
            say!(
                "What shows is {} by {}; outside it is {} by {}.",
                Length(sw),
                Length(sh),
                Length(ow),
                Length(oh)
            ),
            say!("tan(rail's reading) = stile width ÷ rail width: {}.", Angle(reading)),
            say!("The stile takes what is left of 90°: {}.", Angle(90.0 - reading)),
        ]
    }
}

/// A rabbet as wide as the stock leaves nothing in front of the panel.
pub fn rabbet_fits(rabbet: Length, stock: Length) -> Result<(), Problem> {
    if rabbet < stock {
        return Ok(());
    }
    Err(Problem::at_limit("rabbet_width", "The rabbet must be narrower than the stock, {}.", stock))
}
