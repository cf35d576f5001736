//! The figures of all layouts, as they are first seen.

use crate::labels::{apart, legible, sizes};
use offsquare_cuts::layouts;
use offsquare_geometry::scene::{Item, Role, Source};
use offsquare_paper::drawing::{Mark, lay_out, templates};
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, Shop, answer};

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
                        apart(&drawing, &what);
                        assert!(drawing.left_out.is_empty(), "{what}: {:?}", drawing.left_out);
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

/// Beside a keypad the drawing has little height, keeps to what is typed and has no handles: no figure can be read as one
/// with the next, and the piece itself takes a third of the height or half of the width.
#[test]
fn a_figure_beside_a_keypad_stays_readable() {
    let shop = Shop::default();
    for form in layouts::all().iter().flat_map(|l| l.forms().iter().map(move |f| (*l, f))) {
        let draft = Draft::fresh(form.0, form.1, Unit::Inch);
        for solved in answer(&draft, &shop).solved {
            let mut scene = solved.solution.figure.clone();
            scene.items.retain(|i| match i {
                Item::Handle { .. } => false,
                Item::Dimension { source, .. } | Item::AngleMark { source, .. } => {
                    matches!(source, Source::Given(_))
                }
                _ => true,
            });
            for frame in [(320.0, 187.0), (360.0, 187.0), (422.0, 216.0)] {
                let drawing = lay_out(&scene, frame.0, frame.1, &shop.style());
                let what = format!("{} {} {}", form.0.id(), form.1.id, solved.solution.way);
                legible(&drawing, frame, &what);
                apart(&drawing, &what);
                let Some((lo, hi)) = scene.bounds() else {
                    continue;
                };
                let (wide, high) = (hi.x - lo.x, hi.y - lo.y);
                let share = (wide * drawing.per_inch / frame.0 / 0.5)
                    .max(high * drawing.per_inch / frame.1 / 0.333);
                assert!(share >= 1.0, "{what}: {share} of its least size in {frame:?}");
            }
        }
    }
}

/// The planting board 48 in long, marks every inch from 2 in, a long one with a figure every fourth:
/// what a tape shows from the first, 0, 4, 8 … 44 at 2, 6, 10 … 46 in, all of them on paper, none on a mark's line.
#[test]
fn a_scales_template_has_every_figure_beside_its_mark() {
    let layout = layouts::find("marks").expect("marks");
    let shop = Shop::default();
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let answered = answer(&draft, &shop);
    let made = templates(&answered.solved[0].solution.parts, &shop.saw, &shop.style());
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
    let wanted: Vec<(f64, String)> =
        (0..12).map(|n| (2.0 + 4.0 * f64::from(n), (4 * n).to_string())).collect();
    assert_eq!(told, wanted);
}

/// A strip flat on the rails of 30 by 44 in rises at t with 30 sin t = 44 cos t + s. Its lower edge starts at 30 − 44 / tan t
/// and ends in the upper right corner, its other edge s / sin t to the left. The other brace's edges are such lines mirrored.
#[test]
fn a_laps_shoulders_are_marked_along_the_edge_nearest_first() {
    let (w, h) = (30.0, 44.0);
    let strip = |s: f64| {
        let (mut low, mut high) = (0.0_f64, std::f64::consts::FRAC_PI_2);
        for _ in 0..200 {
            let t = low + (high - low) / 2.0;
            if w * t.sin() > h * t.cos() + s {
                high = t;
            } else {
                low = t;
            }
        }
        let start = w - h / low.tan();
        // The slope, where the lower edge starts on the rail, where the other one does.
        (low, start, start - s / low.sin())
    };
    // How far up a line from (at, 0) at slope t it meets one from the right, from (from, 0) at slope u.
    let up = |(at, t): (f64, f64), (from, u): (f64, f64)| (from - at) * u.sin() / (t + u).sin();
    for [s1, s2] in [[2.5, 2.5], [2.5, 3.5]] {
        let mut draft = Draft::fresh(
            layouts::find("brace").expect("brace"),
            layouts::find("brace")
                .expect("brace")
                .forms()
                .iter()
                .find(|f| f.id == "crossed")
                .expect("crossed"),
            Unit::Inch,
        );
        for (key, size) in [
            ("opening_width", w),
            ("opening_height", h),
            ("strip_width_1", s1),
            ("strip_width_2", s2),
        ] {
            draft.set(key, &size.to_string(), Unit::Inch);
        }
        let answered = answer(&draft, &Shop::default());
        let solved = answered.solved.iter().find(|s| s.solution.way == "rails");
        let scene = &solved.expect("on the rails").solution.figure;
        let marks = |wanted: &str| -> Vec<(i8, f64, f64)> {
            let one = |i: &Item| match i {
                Item::Dimension { from, to, row, value, source: Source::Computed(key), .. }
                    if key.starts_with(wanted) =>
                {
                    Some((row.abs(), value.number(), from.distance(*to).0))
                }
                _ => None,
            };
            scene.items.iter().filter_map(one).collect()
        };
        let [(t1, low_1, high_1), (t2, low_2, high_2)] = [strip(s1), strip(s2)];
        let first = [w - low_2, w - high_2].map(|from| up((low_1, t1), (from, t2)));
        // Seen in the mirror the second is a first.
        let second = [w - low_1, w - high_1].map(|from| up((low_2, t2), (from, t1)));
        let wanted = [
            ("brace_1.right_from_edge_end", first.to_vec()),
            ("brace_2.left_from_edge_end", if s1 == s2 { Vec::new() } else { second.to_vec() }),
        ];
        for (key, at) in wanted {
            let drawn = marks(key);
            assert_eq!(drawn.len(), at.len(), "{key}");
            for (i, ((row, value, long), at)) in drawn.iter().zip(at).enumerate() {
                assert_eq!(*row as usize, i + 1, "{key}: the nearest mark stands nearest");
                assert!(
                    (value - at).abs() < 1e-9 && (long - at).abs() < 1e-9,
                    "{key}: {value} {long} {at}"
                );
            }
        }
        // The template of the marks says how far a shoulder runs along: s over the tangent of both slopes' sum.
        let made = templates(
            &solved.expect("on the rails").solution.parts,
            &Shop::default().saw,
            &Shop::default().style(),
        );
        let of_marks = made.iter().find(|t| t.name == "First brace · marks").expect("marks");
        let runs: Vec<f64> = of_marks
            .scene
            .items
            .iter()
            .filter_map(|i| match i {
                Item::Dimension { value, source: Source::Computed("tape_mark"), .. } => {
                    Some(value.number())
                }
                _ => None,
            })
            .collect();
        let run = s1 / (t1 + t2).tan().abs();
        assert!(runs.len() == 2 && runs.iter().all(|r| (r - run).abs() < 1e-9), "{runs:?} {run}");
    }
}
