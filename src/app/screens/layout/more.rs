//! The door to what stands over or below an answer, and to the patterns: it comes after it.

use super::back::{Back, back_sheet};
use super::card::{Card, saw_card};
use super::paper::paper_sheet;
use super::piece::{PieceSight, Sight};
use super::solid::SolidView;
use super::starts::{small, starts};
use super::view::{SharedAnswer, chosen};
use crate::io::browser;
use offsquare_cuts::layouts::Layout;
use offsquare_paper::report;
use offsquare_work::patterns::{self, Pattern};
use offsquare_work::piece::{Answered, Draft, Shop, to_link};
use std::cell::Cell;
use wasm_split_helpers::{SplitLoaderError, wasm_split};
use yew::prelude::*;

/// The ways in.
pub struct More {
    pub card: fn(&Card) -> Html,
    pub back: fn(&Back) -> Html,
    pub paper: fn(&Answered, &Draft, &Shop, Callback<()>) -> Html,
    pub solid: fn(SharedAnswer, Draft) -> Html,
    /// A whole piece put together.
    pub piece: fn(Sight) -> Html,
    /// The list from which a piece is started.
    pub starts: fn(&Shop) -> Html,
    /// A piece's small drawing; of many, each at its turn.
    pub small: fn(Draft, &Shop, u32) -> Html,
    patterns: fn() -> &'static [&'static Pattern],
    /// What is copied: inputs, settings and lengths.
    pub copied: fn(&Answered, &Draft, &Shop) -> Option<String>,
}

static DOOR: More = More {
    card: saw_card,
    back: back_sheet,
    paper: paper_sheet,
    solid,
    piece,
    starts,
    small,
    patterns: patterns::all,
    copied,
};

thread_local! {
    static HERE: Cell<Option<&'static More>> = const { Cell::new(None) };
}

#[wasm_split(more, fallible)]
fn more_door() -> Result<&'static More, SplitLoaderError> {
    Ok(&DOOR)
}

/// Fetches it; whether it has come.
pub async fn fetch() -> bool {
    let door = more_door().await;
    if let Ok(door) = door {
        HERE.set(Some(door));
        patterns::arrived((door.patterns)().iter().map(|p| &p.layout as &dyn Layout));
    }
    door.is_ok()
}

/// None until it has come.
pub fn more() -> Option<&'static More> {
    HERE.get()
}

fn solid(answer: SharedAnswer, draft: Draft) -> Html {
    html! { <SolidView {answer} {draft} /> }
}

fn piece(sight: Sight) -> Html {
    html! { <PieceSight ..sight /> }
}

/// With the address that opens it.
fn copied(answer: &Answered, draft: &Draft, shop: &Shop) -> Option<String> {
    let solved = chosen(answer, draft)?;
    let text = report::plain_text(&answer.given, solved, &shop.saw, &shop.style());
    Some(format!("{text}\n{}", browser::address(&to_link(draft))))
}
