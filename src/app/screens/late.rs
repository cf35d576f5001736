//! Fetches the parts that come after the first answer, and stands in for a screen that has not come.

use super::layout::{fetch_layouts, fetch_more};
use super::work::fetch as fetch_work;
use crate::io::storage::{Device, KEPT, Storage};
use crate::io::{browser, storage, updates};
use crate::state::{Coming, Dispatch, Edit, Face, Part, Route, Store};
use crate::widgets::coming::coming;
use crate::widgets::keys::back;
use crate::widgets::tags::{tag, txt};
use gloo::timers::callback::Timeout;
use offsquare_work::patterns;
use yew::prelude::*;

/// In ms: what is not waited for comes after the first answer has been painted; what could not be fetched is asked for
/// again.
const SPARE: u32 = 300;
const AGAIN: u32 = 10_000;

/// The part that the screen waits for.
fn needed(store: &Store) -> Option<Part> {
    match store.route {
        _ if store.waits() => Some(Part::Work),
        // The maker's own pieces are read with it.
        Route::Bench => Device.read(KEPT).filter(|_| !store.is_whole()).map(|_| Part::Work),
        Route::Layout(id) if store.route.is_to_come() => Part::of(id),
        Route::Piece(id, Face::Piece) if store.bench.work.pattern(id).is_none() => Some(Part::Work),
        Route::Layout(_) | Route::Piece(_, Face::Piece) => Some(Part::More),
        // What a link leaves out its layout or pattern makes again.
        Route::Open => Part::ALL.into_iter().find(|part| store.late.of(*part) != Coming::Here),
        Route::Shop | Route::Rack | Route::Piece(..) => Some(Part::Work),
    }
}

fn fetch(part: Part, dispatch: Dispatch) {
    wasm_bindgen_futures::spawn_local(async move {
        let came = match part {
            Part::Layouts => fetch_layouts().await,
            Part::Work => fetch_work().await,
            Part::More => fetch_more().await,
        };
        if !came {
            // A new version may have taken its place.
            updates::look();
        }
        if came
            && let Route::Layout(id) = Route::of_fragment(&browser::fragment())
            && Part::of(id) == Some(part)
        {
            storage::solves(id);
        }
        let coming = if came { Coming::Here } else { Coming::Missing };
        dispatch.dispatch(Edit::Late(part, coming));
    });
}

/// Each part is fetched: the one that is waited for at once, the others when the answer stands.
#[hook]
pub fn use_late(store: &Store, dispatch: &Dispatch) {
    let dispatch = dispatch.clone();
    use_effect_with((store.late, needed(store)), move |(late, needed)| {
        let timers = Part::ALL.map(|part| {
            let dispatch = dispatch.clone();
            match late.of(part) {
                Coming::Here => None,
                Coming::OnTheWay => {
                    let after = if *needed == Some(part) { 0 } else { SPARE };
                    Some(Timeout::new(after, move || fetch(part, dispatch)))
                }
                Coming::Missing => Some(Timeout::new(AGAIN, move || {
                    dispatch.dispatch(Edit::Late(part, Coming::OnTheWay));
                })),
            }
        });
        move || drop(timers)
    });
}

/// In the place of a screen that has not come.
pub fn late_page(store: &Store, dispatch: &Dispatch) -> Html {
    let part = needed(store).unwrap_or(Part::Work);
    // It may be here, and what it shows not read yet.
    let state = Some(store.late.of(part)).filter(|s| *s != Coming::Here).unwrap_or_default();
    let title = match store.route {
        Route::Piece(_, face) => face.word(),
        Route::Rack => "Rack",
        Route::Shop => "Shop",
        Route::Open => "Open a link or file",
        Route::Layout(id) => patterns::question(id).unwrap_or("Piece"),
        Route::Bench => "Offsquare",
    };
    html! {
        <div class="page" key="late">
            <header class="top">
                { back("#/", "Back to the bench") }
                { tag("h1", "", txt(title)) }
            </header>
            <main class="list">{ coming(part, state, dispatch) }</main>
        </div>
    }
}
