//! Nothing is drawn through a label: over every layout, on screens and on paper.

use offsquare_cuts::layouts;
use offsquare_geometry::scene::Scene;
use offsquare_paper::at_saw;
use offsquare_paper::drawing::{Drawing, Mark, Rect, lay_out, plain, templates, true_size};
use offsquare_units::{Style, Unit};
use offsquare_work::piece::{Draft, Shop, answer};

/// Every line that runs through a label's box, less what the eye does not see of the box (a twelfth of its height).
pub fn struck(drawing: &Drawing) -> Vec<String> {
    let mut out = Vec::new();
    for mark in &drawing.marks {
        let Mark::Text { rect, runs, size, .. } = mark else {
            continue;
        };
        let seen = Rect::around(rect.middle(), rect.width(), size * 0.9);
        for other in &drawing.marks {
            if other.chords().iter().any(|(a, b)| seen.clips(*a, *b).is_some()) {
                out.push(format!("{} through {:?}", other.class().unwrap_or("?"), plain(runs)));
            }
        }
    }
    out
}

/// What is drawn for a maker of every layout, with its start values, in inches and in millimeters.
fn scenes(unit: Unit, each: &mut dyn FnMut(&str, &Scene, &Style, bool)) {
    let shop = Shop { unit, ..Shop::default() };
    let style = shop.style();
    for layout in layouts::all() {
        for form in layout.forms() {
            for s in &answer(&Draft::fresh(*layout, form, unit), &shop).solved {
                let what = format!("{} {} {}", layout.id(), form.id, s.solution.way);
                each(&what, &s.solution.figure, &style, false);
                for part in &s.solution.parts {
                    let advice = shop.saw.advise_part(part);
                    for (cut, a) in part.cuts.iter().zip(&advice.cuts) {
                        let scene = at_saw::seen_from_above(part, cut, a);
                        each(&format!("{what}, card of {}", cut.name), &scene, &style, false);
                    }
                }
                for t in templates(&s.solution.parts, &shop.saw, &style) {
                    each(&format!("{what}, {}", t.name), &t.scene, &style, true);
                }
            }
        }
    }
}

#[test]
fn no_line_runs_through_a_label() {
    let (mut drawn, mut found) = (0, Vec::new());
    for unit in [Unit::Inch, Unit::Millimeter] {
        scenes(unit, &mut |what, scene, style, paper| {
            let all = match paper {
                true => vec![true_size(scene, style)],
                false => [(320.0, 260.0), (360.0, 300.0), (412.0, 340.0), (700.0, 500.0)]
                    .iter()
                    .map(|(w, h)| lay_out(scene, *w, *h, style))
                    .collect(),
            };
            for drawing in all {
                drawn += 1;
                let frame = drawing.width;
                found.extend(
                    struck(&drawing).into_iter().map(|s| format!("{what} at {frame}: {s}")),
                );
            }
        });
    }
    assert!(drawn > 1000, "{drawn}");
    assert_eq!(found, Vec::<String>::new(), "{} of {drawn}", found.len());
}
