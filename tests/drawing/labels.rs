//! No label on another, none outside the frame, tap targets of 48 px.

use crate::random::{Dice, scene};
use offsquare_geometry::scene::{Item, Scene, Source};
use offsquare_paper::drawing::{Drawing, Mark, Rect, lay_out, plain, runs};
use offsquare_units::{Fraction, Length, Style, Unit, print_length};

/// Phone widths of LOOK.md and of common phones, with the drawing's share of the screen.
const FRAMES: [(f64, f64); 3] = [(320.0, 260.0), (360.0, 300.0), (412.0, 340.0)];

fn overlap(a: &Rect, b: &Rect) -> bool {
    a.low.x.max(b.low.x) < a.high.x.min(b.high.x) && a.low.y.max(b.low.y) < a.high.y.min(b.high.y)
}
fn inside(frame: (f64, f64), r: &Rect) -> bool {
    r.low.x >= 0.0 && r.low.y >= 0.0 && r.high.x <= frame.0 && r.high.y <= frame.1
}

fn texts<'a>(drawing: &'a Drawing) -> Vec<&'a Rect> {
    let rect = |m: &'a Mark| match m {
        Mark::Text { rect, .. } => Some(rect),
        _ => None,
    };
    drawing.marks.iter().filter_map(rect).collect()
}
fn hits<'a>(drawing: &'a Drawing) -> Vec<(&'a Rect, &'static str)> {
    let hit = |m: &'a Mark| match m {
        Mark::Hit { rect, field } => Some((rect, *field)),
        _ => None,
    };
    drawing.marks.iter().filter_map(hit).collect()
}

/// What holds for every drawing, crowded or not.
pub fn legible(drawing: &Drawing, frame: (f64, f64), what: &str) {
    let texts = texts(drawing);
    for (i, a) in texts.iter().enumerate() {
        assert!(inside(frame, a), "{what}: a label runs off the frame: {a:?}");
        for b in &texts[i + 1..] {
            assert!(!overlap(a, b), "{what}: labels overlap: {a:?} {b:?}");
        }
    }
    for (rect, field) in hits(drawing) {
        // An ulp of the corner coordinates may be lost in the difference.
        assert!(rect.width() >= 48.0 - 1e-9 && rect.height() >= 48.0 - 1e-9, "{what}: {field}");
        assert!(inside(frame, rect), "{what}: {field}: {rect:?}");
    }
}

/// Figures side by side are half of their height apart: nobody reads two as one.
pub fn apart(drawing: &Drawing, what: &str) {
    let figure = |m: &Mark| match m {
        Mark::Text { rect, class: "given" | "computed", size, runs, .. } => {
            Some((*rect, *size, plain(runs)))
        }
        _ => None,
    };
    let all: Vec<_> = drawing.marks.iter().filter_map(figure).collect();
    for (i, (a, size, one)) in all.iter().enumerate() {
        for (b, _, other) in &all[i + 1..] {
            let level = a.low.y < b.high.y && b.low.y < a.high.y;
            let gap = a.low.x.max(b.low.x) - a.high.x.min(b.high.x);
            assert!(!level || gap >= size / 2.0, "{what}: {one} and {other} are {gap} px apart");
        }
    }
}

/// Sizes that a scene shows.
pub fn sizes(scene: &Scene) -> Vec<Source> {
    let source = |item: &Item| match item {
        Item::Dimension { source, .. } | Item::AngleMark { source, .. } => Some(*source),
        _ => None,
    };
    scene.items.iter().filter_map(source).collect()
}

#[test]
fn labels_of_random_scenes_keep_clear_of_one_another_and_of_the_frame() {
    let mut dice = Dice(2026);
    let (mut shown, mut left_out, mut touching) = (0, 0, 0);
    for number in 0..600 {
        let scene = scene(&mut dice);
        let unit = Unit::ALL[number % 3];
        let frame = FRAMES[number % FRAMES.len()];
        let drawing = lay_out(&scene, frame.0, frame.1, &Style::of(unit));
        legible(&drawing, frame, &format!("scene {number}"));
        let wanted = sizes(&scene);
        let given: Vec<&str> = wanted
            .iter()
            .filter_map(|s| match s {
                Source::Given(field) => Some(*field),
                Source::Computed(_) => None,
            })
            .collect();
        // Every given size can be tapped, exactly once.
        let mut tapped: Vec<&str> = hits(&drawing).iter().map(|h| h.1).collect();
        tapped.sort_unstable();
        assert_eq!(tapped, given, "scene {number}");
        shown += wanted.len();
        left_out += drawing.left_out.len();
        let hits = hits(&drawing);
        for (i, a) in hits.iter().enumerate() {
            touching += hits[i + 1..].iter().filter(|b| overlap(a.0, b.0)).count();
        }
    }
    assert!(shown > 3000, "{shown}");
    assert_eq!(left_out, 0, "of {shown} sizes");
    // Full-sized targets come first: in a frame too crowded for them, fewer than one in a thousand
    // shares ground with another; its size is in the list of fields as well.
    assert!(touching * 1000 < shown, "{touching} tap targets of {shown} share ground");
}

#[test]
fn where_there_is_no_room_a_size_is_named_instead_of_drawn_over_another() {
    let mut dice = Dice(7);
    let scene = scene(&mut dice);
    let drawing = lay_out(&scene, 60.0, 40.0, &Style::default());
    let drawn = texts(&drawing).len();
    legible_texts_only(&drawing, (60.0, 40.0));
    let labels = scene.items.iter().filter(|i| matches!(i, Item::Label { .. })).count();
    assert!(!drawing.left_out.is_empty());
    assert!(drawn + drawing.left_out.len() >= sizes(&scene).len());
    assert!(drawn + drawing.left_out.len() <= sizes(&scene).len() + labels);
}

fn legible_texts_only(drawing: &Drawing, frame: (f64, f64)) {
    let texts = texts(drawing);
    for (i, a) in texts.iter().enumerate() {
        assert!(inside(frame, a));
        assert!(texts[i + 1..].iter().all(|b| !overlap(a, b)));
    }
}

#[test]
fn the_same_scene_is_laid_out_the_same_way() {
    let mut dice = Dice(11);
    for _ in 0..20 {
        let scene = scene(&mut dice);
        let draw = || lay_out(&scene, 360.0, 300.0, &Style::default());
        assert_eq!(draw(), draw());
    }
}

#[test]
fn every_printed_length_is_set_in_runs_and_read_back() {
    for n in 0..=64 * 40 {
        for unit in Unit::ALL {
            let style = Style { fraction: Fraction::SixtyFourth, ..Style::of(unit) };
            let text = print_length(Length(f64::from(n) / 64.0), &style).to_string();
            assert_eq!(plain(&runs(&text)), text);
        }
    }
    for text in ["and/or", "1/2/3", "3/", "/4", "24 - 1/2", "page 3 of 4", "10/2026 1234/5678"] {
        assert_eq!(plain(&runs(text)), text);
    }
}
