//! What a parallel leg measures at a given lean.
//!
//! Frame: the splay plane, x outwards from the post's (or cleat's) face, y up from the floor. The
//! leg is a strip `depth` wide; its outer (upper) edge runs from the joint's upper end on the face
//! out to the foot's outer corner, `run` away from the face.

use offsquare_units::{Angle, num};

/// How the foot is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foot {
    /// Level: the whole foot lies on the floor.
    Floor,
    /// Square to the leg: the leg stands on its inner corner.
    Square,
}

impl Foot {
    /// GEOMETRY's key, which is also the solution's way.
    pub fn key(self) -> &'static str {
        match self {
            Foot::Floor => "floor",
            Foot::Square => "square",
        }
    }
    pub fn cut_name(self) -> &'static str {
        match self {
            Foot::Floor => "Foot, on the floor",
            Foot::Square => "Foot, left square",
        }
    }
}

/// A lean from vertical between 0 and 90 degrees, kept as t = tan(lean / 2): sine, cosine and every
/// size of the leg are then quotients of polynomials in t, without a difference of nearly equal terms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lean {
    /// tan(lean / 2), between 0 and 1.
    pub t: f64,
    /// The lean in degrees.
    pub degrees: f64,
}

impl Lean {
    /// Example: t = 1/√3 is a lean of 60°.
    pub fn of_t(t: f64) -> Lean {
        Lean { t, degrees: 2.0 * num::atan_deg(t) }
    }
    pub fn of_degrees(a: Angle) -> Lean {
        Lean { t: num::tan_deg(a.0 / 2.0), degrees: a.0 }
    }
}

/// The sizes that fix all but the lean: inches.
#[derive(Clone, Copy, Debug)]
pub struct Stance {
    /// From the face out to the foot's outer corner: (footprint − post − cleats) / 2; more than 0.
    pub run: f64,
    /// Depth of the leg in the splay plane; more than 0.
    pub depth: f64,
    pub foot: Foot,
}

impl Stance {
    /// Outer edge, which is also the long-point length: run / sin(lean).
    pub fn outer_edge(&self, t: f64) -> f64 {
        self.run * (1.0 + t * t) / (2.0 * t)
    }
    /// Inner edge, which is also the short-point length: the outer edge less depth·(tan + cot) of
    /// the lean (level foot) or depth·cot (square foot). Not above 0: no such leg.
    pub fn inner_edge(&self, t: f64) -> f64 {
        let (less, more) = (self.run - self.depth, self.run + self.depth);
        match self.foot {
            Foot::Floor => {
                (less - more * t * t) * (1.0 + t * t) / (2.0 * t * (1.0 - t) * (1.0 + t))
            }
            Foot::Square => (less + more * t * t) / (2.0 * t),
        }
    }
    /// Length of the joint on the face: depth / sin(lean).
    pub fn joint(&self, t: f64) -> f64 {
        self.depth * (1.0 + t * t) / (2.0 * t)
    }
    /// Length of the foot's cut: depth / cos(lean) (level), depth (square).
    pub fn foot_cut(&self, t: f64) -> f64 {
        match self.foot {
            Foot::Floor => self.depth * (1.0 + t * t) / ((1.0 - t) * (1.0 + t)),
            Foot::Square => self.depth,
        }
    }
    /// Height of the foot's outer corner above the floor.
    pub fn toe_height(&self, t: f64) -> f64 {
        match self.foot {
            Foot::Floor => 0.0,
            Foot::Square => self.depth * 2.0 * t / (1.0 + t * t),
        }
    }
    /// From the foot's outer corner in to its inner one, along the floor.
    pub fn toe_to_heel(&self, t: f64) -> f64 {
        match self.foot {
            Foot::Floor => self.foot_cut(t),
            Foot::Square => self.depth * (1.0 - t) * (1.0 + t) / (1.0 + t * t),
        }
    }
    /// Height of the joint's upper end: run·cot (+ depth·sin with a square foot).
    pub fn rise_top(&self, t: f64) -> f64 {
        self.run * (1.0 - t) * (1.0 + t) / (2.0 * t) + self.toe_height(t)
    }
    /// Height of the joint's lower end: the inner edge times the cosine.
    pub fn rise_bottom(&self, t: f64) -> f64 {
        let (less, more) = (self.run - self.depth, self.run + self.depth);
        match self.foot {
            Foot::Floor => (less - more * t * t) / (2.0 * t),
            Foot::Square => {
                (less + more * t * t) * (1.0 - t) * (1.0 + t) / (2.0 * t * (1.0 + t * t))
            }
        }
    }
    /// Height of the joint's middle.
    pub fn rise_middle(&self, t: f64) -> f64 {
        self.rise_bottom(t) + self.joint(t) / 2.0
    }
}
