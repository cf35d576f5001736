//! From where solids are looked at.

use offsquare_geometry::{Point, Point3, Vector3};
use offsquare_units::{Angle, num};

/// From where a solid is seen: the eye stands in front, walks `turn` to the right around it and rises
/// by `tilt`. Lines that are parallel stay so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    pub turn: Angle,
    pub tilt: Angle,
}

impl View {
    pub const FRONT: View = View { turn: Angle(0.0), tilt: Angle(0.0) };
    /// Front, right side and top, each seen well.
    pub const CORNER: View = View { turn: Angle(35.0), tilt: Angle(25.0) };

    /// Walked on to the right and risen by so much; the tilt stops straight above and straight below.
    pub fn turned(self, turn: f64, tilt: f64) -> View {
        let turn = self.turn.0 + turn;
        View {
            turn: Angle(turn - num::floor(turn / 360.0) * 360.0),
            tilt: Angle((self.tilt.0 + tilt).clamp(-90.0, 90.0)),
        }
    }

    /// Where the eye stands, in words.
    ///
    /// Example: [`View::CORNER`] is "seen from the front right, above".
    pub fn words(self) -> String {
        const ROUND: [&str; 8] = [
            "front",
            "front right",
            "right",
            "back right",
            "back",
            "back left",
            "left",
            "front left",
        ];
        let eighth = num::round_half_up(self.turn.0 / 45.0);
        let eighth = eighth - num::floor(eighth / 8.0) * 8.0;
        let side = ROUND[(eighth as usize).min(7)];
        match self.tilt.0 {
            t if t > 80.0 => format!("seen from straight above, the {side} toward you"),
            t if t < -80.0 => format!("seen from straight below, the {side} toward you"),
            t if t > 5.0 => format!("seen from the {side}, above"),
            t if t < -5.0 => format!("seen from the {side}, below"),
            _ => format!("seen from the {side}"),
        }
    }

    /// Unit vectors to the right, upwards and toward the eye.
    pub(super) fn axes(self) -> [Vector3; 3] {
        let (sin, cos) = (self.turn.sin(), self.turn.cos());
        let (up, level) = (self.tilt.sin(), self.tilt.cos());
        let right = Vector3::new(cos, sin, 0.0);
        let toward = Vector3::new(sin * level, -cos * level, up);
        [right, toward.cross(right), toward]
    }

    /// Where a point is seen.
    pub(super) fn seen(self, p: Point3) -> Point {
        let [right, up, _] = self.axes();
        let v = p - Point3::default();
        Point::new(v.dot(right), v.dot(up))
    }
}
