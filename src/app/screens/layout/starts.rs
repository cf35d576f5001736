//! The patterns, each with a small drawing of the piece as it starts.

use super::drawing::plain;
use crate::widgets::tags::{each, tag, txt};
use gloo::timers::callback::Timeout;
use offsquare_cuts::layouts::Layout;
use offsquare_geometry::scene::{Item, Role};
use offsquare_paper::drawing::{Assembled, View};
use offsquare_work::patterns::{self, Pattern};
use offsquare_work::piece::{Draft, Shop, answer};
use yew::prelude::*;

pub fn starts(shop: &Shop) -> Html {
    let one = |(n, p): (usize, &&'static Pattern)| {
        let id = p.id;
        html! {
            <li key={id}>
                <a href={["#/", id].concat()} data-test={["ask-", id].concat()}>
                    <span class="thumb" aria-hidden="true">{ each(first(&p.layout, shop).map(|draft| small(draft, shop, n as u32 + 1))) }</span>
                    { tag("span", "", txt(p.question)) }
                </a>
            </li>
        }
    };
    html! { <ul class="pieces">{ each(patterns::all().iter().enumerate().map(one)) }</ul> }
}

/// A pattern as it starts.
fn first(pattern: &'static dyn Layout, shop: &Shop) -> Option<Draft> {
    Some(Draft::fresh(pattern, pattern.forms().first()?, shop.unit))
}

/// A small drawing of a piece; of many, each at its turn.
pub fn small(draft: Draft, shop: &Shop, turn: u32) -> Html {
    html! { <Small {draft} shop={shop.clone()} {turn} /> }
}

#[derive(Properties, PartialEq)]
struct SmallProps {
    draft: Draft,
    shop: Shop,
    /// They are drawn one after another, so that no frame is long.
    turn: u32,
}

/// In ms, from one small drawing to the next.
const STEP: u32 = 30;

#[component]
fn Small(props: &SmallProps) -> Html {
    let drawn = use_state(|| None::<Html>);
    {
        let (drawn, shop) = (drawn.setter(), props.shop.clone());
        let after = props.turn * STEP;
        use_effect_with(props.draft.clone(), move |draft| {
            let draft = draft.clone();
            let timer = Timeout::new(after, move || drawn.set(picture(&draft, &shop)));
            move || drop(timer)
        });
    }
    html! { { each((*drawn).clone()) } }
}

/// The piece without what is hidden.
fn picture(draft: &Draft, shop: &Shop) -> Option<Html> {
    let answered = answer(draft, shop);
    let mut scene = Assembled::of(&answered.solved.first()?.solution).seen(View::CORNER, false);
    scene.items.retain(|i| !matches!(i, Item::Line { role: Role::Hidden, .. }));
    Some(plain(&scene))
}
