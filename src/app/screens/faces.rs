//! The bar of a piece's faces, always in the same order.

use crate::state::{Dispatch, Edit, Face, Route, on};
use crate::widgets::keys::choice;
use crate::widgets::tags::each;
use yew::prelude::*;

/// The address of a piece's face.
pub fn href(piece: u32, face: Face) -> String {
    Route::Piece(piece, face).fragment()
}

/// The bar of a piece.
pub fn faces(piece: u32, here: Face) -> Html {
    let one = |face: Face| {
        let current = (face == here).then_some("page");
        html! { <a href={href(piece, face)} data-test={face.test()} aria-current={current}>{ face.word() }</a> }
    };
    html! { <nav class="forms faces" aria-label="The piece">{ each(Face::ALL.into_iter().map(one)) }</nav> }
}

/// The same of a pattern that is no piece yet: another face makes it one.
pub fn pattern_faces(pattern: &'static str, dispatch: &Dispatch) -> Html {
    let one = |face: Face| {
        let test = Some(face.test().to_owned());
        choice(
            face == Face::Piece,
            test,
            face.word().into(),
            on(dispatch, Edit::Keep { pattern: Some(pattern), face }),
        )
    };
    html! { <nav class="forms faces" aria-label="The piece">{ each(Face::ALL.into_iter().map(one)) }</nav> }
}
