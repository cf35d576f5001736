//! Requests and what is read out of their replies.

use serde_json::{Value, json};

pub fn ask_in(unit: &str, inputs: &Value) -> Value {
    offsquare_door::solve_value(
        &json!({"id": 1, "layout": "brace", "unit": unit, "inputs": inputs}),
    )
}

pub fn ask(inputs: &Value) -> Value {
    ask_in("in", inputs)
}

/// The answers of a way, if it is possible.
pub fn way(reply: &Value, way: &str) -> Option<Value> {
    let all = reply["solutions"].as_array().expect("solutions");
    let found: Vec<&Value> = all.iter().filter(|s| s["way"] == way).collect();
    assert!(found.len() < 2, "{way} twice: {reply}");
    found.first().map(|s| s["answers"].clone())
}

/// The answers of the only solution, with nothing to say against it.
#[track_caller]
pub fn only(inputs: &Value) -> Value {
    let reply = ask(inputs);
    let all = reply["solutions"].as_array().expect("solutions");
    assert_eq!(all.len(), 1, "{inputs} -> {reply}");
    assert_eq!(reply["problems"], json!([]), "{inputs}");
    all[0]["answers"].clone()
}

/// A number at a dotted path.
#[track_caller]
pub fn number(answers: &Value, path: &str) -> f64 {
    let at = path.split('.').fold(answers, |v, key| match key.parse::<usize>() {
        Ok(i) => &v[i],
        Err(_) => &v[key],
    });
    at.as_f64().unwrap_or_else(|| panic!("{path} is not a number in {answers}"))
}

#[track_caller]
pub fn close(is: f64, should: f64, slack: f64, what: &str) {
    assert!((is - should).abs() <= slack, "{what}: is {is}, should be {should}");
}

/// No number of a reply is anything but finite (JSON has no other; a missing one is null).
pub fn finite(v: &Value) -> bool {
    match v {
        Value::Number(n) => n.as_f64().is_some_and(f64::is_finite),
        Value::Array(a) => a.iter().all(finite),
        Value::Object(o) => o.iter().all(|(k, v)| finite(v) && !(v.is_null() && is_size(k))),
        _ => true,
    }
}

fn is_size(key: &str) -> bool {
    key.ends_with("_deg") || key.ends_with("_length") || key.ends_with("area")
}

/// Evenly scattered numbers in [0, 1), the same in every run (Knuth's multiplier, TAOCP 2, 3.3.4, from memory).
pub struct Scatter(pub u64);

impl Scatter {
    pub fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.share()
    }
}
