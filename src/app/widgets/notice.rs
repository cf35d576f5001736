//! A line at the top of the screen: what happened, and what can be done about it.

use crate::widgets::tags::{tag, txt};
use yew::prelude::*;

#[inline(never)]
pub fn notice(
    text: String,
    act: Option<(&'static str, Callback<MouseEvent>)>,
    dismiss: Callback<MouseEvent>,
) -> Html {
    html! {
        <div class="notice" role="status">
            { tag("p", "", txt(text)) }
            if let Some((label, act)) = act {
                <button class="key" data-test="use-update" onclick={act}>{ label }</button>
            }
            <button class="key" onclick={dismiss}>{ "OK" }</button>
        </div>
    }
}
