//! What the tests share: requests to the JSON door; with feature `browser`, a real browser and a
//! server that can be stopped.

pub mod asking;
pub mod dice;
#[cfg(feature = "browser")]
#[path = "browser/driver.rs"]
pub mod driver;
#[cfg(feature = "browser")]
#[path = "browser/site.rs"]
pub mod site;
