//! True to scale, and what a drag means.

use crate::random::{Dice, scene};
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Vector, dot};
use offsquare_paper::drawing::{Mark, hatch, lay_out, true_size};
use offsquare_units::{Angle, Style};

/// Outlines of the stock, in order.
fn stock(marks: &[Mark]) -> Vec<Vec<Point>> {
    let outline = |m: &Mark| match m {
        Mark::Path { points, class: "stock", .. } => Some(points.clone()),
        _ => None,
    };
    marks.iter().filter_map(outline).collect()
}

#[test]
fn figures_keep_their_proportions() {
    let mut dice = Dice(5);
    for _ in 0..200 {
        let scene = scene(&mut dice);
        let shapes = scene.items.iter().filter_map(|i| match i {
            Item::Shape { outline, role: Role::Stock } => Some(outline),
            _ => None,
        });
        let on_screen = lay_out(&scene, 360.0, 300.0, &Style::default());
        let on_paper = true_size(&scene, &Style::default());
        for (drawing, exact) in [(&on_screen, None), (&on_paper, Some(25.4))] {
            if let Some(mm) = exact {
                assert_eq!(drawing.per_inch, mm);
            }
            let drawn = stock(&drawing.marks);
            for (outline, drawn) in shapes.clone().zip(drawn) {
                for i in 1..outline.len() {
                    let step = outline[i] - outline[0];
                    let px = drawn[i] - drawn[0];
                    // y up in the scene, down on the sheet.
                    let scale = drawing.per_inch;
                    assert!((px.x - step.x * scale).abs() < 1e-9 * 400.0);
                    assert!((px.y + step.y * scale).abs() < 1e-9 * 400.0);
                }
            }
        }
    }
}

#[test]
fn a_larger_piece_fills_the_frame_just_the_same() {
    let square = |side: f64| {
        let mut scene = Scene::new();
        let corner = |x: f64, y: f64| Point::new(x * side, y * side);
        let corners = vec![corner(0.0, 0.0), corner(1.0, 0.0), corner(1.0, 1.0), corner(0.0, 1.0)];
        scene.shape(corners, Role::Stock);
        lay_out(&scene, 320.0, 260.0, &Style::default())
    };
    // Powers of two scale without rounding.
    for side in [1.0 / 1024.0, 2.0, 1_048_576.0] {
        assert_eq!(square(side).marks, square(1.0).marks);
    }
}

#[test]
fn what_cannot_be_drawn_gives_no_marks() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e308] {
        let mut scene = Scene::new();
        scene.line(Point::new(-bad, 0.0), Point::new(bad, 1.0), Role::Cut);
        scene.add(Item::Arc {
            center: Point::ORIGIN,
            radius: bad,
            from: Angle(0.0),
            to: Angle(bad),
            role: Role::Mark,
        });
        for drawing in
            [lay_out(&scene, 320.0, 260.0, &Style::default()), true_size(&scene, &Style::default())]
        {
            for mark in &drawing.marks {
                let b = mark.bounds().expect("finite");
                assert!(b.low.x.is_finite() && b.high.y.is_finite());
            }
        }
    }
    assert!(lay_out(&Scene::new(), 320.0, 260.0, &Style::default()).marks.is_empty());
    let mut point = Scene::new();
    point.line(Point::ORIGIN, Point::ORIGIN, Role::Cut);
    assert_eq!(lay_out(&point, 0.0, 0.0, &Style::default()).marks.len(), 0);
}

#[test]
fn a_handle_dragged_along_its_edge_changes_the_field_by_what_it_moved() {
    let mut scene = Scene::new();
    scene.line(Point::ORIGIN, Point::new(20.0, 10.0), Role::Stock);
    // A foot: half an inch outwards adds an inch to the footprint; upwards counts too.
    scene.add(Item::Handle {
        at: Point::new(20.0, 0.0),
        field: "footprint",
        per_inch: Vector::new(2.0, 1.0),
    });
    let drawing = lay_out(&scene, 360.0, 300.0, &Style::default());
    let per_px = drawing.marks.iter().find_map(|m| match m {
        Mark::HandleMark { per_px, .. } => Some(*per_px),
        _ => None,
    });
    let moved = Vector::new(0.5 * drawing.per_inch, -0.25 * drawing.per_inch);
    // 0.5 in to the right and 0.25 in up: 2 · 0.5 + 1 · 0.25.
    assert!((dot(per_px.expect("a handle"), moved) - 1.25).abs() < 1e-12);
}

#[test]
fn a_hatch_stays_inside_and_is_as_dense_as_it_says() {
    // A U: hatching must leave the gap between its legs free.
    let u = [
        (0., 0.),
        (90., 0.),
        (90., 80.),
        (60., 80.),
        (60., 30.),
        (30., 30.),
        (30., 80.),
        (0., 80.),
    ]
    .map(|(x, y)| Point::new(x, y));
    let area = 90.0 * 80.0 - 30.0 * 50.0;
    for apart in [0.5, 2.0] {
        let lines = hatch(&u, apart);
        let mut length = 0.0;
        for (a, b) in &lines {
            let (dx, dy) = (b.x - a.x, b.y - a.y);
            assert!((dx + dy).abs() < 1e-9, "at 45°, rising to the right with y down");
            length += dx.hypot(dy);
            let m = a.middle(*b);
            let in_gap = m.x > 30.0 && m.x < 60.0 && m.y > 30.0;
            assert!(!in_gap && m.x >= 0.0 && m.x <= 90.0 && m.y >= 0.0 && m.y <= 80.0);
        }
        // Length times distance is the area, but for the borders.
        assert!((length * apart / area - 1.0).abs() < 0.02, "{}", length * apart);
    }
    assert!(hatch(&u, 0.001).len() <= 1300, "a large area is hatched wider");
    assert!(hatch(&u, 0.0).is_empty() && hatch(&u, f64::NAN).is_empty());
}
