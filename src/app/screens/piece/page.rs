//! A piece without a pattern: its layouts, and what else is told of it.

use super::about::about;
use crate::screens::faces::{faces, href};
use crate::screens::parts::{head, title};
use crate::state::{Dispatch, Edit, Face, Store, on, sender};
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::patterns;
use offsquare_work::piece::Source;
use yew::prelude::*;

pub fn piece_page(store: &Store, piece: u32, dispatch: &Dispatch) -> Html {
    let work = &store.bench.work;
    let sources = work.sources.iter().filter(|s| s.piece == piece).gather();
    let style = store.bench.shop.style();
    let row = |source: &&Source| {
        let name = patterns::question(&source.draft.layout).unwrap_or("A layout");
        html! {
            <li key={source.id.to_string()}>
                <button data-test="source" onclick={on(dispatch, Edit::TakeUp(source.id))}>
                    { tag("b", "", txt(name)) }
                    { tag("small", "", txt(source.draft.in_words(&style))) }
                </button>
            </li>
        }
    };
    html! {
        <div class="page" key="piece">
            { head(title(work, piece), "#/", "Back to the bench", store.can_undo(), store.can_redo(), &sender(dispatch)) }
            { faces(piece, Face::Piece) }
            <main class="list">
                { tag("h2", "section", txt("Its layouts")) }
                if sources.is_empty() {
                    { tag("p", "said", txt("None yet. Answer a question on the bench and add its parts to this piece, or type the parts.")) }
                } else {
                    <ul class="recent">{ each(sources.iter().map(row)) }</ul>
                }
                <div class="actions">
                    <a class="key link" href="#/">{ "The questions" }</a>
                    <a class="key link" href={href(piece, Face::Parts)}>{ "Its parts" }</a>
                </div>
                { about(store, piece, dispatch) }
            </main>
        </div>
    }
}
