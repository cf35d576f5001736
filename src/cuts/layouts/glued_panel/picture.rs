//! The panel's drawing: its strips, mitered ends, the sizes on it.

use super::panel::Panel;
use crate::inputs::Inputs;
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Role, Scene};
use offsquare_units::Length;

pub fn picture(p: &Panel, inputs: &Inputs) -> Scene {
    let mut scene = Scene::new();
    let (w, l, s) = (p.width, p.length, p.strip);
    let at = Point::new;
    let e = p.end.unwrap_or(0.0);
    for i in 0..p.strips as u32 {
        let low = f64::from(i) * s;
        let high = if f64::from(i) + 1.0 == p.strips { w } else { low + s };
        // Outer strips keep their full outer edge; inner ones stop at the end pieces.
        let (bottom, top) =
            (if i == 0 { 0.0 } else { e }, if f64::from(i) + 1.0 == p.strips { 0.0 } else { e });
        scene.shape(
            vec![at(bottom, low), at(l - bottom, low), at(l - top, high), at(top, high)],
            Role::Stock,
        );
    }
    if p.end.is_some() {
        for (outer, inner) in [(0.0, e), (l, l - e)] {
            scene.shape(
                vec![at(outer, 0.0), at(inner, s), at(inner, w - s), at(outer, w)],
                Role::Stock,
            );
            scene.line(at(outer, 0.0), at(inner, s), Role::Cut);
            scene.line(at(outer, w), at(inner, w - s), Role::Cut);
        }
    }
    let finished = |key, standing: f64| inputs.length(key).map_or(standing, |v| v.0);
    scene.given(at(0.0, 0.0), at(l, 0.0), -1, Length(finished("panel_length", l)), "panel_length");
    scene.given(at(0.0, w), at(0.0, 0.0), -1, Length(finished("panel_width", w)), "panel_width");
    scene.computed(at(l, 0.0), at(l, s), -1, Length(s), "strip_width");
    scene
}
