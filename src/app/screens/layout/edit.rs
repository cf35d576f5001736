//! Editing one size: its field, its sentence, and on a touch screen the keypad.

use super::drawing::size_id;
use crate::io::browser;
use crate::state::{Dispatch, Edit};
use crate::widgets::amount::amount;
use crate::widgets::pad::{Press, pad, type_key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_cuts::inputs::{Field, Kind};
use offsquare_units::Unit;
use offsquare_units::num::Gather;
use offsquare_work::piece::{Answered, Shop, in_next_unit};
use std::cell::RefCell;
use std::rc::Rc;
use web_sys::HtmlInputElement;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct EditProps {
    pub layout: &'static str,
    pub dispatch: Dispatch,
    pub key_of: &'static str,
    pub fields: Vec<FieldRef>,
    pub now: Rc<Answered>,
    pub shop: Shop,
    /// Moves to another field, or closes.
    pub go: Callback<Option<&'static str>>,
}

/// A field of the form, compared by its key.
#[derive(Clone, Copy)]
pub struct FieldRef(pub &'static Field);

impl PartialEq for FieldRef {
    fn eq(&self, other: &FieldRef) -> bool {
        self.0.key == other.0.key
    }
}

/// The field after `key` that is typed in.
pub fn next_field(fields: &[FieldRef], key: &str) -> Option<&'static str> {
    let typed: Vec<&'static str> =
        fields.iter().filter(|f| is_typed(f.0)).map(|f| f.0.key).gather();
    let at = typed.iter().position(|k| *k == key)?;
    typed.get((at + 1) % typed.len()).copied()
}

/// Whether a field takes text (rather than a choice).
pub fn is_typed(field: &Field) -> bool {
    match field.kind {
        Kind::Choice(_) | Kind::Choices(_) | Kind::Flag => false,
        // A handful of counts are tapped.
        Kind::Count(from, to) => to - from > 4,
        _ => true,
    }
}

/// The text and its caret as they are being changed within one frame, so that fast taps never meet an old one.
type Live = Rc<RefCell<Option<(String, usize)>>>;

/// The id of the field that a size is typed in.
const FIELD: &str = "edit-field";

/// Another field has the focus, and all of its text selected.
#[hook]
fn use_selected(key: &'static str, input: &NodeRef, live: &Live) {
    let (input, live) = (input.clone(), live.clone());
    use_effect_with(key, move |_| {
        *live.borrow_mut() = None;
        if let Some(i) = input.cast::<HtmlInputElement>() {
            // Focus can only fail on an element that is gone.
            let _ = i.focus();
            i.select();
        }
        // Closed, the focus is again on the size that was typed, unless a tap has taken it elsewhere.
        move || {
            if browser::focused().is_none_or(|e| e.id() == FIELD || e.tag_name() == "BODY") {
                browser::focus(&size_id(key));
            }
        }
    });
}

#[component]
pub fn EditBar(props: &EditProps) -> Html {
    let dispatch = &props.dispatch;
    let input = use_node_ref();
    let live = use_mut_ref(|| None);
    let touch = browser::is_touch();
    use_selected(props.key_of, &input, &live);
    let Some(field) = props.fields.iter().find(|f| f.0.key == props.key_of) else {
        return html! {};
    };
    let field = field.0;
    let Some(entry) = props.now.entries.iter().find(|e| e.key == field.key).cloned() else {
        return html! {};
    };
    // Undo, another unit, another tab: what was being changed is no longer there.
    live.borrow_mut().take_if(|(text, _)| *text != entry.text);
    let style = props.shop.style_in(entry.unit);
    let send = {
        let dispatch = dispatch.clone();
        let layout = props.layout;
        let key = field.key;
        move |text: String, unit: Unit| {
            dispatch.dispatch(Edit::Type { layout, key: key.to_owned(), text, unit });
        }
    };
    let on_input = {
        let (send, unit, live) = (send.clone(), entry.unit, live.clone());
        Callback::from(move |e: InputEvent| {
            let i: HtmlInputElement = e.target_unchecked_into();
            *live.borrow_mut() = None;
            send(i.value(), unit);
        })
    };
    let go_next = {
        let (go, fields, key) = (props.go.clone(), props.fields.clone(), field.key);
        move || go.emit(next_field(&fields, key))
    };
    let on_key = {
        let (go, go_next) = (props.go.clone(), go_next.clone());
        Callback::from(move |e: KeyboardEvent| match e.key().as_str() {
            "Enter" => go_next(),
            "Escape" => go.emit(None),
            _ => {}
        })
    };
    let press = {
        let (input, live, send, entry, go) =
            (input.clone(), live.clone(), send.clone(), entry.clone(), props.go.clone());
        Callback::from(move |press: Press| match press {
            Press::Next => go_next(),
            Press::Done => go.emit(None),
            Press::Unit => {
                let (text, unit) = in_next_unit(&entry);
                send(text, unit);
            }
            Press::Clear => {
                *live.borrow_mut() = Some((String::new(), 0));
                send(String::new(), entry.unit);
            }
            Press::Key(key) => {
                if let Some(i) = input.cast::<HtmlInputElement>() {
                    let before = live.borrow().clone();
                    let typed = type_key(&i, before, key);
                    send(typed.0.clone(), entry.unit);
                    *live.borrow_mut() = Some(typed);
                }
            }
        })
    };
    let on_press = |to: Press| {
        let press = press.clone();
        Callback::from(move |_: MouseEvent| press.emit(to))
    };
    let sentences: Vec<String> =
        props.now.problems_of(field.key).map(|p| p.text.render(&style)).gather();
    html! {
        <>
        <div class="edit">
            <label for={FIELD}>{ field.label }{ " · " }{ tag("span", "help", txt(field.help)) }</label>
            <input id={FIELD} ref={input} type="text" autocomplete="off" enterkeyhint="next" data-test="edit"
                inputmode={touch.then_some("none")} value={entry.text.clone()} oninput={on_input} onkeydown={on_key}
                aria-invalid={(!sentences.is_empty()).to_string()} aria-describedby="edit-said" />
            if matches!(field.kind, Kind::Length(_) | Kind::Lengths(_) | Kind::Points) && !touch {
                <button class="unit-key" aria-label={format!("{}, change the unit", entry.unit.label())} onclick={on_press(Press::Unit)}>{ entry.unit.label() }</button>
            }
            if !touch {
                <button class="unit-key" onclick={on_press(Press::Done)}>{ "Done" }</button>
            }
            <div id="edit-said" aria-live="polite">
                if let (true, Some(q)) = (entry.is_sum, entry.value.as_ref().and_then(|v| v.quantity())) {
                    { tag("span", "sum", list(vec![txt("= "), amount(q, &style)])) }
                }
                { each(sentences.into_iter().map(|s| tag("p", "wrong", txt(s)))) }
            </div>
        </div>
        if touch {
            { pad(&press, entry.unit, (entry.unit.label(), format!("{}, change the unit", entry.unit.label()))) }
        }
        </>
    }
}
