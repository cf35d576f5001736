//! The square line and the reading that a template shows at its cut: by hand, from the corners.

use crate::jobs::{knee, planter_end, templates_of};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role};
use offsquare_paper::drawing::Template;

/// Where each reading stands, and how far its two sides are apart, degrees.
fn readings(template: &Template) -> Vec<(Point, f64)> {
    let items = template.scene.items.iter();
    items
        .filter_map(|i| match i {
            Item::AngleMark { at, from, to, .. } => {
                let apart = (to.0 - from.0).rem_euclid(360.0);
                Some((*at, apart.min(360.0 - apart)))
            }
            _ => None,
        })
        .collect()
}

/// Line for line: the thin line from a reading stands square over the stock, from edge to edge.
fn square_at(template: &Template, at: Point, across: f64) -> bool {
    template.scene.items.iter().any(|i| {
        matches!(i, Item::Line { from, to, role: Role::Center } if *from == at
            && (to.x - at.x).abs() < 1e-12
            && ((to.y - at.y).abs() - across).abs() < 1e-12)
    })
}

/// 2.5 in wide, cut from 30 to 27.5 in: 45° from square, the tape mark 2.5 in from the square line.
#[test]
fn an_ends_template_reads_from_the_square_line() {
    let template = templates_of(&[knee()]).remove(0);
    let all = readings(&template);
    assert_eq!(all.len(), 1);
    let (at, apart) = all[0];
    assert!((apart - 45.0).abs() < 1e-9, "{apart}");
    assert!(square_at(&template, at, 2.5));
    let tape = template.scene.items.iter().any(|i| {
        matches!(i, Item::Dimension { from, to, .. }
            if (from.distance(*to).0 - 2.5).abs() < 1e-9 && (from.y - to.y).abs() < 1e-12)
    });
    assert!(tape, "the tape mark along the edge");
}

/// 9 in over 12 in: the slope leans by the 3-4-5 triangle's smaller angle, asin 3/5 = 36.869 897 645 844°.
#[test]
fn a_whole_boards_template_reads_from_the_square_line() {
    let template = templates_of(&[planter_end(1.0)]).remove(0);
    let all = readings(&template);
    assert!(!all.is_empty());
    for (at, apart) in all {
        assert!((apart - 36.869_897_645_844).abs() < 1e-9, "{apart}");
        assert!(square_at(&template, at, 12.0));
    }
}
