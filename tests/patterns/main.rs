//! Whole pieces: every pattern put together and measured.

mod box_and_stand;
mod braced_frame;
mod checks;
mod door;
mod drop_front_rack;
mod every;
mod in_rows;
mod overrides;
mod pieces;
mod run;
mod run_by_hand;
mod run_least;
mod run_model;
mod sloped_planter;
mod splayed_stool;
mod trug;
