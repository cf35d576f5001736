//! Runs whose every number is worked out by hand, and a model that sees what is wrong.

use crate::run::{laid, random, run_over};
use crate::run_model::check;
use offsquare_door::piece::piece_value;
use offsquare_tests::dice::Dice;
use serde_json::{Value, json};

fn cuts(answer: &Value) -> Vec<&Value> {
    answer["run"]["steps"].as_array().unwrap().iter().filter(|s| s["kind"] != "bench").collect()
}

fn near(is: &Value, wanted: f64) {
    let is = is.as_f64().unwrap_or(f64::NAN);
    assert!((is - wanted).abs() < 1e-9, "{is} {wanted}");
}

/// Three slats of 30 in from a board of 96, kerf 1/8: the first stands on the board's own end. Marks at 30,
/// 60 1/8 and 90 1/4; the stop at 30; the last cut frees the third slat and leaves 5 5/8 in.
#[test]
fn slats_against_a_stop() {
    let answer = piece_value(&json!({
        "unit": "in",
        "parts": [{"name": "slat", "qty": 3, "stock": "1x4", "seen": 3.5, "away": 0.75, "length": 30}],
        "boards": {"1x4": {"boards": [{"id": "8ft", "length": 96, "price": 400}], "kerf": 0.125}},
    }));
    let set_ups = answer["run"]["set_ups"].as_array().unwrap();
    assert_eq!(set_ups.len(), 1);
    assert_eq!(set_ups[0]["stop"], json!({"at": 30.0, "side": "left"}));
    assert_eq!(set_ups[0]["shown"], json!({"mitre_deg": 0.0, "bevel_deg": 0.0}));
    for (i, (cut, x)) in cuts(&answer).iter().zip([30.0, 60.125, 90.25]).enumerate() {
        near(&cut["x_near"], x);
        near(&cut["x_far"], x);
        near(&cut["held"], 30.0);
        assert_eq!((&cut["kind"], &cut["held_side"]), (&json!("crosscut"), &json!("left")));
        assert_eq!(cut["frees"], json!([{"part": "slat", "nth": i}]));
        assert_eq!(cut["cautions"], json!([]));
    }
    assert_eq!(cuts(&answer).len(), 3);
    assert_eq!(cuts(&answer)[0]["finishes"][1], json!({"part": "slat", "nth": 1, "end": "left"}));
}

/// Two braces of 24 in over all, 2 1/2 wide, 45° with parallel ends, nested: the second begins 24 - 2.5 + 0.125·√2
/// further on. Three cuts lean one way; the board is trimmed at 1/4 in. At 45° a saw that swings 40° has no mark.
#[test]
fn nested_braces_past_the_saw() {
    let answer = piece_value(&json!({
        "unit": "in", "saw": {"miter_left_deg": 40, "miter_right_deg": 40},
        "parts": [{"name": "brace", "qty": 2, "stock": "strip", "seen": 2.5, "away": 0.75, "length": 24,
            "left": {"mitre_deg": 45}, "right": {"mitre_deg": -45}}],
        "boards": {"strip": {"boards": [{"id": "b", "length": 60, "price": 400}], "kerf": 0.125, "trim": 0.25}},
    }));
    let set_ups = answer["run"]["set_ups"].as_array().unwrap();
    assert_eq!(set_ups.len(), 1);
    assert!(set_ups[0]["stop"].is_null() && set_ups[0]["shown"]["mitre_deg"].is_null());
    assert_eq!(
        (&set_ups[0]["shown"]["bevel_deg"], &set_ups[0]["remedy"]),
        (&json!(0.0), &json!("tape_mark"))
    );
    let step = 24.0 - 2.5 + 0.125 * 2f64.sqrt();
    let mut ends: Vec<f64> = Vec::new();
    for cut in cuts(&answer) {
        let (a, b) = (cut["x_near"].as_f64().unwrap(), cut["x_far"].as_f64().unwrap());
        assert!(((a - b).abs() - 2.5).abs() < 1e-9);
        // The left side of the kerf.
        let kerf = if cut["waste_side"] == "left" { 0.125 * 2f64.sqrt() } else { 0.0 };
        ends.push(a.min(b) - kerf);
    }
    ends.sort_by(f64::total_cmp);
    let first = 0.25 - 0.125 * 2f64.sqrt();
    for (is, wanted) in ends.iter().zip([first, first + step, first + 2.0 * step]) {
        assert!((is - wanted).abs() < 1e-9, "{ends:?}");
    }
    assert_eq!(cuts(&answer).len(), 3);
}

/// A lap is two shoulders and a housing, a hole is drilled: on every piece of the batch, after its cuts.
#[test]
fn work_at_the_bench_follows_the_cuts() {
    let answer = piece_value(&json!({
        "unit": "in", "pattern": "holed_beam", "sizes": {"holes": 5}, "price": {"batch": 2},
        "boards": {"beam": {"boards": [{"id": "b", "length": 144, "price": 900}], "kerf": 0.125}},
    }));
    assert_eq!(answer["problems"], json!([]));
    let steps = answer["run"]["steps"].as_array().unwrap();
    let drilled: Vec<(&Value, &Value)> =
        steps.iter().filter(|s| s["what"] == "drill").map(|s| (&s["nth"], &s["of"])).collect();
    assert_eq!(drilled, [(&json!(0), &json!(5)), (&json!(1), &json!(5))]);
    let last_cut = steps.iter().rposition(|s| s["kind"] != "bench").unwrap();
    assert!(steps.iter().position(|s| s["kind"] == "bench").unwrap() > last_cut);
}

/// One thing made wrong in a run; tells whether there was such a thing in it.
type Damage = fn(&mut Value) -> bool;

fn cut_where(answer: &mut Value, which: impl Fn(&Value) -> bool) -> Option<&mut Value> {
    let steps = answer["run"]["steps"].as_array_mut()?;
    steps.iter_mut().find(|s| s["kind"] != "bench" && which(s))
}

fn done(step: Option<&mut Value>, wrong: impl Fn(&mut Value)) -> bool {
    step.map(wrong).is_some()
}

fn other(side: &Value) -> Value {
    if side == "left" { json!("right") } else { json!("left") }
}

const DAMAGES: [(&str, Damage); 9] = [
    ("a mark moved", |a| {
        done(cut_where(a, |_| true), |s| s["x_near"] = json!(s["x_near"].as_f64().unwrap() + 0.01))
    }),
    ("the whole cut moved", |a| {
        done(cut_where(a, |s| s["finishes"][1].is_object()), |s| {
            for key in ["x_near", "x_far"] {
                s[key] = json!(s[key].as_f64().unwrap() + 0.01);
            }
        })
    }),
    ("a stop moved", |a| {
        let stops = a["run"]["set_ups"].as_array_mut().unwrap();
        let one = stops.iter_mut().find(|s| !s["stop"].is_null());
        done(one, |s| s["stop"]["at"] = json!(s["stop"]["at"].as_f64().unwrap() + 0.01))
    }),
    ("an end forgotten", |a| {
        done(cut_where(a, |s| s["finishes"][1].is_object()), |s| {
            s["finishes"].as_array_mut().unwrap().pop();
        })
    }),
    ("the blade on the other side", |a| {
        done(cut_where(a, |_| true), |s| s["waste_side"] = other(&s["waste_side"]))
    }),
    ("held on the other side", |a| {
        done(cut_where(a, |_| true), |s| s["held_side"] = other(&s["held_side"]))
    }),
    ("a part not freed", |a| {
        done(cut_where(a, |s| s["frees"][0].is_object()), |s| s["frees"] = json!([]))
    }),
    ("rolled over for nothing", |a| {
        done(cut_where(a, |s| s["x_near"] != s["x_far"]), |s| {
            s["flipped"] = json!(s["flipped"] != true);
        })
    }),
    ("no caution", |a| {
        let short = |s: &Value| s["cautions"][0].as_str().is_some_and(|c| c.starts_with("Only"));
        done(cut_where(a, short), |s| s["cautions"] = json!([]))
    }),
];

#[test]
fn the_model_sees_what_is_wrong() {
    for (name, damage) in DAMAGES {
        let mut dice = Dice(17);
        let mut seen = 0;
        while seen < 8 {
            let mut request = random(&mut dice);
            request.as_object_mut().unwrap().remove("price");
            let mut answer = run_over(&request, &laid(&request, &mut dice));
            if !damage(&mut answer) {
                continue;
            }
            let found = std::panic::catch_unwind(|| check(&request, &answer)).is_err();
            assert!(found, "not seen: {name}\n{request}\n{answer}");
            seen += 1;
        }
    }
}
