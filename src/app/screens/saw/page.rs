//! The place at the saw: before a run, in one, and at its end.

use super::at::{At, Raised, SawProps};
use super::card::{card, done_key};
use super::line::use_walk;
use super::more::more_sheet;
use super::start::start;
use crate::io::awake::{Awake, keep_awake};
use crate::io::speech;
use crate::screens::faces::{faces, href};
use crate::state::{Dispatch, Face, Part, sender};
use crate::widgets::coming::coming;
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{back_to, icon_key, key, word_key};
use crate::widgets::step::use_step_under;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_work::piece::{Begun, WorkEdit};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[component]
pub fn SawPage(props: &SawProps) -> Html {
    let send = sender(&props.dispatch);
    let Some(begun) = &props.bench.work.begun else {
        return html! {
            <div class="page" key="saw">
                { crate::screens::parts::head("Saw", "#/", "Back to the bench", props.can_undo, props.can_redo, &send) }
                { faces(props.piece, Face::Saw) }
                { start(props, &send) }
            </div>
        };
    };
    if begun.of.sources.iter().any(|s| s.draft.layout().is_none()) {
        return html! {
            <div class="page" key="coming">
                { crate::screens::parts::head("Saw", "#/", "Back to the bench", props.can_undo, props.can_redo, &send) }
                { tag("main", "list", coming(Part::More, props.patterns, &props.dispatch)) }
            </div>
        };
    }
    html! {
        <Run key="run" dispatch={props.dispatch.clone()} piece={props.piece} bench={props.bench.clone()} begun={begun.clone()} />
    }
}

#[derive(Properties, PartialEq)]
struct RunProps {
    dispatch: Dispatch,
    piece: u32,
    bench: Rc<Bench>,
    begun: Begun,
}

#[hook]
fn use_awake() -> Awake {
    let awake = use_state_eq(|| Awake::Asking);
    {
        let awake = awake.setter();
        use_effect_with((), move |()| {
            let held = keep_awake(move |now| awake.set(now));
            move || {
                drop(held);
                speech::hush();
            }
        });
    }
    *awake
}

#[component]
fn Run(props: &RunProps) -> Html {
    let send = sender(&props.dispatch);
    let raised = use_state_eq(|| None::<Raised>);
    let voice = use_state_eq(|| "");
    let awake = use_awake();
    let begun = &props.begun;
    let walk = use_walk(begun).unwrap_or_default();
    let raise = {
        let raised = raised.setter();
        Callback::from(move |to: Option<Raised>| raised.set(to))
    };
    let lower = {
        let raise = raise.clone();
        Callback::from(move |()| raise.emit(None))
    };
    use_step_under(raised.is_some(), &lower);
    let next = walk.next(begun);
    {
        // Another step is another text.
        let voice = voice.setter();
        use_effect_with(next, move |_| voice.set(""));
    }
    let say = {
        let voice = voice.setter();
        Callback::from(move |words| voice.set(words))
    };
    let (all, done) = (walk.stages.len(), walk.done(begun));
    let at = At {
        bench: &props.bench,
        begun,
        walk: &walk,
        next,
        send: &send,
        raise: &raise,
        awake,
        voice: *voice,
        say: &say,
    };
    let count = match next {
        Some(_) => format!("{} of {all}", done + 1),
        None => format!("All {all} done"),
    };
    let none = begun.done.is_empty() && begun.skips.is_empty();
    let undo = at.work(WorkEdit::Untick);
    html! {
        <div class="saw-run">
            <header class="top">
                { back_to(&href(props.piece, Face::Boards), "Back to the boards") }
                <h1><span data-test="count">{ count }</span>{ sign(awake) }</h1>
                { icon_key(Glyph::Undo, "Take the last step back", Some("untick"), none, undo) }
                { word_key(Glyph::Down, "More", "More: skip, read aloud, gauge, test cut, paper", Some("more"), at.raise(Some(Raised::More))) }
            </header>
            <main class="saw-card">
                <div role="status">{ newest_skip(&at) }</div>
                { match next.and_then(|n| walk.stages.get(n)) {
                    Some(stage) => card(&at, stage),
                    None => finished(&at),
                } }
            </main>
            { each(next.and_then(|n| walk.stages.get(n)).map(|stage| done_key(&at, stage))) }
            { each(raised.map(|sheet| more_sheet(&at, sheet))) }
        </div>
    }
}

/// Whether the screen stays on, in a word.
fn sign(awake: Awake) -> Html {
    let (test, words) = match awake {
        Awake::Asking => ("asking", ""),
        Awake::Held => ("held", "screen stays on"),
        Awake::Refused | Awake::Missing => ("not", "screen may sleep"),
    };
    html! { <small class="awake" data-test="awake" data-awake={test}>{ words }</small> }
}

/// What was skipped, until the next step is done.
fn newest_skip(at: &At) -> Html {
    let Some(last) = at.begun.skips.last() else { return html! {} };
    if !last.open && (last.after as usize) < at.begun.done.len() {
        return html! {};
    }
    let words = at.walk.skipped(at.begun, at.begun.skips.len() - 1, &at.bench.shop.style());
    html! { <p class="caution" data-test="skipped">{ words }</p> }
}

/// All steps are done.
fn finished(at: &At) -> Html {
    let waits = at.begun.open().is_some();
    let outcome = at.walk.outcome(at.begun);
    let made: u32 = outcome.made.values().sum();
    let kept: u32 = outcome.put_away.iter().flat_map(|p| &p.kept).map(|o| o.count).sum();
    let end = at.work(WorkEdit::EndRun(Box::new(outcome)));
    let words = format!(
        "Every cut is ticked off. {made} parts count as cut, and {kept} leftovers come to the rack."
    );
    list(vec![
        tag("h2", "", txt("All is cut")),
        tag("p", "said", txt(words)),
        tag(
            "div",
            "actions",
            key("primary", Some("end-run"), "Put it all away".into(), waits, end),
        ),
    ])
}
