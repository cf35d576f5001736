//! Buttons as they stand on every screen.

use super::icon::{Glyph, icon};
use yew::prelude::*;

/// A button that is an icon; its label is read aloud.
#[inline(never)]
pub fn icon_key(
    glyph: Glyph,
    label: &'static str,
    test: Option<&'static str>,
    off: bool,
    onclick: Callback<MouseEvent>,
) -> Html {
    html! { <button aria-label={label} data-test={test} disabled={off} {onclick}>{ icon(glyph) }</button> }
}

/// The same with its word under it, where the icon alone could be read as something else.
#[inline(never)]
pub fn word_key(
    glyph: Glyph,
    word: &'static str,
    label: &'static str,
    test: Option<&'static str>,
    onclick: Callback<MouseEvent>,
) -> Html {
    html! { <button class="worded" aria-label={label} data-test={test} {onclick}>{ icon(glyph) }{ word }</button> }
}

/// A button with words.
#[inline(never)]
pub fn key(
    class: &'static str,
    test: Option<&'static str>,
    label: AttrValue,
    off: bool,
    onclick: Callback<MouseEvent>,
) -> Html {
    html! { <button {class} data-test={test} disabled={off} {onclick}>{ label }</button> }
}

/// A button of a row of choices, down or up.
#[inline(never)]
pub fn choice(
    on: bool,
    test: Option<String>,
    label: AttrValue,
    onclick: Callback<MouseEvent>,
) -> Html {
    html! { <button aria-pressed={on.to_string()} data-test={test} {onclick}>{ label }</button> }
}
