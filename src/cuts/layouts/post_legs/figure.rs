//! The side view of a post on its legs.
//!
//! Frame: the floor is y = 0, the post's axis x = 0; the leg that is drawn in full stands at the right.

use super::post::{Hang, Post, Shape};
use offsquare_geometry::scene::{Role, Scene};
use offsquare_geometry::{Point, Vector};
use offsquare_units::Length;
use offsquare_units::num::Gather;

/// A leg in the splay plane, cut on the post and on the floor.
#[derive(Clone, Copy, Debug)]
pub struct Outline {
    /// Upper and lower end of the joint, on the face of the post or its cleat.
    pub joint_top: Point,
    pub joint_bottom: Point,
    /// Outer and inner corner of the foot.
    pub toe: Point,
    pub heel: Point,
}

impl Outline {
    /// Counter-clockwise from the joint's lower end.
    pub fn corners(&self) -> [Point; 4] {
        [self.joint_bottom, self.heel, self.toe, self.joint_top]
    }
    /// The leg on the other side of a pair or of four; for three legs the other two, which hide each
    /// other from the side, seen half as far from the axis (they stand 120° round it).
    fn other_side(&self, legs: u32) -> Vec<Point> {
        let share = if legs == 3 { -0.5 } else { -1.0 };
        self.corners().iter().map(|p| Point::new(p.x * share, p.y)).gather()
    }
}

/// Where sizes of the leg itself stand, to keep them apart from its cuts: on the leg at the left; of
/// three legs on the one drawn in full. Gives the place and the row on the same side of the wood.
pub fn aside(legs: u32, p: Point, row: i8) -> (Point, i8) {
    if legs == 3 { (p, row) } else { (Point::new(-p.x, p.y), -row) }
}

/// Post, cleats, floor and legs, with the post's and the floor's sizes on them.
pub fn side_view(post: &Post, hang: &Hang, leg: &Outline, footprint: Length) -> Scene {
    let mut scene = Scene::new();
    let half = footprint.0 / 2.0;
    let right = post.width() / 2.0;
    // A triangular post shows the flat at the right and a corner, twice as far off, at the left.
    let left = if post.shape == Shape::Triangular { -2.0 * right } else { -right };
    let joint = leg.joint_top.y - leg.joint_bottom.y;
    // Of a post of unknown length a stub is shown above the joint.
    let top = hang.top.unwrap_or(leg.joint_top.y + (0.5 * joint).max(right));
    let margin = 0.08 * footprint.0;
    scene.line(Point::new(-half - margin, 0.0), Point::new(half + margin, 0.0), Role::Frame);
    scene.rectangle(Point::new(left, hang.bottom), Point::new(right, top), Role::Frame);
    if post.cleat > 0.0 {
        let mut strip = |a: f64, b: f64| {
            let (low, high) = (Point::new(a, leg.joint_bottom.y), Point::new(b, leg.joint_top.y));
            scene.rectangle(low, high, Role::Frame);
        };
        strip(right, right + post.cleat);
        if post.legs != 3 {
            strip(-right - post.cleat, -right);
        }
    }
    scene.shape(leg.other_side(post.legs), Role::Stock);
    scene.shape(leg.corners().to_vec(), Role::Stock);
    scene.line(leg.joint_bottom, leg.joint_top, Role::Cut);
    scene.line(leg.heel, leg.toe, Role::Cut);
    scene.given(Point::new(-half, 0.0), Point::new(half, 0.0), -1, footprint, "footprint");
    if post.shape != Shape::Triangular {
        scene.given(
            Point::new(left, top),
            Point::new(right, top),
            1,
            Length(post.measured),
            "post_width",
        );
    }
    if let Some(length) = post.length {
        scene.given(
            Point::new(left, top),
            Point::new(left, hang.bottom),
            -1,
            Length(length),
            "post_length",
        );
    }
    if post.below_joint > 0.0 {
        scene.given(
            Point::new(left, leg.joint_bottom.y),
            Point::new(left, hang.bottom),
            -2,
            Length(post.below_joint),
            "post_below_joint",
        );
    }
    if post.cleat > 0.0 {
        scene.given(
            Point::new(right, leg.joint_top.y),
            Point::new(right + post.cleat, leg.joint_top.y),
            1,
            Length(post.cleat),
            "cleat",
        );
    }
    if hang.bottom > 0.0 {
        scene.computed(
            Point::new(0.0, hang.bottom),
            Point::new(0.0, 0.0),
            0,
            Length(hang.bottom),
            "post_bottom_height",
        );
    }
    // Moving the foot outwards by an inch widens the footprint by two.
    scene.handle(leg.toe, "footprint", Vector::new(2.0, 0.0));
    scene
}
