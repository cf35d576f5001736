//! Over every pattern: random sizes, both units, two runs, and sizes that cannot be.

use crate::checks::{apart_and_touching, check, random_request};
use offsquare_cuts::layouts::{Detail, Layout};
use offsquare_tests::dice::Dice;
use offsquare_work::patterns;
use offsquare_work::solved::PiecePart;
use serde_json::{Value, json};

#[test]
fn every_patterns_id_is_known_before_it_comes() {
    let ids: Vec<&str> = patterns::all().iter().map(|p| p.id()).collect();
    assert_eq!(patterns::IDS, ids);
}

#[test]
fn every_pattern_starts_solved_in_both_units() {
    for pattern in patterns::all() {
        for unit in ["in", "mm"] {
            let request = json!({"unit": unit, "pattern": pattern.id});
            assert!(check(&request), "{} in {unit}", pattern.id);
            let answer = offsquare_door::piece::piece_value(&request);
            assert_eq!(answer["problems"], json!([]), "{} in {unit}", pattern.id);
        }
    }
}

#[test]
fn three_hundred_random_pieces_of_each_pattern_go_together() {
    for (n, pattern) in patterns::all().iter().enumerate() {
        let mut dice = Dice(1 + n as u64);
        let mut made = 0;
        for k in 0..300 {
            // Most are near what a maker would build, some are odd.
            let request =
                random_request(*pattern, &mut dice, if k % 3 == 0 { 2.5 } else { 1.25 }, false);
            made += usize::from(check(&request));
        }
        assert!(made > 75, "{}: only {made} of 300 can be made", pattern.id);
    }
}

#[test]
fn parts_touch_and_do_not_overlap() {
    for (n, pattern) in patterns::all().iter().enumerate() {
        let form = &pattern.forms[0];
        let mut dice = Dice(100 + n as u64);
        for k in 0..60 {
            let spread = if k % 3 == 0 { 2.5 } else { 1.25 };
            let inputs =
                if k > 0 { dice.inputs(form, false, spread) } else { form.start_inputs(false) };
            for solution in pattern.solve(&inputs, Detail::Full).solutions {
                let members = &solution.members;
                assert_eq!(members.len(), solution.parts.len());
                let Some((low, high)) =
                    offsquare_cuts::assembly::extent(members.iter().flat_map(|m| &m.bodies))
                else {
                    panic!("{} stands nowhere", pattern.id);
                };
                let over = high - low;
                assert!(low.z.abs() < 1e-9 * over.length() || low.y < -1e-9, "stands on the floor");
                apart_and_touching(members, over.length());
            }
        }
    }
}

/// A part turned from its place onto the saw holds the same wood; its end cuts and rips say how it lies there.
#[test]
fn a_part_without_an_outline_holds_the_same_lying_and_standing() {
    let mut compared = 0;
    for (n, pattern) in patterns::all().iter().enumerate() {
        let form = &pattern.forms[0];
        let mut dice = Dice(400 + n as u64);
        for _ in 0..20 {
            let inputs = dice.inputs(form, false, 1.25);
            for solution in pattern.solve(&inputs, Detail::Full).solutions {
                for (part, member) in solution.parts.iter().zip(&solution.members) {
                    let part = PiecePart::of(part, member);
                    let shaped = part.outline.is_some() || !part.section.is_empty();
                    let body = &part.bodies[0];
                    if shaped || body.round.is_some() || !body.removed.is_empty() {
                        continue;
                    }
                    let [is, lying] = [body, &part.lying()].map(|b| b.solid().volume());
                    assert!((is - lying).abs() < 1e-9 * is.max(1.0), "{is} {lying} {part:?}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 500, "{compared}");
}

/// Every number of an answer that is a length, times 25.4, is the answer in millimeters.
#[test]
fn millimeters_and_inches_answer_alike() {
    for (n, pattern) in patterns::all().iter().enumerate() {
        let mut dice = Dice(200 + n as u64);
        let mut compared = 0;
        for _ in 0..20 {
            let inches = random_request(*pattern, &mut dice, 1.25, true);
            let mut mm = inches.clone();
            mm["unit"] = json!("mm");
            for field in pattern.forms[0].fields {
                if matches!(field.kind, offsquare_cuts::inputs::Kind::Length(_)) {
                    mm["sizes"][field.key] =
                        json!(inches["sizes"][field.key].as_f64().unwrap() * 25.4);
                }
            }
            let [a, b] = [&inches, &mm].map(offsquare_door::piece::piece_value);
            assert_eq!(a["parts"].is_array(), b["parts"].is_array(), "{inches}");
            if a["parts"].is_array() {
                compared += 1;
                for key in ["width", "depth", "height"] {
                    let (x, y) =
                        (a["extent"][key].as_f64().unwrap(), b["extent"][key].as_f64().unwrap());
                    assert!((x * 25.4 - y).abs() < 1e-9 * y.abs().max(1.0), "{key} of {inches}");
                }
                let [p, q] = [&a, &b].map(|v| v["parts"].as_array().unwrap());
                for (p, q) in p.iter().zip(q) {
                    assert_eq!((&p["name"], &p["qty"]), (&q["name"], &q["qty"]));
                    let (x, y) = (p["length"].as_f64().unwrap(), q["length"].as_f64().unwrap());
                    assert!((x * 25.4 - y).abs() < 1e-9 * y, "{p} {q}");
                }
            }
        }
        assert!(compared > 0, "{}", pattern.id);
    }
}

#[test]
fn two_runs_give_the_same_bytes_and_nothing_is_not_a_number() {
    for (n, pattern) in patterns::all().iter().enumerate() {
        let mut dice = Dice(300 + n as u64);
        for _ in 0..40 {
            let request = random_request(*pattern, &mut dice, 6.0, false);
            let [a, b] = [0, 1].map(|_| offsquare_door::piece::piece_value(&request).to_string());
            assert_eq!(a, b);
            let answer: Value = serde_json::from_str(&a).unwrap();
            let placed = answer["placed"].to_string();
            assert!(!placed.contains("[null") && !placed.contains(",null"), "{request}");
        }
    }
}
