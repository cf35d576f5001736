//! A bank card held to the screen once: how many px a millimeter has.

use crate::io::display::{display, window_size};
use crate::widgets::keys::key;
use crate::widgets::tags::{list, tag, txt};
use offsquare_work::piece::{CARD_MM, Shop, TrueSize};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct TrueSizeProps {
    pub shop: Shop,
    pub changed: Callback<Shop>,
    /// Whether it was kept.
    pub done: Callback<bool>,
}

/// The screen as it is: px to a px, and its sides.
pub fn now_shown() -> (f64, f64, f64) {
    let d = display();
    (d.ratio, d.short, d.long)
}

/// How far a key moves the line, px.
const STEPS: [(&str, &str, f64); 4] = [
    ("\u{2212}\u{2212}", "Much shorter", -8.0),
    ("\u{2212}", "A hair shorter", -0.5),
    ("+", "A hair longer", 0.5),
    ("++", "Much longer", 8.0),
];

#[component]
pub fn TrueSizeSheet(props: &TrueSizeProps) -> Html {
    // What most phones show, until it is moved.
    let long = use_state_eq(|| {
        let usual = props.shop.true_size.map_or(6.0, |t| t.px_per_mm) * CARD_MM.0;
        usual.min(window_size().1 - 70.0)
    });
    let moved = {
        let long = long.setter();
        Callback::from(move |e: PointerEvent| {
            if e.buttons() != 0 {
                long.set(f64::from(e.client_y()).max(100.0));
            }
        })
    };
    let keep = {
        let (shop, changed, done, long) =
            (props.shop.clone(), props.changed.clone(), props.done.clone(), *long);
        Callback::from(move |_: MouseEvent| {
            let true_size = Some(TrueSize::of_card(long, now_shown()));
            changed.emit(Shop { true_size, ..shop.clone() });
            done.emit(true);
        })
    };
    let leave = {
        let done = props.done.clone();
        Callback::from(move |_: MouseEvent| done.emit(false))
    };
    let step = |(words, label, by): (&'static str, &'static str, f64)| {
        let (now, long) = (*long, long.setter());
        let tap = Callback::from(move |_: MouseEvent| long.set((now + by).max(100.0)));
        html! { <button class="key" aria-label={label} data-test={format!("card{by}")} onclick={tap}>{ words }</button> }
    };
    let short = *long * CARD_MM.1 / CARD_MM.0;
    let (w, h) = (format!("{short:.2}"), format!("{:.2}", *long));
    html! {
        <div class="gauge" role="dialog" aria-modal="true" aria-label="True size by a bank card" onpointermove={moved.clone()} onpointerdown={moved}>
            <div class="gauge-field">
                <svg class="whole" role="img" aria-label="The outline of a bank card" data-test="card">
                    <rect class="gauge-card" x="0" y="0" width={w} height={h.clone()} />
                    <line class="gauge-line" x1="0" y1={h.clone()} x2="2000" y2={h} />
                </svg>
                { tag("p", "gauge-said", txt("Lay a bank card into the screen\u{2019}s upper left corner, its long side down. Drag the line to its lower edge, or use the keys, until they are one.")) }
            </div>
            { tag("div", "gauge-keys card-keys", list(vec![
                step(STEPS[0]), step(STEPS[1]), step(STEPS[2]), step(STEPS[3]),
                key("primary", Some("keep-size"), "It fits".into(), false, keep),
                key("key", None, "Leave".into(), false, leave),
            ])) }
        </div>
    }
}
