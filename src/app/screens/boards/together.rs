//! The pieces that are bought together, how many of each, and what one of each then costs.

use crate::screens::faces::href;
use crate::state::{Edit, Face};
use crate::widgets::cell::{Check, cell};
use crate::widgets::keys::{choice, key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::cutlist::Summary;
use offsquare_work::piece::{Piece, WorkEdit};
use offsquare_work::rack::Written;
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// `here`: the piece that is looked at. Empty where it is the only one there is, and bought.
pub fn together(bench: &Bench, here: u32, summary: &Summary, send: &Callback<Edit>) -> Html {
    let work = &bench.work;
    let has_parts = |p: &&Piece| p.id == here || work.parts_of(p.id).next().is_some();
    let all = work.pieces.iter().filter(has_parts).gather();
    if let [only] = all[..]
        && only.planned
    {
        return html! {};
    }
    let others = all.iter().any(|p| p.planned && p.id != here);
    let only = {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(WorkEdit::PlanOnly(here))))
    };
    let left_out = all.iter().any(|p| p.id == here && !p.planned);
    html! {
        <section class="together" data-test="together">
            { tag("h2", "section", txt("Bought together")) }
            if left_out { { tag("p", "caution", txt("This piece is not in the buy.")) } }
            <ul class="recent">{ each(all.iter().map(|p| row(p, bench, summary, send))) }</ul>
            if others || left_out {
                { tag("div", "actions", key("key", Some("plan-only"), "Only this piece".into(), false, only)) }
            }
        </section>
    }
}

fn row(piece: &Piece, bench: &Bench, summary: &Summary, send: &Callback<Edit>) -> Html {
    let (id, unit) = (piece.id, bench.shop.unit);
    let edit = |edit: WorkEdit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    };
    let batch = Piece::FIELDS.iter().find(|b| b.key == "batch").map(|blank| {
        let check: Check = {
            let piece = Rc::new(piece.clone());
            Rc::new(move |text| (*piece).clone().write("batch", text, unit).err())
        };
        let send = send.clone();
        let changed = Callback::from(move |text: String| {
            send.emit(Edit::Work(WorkEdit::Piece { id, key: "batch", text }));
        });
        cell(format!("buy-{id}"), blank, piece.text("batch", unit), check, changed)
    });
    let work = &bench.work;
    // Nothing is free because it has no price.
    let one = summary.share(id).map(|s| match s.open {
        true => "not all of its boards have a price".to_owned(),
        false => format!("boards for {} each", work.currency().print(s.each())),
    });
    let planned = edit(WorkEdit::PlanPiece { id, planned: !piece.planned });
    let words = one.filter(|_| piece.planned).unwrap_or_default();
    html! {
        <li key={id.to_string()} data-test="bought">
            <a href={href(id, Face::Boards)}>{ tag("b", "", txt(piece.called())) }{ tag("small", "", txt(words)) }</a>
            if piece.planned { { list(batch.into_iter().gather()) } }
            { tag("div", "choices", choice(piece.planned, Some(format!("buy-{id}")), "In the buy".into(), planned)) }
        </li>
    }
}
