//! The maker's own pieces, each with a small drawing.

use crate::screens::faces::href;
use crate::screens::layout::{more, thumb};
use crate::state::{Dispatch, Edit, Face, on};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{LOOSE, Piece};
use offsquare_work::save::Bench;
use yew::prelude::*;

pub fn my_pieces(bench: &Bench) -> Html {
    let work = &bench.work;
    let has_parts = |p: &&Piece| work.parts_of(p.id).next().is_some();
    // The newest first; *Loose parts* last, where there are any.
    let own = work.pieces.iter().rev().filter(|p| p.id != LOOSE || has_parts(p)).gather();
    if own.is_empty() {
        return html! {};
    }
    html! {
        <nav class="mine" aria-label="My pieces">
            { tag("h2", "section", txt("My pieces")) }
            <ul class="questions">{ each(own.iter().enumerate().map(|(n, p)| row(bench, p, n as u32 + 1))) }</ul>
        </nav>
    }
}

/// A piece that no pattern makes: of parts and answers put in by hand.
pub fn of_parts_only(dispatch: &Dispatch) -> Html {
    let add = on(dispatch, Edit::Keep { pattern: None, face: Face::Parts });
    tag(
        "div",
        "actions",
        key("key", Some("empty-piece"), "A piece of parts only".into(), false, add),
    )
}

fn row(bench: &Bench, piece: &Piece, turn: u32) -> Html {
    let work = &bench.work;
    let source =
        work.pattern(piece.id).or_else(|| work.sources.iter().find(|s| s.piece == piece.id));
    let whole = piece.pattern.is_some();
    let drawn = source.and_then(|s| match whole {
        true => more().map(|m| (m.small)(s.draft.clone(), &bench.shop, turn)),
        false => s.draft.layout().map(|l| thumb(l, &bench.shop)),
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
