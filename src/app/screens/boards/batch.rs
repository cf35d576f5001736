//! How many pieces at once, and what one of them then costs.

use crate::state::Edit;
use crate::widgets::cell::{Cell, Check};
use crate::widgets::plot::{Dot, plot};
use crate::widgets::tags::{tag, txt};
use offsquare_units::Money;
use offsquare_units::num::Gather;
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
    let currency = bench.work.currency();
    let per_piece = |n: u32, cost: Money| {
        currency.print(cost.times(1.0 / f64::from(n.max(1))).unwrap_or_default())
    };
    let dot = |(n, cost): &(u32, Money)| {
        (*n, cost.0 as f64 / f64::from((*n).max(1)), per_piece(*n, *cost))
    };
    let dots: Vec<Dot> = planned.curve.iter().map(dot).gather();
    let here = planned.curve.iter().find(|c| c.0 == now);
    let each = here.map(|(n, cost)| format!("{now} at once: {} each. ", per_piece(*n, *cost)));
    html! {
        <section>
            { tag("h2", "section", txt("Batch")) }
            { plot(&dots, now, None, CURVE_MOST.max(now)) }
            <p class="help" data-test="sizes">{ each }{ best_sizes(&planned.curve, &currency) }</p>
        </section>
    }
}
