//! The box from above, and each board: its outer face laid flat and its section, leaning.

use super::board::Board;
use crate::geometry::Point;
use crate::num;
use crate::say;
use crate::scene::{Item, Role, Scene, Source};
use crate::units::{Angle, Length, Quantity};

/// The four outlines of a box from above, corner by corner, counterclockwise; side i runs from corner
/// i to i + 1 and leans outward by `tilts[i]`.
pub struct Plan {
    pub outer_bottom: Vec<Point>,
    pub outer_top: Vec<Point>,
    pub inner_bottom: Vec<Point>,
    pub inner_top: Vec<Point>,
    pub tilts: Vec<f64>,
    /// Where the joints run at the rim, from outside to inside.
    pub joints: Vec<(Point, Point)>,
}

impl Plan {
    /// Half its extent, across and up.
    pub fn half(&self) -> (f64, f64) {
        self.outer_bottom
            .iter()
            .chain(&self.outer_top)
            .fold((0.0, 0.0), |(x, y), p| {
                (f64::max(x, p.x.abs()), f64::max(y, p.y.abs()))
            })
    }
    /// Around `at`.
    fn draw(&self, scene: &mut Scene, at: Point) {
        let place = |p: &Point| Point::new(at.x + p.x, at.y + p.y);
        let n = self.tilts.len();
        for i in 0..n {
            let j = (i + 1) % n;
            scene.shape(
                [
                    &self.outer_top[i],
                    &self.outer_top[j],
                    &self.inner_top[j],
                    &self.inner_top[i],
                ]
                .map(place)
                .to_vec(),
                Role::Stock,
            );
        }
        for i in 0..n {
            let j = (i + 1) % n;
            let edge = |scene: &mut Scene, outline: &[Point], seen: bool| {
                let role = if seen { Role::Frame } else { Role::Hidden };
                scene.line(place(&outline[i]), place(&outline[j]), role);
            };
            // Leaning outward, the bottom is seen inside the rim and hidden outside; inward, the
            // other way round; upright it lies under the rim's lines.
            if self.tilts[i] != 0.0 {
                edge(scene, &self.outer_bottom, self.tilts[i] < 0.0);
                edge(scene, &self.inner_bottom, self.tilts[i] > 0.0);
            }
        }
        for (from, to) in &self.joints {
            scene.line(place(from), place(to), Role::Cut);
        }
    }
}

/// Where a board's sizes come from.
pub struct Told {
    pub title: &'static str,
    pub bottom: Source,
    pub top: &'static str,
    pub slant: &'static str,
    pub tilt: &'static str,
    pub thickness: &'static str,
}

/// A board's face with its three sizes, its section to the right; gives back how high both stand.
fn board(scene: &mut Scene, b: &Board, told: &Told, low: f64) -> f64 {
    let slant = b.slant();
    let run = b.grown / 2.0;
    let longest = b.outer.max(b.top());
    let middle = longest / 2.0;
    let p = |half: f64, y: f64| Point::new(middle + half, low + y);
    let (half, top) = (b.outer / 2.0, b.outer / 2.0 + run);
    let face = [p(-half, 0.0), p(half, 0.0), p(top, slant), p(-top, slant)];
    scene
        .shape(face.to_vec(), Role::Stock)
        .line(face[0], face[3], Role::Cut)
        .line(face[1], face[2], Role::Cut)
        .add(Item::Dimension {
            from: face[0],
            to: face[1],
            row: -1,
            value: Quantity::Length(Length(b.outer)),
            source: told.bottom,
        })
        .computed(
            face[2],
            face[3],
            -1,
            Quantity::Length(Length(b.top())),
            told.top,
        )
        .computed(
            Point::new(0.0, low + slant),
            Point::new(0.0, low),
            -1,
            Quantity::Length(Length(slant)),
            told.slant,
        )
        .label(p(0.0, slant / 2.0), say![told.title], Role::Frame);
    // The section, its outer face to the right.
    let out = b.height * num::tan_deg(b.tilt);
    let level = b.thickness / num::cos_deg(b.tilt);
    let foot = longest * 1.25 + level + (-out).max(0.0);
    let s = |x: f64, y: f64| Point::new(foot + x, low + y);
    scene
        .shape(
            vec![
                s(-level, 0.0),
                s(0.0, 0.0),
                s(out, b.height),
                s(out - level, b.height),
            ],
            Role::Stock,
        )
        .line(s(0.0, 0.0), s(0.0, b.height), Role::Center)
        .given(
            s(out.max(0.0), 0.0),
            s(out.max(0.0), b.height),
            -1,
            Quantity::Length(Length(b.height)),
            "height",
        )
        .add(Item::AngleMark {
            at: s(0.0, 0.0),
            from: Angle(90.0 - b.tilt.max(0.0)),
            to: Angle(90.0 - b.tilt.min(0.0)),
            value: Quantity::Angle(Angle(b.tilt)),
            source: Source::Given(told.tilt),
        });
    // Its thickness, square to the faces, at half height.
    let half = b.height / 2.0;
    let on = s(out / 2.0, half);
    let inside = Point::new(
        on.x - b.thickness * num::cos_deg(b.tilt),
        on.y + b.thickness * num::sin_deg(b.tilt),
    );
    scene.given(
        inside,
        on,
        0,
        Quantity::Length(Length(b.thickness)),
        told.thickness,
    );
    slant.max(b.height)
}

/// Boards from the bottom up, the plan above them.
pub fn picture(
    boards: &[(&Board, Told)],
    plan: &Plan,
    given: &[(Point, Point, Length, &'static str)],
) -> Scene {
    let mut scene = Scene::new();
    let mut low = 0.0;
    for (b, told) in boards {
        low += board(&mut scene, b, told, low) * 1.4;
    }
    let (x, y) = plan.half();
    let at = Point::new(x, low + y);
    plan.draw(&mut scene, at);
    scene.label(at, say!["From above"], Role::Frame);
    for (from, to, length, key) in given {
        let place = |p: &Point| Point::new(at.x + p.x, at.y + p.y);
        scene.given(place(from), place(to), -1, Quantity::Length(*length), key);
    }
    scene
}
