//! Whole pieces: every pattern put together and measured.

mod box_and_stand;
mod checks;
mod door;
mod every;
mod sloped_planter;
mod trug;
