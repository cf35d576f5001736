//! Which batch: what one costs at each size, as a plot, in words, and as a table.

use super::form::Look;
use crate::state::Edit;
use crate::widgets::cell::{Cell, Check};
use crate::widgets::plot::{Dot, plot};
use crate::widgets::tags::{each, fold, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::WorkEdit;
use offsquare_work::price::{Figures, MOST_POINTS, Wood, as_number};
use offsquare_work::rack::{Typed, Written};
use std::rc::Rc;
use yew::prelude::*;

/// `wood`: the boards for each size; `coming`: the planner has more to tell.
pub fn batches(look: &Look, figures: &Figures, wood: &[(u64, Wood)], coming: bool) -> Html {
    let points = figures.batches(wood);
    let best = figures.best(&points, wood);
    let money = |n| figures.money(n);
    let dots: Vec<Dot> =
        points.iter().map(|p| (p.pieces as u32, as_number(&p.each), money(&p.each))).gather();
    let (id, now) = (look.piece.id, look.piece.batch);
    let most = (MOST_POINTS as u32).max(now);
    let check: Check = {
        let piece = Rc::new(look.piece.clone());
        let unit = look.bench.shop.unit;
        Rc::new(move |text| (*piece).clone().write("batch", text, unit).err())
    };
    let changed = {
        let dispatch = look.dispatch.clone();
        Callback::from(move |text: String| {
            dispatch.dispatch(Edit::Work(WorkEdit::Piece { id, key: "batch", text }));
        })
    };
    let first = best.first().map(|b| b.0 as u32);
    let rows = dots.iter().map(|(n, _, said)| {
        let both = vec![tag("td", "", txt(n.to_string())), tag("td", "", txt(said.clone()))];
        tag("tr", "", list(both))
    });
    let table = html! {
        <table class="beside" data-test="batch-table">
            <thead><tr><th scope="col">{ "Pieces at once" }</th><th scope="col">{ "Cost of one" }</th></tr></thead>
            <tbody>{ each(rows) }</tbody>
        </table>
    };
    html! {
        <section class="batch">
            { tag("h2", "section", txt("Batch")) }
            <div class="inset"><Cell id="price-batch" label="Pieces at once" typed={Typed::Count} slide={Some(most)} text={now.to_string()} {check} {changed} /></div>
            { plot(&dots, now, first, most) }
            <ul class="best" data-test="best">
                { each(best.iter().enumerate().map(|(i, (_, words))| {
                    let lead = if i == 0 { "Least: " } else { "Then: " };
                    tag("li", "", txt(format!("{lead}{words}")))
                })) }
            </ul>
            if dots.is_empty() {
                { tag("p", "help", txt(if coming { "Larger batches are still being planned." } else { "What one costs at other sizes is known once nothing is missing, and no boards are typed by hand." })) }
            } else {
                { fold("As a table", table) }
            }
        </section>
    }
}
