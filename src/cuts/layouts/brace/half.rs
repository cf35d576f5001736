//! One half of a brace that is cut through where it crosses.

use super::given::{Place, cut_names};
use super::landing::Landing;
use super::lap::Crossing;
use crate::layouts::Answers;
use crate::parts::{CutName, Part, Sides};
use offsquare_geometry::{Point, Polygon};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// One half of the second brace: from its outer end to the first brace's edge.
pub struct Half {
    /// End lines from edge A to edge B in the second strip's frame, left (lower) end first.
    pub ends: [Vec<Point>; 2],
    upper: bool,
}

impl Half {
    /// Below the first brace.
    pub fn lower(c: &Crossing) -> Half {
        Half { ends: [c.second.lower.clone(), joint_line(c, 0)], upper: false }
    }
    /// Above it.
    pub fn upper(c: &Crossing) -> Half {
        Half { ends: [joint_line(c, 1), c.second.upper.clone()], upper: true }
    }
    /// Its corners in the strip's frame.
    pub fn outline(&self) -> Polygon {
        let [left, right] = &self.ends;
        let mut all: Vec<Point> = left.first().copied().into_iter().gather();
        all.extend(right);
        all.extend(left.iter().skip(1).rev());
        Polygon(all)
    }
    /// What its outer end's cuts are called.
    pub fn outer_names(&self, landing: Landing) -> Vec<CutName> {
        if self.upper {
            let names = cut_names(landing, Place::UpperHalf);
            names[names.len() / 2..].to_vec()
        } else {
            let mut names = cut_names(landing, Place::Half);
            names.truncate(names.len() / 2);
            names
        }
    }
    /// `joint`: what its inner end reads.
    pub fn answers(&self, joint: f64) -> Answers {
        let outline = self.outline();
        let most = outline.0.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.x));
        let least = outline.0.iter().fold(f64::INFINITY, |m, p| m.min(p.x));
        let [left, right] = &self.ends;
        let x = |p: Option<&Point>| p.map_or(0.0, |p| p.x);
        let joint_line = if self.upper { left } else { right };
        let cut = match joint_line[..] {
            [p, q] => p.distance(q).0,
            _ => 0.0,
        };
        let mut a = Answers::new();
        a.length("long_point_length", most - least)
            .length("left_edge_length", x(right.last()) - x(left.last()))
            .length("right_edge_length", x(right.first()) - x(left.first()))
            .angle("joint_reading_deg", joint)
            .length("joint_cut_length", cut)
            .area("face_area", outline.area().0);
        a
    }
    pub fn part(&self, c: &Crossing, away: Option<Length>, landing: Landing, like: bool) -> Part {
        let joint = CutName {
            name: "Inner end, on the first brace",
            miter_key: Some(if self.upper {
                "upper_half.joint_reading_deg"
            } else {
                "half.joint_reading_deg"
            }),
        };
        let mut names = self.outer_names(landing);
        let at = if self.upper { 0 } else { names.len() };
        names.insert(at, joint);
        let name = match (like, self.upper) {
            (true, _) => "Half of the second brace",
            (false, true) => "Upper half of the second brace",
            (false, false) => "Lower half of the second brace",
        };
        let [left, right] = &self.ends;
        let width = Length(c.second.width);
        let mut part = Part::stick(name, width, away, left, right, &names).called(Sides::RISING);
        part.count = if like { 2 } else { 1 };
        part
    }
}

/// Where the second brace meets the first one's lower (0) or upper (1) side, from edge A to edge B.
fn joint_line(c: &Crossing, side: usize) -> Vec<Point> {
    let lap = &c.laps[1];
    vec![Point::new(lap.right[side], 0.0), Point::new(lap.left[side], c.second.width)]
}
