//! The door to the screens from parts to boards, and to the shop: they come after the first answer.

use super::boards::BoardsPage;
use super::parts::PartsPage;
use super::piece::{about, piece_page};
use super::price::PricePage;
use super::rack::RackPage;
use super::saw::{SawPage, gauge_of_cut, run_line};
use super::share::{OpenPage, Seen, paper_code};
use super::shop::{save, shop_page};
use crate::io::keeping::{Keeper, Tell};
use crate::io::shelving;
use crate::state::{Coming, DESK, Desk, Dispatch, Face, Route, Store, arrived};
use crate::widgets::dock::Dock;
use offsquare_cuts::parts::{Cut, Part};
use offsquare_paper::square_code::SquareCode;
use offsquare_work::piece::{Piece, Shop};
use offsquare_work::save::Bench;
use std::cell::Cell;
use wasm_split_helpers::{SplitLoaderError, wasm_split};
use yew::prelude::*;

struct Door {
    page: fn(&Store, &Dispatch) -> Html,
    about: fn(&Store, u32, &Dispatch) -> Html,
    keypad: fn(&Store) -> Html,
    gauge: fn(&Shop, (&Part, &Cut), &Dispatch, Callback<()>) -> Html,
    picture: fn(&Piece) -> Option<Html>,
    run: fn(&Bench, Option<u32>) -> Html,
    code: fn(&Bench, u32) -> Option<SquareCode>,
    desk: &'static Desk,
    shelve: fn(Keeper, Tell),
    save: fn(&Bench),
}

static DOOR: Door = Door {
    page,
    about,
    keypad: dock,
    gauge: gauge_of_cut,
    picture,
    run: run_line,
    code: paper_code,
    desk: &DESK,
    shelve: shelving::start,
    save,
};

thread_local! {
    static HERE: Cell<Option<&'static Door>> = const { Cell::new(None) };
}

#[wasm_split(work, fallible)]
fn work_door() -> Result<&'static Door, SplitLoaderError> {
    Ok(&DOOR)
}

/// Fetches them; whether they have come.
pub async fn fetch() -> bool {
    let door = work_door().await;
    if let Ok(door) = door {
        HERE.set(Some(door));
        arrived(door.desk);
    }
    door.is_ok()
}

/// The screen of the place, if it is here.
pub fn work_page(store: &Store, dispatch: &Dispatch) -> Option<Html> {
    HERE.get().map(|door| (door.page)(store, dispatch))
}

/// What is told of a piece under its drawing, if it is here.
pub fn about_piece(store: &Store, piece: u32, dispatch: &Dispatch) -> Option<Html> {
    HERE.get().map(|door| (door.about)(store, piece, dispatch))
}

/// The picture on a piece's card, if it has one and that can be shown.
pub fn picture_of(piece: &Piece) -> Option<Html> {
    HERE.get().and_then(|door| (door.picture)(piece))
}

/// The line that leads back to a run that is on, once its code has loaded.
pub fn run_begun(bench: &Bench) -> Option<Html> {
    HERE.get().map(|door| (door.run)(bench, None))
}

fn picture(piece: &Piece) -> Option<Html> {
    let label = format!("Picture of {}", piece.called());
    let id = piece.pictures.first()?.clone();
    Some(html! { <Seen key={id.clone()} id={id.clone()} {label} /> })
}

/// A piece's code for a sheet of paper, where its link is short enough for one.
pub fn code_on_paper(bench: &Bench, piece: u32) -> Option<SquareCode> {
    HERE.get().and_then(|door| (door.code)(bench, piece))
}

/// Reads the device's database, and keeps what changes from then on.
pub fn shelve(keeper: Keeper, tell: Tell) {
    if let Some(door) = HERE.get() {
        (door.shelve)(keeper, tell);
    }
}

/// Hands out all that there is as a file.
pub fn save_file(bench: &Bench) {
    if let Some(door) = HERE.get() {
        (door.save)(bench);
    }
}

/// The screen as a gauge for a cut, if it is here.
pub fn gauge_sheet(
    shop: &Shop,
    cut: (&Part, &Cut),
    dispatch: &Dispatch,
    close: Callback<()>,
) -> Option<Html> {
    HERE.get().map(|door| (door.gauge)(shop, cut, dispatch, close))
}

/// The keypad for the lengths that are typed on a screen, if it is here.
pub fn keypad(store: &Store) -> Option<Html> {
    HERE.get().map(|door| (door.keypad)(store))
}

fn dock(store: &Store) -> Html {
    html! { <Dock key={store.route.fragment()} unit={store.bench.shop.unit} /> }
}

fn page(store: &Store, dispatch: &Dispatch) -> Html {
    let (can_undo, can_redo) = (store.can_undo(), store.can_redo());
    match store.route {
        Route::Shop => shop_page(&store.bench, can_undo, dispatch),
        Route::Piece(piece, Face::Piece) => piece_page(store, piece, dispatch),
        Route::Piece(piece, Face::Parts) => html! {
            <PartsPage key={piece} dispatch={dispatch.clone()} {piece} bench={store.bench.clone()} {can_undo} {can_redo} />
        },
        Route::Open => html! {
            <OpenPage dispatch={dispatch.clone()} bench={store.bench.clone()} brought={store.brought.clone()} />
        },
        Route::Rack => html! {
            <RackPage dispatch={dispatch.clone()} bench={store.bench.clone()} {can_undo} {can_redo} />
        },
        Route::Piece(piece, Face::Boards) => html! {
            <BoardsPage {piece} dispatch={dispatch.clone()} bench={store.bench.clone()} boards={store.boards.clone()} {can_undo} {can_redo} />
        },
        Route::Piece(piece, Face::Saw) => html! {
            <SawPage {piece} dispatch={dispatch.clone()} bench={store.bench.clone()} boards={store.boards.clone()} {can_undo} {can_redo} patterns={store.late.more} />
        },
        Route::Piece(piece, Face::Price) => {
            let patterns = store.late.more == Coming::Here;
            html! {
                <PricePage key={piece} {piece} {patterns} dispatch={dispatch.clone()} bench={store.bench.clone()} boards={store.boards.clone()} {can_undo} {can_redo} />
            }
        }
        Route::Bench | Route::Layout(_) => html! {},
    }
}
