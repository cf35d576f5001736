//! Buttons as they stand on every screen.

use super::icon::{Glyph, icon};
use crate::io::browser;
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

/// The arrow back to a place: it takes the step of the history that came from there.
#[inline(never)]
pub fn back(to: &'static str, label: &'static str) -> Html {
    back_to(to, label)
}

/// The same to a place that is worked out.
#[inline(never)]
pub fn back_to(to: &str, label: &'static str) -> Html {
    let place = to.to_owned();
    let leave = Callback::from(move |e: MouseEvent| {
        // Held with one of these, it opens another tab or window.
        if !(e.ctrl_key() || e.meta_key() || e.shift_key()) {
            e.prevent_default();
            browser::go_back_to(&place);
        }
    });
    html! { <a href={to.to_owned()} aria-label={label} data-test="back" onclick={leave}>{ icon(Glyph::Back) }</a> }
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
