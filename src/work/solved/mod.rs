//! A piece as it comes out: its parts with everything that is cut on them, where each stands, what it
//! weighs. Parts come from a pattern's solution or are typed; overrides change them afterwards.

mod fit;
mod overrides;
mod part;
mod recut;
mod weigh;

pub use fit::Misfit;
pub use overrides::{Changed, Override, Which, overridden};
pub use part::{EndCut, PiecePart};
pub use weigh::{Weighed, weigh};
