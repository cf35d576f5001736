//! What the tests share: requests to the JSON door; with feature `browser`, a real browser and a
//! server that can be stopped.

pub mod asking;
#[cfg(feature = "browser")]
#[path = "browser/driver.rs"]
pub mod driver;
#[cfg(feature = "browser")]
#[path = "browser/site.rs"]
pub mod site;

use offsquare_core::{boards, door, json};
use serde_json::Value;

/// The JSON door as a program meets it, text in and text out; a general-purpose library writes and reads the texts.
pub fn solve_value(requests: &Value) -> Value {
    let requests = json::read(&requests.to_string()).expect("what serde_json wrote is JSON");
    serde_json::from_str(&door::solve_value(&requests).to_string()).expect("a reply is JSON")
}

/// The planner's JSON door, in the same way.
pub fn plan_value(instance: &Value) -> Value {
    let plan = boards::plan_text(&instance.to_string()).to_string();
    serde_json::from_str(&plan).expect("a plan is JSON")
}
