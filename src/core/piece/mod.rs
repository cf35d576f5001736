//! The façade for screens: what a person typed goes in, everything derived comes out.

mod draft;
pub mod keypad;
mod link;
mod paper;
mod shop;

pub use draft::{
    Answered, Draft, Entry, Typed, answer, field_text, handle_text, in_unit, length_text,
};
pub use link::{from_link, to_link};
pub use paper::{paper_job, paper_job_of};
pub use shop::{Paper, Shop, Theme};
