//! What is here of the layouts and patterns: what a draft, a link or a screen names may come later.
//!
//! In the browser the layouts that are asked first are here at once, the others and the patterns when they have
//! [`arrived`]; until then the id and the question of a layout are known. Natively all of them are always here.

use super::IDS;
use offsquare_cuts::layouts::{self, Layout};
use offsquare_units::num::Gather;
use std::cell::RefCell;

thread_local! {
    static HERE: RefCell<Vec<&'static dyn Layout>> = RefCell::new(at_once());
}

#[cfg(target_family = "wasm")]
fn at_once() -> Vec<&'static dyn Layout> {
    layouts::first().to_vec()
}

#[cfg(not(target_family = "wasm"))]
fn at_once() -> Vec<&'static dyn Layout> {
    let patterns = super::all().iter().map(|p| &p.layout as &dyn Layout);
    layouts::all().iter().copied().chain(patterns).collect()
}

/// More of them have come.
pub fn arrived(more: impl Iterator<Item = &'static dyn Layout>) {
    let new = |l: &&dyn Layout| asked(l.id()).is_none();
    let new = more.filter(new).gather();
    HERE.with_borrow_mut(|here| here.extend(new));
}

/// The layout or pattern of that id, if it is here.
pub fn asked(id: &str) -> Option<&'static dyn Layout> {
    HERE.with_borrow(|here| here.iter().copied().find(|l| l.id() == id))
}

/// The id of a layout or pattern, here or not; none where there is no such one.
pub fn name(id: &str) -> Option<&'static str> {
    let pattern = || IDS.iter().copied().find(|known| *known == id);
    layouts::named(id).map(|n| n.id).or_else(pattern)
}

/// Its question, which a pattern that is not here has not said.
pub fn question(id: &str) -> Option<&'static str> {
    layouts::named(id).map(|n| n.question).or_else(|| asked(id).map(|l| l.question()))
}
