//! Turned work and the cautions that a layout carries.

use offsquare_cuts::facts::{Caution, caution};
use offsquare_cuts::layouts;
use offsquare_cuts::parts::{CutName, End, Part, Side};
use offsquare_cuts::saw::{Edge, MOST_TURNED, Remedy, SawProfile, Turned, wording};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_layout_tests::asking::ask_for;
use offsquare_paper::at_saw::turned_from_above;
use offsquare_units::{Angle, Length, Unit};
use offsquare_work::piece::{Draft, Shop, answer};
use serde_json::{Value, json};

/// A stick 1 1/2 in wide and some 20 long with one end at 62°, swung either way, at either end.
fn steep(end: End, swing: Side) -> Part {
    let run = 1.5 * 62f64.to_radians().tan() * if swing == Side::Left { 1.0 } else { -1.0 };
    let (mut left, mut right) = (0.0, 0.0);
    if end == End::Left {
        left = run
    } else {
        right = run
    }
    Part::stick(
        "Rail",
        Length(1.5),
        Some(Length(0.75)),
        &[Point::new(-left / 2.0, 0.0), Point::new(left / 2.0, 1.5)],
        &[Point::new(18.0 - right / 2.0, 0.0), Point::new(18.0 + right / 2.0, 1.5)],
        &[CutName::default(); 2],
    )
}

fn turned(saw: &SawProfile, part: &Part, cut: usize) -> Option<Turned> {
    saw.advise(part, &part.cuts[cut]).remedies.iter().find_map(|r| match r {
        Remedy::TurnedWork(t) => Some(*t),
        _ => None,
    })
}

/// Laid on the table as the words say: the end at the fence (y = 0), the piece toward the operator (y < 0).
/// The cut then starts where the named edge meets the fence, and leans and swings as the saw is set; the
/// piece lies on the side away from the auxiliary fence.
#[test]
fn turned_work_lies_as_told() {
    for end in [End::Left, End::Right] {
        for swing in [Side::Left, Side::Right] {
            for limits in [(50.0, 50.0), (20.0, 50.0), (50.0, 20.0)] {
                let saw = SawProfile {
                    miter_left: Angle(limits.0),
                    miter_right: Angle(limits.1),
                    ..SawProfile::usual()
                };
                let part = steep(end, swing);
                let i = usize::from(end == End::Right);
                let cut = &part.cuts[i];
                let t = turned(&saw, &part, i).expect("turned work");
                let limit = if t.swing == Side::Left { limits.0 } else { limits.1 };
                assert!(t.set.0 <= limit && (t.set.0 - 28.0).abs() < 1e-9);
                // A quarter turn that brings the end up to the fence; then, drawn face down, mirrored.
                let tip = cut.from.x.max(cut.to.x);
                let base = cut.from.x.min(cut.to.x);
                let lie = |p: Point| {
                    let (x, y) = match end {
                        End::Left => (p.y, base - p.x),
                        _ => (-p.y, p.x - tip),
                    };
                    Point::new(if t.seen_face_up { x } else { -x }, y)
                };
                let (a, b) = (lie(cut.from), lie(cut.to));
                let (at_fence, out) = if a.y > b.y { (a, b) } else { (b, a) };
                assert!(at_fence.y.abs() < 1e-12 && (out.y + t.needs.0).abs() < 1e-9);
                assert_eq!(out.x < at_fence.x, t.swing == Side::Left, "{end:?} {swing:?}");
                let angle = (out.x - at_fence.x).abs().atan2(-out.y).to_degrees();
                assert!((angle - t.set.0).abs() < 1e-9, "{angle}");
                // The edge along the auxiliary fence is that of the point; all wood lies beyond it.
                let along = if t.along == Edge::A { 0.0 } else { part.seen.0 };
                let fence = lie(Point::new(0.0, along)).x;
                assert!((fence - at_fence.x).abs() < 1e-12, "the point is at the auxiliary fence");
                let side = if t.swing == Side::Right { 1.0 } else { -1.0 };
                assert!(part.outline.0.iter().all(|p| side * (lie(*p).x - fence) > -1e-9));
                let words = wording::remedy(&Remedy::TurnedWork(t)).render(&Default::default());
                for must in [
                    "clamped, never held by hand".to_owned(),
                    format!("Swing the saw 28.0° {}.", wording::side(t.swing)),
                    format!("{} of the cut", wording::side(t.swing.other())),
                    format!("its {} along the auxiliary one", t.along.name(&t.sides)),
                    "its squared end on the saw\u{2019}s fence".to_owned(),
                    "Hold up what reaches past the table".to_owned(),
                    "up to 24 in".to_owned(),
                ] {
                    assert!(words.contains(&must), "{must}: {words}");
                }
                drawn_so(&turned_from_above(&part, cut, &saw.advise(&part, cut)), &t);
            }
        }
    }
}

/// The picture: the cut from the fence's corner out, to the side that is told, the auxiliary fence on the
/// other; the board between.
fn drawn_so(scene: &Option<Scene>, t: &Turned) {
    let scene = scene.as_ref().expect("a picture");
    let cut = scene.items.iter().find_map(|i| match i {
        Item::Line { from, to, role: Role::Cut } => Some((*from, *to)),
        _ => None,
    });
    let (from, to) = cut.expect("the blade");
    let (near, far) = if from.y > to.y { (from, to) } else { (to, from) };
    assert_eq!(far.x < near.x, t.swing == Side::Left);
    let middle = |role: Role| -> Vec<f64> {
        let shapes = scene.items.iter().filter_map(move |i| match i {
            Item::Shape { outline, role: r } if *r == role => {
                Some(outline.iter().map(|p| p.x).sum::<f64>() / outline.len() as f64)
            }
            _ => None,
        });
        shapes.collect()
    };
    let stock = middle(Role::Stock)[0];
    // The saw's own fence lies across the middle; the auxiliary one on the side away from the swing.
    let aux = middle(Role::Frame).into_iter().find(|x| x.abs() > 1e-9).expect("auxiliary");
    assert_eq!(aux < 0.0, t.swing == Side::Right, "{aux}");
    assert!(stock * aux < 0.0);
}

#[test]
fn turned_work_only_up_to_an_arms_length() {
    let saw = SawProfile::usual();
    let mut part = steep(End::Right, Side::Right);
    assert!(part.length.0 < MOST_TURNED.0 && turned(&saw, &part, 1).is_some());
    part.length = Length(24.5);
    assert_eq!(turned(&saw, &part, 1), None);
}

fn cautions(layout: &str, form: &str, change: &[(&str, &str)]) -> Vec<Caution> {
    let layout = layouts::find(layout).expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("a form");
    let mut draft = Draft::fresh(layout, form, Unit::Inch);
    for (key, text) in change {
        draft.set(key, text, Unit::Inch);
    }
    let shop = Shop::default();
    let answered = answer(&draft, &shop);
    let solved = answered.solved.iter();
    let mut all: Vec<Caution> = solved
        .flat_map(|s| {
            let parts = s.solution.parts.iter().flat_map(|p| shop.saw.advise_part(p).cautions);
            s.solution.cautions.iter().copied().chain(parts).collect::<Vec<_>>()
        })
        .collect();
    all.sort();
    all.dedup();
    all
}

#[test]
fn every_layout_carries_its_cautions() {
    for form in ["single", "nested", "box"] {
        assert!(cautions("end_board", form, &[]).contains(&Caution::EndBoard), "{form}");
    }
    assert!(cautions("end_board", "box", &[]).contains(&Caution::RippedEdge));
    for layout in ["two_way_splay", "post_legs"] {
        for form in layouts::find(layout).expect("a layout").forms() {
            let all = cautions(layout, form.id, &[]);
            assert!(all.contains(&Caution::SplayedLegs), "{layout} {}: {all:?}", form.id);
        }
    }
    for form in layouts::find("sloped_box").expect("a layout").forms() {
        let all = cautions("sloped_box", form.id, &[]);
        assert!(all.contains(&Caution::RippedEdge), "{}: {all:?}", form.id);
    }
    let reply = |inputs: &Value| ask_for("brace", inputs, &json!({"saw": {}}));
    let point = caution(Caution::SteepPoint).render(&Default::default());
    for (arrangement, more) in [("single", json!({})), ("k", json!({})), ("chevron", json!({}))] {
        let mut inputs = json!({"arrangement": arrangement, "opening_width": 30, "opening_height": 44,
            "strip_width": 2.5, "ends": ["edge", "rails"]});
        for (key, value) in more.as_object().into_iter().flatten() {
            inputs[key] = value.clone();
        }
        let reply = reply(&inputs);
        let solutions = reply["solutions"].as_array().expect("solutions");
        for s in solutions {
            let edge = s["way"] == "edge";
            let told = s["saw"]["cautions"].to_string().contains(&point);
            assert_eq!(told, edge, "{arrangement} {}", s["way"]);
        }
        assert!(solutions.iter().any(|s| s["way"] == "edge"), "{arrangement}: {reply}");
    }
}

/// A stand lower than its feet are apart does not teach people to skip the caution.
#[test]
fn tall_pieces_are_those_higher_than_their_footprint() {
    let words = caution(Caution::TallStand).render(&Default::default());
    let told = |layout: &str, inputs: &Value, more: &Value| {
        let reply = ask_for(layout, inputs, more);
        reply["solutions"][0]["saw"]["cautions"].to_string().contains(&words)
    };
    let table = |height: f64| {
        let inputs = json!({"footprint_width": 16, "footprint_depth": 12, "top_width": 10,
            "top_depth": 8, "section": 1.5, "height": height, "roll": "front"});
        told("two_way_splay", &inputs, &json!({"form": "sizes", "saw": {}}))
    };
    assert!(!table(11.5) && table(12.5));
    let post = |given: &str, value: f64, length: Option<f64>| {
        let mut inputs = json!({"post_width": 3.5, "footprint": 17.5, "leg_depth": 1.5,
            "given": given, "value": value, "foot": "floor"});
        if let Some(length) = length {
            inputs["post_length"] = json!(length);
        }
        told("post_legs", &inputs, &json!({"saw": {}}))
    };
    assert!(!post("rise_top", 6.0, None), "6 in high on 17 1/2");
    assert!(!post("overall_height", 17.0, Some(14.0)) && post("overall_height", 18.0, Some(14.0)));
}
