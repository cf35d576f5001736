//! The panel from the side: shut and open, its cord, the back, and the next panel below.

use super::panel::{BY_ANGLE, Panel};
use crate::inputs::Inputs;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Angle, Length};

pub fn picture(p: &Panel, opening: f64, hole: Point, inputs: &Inputs) -> Scene {
    let mut scene = Scene::new();
    let shut = p.corners(0.0);
    let open = p.corners(opening);
    let highest = shut.iter().fold(p.back_hole.y, |y, c| y.max(c.y));
    let top = highest + p.thickness;
    let low = (p.hinge.y - p.next.unwrap_or(0.0) + p.foot.y).min(0.0);
    scene.rectangle(Point::new(-p.back, low), Point::new(0.0, top), Role::Frame);
    if let Some(down) = p.next {
        let below = shut.map(|c| Point::new(c.x, c.y - down));
        scene.shape(below.to_vec(), Role::Frame);
    }
    // Shut behind it, and the way of its rim.
    for i in 0..4 {
        scene.line(shut[i], shut[(i + 1) % 4], Role::Hidden);
    }
    let rim = Vector::new(p.foot.x, p.foot.y + p.height);
    if opening > 0.0 && rim.length() > 0.0 {
        let from = rim.direction();
        scene.add(Item::Arc {
            center: p.hinge,
            radius: rim.length(),
            from: Angle(from.0 - opening),
            to: from,
            role: Role::Center,
        });
    }
    scene.shape(open.to_vec(), Role::Stock);
    scene.add(Item::Arc {
        center: p.hinge,
        radius: p.thickness / 4.0,
        from: Angle(0.0),
        to: Angle(0.0),
        role: Role::Frame,
    });
    scene.line(hole, p.back_hole, Role::Mark);
    // Both holes through their boards.
    scene.line(p.back_hole, Point::new(-p.back, p.back_hole.y), Role::Mark);
    let outside = p.turned(Vector::new(p.hole.x + p.thickness, p.hole.y), opening);
    scene.line(hole, outside, Role::Mark);
    let up = p.hole.y - p.foot.y;
    let outer = |up: f64| p.turned(Vector::new(p.foot.x + p.thickness, p.foot.y + up), opening);
    let floor = Point::new(-p.back, 0.0);
    scene
        .given(
            Point::new(-p.back, p.back_hole.y),
            floor,
            -1,
            Length(p.back_hole.y),
            "back_hole_height",
        )
        .given(Point::new(-p.back, p.hinge.y), floor, -2, Length(p.hinge.y), "hinge_y")
        .given(outer(0.0), outer(up), -1, Length(up), "panel_hole_up_panel")
        .given(outer(0.0), outer(p.height), -2, Length(p.height), "panel_height");
    let mouth = open[3];
    if mouth.x > 0.0 {
        scene.computed(Point::new(0.0, mouth.y), mouth, 1, Length(mouth.x), "mouth_width");
    }
    let given = inputs.form == BY_ANGLE;
    scene.angle(
        p.hinge,
        (90.0 - opening, 90.0),
        opening,
        if given { Source::Computed("opening_deg") } else { Source::Given("opening_deg") },
    );
    scene.size(
        hole,
        p.back_hole,
        1,
        Length(p.cord(opening)),
        if given {
            Source::Given("cord_between_faces")
        } else {
            Source::Computed("cord_between_faces")
        },
    );
    scene
}
