//! At the saw: a run begun, walked cut by cut, and ended; test cuts; the screen as a gauge.

mod at;
mod card;
mod gauge;
mod line;
mod more;
mod page;
mod skip;
mod start;
mod test_cut;
mod true_size;

pub use gauge::gauge_of_cut;
pub use line::run_line;
pub use page::SawPage;
