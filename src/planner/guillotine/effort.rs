//! How much to try at a time.

/// Jobs with more parts than this get plans between the best and the bound too.
pub const LARGE: u32 = 40;

/// Approximate steps in one unit of work.
pub const UNIT: i64 = 15_000_000;
