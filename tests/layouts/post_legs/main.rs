//! Legs on a post, through the JSON door, against polygons constructed here.

mod backwards;
mod feasible;
mod figure;
mod parallel;
mod polygon;
mod request;
mod roots;
mod table;
mod tapered;
