//! The bench: the questions, the running tape of sums, the recent answers.

mod lengths;
mod page;
mod questions;
mod recent;

pub use page::bench_page;
