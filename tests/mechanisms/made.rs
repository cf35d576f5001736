//! What is to be made of each layout: its parts' cuts, the words beside them, and the pictures of a board
//! on the saw.

use offsquare_cuts::backwards::Solved;
use offsquare_cuts::layouts;
use offsquare_cuts::parts::{CutName, End, Part};
use offsquare_cuts::saw::{SawProfile, wording};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role, Scene};
use offsquare_paper::at_saw::{seen_from_above, two_tape_marks};
use offsquare_units::{Length, Quantity, Style, Text, Unit};
use offsquare_work::piece::{Draft, Shop, answer};

/// Every solution of every form at its first sizes, in inches.
fn each_solution(mut f: impl FnMut(&str, &Solved)) {
    for layout in layouts::all() {
        for form in layout.forms() {
            let draft = Draft::fresh(*layout, form, Unit::Inch);
            for solved in answer(&draft, &Shop::default()).solved {
                let what = format!("{} {} {}", layout.id(), form.id, solved.solution.way);
                f(&what, &solved);
            }
        }
    }
}

/// The solutions of one form with some sizes typed anew.
fn typed(layout: &str, form: &str, sizes: &[(&str, &str)]) -> Vec<Solved> {
    let layout = layouts::find(layout).expect("a layout");
    let form = layout.forms().iter().find(|f| f.id == form).expect("form");
    let mut draft = Draft::fresh(layout, form, Unit::Inch);
    for (key, text) in sizes {
        draft.set(key, text, Unit::Inch);
    }
    let answered = answer(&draft, &Shop::default());
    assert!(answered.is_good(), "{:?}", answered.problems);
    answered.solved
}

fn said(texts: &[Text]) -> Vec<String> {
    texts.iter().map(|t| t.render(&Style::default())).collect()
}

fn area(scene: &Scene, wanted: Role) -> f64 {
    scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Shape { outline, role } if *role == wanted => {
                let next = outline.iter().cycle().skip(1);
                let twice: f64 = outline.iter().zip(next).map(|(p, q)| p.x * q.y - q.x * p.y).sum();
                Some(twice.abs() / 2.0)
            }
            _ => None,
        })
        .sum()
}

/// A cut that says which answer it is reads as that answer; none is without a name; the figure shows
/// something that is made (three measures are of what stands there already).
#[test]
fn every_cut_has_its_name_and_reads_as_its_answer() {
    let mut cuts = 0;
    let check = |what: &str, solved: &Solved, cuts: &mut usize| {
        for part in &solved.solution.parts {
            for cut in &part.cuts {
                assert!(!cut.name.is_empty(), "{what}: {} has a nameless cut", part.name);
                for (key, is) in [(cut.miter_key, cut.miter), (cut.bevel_key, cut.bevel)] {
                    let Some(key) = key else { continue };
                    // Readings of mitered frames are signed, a cut's are not.
                    let told = match solved.solution.answers.quantity(key) {
                        Some(Quantity::Angle(a)) => a.0.abs(),
                        other => panic!("{what} {key}: {other:?}"),
                    };
                    assert!((is.0 - told).abs() < 1e-9, "{what} {key}: {} {told}", is.0);
                    *cuts += 1;
                }
            }
        }
    };
    each_solution(|what, solved| {
        check(what, solved, &mut cuts);
        let items = &solved.solution.figure.items;
        let made = |i: &Item| matches!(i, Item::Shape { role: Role::Stock, .. });
        assert!(
            items.is_empty() || items.iter().any(made) || what.starts_with("three_measures"),
            "{what}: nothing is made"
        );
    });
    assert!(cuts > 150, "{cuts}");
    // A shouldered end board lying down: four end cuts, the upright ones square.
    for solved in typed("end_board", "single", &[("shoulder_height", "2")]) {
        check("shouldered", &solved, &mut cuts);
        let part = &solved.solution.parts[0];
        let names: Vec<&str> = part.cuts.iter().map(|c| &*c.name).collect();
        assert_eq!(
            names,
            [
                "Left end, up to the shoulder",
                "Left slope",
                "Right end, up to the shoulder",
                "Right slope",
            ]
        );
    }
}

/// A free end clipped over the whole width is one cut, at 45°; clipped over less, two.
#[test]
fn a_free_end_clipped_right_across_is_one_cut() {
    let ends = |clip: &str| -> Vec<f64> {
        let sizes = [("free_ends", "clipped"), ("leg_width", "1 1/2"), ("clip", clip)];
        let solved = typed("bracket", "knee", &sizes);
        let parts = &solved[0].solution.parts;
        let leg = parts.iter().find(|p| p.cuts.iter().any(|c| c.name == "Clip"));
        let free = leg.expect("a clipped leg").cuts.iter();
        free.filter(|c| c.end == End::Right).map(|c| c.miter.0).collect()
    };
    let whole = ends("1 1/2");
    assert_eq!(whole.len(), 1);
    assert!((whole[0] - 45.0).abs() < 1e-9, "{whole:?}");
    let less = ends("1/2");
    assert_eq!(less.len(), 2);
    assert!((less[0] - 45.0).abs() < 1e-9 && less[1] == 0.0, "{less:?}");
}

/// Two braces of a K are mirror images: two are made alike, each in its own half.
#[test]
fn the_two_braces_of_a_k_are_made_alike() {
    for solved in typed("brace", "pair", &[("apex", "left")]) {
        let notes = said(&solved.solution.notes);
        let alike = notes.iter().any(|n| n.contains("mirror images"));
        assert!(alike, "{notes:?}");
        assert_eq!(solved.solution.parts[0].count, 2);
        let steps = said(&solved.solution.derivation);
        assert!(steps[0].starts_with("The line at mid-height makes two openings"));
    }
}

/// The stick is as long as the board and square at both ends; a line right across it for every hole.
#[test]
fn a_story_stick_is_a_square_ended_strip() {
    for solved in
        typed("spacing", "row", &[("rule", "equal_gaps"), ("length", "40"), ("holes", "5")])
    {
        let stick = &solved.solution.parts[0];
        let tall = stick.seen.0;
        let corners = [(0.0, 0.0), (40.0, 0.0), (40.0, tall), (0.0, tall)];
        for (x, y) in corners {
            let p = Point::new(x, y);
            assert!(stick.outline.0.contains(&p), "{:?}", stick.outline);
        }
        assert_eq!(stick.outline.0.len(), 4);
        assert_eq!(stick.marks.len(), 5);
        for (a, b) in &stick.marks {
            assert_eq!((a.x, a.y, b.y), (b.x, 0.0, tall));
        }
    }
}

fn stick(left: f64, right: f64, away: Option<f64>) -> Part {
    let (w, long) = (2.0, 30.0);
    Part::stick(
        "Stick",
        Length(w),
        away.map(Length),
        &[Point::new((-left).max(0.0), 0.0), Point::new(left.max(0.0), w)],
        &[Point::new(long, 0.0), Point::new(long + right, w)],
        &[CutName::default(); 2],
    )
}

/// Which pieces are alike is said where a piece is made more than once, and not for a single one.
#[test]
fn a_pair_is_told_to_be_alike() {
    let saw = SawProfile::usual();
    let mut part = stick(1.0, 1.0, None);
    let words = |part: &Part| said(&wording::part(&saw.advise_part(part)));
    let once = words(&part);
    part.count = 2;
    let twice = words(&part);
    assert_eq!(twice.len(), once.len() + 1, "{once:?} {twice:?}");
}

/// Seen from above the board ends at the blade on one side and, far off, at a break: nothing of it lies
/// beyond either, and what falls off lies beyond the blade only.
#[test]
fn only_the_end_at_the_blade_is_drawn() {
    let saw = SawProfile::usual();
    let part = stick(1.0, -1.0, None);
    for cut in &part.cuts {
        let scene = seen_from_above(&part, cut, &saw.advise(&part, cut));
        let face: Vec<&Vec<Point>> = scene
            .items
            .iter()
            .filter_map(|i| match i {
                Item::Shape { outline, role: Role::Face } => Some(outline),
                _ => None,
            })
            .collect();
        assert_eq!(face.len(), 1);
        assert_eq!(face[0].len(), 4, "{:?}", face[0]);
        let (low, high) = scene.bounds().expect("a picture");
        assert!(high.x - low.x < 20.0, "the board is 30 long: {low:?} {high:?}");
    }
}

/// Unfolded, what is kept and what falls off make up the face and, where the thickness is known, the edge
/// above it: a rectangle as long as the picture.
#[test]
fn an_unfolded_board_is_whole() {
    for (away, tall) in [(None, 2.0), (Some(0.75), 2.75)] {
        let part = stick(1.0, -1.0, away);
        for cut in &part.cuts {
            let scene = two_tape_marks(&part, cut).expect("an end cut");
            let (low, high) = scene.bounds().expect("a picture");
            let whole = (high.x - low.x) * tall;
            let is = area(&scene, Role::Stock) + area(&scene, Role::Waste);
            assert!((is - whole).abs() < 1e-9 * whole, "{away:?}: {is} of {whole}");
        }
    }
}
