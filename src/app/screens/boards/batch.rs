//! How many pieces at once, and what one of them then costs.

use crate::state::Edit;
use crate::widgets::cell::{Cell, Check};
use crate::widgets::tags::{tag, txt};
use offsquare_paper::drawing;
use offsquare_units::Money;
use offsquare_work::cutlist::{CURVE_MOST, Planned, best_sizes};
use offsquare_work::piece::WorkEdit;
use offsquare_work::rack::{Typed, Written};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// How many are made; above what they cost, so that no step moves under the thumb.
pub fn batch(bench: &Bench, send: &Callback<Edit>) -> Html {
    // What a batch costs is known of one piece by itself.
    let Some(piece) = bench.work.alone() else { return html! {} };
    let (id, unit) = (piece.id, bench.shop.unit);
    let check: Check = {
        let piece = Rc::new(piece.clone());
        Rc::new(move |text| (*piece).clone().write("batch", text, unit).err())
    };
    let changed = {
        let send = send.clone();
        Callback::from(move |text: String| {
            send.emit(Edit::Work(WorkEdit::Piece { id, key: "batch", text }));
        })
    };
    html! {
        <section class="batch inset">
            <Cell id="batch" label="Pieces at once" typed={Typed::Count} slide={Some(CURVE_MOST)} text={piece.batch.to_string()} {check} {changed} />
        </section>
    }
}

/// What one piece costs at each size of the batch.
pub fn batch_costs(bench: &Bench, planned: &Planned) -> Html {
    let Some(piece) = bench.work.alone() else { return html! {} };
    let now = piece.batch;
    let here = planned.curve.iter().find(|c| c.0 == now);
    let each = here.map(|(n, cost)| format!("{now} at once: {} each. ", per_piece(*n, *cost)));
    html! {
        <section>
            { tag("h2", "section", txt("Batch")) }
            { curve(planned, now, CURVE_MOST.max(now)) }
            <p class="help" data-test="sizes">{ each }{ best_sizes(&planned.curve) }</p>
        </section>
    }
}

fn per_piece(n: u32, cost: Money) -> String {
    cost.times(1.0 / f64::from(n.max(1))).unwrap_or_default().to_string()
}

/// The saw-tooth: what one piece costs at each size, between the dearest and the cheapest.
fn curve(planned: &Planned, now: u32, most: u32) -> Html {
    let each = |c: &(u32, Money)| c.1.0 as f64 / f64::from(c.0.max(1));
    let top = planned.curve.iter().map(each).fold(0.0, f64::max);
    let low = planned.curve.iter().map(each).fold(top, f64::min);
    if planned.curve.len() < 2 || top - low < 1.0 {
        return html! {};
    }
    let (w, h) = (360.0, 84.0);
    let x = |n: u32| 54.0 + f64::from(n - 1) * (w - 66.0) / f64::from(most.max(2) - 1);
    let y = |v: f64| 10.0 + (top - v) / (top - low) * (h - 30.0);
    let mut line = String::new();
    let mut dots: Vec<Html> = Vec::new();
    for c in &planned.curve {
        let (cx, cy) = (drawing::figure(x(c.0)), drawing::figure(y(each(c))));
        line.push_str(if line.is_empty() { "M" } else { "L" });
        line.push_str(&format!("{cx} {cy}"));
        let (class, r) = if c.0 == now { ("dot on", "6") } else { ("dot", "2.5") };
        dots.push(html! { <circle {class} {cx} {cy} {r} /> });
    }
    let money = |v: f64| Money(offsquare_units::num::round_half_up(v) as i64).to_string();
    let word = |at: f64, down: f64, text: String| {
        html! { <text class="fig-computed" x={drawing::figure(at)} y={drawing::figure(down)} font-size="12">{ text }</text> }
    };
    html! {
        <svg class="curve" viewBox={format!("0 0 {w} {h}")} role="img" aria-label="What one piece costs at each size of batch">
            <path class="fig-computed" d={line} />
            { dots }
            { word(2.0, 14.0, money(top)) }
            { word(2.0, h - 16.0, money(low)) }
            { crate::widgets::tags::each([1, 6, 12, 18, 24].into_iter().filter(|n| *n <= most).map(|n| word(x(n) - 6.0, h - 2.0, n.to_string()))) }
        </svg>
    }
}
