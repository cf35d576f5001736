//! The real solid, turned with a finger, the arrow keys or its buttons.

use super::drawing::{painted, still};
use super::view::{SharedAnswer, chosen};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::keys::key;
use crate::widgets::later::AFTER;
use gloo::timers::callback::Timeout;
use offsquare_paper::drawing::{View, lay_out, turnable};
use offsquare_units::Style;
use offsquare_work::piece::Draft;
use wasm_bindgen::JsCast;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct SolidProps {
    pub answer: SharedAnswer,
    pub draft: Draft,
}

/// Degrees that a key or a button turns, and that one px of a drag turns.
const STEP: f64 = 15.0;
pub const PER_PX: f64 = 0.6;

#[component]
pub fn SolidView(props: &SolidProps) -> Html {
    // The answer comes first: the solid follows when it has been painted.
    let drawn = use_state(|| props.answer.clone());
    {
        let drawn = drawn.setter();
        use_effect_with(props.answer.clone(), move |now| {
            let now = now.clone();
            let timer = Timeout::new(AFTER, move || drawn.set(now));
            move || drop(timer)
        });
    }
    let view = use_state_eq(|| View::CORNER);
    let drag = use_mut_ref(|| None::<(i32, i32, View)>);
    let Some(solved) = chosen(&drawn, &props.draft) else {
        return html! {};
    };
    let down = {
        let (drag, now) = (drag.clone(), *view);
        Callback::from(move |e: PointerEvent| {
            *drag.borrow_mut() = Some((e.client_x(), e.client_y(), now));
            let target = e.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
            if let Some(target) = target {
                // Without capture the drag still works while the pointer stays on the drawing.
                let _ = target.set_pointer_capture(e.pointer_id());
            }
        })
    };
    let moved = {
        let (drag, view) = (drag.clone(), view.clone());
        Callback::from(move |e: PointerEvent| {
            if let Some((x, y, from)) = *drag.borrow() {
                let by = |to: i32, from: i32| f64::from(to - from) * PER_PX;
                view.set(from.turned(-by(e.client_x(), x), by(e.client_y(), y)));
            }
        })
    };
    let end = Callback::from(move |_: PointerEvent| *drag.borrow_mut() = None);
    let typed = {
        let view = view.clone();
        Callback::from(move |e: KeyboardEvent| {
            let (turn, tilt) = match e.key().as_str() {
                "ArrowRight" => (STEP, 0.0),
                "ArrowLeft" => (-STEP, 0.0),
                "ArrowUp" => (0.0, STEP),
                "ArrowDown" => (0.0, -STEP),
                "Home" => return view.set(View::CORNER),
                _ => return,
            };
            e.prevent_default();
            view.set(view.turned(turn, tilt));
        })
    };
    let words = view.words();
    let laid = lay_out(&turnable(&solved.solution.solids, *view), 344.0, 250.0, &Style::default());
    html! {
        <section class="solid" aria-label="The real piece, to turn">
            <div class="turns" role="slider" tabindex="0" data-test="solid" aria-label="Turn it: arrow keys"
                aria-valuemin="0" aria-valuemax="360" aria-valuenow={view.turn.0.to_string()} aria-valuetext={words.clone()}
                onpointerdown={down} onpointermove={moved} onpointerup={end.clone()} onpointercancel={end} onkeydown={typed}>
                <svg viewBox="0 0 344 250" aria-hidden="true">{ painted(&laid.marks, still) }</svg>
            </div>
            <p class="said" role="status" data-test="solid-words">{ words }</p>
            { turn_keys(&view, html! {}) }
        </section>
    }
}

/// The keys that turn it, and whatever stands beside them.
pub fn turn_keys(view: &UseStateHandle<View>, beside: Html) -> Html {
    let button = |glyph: Glyph, label: &'static str, turn: f64, tilt: f64| {
        let view = view.clone();
        let tap = Callback::from(move |_: MouseEvent| view.set(view.turned(turn, tilt)));
        html! { <button class="key" aria-label={label} onclick={tap}>{ icon(glyph) }</button> }
    };
    let first = {
        let view = view.clone();
        Callback::from(move |_: MouseEvent| view.set(View::CORNER))
    };
    html! {
        <div class="turn-keys">
            { button(Glyph::Previous, "Walk to the left", -STEP, 0.0) }
            { button(Glyph::Next, "Walk to the right", STEP, 0.0) }
            { button(Glyph::Up, "Rise", 0.0, STEP) }
            { button(Glyph::Down, "Stoop", 0.0, -STEP) }
            { key("key", Some("solid-first"), "First view".into(), false, first) }
            { beside }
        </div>
    }
}
