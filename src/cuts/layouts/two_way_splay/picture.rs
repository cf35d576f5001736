//! Legs and stretchers from the front and from the side.

use super::sizes::{Across, Leg, Sizes, Stretcher};
use crate::layouts::elevation::{Eye, draw, mirrored, moved};
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_geometry::{Point, Point3, Solid, Vector, Vector3};
use offsquare_units::num::Gather;
use offsquare_units::{Length, num, say};

/// The leg from the front and, beside it, from the side; from its sizes the pair of legs each time.
pub fn leg(leg: Leg, sizes: Option<Sizes>, solid: &Solid) -> Scene {
    let mut scene = Scene::new();
    let front = match sizes {
        Some(s) => pair(&mut scene, leg, solid, Eye::FRONT, 0.0, &s.wide()),
        None => single(&mut scene, leg, solid, Eye::FRONT, 0.0),
    };
    let gap = front + 0.5 * leg.height.0;
    let right = match sizes {
        Some(s) => pair(&mut scene, leg, solid, Eye::SIDE, gap, &s.deep()),
        None => single(&mut scene, leg, solid, Eye::SIDE, gap),
    };
    scene.line(Point::ORIGIN, Point::new(right, 0.0), Role::Frame);
    scene
}

/// Least and greatest place across of the solid's corners at a height.
fn span(solid: &Solid, eye: Eye, keep: impl Fn(f64) -> bool) -> (f64, f64) {
    solid
        .faces
        .iter()
        .flatten()
        .filter(|p| keep(p.z))
        .map(|p| eye.sees(*p).x)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), x| (l.min(x), m.max(x)))
}

fn title(scene: &mut Scene, front: bool, at: Point) {
    let words = if front { "Front" } else { "Side" };
    scene.label(at, say!(words), Role::Frame);
}

/// One leg, drawn from `left` on; gives back where it ends.
fn single(scene: &mut Scene, leg: Leg, solid: &Solid, eye: Eye, left: f64) -> f64 {
    let h = leg.height.0;
    let front = eye.right.x > 0.0;
    let (least, most) = span(solid, eye, |_| true);
    let by = Vector::new(left - least, 0.0);
    draw(scene, solid, eye, by, Role::Stock);
    // The solid's axis passes the floor at the origin; upward it runs inward.
    let (lean, key, answer) = if front {
        (leg.front, "splay_front_deg", "toe_out_x")
    } else {
        (leg.side, "splay_side_deg", "toe_out_y")
    };
    let out = h * num::tan_deg(lean.0);
    let (foot, top) = (Point::new(by.x, 0.0), Point::new(by.x + if front { -out } else { out }, h));
    let plumb = Point::new(top.x, 0.0);
    scene.line(top, foot, Role::Center).line(top, plumb, Role::Center);
    if front {
        scene.given(Point::new(left, h), Point::new(left, 0.0), -1, leg.height, "height");
    }
    let (from, to) = if front { (plumb, foot) } else { (foot, plumb) };
    scene.computed(from, to, -1, Length(out), answer);
    let (from, to) = if front { (-90.0, -90.0 + lean.0) } else { (-90.0 - lean.0, -90.0) };
    scene.angle(top, (from, to), lean.0, Source::Given(key));
    // Between the two views, close to its own leg.
    let up = 0.75;
    let beside =
        if front { left + most - least - up * out + 0.16 * h } else { left + up * out - 0.16 * h };
    title(scene, front, Point::new(beside, up * h));
    left + most - least
}

/// Both legs, drawn from `left` on; gives back where they end.
fn pair(scene: &mut Scene, leg: Leg, solid: &Solid, eye: Eye, left: f64, sizes: &Across) -> f64 {
    let h = leg.height.0;
    let front = eye.right.x > 0.0;
    // Its outer toe on the floor, to the right from the front, to the left from the side.
    let (least, most) = span(solid, eye, |z| z == 0.0);
    let toe = if front { most } else { -least };
    let out = (sizes.foot.0 / 2.0 - toe) * if front { 1.0 } else { -1.0 };
    let here = moved(solid, eye.right * out);
    let there = mirrored(&here, eye.right);
    let (_, end) = span(if front { &here } else { &there }, eye, |_| true);
    let by = Vector::new(left + end, 0.0);
    for leg in [&there, &here] {
        draw(scene, leg, eye, by, Role::Stock);
    }
    let half = |size: Length| size.0 / 2.0;
    let at = |x: f64, z: f64| Point::new(by.x + x, z);
    scene
        .given(at(-half(sizes.foot), 0.0), at(half(sizes.foot), 0.0), -1, sizes.foot, sizes.keys.0)
        .given(at(-half(sizes.top), h), at(half(sizes.top), h), 1, sizes.top, sizes.keys.1);
    if front {
        scene.given(at(-end, h), at(-end, 0.0), -1, leg.height, "height");
    }
    title(scene, front, at(0.0, h * 0.5));
    left + 2.0 * end
}

/// Seen square to the stretcher: both legs, the stretcher between.
pub fn stretcher(leg: Leg, s: &Stretcher, between: f64, solid: &Solid, bar: &Solid) -> Scene {
    let side = s.which == "side";
    let eye = if side { Eye::SIDE } else { Eye::FRONT };
    let (h, lean) = (leg.height.0, if side { leg.side } else { leg.front });
    let tan = num::tan_deg(lean.0);
    let top = between / 2.0 - (h - s.height.0) * tan;
    let foot = top + h * tan;
    // The leg at hand stands to the right from the front, to the left from the side.
    let here = moved(solid, eye.right * if side { -foot } else { foot });
    let there = mirrored(&here, eye.right);
    let mut scene = Scene::new();
    let none = Vector::new(0.0, 0.0);
    // The bar's own frame: along, across on the level, up.
    let placed = Solid {
        faces: bar
            .faces
            .iter()
            .map(|f| {
                let turned = |p: &Point3| {
                    if side { Point3::new(p.y, -p.x, p.z) } else { *p }
                };
                f.iter().map(turned).gather()
            })
            .gather(),
    };
    let placed = moved(&placed, Vector3::new(0.0, 0.0, s.height.0));
    draw(&mut scene, &placed, eye, none, Role::Stock);
    for leg in [&there, &here] {
        draw(&mut scene, leg, eye, none, Role::Frame);
    }
    let (_, edge) = span(if side { &there } else { &here }, eye, |_| true);
    scene
        .line(Point::new(-edge * 1.1, 0.0), Point::new(edge * 1.1, 0.0), Role::Frame)
        .line(Point::new(top, h), Point::new(foot, 0.0), Role::Center)
        .line(Point::new(-top, h), Point::new(-foot, 0.0), Role::Center);
    let (key, spacing) = if side {
        ("axis_spacing_side_at_top", s.side)
    } else {
        ("axis_spacing_front_at_top", s.front)
    };
    scene
        .given(Point::new(-top, h), Point::new(top, h), 1, spacing, key)
        .given(
            Point::new(edge, 0.0),
            Point::new(edge, s.height.0),
            -1,
            s.height,
            "stretcher_height",
        )
        .given(Point::new(-edge, h), Point::new(-edge, 0.0), -1, leg.height, "height");
    let middle = s.height.0;
    let half = span(&placed, eye, |z| z < middle).1;
    scene.computed(
        Point::new(-half, middle - s.width.0 / 2.0),
        Point::new(half, middle - s.width.0 / 2.0),
        -1,
        Length(2.0 * half),
        "longest_edge",
    );
    scene.angle(
        Point::new(top, h),
        (-90.0, -90.0 + lean.0),
        lean.0,
        Source::Given(if side { "splay_side_deg" } else { "splay_front_deg" }),
    );
    scene
}
