//! The shop: my saw, my units, my paper, my backup.

mod backup;
mod field;
mod page;
mod saw_form;

pub use backup::save;
pub use page::shop_page;
