//! Offsquare's screens: nothing here computes. The core answers; these show, and send edits back.

mod app;
mod io;
mod screens;
mod state;
mod widgets;

use wasm_bindgen::prelude::*;

/// Starts the app on the page. Called by `boot.js` once the module is ready.
#[wasm_bindgen]
pub fn app_main() {
    io::taps::once_where_all_changed();
    io::printing::unfolded();
    yew::Renderer::<app::App>::new().render();
}

/// Starts the planner in a worker. Called by `worker.js` once the module is ready.
#[wasm_bindgen]
pub fn worker_main() {
    io::planning::serve();
}

/// The JSON door for scripts: a request or an array of requests in, the same out, as plain objects.
///
/// ```js
/// solve([{ id: 1, layout: "brace", unit: "in",
///          inputs: { opening_width: 30, opening_height: 44, strip_width: 2.5 } }])
/// ```
#[wasm_bindgen]
pub fn solve(request: JsValue) -> Result<JsValue, JsValue> {
    // By way of its text, so that nesting without end is refused before anything is built.
    let text = js_sys::JSON::stringify(&request)?.as_string().unwrap_or_default();
    offsquare_work::save::fits(&text)?;
    let request = io::json::read(&text).unwrap_or_default();
    io::json::to_js(&offsquare_door::solve_value(&request))
}

/// The bits of every computed number of a text of requests: tests compare them with a native build's.
#[wasm_bindgen]
pub fn answer_bits(requests: &str) -> Vec<u64> {
    offsquare_door::answer_bits(&io::json::read(requests).unwrap_or_default())
}
