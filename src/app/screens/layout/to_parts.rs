//! An answer's parts: put into a piece, or the way to them.

use crate::screens::faces::href;
use crate::state::{Coming, Dispatch, Edit, Face, Part, on};
use crate::widgets::coming::coming;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::piece::{Draft, LOOSE, WorkEdit};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct ToPartsProps {
    pub dispatch: Dispatch,
    pub draft: Draft,
    pub has_parts: bool,
    /// Every piece's id and name.
    pub pieces: Vec<(u32, String)>,
    /// The piece that has them.
    pub in_parts: Option<u32>,
    /// Why they cannot be taken, if they cannot.
    pub no_room: Option<String>,
    /// They wait for this.
    pub coming: Option<Coming>,
    /// The answer is an old one.
    pub old: bool,
}

#[component]
pub fn ToParts(props: &ToPartsProps) -> Html {
    let into = use_state(|| LOOSE);
    if !props.has_parts {
        return html! {};
    }
    let into_one = {
        let into = into.clone();
        Callback::from(move |e: Event| {
            let picked = e.target_unchecked_into::<web_sys::HtmlSelectElement>().value();
            into.set(picked.parse().unwrap_or(LOOSE));
        })
    };
    let add = on(&props.dispatch, Edit::Work(WorkEdit::Follow(*into, props.draft.clone())));
    html! {
        <div class="actions" role="status">
            if let Some(come) = props.coming {
                { coming(Part::Work, come, &props.dispatch) }
            } else if let Some(piece) = props.in_parts {
                <a class="key link" data-test="in-parts" href={href(piece, Face::Parts)}>{ "In your parts: they follow these sizes" }</a>
            } else if let Some(why) = &props.no_room {
                { tag("p", "caution", txt(why.clone())) }
            } else {
                { key("key", Some("add-to-parts"), "Add to parts".into(), props.old, add) }
                if props.pieces.len() > 1 {
                    <label class="into">{ "of " }
                        <select data-test="into" onchange={into_one}>
                            { each(props.pieces.iter().map(|(id, name)| html! {
                                <option value={id.to_string()} selected={*id == *into}>{ name.clone() }</option>
                            })) }
                        </select>
                    </label>
                }
            }
        </div>
    }
}
