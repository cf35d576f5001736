//! The bracket's drawing: both legs, the knee between them, its seats to drag.

use super::knee::Knee;
use crate::inputs::Inputs;
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Length, num};

pub fn picture(k: &Knee, inputs: &Inputs) -> Scene {
    let mut scene = Scene::new();
    let b = k.along_b();
    let w = k.leg_width;
    let on_b = |d: f64| Point::ORIGIN + b * d;
    // Outside of leg A is below, outside of leg B to the left of its direction.
    let out_a = Vector::new(0.0, -w);
    let out_b = b.left() * w;
    let from_outside = k.leg_a - k.inside_a;
    let outside = Point::new(-from_outside, -w);
    let end_a = Point::new(k.inside_a, 0.0);
    let end_b = on_b(k.inside_b);
    scene.shape(vec![outside, end_a + out_a, end_a, Point::ORIGIN], Role::Frame);
    scene.shape(vec![outside, Point::ORIGIN, end_b, end_b + out_b], Role::Frame);
    let across = -w / num::sin_deg(k.corner);
    let joint = match inputs.choice("joint") {
        Some("a_through") => Point::new(across, 0.0),
        Some("b_through") => on_b(across),
        _ => outside,
    };
    scene.line(Point::ORIGIN, joint, Role::Cut);
    let (sin_a, sin_b) = k.sin();
    let (oa, ob) = (Point::new(k.outer_a, 0.0), on_b(k.outer_b));
    let ia = Point::new(k.outer_a - k.width / sin_a, 0.0);
    let ib = on_b(k.outer_b - k.width / sin_b);
    scene.shape(vec![oa, ob, ib, ia], Role::Stock);
    scene.line(oa, ia, Role::Cut);
    scene.line(ob, ib, Role::Cut);
    scene.given(outside, end_a + out_a, -1, Length(k.leg_a), "leg_a");
    scene.given(outside, end_b + out_b, 1, Length(k.leg_b), "leg_b");
    scene.given(end_a + out_a, end_a, -1, Length(w), "leg_width");
    let seat = |key, otherwise| inputs.inches(key).unwrap_or(otherwise);
    let (u, v) = (seat("seat_a", k.outer_a), seat("seat_b", k.outer_b));
    scene.given(Point::ORIGIN, Point::new(u, 0.0), 1, Length(u), "seat_a");
    scene.given(Point::ORIGIN, on_b(v), -1, Length(v), "seat_b");
    // Square across the knee, which leans toward one leg where its seats are unequal.
    if let Some(along) = (ob - oa).unit() {
        let on = oa.middle(ob);
        let across = on + along.left() * k.width;
        scene.given(on, across, 0, Length(k.width), "brace_width");
    }
    scene.computed(oa, ob, -1, Length(k.outer()), "outer_edge_length");
    scene.angle(Point::ORIGIN, (0.0, k.corner), k.corner, Source::Given("corner_angle_deg"));
    scene.handle(Point::new(u, 0.0), "seat_a", Vector::new(1.0, 0.0));
    scene.handle(on_b(v), "seat_b", b);
    scene
}
