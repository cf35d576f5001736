//! What a piece costs, what to ask for it, which batch, what others ask, what was tried.

mod batches;
mod form;
mod lines;
mod market;
mod page;

pub use page::PricePage;
