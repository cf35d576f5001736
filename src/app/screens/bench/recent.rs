//! The last answers with their date; a tap opens one again.

use crate::io::browser;
use crate::state::{Dispatch, Edit, on};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::keys::icon_key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::Style;
use offsquare_work::save::Recent;
use yew::prelude::*;

pub fn recent_answers(recent: &[Recent], style: &Style, dispatch: &Dispatch) -> Html {
    let send = |edit: Edit| on(dispatch, edit);
    // Pinned ones stand first.
    let all = 0..recent.len();
    let (pinned, others): (Vec<usize>, Vec<usize>) = all.partition(|i| recent[*i].pinned);
    html! {
        <section>
            { tag("h2", "section", txt("Recent answers")) }
            <ul class="recent">
                { each(pinned.into_iter().chain(others).map(|i| {
                    let r = &recent[i];
                    let question = r.draft.layout().map_or("", |l| l.question());
                    html! {
                        <li>
                            <button data-test="reopen" onclick={send(Edit::Open(r.draft.clone()))}>
                                { &r.line }
                                { tag("small", "", txt(format!("{} · {question} · {}", r.draft.in_words(style), browser::date(r.at_ms)))) }
                            </button>
                            <button class={classes!(r.pinned.then_some("on"))} aria-pressed={r.pinned.to_string()}
                                aria-label="Keep on top" onclick={send(Edit::Pin(i))}>{ icon(Glyph::Pin) }</button>
                            { icon_key(Glyph::Close, "Remove (can be undone)", None, false, send(Edit::Forget(i))) }
                        </li>
                    }
                })) }
            </ul>
        </section>
    }
}
