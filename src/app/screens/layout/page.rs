//! A layout as a page: head, forms, drawing, ways, the form in words, the answer strip.

use super::back::{Back, back_sheet};
use super::card::{Card, saw_card};
use super::drawing::Drawing;
use super::edit::{EditBar, FieldRef};
use super::fields::{Fields, agreeing, fields};
use super::look::{Look, Turn, turn};
use super::paper::paper_sheet;
use super::solid::SolidView;
use super::strip::{Strip, mark, strip};
use super::view::{cautions, chosen, chosen_index};
use super::ways::ways;
use crate::app::{Dispatch, on};
use crate::io::browser;
use crate::parts::amount::sentence;
use crate::parts::icon::{Glyph, icon};
use crate::parts::keys::{choice, icon_key, key};
use crate::parts::tags::{each, tag, txt};
use crate::state::{Edit, Shown};
use offsquare_cuts::facts::caution;
use offsquare_units::num::Gather;
use offsquare_work::piece::{Draft, Shop, WorkEdit};
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct LayoutProps {
    pub dispatch: Dispatch,
    pub layout: &'static str,
    pub draft: Draft,
    pub shown: Rc<Shown>,
    pub shop: Shop,
    pub can_undo: bool,
    pub can_redo: bool,
    /// The parts list has this answer's parts and follows them.
    pub in_parts: bool,
    /// Why the list cannot take the answer's parts, if it cannot.
    pub no_room: Option<String>,
}

/// Sheets that rise over the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Raised {
    Card,
    Back,
    Paper,
}

#[component]
pub fn LayoutPage(props: &LayoutProps) -> Html {
    let dispatch = &props.dispatch;
    let look = use_reducer(Look::default);
    let turns = look.dispatcher();
    // Sizes that come without an answer are mended in words: there is no drawing to tap.
    let unfolded = use_state(|| browser::is_wide() || props.shown.answer().is_none());
    let lower = {
        let turns = turns.clone();
        Callback::from(move |()| turns.dispatch(Turn::Lower))
    };
    {
        let lower = lower.clone();
        use_effect_with(look.over(), move |up| {
            let heard = if *up {
                browser::raise_step();
                browser::on_step_taken(move || lower.emit(()))
            } else {
                // The page may have been loaded anew under it, too.
                browser::lower_step();
                None
            };
            move || drop(heard)
        });
    }
    {
        // Another form has other cuts.
        let turns = turns.clone();
        use_effect_with(props.draft.form.clone(), move |_| turns.dispatch(Turn::Cut(None)));
    }
    {
        // An answer is worth remembering when the screen is left with it, by whatever way.
        let (dispatch, layout) = (dispatch.clone(), props.layout);
        use_effect_with((), move |()| {
            move || {
                dispatch.dispatch(Edit::Remember {
                    layout,
                    at_ms: browser::now_ms(),
                    pinned: false,
                    left: true,
                });
            }
        });
    }
    let (Some(layout), Some(form)) = (props.draft.layout(), props.draft.form()) else {
        return html! {};
    };
    let id = props.layout;
    let send = {
        let dispatch = dispatch.clone();
        move |edit: Edit| {
            dispatch.dispatch(edit);
        }
    };
    let on = |edit: Edit| on(dispatch, edit);
    let all: Vec<FieldRef> = form.fields.iter().chain(form.also).map(FieldRef).gather();
    let answer = props.shown.answer().map(|(a, old)| (a.clone(), old));
    let style = props.shop.style();
    let go = {
        let turns = turns.clone();
        Callback::from(move |key| turns.dispatch(Turn::Edit(key)))
    };
    let used = {
        let send = send.clone();
        Callback::from(move |pinned| {
            send(Edit::Remember { layout: id, at_ms: browser::now_ms(), pinned, left: false });
        })
    };
    let pick_way = {
        let turns = turns.clone();
        Callback::from(move |way| {
            turns.dispatch(Turn::Cut(None));
            send(Edit::Way { layout: id, way });
        })
    };
    let give = props
        .draft
        .give
        .as_deref()
        .and_then(|g| form.gives.iter().copied().find(|k| *k == g))
        .or(form.gives.first().copied());
    let now = props.shown.now.clone();
    let mut general: Vec<_> = now
        .problems
        .iter()
        .filter(|p| p.field().is_none_or(|f| Some(f) != look.editing))
        .cloned()
        .gather();
    // Said of each of two parts alike, it is one sentence.
    general.dedup_by(|a, b| a.text == b.text);
    let old = answer.as_ref().is_none_or(|(_, old)| *old);
    let parts = to_parts(props, old, on(Edit::Work(WorkEdit::Follow(props.draft.clone()))));
    let way = answer.as_ref().and_then(|(a, _)| chosen(a, &props.draft)).map(|s| s.solution.way);
    let doubt = way.and_then(|way| now.doubt(way));
    // The bar of the size that is being typed has its own sentences.
    let said = doubt.and_then(|p| p.field()).is_some_and(|f| look.editing == Some(f));
    // The keypad's step in the history is not left behind.
    let leave = look.over().then(|| {
        Callback::from(|e: MouseEvent| {
            e.prevent_default();
            browser::go_instead("#/");
        })
    });
    let class = classes!(
        "layout",
        look.editing.is_some().then_some("editing"),
        old.then_some("old"),
        (!old && doubt.is_some()).then_some("doubt")
    );
    html! {
        <div {class}>
            <header class="top">
                <a href="#/" aria-label="Back to the bench" data-test="back" onclick={leave}>{ icon(Glyph::Back) }</a>
                { tag("h1", "", txt(layout.question())) }
                { icon_key(Glyph::Undo, "Undo", Some("undo"), !props.can_undo, on(Edit::Undo)) }
                { icon_key(Glyph::Redo, "Redo", None, !props.can_redo, on(Edit::Redo)) }
                <button aria-label="Full-size template" data-test="paper" onclick={turn(&turns, Turn::Raise(Raised::Paper))}>{ icon(Glyph::Paper) }</button>
            </header>
            if layout.forms().len() > 1 {
                <nav class="forms" aria-label="What is asked">
                    { each(layout.forms().iter().map(|f| {
                        choice(f.id == form.id, Some(format!("form-{}", f.id)), f.label.into(), on(Edit::Form { layout: id, form: f.id }))
                    })) }
                </nav>
            }
            <main class="work">
                <div class="picture">
                    if let Some((a, _)) = &answer {
                        <Drawing answer={a.clone()} draft={props.draft.clone()} dispatch={dispatch.clone()} shop={props.shop.clone()}
                            editing={look.editing} {give} go={go.clone()} />
                        { ways(a, chosen_index(a, &props.draft), &props.shop, &pick_way) }
                        if chosen(a, &props.draft).is_some_and(|s| !s.solution.solids.is_empty()) {
                            <SolidView answer={a.clone()} draft={props.draft.clone()} />
                        }
                    }
                </div>
                <div>
                    { each(general.iter().map(|p| html! {
                        <>
                            // The mark over the answer says it already, in sight.
                            if said || doubt.is_none_or(|d| d.text != p.text) {
                                <p class="wrong" role="status">{ sentence(&p.text, &style) }</p>
                            }
                            if !p.agree.is_empty() { { agreeing(p, id, dispatch, &all, style) } }
                        </>
                    })) }
                    <details class="more" open={*unfolded}>
                        <summary data-test="fields">{ "All sizes, in words" }</summary>
                        { fields(&Fields { layout: id, dispatch, fields: &all, now: &now, shop: &props.shop, give, gives: form.gives }) }
                        { tag("div", "actions", key("key", Some("fresh"), "Start fresh".into(), false, on(Edit::Fresh(id)))) }
                    </details>
                    { parts.clone() }
                    if props.draft.turned().is_some() {
                        { tag("div", "actions", key("key", Some("turn"), "Swap size seen and thickness".into(), false, on(Edit::Turn(id)))) }
                    }
                    if let Some(s) = answer.as_ref().and_then(|(a, _)| chosen(a, &props.draft)) {
                        { each(s.solution.standing.iter().map(|t| tag("p", "said", sentence(&props.shop.saw.standing(t), &style)))) }
                        { each(s.solution.notes.iter().map(|t| tag("p", "said", sentence(t, &style)))) }
                        { each(cautions(s, &props.shop).iter().map(|c| tag("p", "caution", sentence(&caution(*c), &style)))) }
                    }
                </div>
            </main>
            <footer class="strip" aria-label="Answer">
                <div class="tape" aria-hidden="true"></div>
                if let Some((a, old)) = &answer {
                    { strip(&Strip { answer: a, mark: mark(*old, doubt, said, &style), draft: &props.draft, shop: &props.shop, look: &look, turns: &turns, used }) }
                }
                if let Some(key_of) = look.editing {
                    <EditBar layout={id} {key_of} dispatch={dispatch.clone()} fields={all}
                        now={now.clone()} shop={props.shop.clone()} go={go.clone()} />
                }
            </footer>
            { match (look.raised, &answer) {
                (Some(Raised::Card), Some((a, _))) => saw_card(&Card { dispatch, answer: a, draft: &props.draft, shop: &props.shop, look: &look, turns: &turns,
                    to_parts: parts, close: lower }),
                (Some(Raised::Back), Some((a, _))) => back_sheet(&Back { dispatch, answer: a, draft: &props.draft, shop: &props.shop, give, gives: form.gives, close: lower }),
                (Some(Raised::Paper), Some((a, _))) => paper_sheet(a, &props.draft, &props.shop, lower),
                _ => html! {},
            } }
        </div>
    }
}

/// The answer's parts for the parts list, or the way to them.
fn to_parts(props: &LayoutProps, old: bool, add: Callback<MouseEvent>) -> Html {
    let has_parts = props
        .shown
        .answer()
        .and_then(|(a, _)| chosen(a, &props.draft))
        .is_some_and(|s| !s.solution.parts.is_empty());
    if !has_parts {
        return html! {};
    }
    html! {
        <div class="actions" role="status">
            if props.in_parts {
                <a class="key link" data-test="in-parts" href="#/parts">{ "In your parts: they follow these sizes" }</a>
            } else if let Some(why) = &props.no_room {
                { tag("p", "caution", txt(why.clone())) }
            } else {
                { key("key", Some("add-to-parts"), "Add to parts".into(), old, add) }
            }
        </div>
    }
}
