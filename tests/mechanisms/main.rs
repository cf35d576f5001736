//! What every layout gets for free: working backwards, contradictions, *if it's off*, the saw's
//! advice, the JSON door's manners.

mod all_layouts;
mod bad_input;
mod bench;
mod brace;
mod cord;
mod door;
mod facts;
mod forms;
mod invented;
mod judged;
mod keys;
mod laps;
mod lays;
mod links;
mod made;
mod mended;
mod off;
mod roots;
mod saw;
mod seen;
mod sentences;
mod start;
mod steps;
mod told;
mod turned;
mod typed_answers;
