//! What the maker changed of a pattern's parts: each can be taken back.

use crate::state::{Dispatch, Edit, on};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{Override, WorkEdit};
use offsquare_work::save::Bench;
use yew::prelude::*;

pub fn overrides(bench: &Bench, piece: u32, dispatch: &Dispatch) -> Html {
    let Some(of) = bench.work.piece(piece).filter(|p| !p.overrides.is_empty()) else {
        return html! {};
    };
    let strays = bench.work.strays(piece, &bench.shop);
    let row = |(at, over): (usize, &Override)| {
        let back = Edit::Work(WorkEdit::AsMade { piece, at, key: None });
        let stray = strays.iter().find(|s| s.0 == at).map(|s| s.1.clone());
        let name = match over.line() {
            0 => over.part.clone(),
            n => format!("{} ({})", over.part, n + 1),
        };
        html! {
            <li key={at.to_string()} data-test="override">
                { tag("b", "", txt(name)) }
                { tag("small", "", txt(words(over))) }
                { each(stray.map(|why| tag("p", "caution", txt(why)))) }
                { key("key", Some("as-made"), "As the pattern has it".into(), false, on(dispatch, back)) }
            </li>
        }
    };
    html! {
        <>
            { tag("h2", "section", txt("Changed by you")) }
            <ul class="recent overridden">{ each(of.overrides.iter().enumerate().map(row)) }</ul>
        </>
    }
}

fn words(over: &Override) -> String {
    if over.count == Some(0) {
        return "left out".to_owned();
    }
    let name = |key: &str| match key {
        "left" => "left end",
        "right" => "right end",
        "length" => "length",
        "stock" => "stock",
        _ => "count",
    };
    over.keys().into_iter().map(name).gather().join(", ")
}
