//! The patterns, each with a small drawing of the piece as it starts.

use super::drawing::plain;
use crate::widgets::tags::{each, tag, txt};
use gloo::timers::callback::Timeout;
use offsquare_geometry::scene::{Item, Role};
use offsquare_paper::drawing::{Assembled, View};
use offsquare_work::patterns::{self, Pattern};
use offsquare_work::piece::{Draft, Shop, answer};
use yew::prelude::*;

pub fn starts(shop: &Shop) -> Html {
    let one = |(n, p): (usize, &&'static dyn Pattern)| {
        let id = p.id();
        html! {
            <li key={id}>
                <a href={["#/", id].concat()} data-test={["ask-", id].concat()}>
                    <span class="thumb" aria-hidden="true"><Small {id} shop={shop.clone()} turn={n as u32 + 1} /></span>
                    { tag("span", "", txt(p.question())) }
                </a>
            </li>
        }
    };
    html! { <ul class="pieces">{ each(patterns::all().iter().enumerate().map(one)) }</ul> }
}

#[derive(Properties, PartialEq)]
struct SmallProps {
    id: &'static str,
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
        let (drawn, id, shop) = (drawn.setter(), props.id, props.shop.clone());
        let after = props.turn * STEP;
        use_effect_with((), move |()| {
            let timer = Timeout::new(after, move || drawn.set(small(id, &shop)));
            move || drop(timer)
        });
    }
    html! { { each((*drawn).clone()) } }
}

/// The piece as it starts, without what is hidden.
fn small(id: &str, shop: &Shop) -> Option<Html> {
    let pattern = patterns::asked(id)?;
    let draft = Draft::fresh(pattern, pattern.forms().first()?, shop.unit);
    let answered = answer(&draft, shop);
    let mut scene = Assembled::of(&answered.solved.first()?.solution).seen(View::CORNER, false);
    scene.items.retain(|i| !matches!(i, Item::Line { role: Role::Hidden, .. }));
    Some(plain(&scene))
}
