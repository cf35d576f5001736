//! What stands in the place of a part that has not come yet.

use super::keys::key;
use super::tags::{list, tag};
use crate::state::{Coming, Dispatch, Edit, Part, on};
use yew::prelude::*;

/// Whether it is on its way, or how to get it.
pub fn coming(part: Part, how: Coming, dispatch: &Dispatch) -> Html {
    if how != Coming::Missing {
        return html! { <p class="said" role="status">{ "One moment: this part is on its way." }</p> };
    }
    let again = on(dispatch, Edit::Late(part, Coming::OnTheWay));
    list(vec![
        html! {
            <p class="wrong" role="status" data-test="missing">{ "This part of Offsquare could not be fetched. Answers go on without it, and it is tried again every ten seconds." }</p>
        },
        tag(
            "div",
            "actions",
            key("key", Some("fetch-again"), "Try again now".into(), false, again),
        ),
    ])
}
