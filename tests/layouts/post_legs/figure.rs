//! The drawing is true to scale and the parts are what the answers say.

use offsquare_cuts::layouts::{Detail, Solution, find};
use offsquare_cuts::parts::{End, StockShape};
use offsquare_geometry::scene::{Item, Source};
use offsquare_layout_tests::asking::given;
use offsquare_units::Quantity;
use serde_json::{Value, json};

fn full(layout: &str, inputs: Value) -> Vec<Solution> {
    let given = given(layout, None, &inputs);
    find(layout).expect("the layout").solve(&given.inputs, Detail::Full).solutions
}

fn cases() -> Vec<(&'static str, Value)> {
    let base = json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5, "leg_breadth": 1.25});
    let mut all = Vec::new();
    for foot in ["floor", "square"] {
        for (key, value) in [
            ("long_point_length", 9.625),
            ("short_point_length", 7.0),
            ("rise_to_joint_top", 6.5),
            ("rise_to_joint_middle", 6.0),
            ("rise_to_joint_bottom", 5.0),
            ("splay_deg", 40.0),
        ] {
            for (legs, more) in [
                (4, json!({})),
                (3, json!({"cleat": 0.5})),
                (2, json!({"post_length": 24, "post_below_joint": 1})),
            ] {
                let mut inputs = base.clone();
                inputs["foot"] = json!(foot);
                inputs["legs"] = json!(legs);
                inputs[key] = json!(value);
                for (k, v) in more.as_object().expect("object") {
                    inputs[k] = v.clone();
                }
                all.push(("post_legs", inputs));
            }
        }
        all.push((
            "post_legs",
            json!({"post_width": 3.5, "footprint": 26, "big_end_depth": 2, "small_end_depth": 1,
                "taper_length": 16, "foot": foot}),
        ));
        all.push((
            "post_legs",
            json!({"post_width": 3.5, "footprint": 26, "big_end_depth": 2, "small_end_depth": 1,
                "taper_length": 16, "foot": foot, "leg_section": "round", "legs": 3}),
        ));
    }
    all.push((
        "leg_shim",
        json!({"big_diameter": 2, "small_diameter": 1, "length_along_axis": 16,
        "shim_at_from_big_end": 12, "first_contact_from_big_end": 2}),
    ));
    all
}

#[test]
fn every_dimension_is_as_long_as_it_says() {
    for (layout, inputs) in cases() {
        let all = full(layout, inputs.clone());
        assert!(!all.is_empty(), "{inputs}");
        for s in all {
            let mut keys = Vec::new();
            for item in &s.figure.items {
                match item {
                    Item::Dimension { from, to, value: Quantity::Length(l), source, .. } => {
                        let drawn = (from.x - to.x).hypot(from.y - to.y);
                        assert!(
                            (drawn - l.0).abs() < 1e-9 * 30.0,
                            "{source:?}: {drawn} {l:?} in {inputs}"
                        );
                        if let Source::Given(key) = source {
                            keys.push(*key);
                        }
                    }
                    Item::AngleMark { from, to, value: Quantity::Angle(a), source, .. } => {
                        assert!((to.0 - from.0 - a.0).abs() < 1e-9, "{source:?} in {inputs}");
                        if let Source::Given(key) = source {
                            keys.push(*key);
                        }
                    }
                    _ => {}
                }
            }
            // Every size that was typed stands on the drawing, but for what goes away from you.
            for key in inputs.as_object().expect("object").keys() {
                let hidden = ["foot", "legs", "leg_breadth", "leg_section"];
                assert!(
                    hidden.contains(&key.as_str()) || keys.contains(&key.as_str()),
                    "{key} is not on the drawing of {inputs}"
                );
            }
        }
    }
}

#[test]
fn parts_are_cut_as_the_answers_say() {
    for (layout, inputs) in cases() {
        for s in full(layout, inputs.clone()) {
            let part = &s.parts[0];
            for cut in &part.cuts {
                let key = cut.miter_key.expect("every cut is an answer");
                let Some(Quantity::Angle(a)) = s.answers.quantity(key) else {
                    panic!("{key}");
                };
                assert!(
                    (cut.miter.0 - a.0).abs() < 1e-9,
                    "{key}: {:?} {a:?} in {inputs}",
                    cut.miter
                );
            }
            let area = part.outline.signed_area();
            assert!(area > 0.0, "counter-clockwise");
            if layout == "leg_shim" {
                assert_eq!(part.stock, StockShape::Round);
                continue;
            }
            assert_eq!(u64::from(part.count), inputs["legs"].as_u64().unwrap_or(4));
            let length = |key: &str| match s.answers.quantity(key) {
                Some(Quantity::Length(l)) => l.0,
                _ => panic!("{key}"),
            };
            assert!((part.edge_b.0 - length("outer_edge_length")).abs() < 1e-9);
            assert!((part.edge_a.0 - length("inner_edge_length")).abs() < 1e-9);
            // The same shape lies on the saw and stands in the drawing.
            let mut stood = s.figure.items.iter().filter_map(|i| match i {
                Item::Shape { outline, role: offsquare_geometry::scene::Role::Stock } => {
                    Some(offsquare_geometry::Polygon(outline.clone()).area().0)
                }
                _ => None,
            });
            assert!(stood.next_back().is_some_and(|a| (a - area).abs() < 1e-9 * 40.0), "{inputs}");
            match part.stock {
                StockShape::Straight => {
                    assert_eq!(part.away.map(|l| l.0), Some(1.25));
                    // The outer edge lies at the fence (edge B) and is the longer one: a trapezoid or
                    // one square end; in the cutting plan's signs both ends are 0 or negative.
                    for end in [End::Left, End::Right] {
                        assert!(part.plan_angle(end).is_some_and(|a| a.0 <= 0.0));
                    }
                }
                StockShape::Round => assert_eq!(inputs["leg_section"], "round"),
                other => assert_eq!(other, StockShape::Tapered),
            }
        }
    }
}

#[test]
fn a_foot_dragged_outwards_lands_under_the_thumb() {
    let at = |footprint: f64| {
        let s = &full(
            "post_legs",
            json!({"post_width": 3.5, "footprint": footprint, "leg_depth": 1.5, "long_point_length": 12}),
        )[0];
        s.figure
            .items
            .iter()
            .find_map(|i| match i {
                Item::Handle { at, field: "footprint", per_inch } => Some((*at, *per_inch)),
                _ => None,
            })
            .expect("a handle on the foot")
    };
    let (before, per_inch) = at(15.0);
    let (after, _) = at(15.0 + 0.75 * per_inch.x);
    assert!((after.x - before.x - 0.75).abs() < 1e-12);
}
