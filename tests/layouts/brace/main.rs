//! Braces in an opening, through the JSON door. The second opinion is a polygon constructed here: the
//! endless band of the strip clipped by the opening's sides (`polygon`), and crate `geo` over it.

mod as_built;
mod backwards;
mod crossed;
mod feasible;
mod pair;
mod parts;
mod polygon;
mod properties;
mod request;
mod single;
mod spelling;
mod tables;
