//! Asking the door.

use offsquare_door::solve_value;
use serde_json::{Value, json};

/// The reply to one request in inches.
pub fn ask(inputs: Value) -> Value {
    solve_value(&json!({"id": 1, "layout": "post_legs", "unit": "in", "inputs": inputs}))
}

/// Answers of every solution of one request; panics with the reply where there is a stop.
pub fn solutions(inputs: Value) -> Vec<Value> {
    let reply = ask(inputs.clone());
    let stops: Vec<&Value> = problems(&reply).iter().filter(|p| p["level"] == "stop").collect();
    assert!(stops.is_empty(), "{inputs} is stopped by {stops:?}");
    answers(&reply)
}

pub fn answers(reply: &Value) -> Vec<Value> {
    reply["solutions"]
        .as_array()
        .expect("solutions are an array")
        .iter()
        .map(|s| s["answers"].clone())
        .collect()
}

pub fn problems(reply: &Value) -> &Vec<Value> {
    reply["problems"].as_array().expect("problems are an array")
}

pub fn number(answers: &Value, path: &str) -> f64 {
    let mut here = answers;
    for step in path.split('.') {
        here = &here[step];
    }
    here.as_f64().unwrap_or_else(|| panic!("no number at {path} in {answers}"))
}

/// Random numbers that are the same on every run (Marsaglia's xorshift, 64 bits).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    /// Between `low` and `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * ((self.0 >> 11) as f64 / (1u64 << 53) as f64)
    }
    pub fn coin(&mut self) -> bool {
        self.between(0.0, 1.0) < 0.5
    }
}

#[track_caller]
pub fn near(got: f64, want: f64, allowed: f64, what: &str) {
    assert!(
        (got - want).abs() <= allowed,
        "{what}: got {got}, want {want}, off by {:e}",
        got - want
    );
}
