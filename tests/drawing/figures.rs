//! The figures of all layouts, as they are first seen.

use crate::labels::{legible, sizes};
use offsquare_core::drawing::{Mark, lay_out};
use offsquare_core::layouts;
use offsquare_core::piece::{Draft, Shop, answer};
use offsquare_core::scene::Source;
use offsquare_core::units::Unit;

#[test]
fn every_layouts_first_figure_is_legible_on_small_phones() {
    let mut shop = Shop::default();
    let mut figures = 0;
    for layout in layouts::all() {
        for form in layout.forms() {
            for unit in Unit::ALL {
                shop.unit = unit;
                let draft = Draft::fresh(*layout, form, unit);
                for solved in answer(&draft, &shop).solved {
                    let scene = &solved.solution.figure;
                    for frame in [(320.0, 260.0), (360.0, 300.0)] {
                        let drawing = lay_out(scene, frame.0, frame.1, &shop.style());
                        let what = format!("{} {} {}", layout.id(), form.id, solved.solution.way);
                        legible(&drawing, frame, &what);
                        assert!(
                            drawing.left_out.is_empty(),
                            "{what}: {:?}",
                            drawing.left_out
                        );
                        for source in sizes(scene) {
                            if let Source::Given(key) = source {
                                let tapped = |m: &Mark| matches!(m, Mark::Hit { field, .. } if *field == key);
                                assert!(drawing.marks.iter().any(tapped), "{what}: {key}");
                            }
                        }
                        figures += usize::from(!scene.items.is_empty());
                    }
                }
            }
        }
    }
    assert!(figures > 60, "{figures}");
}
