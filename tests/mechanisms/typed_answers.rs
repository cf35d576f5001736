//! Answers typed as sizes, over random sizes of every form: put back they change nothing, moved they
//! contradict, and nothing hangs on the order in which sizes come.

use offsquare_cuts::backwards::{Solved, Steps, resolve};
use offsquare_cuts::inputs::Given;
use offsquare_cuts::layouts::{Detail, Form, Layout};
use offsquare_door::{read_given, solve_value};
use offsquare_layout_tests::asking::{ask, at, n};
use offsquare_tests::dice::{Dice, shuffled};
use offsquare_units::{DoorUnit, Quantity};
use serde_json::{Map, Value, json};

/// 10,000 each; one more seed can be asked for (`OFFSQUARE_SEED`).
const ROUNDS: usize = 10_000;

fn dice(seed: u64) -> Dice {
    let more = std::env::var("OFFSQUARE_SEED").ok().and_then(|s| s.parse::<u64>().ok());
    Dice(seed ^ more.unwrap_or(0))
}

/// A request that has a solution and nothing against it.
struct Good {
    layout: &'static dyn Layout,
    form: &'static Form,
    inputs: Map<String, Value>,
    given: Given,
    solved: Vec<Solved>,
}

/// So many of them, over all forms in turn.
fn each_good(seed: u64, rounds: usize, mut check: impl FnMut(&Good, &mut Dice) -> bool) {
    let mut dice = dice(seed);
    let (mut done, mut n) = (0, 0);
    while done < rounds {
        let (layout, form) = Dice::form(n);
        n += 1;
        assert!(n < 40 * rounds, "only {done} of {rounds} in {n}");
        let inputs = dice.sizes(form);
        let mut said = Vec::new();
        let given = read_given(layout, Some(form.id), &inputs, DoorUnit::In, &mut said);
        let Some(given) = given.filter(|_| said.is_empty()) else { continue };
        let found = resolve(layout, &given, Detail::Answers, &Steps::default());
        if found.solved.is_empty() || !found.problems.is_empty() {
            continue;
        }
        let good = Good { layout, form, inputs, given, solved: found.solved };
        done += usize::from(check(&good, &mut dice));
    }
}

/// An answer that may be typed beside the sizes: its path, its value, and whether it is an angle.
fn typed(good: &Good, solved: &Solved, dice: &mut Dice) -> Option<(String, f64, bool)> {
    let mut all = Vec::new();
    solved.solution.answers.each_quantity(&mut |path, q| match q {
        Quantity::Length(l) => all.push((path.to_owned(), l.0, false)),
        Quantity::Angle(a) => all.push((path.to_owned(), a.0, true)),
        _ => {}
    });
    all.retain(|(path, _, _)| !good.inputs.contains_key(path));
    (!all.is_empty()).then(|| all.swap_remove(dice.below(all.len())))
}

fn request(good: &Good, inputs: &Map<String, Value>) -> Value {
    json!({"layout": good.layout.id(), "form": good.form.id, "unit": "in", "inputs": inputs})
}

/// The same but for the last figures of a number.
fn alike(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Object(x), Value::Object(y)) => {
            x.len() == y.len() && x.iter().all(|(k, v)| y.get(k).is_some_and(|w| alike(v, w)))
        }
        (Value::Array(x), Value::Array(y)) => {
            x.len() == y.len() && x.iter().zip(y).all(|(v, w)| alike(v, w))
        }
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().unwrap_or(0.0), y.as_f64().unwrap_or(0.0));
            (x - y).abs() <= 1e-9 * x.abs().max(1.0)
        }
        _ => a == b,
    }
}

#[test]
fn answers_put_back_change_nothing_and_warn_of_nothing() {
    each_good(161, ROUNDS, |good, dice| {
        let nth = dice.below(good.solved.len());
        let solved = &good.solved[nth];
        let Some((path, value, _)) = typed(good, solved, dice) else { return false };
        let mut inputs = good.inputs.clone();
        inputs.insert(path.clone(), json!(value));
        let request = request(good, &inputs);
        let reply = solve_value(&request);
        let before = solve_value(&self::request(good, &good.inputs));
        assert_eq!(reply["problems"], before["problems"], "{path} of {request}");
        let before = &before["solutions"][nth];
        let there = reply["solutions"].as_array().into_iter().flatten();
        let same = there.filter(|s| alike(s, before)).count();
        assert_eq!(same, 1, "{path} of {request}: {reply}");
        true
    });
}

#[test]
fn answers_that_are_moved_are_contradicted() {
    each_good(162, ROUNDS, |good, dice| {
        let nth = dice.below(good.solved.len());
        let solved = &good.solved[nth];
        let Some((path, value, angle)) = typed(good, solved, dice) else { return false };
        // A field of the form that is left open is a size of its own and may be anything.
        if good.form.fields.iter().any(|f| f.key == path) {
            return false;
        }
        let step = if angle { 0.1 } else { 1.0 / 16.0 };
        let moved = value + if dice.one_in(2) { step } else { -step };
        // Another way may come to just that.
        let met = |s: &Solved| {
            let is = s.solution.answers.quantity(&path).map(|q| q.number());
            is.is_some_and(|is| (is - moved).abs() < 1e-6)
        };
        if good.solved.iter().any(met) {
            return false;
        }
        let mut inputs = good.inputs.clone();
        inputs.insert(path.clone(), json!(moved));
        let reply = solve_value(&request(good, &inputs));
        let told = reply["problems"].as_array().into_iter().flatten().any(|p| {
            let by = p["by"].as_f64();
            by.map_or(p["level"] == "stop", |by| by > 0.0)
        });
        assert!(told, "{path} {moved} of {}: {reply}", request(good, &inputs));
        true
    });
}

/// Sizes that agree, sizes that do not, and one in forty with a size missing for which answers stand in.
#[test]
fn any_order_of_keys_gives_the_same_bytes() {
    let mut missing = 0;
    each_good(163, ROUNDS, |good, dice| {
        let solved = &good.solved[0];
        let mut inputs = good.inputs.clone();
        for _ in 0..1 + dice.below(2) {
            if let Some((path, value, _)) = typed(good, solved, dice) {
                let off = if dice.one_in(2) { 0.0 } else { 0.25 };
                inputs.insert(path, json!(value + off));
            }
        }
        if dice.one_in(40) {
            let scalar: Vec<&str> = good
                .form
                .gives
                .iter()
                .copied()
                .filter(|k| good.given.inputs.get(k).is_some_and(|v| v.scalar().is_some()))
                .collect();
            if !scalar.is_empty() {
                inputs.remove(scalar[dice.below(scalar.len())]);
                missing += 1;
            }
        }
        let mut told = request(good, &inputs);
        let one = solve_value(&told).to_string();
        told["inputs"] = Value::Object(shuffled(&inputs, dice));
        assert_eq!(one, solve_value(&told).to_string(), "{told}");
        true
    });
    assert!(missing > ROUNDS / 80, "{missing}");
}

/// Base 10, top 14, height 8: insets −2 and −2. The right reading atan(2/8) is also that of a board
/// whose right side leans in by 2 and whose left side leans out by 6.
#[test]
fn a_reading_without_a_sign_keeps_the_symmetric_board_first() {
    let plain = json!({"base_width": 10, "top_width": 14, "height": 8});
    let board = offsquare_layout_tests::asking::answers("end_board", &plain);
    for key in ["right_reading_deg", "right_slope_length", "left_reading_deg", "left_slope_length"]
    {
        let mut inputs = plain.clone();
        inputs[key] = board[key].clone();
        let reply = ask("end_board", &inputs);
        assert_eq!(reply["problems"], json!([]), "{key}: {reply}");
        let insets = |i: usize| {
            let a = &reply["solutions"][i]["answers"];
            (n(a, "left_inset").round(), n(a, "right_inset").round())
        };
        let other = if key.starts_with("right") { (-6.0, 2.0) } else { (2.0, -6.0) };
        assert_eq!((insets(0), insets(1)), ((-2.0, -2.0), other), "{key}");
        assert_eq!(reply["solutions"].as_array().map(Vec::len), Some(2), "{key}");
    }
    // The second one says what it is beside.
    let layout = offsquare_cuts::layouts::find("end_board").expect("end boards");
    let mut inputs = plain.clone();
    inputs["right_reading_deg"] = board["right_reading_deg"].clone();
    let map = inputs.as_object().expect("inputs");
    let given = read_given(layout, None, map, DoorUnit::In, &mut Vec::new()).expect("sizes");
    let found = resolve(layout, &given, Detail::Full, &Steps::default());
    let notes = |i: usize| -> Vec<String> {
        let all = &found.solved[i].solution.notes;
        all.iter().map(|t| t.render(&Default::default())).collect()
    };
    let said = "The same sizes fit another piece, too: left inset is -6 in here, -2 in there.";
    assert!(notes(1).iter().any(|t| t == said), "{:?}", notes(1));
    assert!(!notes(0).iter().any(|t| t.contains("another piece")), "{:?}", notes(0));
}

/// Base 3, top 2 1/2, left inset 1/2: the right side stands upright, which reads 90° off level.
#[test]
fn an_upright_side_s_reading_is_taken_back() {
    let mut inputs = json!({"base_width": 3, "top_width": 2.5, "height": 30, "shoulder_height": 1,
        "left_inset": 0.5});
    let board = offsquare_layout_tests::asking::answers("end_board", &inputs);
    let key = "right_edge_from_upright_reading_deg";
    assert_eq!(at(&board, key), &json!(90.0));
    inputs[key] = json!(90);
    assert_eq!(offsquare_layout_tests::asking::answers("end_board", &inputs), board);
    // A side that lies level is none.
    inputs.as_object_mut().expect("inputs").remove("left_inset");
    inputs["left_reading_deg"] = json!(90);
    offsquare_layout_tests::asking::stop("end_board", &inputs, "left_reading_deg");
}

/// What is missing is said to be missing, and nothing else is blamed.
#[test]
fn too_few_sizes_name_what_is_missing() {
    let cases = [
        (
            "end_board",
            json!({"base_width": 12, "left_inset": 3, "left_tape_mark": 3}),
            vec!["/inputs/top_width", "/inputs/height"],
        ),
        // The tape mark is half of what base and top differ by, whatever the height.
        (
            "end_board",
            json!({"base_width": 12, "top_width": 6, "left_tape_mark": 3}),
            vec!["/inputs/height"],
        ),
        // Leg, lean and both edges tell only how far out the foot lands, not from what post.
        (
            "post_legs",
            json!({"leg_depth": 1.5, "splay_deg": 45, "long_point_length": 10, "inner_edge_length": 7}),
            vec!["/inputs/post_width", "/inputs/footprint"],
        ),
    ];
    for (layout, inputs, missing) in cases {
        let reply = ask(layout, &inputs);
        assert_eq!(reply["solutions"], json!([]), "{reply}");
        let problems = reply["problems"].as_array().expect("a list");
        let paths: Vec<&str> = problems.iter().filter_map(|p| p["path"].as_str()).collect();
        assert_eq!(paths, missing, "{reply}");
        for p in problems {
            let text = p["text"].as_str().expect("words");
            assert!(p["level"] == "stop" && text.contains("missing"), "{p}");
        }
    }
}

/// Rise and leg length both given for a taper whose length is missing: the same one gives, however
/// they come. Without the other each is kept.
#[test]
fn which_size_gives_does_not_hang_on_the_order() {
    let base = json!({"post_width": 3.5, "footprint": 17.5, "big_end_depth": 2.5, "small_end_depth": 1.25});
    let both = [("rise_to_joint_top", 18.5), ("long_point_length", 50.537)];
    let reply = |order: &[(&str, f64)]| {
        let mut inputs = base.clone();
        for (key, value) in order {
            inputs[*key] = json!(value);
        }
        ask("post_legs", &inputs)
    };
    let one = reply(&both);
    assert_eq!(one, reply(&[both[1], both[0]]));
    // The answers themselves, and one contradiction beside them: the length is believed.
    assert!((n(&one["solutions"][0]["answers"], "long_point_length") - 50.537).abs() < 1e-9);
    let by: Vec<&Value> = one["problems"].as_array().into_iter().flatten().collect();
    assert_eq!((by.len(), &by[0]["path"]), (1, &json!("/inputs/rise_to_joint_top")), "{one}");
}
