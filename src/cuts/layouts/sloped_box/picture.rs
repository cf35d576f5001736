//! The box from above, and each board: its outer face laid flat and its section, leaning.

use super::board::Board;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_units::{Length, num, say};

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
            .fold((0.0, 0.0), |(x, y), p| (f64::max(x, p.x.abs()), f64::max(y, p.y.abs())))
    }
    /// Around `at`.
    fn draw(&self, scene: &mut Scene, at: Point) {
        let place = |p: &Point| Point::new(at.x + p.x, at.y + p.y);
        let n = self.tilts.len();
        for i in 0..n {
            let j = (i + 1) % n;
            scene.shape(
                [&self.outer_top[i], &self.outer_top[j], &self.inner_top[j], &self.inner_top[i]]
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

/// A board's outer face with its three sizes, its lower left at (`left`, 0), the slant on its left or on
/// its right; gives back how wide it is.
fn face(scene: &mut Scene, b: &Board, told: &Told, left: f64, slant_right: bool) -> f64 {
    let slant = b.slant();
    let longest = b.outer.max(b.top());
    let middle = left + longest / 2.0;
    let p = |half: f64, y: f64| Point::new(middle + half, y);
    let (half, top) = (b.outer / 2.0, b.top() / 2.0);
    let at = if slant_right { left + longest } else { left };
    let face = [p(-half, 0.0), p(half, 0.0), p(top, slant), p(-top, slant)];
    scene
        .shape(face.to_vec(), Role::Stock)
        .line(face[0], face[3], Role::Cut)
        .line(face[1], face[2], Role::Cut)
        .size(face[0], face[1], -1, Length(b.outer), told.bottom)
        .computed(face[2], face[3], -1, Length(b.top()), told.top)
        .computed(
            Point::new(at, slant),
            Point::new(at, 0.0),
            if slant_right { 1 } else { -1 },
            Length(slant),
            told.slant,
        )
        .label(p(0.0, slant / 2.0), say!(told.title), Role::Frame);
    longest
}

/// A board's section as it stands, its outer face to the right, with the height if it is the last, with
/// its thickness if it is the only one; gives back how wide it is.
fn section(
    scene: &mut Scene,
    b: &Board,
    told: &Told,
    low: Point,
    (last, only): (bool, bool),
) -> f64 {
    let out = b.height * num::tan_deg(b.tilt);
    let level = b.thickness / num::cos_deg(b.tilt);
    let foot = low.x + level + (-out).max(0.0);
    let s = |x: f64, y: f64| Point::new(foot + x, low.y + y);
    scene
        .shape(
            vec![s(-level, 0.0), s(0.0, 0.0), s(out, b.height), s(out - level, b.height)],
            Role::Stock,
        )
        .line(s(0.0, 0.0), s(0.0, b.height), Role::Center)
        .angle(
            s(0.0, 0.0),
            (90.0 - b.tilt.max(0.0), 90.0 - b.tilt.min(0.0)),
            b.tilt,
            Source::Given(told.tilt),
        );
    if last {
        scene.given(
            s(out.max(0.0), 0.0),
            s(out.max(0.0), b.height),
            -1,
            Length(b.height),
            "height",
        );
    }
    if !only {
        return level + out.abs();
    }
    // Its thickness, square to the faces, a third up.
    let on = s(out / 3.0, b.height / 3.0);
    let inside = Point::new(
        on.x - b.thickness * num::cos_deg(b.tilt),
        on.y + b.thickness * num::sin_deg(b.tilt),
    );
    scene.given(inside, on, 0, Length(b.thickness), told.thickness);
    level + out.abs()
}

/// Boards side by side below, the plan above them, the boards' sections beside it. `given` are sizes on
/// the plan.
pub fn picture(
    boards: &[(&Board, Told)],
    plan: &Plan,
    given: &[(Point, Point, Length, &'static str)],
) -> Scene {
    let mut scene = Scene::new();
    let (x, y) = plan.half();
    // Room for the sizes between.
    let gap = if boards.len() == 1 { 0.4 } else { 0.22 } * (x + y);
    let mut left = 0.0;
    let mut high: f64 = 0.0;
    for (i, (b, told)) in boards.iter().enumerate() {
        left += face(&mut scene, b, told, left, i > 0) + 0.6 * gap;
        high = high.max(b.slant());
    }
    let at = Point::new(x, high + gap + y);
    plan.draw(&mut scene, at);
    let mut low = Point::new(2.0 * x + gap, high + gap);
    for (i, (b, told)) in boards.iter().enumerate() {
        let place = (i + 1 == boards.len(), boards.len() == 1);
        low.x += section(&mut scene, b, told, low, place) + gap;
    }
    for (from, to, length, key) in given {
        let place = |p: &Point| Point::new(at.x + p.x, at.y + p.y);
        scene.given(place(from), place(to), -1, *length, key);
    }
    scene
}
