//! JSON text by the browser's own reader and writer: the library's, with its number tables, need not be loaded.

use js_sys::JSON;
use offsquare_work::save::{self, Bench, Opened};
use serde::Serialize;
use serde_json::Value;
use wasm_bindgen::JsValue;

/// A text as a value; none where it is no JSON, or nothing that may be read.
pub fn parsed(text: &str) -> Option<Value> {
    serde_wasm_bindgen::from_value(JSON::parse(text).ok()?).ok()
}

/// A value as plain objects of the browser.
pub fn to_js(value: &Value) -> Result<JsValue, JsValue> {
    Ok(value.serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}

/// Reads a stored or imported text.
pub fn open(text: &str) -> Opened {
    save::read_by(text, parsed)
}

/// A value as text.
pub fn text(value: &Value) -> String {
    // Plain objects, texts and numbers can always be written.
    let text = to_js(value).and_then(|value| JSON::stringify(&value));
    text.ok().and_then(|text| text.as_string()).unwrap_or_default()
}

/// The whole document as the text of a file.
pub fn save(bench: &Bench) -> String {
    text(&save::to_value(bench))
}
