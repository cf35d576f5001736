//! The maker's own pieces, each with a small drawing.

use crate::screens::faces::href;
use crate::screens::layout::{more, thumb};
use crate::screens::work::picture_of;
use crate::state::{Dispatch, Edit, Face, on};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{LOOSE, Piece};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// How many show at first, the newest.
const FIRST: usize = 8;

#[derive(Properties, PartialEq)]
pub struct MyPiecesProps {
    pub bench: Rc<Bench>,
}

#[component]
pub fn MyPieces(props: &MyPiecesProps) -> Html {
    // None: only the newest show. Otherwise all whose names have these words.
    let wanted = use_state(|| None::<String>);
    let work = &props.bench.work;
    let has_parts = |p: &&Piece| work.parts_of(p.id).next().is_some();
    // The newest first; *Loose parts* last, where there are any.
    let own = work.pieces.iter().rev().filter(|p| p.id != LOOSE || has_parts(p)).gather();
    if own.is_empty() {
        return html! {};
    }
    let needle = wanted.as_deref().unwrap_or_default().to_lowercase();
    let most = if wanted.is_some() { own.len() } else { FIRST };
    let is_wanted = |p: &&&Piece| {
        let name = p.called().to_lowercase();
        needle.split_whitespace().all(|n| name.contains(n))
    };
    let shown = own.iter().filter(is_wanted).take(most).gather();
    let show_all = {
        let wanted = wanted.setter();
        Callback::from(move |_: MouseEvent| wanted.set(Some(String::new())))
    };
    let on_find = {
        let wanted = wanted.setter();
        Callback::from(move |e: InputEvent| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            wanted.set(Some(input.value()));
        })
    };
    html! {
        <nav class="mine" aria-label="My pieces">
            { tag("h2", "section", txt("My pieces")) }
            if let Some(text) = &*wanted {
                <label class="find">
                    { tag("span", "unseen", txt("Find a piece")) }
                    <input type="search" placeholder="Find by name" value={text.clone()} oninput={on_find} />
                </label>
            }
            <ul class="questions">{ each(shown.iter().enumerate().map(|(n, p)| row(&props.bench, p, n as u32 + 1))) }</ul>
            if shown.is_empty() {
                { tag("p", "help", txt("No piece has that name.")) }
            }
            if wanted.is_none() && own.len() > FIRST {
                { tag("div", "actions", key("key", Some("all-pieces"), format!("All {} pieces", own.len()).into(), false, show_all)) }
            }
        </nav>
    }
}

/// A piece that no pattern makes: of parts and answers put in by hand.
pub fn of_parts_only(dispatch: &Dispatch) -> Html {
    let add = on(dispatch, Edit::Keep { pattern: None, face: Face::Parts });
    html! {
        <div class="actions">
            { key("key", Some("empty-piece"), "A piece of parts only".into(), false, add) }
            <a class="key link" href="#/open">{ "Open a link or file" }</a>
        </div>
    }
}

fn row(bench: &Bench, piece: &Piece, turn: u32) -> Html {
    let work = &bench.work;
    let source =
        work.pattern(piece.id).or_else(|| work.sources.iter().find(|s| s.piece == piece.id));
    let whole = piece.pattern.is_some();
    let drawn = picture_of(piece).or_else(|| {
        source.and_then(|s| match whole {
            true => more().map(|m| (m.small)(s.draft.clone(), &bench.shop, turn)),
            false => s.draft.layout().map(|l| thumb(l, &bench.shop)),
        })
    });
    let mut said = Vec::new();
    if piece.batch > 1 {
        said.push(format!("{} of them", piece.batch));
    }
    said.push(counted(bench, piece.id));
    if let Some(source) = source.filter(|_| whole) {
        said.push(source.draft.in_words(&bench.shop.style()));
    }
    let face = if piece.id == LOOSE { Face::Parts } else { Face::Piece };
    html! {
        <li key={piece.id.to_string()}>
            <a href={href(piece.id, face)} data-test="my-piece">
                <span class="thumb" aria-hidden="true">{ each(drawn) }</span>
                <span class="ask">{ piece.called() }{ tag("span", "forms-said", txt(said.join(" \u{b7} "))) }</span>
            </a>
        </li>
    }
}

/// How many of its parts wait to be cut.
fn counted(bench: &Bench, piece: u32) -> String {
    let all = bench.work.parts_of(piece);
    let (open, done): (Vec<_>, Vec<_>) = all.partition(|e| !e.done);
    let count = open.iter().map(|e| e.count).fold(0, u32::saturating_add);
    match (count, done.is_empty()) {
        (0, true) => "no parts yet".to_owned(),
        (0, false) => "all cut".to_owned(),
        (1, _) => "1 part to cut".to_owned(),
        (n, _) => format!("{n} parts to cut"),
    }
}
