//! The same form in words, in reading order: for keyboards, screen readers and large text.

use super::edit::{FieldRef, is_typed};
use crate::state::{Dispatch, Edit, on};
use crate::widgets::amount::amount;
use crate::widgets::keys::{choice, key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_cuts::inputs::{Field, Kind, Value};
use offsquare_cuts::problem::{Mend, Problem};
use offsquare_units::num::Gather;
use offsquare_units::{Style, say};
use offsquare_work::piece::{Answered, FieldState, Shop, field_text, in_next_unit};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// The form of a layout as it stands.
pub struct Fields<'a> {
    pub layout: &'static str,
    pub dispatch: &'a Dispatch,
    pub fields: &'a [FieldRef],
    pub now: &'a Answered,
    pub shop: &'a Shop,
    /// Which field gives when worked backwards.
    pub give: Option<&'static str>,
    pub gives: &'a [&'static str],
}

pub fn fields(props: &Fields) -> Html {
    html! {
        <div>
            { each(props.fields.iter().filter_map(|f| {
                let entry = props.now.entries.iter().find(|e| e.key == f.0.key)?;
                Some(row(props, f.0, entry))
            })) }
        </div>
    }
}

fn row(props: &Fields, field: &'static Field, entry: &FieldState) -> Html {
    let id = format!("field-{}", field.key);
    let said = format!("said-{}", field.key);
    let style = props.shop.style_in(entry.unit);
    let problems: Vec<String> =
        props.now.problems_of(field.key).map(|p| p.text.render(&style)).gather();
    let (layout, key, unit) = (props.layout, field.key, entry.unit);
    let type_text = {
        let dispatch = props.dispatch.clone();
        move |text: String, unit| {
            dispatch.dispatch(Edit::Type { layout, key: key.to_owned(), text, unit })
        }
    };
    let control = if is_typed(field) {
        let on_input = {
            let type_text = type_text.clone();
            Callback::from(move |e: InputEvent| {
                let i: HtmlInputElement = e.target_unchecked_into();
                type_text(i.value(), unit);
            })
        };
        let on_unit = {
            let (entry, type_text) = (entry.clone(), type_text.clone());
            Callback::from(move |_: MouseEvent| {
                let (text, unit) = in_next_unit(&entry);
                type_text(text, unit);
            })
        };
        let on_give = on(props.dispatch, Edit::Give { layout, key: key.to_owned() });
        html! {
            <>
                <input id={id.clone()} type="text" autocomplete="off" value={entry.text.clone()} oninput={on_input}
                    placeholder={entry.also.then_some("worked out")} data-test={format!("field-{key}")}
                    aria-invalid={(!problems.is_empty()).to_string()} aria-describedby={said.clone()} />
                if matches!(field.kind, Kind::Length(_)) {
                    <button class="unit-key" aria-label={format!("{}, unit of {}", unit.label(), field.label)} onclick={on_unit}>{ unit.label() }</button>
                } else {
                    { tag("span", "", Html::default()) }
                }
                if props.gives.contains(&key) {
                    <button class="gives" aria-pressed={(props.give == Some(key)).to_string()} onclick={on_give}
                        aria-label={format!("{} may give", field.label)}>{ "may give" }</button>
                }
                if let (true, Some(q)) = (entry.is_sum, entry.value.as_ref().and_then(|v| v.quantity())) {
                    { tag("p", "sum", list(vec![txt("= "), amount(q, &style)])) }
                }
            </>
        }
    } else {
        choices(field, entry, &type_text)
    };
    html! {
        <div class="field" key={key}>
            <label for={id}>{ field.label }{ " " }{ tag("span", "help", txt(field.help)) }</label>
            { control }
            <div id={said} class="sum">
                { each(problems.into_iter().map(|s| tag("p", "wrong", txt(s)))) }
            </div>
            { each(props.now.problems_of(key).filter(|p| !p.mends.is_empty()).map(|p| {
                tag("div", "sum", mends(p, layout, props.dispatch, props.fields, style))
            })) }
        </div>
    }
}

fn choices(
    field: &Field,
    entry: &FieldState,
    send: &(impl Fn(String, offsquare_units::Unit) + Clone + 'static),
) -> Html {
    let unit = entry.unit;
    let all: Vec<(&str, &str)> = match field.kind {
        Kind::Choice(all) | Kind::Choices(all) => all.iter().map(|c| (c.key, c.label)).gather(),
        Kind::Count(from, to) => ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"]
            .into_iter()
            .zip(0..=to)
            .filter(|(_, n)| *n >= from)
            .map(|(n, _)| (n, n))
            .gather(),
        _ => vec![("no", "No"), ("yes", "Yes")],
    };
    let several = matches!(field.kind, Kind::Choices(_));
    let optional = matches!(field.need, offsquare_cuts::inputs::Need::Optional);
    html! {
        <div class="choices" role="group" aria-label={field.label}>
            { each(all.into_iter().map(|(key, label)| {
                let picked: Vec<&str> = entry.text.split(',').map(str::trim).filter(|s| !s.is_empty()).gather();
                let on = picked.contains(&key);
                // Tapping one of several adds it or takes it back; tapping the chosen one of an optional
                // choice takes it back.
                let text = if several {
                    let rest = picked.iter().copied().filter(|p| *p != key);
                    rest.chain((!on).then_some(key)).gather().join(", ")
                } else if on && optional {
                    String::new()
                } else {
                    key.to_owned()
                };
                let send = send.clone();
                choice(on, Some(format!("choice-{key}")), label.into(), Callback::from(move |_| send(text.clone(), unit)))
            })) }
        </div>
    }
}

/// What mends a problem, to tap: a size, a choice, each sentence's own.
pub fn mends(
    problem: &Problem,
    layout: &'static str,
    dispatch: &Dispatch,
    fields: &[FieldRef],
    style: Style,
) -> Html {
    let one = |mend: &Mend| {
        let field = fields.iter().find(|f| f.0.key == mend.key)?.0;
        let text = field_text(&mend.to, &style)?;
        let words = format!("{}: {}", field.label, in_words(field, &mend.to, &text, &style));
        let edit = Edit::Type { layout, key: field.key.to_owned(), text, unit: style.unit };
        Some(key("key", Some("mend"), words.into(), false, on(dispatch, edit)))
    };
    let all = problem.mends.iter().filter_map(one).gather();
    if all.is_empty() { Html::default() } else { tag("div", "actions mends", list(all)) }
}

/// A value as it is read: a choice by its label, a number as it is printed.
fn in_words(field: &Field, value: &Value, text: &str, style: &Style) -> String {
    match (field.kind, value.quantity()) {
        (Kind::Choice(all), _) => {
            all.iter().find(|c| c.key == text).map_or(text, |c| c.label).to_owned()
        }
        (_, Some(q)) => say!(q).render(style),
        _ => text.to_owned(),
    }
}
