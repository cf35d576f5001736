//! A field of a form: typed, or picked. The core reads its text; the field keeps it while it is typed in.

use crate::widgets::keys::choice;
use crate::widgets::tags::{list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::rack::Blank;
use std::rc::Rc;
use yew::prelude::*;

/// Says what is wrong with a text, if something is.
pub type Check = Rc<dyn Fn(&str) -> Option<String>>;

#[derive(Properties)]
pub struct CellProps {
    pub id: String,
    pub label: &'static str,
    pub help: &'static str,
    pub text: String,
    pub check: Check,
    pub changed: Callback<String>,
}

impl PartialEq for CellProps {
    /// What it does may change with anything on the list.
    fn eq(&self, _: &Self) -> bool {
        false
    }
}

#[component]
pub fn Cell(props: &CellProps) -> Html {
    // Some: being typed in, or not understood.
    let raw = use_state(|| None::<String>);
    let wrong = raw.as_ref().and_then(|t| (props.check)(t));
    let on_input = {
        let (raw, check, changed) = (raw.clone(), props.check.clone(), props.changed.clone());
        Callback::from(move |e: InputEvent| {
            let text = e.target_unchecked_into::<web_sys::HtmlInputElement>().value();
            if check(&text).is_none() {
                changed.emit(text.clone());
            }
            raw.set(Some(text));
        })
    };
    let on_blur = {
        let (raw, right) = (raw.clone(), wrong.is_none());
        Callback::from(move |_: FocusEvent| {
            if right {
                raw.set(None);
            }
        })
    };
    let said = format!("{}-wrong", props.id);
    let text = (*raw).clone().unwrap_or_else(|| props.text.clone());
    html! {
        <div class="field">
            <label for={props.id.clone()}>{ props.label }{ " " }{ tag("span", "help", txt(props.help)) }</label>
            <input id={props.id.clone()} type="text" autocomplete="off" value={text} oninput={on_input} onblur={on_blur}
                aria-invalid={wrong.is_some().to_string()} aria-describedby={said.clone()} />
            if let Some(sentence) = wrong {
                <p class="wrong" id={said}>{ sentence }</p>
            }
        </div>
    }
}

/// A typed field, or a row of choices.
pub fn cell(
    id: String,
    blank: &Blank,
    text: String,
    check: Check,
    changed: Callback<String>,
) -> Html {
    if blank.choices.is_empty() {
        let key = id.clone();
        return html! {
            <Cell {key} {id} label={blank.label} help={blank.help} {text} {check} {changed} />
        };
    }
    choices(
        blank.label,
        blank
            .choices
            .iter()
            .map(|(key, label)| ((*key).to_owned(), (*label).to_owned(), *key == text))
            .gather(),
        &changed,
    )
}

/// A row of buttons of which one is down; its key is told.
#[inline(never)]
pub fn choices(
    label: &'static str,
    all: Vec<(String, String, bool)>,
    changed: &Callback<String>,
) -> Html {
    let buttons: Vec<Html> = all
        .into_iter()
        .map(|(key, label, on)| {
            let changed = changed.clone();
            let tap = Callback::from(move |_: MouseEvent| changed.emit(key.clone()));
            choice(on, None, label.into(), tap)
        })
        .gather();
    html! {
        <div class="field pick" role="group" aria-label={label}>
            { tag("span", "pick-label", txt(label)) }
            { tag("div", "choices", list(buttons)) }
        </div>
    }
}
