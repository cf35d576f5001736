//! A small true drawing of a layout, as its first visit solves it.

use super::drawing::plain;
use offsquare_cuts::layouts::Layout;
use offsquare_work::piece::{Draft, Shop, answer};
use yew::prelude::*;

/// The drawing, or nothing where the first visit has no answer.
pub fn thumb(layout: &'static dyn Layout, shop: &Shop) -> Html {
    let Some(form) = layout.forms().first() else {
        return html! {};
    };
    let draft = Draft::fresh(layout, form, shop.unit);
    let answered = answer(&draft, shop);
    answered.solved.first().map_or_else(|| html! {}, |s| plain(&s.solution.figure))
}
