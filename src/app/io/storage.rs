//! What is kept on the device, beside its database (`shelf`).
//!
//! `offsquare.small` drafts, recent answers, sums and shop, for the first answer (written 0.1 s after a change, and at once on
//! `pagehide`, `visibilitychange` and `blur`), `offsquare.journal.…` what a page has changed and the database does not hold yet
//! (`io/keeping.rs`), `offsquare.kept` how far the database has come, so that other tabs look, `offsquare.bench` the document of
//! an Offsquare that had no database, taken in at the next start (`io/shelving.rs`), `offsquare.solving` the layout being solved
//! at start (found at the next start, that layout's draft is set aside), `offsquare.visits` answered visits (no update or
//! install prompt before the second; the update is offered on the bench and in Shop, over a layout only while a part of the app
//! cannot be fetched; from the second on, and once there is a piece, the browser is asked to keep what is stored),
//! `offsquare.offline` that *Works offline now* was said.

use gloo::events::EventListener;
use wasm_bindgen::JsCast;

/// A place that keeps texts by name.
pub trait Storage {
    fn read(&self, key: &str) -> Option<String>;
    /// A plain sentence where it could not be kept.
    fn write(&self, key: &str, text: &str) -> Result<(), &'static str>;
    fn remove(&self, key: &str);
}

pub const NOT_KEPT: &str =
    "This device\u{2019}s storage is full or closed: what you type is not kept. Save a file.";

/// What the first answer needs.
pub const SMALL: &str = "offsquare.small";
/// The last number of the database's log.
pub const KEPT: &str = "offsquare.kept";
/// The whole document, as it was kept before there was a database.
pub const BENCH: &str = "offsquare.bench";
/// Set while a layout is being solved: found at start, it tells that the last run died of it.
pub const SOLVING: &str = "offsquare.solving";

/// The layout of that id is solved from here on, until [`SOLVING`] is removed.
pub fn solves(id: &str) {
    // It stays behind only if solving ends the run; a full storage loses this guard, nothing else.
    let _ = Device.write(SOLVING, id);
}

/// The browser's own storage.
pub struct Device;

/// None where the browser closes it (blocked site data): the app then works without keeping.
fn local() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

impl Storage for Device {
    fn read(&self, key: &str) -> Option<String> {
        local()?.get_item(key).ok().flatten()
    }
    fn write(&self, key: &str, text: &str) -> Result<(), &'static str> {
        let kept = local().and_then(|s| s.set_item(key, text).ok());
        kept.ok_or(NOT_KEPT)
    }
    fn remove(&self, key: &str) {
        if let Some(s) = local() {
            // What is not there is removed already.
            let _ = s.remove_item(key);
        }
    }
}

/// What could not be read in full, as an earlier Offsquare set it aside.
pub const ASIDE: &str = "offsquare.aside";

/// The names that begin so.
pub fn names(beginning: &str) -> Vec<String> {
    let Some(all) = local() else { return Vec::new() };
    let count = all.length().unwrap_or(0);
    let names = (0..count).filter_map(|i| all.key(i).ok().flatten());
    names.filter(|name| name.starts_with(beginning)).collect()
}

/// Calls back when another tab has written this.
pub fn listen(key: &'static str, heard: impl Fn() + 'static) -> Option<EventListener> {
    let window = web_sys::window()?;
    Some(EventListener::new(&window, "storage", move |event| {
        let event: Option<&web_sys::StorageEvent> = event.dyn_ref();
        if event.and_then(|e| e.key()).as_deref() == Some(key) {
            heard();
        }
    }))
}
