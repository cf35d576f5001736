//! The figures of all layouts, as they are first seen.

use crate::labels::{legible, sizes};
use offsquare_core::drawing::{Mark, lay_out, templates};
use offsquare_core::layouts;
use offsquare_core::piece::{Draft, Shop, answer};
use offsquare_core::scene::{Item, Role, Source};
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

/// The planting board 48 in long, marks every inch from 2 in, a long one with a figure every fourth:
/// 0, 1, 2 … 11 at 2, 6, 10 … 46 in, all of them on paper, none on a mark's line.
#[test]
fn a_scales_template_has_every_figure_beside_its_mark() {
    let layout = layouts::find("marks").expect("marks");
    let shop = Shop::default();
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let answered = answer(&draft, &shop);
    let made = templates(&answered.solved[0].solution.parts, &shop.style());
    assert_eq!(made.len(), 1);
    let told: Vec<(f64, String)> = made[0]
        .scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Label { at, text, role } if *role == Role::Mark => {
                Some((at.x, text.render(&shop.style())))
            }
            _ => None,
        })
        .collect();
    let wanted: Vec<(f64, String)> = (0..12)
        .map(|n| (2.0 + 4.0 * f64::from(n), n.to_string()))
        .collect();
    assert_eq!(told, wanted);
}
