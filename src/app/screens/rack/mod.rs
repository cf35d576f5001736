//! The rack: what the yard sells, and what is in the shop already.

mod page;

pub use page::rack_page;
