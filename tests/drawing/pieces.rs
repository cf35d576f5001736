//! Whole pieces put together: every size beside them and apart, every part under the finger that is on it.

use crate::labels::{apart, legible, sizes};
use crate::solids::{Eye, hits};
use offsquare_cuts::inputs::Inputs;
use offsquare_cuts::layouts::{Detail, Layout, Solution};
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_geometry::{Body, Point, Point3};
use offsquare_paper::drawing::{Assembled, Mark, View, lay_out, plain};
use offsquare_tests::dice::Dice;
use offsquare_units::{Angle, Style, Unit};
use offsquare_work::patterns::{self, Pattern};

/// What a drawing has of a phone of 360 by 640, and of a smaller one.
const FRAMES: [(f64, f64); 2] = [(360.0, 345.0), (320.0, 270.0)];

/// Each pattern as it starts, and with its sizes, choices and counts at random: those that can be made.
fn each_piece(random: usize, mut with: impl FnMut(&Pattern, &Inputs, Solution)) {
    for (n, pattern) in patterns::all().iter().enumerate() {
        let form = &pattern.forms[0];
        let mut dice = Dice(500 + n as u64);
        for k in 0..=random {
            let metric = k % 2 == 1;
            let inputs =
                if k > 0 { dice.inputs(form, metric, 1.5) } else { form.start_inputs(false) };
            if let Some(solution) =
                pattern.solve(&inputs, Detail::Full).solutions.into_iter().next()
            {
                with(*pattern, &inputs, solution);
            }
        }
    }
}

#[test]
fn every_size_of_a_piece_stands_beside_it_and_is_tapped() {
    let (mut pieces, mut shown) = (0, 0);
    each_piece(40, |pattern, inputs, solution| {
        let what = format!("{} {inputs:?}", pattern.id);
        let scene = Assembled::of(&solution).seen(View::CORNER, false);
        let wanted: Vec<Source> = solution.spans.iter().map(|s| s.source).collect();
        assert!(!wanted.is_empty() && wanted.len() <= 8, "{what}");
        let mut drawn = sizes(&scene);
        for source in &wanted {
            let at = drawn.iter().position(|s| s == source);
            drawn.remove(at.unwrap_or_else(|| panic!("{what}: {source:?} is missing")));
        }
        for frame in FRAMES {
            for unit in [Unit::Inch, Unit::Millimeter] {
                let drawing = lay_out(&scene, frame.0, frame.1, &Style::of(unit));
                legible(&drawing, frame, &what);
                apart(&drawing, &what);
                assert!(drawing.left_out.is_empty(), "{what}: {:?}", drawing.left_out);
                for source in &wanted {
                    if let Source::Given(key) = source {
                        let tapped =
                            |m: &Mark| matches!(m, Mark::Hit { field, .. } if field == key);
                        assert!(drawing.marks.iter().any(tapped), "{what}: {key}");
                    }
                }
            }
        }
        pieces += 1;
        shown += wanted.len();
    });
    assert!(pieces > 20 * patterns::all().len() && shown > 2 * pieces, "{pieces} {shown}");
}

/// The line of a size has all of the piece on one side of it.
#[test]
fn no_dimension_line_runs_over_the_piece() {
    let mut lines = 0;
    each_piece(10, |pattern, _, solution| {
        for view in [View::CORNER, View { turn: Angle(-140.0), tilt: Angle(40.0) }] {
            let eye = Eye::of(view);
            let scene = Assembled::of(&solution).seen(view, false);
            let bodies = solution.members.iter().flat_map(|m| &m.bodies);
            let corners: Vec<Point> = bodies
                .flat_map(|b| b.solid().faces.into_iter().flatten().map(|p| eye.flat(p)))
                .collect();
            for item in &scene.items {
                let Item::Dimension { from, to, row, aside, .. } = item else { continue };
                let (a, b) = (*from + *aside, *to + *aside);
                // Left of the stretch, in whole inches away from its line.
                let left = |p: &Point| {
                    ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / a.distance(b).0
                };
                let over = corners.iter().map(left).map(|d| if *row > 0 { d } else { -d });
                let over = over.fold(f64::NEG_INFINITY, f64::max);
                assert!(over < 1e-6, "{} {item:?}: {over}", pattern.id);
                lines += 1;
            }
        }
    });
    assert!(lines > 300, "{lines}");
}

fn triangles(solution: &Solution) -> Vec<(usize, [Point3; 3])> {
    let mut out = Vec::new();
    for (part, member) in solution.members.iter().enumerate() {
        // A round hole is taken for its wood.
        let filled = |b: &Body| {
            let removed = b.removed.iter().filter(|bite| bite.len() < 20).cloned().collect();
            Body { removed, ..b.clone() }.solid()
        };
        for face in member.bodies.iter().flat_map(|b| filled(b).faces) {
            // The faces of a body are convex.
            out.extend((2..face.len()).map(|i| (part, [face[0], face[i - 1], face[i]])));
        }
    }
    out
}

/// Rays from points of the picture, through the triangles of all bodies: the part that is met last on the
/// way to the eye is the one that is tapped.
#[test]
fn a_tap_takes_the_part_that_is_nearest_to_the_eye() {
    let (mut met, mut missed) = (0, 0);
    let mut dice = Dice(41);
    each_piece(4, |pattern, _, solution| {
        let piece = Assembled::of(&solution);
        let triangles = triangles(&solution);
        for _ in 0..3 {
            let turn = Angle(360.0 * dice.share());
            let view = View { turn, tilt: Angle(90.0 * dice.share() - 30.0) };
            let eye = Eye::of(view);
            let (low, high) = piece.seen(view, true).bounds().expect("a picture");
            for _ in 0..40 {
                let at = |a: f64, b: f64, share: f64| a + (b - a) * share;
                let p =
                    Point::new(at(low.x, high.x, dice.share()), at(low.y, high.y, dice.share()));
                let from = eye.at(p, -1e4);
                let all: Vec<(f64, usize)> = triangles
                    .iter()
                    .filter_map(|(part, t)| Some((hits(from, eye.toward, *t)?, *part)))
                    .collect();
                let far = all.iter().map(|h| h.0).fold(f64::NEG_INFINITY, f64::max);
                // The end of a peg is flush with its board, whose hole is taken for wood: the peg is meant.
                let nearest = all.iter().filter(|h| h.0 > far - 1e-6).map(|h| h.1).max();
                assert_eq!(piece.part_at(view, false, p, 0.0), nearest, "{} {p:?}", pattern.id);
                met += usize::from(nearest.is_some());
                missed += usize::from(nearest.is_none());
            }
        }
    });
    assert!(met > 500 && missed > 500, "{met} {missed}");
}

/// A finger beside a thin part takes it, too; one far from all takes none.
#[test]
fn a_tap_close_beside_a_part_takes_it() {
    let stand = patterns::find("holed_beam").expect("a beam");
    let inputs = stand.forms[0].start_inputs(false);
    let solution = stand.solve(&inputs, Detail::Full).solutions.remove(0);
    let piece = Assembled::of(&solution);
    let eye = Eye::of(View::FRONT);
    let corners = triangles(&solution).into_iter().flat_map(|(_, t)| t).map(|p| eye.flat(p));
    let top = corners.map(|p| p.y).fold(0.0, f64::max);
    let over = |by: f64| piece.part_at(View::FRONT, false, Point::new(0.0, top + by), 1.0);
    assert_eq!((over(-0.01), over(0.9), over(1.1)), (Some(0), Some(0), None));
}

#[test]
fn moved_apart_every_part_has_its_name() {
    each_piece(0, |pattern, _, solution| {
        let scene = Assembled::of(&solution).seen(View::CORNER, true);
        assert_eq!(sizes(&scene), [], "sizes are not true apart");
        let drawing = lay_out(&scene, 360.0, 345.0, &Style::default());
        legible(&drawing, (360.0, 345.0), pattern.id);
        for part in &solution.parts {
            let named = |m: &Mark| match m {
                Mark::Text { runs, .. } => plain(runs).starts_with(&*part.name.to_string()),
                _ => false,
            };
            assert!(drawing.marks.iter().any(named), "{}: {}", pattern.id, part.name);
        }
    });
}

/// Points on the edges of whole pieces are hidden where a ray toward the eye says so.
#[test]
fn edges_behind_other_parts_are_hidden() {
    let (mut seen, mut behind) = (0, 0);
    let mut dice = Dice(77);
    each_piece(2, |pattern, _, solution| {
        let triangles = triangles(&solution);
        let view =
            View { turn: Angle(360.0 * dice.share()), tilt: Angle(20.0 + 50.0 * dice.share()) };
        let eye = Eye::of(view);
        let scene: Scene = Assembled::of(&solution).seen(view, false);
        let straight = |b: &&Body| b.round.is_none() && b.removed.is_empty();
        for body in solution.members.iter().flat_map(|m| &m.bodies).filter(straight) {
            for face in body.solid().faces {
                let i = dice.below(face.len());
                let (a, b) = (face[i], face[(i + 1) % face.len()]);
                let p = a + (b - a) * (0.02 + 0.96 * dice.share());
                // What is met no further than a hair away touches it.
                let far = 1e-5;
                let met = triangles.iter().filter_map(|(_, t)| hits(p, eye.toward, *t));
                let hidden = met.into_iter().any(|d| d > far);
                let role = if hidden { Role::Hidden } else { Role::Stock };
                assert!(eye.shows(&scene, role, p), "{}: {p:?} {role:?}", pattern.id);
                seen += usize::from(!hidden);
                behind += usize::from(hidden);
            }
        }
    });
    assert!(seen > 300 && behind > 300, "{seen} {behind}");
}

/// A hole square through a beam seen square: a round of that diameter around the hole's middle, on the near
/// face in sight and on the far one hidden.
#[test]
fn a_hole_shows_its_rims() {
    let beam = patterns::find("holed_beam").expect("a beam");
    let inputs = beam.forms[0].start_inputs(false);
    let solution = beam.solve(&inputs, Detail::Full).solutions.remove(0);
    let scene = Assembled::of(&solution).seen(View { turn: Angle(1e-7), tilt: Angle(0.0) }, false);
    let holes = &solution.members[0].holes;
    let diameter = inputs.length("diameter").expect("a diameter").0;
    assert!(holes.len() > 1);
    let left = -inputs.length("length").expect("a length").0 / 2.0;
    for hole in holes {
        let on = |role: Role| {
            let round = |p: &Point| {
                let off = (p.x - left - hole.at.x).hypot(p.y - hole.at.y);
                (off - diameter / 2.0).abs() < 1e-6
            };
            let line = |i: &&Item| matches!(i, Item::Line { from, to, role: r } if *r == role && round(from) && round(to));
            scene.items.iter().filter(line).count()
        };
        // A polygon of 36 sides, on either face.
        assert_eq!(on(Role::Stock) + on(Role::Hidden), 72, "{hole:?}");
        assert!(on(Role::Stock) >= 36, "{hole:?}");
    }
}
