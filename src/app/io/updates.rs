//! The service worker's news: a new version waiting. `boot.js` sends it as an event and leaves a mark on the root element for listeners that come late.

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use wasm_bindgen::JsCast;
use web_sys::{CustomEvent, HtmlElement};

/// Calls back when a new version waits, or at once if one waits already.
pub fn listen(heard: impl Fn() + 'static) -> Option<EventListener> {
    let window = web_sys::window()?;
    let root: HtmlElement = window.document()?.document_element()?.dyn_into().ok()?;
    if root.dataset().get("updateReady").is_some() {
        heard();
    }
    Some(EventListener::new(&window, "offsquare:update-ready", move |_| heard()))
}

/// Time for the step of a keypad that the tap has lowered to be taken back, in ms: on its way it would end the loading.
const SETTLES: u32 = 300;

/// Asks the waiting version to take over; the page then loads afresh.
pub fn apply() {
    Timeout::new(SETTLES, || tell("offsquare:apply-update")).forget();
}

/// Asks whether there is a new version on the server.
pub fn look() {
    tell("offsquare:look-for-update");
}

fn tell(event: &str) {
    if let (Some(window), Ok(event)) = (web_sys::window(), CustomEvent::new(event)) {
        // Nobody cancels this event.
        let _ = window.dispatch_event(&event);
    }
}
