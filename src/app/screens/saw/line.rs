//! A run that is begun, told on other screens, with the way back to it.

use crate::screens::faces::href;
use crate::state::Face;
use crate::widgets::tags::{tag, txt};
use offsquare_work::piece::{Begun, Frozen, Skip};
use offsquare_work::save::Bench;
use offsquare_work::walk::Walk;
use std::rc::Rc;
use yew::prelude::*;

/// What the steps follow from: none of the ticks.
struct Of(Rc<Frozen>, Vec<Skip>, bool);

impl PartialEq for Of {
    fn eq(&self, other: &Of) -> bool {
        Rc::ptr_eq(&self.0, &other.0) && (&self.1, self.2) == (&other.1, other.2)
    }
}

/// The steps of a run; none while a layout that its parts are of is still to come.
#[hook]
pub fn use_walk(begun: &Begun) -> Option<Rc<Walk>> {
    let here = begun.of.sources.iter().all(|s| s.draft.layout().is_some());
    let of = Of(begun.of.clone(), begun.skips.clone(), here);
    let walk = use_memo(of, |_| here.then(|| Rc::new(Walk::of(begun))));
    (*walk).clone()
}

/// The run, where there is one: on the bench, or on a piece that is cut in it.
pub fn run_line(bench: &Bench, piece: Option<u32>) -> Html {
    let Some(begun) = &bench.work.begun else { return html! {} };
    let cut = |id: u32| begun.of.parts.iter().any(|e| e.piece == id);
    let first = begun.of.parts.first().map(|e| e.piece);
    let Some(piece) = piece.or(first).filter(|id| cut(*id)) else { return html! {} };
    html! { <RunLine key="at-the-saw" begun={begun.clone()} {piece} /> }
}

#[derive(Properties, PartialEq)]
struct RunLineProps {
    begun: Begun,
    piece: u32,
}

#[component]
fn RunLine(props: &RunLineProps) -> Html {
    let begun = &props.begun;
    let words = match use_walk(begun).map(|walk| (walk.done(begun), walk.stages.len())) {
        Some((done, all)) if done == all => format!("all {all} steps done"),
        Some((done, all)) => format!("{done} of {all} steps done"),
        None => "go on".to_owned(),
    };
    html! {
        <nav class="places run" aria-label="The run at the saw">
            <a data-test="at-the-saw" href={href(props.piece, Face::Saw)}>
                { tag("b", "", txt("Go on at the saw")) }
                { tag("small", "", txt(words)) }
            </a>
        </nav>
    }
}
