//! What a piece costs, what to ask for it, what an hour earns. Every figure is worked out exactly, in
//! rational numbers, and rounded once where it is given: half up to a whole minor unit (a cent), but what
//! must be reached (the floor, the asked price) upward. No amount passes through a float.
//!
//! A figure whose inputs are missing is none: nothing is free because it has no price yet.

mod batches;
mod costs;
mod currency;
mod days;
mod exact;
mod figures;
mod filled;
mod forms;
mod market;
mod selling;
mod sums;

pub use batches::{MOST_POINTS, Point};
pub use costs::{Basis, Batch, Costs, Finish, Hardware, Overhead, PerPiece, Step, Wood, costs};
pub use currency::{of_money, printed};
pub use days::Market;
pub use exact::{Exact, as_number, decimal, figure, fraction, half_up, upward, whole};
pub use figures::{Boards, Figures, Made, figures};
pub use filled::{Ask, Filled, Form, Reads};
pub use forms::{
    AnyForm, FinishLine, HardwareLine, Lines, List, MOST_LINES, Opened, PriceRow, Priced, Rates,
    SeenLine, StepLine, Terms, TriedLine,
};
pub use market::{AtPrice, Band, Outcome, Seen, Stand, Tried, at_prices, outcome, sold_best};
pub use selling::{Ending, Fees, Selling, Sold, Want, selling};
pub use sums::{Group, Line, time};
