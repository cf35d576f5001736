//! What the tests share: random requests; with feature `browser`, a real browser and a server that can be
//! stopped.

pub mod dice;
#[cfg(feature = "browser")]
#[path = "browser/driver.rs"]
pub mod driver;
pub mod picture;
#[cfg(feature = "browser")]
#[path = "browser/site.rs"]
pub mod site;
