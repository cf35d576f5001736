//! A field of a form: typed, counted or picked. The core reads its text; the field keeps it while it is typed in.

use crate::widgets::keys::choice;
use crate::widgets::tags::{list, tag, txt};
use offsquare_units::Unit;
use offsquare_units::num::Gather;
use offsquare_work::rack::{Blank, Typed};
use std::rc::Rc;
use yew::prelude::*;

/// Says what is wrong with a text, if something is.
pub type Check = Rc<dyn Fn(&str) -> Option<String>>;

#[derive(Properties)]
pub struct CellProps {
    pub id: String,
    pub label: AttrValue,
    #[prop_or_default]
    pub help: &'static str,
    #[prop_or(Typed::Words)]
    pub typed: Typed,
    /// In which a bare number is, where that is not the shop's.
    #[prop_or_default]
    pub unit: Option<Unit>,
    /// How far a slider below a count goes; none: there is no slider.
    #[prop_or_default]
    pub slide: Option<u32>,
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
    // Digits do for a count, with a point for a price; a length has the keypad under the form.
    let keys = match props.typed {
        Typed::Length | Typed::Words => None,
        Typed::Number => Some("decimal"),
        Typed::Count => Some("numeric"),
    };
    let pad = (props.typed == Typed::Length).then(|| props.unit.map_or("", Unit::label));
    let input = html! {
        <input id={props.id.clone()} type="text" autocomplete="off" inputmode={keys} data-pad={pad} value={text} oninput={on_input} onblur={on_blur}
            aria-invalid={wrong.is_some().to_string()} aria-describedby={said.clone()} />
    };
    html! {
        <div class="field">
            <label for={props.id.clone()}>{ props.label.clone() }{ " " }{ tag("span", "help", txt(props.help)) }</label>
            { if props.typed == Typed::Count { counted(props, input, raw.setter()) } else { input } }
            if let Some(sentence) = wrong {
                <p class="wrong" id={said}>{ sentence }</p>
            }
        </div>
    }
}

/// A count with a step down and a step up beside its field, and a slider below.
fn counted(props: &CellProps, input: Html, raw: UseStateSetter<Option<String>>) -> Html {
    let now: u32 = props.text.parse().unwrap_or(1);
    let to = |text: String| {
        let (raw, changed) = (raw.clone(), props.changed.clone());
        Callback::from(move |_: MouseEvent| {
            changed.emit(text.clone());
            raw.set(None);
        })
    };
    let step = |word: &'static str, sign: &'static str, n: Option<u32>| {
        let text = n.map(|n| n.to_string()).unwrap_or_default();
        let off = (props.check)(&text).is_some();
        let said = format!("{word}: {}", props.label);
        html! {
            <button type="button" class="key" data-test={format!("{}-{word}", props.id)} aria-label={said} disabled={off} onclick={to(text)}>{ sign }</button>
        }
    };
    let slide = props.slide.map(|most| {
        let (raw, changed) = (raw.clone(), props.changed.clone());
        let slid = Callback::from(move |e: InputEvent| {
            changed.emit(e.target_unchecked_into::<web_sys::HtmlInputElement>().value());
            raw.set(None);
        });
        html! {
            <input type="range" data-test={format!("{}-slide", props.id)} aria-label={props.label.clone()} min="1" max={most.max(now).to_string()} value={now.to_string()} oninput={slid} />
        }
    });
    html! {
        <>
            <div class="counted">
                { step("fewer", "\u{2212}", now.checked_sub(1)) }
                { input }
                { step("more", "+", now.checked_add(1)) }
            </div>
            { slide.unwrap_or_default() }
        </>
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
            <Cell {key} {id} label={blank.label} help={blank.help} typed={blank.typed} {text} {check} {changed} />
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
