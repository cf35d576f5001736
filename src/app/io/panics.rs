//! A panic cannot be caught here: say so plainly, and leave a way out with everything kept.

use super::storage::{BENCH, Device, Storage};
use js_sys::Reflect;
use js_sys::WebAssembly::RuntimeError;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};

/// From now on a panic shows a banner with *Reload* and *Save a file*. In the built app a panic is a trap, which the page
/// is told of as an error that nobody caught.
pub fn show_plainly() {
    let Some(window) = web_sys::window() else {
        return;
    };
    let told = Closure::<dyn Fn(JsValue)>::new(|event: JsValue| {
        let is_trap = |key: &str| {
            Reflect::get(&event, &key.into()).is_ok_and(|error| error.has_type::<RuntimeError>())
        };
        if is_trap("error") || is_trap("reason") {
            // Whatever fails in here, there is nobody left to tell.
            let _ = banner();
        }
    });
    for kind in ["error", "unhandledrejection"] {
        let _ = window.add_event_listener_with_callback(kind, told.as_ref().unchecked_ref());
    }
    told.forget();
}

fn banner() -> Option<()> {
    let document = web_sys::window()?.document()?;
    let body = document.body()?;
    if document.get_element_by_id("broken").is_some() {
        return None;
    }
    let banner = document.create_element("div").ok()?;
    banner.set_class_name("notice");
    banner.set_id("broken");
    banner.set_attribute("role", "alert").ok()?;
    let words = document.create_element("p").ok()?;
    words.set_text_content(Some(
        "Something went wrong in Offsquare itself. What you typed is kept on this device.",
    ));
    banner.append_child(&words).ok()?;
    let button = |label: &str, act: fn()| -> Option<()> {
        let b = document.create_element("button").ok()?;
        b.set_class_name("key");
        b.set_text_content(Some(label));
        let tapped = Closure::<dyn Fn()>::new(act);
        b.add_event_listener_with_callback("click", tapped.as_ref().unchecked_ref()).ok()?;
        tapped.forget();
        banner.append_child(&b).ok()?;
        Some(())
    };
    button("Reload", super::browser::reload)?;
    button("Save a file", || {
        let text = Device.read(BENCH).unwrap_or_default();
        super::files::hand_over(&super::files::Parcel {
            name: "offsquare.json".into(),
            mime: "application/json",
            bytes: text.into_bytes(),
        });
    })?;
    body.insert_before(&banner, body.first_child().as_ref()).ok()?;
    Some(())
}
