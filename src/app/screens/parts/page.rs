//! The list: a row a part, one of them open to be changed.

use super::form::form;
use super::paste::paste_sheet;
use crate::screens::faces::{faces, href};
use crate::state::{Dispatch, Edit, Face, sender};
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{back, icon_key, key};
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_units::say;
use offsquare_work::cutlist::{Entry, how_many};
use offsquare_work::patterns;
use offsquare_work::piece::{EXAMPLES, Work, WorkEdit};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct PartsProps {
    pub dispatch: Dispatch,
    pub piece: u32,
    pub bench: Rc<Bench>,
    pub can_undo: bool,
    pub can_redo: bool,
}

#[component]
pub fn PartsPage(props: &PartsProps) -> Html {
    let open = use_state(|| None::<u32>);
    let pasting = use_state(|| None::<String>);
    let send = sender(&props.dispatch);
    let on = |edit: Edit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(edit.clone()))
    };
    let (work, piece) = (&props.bench.work, props.piece);
    let mine = || work.parts_of(piece);
    let add = {
        let (send, open) = (send.clone(), open.clone());
        let next = work.parts.iter().map(|e| e.id).max().unwrap_or(0) + 1;
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::AddPart(piece)));
            open.set(Some(next));
        })
    };
    let rows: Vec<Html> =
        mine().map(|e| row(e, &props.bench, *open == Some(e.id), &open, &send)).gather();
    let full = work.no_room(1);
    let count: u32 = mine().map(|e| e.count).fold(0, u32::saturating_add);
    let paste = {
        let pasting = pasting.clone();
        Callback::from(move |_: MouseEvent| pasting.set(Some(String::new())))
    };
    html! {
        <div class="page">
            { head(title(work, piece), "#/", "Back to the bench", props.can_undo, props.can_redo, &send) }
            { faces(piece, Face::Parts) }
            <main class="list">
                <div class="actions">
                    { key("key", Some("add-part"), "Add a part".into(), full.is_some(), add) }
                    { key("key", Some("paste"), "Paste a table".into(), false, paste) }
                    if !rows.is_empty() {
                        <a class="primary" data-test="to-boards" href={href(piece, Face::Boards)}>{ "Boards: what to buy" }</a>
                    }
                </div>
                { each(full.map(|why| tag("p", "caution", txt(why)))) }
                if rows.is_empty() {
                    { tag("p", "said", txt("No parts yet. Add one, paste them from a spreadsheet, or tap Add to parts under a layout\u{2019}s answer. Or try a list of made-up sizes:")) }
                    <div class="actions">
                        { each(EXAMPLES.iter().enumerate().map(|(i, name)| html! {
                            <button class="key" data-test={format!("example-{i}")} onclick={on(Edit::Work(WorkEdit::Example(piece, i)))}>{ *name }</button>
                        })) }
                    </div>
                } else {
                    { tag("h2", "section", txt(how_many(rows.len(), count))) }
                    <ul class="recent" data-test="parts">{ rows }</ul>
                    <div class="actions">
                        { key("key", None, "Clear the list".into(), false, on(Edit::Work(WorkEdit::ClearParts(piece)))) }
                        <a class="key link" href="#/rack">{ "Rack: stock and prices" }</a>
                    </div>
                }
            </main>
            if let Some(text) = &*pasting {
                { paste_sheet(&props.bench, piece, text, &pasting, &send) }
            }
        </div>
    }
}

/// What a piece is called.
pub fn title(work: &Work, piece: u32) -> String {
    work.piece(piece).map(|p| p.called()).unwrap_or_default()
}

/// A page's head: back, title, undo, redo.
pub fn head(
    title: impl Into<AttrValue>,
    to: &'static str,
    to_label: &'static str,
    can_undo: bool,
    can_redo: bool,
    send: &Callback<Edit>,
) -> Html {
    let on = |edit: Edit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(edit.clone()))
    };
    html! {
        <header class="top">
            { back(to, to_label) }
            { tag("h1", "", txt(title)) }
            { icon_key(Glyph::Undo, "Undo", Some("undo"), !can_undo, on(Edit::Undo)) }
            { icon_key(Glyph::Redo, "Redo", None, !can_redo, on(Edit::Redo)) }
        </header>
    }
}

fn row(
    entry: &Entry,
    bench: &Bench,
    is_open: bool,
    open: &UseStateHandle<Option<u32>>,
    send: &Callback<Edit>,
) -> Html {
    let id = entry.id;
    let toggle = {
        let open = open.clone();
        Callback::from(move |_: MouseEvent| open.set((!is_open).then_some(id)))
    };
    let on = |edit: WorkEdit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    };
    let style = bench.shop.style();
    let stock = bench.work.rack.stock_of(entry.stock);
    let mut said = vec![entry.lengths_said(stock.map(|s| s.width)).render(&style)];
    match entry.on_blank.len() {
        0 => {}
        1 => said.push("1 cut on its blank".to_owned()),
        n => said.push(format!("{n} cuts on its blank")),
    }
    if !(entry.left.is_square() && entry.right.is_square()) {
        said.push(format!("{} / {}", entry.left.words(), entry.right.words()));
    }
    said.push(stock.map_or_else(|| "no stock picked".into(), |s| s.name.clone()));
    // A pattern's parts stand under its own name.
    if let Some(from) = entry.from.as_ref().filter(|_| bench.work.pattern_of(entry).is_none()) {
        let source = bench.work.sources.iter().find(|s| s.id == from.source);
        if let Some(question) = source.and_then(|s| patterns::question(&s.draft.layout)) {
            said.push(format!("follows {question}"));
        }
    }
    if bench.work.overridden(id).is_some() {
        said.push("changed by you".into());
    }
    if entry.stale {
        said.push("its layout has no answer now: last sizes".into());
    }
    if entry.shortened.0 > 0.0 {
        said.push(say!("{} shorter than finished", entry.shortened).render(&style));
    }
    let done = WorkEdit::Done { id, done: !entry.done };
    html! {
        <li key={id.to_string()} class={classes!("part", entry.done.then_some("done"))}>
            <button data-test="part" aria-expanded={is_open.to_string()} onclick={toggle}>
                { tag("b", "", txt(format!("{} \u{d7} {}", entry.count, entry.called()))) }
                { tag("small", "", crate::widgets::amount::set(&said.join(" \u{b7} "))) }
            </button>
            if entry.done {
                <button aria-label="Cut already: plan it again" onclick={on(done)}>{ "cut" }</button>
            }
            { icon_key(Glyph::Close, "Remove (can be undone)", None, false, on(WorkEdit::RemovePart(id))) }
            if is_open {
                { form(entry, bench, send) }
            }
        </li>
    }
}
