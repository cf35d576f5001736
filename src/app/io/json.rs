//! JSON text by the browser's own reader and writer: the library's, with its number tables, need not be loaded.

use js_sys::JSON;
use offsquare_work::piece::{Offer, Shop};
use offsquare_work::save::share::{self, Packed};
use offsquare_work::save::{self, Bench, Opened};
use serde::Serialize;
use serde_json::Value;
use wasm_bindgen::JsValue;

fn parsed(text: &str) -> Option<Value> {
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

fn text(value: &Value) -> String {
    // Plain objects, texts and numbers can always be written.
    let text = to_js(value).and_then(|value| JSON::stringify(&value));
    text.ok().and_then(|text| text.as_string()).unwrap_or_default()
}

/// The text to store.
pub fn save(bench: &Bench) -> String {
    text(&save::to_value(bench))
}

/// Reads a link or a file that may hold a piece.
pub fn offer(text: &str, shop: &Shop) -> Result<Offer, String> {
    share::read_by(text, shop, parsed)
}

/// A piece as links and square codes have it.
pub fn packed(bench: &Bench, piece: u32) -> Option<Packed> {
    share::pack_by(&bench.work, piece, &bench.shop, text)
}

/// The text of a file that holds a piece.
pub fn piece_file(bench: &Bench, piece: u32) -> Option<String> {
    share::to_file(&bench.work, piece, &bench.shop).map(|value| text(&value))
}
