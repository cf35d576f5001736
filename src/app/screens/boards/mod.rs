//! What to buy, and how each board is cut.

mod batch;
mod copy;
mod page;
mod paper;
mod stock;
mod together;

pub use page::{BoardsPage, to_cut, trouble};
pub use paper::{PaperOfCuts, cut_sheet_panel};
