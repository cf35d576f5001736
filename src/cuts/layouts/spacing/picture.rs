//! The row's drawing: what is spaced, the marks, the sizes on them.

use super::row::Row;
use crate::inputs::Inputs;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_units::{Angle, Length};

pub fn picture(inputs: &Inputs, row: &Row, d: f64, l: f64) -> Scene {
    let tall = (2.0 * d).max(l / 12.0);
    let middle = tall / 2.0;
    let mut scene = Scene::new();
    scene.rectangle(Point::ORIGIN, Point::new(l, tall), Role::Stock);
    for i in 0..row.holes.min(120) {
        let at = Point::new(row.centre(i), middle);
        if d > 0.0 {
            scene.add(Item::Arc {
                center: at,
                radius: d / 2.0,
                from: Angle(0.0),
                to: Angle(360.0),
                role: Role::Cut,
            });
        }
        scene.line(Point::new(at.x, 0.0), Point::new(at.x, tall), Role::Mark);
    }
    scene.given(Point::ORIGIN, Point::new(l, 0.0), -2, Length(l), "length");
    let (one, two) = (row.centre(0), row.centre(1));
    scene.given(
        Point::new(one - d / 2.0, tall),
        Point::new(one + d / 2.0, tall),
        1,
        Length(d),
        "diameter",
    );
    if row.holes > 1
        && let (Some(distance), Some(gap)) = (row.distance, row.gap)
    {
        scene.computed(
            Point::new(one, 0.0),
            Point::new(two, 0.0),
            -1,
            Length(distance),
            "centre_distance",
        );
        scene.computed(
            Point::new(one + d / 2.0, tall),
            Point::new(two - d / 2.0, tall),
            2,
            Length(gap),
            "gap_between",
        );
    }
    let last = row.centre(row.holes - 1);
    if inputs.choice("rule") == Some("equal_centres") {
        scene.given(
            Point::new(0.0, tall),
            Point::new(row.first, tall),
            2,
            Length(row.first),
            "margin_start",
        );
        scene.given(Point::new(last, tall), Point::new(l, tall), 2, Length(l - last), "margin_end");
    } else {
        scene.computed(
            Point::new(0.0, 0.0),
            Point::new(row.first - d / 2.0, 0.0),
            -1,
            Length(row.first - d / 2.0),
            "first_edge",
        );
    }
    scene
}
