//! All solutions, counted against a fine scan of GEOMETRY's closed forms, and close pairs.

use crate::request::{Dice, answers, ask, near, number, problems, solutions};
use serde_json::{Value, json};

/// GEOMETRY 3, square foot; lean in degrees.
fn square_foot(given: &str, r: f64, d: f64, lean: f64) -> f64 {
    let a = lean.to_radians();
    let top = r / a.tan() + d * a.sin();
    match given {
        "long_point" => r / a.sin(),
        "short_point" => r / a.sin() - d / a.tan(),
        "rise_top" => top,
        "rise_middle" => top - d / a.sin() / 2.0,
        "rise_bottom" => top - d / a.sin(),
        other => panic!("{other}"),
    }
}

fn level_foot(given: &str, r: f64, d: f64, lean: f64) -> f64 {
    let a = lean.to_radians();
    let top = r / a.tan();
    match given {
        "long_point" => r / a.sin(),
        "short_point" => r / a.sin() - d * (a.tan() + 1.0 / a.tan()),
        "rise_top" => top,
        "rise_middle" => top - d / a.sin() / 2.0,
        "rise_bottom" => top - d / a.sin(),
        other => panic!("{other}"),
    }
}

fn request(r: f64, d: f64, given: &str, value: f64, square: bool) -> Value {
    json!({"post_width": 4.0, "footprint": 4.0 + 2.0 * r, "leg_depth": d, "given": given, "value": value,
        "foot": if square { "square" } else { "floor" }})
}

#[test]
fn as_many_as_a_fine_scan_finds() {
    let mut dice = Dice::new(11);
    let mut many = [0; 4];
    for turn in 0..1500 {
        let d = dice.between(0.5, 4.0);
        // Half of the cases about where the counts change.
        let r = d * if turn % 2 == 0 { dice.between(0.2, 3.0) } else { dice.between(0.9, 1.12) };
        let square = turn % 3 != 0;
        let given =
            ["long_point", "short_point", "rise_top", "rise_middle", "rise_bottom"][turn % 5];
        let size = if square { square_foot } else { level_foot };
        let value = size(given, r, d, dice.between(5.0, 85.0));
        if value <= 0.0 {
            continue;
        }
        // Scanned with the inner edge watched; a turning place closer than the scan sees is left out.
        let inner = |a: f64| size("short_point", r, d, a) > 0.0;
        let steps = 10_000;
        let (mut count, mut risky) = (0, false);
        for i in 1..steps {
            let (a, b) = (
                90.0 * f64::from(i - 1) / f64::from(steps),
                90.0 * f64::from(i) / f64::from(steps),
            );
            if i == 1 || !inner(a) || !inner(b) {
                continue;
            }
            let (fa, fb) = (size(given, r, d, a) - value, size(given, r, d, b) - value);
            if (fa > 0.0) != (fb > 0.0) {
                count += 1;
            }
            risky |= fa.abs() < 2e-7 * value
                && (fa > 0.0) == (fb > 0.0)
                && fa.abs().min(fb.abs()) < (fa - fb).abs();
        }
        // Solutions within a step of the ends of the leans are not seen by the scan.
        let reply = ask(request(r, d, given, value, square));
        let all = answers(&reply);
        let edge = all.iter().any(|a| {
            let s = number(a, "splay_deg");
            let step = 2.0 * 90.0 / f64::from(steps);
            s < step || s > 90.0 - step || !inner(s - step) || !inner(s + step)
        });
        if edge || risky {
            continue;
        }
        assert_eq!(
            all.len(),
            count,
            "turn {turn}: {given} {value}, R/d {}, square {square}",
            r / d
        );
        many[count.min(3)] += 1;
    }
    assert!(many[1] > 300 && many[2] > 50 && many[3] > 10, "{many:?}");
}

#[test]
fn counts_of_the_square_foot() {
    // GEOMETRY 3: R = 5, d = 3: short_point has two between √(R² − d²) = 4 and R = 5, one from R on,
    // none below; at 4 itself they meet at cos(lean) = d/R.
    let count = |r, d, given, value| answers(&ask(request(r, d, given, value, true))).len();
    assert_eq!(count(5.0, 3.0, "short_point", 3.999_999), 0);
    assert_eq!(count(5.0, 3.0, "short_point", 4.0), 1);
    assert_eq!(count(5.0, 3.0, "short_point", 4.000_001), 2);
    assert_eq!(count(5.0, 3.0, "short_point", 4.999_999), 2);
    assert_eq!(count(5.0, 3.0, "short_point", 5.0), 1);
    assert_eq!(count(5.0, 3.0, "short_point", 50.0), 1);
    let meet = solutions(request(5.0, 3.0, "short_point", 4.0, true));
    near(number(&meet[0], "splay_deg"), 0.6_f64.acos().to_degrees(), 1e-6, "where they meet");
    // rise_bottom: two when R < d, three in d < R < 1.089 d (4√6/9 = 1.0887 by hand: 2u − u³ at √(2/3)).
    assert_eq!(count(2.0, 3.0, "rise_bottom", 0.2), 2);
    assert_eq!(count(3.0, 3.0, "rise_bottom", 0.2), 2);
    assert_eq!(count(3.0 * 1.08, 3.0, "rise_bottom", 1.117), 3);
    assert_eq!(count(3.0 * 1.10, 3.0, "rise_bottom", 0.9), 1);
    assert_eq!(count(9.0, 3.0, "rise_bottom", 0.9), 1);
    // rise_middle: two can be when R < 0.71 d.
    assert_eq!(count(1.5, 3.0, "rise_middle", 1.75), 2);
    assert_eq!(count(2.2, 3.0, "rise_middle", 1.9), 1);
    // long_point below R has none.
    assert_eq!(count(5.0, 3.0, "long_point", 4.999), 0);
}

/// The lean at which f turns between two leans, by thirds.
fn turn(f: &dyn Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..300 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if f(a) > f(b) { high = b } else { low = a }
    }
    (low + high) / 2.0
}

#[test]
fn close_pairs_are_both_found_and_exact() {
    // Wherever two solutions nearly meet, both are listed and the size computed again from each lean
    // agrees to 1e-12 of it.
    let mut dice = Dice::new(23);
    let mut pairs = 0;
    for _ in 0..300 {
        let d = dice.between(0.5, 5.0);
        let close = dice.between(2.0, 11.5);
        let off = 10.0_f64.powf(-close);
        // (given, R/d, the two leans between which the size rises to its peak or falls to its dip, peak?)
        let q = dice.between(0.3, 0.65);
        let near_one = dice.between(1.0005, 1.08);
        let below = dice.between(0.3, 0.98);
        let flat = |ratio: f64| ratio.acos().to_degrees();
        for (given, ratio, low, high, peak) in [
            ("rise_middle", q, flat(q), 90.0, true),
            ("rise_bottom", below, flat(below), 90.0, true),
            // u = √(2/3) parts the dip (steeper lean... smaller angle) from the peak.
            ("rise_bottom", near_one, (2.0_f64 / 3.0).sqrt().acos().to_degrees(), 90.0, true),
            ("rise_bottom", near_one, 0.01, (2.0_f64 / 3.0).sqrt().acos().to_degrees(), false),
            ("short_point", dice.between(1.01, 3.0), 0.5, 89.9, false),
        ] {
            let r = ratio * d;
            let sign = if peak { 1.0 } else { -1.0 };
            let at = turn(&|a| sign * square_foot(given, r, d, a), low, high);
            let extreme = square_foot(given, r, d, at);
            let value = extreme * (1.0 - sign * off);
            let all = solutions(request(r, d, given, value, true));
            let splays: Vec<f64> = all.iter().map(|a| number(a, "splay_deg")).collect();
            let around: Vec<&f64> = splays.iter().filter(|s| (**s - at).abs() < 40.0).collect();
            assert!(
                around.iter().any(|s| **s < at) && around.iter().any(|s| **s > at),
                "{given} R/d {ratio}, {off:e} off the turn at {at}: {splays:?}"
            );
            for s in &splays {
                let again = square_foot(given, r, d, *s);
                near(again, value, 1e-12 * value.max(r), &format!("{given} again at {s}"));
            }
            pairs += 1;
        }
    }
    assert_eq!(pairs, 1500);
}

#[test]
fn past_the_turn_the_limit_is_the_turn() {
    let mut dice = Dice::new(31);
    for _ in 0..100 {
        let d = dice.between(0.5, 5.0);
        let ratio = dice.between(0.3, 0.65);
        let r = ratio * d;
        for given in ["rise_middle", "rise_bottom"] {
            let at = turn(&|a| square_foot(given, r, d, a), ratio.acos().to_degrees(), 90.0);
            let peak = square_foot(given, r, d, at);
            let reply = ask(request(r, d, given, peak * 1.001, true));
            assert!(answers(&reply).is_empty());
            let p = &problems(&reply)[0];
            assert_eq!(p["path"], "/inputs/value");
            near(p["limit"].as_f64().expect("a limit"), peak, 1e-12 * peak, given);
        }
    }
}
