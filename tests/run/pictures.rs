//! The board at the blade, as it is drawn for every cut of a run.

use crate::{one_stock, run, start};
use offsquare_cuts::parts::Side;
use offsquare_geometry::scene::{Item, Role, Scene, Source};
use offsquare_paper::at_saw::{board_at_blade, step_picture};
use offsquare_paper::drawing::{Mark, Rect};
use offsquare_tests::dice::Dice;
use offsquare_units::{Length, Quantity, Style};
use offsquare_work::cutlist::{Entry, PartEnd};
use offsquare_work::piece::{Shop, Work};
use offsquare_work::walk::{AtSaw, Walk, What};

/// Parts of a few lengths and angles, each often enough for a stop.
fn random(dice: &mut Dice) -> Work {
    let mut work = Work { rack: one_stock(96.0, 700), ..Work::default() };
    for id in 1..=1 + dice.below(3) as u32 {
        let end = |dice: &mut Dice| {
            let miter = [0.0, 0.0, 22.5, -45.0, 50.0][dice.below(5)];
            let bevel = if dice.one_in(8) { 30.0 } else { 0.0 };
            PartEnd { miter, bevel, pointed: false }
        };
        let (left, right) = (end(dice), end(dice));
        let length =
            Length([3.0, 7.0, 9.0, 12.5, 31.0][dice.below(5)] + dice.below(16) as f64 / 16.0);
        let (name, stock) = (format!("part {id}"), Some(1));
        let count = 3 + dice.below(4) as u32;
        work.parts.push(Entry { id, name, count, stock, length, left, right, ..Entry::default() });
    }
    work
}

fn told(scene: &Scene, what: &str) -> Option<(f64, f64, Length)> {
    scene.items.iter().find_map(|item| match item {
        Item::Dimension { from, to, value: Quantity::Length(l), source, .. }
            if *source == Source::Computed(what_of(what)) =>
        {
            Some((from.x, to.x, *l))
        }
        _ => None,
    })
}

fn what_of(what: &str) -> &'static str {
    if what == "stop" { "stop" } else { "tape_mark" }
}

/// The stop stands on the side that is held, at what the card tells, and the wood there touches it.
///
/// What is drawn is the seen face: an end that is beveled by 30° touches with its back,
/// up to 3/4 tan 30° / cos 50° = 0.674 in further out.
fn stop_is_drawn(scene: &Scene, cut: &AtSaw, is_beveled: bool) -> bool {
    let c = &cut.cutting;
    let blocks: Vec<(f64, f64)> = scene
        .items
        .iter()
        .filter(|i| matches!(i, Item::Shape { role: Role::Frame, .. }))
        .filter_map(|i| i.outline())
        .map(|o| o.iter().fold((f64::MAX, f64::MIN), |(a, b), p| (a.min(p.x), b.max(p.x))))
        .collect();
    // The first is the fence.
    let Some(stop) = cut.set_up.stop else {
        assert!(blocks.len() == 1 && told(scene, "stop").is_none());
        return false;
    };
    let ((face, kerf, at), (from, to)) = (told(scene, "stop").expect("its distance"), blocks[1]);
    assert!((at.0 - stop.at).abs() < 1e-9 && stop.side == c.held_side);
    match stop.side {
        Side::Left => assert!(to == face && face < kerf, "{face} {kerf}"),
        _ => assert!(from == face && face > kerf, "{face} {kerf}"),
    }
    // What is near enough is where it is.
    let far = ((face - kerf).abs() - stop.at).abs() > 1e-6;
    assert!(!far || (face - kerf).abs() < stop.at, "{face} {kerf} {}", stop.at);
    let slack = if is_beveled { 0.674 } else { 1e-6 };
    let touches = scene
        .items
        .iter()
        .filter(|i| matches!(i, Item::Shape { role: Role::Face | Role::Stock, .. }));
    let touches = touches.filter_map(|i| i.outline()).flatten().any(|p| (p.x - face).abs() < slack);
    assert!(touches, "nothing touches the stop");
    true
}

fn overlap(a: &Rect, b: &Rect) -> bool {
    a.low.x.max(b.low.x) < a.high.x.min(b.high.x) && a.low.y.max(b.low.y) < a.high.y.min(b.high.y)
}

#[test]
fn stops_are_drawn_where_they_stand() {
    let (mut shop, style) = (Shop::default(), Style::default());
    let mut dice = Dice(52);
    let (mut stops, mut near, mut marks, mut shown) = (0, 0, 0, 0);
    for round in 0..120 {
        shop.saw.hold_length = Length([8.0, 2.5][round % 2]);
        let mut work = random(&mut dice);
        let jobs = work.jobs(&shop);
        if !jobs.troubles.is_empty() {
            continue;
        }
        start(&mut work, &shop);
        let walk = Walk::of(run(&work));
        let is_beveled = work.parts.iter().any(|e| e.left.bevel + e.right.bevel > 0.0);
        for stage in &walk.stages {
            let What::Cut(cut) = &stage.what else { continue };
            let scene = board_at_blade(&walk, stage, cut);
            let drawing =
                step_picture(&walk, stage, &shop.saw, (340.0, 210.0), &style).expect("a picture");
            let texts: Vec<&Rect> = drawing
                .marks
                .iter()
                .filter_map(|m| match m {
                    Mark::Text { rect, .. } => Some(rect),
                    _ => None,
                })
                .collect();
            for (i, a) in texts.iter().enumerate() {
                assert!(a.low.x >= 0.0 && a.high.x <= drawing.width && a.high.y <= drawing.height);
                assert!(texts[i + 1..].iter().all(|b| !overlap(a, b)), "labels overlap");
            }
            if stop_is_drawn(&scene, cut, is_beveled) {
                stops += 1;
                let (face, kerf, at) = told(&scene, "stop").expect("its distance");
                near += usize::from(((face - kerf).abs() - at.0).abs() < 1e-6);
                let computed =
                    drawing.marks.iter().filter(|m| m.class() == Some("computed")).count();
                shown += usize::from(computed > 0);
            }
            let run = (cut.cutting.near - cut.cutting.far).abs();
            let mark = told(&scene, "tape_mark");
            assert_eq!(mark.is_some(), run > 1e-5);
            marks += usize::from(mark.is_some_and(|m| (m.2.0 - run).abs() < 1e-9));
        }
    }
    println!(
        "{stops} stops, {near} of them in true place, {shown} with their figure; {marks} tape marks"
    );
    assert!(stops > 300 && near > 0 && marks > 300 && shown == stops);
}
