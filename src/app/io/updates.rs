//! The service worker's news: ready offline, new version waiting. `boot.js` sends them as events and
//! leaves a mark on the root element for listeners that come late.

use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use web_sys::{CustomEvent, HtmlElement};

/// What the service worker has told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum News {
    OfflineReady,
    UpdateReady,
}

impl News {
    fn event(self) -> &'static str {
        match self {
            News::OfflineReady => "offsquare:offline-ready",
            News::UpdateReady => "offsquare:update-ready",
        }
    }
    fn mark(self) -> &'static str {
        match self {
            News::OfflineReady => "offlineReady",
            News::UpdateReady => "updateReady",
        }
    }
}

/// Calls back when the news comes, or at once if it has come already.
pub fn listen(news: News, heard: impl Fn() + 'static) -> Option<EventListener> {
    let window = web_sys::window()?;
    let root: HtmlElement = window.document()?.document_element()?.dyn_into().ok()?;
    if root.dataset().get(news.mark()).is_some() {
        heard();
    }
    Some(EventListener::new(&window, news.event(), move |_| heard()))
}

/// Asks the waiting version to take over; the page then loads afresh.
pub fn apply() {
    if let (Some(window), Ok(event)) = (
        web_sys::window(),
        CustomEvent::new("offsquare:apply-update"),
    ) {
        // Nobody cancels this event.
        let _ = window.dispatch_event(&event);
    }
}
