//! The panel turning about its pin.

use crate::inputs::{Inputs, Missing};
use offsquare_geometry::{Point, Vector, dot};
use offsquare_units::num;
use offsquare_units::num::Gather;

/// The form that is asked by the angle of opening.
pub const BY_ANGLE: &str = "angle";

/// The hinge, the two holes and the boards, checked. Inches, in the layout's frame.
#[derive(Clone, Copy, Debug)]
pub struct Panel {
    pub hinge: Point,
    /// From the pin to the hole's mouth in the inner face, panel shut.
    pub hole: Vector,
    /// From the pin to the panel's lower inner edge, panel shut.
    pub foot: Vector,
    pub back_hole: Point,
    pub sideways: f64,
    pub height: f64,
    pub thickness: f64,
    pub back: f64,
    /// Down to the next like panel's pin.
    pub next: Option<f64>,
}

/// How far the cord is off its longest, in shares: less is rounding.
const ROUNDING: f64 = 1e-13;

impl Panel {
    pub fn read(inputs: &Inputs) -> Result<Panel, Missing> {
        let l = |key| inputs.need(key);
        let (inner, lower) = (l("inner_face_from_axis")?, l("lower_edge_from_axis")?);
        Ok(Panel {
            hinge: Point::new(l("hinge_x")?, l("hinge_y")?),
            hole: Vector::new(inner, lower + l("panel_hole_up_panel")?),
            foot: Vector::new(inner, lower),
            back_hole: Point::new(0.0, l("back_hole_height")?),
            sideways: inputs.inches("sideways").unwrap_or(0.0),
            height: l("panel_height")?,
            thickness: l("panel_thickness")?,
            back: l("back_thickness")?,
            next: inputs.inches("next_hinge_down"),
        })
    }
    /// Where a point of the shut panel goes: forward and down around the pin.
    pub fn turned(&self, v: Vector, opening: f64) -> Point {
        let (s, c) = (num::sin_deg(opening), num::cos_deg(opening));
        self.hinge + Vector::new(v.x * c + v.y * s, v.y * c - v.x * s)
    }
    /// The panel's four corners: inner lower, outer lower, outer upper, inner upper.
    pub fn corners(&self, opening: f64) -> [Point; 4] {
        let (t, h) = (self.thickness, self.height);
        [(0.0, 0.0), (t, 0.0), (t, h), (0.0, h)]
            .map(|(x, y)| self.turned(Vector::new(self.foot.x + x, self.foot.y + y), opening))
    }
    pub fn cord(&self, opening: f64) -> f64 {
        let d = self.back_hole - self.turned(self.hole, opening);
        num::hypot(d.length(), self.sideways)
    }
    /// The back hole from the pin; then M and the opening of the longest cord, in
    /// length² = c² + r² + sideways² - 2 M cos(opening - at).
    fn swing(&self) -> (Vector, f64, f64) {
        let c = self.back_hole - self.hinge;
        let r = self.hole;
        let (even, odd) = (dot(c, r), c.x * r.y - c.y * r.x);
        (c, num::hypot(even, odd), num::atan2_deg(odd, even))
    }
    /// Whether the cord is as long at every opening: one of the holes is on the pin.
    pub fn is_fixed(&self) -> bool {
        let (c, m, _) = self.swing();
        m <= 1e-15 * (dot(c, c) + dot(self.hole, self.hole))
    }
    /// All openings from 0 to 180 at which the straight cord is `length` long: the law of cosines
    /// around the pin.
    pub fn openings(&self, length: f64) -> Vec<f64> {
        let (c, m, at) = self.swing();
        let r = self.hole;
        let q =
            (dot(c, c) + dot(r, r) + self.sideways * self.sideways - length * length) / (2.0 * m);
        if !q.is_finite() || q.abs() > 1.0 + ROUNDING {
            return Vec::new();
        }
        let away = num::acos_deg(q);
        // An end of the way within a billionth of a degree is reached.
        const END: f64 = 1e-9;
        let mut all: Vec<f64> = [at - away, at + away]
            .into_iter()
            .flat_map(|a| [a - 360.0, a, a + 360.0])
            .filter(|a| (-END..=180.0 + END).contains(a))
            .map(|a| a.clamp(0.0, 180.0))
            .gather();
        num::sort(&mut all);
        all.dedup();
        all
    }
    /// The shortest and longest cord between shut and hanging.
    pub fn reach(&self) -> (f64, f64) {
        let (_, _, at) = self.swing();
        let ends = [self.cord(0.0), self.cord(180.0)];
        [at, at - 180.0, at + 180.0]
            .into_iter()
            .filter(|a| (0.0..=180.0).contains(a))
            .map(|a| self.cord(a))
            .fold((ends[0].min(ends[1]), ends[0].max(ends[1])), |(lo, hi), l| {
                (lo.min(l), hi.max(l))
            })
    }
    /// How near the panel comes to the back's front face while it opens so far: the least x of its
    /// corners, each of which goes round the pin. Negative: it runs into the back.
    pub fn least_from_back(&self, opening: f64) -> f64 {
        let (t, h) = (self.thickness, self.height);
        let mut least = f64::INFINITY;
        for (x, y) in [(0.0, 0.0), (t, 0.0), (t, h), (0.0, h)] {
            let v = Vector::new(self.foot.x + x, self.foot.y + y);
            // x = hinge + |v| cos(opening - from): least opposite to `from`.
            let lowest = num::atan2_deg(v.y, v.x) + 180.0;
            let turns = [lowest - 360.0, lowest, lowest + 360.0];
            let passed = turns.into_iter().filter(|a| (0.0..=opening).contains(a));
            for a in passed.chain([0.0, opening]) {
                least = least.min(self.turned(v, a).x);
            }
        }
        least
    }
    /// How far this panel, open so far, stays from the next like one below, itself open by `next_open`;
    /// 0 where they touch or run into each other.
    pub fn gap_to_next(&self, opening: f64, down: f64, next_open: f64) -> f64 {
        let below = self.corners(next_open).map(|p| Point::new(p.x, p.y - down));
        apart(&self.corners(opening), &below)
    }
}

/// The distance between two convex outlines; 0 where they overlap.
/// Example: unit squares with 1 between their sides are 1 apart.
pub fn apart(a: &[Point], b: &[Point]) -> f64 {
    // Separate if some side of one has all of the other outside.
    let separates = |p: &[Point], q: &[Point]| {
        let area: f64 = (0..p.len())
            .map(|i| {
                let (s, t) = (p[i], p[(i + 1) % p.len()]);
                s.x * t.y - t.x * s.y
            })
            .sum();
        let sign = if area < 0.0 { -1.0 } else { 1.0 };
        (0..p.len()).any(|i| {
            let out = (p[(i + 1) % p.len()] - p[i]).left() * -sign;
            q.iter().all(|c| dot(*c - p[i], out) > 0.0)
        })
    };
    if !separates(a, b) && !separates(b, a) {
        return 0.0;
    }
    let to_side = |c: Point, s: Point, t: Point| {
        let along = t - s;
        let share = dot(c - s, along) / dot(along, along);
        c.distance(s.toward(t, share.clamp(0.0, 1.0))).0
    };
    let mut least = f64::INFINITY;
    for (p, q) in [(a, b), (b, a)] {
        for c in p {
            for i in 0..q.len() {
                least = least.min(to_side(*c, q[i], q[(i + 1) % q.len()]));
            }
        }
    }
    least
}
