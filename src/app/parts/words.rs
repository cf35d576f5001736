//! Words as they stand on every screen: a paragraph, a heading.

use yew::prelude::*;

/// A paragraph of its class: `said`, `help`, `wrong`, `caution`.
#[inline(never)]
pub fn para(class: &'static str, words: Html) -> Html {
    html! { <p {class}>{ words }</p> }
}

/// The heading of a section.
#[inline(never)]
pub fn section(words: &'static str) -> Html {
    html! { <h2 class="section">{ words }</h2> }
}
