//! Laps on the saw card and on paper: where a tape finds their shoulders, their setting, depth, what falls out.

use offsquare_cuts::inputs::{Inputs, Value};
use offsquare_cuts::layouts::{self, Detail};
use offsquare_cuts::parts::Part;
use offsquare_cuts::saw::{SawProfile, wording};
use offsquare_geometry::Point;
use offsquare_geometry::scene::{Item, Role};
use offsquare_paper::at_saw::lap_on_face;
use offsquare_paper::drawing::templates;
use offsquare_units::{Angle, Length, Style};

fn parts(
    layout: &str,
    form: &'static str,
    sizes: &[(&'static str, f64)],
    choices: &[(&'static str, Value)],
) -> Vec<Part> {
    let mut inputs = Inputs::of_form(form);
    for (key, v) in sizes {
        let value =
            if key.ends_with("_deg") { Value::Angle(Angle(*v)) } else { Value::Length(Length(*v)) };
        inputs.set(key, value);
    }
    for (key, v) in choices {
        inputs.set(key, v.clone());
    }
    let outcome = layouts::find(layout).expect("a layout").solve(&inputs, Detail::Full);
    assert!(outcome.problems.is_empty(), "{:?}", outcome.problems);
    outcome.solutions.into_iter().next().expect("a solution").parts
}

fn crossed(w: f64, h: f64, s1: f64, s2: f64) -> Vec<Part> {
    parts(
        "brace",
        "crossed",
        &[
            ("opening_width", w),
            ("opening_height", h),
            ("strip_width_1", s1),
            ("strip_width_2", s2),
            ("thickness_1", 0.75),
            ("thickness_2", 0.75),
        ],
        &[("ends", Value::Choices(vec!["rails"]))],
    )
}

/// Slope of a strip flat on the rails: the root of W sin f = H cos f + s under 90°, by bisection.
fn slope(w: f64, h: f64, s: f64) -> f64 {
    let (mut low, mut high) = (0.0_f64, std::f64::consts::FRAC_PI_2);
    for _ in 0..200 {
        let t = low + (high - low) / 2.0;
        if w * t.sin() > h * t.cos() + s { high = t } else { low = t }
    }
    low
}

/// How far up a line from (at, 0) at slope t it meets one from the right, from (from, 0) at slope u.
fn up(at: f64, t: f64, from: f64, u: f64) -> f64 {
    (from - at) * u.sin() / (t + u).sin()
}

/// Opening 30 × 44, strips 2 1/2 and 1 1/2, flat on the rails. The first brace's lower edge starts on the bottom rail
/// at W − H / tan f (it ends in the upper right corner); the second's edges start at H / tan g and in the lower right
/// corner. Along that lower edge they cross it at 23.62 and 25.27 in: 23 5/8 and 25 1/4. Counted from the brace's
/// furthest point they would be 25 3/16 in shy, which no tape along an edge can find.
#[test]
fn a_laps_shoulders_are_told_along_the_edges_that_a_tape_lies_on() {
    let (w, h) = (30.0, 44.0);
    let all = crossed(w, h, 2.5, 1.5);
    let (f, g) = (slope(w, h, 2.5), slope(w, h, 1.5));
    let lower = w - h / f.tan();
    let wanted = [up(lower, f, h / g.tan(), g), up(lower, f, w, g)];
    // The upper edge starts in the lower left corner.
    let above = [up(0.0, f, h / g.tan(), g), up(0.0, f, w, g)];
    let advice = SawProfile::usual().advise_part(&all[0]);
    let lap = &advice.laps[0];
    for i in 0..2 {
        assert!((lap.lower_edge[i].0 - wanted[i]).abs() < 1e-9, "{lap:?} {wanted:?}");
        assert!((lap.upper_edge[i].0 - above[i]).abs() < 1e-9, "{lap:?} {above:?}");
    }
    assert!((wanted[0] - 23.625).abs() < 1.0 / 32.0, "{wanted:?}");
    // Paper says the same place.
    let made = templates(&all[..1], &SawProfile::usual(), &Style::default());
    let notes = &made.iter().find(|t| t.name.ends_with("marks")).expect("the lap").notes;
    let first = notes.iter().find(|n| n.starts_with("The first mark")).expect("its place");
    assert!(first.contains("23 5/8 in") && first.contains("lower edge"), "{first}");
    assert!(!first.contains("25 3/16"), "{first}");
    assert!(
        notes.iter().any(|n| n.contains("between the two lines the wood falls out")),
        "{notes:?}"
    );
}

/// The shoulders read 180° less both slopes, off square: half lap in the back of the first brace, in the front of
/// the second, each half of 3/4 deep; a saw with half degrees is set to its nearest mark.
#[test]
fn a_laps_setting_depth_and_waste_stand_on_the_card() {
    let (w, h) = (30.0, 44.0);
    let all = crossed(w, h, 2.5, 1.5);
    let facing = 180.0 - (slope(w, h, 2.5) + slope(w, h, 1.5)).to_degrees();
    let saw = SawProfile::usual();
    for (part, back) in all.iter().zip([true, false]) {
        let advice = saw.advise_part(part);
        let a = &advice.laps[0];
        assert!((a.reading.0 - (90.0 - facing)).abs() < 1e-9);
        assert_eq!((a.lap.in_back, a.lap.depth), (back, Some(Length(0.375))));
        let mark = ((90.0 - facing) * 2.0).round() / 2.0;
        assert_eq!(a.set, Some(Angle(mark)));
        let said: Vec<String> =
            wording::lap(a).iter().map(|t| t.render(&Style::default())).collect();
        let said = said.join(" ");
        for wanted in [
            &format!("set the saw to {mark:.1}°"),
            "3/8 in deep",
            "between the two lines",
            "depth stop",
        ] {
            assert!(said.contains(wanted), "{wanted}: {said}");
        }
        // Drawn: both lines to cut on, and an X between them.
        let scene = lap_on_face(part, &a.lap);
        let lines = scene.items.iter().filter(|i| matches!(i, Item::Line { role: Role::Cut, .. }));
        assert_eq!(lines.count(), 2);
        let at = scene.items.iter().find_map(|i| match i {
            Item::FallsOff { at } => Some(*at),
            _ => None,
        });
        let at: Point = at.expect("an X");
        let [(p, q), (r, s)] = a.lap.shoulders;
        assert!(at.x > p.middle(q).x && at.x < r.middle(s).x);
    }
    // Crossing at 30°: 60° off square is past this saw.
    let steep = parts(
        "half_lap",
        "pair",
        &[
            ("crossing_deg", 30.0),
            ("width_1", 2.5),
            ("width_2", 1.5),
            ("thickness_1", 0.75),
            ("thickness_2", 0.75),
            ("length_1", 24.0),
            ("length_2", 18.0),
        ],
        &[],
    );
    let advice = saw.advise_part(&steep[0]);
    assert_eq!((advice.laps[0].set, advice.laps[0].lap.in_back), (None, false));
    let said: Vec<String> =
        wording::lap(&advice.laps[0]).iter().map(|t| t.render(&Style::default())).collect();
    let said = said.join(" ");
    assert!(said.contains("past this saw") && said.contains("hand saw"), "{said}");
}

/// Only what is cut has a lap: in a notch the strip in front stays whole, a through brace has none.
#[test]
fn what_stays_whole_has_no_lap() {
    let sizes = [
        ("crossing_deg", 60.0),
        ("width_1", 2.5),
        ("width_2", 1.5),
        ("thickness_1", 1.5),
        ("thickness_2", 0.75),
        ("length_1", 24.0),
        ("length_2", 18.0),
    ];
    let notch = parts("half_lap", "pair", &sizes, &[("joint", Value::Choice("notch"))]);
    assert_eq!((notch[0].laps.len(), notch[1].laps.len()), (1, 0));
    assert_eq!(notch[0].laps[0].depth, Some(Length(0.75)));
    let sizes = [
        ("opening_width", 30.0),
        ("opening_height", 44.0),
        ("strip_width_1", 2.5),
        ("strip_width_2", 2.5),
    ];
    let choices =
        [("ends", Value::Choices(vec!["rails"])), ("joint", Value::Choice("second_in_halves"))];
    assert!(parts("brace", "crossed", &sizes, &choices).iter().all(|p| p.laps.is_empty()));
}

/// The other hand of a lapped part carries its lap along, its left shoulder still first.
#[test]
fn a_mirrored_part_carries_its_lap() {
    let part = &crossed(30.0, 44.0, 2.5, 1.5)[0];
    let other = part.mirrored();
    let ([(a, _), _], [_, (c, _)]) = (other.laps[0].shoulders, part.laps[0].shoulders);
    assert!((a.x - (part.length.0 - c.x)).abs() < 1e-9 && a.y == c.y);
    assert_eq!(other.mirrored().laps, part.laps);
}
