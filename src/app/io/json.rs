//! JSON text by the browser's own reader and writer: the library's, with its number tables, need not be loaded.

use super::pictures::Picture;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use js_sys::{Array, JSON, Reflect};
use offsquare_work::piece::{Offer, Shop};
use offsquare_work::save::share::{self, Packed};
use offsquare_work::save::{self, Bench, Opened};
use serde::Serialize;
use serde_json::{Value, json};
use wasm_bindgen::{JsCast, JsValue};

/// A text as a value; none where it is no JSON, or nothing that may be read.
pub fn parsed(text: &str) -> Option<Value> {
    serde_wasm_bindgen::from_value(JSON::parse(text).ok()?).ok()
}

/// A value as plain objects of the browser.
pub fn to_js(value: &Value) -> Result<JsValue, JsValue> {
    Ok(value.serialize(&serde_wasm_bindgen::Serializer::json_compatible())?)
}

/// The whole document with its pictures, as the bytes of a file.
pub fn save_with(bench: &Bench, pictures: &[(String, Picture)]) -> Vec<u8> {
    let mut file = save(bench).into_bytes();
    if pictures.is_empty() {
        return file;
    }
    // Into the object, after its last member.
    file.pop();
    file.extend(b",\"pictures\":[");
    for (n, (id, picture)) in pictures.iter().enumerate() {
        let head = text(&json!({"id": id, "mime": picture.mime}));
        file.extend(if n > 0 { &b",\n"[..] } else { b"\n" });
        file.extend(head.trim_end_matches('}').as_bytes());
        file.extend(b",\"base64\":\"");
        file.extend(STANDARD.encode(&picture.bytes).into_bytes());
        file.extend(b"\"}");
    }
    file.extend(b"]}");
    file
}

/// Reads a file with its pictures; those that cannot be read are counted in its words.
pub fn open_with(text: &str) -> (Opened, Vec<(String, Picture)>) {
    let whole = JSON::parse(text).ok().filter(JsValue::is_object);
    let key = JsValue::from("pictures");
    let pictures = whole.as_ref().and_then(|w| Reflect::get(w, &key).ok());
    let pictures = pictures.and_then(|p| p.dyn_into::<Array>().ok());
    let (Some(whole), Some(pictures)) = (whole, pictures) else {
        return (open(text), Vec::new());
    };
    // A plain object lets go of any member.
    let _ = Reflect::delete_property(whole.unchecked_ref::<js_sys::Object>(), &key);
    let rest = JSON::stringify(&whole).ok().and_then(|text| text.as_string());
    let mut opened = open(&rest.unwrap_or_default());
    let all: Vec<_> = pictures.iter().filter_map(|p| picture(&p)).collect();
    let lost = pictures.length() as usize - all.len();
    if lost > 0 {
        opened.repaired.push(format!("Pictures of this file that could not be read: {lost}."));
    }
    (opened, all)
}

fn picture(stored: &JsValue) -> Option<(String, Picture)> {
    let text = |name: &str| Reflect::get(stored, &name.into()).ok()?.as_string();
    let mime = text("mime").filter(|mime| mime.starts_with("image/"))?;
    let bytes = STANDARD.decode(text("base64")?).ok()?;
    Some((text("id")?, Picture { mime, bytes }))
}

/// Reads a stored or imported text.
pub fn open(text: &str) -> Opened {
    save::read_by(text, parsed)
}

/// What a start needs first of a stored text.
pub fn beginning(text: &str) -> Bench {
    save::read_beginning(text, parsed)
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
