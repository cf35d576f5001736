//! The rack: what the yard sells, and what is in the shop already.

mod page;
mod trim;
mod yard;

pub use page::RackPage;
pub use trim::trim_question;
