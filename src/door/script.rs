//! The doors for scripts in a browser: plain objects in, plain objects out, by a wasm of its own that the app does not
//! load. `cargo xtask door` builds it; its default export makes it ready:
//!
//! ```js
//! import init, { solve, plan } from "./door.js";
//! await init();
//! solve([{ id: 1, layout: "brace", unit: "in",
//!          inputs: { opening_width: 30, opening_height: 44, strip_width: 2.5 } }]);
//! ```

use js_sys::JSON;
use serde_json::Value;
use wasm_bindgen::prelude::{JsValue, wasm_bindgen};

/// By way of texts, which say every number exactly; nesting without end is refused before anything is built.
fn through(request: &JsValue, door: fn(&Value) -> Value) -> Result<JsValue, JsValue> {
    let text = JSON::stringify(request)?.as_string().unwrap_or_default();
    let request = serde_json::from_str(&text).map_err(|e| JsValue::from(e.to_string()))?;
    JSON::parse(&door(&request).to_string())
}

/// A request or an array of requests.
#[wasm_bindgen]
pub fn solve(request: JsValue) -> Result<JsValue, JsValue> {
    through(&request, crate::solve_value)
}

/// A job for the planner.
#[wasm_bindgen]
pub fn plan(job: JsValue) -> Result<JsValue, JsValue> {
    through(&job, crate::plan::plan_value)
}

/// The bits of every computed number of a text of requests: tests compare them with a native build's.
#[wasm_bindgen]
pub fn answer_bits(requests: &str) -> Vec<u64> {
    crate::answer_bits(&serde_json::from_str(requests).unwrap_or_default())
}
