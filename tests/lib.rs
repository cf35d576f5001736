//! What the tests share: with feature `browser`, a real browser and a server that can be stopped.

#[cfg(feature = "browser")]
#[path = "browser/driver.rs"]
pub mod driver;
#[cfg(feature = "browser")]
#[path = "browser/site.rs"]
pub mod site;
