//! A text read aloud, where the browser can.

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance};

fn voice() -> Option<SpeechSynthesis> {
    let window = web_sys::window()?;
    // Asked for by name: where there is none, the browser's own way in would throw.
    let known = js_sys::Reflect::get(&window, &"speechSynthesis".into()).ok()?;
    known.is_object().then(|| window.speech_synthesis().ok()).flatten()
}

/// Reads it aloud in place of whatever is read; `failed` hears where the browser does not. False where there is no voice.
pub fn speak(text: &str, failed: impl FnOnce() + 'static) -> bool {
    let (Some(voice), Ok(said)) = (voice(), SpeechSynthesisUtterance::new_with_text(text)) else {
        return false;
    };
    said.set_lang("en-US");
    let failed = Closure::once_into_js(move |event: JsValue| {
        let why = js_sys::Reflect::get(&event, &"error".into()).ok().and_then(|e| e.as_string());
        // The next text took its place.
        if !matches!(why.as_deref(), Some("canceled" | "interrupted")) {
            failed();
        }
    });
    said.set_onerror(Some(failed.unchecked_ref()));
    voice.cancel();
    voice.speak(&said);
    true
}

/// What is read stops.
pub fn hush() {
    if let Some(voice) = voice() {
        voice.cancel();
    }
}
