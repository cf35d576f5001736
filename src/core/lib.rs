//! The computing half of Offsquare: pure, deterministic, no browser, no clock, no I/O.
//!
//! Data flows one way: inputs → layouts → parts → boards; drawings and reports are written from
//! what the layouts return. A module uses only modules listed above it (`tests/` checks the ranks).

pub mod num;
pub mod units;
