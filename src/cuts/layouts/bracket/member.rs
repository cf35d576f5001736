//! A leg of the bracket: how its corner is joined and its free end finished.

use super::knee::Knee;
use crate::inputs::Inputs;
use crate::parts::{CutName, Part, Sides};
use offsquare_geometry::Point;
use offsquare_units::{Length, num};

/// One leg as it is cut: x from its outer corner end, outer edge at y = 0.
pub struct Member {
    pub reading: f64,
    pub outer_edge: f64,
    pub inner_edge: f64,
    /// How far the inner edge starts behind the outer one at the corner.
    inner_behind: f64,
}

impl Member {
    /// Leg A, or else leg B. Leg lengths count over all from the outside corner.
    ///
    /// Example: legs 2 wide at 90°, 12 over all, leg A through: A is 12 along both edges, B 10.
    pub fn of(k: &Knee, inputs: &Inputs, is_a: bool) -> Member {
        let (outer, inside) = if is_a { (k.leg_a, k.inside_a) } else { (k.leg_b, k.inside_b) };
        let (sin, cos) = (num::sin_deg(k.corner), num::cos_deg(k.corner));
        let (outer_edge, inner_edge) = match inputs.choice("joint") {
            Some("a_through") if is_a => (outer, inside + k.leg_width / sin),
            Some("b_through") if !is_a => (outer, inside + k.leg_width / sin),
            Some("a_through" | "b_through") => (inside + k.leg_width * cos / sin, inside),
            _ => (outer, inside),
        };
        let inner_behind = outer_edge - inner_edge;
        Member {
            reading: num::atan2_deg(inner_behind.abs(), k.leg_width),
            outer_edge,
            inner_edge,
            inner_behind,
        }
    }

    /// What comes off the free end's outer corner; 0 where it is left square.
    pub fn clip(&self, k: &Knee, inputs: &Inputs) -> f64 {
        match inputs.choice("free_ends") {
            Some("clipped") => inputs.inches("clip").unwrap_or(k.leg_width / 2.0),
            _ => 0.0,
        }
    }

    /// The leg with its corner end at the left, its outer edge at y = 0; `key` is the answer that its corner reads.
    pub fn part(&self, k: &Knee, inputs: &Inputs, name: &'static str, key: &'static str) -> Part {
        let w = k.leg_width;
        let long = self.outer_edge;
        let mut right = vec![Point::new(long, 0.0), Point::new(long, w)];
        let mut names = vec![CutName::read("Corner end", key), CutName::plain("Free end")];
        if inputs.choice("free_ends") == Some("clipped") {
            let clip = self.clip(k, inputs);
            right.splice(..1, [Point::new(long - clip, 0.0), Point::new(long, clip)]);
            names.insert(1, CutName::plain("Clip"));
            if clip == w {
                right.pop();
                names.pop();
            }
        }
        Part::stick(
            name,
            Length(w),
            inputs.length("thickness"),
            &[Point::ORIGIN, Point::new(self.inner_behind, w)],
            &right,
            &names,
        )
        .called(Sides::OUTER_BELOW.ends("corner end", "free end"))
    }
}
