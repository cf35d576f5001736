//! The bench: the questions, the running tape of sums, the recent answers.

mod lengths;
mod page;
mod pieces;
mod questions;
mod recent;

#[cfg(feature = "ssr")]
pub use page::FirstBench;
pub use page::bench_page;
