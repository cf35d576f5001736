//! From typed sizes to parts and what to do at the saw.
//!
//! Inputs are checked, a layout answers them with parts, drawings and how they were derived; `saw` says how each cut
//! is made, `backwards` asks the layouts the other way round. It knows no stock, no price and no paper.

pub mod assembly;
pub mod backwards;
pub mod facts;
pub mod inputs;
pub mod layouts;
pub mod parts;
pub mod problem;
pub mod saw;
mod value;
