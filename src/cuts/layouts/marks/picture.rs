//! The scale's drawing: board, marks, figures, the sizes on it.

use super::scale::Scale;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Vector};
use offsquare_units::{Length, Quantity, say};

pub fn picture(scale: &Scale, spacing: Length) -> Scene {
    let mut scene = Scene::new();
    let (l, w) = (scale.board, scale.width);
    scene.rectangle(Point::ORIGIN, Point::new(l, w), Role::Stock);
    for i in 1..scale.sections.min(50) {
        let x = scale.section_length() * i as f64;
        scene.line(Point::new(x, 0.0), Point::new(x, w), Role::Cut);
    }
    // Figures that would run into each other on a small screen are left out.
    let figures = scale.marks.iter().filter(|m| m.figure.is_some()).count();
    let every = figures.div_ceil(16).max(1);
    let mut seen = 0;
    for m in &scale.marks {
        let (from, to) = scale.line(m, m.at);
        scene.line(from, to, Role::Mark);
        if let Some(f) = m.figure {
            if seen % every == 0 {
                scene.add(Item::Label {
                    at: scale.beyond(m, m.at),
                    text: say!(Quantity::Figure(Length(f))),
                    role: Role::Mark,
                });
            }
            seen += 1;
        }
    }
    scene.given(Point::ORIGIN, Point::new(l, 0.0), -2, Length(l), "board_length");
    if let Some(first) = scale.marks.first() {
        scene.given(Point::ORIGIN, Point::new(first.at, 0.0), -1, Length(first.at), "offset");
        scene.handle(Point::new(first.at, w / 2.0), "offset", Vector::new(1.0, 0.0));
        if let Some(second) = scale.marks.get(1) {
            scene.given(Point::new(first.at, w), Point::new(second.at, w), 1, spacing, "spacing");
        }
    }
    scene
}
