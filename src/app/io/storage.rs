//! What is kept on the device.

use gloo::storage::{LocalStorage, Storage as _};

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

/// The browser's own storage.
pub struct Device;

impl Storage for Device {
    fn read(&self, key: &str) -> Option<String> {
        LocalStorage::raw().get_item(key).ok().flatten()
    }
    fn write(&self, key: &str, text: &str) -> Result<(), String> {
        LocalStorage::raw().set_item(key, text).map_err(|_| {
            "This device\u{2019}s storage is full or closed: what you type is not kept. Save a file from Shop."
                .to_owned()
        })
    }
    fn remove(&self, key: &str) {
        LocalStorage::delete(key);
    }
}
