//! The computing half of Offsquare: pure, deterministic, no browser, no clock, no I/O.
//!
//! Data flows one way: inputs → layouts → parts → boards; drawings and reports are written from
//! what the layouts return. A module uses only modules listed above it (`tests/` checks the ranks).

pub mod backwards;
pub mod boards;
pub mod cutlist;
pub mod door;
pub mod drawing;
pub mod facts;
pub mod geometry;
pub mod inputs;
pub mod kept;
pub mod layouts;
pub mod num;
pub mod parts;
pub mod piece;
pub mod problem;
pub mod rack;
pub mod record;
pub mod report;
pub mod save;
pub mod saw;
pub mod scene;
pub mod units;
pub mod writers;
