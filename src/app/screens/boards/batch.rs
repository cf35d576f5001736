//! How many pieces at once, and what one of them then costs.

use crate::state::Edit;
use offsquare_core::cutlist::{CURVE_MOST, Planned, best_sizes};
use offsquare_core::drawing;
use offsquare_core::piece::WorkEdit;
use offsquare_core::save::Bench;
use offsquare_core::units::Money;
use yew::prelude::*;

pub fn batch(bench: &Bench, planned: &Planned, empty: bool, send: &Callback<Edit>) -> Html {
    if empty {
        return html! {};
    }
    let now = bench.work.batch;
    let most = CURVE_MOST.max(now);
    let slide = {
        let send = send.clone();
        Callback::from(move |e: InputEvent| {
            let text = e
                .target_unchecked_into::<web_sys::HtmlInputElement>()
                .value();
            if let Ok(n) = text.parse() {
                send.emit(Edit::Work(WorkEdit::Batch(n)));
            }
        })
    };
    let here = planned.curve.iter().find(|c| c.0 == now);
    let each = here.map(|(n, cost)| format!(", {} each", per_piece(*n, *cost)));
    html! {
        <section class="batch">
            <h2 class="section">{ "Batch" }</h2>
            <label for="batch">{ format!("Pieces at once: {now}") }<b>{ each.unwrap_or_default() }</b></label>
            { curve(planned, now, most) }
            <input id="batch" data-test="batch" type="range" min="1" max={most.to_string()} value={now.to_string()} oninput={slide} />
            <p class="help" data-test="sizes">{ best_sizes(&planned.curve) }</p>
        </section>
    }
}

fn per_piece(n: u32, cost: Money) -> String {
    cost.times(1.0 / f64::from(n.max(1)))
        .unwrap_or_default()
        .to_string()
}

/// The saw-tooth: a bar a size, as high as one piece costs.
fn curve(planned: &Planned, now: u32, most: u32) -> Html {
    let each = |c: &(u32, Money)| c.1.0 as f64 / f64::from(c.0.max(1));
    let top = planned.curve.iter().map(each).fold(0.0, f64::max);
    if planned.curve.len() < 2 || top <= 0.0 {
        return html! {};
    }
    let (w, h) = (f64::from(most) * 14.0, 72.0);
    let bars: Vec<Html> = planned
        .curve
        .iter()
        .map(|c| {
            let tall = each(c) / top * (h - 4.0);
            let class = if c.0 == now { "bar on" } else { "bar" };
            html! {
                <rect {class} x={drawing::figure(f64::from(c.0 - 1) * 14.0 + 2.0)} y={drawing::figure(h - tall)}
                    width="10" height={drawing::figure(tall)} />
            }
        })
        .collect();
    html! {
        <svg class="curve" viewBox={format!("0 0 {w} {h}")} role="img" preserveAspectRatio="none"
            aria-label="What one piece costs at each size of batch">{ bars }</svg>
    }
}
