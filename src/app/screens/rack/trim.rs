//! How much raw ends give up: asked once.

use crate::state::Edit;
use crate::widgets::keys::choice;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::{length_text, say};
use offsquare_work::piece::{Row, WorkEdit};
use offsquare_work::rack::Rack;
use offsquare_work::save::Bench;
use yew::prelude::*;

/// Nothing where it has been answered.
pub fn trim_question(bench: &Bench, send: &Callback<Edit>) -> Html {
    if bench.work.rack.trim.is_some() {
        return html! {};
    }
    let unit = bench.shop.unit;
    let answer = |trim: offsquare_units::Length| {
        let (send, text) = (send.clone(), length_text(trim, unit));
        let tap = Callback::from(move |_: MouseEvent| {
            let edit = WorkEdit::Rack { row: Row::Settings, key: "trim", text: text.clone() };
            send.emit(Edit::Work(edit));
        });
        let words = match trim.0 > 0.0 {
            true => say!(trim).render(&bench.shop.style()),
            false => "Nothing".to_owned(),
        };
        choice(false, Some(format!("trim-{}", length_text(trim, unit))), words.into(), tap)
    };
    html! {
        <section class="asked" data-test="trim-question">
            { tag("p", "", txt("How much do you cut off each end of a new board before you use it?")) }
            { tag("div", "choices", each(Rack::usual_trims(unit).map(answer))) }
        </section>
    }
}
