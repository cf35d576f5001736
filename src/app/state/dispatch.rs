//! How screens send edits.

use super::{Edit, Store};
use yew::prelude::*;

/// Screens send edits through this.
pub type Dispatch = UseReducerDispatcher<Store>;

/// Sends edits.
#[inline(never)]
pub fn sender(dispatch: &Dispatch) -> Callback<Edit> {
    let dispatch = dispatch.clone();
    Callback::from(move |edit| dispatch.dispatch(edit))
}

/// A tap that sends an edit.
#[inline(never)]
pub fn on(dispatch: &Dispatch, edit: Edit) -> Callback<MouseEvent> {
    let dispatch = dispatch.clone();
    Callback::from(move |_| dispatch.dispatch(edit.clone()))
}
