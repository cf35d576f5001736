//! Sizes, angles and handles of every layout's figure, measured in the scene itself.

use offsquare_cuts::layouts;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_geometry::{Point, Vector, dot};
use offsquare_units::{Angle, Quantity, Unit};
use offsquare_work::piece::{Draft, Shop, answer};

fn each_figure(mut f: impl FnMut(&str, &Draft, &Scene)) {
    let shop = Shop::default();
    for layout in layouts::all() {
        for form in layout.forms() {
            let draft = Draft::fresh(*layout, form, Unit::Inch);
            for solved in answer(&draft, &shop).solved {
                let what = format!("{} {} {}", layout.id(), form.id, solved.solution.way);
                f(&what, &draft, &solved.solution.figure);
            }
        }
    }
}

/// A dimension line says how far apart its two ends are, an angle mark what its two directions enclose.
#[test]
fn every_size_in_a_figure_is_what_it_says() {
    let (mut lengths, mut angles) = (0, 0);
    let mut wrong = Vec::new();
    each_figure(|what, _, scene| {
        for item in &scene.items {
            match item {
                Item::Dimension { from, to, value: Quantity::Length(said), source, .. } => {
                    let is = to.distance(*from).0;
                    if (is - said.0).abs() > 1e-9 * is.max(1.0) {
                        wrong.push(format!("{what} {source:?}: {is}, said {}", said.0));
                    }
                    lengths += 1;
                }
                Item::AngleMark { from, to, value: Quantity::Angle(said), source, .. } => {
                    let turn = (to.0 - from.0).rem_euclid(360.0);
                    let is = turn.min(360.0 - turn);
                    if (is - said.0).abs() > 1e-9 {
                        wrong.push(format!("{what} {source:?}: {is}, said {}", said.0));
                    }
                    angles += 1;
                }
                _ => {}
            }
        }
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(lengths > 150 && angles > 20, "{lengths} {angles}");
}

/// The field is typed anew a hundredth of an inch larger and solved again: the handle has gone by as much
/// as its scale says (its definition in `scene`).
#[test]
fn every_handle_goes_with_its_field() {
    let shop = Shop::default();
    let handle = |scene: &Scene, key: &str| -> Option<(Point, Vector)> {
        scene.items.iter().find_map(|i| match i {
            Item::Handle { at, field, per_inch } if *field == key => Some((*at, *per_inch)),
            _ => None,
        })
    };
    let (mut tried, mut wrong) = (0, Vec::new());
    each_figure(|what, draft, scene| {
        for item in &scene.items {
            let Item::Handle { field, .. } = item else {
                continue;
            };
            let before = draft.text(field).map(|t| t.text.clone());
            let Some(before) = before.filter(|t| !t.is_empty()) else {
                continue;
            };
            let mut moved = draft.clone();
            moved.set(field, &format!("{before} + 0.01"), Unit::Inch);
            let again = answer(&moved, &shop);
            let way = what.rsplit(' ').next().unwrap_or_default();
            let after = again
                .solved
                .iter()
                .find(|s| s.solution.way == way)
                .unwrap_or_else(|| panic!("{what} {field}: {:?}", again.problems));
            let (a, per_inch) = handle(scene, field).expect("the handle");
            let (b, _) = handle(&after.solution.figure, field).expect("the handle");
            let said = dot(per_inch, b - a);
            if (said - 0.01).abs() > 2e-4 {
                wrong.push(format!("{what} {field}: {said}"));
            }
            tried += 1;
        }
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(tried > 20, "{tried}");
}

/// Radius 2 about (10, 5): from 30° to 100° the arc tops out at 90°, so at y = 7; its ends are at
/// x = 10 + √3 and 10 + 2 cos 100°. From 100° to 30° it passes 180°, 270° and 0° instead.
#[test]
fn the_room_of_an_arc_is_what_it_passes() {
    let room = |from: f64, to: f64| {
        let mut scene = Scene::new();
        scene.add(Item::Arc {
            center: Point::new(10.0, 5.0),
            radius: 2.0,
            from: Angle(from),
            to: Angle(to),
            role: Role::Cut,
        });
        let (low, high) = scene.bounds().expect("an arc");
        [low.x, low.y, high.x, high.y]
    };
    let near = |is: [f64; 4], should: [f64; 4]| {
        for (a, b) in is.iter().zip(should) {
            assert!((a - b).abs() < 1e-12, "{is:?}, should be {should:?}");
        }
    };
    let root = 3f64.sqrt();
    let cos_100 = 100f64.to_radians().cos();
    near(room(30.0, 100.0), [10.0 + 2.0 * cos_100, 6.0, 10.0 + root, 7.0]);
    near(room(100.0, 30.0), [8.0, 3.0, 12.0, 5.0 + 2.0 * 100f64.to_radians().sin()]);
    near(room(0.0, 0.0), [8.0, 3.0, 12.0, 7.0]);
}
