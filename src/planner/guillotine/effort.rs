//! How much is tried at once.

/// Jobs with more parts than this get plans between the best and the bound too.
pub const LARGE: u32 = 40;

/// Steps of one unit of work, about.
pub const UNIT: i64 = 15_000_000;
