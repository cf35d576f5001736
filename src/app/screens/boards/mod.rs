//! What to buy, and how each board is cut.

mod batch;
mod copy;
mod page;
mod paper;
mod stock;
mod together;

pub use page::{BoardsPage, trouble};
