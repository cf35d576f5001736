//! What is kept on the device.
//!
//! `offsquare.bench` the document (written 0.1 s after a change, so that the answer is painted first, and at once on
//! `pagehide`, `visibilitychange` and `blur`: `io/keeping.rs`; two tabs follow each other through the `storage` event), `offsquare.aside` the last text
//! that could not be read in full, `offsquare.solving` the layout being solved when its screen first comes (found at the next start, that
//! layout's draft is set aside), `offsquare.visits` answered visits (no update or install prompt before the second; the
//! update is offered on the bench and in Shop, over a layout only while a part of the app cannot be fetched; from the second
//! on the browser is asked to keep what is stored), `offsquare.offline` that *Works offline now* was said.

use gloo::events::EventListener;

/// A place that keeps texts by name.
pub trait Storage {
    fn read(&self, key: &str) -> Option<String>;
    /// A plain sentence where it could not be kept.
    fn write(&self, key: &str, text: &str) -> Result<(), String>;
    fn remove(&self, key: &str);
}

/// The document's name in storage.
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
    fn write(&self, key: &str, text: &str) -> Result<(), String> {
        let kept = local().and_then(|s| s.set_item(key, text).ok());
        kept.ok_or_else(|| {
            "This device\u{2019}s storage is full or closed: what you type is not kept. Save a file from Shop."
                .to_owned()
        })
    }
    fn remove(&self, key: &str) {
        if let Some(s) = local() {
            // What is not there is removed already.
            let _ = s.remove_item(key);
        }
    }
}

/// What could not be read in full, as it was, from the newest such start.
pub const ASIDE: &str = "offsquare.aside";

/// Sets a kept text aside as it is, and says so. Where the storage has no room for it twice, it is moved
/// there.
pub fn set_aside(storage: &impl Storage, text: &str) -> String {
    let done = storage.write(ASIDE, text).or_else(|_| {
        storage.remove(BENCH);
        let moved = storage.write(ASIDE, text);
        moved.inspect_err(|_| drop(storage.write(BENCH, text)))
    });
    done.map_or_else(
        |_| "Not all that this device kept could be read, and its storage has no room to set it aside.",
        |()| "Not all that this device kept could be read. A copy of it is set aside: Shop, Backup hands it out.",
    )
    .to_owned()
}

/// Calls back with the document's text when another tab has kept it.
pub fn listen(heard: impl Fn(String) + 'static) -> Option<EventListener> {
    let window = web_sys::window()?;
    Some(EventListener::new(&window, "storage", move |_| {
        if let Some(text) = Device.read(BENCH) {
            heard(text);
        }
    }))
}
