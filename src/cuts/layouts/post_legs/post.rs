//! The post: how many legs it carries, what it is in section, and what that asks of a leg.

use crate::inputs::{Inputs, Missing, Value};
use crate::problem::Problem;
use offsquare_units::{Length, say};

/// Section of the post.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    Square,
    Round,
    Hexagonal,
    Triangular,
}

impl Shape {
    const ALL: [(&'static str, Shape); 4] = [
        ("square", Shape::Square),
        ("round", Shape::Round),
        ("hexagonal", Shape::Hexagonal),
        ("triangular", Shape::Triangular),
    ];

    /// Whether so many legs can sit on it, each as far from the next.
    fn bears(self, legs: u32) -> bool {
        match legs {
            3 => self != Shape::Square,
            2 => self != Shape::Triangular,
            _ => matches!(self, Shape::Square | Shape::Round),
        }
    }
}

/// A post with its legs and cleats; lengths in inches.
#[derive(Clone, Copy, Debug)]
pub struct Post {
    /// As measured: the width of a square post, the diameter, across the flats, or a triangle's side.
    pub measured: f64,
    pub shape: Shape,
    /// 2, 3 or 4.
    pub legs: u32,
    /// Thickness of the cleat between a leg and the post; 0 without.
    pub cleat: f64,
    /// How far the post goes on below the joint.
    pub below_joint: f64,
    /// Length of the post, where it is known.
    pub length: Option<f64>,
    /// Size of a leg going away from you, where it is known.
    pub breadth: Option<f64>,
}

const SQRT_3: f64 = 1.732_050_807_568_877_2;

impl Post {
    pub fn read(inputs: &Inputs) -> Result<Post, Missing> {
        let length = |key| inputs.inches(key);
        let legs = inputs.number("legs").map_or(4, |n| n as u32);
        let named = inputs.choice("post_shape");
        let usual = if legs == 3 { Shape::Hexagonal } else { Shape::Square };
        let shape = Shape::ALL.iter().find(|s| named == Some(s.0)).map_or(usual, |s| s.1);
        Ok(Post {
            measured: inputs.need("post_width")?,
            shape,
            legs,
            cleat: length("cleat").unwrap_or(0.0),
            below_joint: length("post_below_joint").unwrap_or(0.0),
            length: length("post_length"),
            breadth: length("leg_breadth"),
        })
    }

    /// p: twice the distance from the post's axis to the flat on which a leg or cleat sits.
    /// Example: a triangle of side 3: 3/√3 = 1.732.
    pub fn width(&self) -> f64 {
        match self.shape {
            Shape::Triangular => self.measured / SQRT_3,
            _ => self.measured,
        }
    }

    /// p + 2c: the same to where the leg sits, cleats included.
    pub fn width_with_cleats(&self) -> f64 {
        self.width() + 2.0 * self.cleat
    }

    /// Breadth of one of the post's flats; none on a round post.
    pub fn flat(&self) -> Option<f64> {
        match self.shape {
            Shape::Square => Some(self.measured),
            Shape::Round => None,
            Shape::Hexagonal => Some(self.measured / SQRT_3),
            Shape::Triangular => Some(self.measured),
        }
    }

    /// From the middle of one foot's toe edge to that of the next foot: a chord of the circle through
    /// the toes, whose diameter is the footprint. Example: three legs, footprint 10: 8.660.
    pub fn toe_to_toe(&self, footprint: f64) -> f64 {
        footprint
            * match self.legs {
                2 => 1.0,
                3 => SQRT_3 / 2.0,
                _ => core::f64::consts::FRAC_1_SQRT_2,
            }
    }

    /// What the number of legs, the section and the breadth of a leg forbid or ask.
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Vec::new();
        if !self.shape.bears(self.legs) {
            let text = match self.legs {
                3 => "Three legs need a round, hexagonal or triangular post.",
                2 => "A triangular post has no two flats that face away from each other.",
                _ => "Four legs need a square or a round post.",
            };
            let shapes = Shape::ALL.into_iter().filter(|s| s.1.bears(self.legs));
            let legs = [4, 3, 2].into_iter().filter(|n| self.shape.bears(*n));
            found.push(
                Problem::stop("post_shape", say!(text))
                    .mended_by("post_shape", shapes.map(|s| Value::Choice(s.0)))
                    .mended_by("legs", legs.map(|n| Value::Number(f64::from(n)))),
            );
            return found;
        }
        if self.shape == Shape::Round {
            found.push(Problem::warn(
                "post_shape",
                say!(
                    "A flat cut touches a round post along one line only: plane a flat for each \
                     leg, or hollow a cleat to the post."
                ),
            ));
        }
        let Some(breadth) = self.breadth else {
            return found;
        };
        let room = match self.legs {
            4 => Some(self.width_with_cleats()),
            3 => Some(SQRT_3 * self.width_with_cleats()),
            _ => None,
        };
        if let Some(room) = room.filter(|room| breadth > *room) {
            found.push(Problem::at_limit(
                "leg_breadth",
                "A leg this broad hits its neighbor at the post: the legs may be at most \
                         {} broad.",
                Length(room),
            ));
        } else if let Some(flat) = self.flat().filter(|flat| breadth > *flat) {
            found.push(
                Problem::at_limit(
                    "leg_breadth",
                    "The leg is broader than the flat it sits on, which is {} broad.",
                    Length(flat),
                )
                .as_warning(),
            );
        }
        found
    }

    /// Whether the post hangs clear of the floor and the joint stays on it. `rise_bottom` and
    /// `joint`: height of the joint's lower end and its length; `scale`: the largest length at hand.
    pub fn hang(&self, rise_bottom: f64, joint: f64, scale: f64) -> Result<Hang, Problem> {
        // A post that just reaches the floor may miss it by the last bits.
        let slack = 1e-12 * scale;
        let bottom = rise_bottom - self.below_joint;
        if bottom < -slack {
            return Err(Problem::at_limit(
                "post_below_joint",
                "The post would go through the floor: at most {} of it may stand below the \
                     joint.",
                Length(rise_bottom),
            ));
        }
        let bottom = if bottom.abs() <= slack { 0.0 } else { bottom };
        if let Some(length) = self.length
            && self.below_joint + joint > length + slack
        {
            let needed = self.below_joint + joint;
            return Err(Problem::at_limit(
                "post_length",
                "The joint would reach above the post's top: the post must be at least {} \
                     long.",
                Length(needed),
            ));
        }
        Ok(Hang { bottom, top: self.length.map(|l| bottom + l) })
    }

    /// The footprint must be more than the post with its cleats.
    pub fn check_footprint(&self, footprint: f64) -> Option<Problem> {
        let least = self.width_with_cleats();
        (footprint <= least).then(|| {
            let what = if self.cleat > 0.0 {
                "The footprint must be more than the post with its cleats ("
            } else {
                "The footprint must be more than the post is wide ("
            };
            Problem::stop("footprint", say!("{}{}).", what, Length(least)))
                .with_limit(Length(least))
        })
    }
}

/// How high the post hangs.
#[derive(Clone, Copy, Debug)]
pub struct Hang {
    /// Height of its lower end above the floor.
    pub bottom: f64,
    /// Height of its upper end, where its length is known.
    pub top: Option<f64>,
}
