//! Files that leave the device: by the share sheet where there is one, by download elsewhere.

use js_sys::{Array, Function, Promise, Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, FilePropertyBag, HtmlAnchorElement, ShareData, Url};

/// A file to hand over.
#[derive(PartialEq)]
pub struct Parcel {
    pub name: String,
    pub mime: &'static str,
    pub bytes: Vec<u8>,
}

/// Hands a file over: the share sheet on a touch screen that can share files, a download elsewhere.
/// Call it within a tap, with the bytes ready.
pub fn hand_over(parcel: &Parcel) {
    if super::browser::is_touch() && share(parcel).is_some() {
        return;
    }
    // A browser that refuses a download says so itself.
    let _ = download(parcel);
}

/// Hands data to the share sheet; nothing where there is none for it.
fn by_sheet(data: &ShareData) -> Option<()> {
    let navigator = web_sys::window()?.navigator();
    let can: Function = Reflect::get(&navigator, &"canShare".into()).ok()?.dyn_into().ok()?;
    if !can.call1(&navigator, data).ok()?.is_truthy() {
        return None;
    }
    let sharing = navigator.share_with_data(data);
    wasm_bindgen_futures::spawn_local(async move {
        // Closing the sheet rejects the promise: silence is right.
        let _ = JsFuture::from(sharing).await;
    });
    Some(())
}

/// Hands a link to the share sheet of a touch screen; whether there is one.
pub fn send_link(title: &str, link: &str) -> bool {
    let data = ShareData::new();
    data.set_title(title);
    data.set_url(link);
    super::browser::is_touch() && by_sheet(&data).is_some()
}

fn share(parcel: &Parcel) -> Option<()> {
    let bag = FilePropertyBag::new();
    bag.set_type(parcel.mime);
    let bytes = Array::of1(&Uint8Array::from(parcel.bytes.as_slice()));
    let file = File::new_with_u8_array_sequence_and_options(&bytes, &parcel.name, &bag).ok()?;
    let data = ShareData::new();
    data.set_files(&Array::of1(&file));
    by_sheet(&data)
}

fn download(parcel: &Parcel) -> Result<(), JsValue> {
    let bag = BlobPropertyBag::new();
    bag.set_type(parcel.mime);
    let bytes = Array::of1(&Uint8Array::from(parcel.bytes.as_slice()));
    let blob = Blob::new_with_u8_array_sequence_and_options(&bytes, &bag)?;
    let url = Url::create_object_url_with_blob(&blob)?;
    let document = web_sys::window().and_then(|w| w.document()).ok_or(JsValue::NULL)?;
    let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    link.set_href(&url);
    link.set_download(&parcel.name);
    link.click();
    gloo::timers::callback::Timeout::new(30_000, move || {
        // Revoking twice or late does no harm.
        let _ = Url::revoke_object_url(&url);
    })
    .forget();
    Ok(())
}

/// Puts text on the clipboard; `done` hears whether it worked.
pub fn copy(text: &str, done: impl FnOnce(bool) + 'static) {
    let Some(window) = web_sys::window() else {
        return done(false);
    };
    let navigator = window.navigator();
    let clipboard = Reflect::get(&navigator, &"clipboard".into()).unwrap_or(JsValue::UNDEFINED);
    if clipboard.is_undefined() {
        // Not a secure address (a plain http address of the home network): no clipboard.
        return done(false);
    }
    let promise: Promise = navigator.clipboard().write_text(text);
    wasm_bindgen_futures::spawn_local(async move {
        done(JsFuture::from(promise).await.is_ok());
    });
}

/// A file name of plain letters.
pub fn name_of(words: &[&str], ending: &str) -> String {
    let mut out = String::from("offsquare");
    let words = words.iter().flat_map(|w| w.split(|c: char| !c.is_ascii_alphanumeric()));
    for word in words.filter(|w| !w.is_empty()) {
        out.push('-');
        out.push_str(&word.to_ascii_lowercase());
    }
    out + "." + ending
}
