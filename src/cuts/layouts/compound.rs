//! Compound cuts: a piece whose ends are cut along planes, as it lies on the saw.
//!
//! The piece's frame: x along it to the right, y toward the fence, z up; the seen face is z = 0, so
//! the wood lies below it.

use super::Answers;
use crate::parts::{Cut, End, Part, Ripped, Side, Sides};
use offsquare_geometry::{Point, Polygon, Vector3};
use offsquare_units::{Angle, Length, num};
use std::borrow::Cow;

/// Readings below this many degrees are rounding, not a setting.
const SQUARE: f64 = 1e-10;

/// A direction given in the world's frame, told in the piece's: along, toward the fence, up.
pub fn in_frame(n: Vector3, along: Vector3, up: Vector3) -> Vector3 {
    Vector3::new(n.dot(along), n.dot(up.cross(along)), n.dot(up))
}

/// Miter and bevel of the plane with unit normal `n` in the piece's frame: tan(miter) = |n.y|/|n.x|,
/// sin(bevel) = |n.z| (GEOMETRY 1).
/// Example: n = (1, 1, √2)/2 is miter 45, bevel 45.
pub fn readings(n: Vector3) -> (f64, f64) {
    let set = |angle: f64| if angle < SQUARE { 0.0 } else { angle };
    (
        set(num::atan2_deg(n.y.abs(), n.x.abs())),
        // From both parts, so that steep bevels keep their last digits.
        set(num::atan2_deg(n.z.abs(), num::hypot(n.x, n.y))),
    )
}

/// The readings as answers, and the same cut as two tape marks: how far it runs along over the face's
/// width, and how far over the edge's. Example: miter 45 on a face 2 wide: the mark is 2 along.
pub fn tell(answers: &mut Answers, n: Vector3, wide: f64, thick: f64) {
    let (miter, bevel) = readings(n);
    answers
        .angle("mitre_deg", miter)
        .angle("bevel_deg", bevel)
        .length("face_tape_mark", wide * num::tan_deg(miter))
        .length("edge_tape_mark", thick * num::tan_deg(bevel) / num::cos_deg(miter));
}

/// One end of a piece.
#[derive(Clone, Copy, Debug)]
pub struct Ended {
    pub name: &'static str,
    /// Unit normal of the cut's plane, in the piece's frame.
    pub normal: Vector3,
    /// Where the plane meets the seen face's edge at y = 0.
    pub at: f64,
}

impl Ended {
    fn x(&self, y: f64, z: f64) -> f64 {
        self.at - (self.normal.y * y + self.normal.z * z) / self.normal.x
    }
}

/// A straight piece between two planes.
#[derive(Clone, Debug)]
pub struct Piece {
    pub name: &'static str,
    pub count: u32,
    pub seen: f64,
    pub away: f64,
    pub sides: Sides,
    /// What is ripped off its edges after these cuts; it lies on the saw with square edges.
    pub ripped: Option<Ripped>,
    pub left: Ended,
    pub right: Ended,
    /// Answers that are the miter and the bevel, if there are any.
    pub keys: (Option<&'static str>, Option<&'static str>),
}

impl Piece {
    pub fn part(&self) -> Part {
        let (seen, away) = (self.seen, self.away);
        let corners = [(0.0, 0.0), (seen, 0.0), (0.0, -away), (seen, -away)];
        let reach = |e: &Ended| corners.map(|(y, z)| e.x(y, z));
        let least = reach(&self.left).into_iter().fold(f64::INFINITY, f64::min);
        let most = reach(&self.right).into_iter().fold(f64::NEG_INFINITY, f64::max);
        let point = |e: &Ended, y: f64| Point::new(e.x(y, 0.0) - least, y);
        let cut = |e: &Ended, end| {
            let (miter, bevel) = readings(e.normal);
            let side = |reading: f64, slope: f64| match (reading > 0.0, slope > 0.0) {
                (false, _) => Side::Neither,
                (true, true) => Side::Left,
                (true, false) => Side::Right,
            };
            Cut {
                name: Cow::Borrowed(e.name),
                end,
                miter: Angle(miter),
                swing: side(miter, -e.normal.y / e.normal.x),
                bevel: Angle(bevel),
                lean: side(bevel, e.normal.z / e.normal.x),
                miter_key: self.keys.0,
                bevel_key: self.keys.1,
                across: Length(seen),
                from: point(e, 0.0),
                to: point(e, seen),
            }
        };
        let (left, right) = (&self.left, &self.right);
        let outline = [point(left, 0.0), point(right, 0.0), point(right, seen), point(left, seen)];
        Part {
            name: Cow::Borrowed(self.name),
            count: self.count,
            sides: self.sides,
            seen: Length(seen),
            away: Some(Length(away)),
            length: Length(most - least),
            edge_a: Length(outline[1].x - outline[0].x),
            edge_b: Length(outline[2].x - outline[3].x),
            outline: Polygon(outline.to_vec()),
            cuts: vec![cut(left, End::Left), cut(right, End::Right)],
            ripped: self.ripped,
            ..Part::PLAIN
        }
    }
}
