//! A layout as a page: head, forms, drawing, ways, the form in words, the answer strip.

use super::back::Back;
use super::card::Card;
use super::drawing::Drawing;
use super::edit::{EditBar, FieldRef};
use super::fields::{Fields, fields, mends};
use super::look::{Look, Raised, Turn, Turns, turn};
use super::more::more;
use super::piece::Sight;
use super::strip::{Strip, mark, strip};
use super::to_parts::{ToParts, ToPartsProps};
use super::view::{SharedAnswer, cautions, chosen, chosen_index, cut_index, cuts};
use super::ways::ways;
use crate::io::browser;
use crate::screens::faces::{faces, pattern_faces};
use crate::screens::work::gauge_sheet;
use crate::state::{Dispatch, Edit, Face, Late, Part, ShownAnswer, on};
use crate::widgets::amount::sentence;
use crate::widgets::coming::coming;
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{back, choice, icon_key, key, word_key};
use crate::widgets::later::use_painted;
use crate::widgets::sheet::Sheet;
use crate::widgets::step::use_step_under;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::facts::caution;
use offsquare_cuts::layouts::{Form, Layout};
use offsquare_cuts::problem::Problem;
use offsquare_units::num::Gather;
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Piece, Shop};
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct LayoutProps {
    pub dispatch: Dispatch,
    pub layout: &'static str,
    pub draft: Draft,
    pub shown: Rc<ShownAnswer>,
    pub shop: Shop,
    pub can_undo: bool,
    pub can_redo: bool,
    /// The piece that these sizes drive.
    pub piece: Option<Piece>,
    /// What else is told of it.
    pub about: Option<Html>,
    /// Every piece's id and name, to put the answer's parts into.
    pub pieces: Vec<(u32, String)>,
    /// The piece that has this answer's parts and follows them.
    pub in_parts: Option<u32>,
    /// Why the list cannot take the answer's parts, if it cannot.
    pub no_room: Option<String>,
    pub late: Late,
    /// The parts wait for the list to take them.
    pub waits: bool,
}

/// An answer is worth remembering when the screen is left with it, by whatever way.
#[hook]
fn use_remembered(dispatch: &Dispatch, layout: &'static str) {
    let dispatch = dispatch.clone();
    use_effect_with((), move |()| {
        move || {
            let at_ms = browser::now_ms();
            dispatch.dispatch(Edit::Remember { layout, at_ms, pinned: false, left: true });
        }
    });
}

/// The question with the keys that stand above every form.
fn head(props: &LayoutProps, question: &'static str, turns: &Turns) -> Html {
    let on = |edit: Edit| on(&props.dispatch, edit);
    let name = props.piece.as_ref().map(|p| p.called());
    html! {
        <header class="top">
            { back("#/", "Back to the bench") }
            { tag("h1", "", name.map_or_else(|| txt(question), txt)) }
            { icon_key(Glyph::Undo, "Undo", Some("undo"), !props.can_undo, on(Edit::Undo)) }
            { icon_key(Glyph::Redo, "Redo", None, !props.can_redo, on(Edit::Redo)) }
            { word_key(Glyph::Paper, "Paper", "Paper: full-size template", Some("paper"), turn(turns, Turn::Raise(Raised::Paper))) }
        </header>
    }
}

/// Which of the layout's questions is asked.
fn forms(props: &LayoutProps, layout: &'static dyn Layout, form: &Form) -> Html {
    let on = |edit: Edit| on(&props.dispatch, edit);
    let id = props.layout;
    html! {
        <>
        if let Some(piece) = &props.piece {
            { faces(piece.id, Face::Piece) }
        } else if patterns::IDS.contains(&id) {
            { pattern_faces(id, &props.dispatch) }
        }
        if layout.forms().len() > 1 {
            <nav class="forms" aria-label="What is asked">
                { each(layout.forms().iter().map(|f| {
                    choice(f.id == form.id, Some(format!("form-{}", f.id)), f.label.into(), on(Edit::Form { layout: id, form: f.id }))
                })) }
            </nav>
        }
        </>
    }
}

/// Why the answer that is shown is in doubt.
fn doubt(props: &LayoutProps) -> Option<&Problem> {
    let (answer, _) = props.shown.answer()?;
    props.shown.now.doubt(chosen(answer, &props.draft)?.solution.way)
}

/// The bar of the size that is being typed has its own sentences.
fn said_below(doubt: Option<&Problem>, editing: Option<&'static str>) -> bool {
    doubt.and_then(|p| p.field()).is_some_and(|f| editing == Some(f))
}

/// Problems, all sizes, and what is said of the answer.
fn in_words(
    props: &LayoutProps,
    form: &'static Form,
    all: &[FieldRef],
    give: Option<&'static str>,
    editing: Option<&'static str>,
    unfolded: bool,
    parts: Html,
) -> Html {
    let (id, dispatch, now) = (props.layout, &props.dispatch, &props.shown.now);
    let on = |edit: Edit| on(dispatch, edit);
    let style = props.shop.style();
    let mut general: Vec<_> = now
        .problems
        .iter()
        .filter(|p| p.field().is_none_or(|f| Some(f) != editing))
        .cloned()
        .gather();
    // Said of each of two parts alike, it is one sentence.
    general.dedup_by(|a, b| a.text == b.text);
    let doubt = doubt(props);
    let said = said_below(doubt, editing);
    html! {
        <div>
            { each(general.iter().map(|p| html! {
                <>
                    // The mark over the answer says it already, in sight, with what mends it.
                    if said || doubt.is_none_or(|d| d.text != p.text) {
                        <p class="wrong" role="status">{ sentence(&p.text, &style) }</p>
                        { mends(p, id, dispatch, all, style) }
                    }
                </>
            })) }
            <details class="more" open={unfolded}>
                <summary data-test="fields">{ "All sizes, in words" }</summary>
                { fields(&Fields { layout: id, dispatch, fields: all, now, shop: &props.shop, give, gives: form.gives }) }
                { tag("div", "actions", key("key", Some("fresh"), "Start fresh".into(), false, on(Edit::Fresh(id)))) }
            </details>
            { parts }
            if props.draft.turned().is_some() {
                { tag("div", "actions", key("key", Some("turn"), "Swap size seen and thickness".into(), false, on(Edit::Turn(id)))) }
            }
            if let Some(s) = props.shown.answer().and_then(|(a, _)| chosen(a, &props.draft)) {
                { each(s.solution.standing.iter().map(|t| tag("p", "said", sentence(&props.shop.saw.standing(t), &style)))) }
                { each(s.solution.notes.iter().map(|t| tag("p", "said", sentence(t, &style)))) }
                { each(cautions(s, &props.shop).iter().map(|c| tag("p", "caution", sentence(&caution(*c), &style)))) }
            }
        </div>
    }
}

/// What rises over an answer.
fn sheet(
    props: &LayoutProps,
    look: &Look,
    turns: &Turns,
    give: Option<&'static str>,
    gives: &'static [&'static str],
    parts: Html,
    lower: Callback<()>,
) -> Html {
    let Some((answer, _)) = props.shown.answer() else {
        return html! {};
    };
    let Some(raised) = look.raised else {
        return html! {};
    };
    if raised == Raised::Gauge {
        let solved = chosen(answer, &props.draft);
        let at = solved.map_or(0, |s| cut_index(s, look.cut));
        let cut = solved.and_then(|s| cuts(s).into_iter().nth(at));
        let here = cut.map(|cut| {
            let gauge = gauge_sheet(&props.shop, cut, &props.dispatch, lower.clone());
            gauge.unwrap_or_else(|| coming(Part::Work, props.late.work, &props.dispatch))
        });
        return here.unwrap_or_default();
    }
    let Some(more) = more() else {
        let here = coming(Part::More, props.late.more, &props.dispatch);
        return html! { <Sheet key="coming" title={raised.title()} close={lower}>{ here }</Sheet> };
    };
    match raised {
        Raised::Card => (more.card)(&Card {
            dispatch: &props.dispatch,
            answer,
            draft: &props.draft,
            shop: &props.shop,
            look,
            turns,
            to_parts: parts,
            close: lower,
        }),
        Raised::Back => (more.back)(&Back {
            dispatch: &props.dispatch,
            answer,
            draft: &props.draft,
            shop: &props.shop,
            give,
            gives,
            close: lower,
        }),
        Raised::Paper | Raised::Gauge => (more.paper)(answer, &props.draft, &props.shop, lower),
    }
}

/// The drawing that is the form, with the ways to make it below; a whole piece is turned and taken apart there.
fn sight(
    props: &LayoutProps,
    answer: &SharedAnswer,
    editing: Option<&'static str>,
    give: Option<&'static str>,
    go: &Callback<Option<&'static str>>,
    turns: &Turns,
    ways: Html,
) -> Html {
    let (draft, dispatch, shop) = (&props.draft, &props.dispatch, &props.shop);
    let whole = chosen(answer, draft).is_some_and(|s| !s.solution.members.is_empty());
    if let Some(more) = more().filter(|_| whole) {
        let (answer, draft, dispatch) = (answer.clone(), draft.clone(), dispatch.clone());
        let (shop, go, turns) = (shop.clone(), go.clone(), turns.clone());
        let changes = props.piece.as_ref().map(|p| p.overrides.clone()).unwrap_or_default();
        return (more.piece)(Sight {
            answer,
            draft,
            dispatch,
            shop,
            editing,
            give,
            go,
            turns,
            changes,
            ways,
        });
    }
    html! {
        <div class="sight">
            <Drawing answer={answer.clone()} draft={draft.clone()} dispatch={dispatch.clone()} shop={shop.clone()}
                {editing} {give} go={go.clone()} />
            { ways }
        </div>
    }
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
    use_step_under(look.over(), &lower);
    {
        // Another form has other cuts.
        let turns = turns.clone();
        use_effect_with(props.draft.form.clone(), move |_| turns.dispatch(Turn::Cut(None)));
    }
    use_remembered(dispatch, props.layout);
    let painted = use_painted();
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
    let all: Vec<FieldRef> = form.fields.iter().chain(form.also).map(FieldRef).gather();
    let answer = props.shown.answer().map(|(a, old)| (a.clone(), old));
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
    let give = freest(props, form);
    let now = props.shown.now.clone();
    let old = answer.as_ref().is_none_or(|(_, old)| *old);
    let parts = match (&props.piece, patterns::IDS.contains(&id)) {
        (None, false) => html! { <ToParts ..to_parts(props, old) /> },
        // Its parts are the piece's already.
        _ => html! {},
    };
    let raised = sheet(props, &look, &turns, give, form.gives, parts.clone(), lower);
    let doubt = doubt(props);
    let said = said_below(doubt, look.editing);
    let style = props.shop.style();
    let mended = each(doubt.map(|p| mends(p, id, dispatch, &all, style)));
    let class = classes!(
        "layout",
        look.editing.is_some().then_some("editing"),
        old.then_some("old"),
        (!old && doubt.is_some()).then_some("doubt")
    );
    html! {
        <div {class}>
            { head(props, layout.question(), &turns) }
            { forms(props, layout, form) }
            <main class="work">
                <div class="picture">
                    if let Some((a, _)) = &answer {
                        { sight(props, a, look.editing, give, &go, &turns, ways(a, chosen_index(a, &props.draft), &props.shop, &pick_way)) }
                        if chosen(a, &props.draft).is_some_and(|s| !s.solution.solids.is_empty()) {
                            { each(more().map(|m| (m.solid)(a.clone(), props.draft.clone()))) }
                        }
                    }
                </div>
                if painted || answer.is_none() {
                    { in_words(props, form, &all, give, look.editing, *unfolded, parts) }
                    { each(props.about.clone()) }
                }
            </main>
            <footer class="strip" aria-label="Answer">
                <div class="tape" aria-hidden="true"></div>
                if let Some((a, old)) = &answer {
                    { strip(&Strip { answer: a, mark: mark(*old, doubt, said, &style, mended), draft: &props.draft, shop: &props.shop, look: &look, turns: &turns, used }) }
                }
                if let Some(key_of) = look.editing {
                    <EditBar layout={id} {key_of} dispatch={dispatch.clone()} fields={all}
                        now={now.clone()} shop={props.shop.clone()} go={go.clone()} />
                }
            </footer>
            { raised }
        </div>
    }
}

/// The size that gives where one has to: the one chosen, or the likeliest.
fn freest(props: &LayoutProps, form: &'static Form) -> Option<&'static str> {
    let chosen = props.draft.give.as_deref();
    let chosen = chosen.and_then(|g| form.gives.iter().copied().find(|k| *k == g));
    chosen.or(form.gives.first().copied())
}

fn to_parts(props: &LayoutProps, old: bool) -> ToPartsProps {
    let shown = props.shown.answer().and_then(|(a, _)| chosen(a, &props.draft));
    ToPartsProps {
        dispatch: props.dispatch.clone(),
        draft: props.draft.clone(),
        has_parts: shown.is_some_and(|s| !s.solution.parts.is_empty()),
        pieces: props.pieces.clone(),
        in_parts: props.in_parts,
        no_room: props.no_room.clone(),
        coming: props.waits.then_some(props.late.work),
        old,
    }
}
