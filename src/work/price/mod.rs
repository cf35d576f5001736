//! What a piece costs, what to ask for it, what an hour earns. Every figure is worked out exactly, in
//! rational numbers, and rounded once where it is given: half up to a whole minor unit (a cent), but what
//! must be reached (the floor, the asked price) upward. No amount passes through a float.
//!
//! A figure whose inputs are missing is none: nothing is free because it has no price yet.

mod costs;
mod exact;
mod market;
mod selling;

pub use costs::{Basis, Batch, Costs, Finish, Hardware, Overhead, PerPiece, Step, Wood, costs};
pub use exact::{Exact, as_number, decimal, half_up, upward, whole};
pub use market::{AtPrice, Band, Outcome, Seen, Stand, Tried, at_prices, outcome, sold_best};
pub use selling::{Ending, Fees, Selling, Sold, Want, selling};
