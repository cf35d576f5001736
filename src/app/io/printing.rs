//! Paper cannot be tapped: what is folded on the screen stands unfolded in print.

use super::browser::on_window;
use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// Marks what was unfolded for the printer.
const UNFOLDED: &str = "data-unfolded";

fn each(selector: &str, change: impl Fn(&Element)) {
    let found = web_sys::window().and_then(|w| w.document()?.query_selector_all(selector).ok());
    let Some(found) = found else {
        return;
    };
    for i in 0..found.length() {
        if let Some(e) = found.item(i).and_then(|n| n.dyn_into::<Element>().ok()) {
            change(&e);
        }
    }
}

/// From now on everything is unfolded while the page is printed, and folded again after it.
pub fn unfolded() {
    let before = on_window("beforeprint", || {
        each("details:not([open])", |e| {
            // Names of attributes that are always valid.
            let _ = e.set_attribute("open", "");
            let _ = e.set_attribute(UNFOLDED, "");
        });
    });
    let after = on_window("afterprint", || {
        each(&format!("[{UNFOLDED}]"), |e| {
            // As above.
            let _ = e.remove_attribute("open");
            let _ = e.remove_attribute(UNFOLDED);
        });
    });
    [before, after].into_iter().flatten().for_each(EventListener::forget);
}
