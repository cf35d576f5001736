//! The planner as a wasm of its own: without the screens, fetched after the first answer, built for speed. `worker.js`
//! runs it, in a worker or, where no worker starts, on the page.
//!
//! Requests and messages are plain objects (`offsquare_planner::message`).

use offsquare_planner::Request;
use offsquare_planner::message::Ask;
use offsquare_units::kept::{Kept, Value};
use serde::Serialize;
use serde_wasm_bindgen::{Serializer, from_value};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

thread_local! {
    static REQUEST: RefCell<Option<Request>> = const { RefCell::new(None) };
}

/// Takes a request in place of the one before; null takes none. False, and nothing is worked on, where it cannot be
/// read: it comes from another version of the page.
#[wasm_bindgen]
pub fn ask(request: JsValue) -> bool {
    let stops = request.is_null();
    let read = || Ask::restore(&from_value::<Value>(request).ok()?);
    let asked = if stops { None } else { read() };
    let good = stops || asked.is_some();
    REQUEST.set(asked.map(Request::new));
    good
}

/// Goes on for about so many of the planner's steps. The messages to send; undefined once all is done.
#[wasm_bindgen]
pub fn step(steps: f64) -> Option<Vec<JsValue>> {
    REQUEST.with_borrow_mut(|request| {
        let request = request.as_mut().filter(|r| !r.is_done())?;
        let said = request.step(steps as i64);
        // Plain numbers, texts and lists can always be written.
        let plain = Serializer::json_compatible();
        Some(said.iter().filter_map(|m| m.keep().serialize(&plain).ok()).collect())
    })
}
