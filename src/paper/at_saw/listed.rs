//! A part as it lies on the saw: the fence above it, edge A nearest you.

use offsquare_geometry::Point;
use offsquare_geometry::scene::{Role, Scene, Source};
use offsquare_planner::ends::reach;
use offsquare_units::{Angle, Length, Quantity};
use offsquare_work::cutlist::{Entry, PartEnd};

/// A part's outline with its length and its end angles, true to scale where its width is known (`width`:
/// the stock's, where the part has none of its own). Nothing where its ends cross.
pub fn part_on_saw(entry: &Entry, width: Option<Length>) -> Scene {
    let mut scene = Scene::new();
    let Some(w) = entry.seen.or(width).map(|w| w.0).filter(|w| *w > 0.0) else {
        return scene;
    };
    let l = entry.length.0;
    let skew = |miter: f64| {
        if miter.abs() < 89.0 { reach(w, miter) } else { 0.0 }
    };
    // What is finished on its blank is shown as the blank, with its cuts.
    let over = |end: &PartEnd| if end.pointed { 0.0 } else { skew(end.miter) };
    let (ol, or) = (over(&entry.left), over(&entry.right));
    let near = [(-ol).max(0.0), l - (-or).max(0.0)];
    let far = [ol.max(0.0), l - or.max(0.0)];
    if near[0] > near[1] + 1e-9 || far[0] > far[1] + 1e-9 {
        return scene;
    }
    let at = |x: f64, y: f64| Point::new(x, y);
    scene.line(at(-w * 0.3, w), at(l + w * 0.3, w), Role::Frame);
    scene
        .shape(vec![at(near[0], 0.0), at(near[1], 0.0), at(far[1], w), at(far[0], w)], Role::Stock);
    for (x, y, end) in [(near[0], far[0], &entry.left), (near[1], far[1], &entry.right)] {
        if !(end.is_square() || end.pointed) {
            scene.line(at(x, 0.0), at(y, w), Role::Cut);
        }
    }
    for cut in &entry.on_blank {
        scene.line(cut.from, cut.to, Role::Cut);
    }
    scene.computed(at(0.0, 0.0), at(l, 0.0), -1, Quantity::Length(entry.length), "length");
    for (x, y, end) in [(near[0], far[0], &entry.left), (near[1], far[1], &entry.right)] {
        if end.miter != 0.0 && !end.pointed {
            let along = (at(y, w) - at(x, 0.0)).direction();
            scene.add(offsquare_geometry::scene::Item::AngleMark {
                at: at(x, 0.0),
                from: Angle(90.0),
                to: along,
                value: Quantity::Angle(Angle(end.miter.abs())),
                source: Source::Computed("miter"),
            });
        }
    }
    scene
}
