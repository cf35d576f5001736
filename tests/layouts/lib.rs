//! What checks of layouts share with all others: requests to the JSON door.

pub mod asking;
