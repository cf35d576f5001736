//! The bench as a page.

use super::lengths::Lengths;
use super::questions::Questions;
use super::recent::RecentAnswers;
use crate::app::Dispatch;
use crate::parts::icon::{Glyph, icon};
use crate::state::{Edit, Route};
use offsquare_core::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct BenchProps {
    pub bench: Rc<Bench>,
    pub can_undo: bool,
}

#[component]
pub fn BenchPage(props: &BenchProps) -> Html {
    let dispatch = use_context::<Dispatch>();
    let send = |edit: Edit| {
        let dispatch = dispatch.clone();
        Callback::from(move |_: MouseEvent| {
            if let Some(d) = &dispatch {
                d.dispatch(edit.clone());
            }
        })
    };
    let bench = &props.bench;
    html! {
        <div class="page bench">
            <header class="masthead">
                <svg class="mark" viewBox="0 0 40 40" aria-hidden="true">
                    <path class="fig-frame" d="M4 4 V36 H36" />
                    <path class="fig-cut" d="M4 36 L30 8" />
                    <path class="fig-given" d="M4 20 A16 16 0 0 1 15 24.2" />
                </svg>
                <div class="name">
                    <h1>{ "Offsquare" }</h1>
                    // Shown by the style sheet once, when `boot.js` first finds every file stored.
                    <p class="offline-said" role="status"><span>{ "Works offline now" }</span></p>
                </div>
                <button aria-label="Undo" disabled={!props.can_undo} onclick={send(Edit::Undo)}>
                    { icon(Glyph::Undo) }
                </button>
                <button data-test="shop" aria-label="Shop: my saw, units, paper" onclick={send(Edit::Go(Route::Shop))}>
                    { icon(Glyph::Shop) }
                </button>
            </header>
            <div class="tape" aria-hidden="true"></div>
            <nav class="places" aria-label="Places">
                <a data-test="parts" href="#/parts"><b>{ "Parts" }</b><small>{ counted(bench) }</small></a>
                <a data-test="boards" href="#/boards"><b>{ "Boards" }</b><small>{ "what to buy, how to cut it" }</small></a>
            </nav>
            <main>
                <Questions shop={bench.shop.clone()} />
                if !bench.recent.is_empty() {
                    <RecentAnswers recent={bench.recent.clone()} />
                }
                <Lengths lines={bench.lengths.clone()} shop={bench.shop.clone()} />
            </main>
        </div>
    }
}

/// How many parts wait to be cut.
fn counted(bench: &Bench) -> String {
    let open = bench.work.parts.iter().filter(|e| !e.done);
    match open.map(|e| e.count).fold(0, u32::saturating_add) {
        0 => "what has to be cut".to_owned(),
        1 => "1 to cut".to_owned(),
        n => format!("{n} to cut"),
    }
}
