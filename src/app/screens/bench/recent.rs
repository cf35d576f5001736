//! The last answers with their date; a tap opens one again.

use crate::io::browser;
use crate::state::{Dispatch, Edit, on};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::keys::icon_key;
use crate::widgets::tags::{each, fold, tag, txt};
use offsquare_units::Style;
use offsquare_work::patterns;
use offsquare_work::save::Recent;
use yew::prelude::*;

/// How many stand there at once, pinned ones first; the others are folded.
const SEEN: usize = 3;

pub fn recent_answers(recent: &[Recent], style: &Style, dispatch: &Dispatch) -> Html {
    if recent.is_empty() {
        return html! {};
    }
    let all = 0..recent.len();
    let (mut order, others): (Vec<usize>, Vec<usize>) = all.partition(|i| recent[*i].pinned);
    order.extend(others);
    let (seen, rest) = order.split_at(SEEN.min(order.len()));
    let rows = |of: &[usize]| {
        html! { <ul class="recent answers">{ each(of.iter().map(|i| row(recent, *i, style, dispatch))) }</ul> }
    };
    html! {
        <section>
            { tag("h2", "section", txt("Recent answers")) }
            { rows(seen) }
            if !rest.is_empty() { { fold("Earlier answers", rows(rest)) } }
        </section>
    }
}

/// One of them: the question, the sizes and the day, what came out.
fn row(recent: &[Recent], i: usize, style: &Style, dispatch: &Dispatch) -> Html {
    let send = |edit: Edit| on(dispatch, edit);
    let r = &recent[i];
    let question = patterns::question(&r.draft.layout).unwrap_or("Piece");
    html! {
        <li>
            <button data-test="reopen" onclick={send(Edit::Open(r.draft.clone()))}>
                { tag("b", "", txt(question)) }
                { tag("small", "", txt([r.draft.in_words(style), browser::date(r.at_ms)].join(" · "))) }
                { &r.line }
            </button>
            <button class={classes!(r.pinned.then_some("on"))} aria-pressed={r.pinned.to_string()}
                aria-label="Keep on top" onclick={send(Edit::Pin(i))}>{ icon(Glyph::Pin) }</button>
            { icon_key(Glyph::Close, "Remove (can be undone)", None, false, send(Edit::Forget(i))) }
        </li>
    }
}
