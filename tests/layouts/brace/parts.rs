//! The parts that become paper templates: outlines, cuts, marks and figures, against the polygons.

use super::polygon::{
    ALL, Brace, Landing, P, area, brace, clip, distance, dot, minus, rectangle, shared,
};
use super::request::close;
use offsquare_cuts::layouts::{Detail, Outcome, find};
use offsquare_cuts::parts::{End, Part, Side};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Source};
use offsquare_layout_tests::asking::given;
use serde_json::{Value, json};

fn solve(inputs: &Value) -> Outcome {
    let given = given("brace", None, inputs);
    find("brace").expect("brace").solve(&given.inputs, Detail::Full)
}

fn inputs(w: f64, h: f64, s: f64, landing: Landing) -> Value {
    json!({"opening_width": w, "opening_height": h, "strip_width": s, "ends": landing.key(),
        "side": landing.side()})
}

/// A polygon of the opening as it lies on the saw: along the strip from its lowest point, from edge A across.
fn laid(b: &Brace, polygon: &[P]) -> Vec<P> {
    let u = b.along;
    let n = (-u.1, u.0);
    let least = polygon.iter().map(|p| dot(*p, u)).fold(f64::INFINITY, f64::min);
    polygon.iter().map(|p| (dot(*p, u) - least, dot(minus(*p, b.right), n))).collect()
}

fn pairs(points: &[Point]) -> Vec<P> {
    points.iter().map(|p| (p.x, p.y)).collect()
}

/// The same corners, each near one of the other's, and counter-clockwise.
fn same_outline(part: &Part, want: &[P], what: &str) {
    let is = pairs(&part.outline.0);
    assert_eq!(is.len(), want.len(), "{what}: {is:?} {want:?}");
    let size = part.length.0 + part.seen.0;
    for p in want {
        let near = is.iter().map(|q| distance(*p, *q)).fold(f64::INFINITY, f64::min);
        close(near, 0.0, 1e-9 * size, what);
    }
    close(area(&is), area(want), 1e-9 * size * size, what);
    assert!(area(&is) > 0.0, "{what}: counter-clockwise");
}

/// Cuts lie on the outline, are swung to the right side and read what they say.
fn cuts_fit(part: &Part, what: &str) {
    let is = pairs(&part.outline.0);
    for c in &part.cuts {
        let (from, to) = ((c.from.x, c.from.y), (c.to.x, c.to.y));
        for p in [from, to] {
            assert!(is.iter().any(|q| distance(p, *q) < 1e-9), "{what}: {c:?}");
        }
        assert!(to.1 > from.1, "{what}: from the operator's edge to the fence");
        let lean = (to.0 - from.0).atan2(to.1 - from.1).to_degrees();
        close(c.miter.0, lean.abs(), 1e-9, what);
        // Left: the operator's end lies left of the fence end.
        let swing = if lean > 0.0 { Side::Left } else { Side::Right };
        assert_eq!(c.swing, swing, "{what}: {c:?}");
        let middle = part.length.0 / 2.0;
        assert_eq!(c.end == End::Left, (from.0 + to.0) / 2.0 < middle, "{what}");
        assert!(c.miter_key.is_some(), "{what}: every cut is an answer");
    }
}

/// Every drawn size names a field or an answer that is there.
fn figure_is_bound(outcome: &Outcome, inputs: &Value) {
    for s in &outcome.solutions {
        let mut given = 0;
        for item in &s.figure.items {
            let (source, value) = match item {
                Item::Dimension { source, value, .. } | Item::AngleMark { source, value, .. } => {
                    (source, value)
                }
                Item::Handle { field, .. } => {
                    assert!(inputs.get(*field).is_some(), "{field}");
                    continue;
                }
                _ => continue,
            };
            let shown = match value {
                offsquare_units::Quantity::Length(l) => l.0,
                offsquare_units::Quantity::Angle(a) => a.0,
                other => panic!("{other:?}"),
            };
            let is = match source {
                Source::Given(key) => {
                    given += 1;
                    inputs[*key].as_f64()
                }
                Source::Computed(path) => match s.answers.quantity(path) {
                    Some(offsquare_units::Quantity::Length(l)) => Some(l.0),
                    Some(offsquare_units::Quantity::Angle(a)) => Some(a.0),
                    _ => None,
                },
            };
            let is = is.unwrap_or_else(|| panic!("{source:?} is nowhere in {:?}", s.answers));
            close(shown, is, 1e-8, &format!("{source:?}"));
        }
        assert!(given >= 3, "sizes stand on the drawing");
        for path in &s.headline {
            assert!(s.answers.quantity(path).is_some(), "{path}");
        }
        for c in s.parts.iter().flat_map(|p| &p.cuts) {
            let path = c.miter_key.expect("a key");
            let Some(offsquare_units::Quantity::Angle(a)) = s.answers.quantity(path) else {
                panic!("{path} is no angle in {:?}", s.answers);
            };
            close(c.miter.0, a.0, 1e-8, path);
        }
        assert!(!s.derivation.is_empty());
    }
}

#[test]
fn a_single_brace_lies_on_the_saw_as_its_polygon() {
    for (w, h, s) in super::single::OPENINGS {
        for landing in ALL {
            let i = inputs(*w, *h, *s, landing);
            let outcome = solve(&i);
            let Some(solution) = outcome.solutions.first() else {
                continue;
            };
            let what = format!("{w} x {h}, {s}, {landing:?}");
            let b = brace(&rectangle(*w, *h), landing, *s);
            if *s > 1e-3 {
                same_outline(&solution.parts[0], &laid(&b, &b.outline), &what);
                cuts_fit(&solution.parts[0], &what);
            }
            if *s > 1e-3 {
                figure_is_bound(&outcome, &i);
            }
        }
    }
}

#[test]
fn as_built_parts_fit_their_corners() {
    let q = [(0.0, 0.0), (30.0, 0.0), (32.0, 43.0), (-1.5, 45.0)];
    for landing in ALL {
        let i = json!({"bottom": distance(q[0], q[1]), "right": distance(q[1], q[2]),
            "top": distance(q[2], q[3]), "left": distance(q[3], q[0]),
            "diagonal_down": distance(q[1], q[3]), "strip_width": 3.5, "ends": landing.key(),
            "side": landing.side()});
        let outcome = solve(&i);
        let b = brace(&q, landing, 3.5);
        let what = format!("{landing:?}");
        same_outline(&outcome.solutions[0].parts[0], &laid(&b, &b.outline), &what);
        cuts_fit(&outcome.solutions[0].parts[0], &what);
        figure_is_bound(&outcome, &i);
    }
}

/// The second brace of a crossed pair, as it stands.
fn second(w: f64, h: f64, s: f64, landing: Landing) -> Brace {
    let b = brace(&rectangle(w, h), landing, s);
    let left = (b.right.0 - b.along.1 * s, b.right.1 + b.along.0 * s);
    Brace {
        along: (-b.along.0, b.along.1),
        width: s,
        outline: b.outline.iter().rev().map(|p| (w - p.0, p.1)).collect(),
        right: (w - left.0, left.1),
    }
}

#[test]
fn crossed_parts_carry_their_shoulder_lines() {
    let (w, h, s1, s2) = (30.0, 44.0, 2.5, 3.5);
    for landing in ALL {
        let what = format!("{landing:?}");
        let mut i = json!({"opening_width": w, "opening_height": h, "strip_width_1": s1,
            "strip_width_2": s2, "ends": landing.key(), "side": landing.side(), "thickness_1": 1.5});
        let (one, two) = (brace(&rectangle(w, h), landing, s1), second(w, h, s2, landing));
        let lap = shared(&one.outline, &two.outline);
        let outcome = solve(&i);
        figure_is_bound(&outcome, &i);
        let parts = &outcome.solutions[0].parts;
        for (part, b) in parts.iter().zip([&one, &two]) {
            same_outline(part, &laid(b, &b.outline), &what);
            cuts_fit(part, &what);
            assert_eq!(part.away.map(|l| l.0), Some(1.5));
            // Both shoulder lines end in the corners of the shared parallelogram.
            let least = b.outline.iter().map(|p| dot(*p, b.along)).fold(f64::INFINITY, f64::min);
            let n = (-b.along.1, b.along.0);
            let corners: Vec<P> = lap
                .iter()
                .map(|p| (dot(*p, b.along) - least, dot(minus(*p, b.right), n)))
                .collect();
            assert_eq!(part.marks.len(), 2, "{what}");
            for (from, to) in &part.marks {
                close(from.y, 0.0, 0.0, &what);
                close(to.y, b.width, 0.0, &what);
                for p in [from, to] {
                    let near = corners
                        .iter()
                        .map(|c| distance((p.x, p.y), *c))
                        .fold(f64::INFINITY, f64::min);
                    close(near, 0.0, 1e-9, &what);
                }
            }
        }
        i["joint"] = json!("second_in_halves");
        let outcome = solve(&i);
        figure_is_bound(&outcome, &i);
        let half = &outcome.solutions[0].parts[1];
        let polygon = clip(&two.outline, one.right, (-one.along.0, -one.along.1));
        same_outline(half, &laid(&two, &polygon), &what);
        cuts_fit(half, &what);
        let unlike = matches!(landing, Landing::EdgeBelow | Landing::EdgeAbove);
        assert_eq!(half.count, if unlike { 1 } else { 2 });
        if unlike {
            let left = (one.right.0 - one.along.1 * s1, one.right.1 + one.along.0 * s1);
            let polygon = clip(&two.outline, left, one.along);
            let upper = &outcome.solutions[0].parts[2];
            same_outline(upper, &laid(&two, &polygon), &what);
            cuts_fit(upper, &what);
        }
    }
}

#[test]
fn pairs_are_two_of_a_kind() {
    for apex in ["left", "right", "top", "bottom"] {
        for landing in ALL {
            let mut i = inputs(48.0, 60.0, 2.5, landing);
            i["apex"] = json!(apex);
            let outcome = solve(&i);
            figure_is_bound(&outcome, &i);
            let part = &outcome.solutions[0].parts[0];
            assert_eq!(part.count, 2);
            cuts_fit(part, apex);
            let inner = part.cuts.iter().filter(|c| c.name.starts_with("Inner")).count();
            assert_eq!(inner * 2, part.cuts.len(), "{:?}", part.cuts);
        }
    }
}

#[test]
fn outside_sizes_stand_on_the_drawing() {
    let i = json!({"outside_width": 35, "outside_height": 49, "stile_width": 2.5, "rail_width": 2.5,
        "strip_width": 2.5});
    let outcome = solve(&i);
    assert_eq!(outcome.solutions.len(), 4);
    figure_is_bound(&outcome, &i);
}
