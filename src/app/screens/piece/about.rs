//! What is told of a piece beside its drawing: name, note, how many; what is overridden; variants.

use super::beside::Variants;
use super::overrides::overrides;
use crate::screens::saw::run_line;
use crate::screens::share::{PiecePictures, Share};
use crate::state::{Dispatch, Edit, Face, Route, Store, on, sender};
use crate::widgets::cell::{Check, cell};
use crate::widgets::keys::{choice, key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{LOOSE, Piece, WorkEdit};
use offsquare_work::rack::Written;
use std::rc::Rc;
use yew::prelude::*;

/// For the store's piece of that id; empty where there is none.
pub fn about(store: &Store, id: u32, dispatch: &Dispatch) -> Html {
    let (work, unit) = (&store.bench.work, store.bench.shop.unit);
    let Some(piece) = work.piece(id) else { return html! {} };
    let send = sender(dispatch);
    let field = |blank: &offsquare_work::rack::Blank| {
        let key = blank.key;
        let check: Check = {
            let piece = Rc::new(piece.clone());
            Rc::new(move |text| (*piece).clone().write(key, text, unit).err())
        };
        let send = send.clone();
        let changed = Callback::from(move |text: String| {
            send.emit(Edit::Work(WorkEdit::Piece { id, key, text }));
        });
        cell(format!("piece-{id}-{key}"), blank, piece.text(key, unit), check, changed)
    };
    // *Loose parts* have their name already.
    let fields = Piece::FIELDS.iter().filter(|b| id != LOOSE || b.key == "batch");
    let full = work.no_room_for_piece();
    let planned = WorkEdit::PlanPiece { id, planned: !piece.planned };
    let remove = {
        let dispatch = dispatch.clone();
        Callback::from(move |_: MouseEvent| {
            dispatch.dispatch(Edit::Work(WorkEdit::RemovePiece(id)));
            dispatch.dispatch(Edit::Go(Route::Bench));
        })
    };
    let copy = {
        let (dispatch, new) = (dispatch.clone(), work.next_piece());
        Callback::from(move |_: MouseEvent| {
            dispatch.dispatch(Edit::Work(WorkEdit::CopyPiece(id)));
            dispatch.dispatch(Edit::Go(Route::Piece(new, Face::Piece)));
        })
    };
    html! {
        <section class="about" data-test="about">
            { run_line(&store.bench, Some(id)) }
            { tag("h2", "section", txt("About this piece")) }
            { tag("div", "pair inset", list(fields.map(field).gather())) }
            <div class="actions">
                { tag("div", "choices", choice(piece.planned, Some("planned".to_owned()), "In the buy".into(), on(dispatch, Edit::Work(planned)))) }
                <Share piece={id} bench={store.bench.clone()} />
                if id != LOOSE {
                    { key("key", Some("variant"), "Make a variant".into(), full.is_some(), copy) }
                    { key("key", Some("remove-piece"), "Remove this piece".into(), false, remove) }
                }
            </div>
            { each(full.map(|why| tag("p", "caution", txt(why)))) }
            if id != LOOSE {
                <PiecePictures piece={id} name={piece.called()} pictures={piece.pictures.clone()} dispatch={dispatch.clone()} />
            }
            { overrides(&store.bench, id, dispatch) }
            if id != LOOSE && work.pieces.len() > 2 {
                <Variants piece={id} bench={store.bench.clone()} boards={store.boards.clone()} dispatch={dispatch.clone()} />
            }
        </section>
    }
}
