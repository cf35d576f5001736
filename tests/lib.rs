//! What the tests share: random requests; with feature `browser`, a real browser and a server that can be
//! stopped.

#[cfg(feature = "browser")]
#[path = "browser/chromium.rs"]
mod chromium;
pub mod dice;
#[cfg(feature = "browser")]
#[path = "browser/driver.rs"]
pub mod driver;
#[cfg(feature = "firefox")]
#[path = "browser/firefox.rs"]
mod firefox;
#[cfg(feature = "browser")]
#[path = "browser/site.rs"]
pub mod site;
