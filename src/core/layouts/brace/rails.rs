//! Flat on the rails: both ends lie on the rails; the strip's two edges pass through the lower left
//! and the upper right corner.

use super::Opening;
use crate::geometry::{Point, Vector};
use crate::layouts::{Answers, Detail, Solution};
use crate::num;
use crate::parts::{CutName, Part};
use crate::problem::Problem;
use crate::say;
use crate::scene::{Role, Scene};
use crate::units::{Angle, Length, Quantity};

/// W sin f − H cos f = s, so f = t + asin(s/D), with t = atan(H/W) and D the diagonal.
/// Example: 30 × 44 with a 2 1/2 strip: f 58.4°, reading 31.6°.
pub fn solve(o: Opening, detail: Detail) -> Result<Solution, Problem> {
    let (w, h, s) = (o.width.0, o.height.0, o.strip.0);
    if s >= w {
        return Err(Problem::stop(
            "strip_width",
            say![
                "Flat on the rails, the strip must be narrower than the opening is wide (",
                o.width,
                ")."
            ],
        )
        .with_limit(Quantity::Length(o.width))
        .of_way("rails"));
    }
    let d = num::hypot(w, h);
    let slope = num::atan2_deg(h, w) + num::asin_deg(s / d);
    let (sin, cos) = (num::sin_deg(slope), num::cos_deg(slope));
    let edge = h / sin;
    let lean = s * cos / sin;
    let mut answers = Answers::new();
    answers
        .angle("slope_to_rail_deg", slope)
        .angle("reading_deg", 90.0 - slope)
        .length("edge_length", edge)
        .length("long_point_length", edge + lean)
        .length("short_point_length", edge - lean)
        .length("tip_to_tip_straight", d)
        .length("end_cut_length", s / sin);
    let mut solution = Solution {
        way: "rails",
        title: "Flat on the rails",
        answers,
        headline: vec!["reading_deg", "edge_length"],
        ..Solution::default()
    };
    if detail == Detail::Full {
        let cut = |name| CutName {
            name,
            miter_key: Some("reading_deg"),
        };
        let part = Part::stick(
            "Brace",
            o.strip,
            None,
            &[Point::new(lean, 0.0), Point::new(0.0, s)],
            &[Point::new(edge + lean, 0.0), Point::new(edge, s)],
            &[cut("Lower end, on the rail"), cut("Upper end, on the rail")],
        );
        solution.figure = picture(o, &part, Angle(slope));
        solution.parts.push(part);
        solution.derivation = vec![
            say!["Diagonal of the opening: ", Length(d), "."],
            say![
                "The diagonal rises at ",
                Angle(num::atan2_deg(h, w)),
                "; the strip's width turns it by asin(strip ÷ diagonal) = ",
                Angle(num::asin_deg(s / d)),
                "."
            ],
            say![
                "So the strip rises at ",
                Angle(slope),
                "; off square the saw reads 90° less that, ",
                Angle(90.0 - slope),
                "."
            ],
            say!["Either edge: height ÷ sin(slope) = ", Length(edge), "."],
        ];
    }
    Ok(solution)
}

fn picture(o: Opening, part: &Part, slope: Angle) -> Scene {
    let (w, h, s) = (o.width.0, o.height.0, o.strip.0);
    let along = Vector::at(slope);
    // Edge B (y = s in the part's frame) passes through the lower left corner.
    let place = |p: &Point| {
        Point::ORIGIN
            .plus(along.times(p.x))
            .plus(along.left().times(p.y - s))
    };
    let mut scene = Scene::new();
    let corner = [
        Point::ORIGIN,
        Point::new(w, 0.0),
        Point::new(w, h),
        Point::new(0.0, h),
    ];
    scene.shape(corner.to_vec(), Role::Frame);
    scene.shape(part.outline.0.iter().map(place).collect(), Role::Stock);
    for cut in &part.cuts {
        scene.line(place(&cut.from), place(&cut.to), Role::Cut);
    }
    scene
        .given(
            corner[0],
            corner[1],
            -1,
            Quantity::Length(o.width),
            "opening_width",
        )
        .given(
            corner[3],
            corner[0],
            -1,
            Quantity::Length(o.height),
            "opening_height",
        );
    scene
}
