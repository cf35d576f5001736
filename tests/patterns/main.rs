//! Whole pieces: every pattern put together and measured.

mod box_and_stand;
mod checks;
mod door;
mod every;
mod run;
mod run_by_hand;
mod run_least;
mod run_model;
