//! The end board's outline and the answers that follow from it.

use super::sizes::Sizes;
use crate::inputs::Inputs;
use crate::layouts::{Answer, Answers};
use crate::problem::Problem;
use offsquare_geometry::{Point, Polygon, cross, dot};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, num, say};

/// An end board that can be made.
#[derive(Clone, Debug)]
pub struct EndBoard {
    pub sizes: Sizes,
    /// Corners counter-clockwise from the origin; a shoulder at 0 and a top of 0 have no corner of
    /// their own.
    pub corners: Vec<Point>,
}

impl EndBoard {
    /// Checks the sizes. Example: base 12, top 5, height 9 1/4, shoulder 3: six corners, insets 3 1/2.
    pub fn of(sizes: Sizes, inputs: &Inputs) -> Result<EndBoard, Problem> {
        let Sizes { base, top, height, shoulder, left, right } = sizes;
        let slip = 1e-12 * (base.abs() + left.abs() + right.abs());
        if base <= 0.0 || top < -slip {
            return Err(insets_too_far(&sizes, inputs));
        }
        let top = if top < slip { 0.0 } else { top };
        let apex = top == 0.0;
        let mut corners = vec![Point::ORIGIN, Point::new(base, 0.0)];
        if shoulder > 0.0 {
            corners.push(Point::new(base, shoulder));
        }
        corners.push(Point::new(base - right, height));
        if !apex {
            corners.push(Point::new(left, height));
        }
        if shoulder > 0.0 {
            corners.push(Point::new(0.0, shoulder));
        }
        Ok(EndBoard { sizes: Sizes { top, ..sizes }, corners })
    }

    /// Degrees off vertical, never negative: the saw's reading with the grain level.
    pub fn left_reading(&self) -> f64 {
        num::atan2_deg(self.sizes.left.abs(), self.sizes.rise())
    }
    pub fn right_reading(&self) -> f64 {
        num::atan2_deg(self.sizes.right.abs(), self.sizes.rise())
    }
    pub fn left_slope(&self) -> f64 {
        num::hypot(self.sizes.left, self.sizes.rise())
    }
    pub fn right_slope(&self) -> f64 {
        num::hypot(self.sizes.right, self.sizes.rise())
    }
    /// Least and greatest x of the outline.
    pub fn extent(&self) -> (f64, f64) {
        let s = &self.sizes;
        (s.left.min(0.0), s.base.max(s.base - s.right))
    }
    pub fn bounding_width(&self) -> f64 {
        let (least, greatest) = self.extent();
        greatest - least
    }
    /// Where the two sides are at a height above the base, 0 to the height.
    pub fn sides_at(&self, y: f64) -> (f64, f64) {
        let s = &self.sizes;
        let share = ((y - s.shoulder) / s.rise()).clamp(0.0, 1.0);
        (s.left * share, s.base - s.right * share)
    }

    /// All answers about the board itself.
    pub fn answers(&self) -> Answers {
        let s = &self.sizes;
        let polygon = Polygon(self.corners.clone());
        let mut a = Answers::new();
        a.put("corners", points(&self.corners))
            .length("base_width", s.base)
            .length("top_width", s.top)
            .length("height", s.height)
            .length("left_inset", s.left)
            .length("right_inset", s.right)
            .length("left_slope_length", self.left_slope())
            .length("right_slope_length", self.right_slope())
            .angle("left_reading_deg", self.left_reading())
            .angle("right_reading_deg", self.right_reading())
            .angle("left_edge_from_upright_reading_deg", num::atan2_deg(s.rise(), s.left.abs()))
            .angle("right_edge_from_upright_reading_deg", num::atan2_deg(s.rise(), s.right.abs()))
            .length("left_tape_mark", s.left.abs())
            .length("right_tape_mark", s.right.abs())
            .length("left_edge_from_upright_tape_mark", s.rise())
            .length("right_edge_from_upright_tape_mark", s.rise())
            // The exact formula: no figures are lost to large coordinates.
            .area("face_area", s.base * s.shoulder + (s.base + s.top) / 2.0 * s.rise())
            .length("perimeter", polygon.perimeter().0)
            .length("bounding_width", self.bounding_width())
            .angles("interior_deg", interior(&self.corners));
        a
    }
}

/// The insets leave no top (or, flaring out, no base): said beside the inset that was given last, with
/// the most (or least) that it may be.
fn insets_too_far(sizes: &Sizes, inputs: &Inputs) -> Problem {
    let no_base = sizes.base <= 0.0;
    let sides = [
        (sizes.left, ["right_inset", "right_reading_deg", "right_slope_length"]),
        (sizes.right, ["left_inset", "left_reading_deg", "left_slope_length"]),
    ];
    let found = sides.iter().find_map(|(other, keys)| {
        keys.iter().find(|k| inputs.get(k).is_some()).map(|k| (*other, *k))
    });
    let text = if no_base {
        say!("These sizes leave no base: the top and the insets together must be more than 0.")
    } else {
        say!(
            "The two insets together may not be more than the base, {}; these make {}.",
            Length(sizes.base),
            Length(sizes.left + sizes.right)
        )
    };
    let (field, limit) = match found {
        None => ("top_width", Quantity::Length(Length(0.0))),
        Some((other, key)) => {
            let inset = if no_base { -sizes.top - other } else { sizes.base - other };
            let limit = if key.ends_with("_deg") {
                Quantity::Angle(Angle(num::atan2_deg(inset.max(0.0), sizes.rise())))
            } else if key.ends_with("_length") {
                Quantity::Length(Length(num::hypot(inset.max(0.0), sizes.rise())))
            } else {
                Quantity::Length(Length(inset))
            };
            (key, limit)
        }
    };
    Problem::stop(field, text).with_limit(limit)
}

/// Corners as [x, y] pairs.
pub fn points(corners: &[Point]) -> Answer {
    let corner = |p: &Point| Answer::list([p.x, p.y].map(Length).into_iter());
    Answer::List(corners.iter().map(corner).gather())
}

/// The angle inside each corner of a counter-clockwise outline, 0 to 360.
pub fn interior(corners: &[Point]) -> Vec<f64> {
    let n = corners.len();
    (0..n)
        .map(|i| {
            let here = corners[i];
            let coming = here - corners[(i + n - 1) % n];
            let going = corners[(i + 1) % n] - here;
            180.0 - num::atan2_deg(cross(coming, going), dot(coming, going))
        })
        .gather()
}

/// Where the floor and the divider lie in the end board's outline.
pub struct Inside {
    pub floor_below: f64,
    pub floor_above: f64,
    pub divider: Option<Vec<Point>>,
}
