//! A small true drawing of a layout, as its first visit solves it.

use super::drawing::plain;
use offsquare_core::layouts;
use offsquare_core::piece::{Draft, Shop, answer};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct ThumbProps {
    pub layout: &'static str,
    pub shop: Shop,
}

#[component]
pub fn Thumb(props: &ThumbProps) -> Html {
    let figure = use_memo(props.layout, |id| {
        let layout = layouts::find(id)?;
        let draft = Draft::fresh(layout, layout.forms().first()?, props.shop.unit);
        let mut answered = answer(&draft, &props.shop);
        (!answered.solved.is_empty()).then(|| answered.solved.swap_remove(0).solution.figure)
    });
    html! {
        <span class="thumb" aria-hidden="true">
            if let Some(figure) = figure.as_ref() {
                { plain(&figure.clone()) }
            }
        </span>
    }
}
