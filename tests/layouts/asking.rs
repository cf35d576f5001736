//! Requests to the JSON door, and what is read out of their replies.

use offsquare_cuts::inputs::Given;
use offsquare_cuts::layouts::find;
use offsquare_door::read_given;
use offsquare_units::DoorUnit;
use serde_json::{Map, Value, json};

/// The JSON door.
pub fn solve(request: &Value) -> Value {
    offsquare_door::solve_value(request)
}

/// What a request's inputs are read as, in inches.
#[track_caller]
pub fn given(layout: &str, form: Option<&str>, inputs: &Value) -> Given {
    let layout = find(layout).expect("the layout");
    let (mut problems, map) = (Vec::new(), inputs.as_object().expect("inputs"));
    let given = read_given(layout, form, map, DoorUnit::In, &mut problems);
    assert!(problems.is_empty(), "{problems:?}");
    given.expect("readable")
}

pub fn ask_in(unit: &str, layout: &str, inputs: &Value) -> Value {
    solve(&json!({"id": 1, "layout": layout, "unit": unit, "inputs": inputs}))
}

pub fn ask(layout: &str, inputs: &Value) -> Value {
    ask_in("in", layout, inputs)
}

/// A request with more in it than inputs: `work_back`, `off`, `saw`.
pub fn ask_for(layout: &str, inputs: &Value, more: &Value) -> Value {
    let mut request = json!({"id": 1, "layout": layout, "unit": "in", "inputs": inputs});
    for (key, value) in more.as_object().into_iter().flatten() {
        request[key] = value.clone();
    }
    solve(&request)
}

/// The answers of the first solution, with nothing to say against it.
#[track_caller]
pub fn answers(layout: &str, inputs: &Value) -> Value {
    let reply = ask(layout, inputs);
    assert_eq!(reply["problems"], json!([]), "{layout} {inputs}");
    let first = &reply["solutions"][0]["answers"];
    assert!(first.is_object(), "{layout} {inputs} -> {reply}");
    first.clone()
}

/// What stands at a dotted path.
pub fn at<'a>(v: &'a Value, path: &str) -> &'a Value {
    path.split('.').fold(v, |v, key| match key.parse::<usize>() {
        Ok(i) if v.is_array() => &v[i],
        _ => &v[key],
    })
}

/// The number at a dotted path.
#[track_caller]
pub fn n(answers: &Value, path: &str) -> f64 {
    at(answers, path).as_f64().unwrap_or_else(|| panic!("{path} is not a number in {answers}"))
}

#[track_caller]
pub fn close(is: f64, should: f64, slack: f64, what: &str) {
    assert!((is - should).abs() <= slack, "{what}: is {is}, should be {should}");
}

/// No solution, for one reason told beside that field.
#[track_caller]
pub fn stop(layout: &str, inputs: &Value, field: &str) -> Value {
    let reply = ask(layout, inputs);
    assert_eq!(reply["solutions"], json!([]), "{layout} {inputs} -> {reply}");
    problem(&reply, field, "stop")
}

/// A solution all the same, with a warning beside that field.
#[track_caller]
pub fn warn(layout: &str, inputs: &Value, field: &str) -> Value {
    let reply = ask(layout, inputs);
    assert!(reply["solutions"][0]["answers"].is_object(), "{layout} {inputs} -> {reply}");
    problem(&reply, field, "warn")
}

#[track_caller]
fn problem(reply: &Value, field: &str, level: &str) -> Value {
    let path = format!("/inputs/{field}");
    let found = reply["problems"]
        .as_array()
        .into_iter()
        .flatten()
        .find(|p| p["path"] == path.as_str())
        .unwrap_or_else(|| panic!("nothing said at {path}: {reply}"));
    assert_eq!(found["level"], level, "{found}");
    let text = found["text"].as_str().expect("a sentence");
    assert!(text.ends_with('.') && text.len() > 15, "{text}");
    found.clone()
}

/// Whether every number in a reply is finite (JSON has no other) and none is missing.
pub fn finite(v: &Value) -> bool {
    match v {
        Value::Number(n) => n.as_f64().is_some_and(f64::is_finite),
        Value::Array(all) => all.iter().all(finite),
        Value::Object(all) => all.iter().all(|(k, v)| {
            finite(v) && !(v.is_null() && (k.ends_with("_deg") || k.ends_with("_length")))
        }),
        _ => true,
    }
}

/// Neither an angle nor a count: what is multiplied when a piece is made larger.
fn is_length(key: &str) -> bool {
    let kept = ["sides", "cords", "load_kg", "links_n", "pull_per_cord_N"];
    !key.ends_with("_deg") && !kept.contains(&key)
}

fn larger(v: &Value, k: f64) -> Value {
    match v {
        Value::Number(n) => json!(n.as_f64().unwrap_or(0.0) * k),
        Value::Array(all) => all.iter().map(|v| larger(v, k)).collect(),
        other => other.clone(),
    }
}

/// The same inputs, every length `k` times as large.
pub fn scaled(inputs: &Value, k: f64) -> Value {
    let map: Map<String, Value> = inputs
        .as_object()
        .into_iter()
        .flatten()
        .map(|(key, v)| {
            let k = if is_length(key) { k } else { 1.0 };
            (key.clone(), larger(v, k))
        })
        .collect();
    Value::Object(map)
}

#[track_caller]
fn same(a: &Value, b: &Value, key: &str, k: f64, size: f64) {
    match (a, b) {
        (Value::Object(x), Value::Object(y)) => {
            assert_eq!(x.len(), y.len(), "{key}");
            for (key, v) in x {
                same(v, &b[key], key, k, size);
            }
        }
        (Value::Array(x), Value::Array(y)) => {
            assert_eq!(x.len(), y.len(), "{key}");
            for (v, w) in x.iter().zip(y) {
                same(v, w, key, k, size);
            }
        }
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().expect("a number"), y.as_f64().expect("a number"));
            let (k, slack) = match key {
                _ if !is_length(key) => (1.0, 1e-9 * y.abs().max(1.0)),
                _ if key.ends_with("area") => (k * k, 1e-9 * size * size * k * k),
                _ => (k, 1e-9 * size * k),
            };
            close(y, x * k, slack, key);
        }
        _ => assert_eq!(a, b, "{key}"),
    }
}

/// Solved in inches, in millimeters and a thousand times larger and smaller: the same piece each time.
#[track_caller]
pub fn keeps_its_shape(layout: &str, inputs: &Value) {
    let size = inputs
        .as_object()
        .into_iter()
        .flatten()
        .filter(|(k, _)| is_length(k))
        .flat_map(|(_, v)| numbers(v))
        .fold(1e-300, f64::max);
    let once = ask(layout, inputs);
    let stops = |reply: &Value| reply["solutions"] == json!([]);
    assert!(!stops(&once), "{layout} {inputs} -> {once}");
    for (unit, k) in [("mm", 25.4), ("in", 1000.0), ("in", 1e-3), ("in", 7.3)] {
        let again = ask_in(unit, layout, &scaled(inputs, k));
        assert!(!stops(&again), "{layout} {inputs} times {k} -> {again}");
        same(&once["solutions"], &again["solutions"], "", k, size);
    }
}

fn numbers(v: &Value) -> Vec<f64> {
    match v {
        Value::Number(n) => n.as_f64().map(f64::abs).into_iter().collect(),
        Value::Array(all) => all.iter().flat_map(numbers).collect(),
        _ => Vec::new(),
    }
}

/// Each input in turn is made nonsense: every time there is an answer in finite numbers or a sentence.
#[track_caller]
pub fn survives(layout: &str, inputs: &Value) {
    let odd = [
        json!(0),
        json!(-1),
        json!(1e-300),
        json!(1e-9),
        json!(1e9),
        json!(1e308),
        json!("x"),
        json!(""),
        json!(null),
        json!(true),
        json!([]),
        json!([[0, 0]]),
        json!({"a": 1}),
        json!(90),
        json!(180),
        json!(-89.999_999_999),
        json!(89),
    ];
    for key in inputs.as_object().expect("inputs").keys() {
        for value in &odd {
            let mut i = inputs.clone();
            i[key] = value.clone();
            let reply = ask_for(layout, &i, &json!({"saw": {}, "off": true}));
            assert!(finite(&reply["solutions"]), "{layout} {i} -> {reply}");
            let silent = reply["solutions"] == json!([]) && reply["problems"] == json!([]);
            assert!(!silent, "{layout} {i}");
            for p in reply["problems"].as_array().into_iter().flatten() {
                let text = p["text"].as_str().expect("a sentence");
                assert!(
                    text.ends_with('.') && !text.contains("NaN") && !text.contains("inf "),
                    "{text}"
                );
            }
        }
        let mut i = inputs.clone();
        i.as_object_mut().expect("inputs").remove(key);
        let reply = ask(layout, &i);
        let silent = reply["solutions"] == json!([]) && reply["problems"] == json!([]);
        assert!(!silent, "{layout} without {key}");
    }
}

/// Works back: each value of `give` at which `answer` is `target` is put back and must hit it; the one
/// nearest to what was given is returned.
#[track_caller]
pub fn works_back(layout: &str, inputs: &Value, give: &str, answer: &str, target: f64) -> f64 {
    let wish = json!({"work_back": {"give": give, "answer": answer, "target": target}});
    let reply = ask_for(layout, inputs, &wish);
    let was = n(inputs, give);
    let found: Vec<f64> = reply["solutions"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|s| s["inputs"][give].as_f64())
        .collect();
    for value in &found {
        let mut i = inputs.clone();
        i[give] = json!(value);
        let all = ask(layout, &i);
        let hits = |s: &Value| {
            let is = at(&s["answers"], answer).as_f64();
            is.is_some_and(|x| (x - target).abs() <= 1e-9 * target.abs().max(1.0))
        };
        let hit = all["solutions"].as_array().into_iter().flatten().any(hits);
        assert!(hit, "{layout}: {give} = {value} does not give {answer} = {target}: {all}");
    }
    let nearest = found.into_iter().min_by(|a, b| (a - was).abs().total_cmp(&(b - was).abs()));
    nearest.unwrap_or_else(|| panic!("{layout}: no {give} found: {reply}"))
}

/// Every row of *if it's off* says what happens in a sentence: the gap at the joint, or what a size that
/// is free to give comes out at.
#[track_caller]
pub fn off_rows(layout: &str, inputs: &Value) -> usize {
    let reply = ask_for(layout, inputs, &json!({"off": true}));
    let rows = reply["solutions"][0]["off"].as_array().cloned().unwrap_or_default();
    for row in &rows {
        let gives = row["value"].is_number() && row["change"].is_number();
        assert!(gives || row["gap"].as_f64().is_some_and(|g| g > 0.0), "{layout}: {row}");
        assert_eq!(gives, row["give"].is_string(), "{layout}: {row}");
        assert!(row["text"].as_str().is_some_and(|t| t.ends_with('.')), "{row}");
    }
    rows.len()
}

/// A surplus size that is right passes; made 1 % wrong it contradicts, and each input is offered with
/// a value that agrees.
#[track_caller]
pub fn contradicts(layout: &str, inputs: &Value, surplus: &str) {
    let right = n(&answers(layout, inputs), surplus);
    let mut i = inputs.clone();
    i[surplus] = json!(right);
    let reply = ask(layout, &i);
    assert_eq!(reply["problems"], json!([]), "{layout} {i}");
    i[surplus] = json!(right * 1.01);
    let reply = ask(layout, &i);
    let found = reply["problems"]
        .as_array()
        .into_iter()
        .flatten()
        .find(|p| p["by"].is_number())
        .unwrap_or_else(|| panic!("{layout} {i}: no contradiction: {reply}"))
        .clone();
    let agree = found["agree"].as_object().expect("values that agree");
    assert!(agree.len() > 1, "{found}");
    for (key, value) in agree {
        let mut put = i.clone();
        put[key] = value.clone();
        let reply = ask(layout, &put);
        assert_eq!(reply["problems"], json!([]), "{layout} {put}");
    }
}
