//! Words as they stand on every screen: a paragraph, a heading.

use super::tags::{tag, txt};
use yew::prelude::*;

/// A paragraph of its class: `said`, `help`, `wrong`, `caution`.
#[inline(never)]
pub fn para(class: &'static str, words: Html) -> Html {
    tag("p", class, words)
}

/// The heading of a section.
#[inline(never)]
pub fn section(words: &'static str) -> Html {
    tag("h2", "section", txt(words))
}
