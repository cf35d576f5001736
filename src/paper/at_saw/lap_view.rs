//! A lap on the face that it is marked on.

use offsquare_cuts::parts::{Lap, Part};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_units::num::{self, Gather};
use offsquare_units::{Angle, Length, Quantity, say};

/// The face that the lap is marked on, from the part's left end to past the lap: both shoulders, what falls out
/// between them hatched with an X, and where a tape along the lower edge finds them.
pub fn lap_on_face(part: &Part, lap: &Lap) -> Scene {
    let seen = part.seen.0;
    let [(a, b), (c, d)] = lap.shoulders;
    let end = (c.x.max(d.x) + seen).min(part.length.0);
    let mut scene = Scene::new();
    let whole = end >= part.length.0;
    if whole {
        scene.shape(part.outline.0.clone(), Role::Stock);
    } else {
        // Of a long part, what lies left of the break.
        let mut left: Vec<Point> =
            part.outline.0.iter().copied().filter(|p| p.x <= part.length.0 / 2.0).gather();
        num::sort_by(&mut left, |p, q| p.y.total_cmp(&q.y));
        let mut outline = left;
        outline.push(Point::new(end, seen));
        outline.push(Point::new(end, 0.0));
        scene.shape(outline, Role::Stock);
    }
    scene.shape(vec![a, c, d, b], Role::Waste);
    scene.line(a, b, Role::Cut);
    scene.line(c, d, Role::Cut);
    scene.add(Item::FallsOff { at: a.middle(b).middle(c.middle(d)) });
    let start = Point::new(part.edge_start(false), 0.0);
    for (row, p) in [(-1, a), (-2, c)] {
        scene.computed(start, p, row, Quantity::Length(Length(p.x - start.x)), "lower_edge");
    }
    let (reading, _) = lap.reading();
    if reading.0 > 0.05 {
        let foot = Point::new(a.x, b.y);
        scene.line(a, foot, Role::Center);
        scene.add(Item::AngleMark {
            at: a,
            from: Angle(90.0),
            to: (b - a).direction(),
            value: Quantity::Angle(reading),
            source: Source::Computed("shoulder"),
        });
    }
    let face = if lap.in_back { "lap in the back" } else { "lap in this face" };
    scene.label(Point::new((start.x + a.x.min(b.x)) / 2.0, seen / 2.0), say!(face), Role::Stock);
    scene
}
