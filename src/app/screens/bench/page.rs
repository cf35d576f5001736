//! The bench as a page.

use super::lengths::tape;
use super::pieces::{MyPieces, of_parts_only};
use super::questions::Questions;
use super::recent::recent_answers;
use crate::screens::layout::more;
use crate::screens::work::run_begun;
use crate::state::{Coming, Dispatch, Edit, Late, Part, Route, on};
use crate::widgets::coming::coming;
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{icon_key, word_key};
use crate::widgets::tags::{each, fold, tag, txt};
use offsquare_work::patterns::IDS;
use offsquare_work::piece::Shop;
use offsquare_work::save::{Bench, Recent};
use std::rc::Rc;
use yew::prelude::*;

pub fn bench_page(bench: &Rc<Bench>, can_undo: bool, late: Late, dispatch: &Dispatch) -> Html {
    let send = |edit: Edit| on(dispatch, edit);
    html! {
        <div class="page bench" key="bench">
            <header class="masthead">
                <svg class="mark" viewBox="0 0 40 40" aria-hidden="true">
                    <path class="fig-frame" d="M4 4 V36 H36" />
                    <path class="fig-cut" d="M4 36 L30 8" />
                    <path class="fig-given" d="M4 20 A16 16 0 0 1 15 24.2" />
                </svg>
                <div class="name">
                    { tag("h1", "", txt("Offsquare")) }
                    // Shown by the style sheet once, when `boot.js` first finds every file stored.
                    <p class="offline-said" role="status">{ tag("span", "", txt("Works offline now")) }</p>
                </div>
                { icon_key(Glyph::Undo, "Undo", None, !can_undo, send(Edit::Undo)) }
                { word_key(Glyph::Shop, "Shop", "Shop: my saw, units, paper", Some("shop"), send(Edit::Go(Route::Shop))) }
            </header>
            <div class="tape" aria-hidden="true"></div>
            <nav class="places" aria-label="Places">
                <a data-test="parts" href="#/parts">{ tag("b", "", txt("Parts")) }{ tag("small", "", txt(counted(bench))) }</a>
                <a data-test="boards" href="#/boards">{ tag("b", "", txt("Boards")) }{ tag("small", "", txt("what to buy, how to cut it")) }</a>
            </nav>
            { each(run_begun(bench)) }
            <MyPieces bench={bench.clone()} />
            // Its room is kept free until the patterns come.
            <nav class="starts" aria-label="Start a piece">
                { tag("h2", "section", txt("Start a piece")) }
                { match (more(), late.more) {
                    (Some(more), _) => (more.starts)(&bench.shop),
                    (None, Coming::Missing) => coming(Part::More, late.more, dispatch),
                    _ => html! { <ul class="pieces">{ each(IDS.iter().map(|_| html! { <li></li> })) }</ul> },
                } }
                { of_parts_only(dispatch) }
                // It stands there from the first, so that nothing is moved when they come.
                { fold("Examples: a copy is yours to change", each(more().map(|more| (more.examples)(&bench.shop, dispatch)))) }
            </nav>
            <Tables recent={bench.recent.clone()} lengths={bench.lengths.clone()} shop={bench.shop.clone()} {late} dispatch={dispatch.clone()} />
        </div>
    }
}

/// The bench of a first visit, by itself.
#[cfg(feature = "ssr")]
#[component]
pub fn FirstBench() -> Html {
    let store = use_reducer(|| crate::state::Store::new(Bench::default(), Route::Bench));
    bench_page(&store.bench, false, Late::default(), &store.dispatcher())
}

#[derive(Properties, PartialEq)]
struct TablesProps {
    recent: Vec<Recent>,
    lengths: Vec<String>,
    shop: Shop,
    /// What comes has its words here.
    late: Late,
    dispatch: Dispatch,
}

/// A maker's own answers and sums before the questions, where there are some; nothing changes its place while it is
/// looked at.
#[component]
fn Tables(props: &TablesProps) -> Html {
    let own = use_memo((), |()| (!props.recent.is_empty(), !props.lengths.is_empty()));
    let (answers_first, sums_first) = *own;
    let (shop, dispatch) = (&props.shop, &props.dispatch);
    let answers = || recent_answers(&props.recent, &shop.style(), dispatch);
    let sums = || tape(&props.lengths, shop, dispatch);
    html! {
        <main>
            if answers_first { { answers() } }
            if sums_first { { sums() } }
            <Questions shop={shop.clone()} late={props.late} />
            if !answers_first { { answers() } }
            if !sums_first { { sums() } }
        </main>
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
