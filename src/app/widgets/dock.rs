//! The keypad under a form: on a touch screen it rises for every field in which a length is typed.
//!
//! The field itself has the focus all the while, so that a real keyboard, a paste and a screen reader work on it; a key
//! of the pad changes its text as typing does.

use super::pad::{Press, pad, type_key};
use super::step::use_step_under;
use crate::io::browser;
use gloo::timers::callback::Timeout;
use offsquare_units::Unit;
use web_sys::HtmlInputElement;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct DockProps {
    /// The shop's, for fields that name none of their own.
    pub unit: Unit,
}

/// Time for the focus to go from one field to the next, and for a tap that takes it away to be done, in ms.
const SETTLES: u32 = 120;

/// The field that the pad types in, and its unit's name.
fn field() -> Option<(HtmlInputElement, String)> {
    let input = browser::focused_input()?;
    let unit = input.get_attribute("data-pad")?;
    Some((input, unit))
}

#[component]
pub fn Dock(props: &DockProps) -> Html {
    let up = use_state_eq(|| None::<(HtmlInputElement, String)>);
    {
        let up = up.setter();
        use_effect_with((), move |()| {
            let look = move |after: u32| {
                let up = up.clone();
                Timeout::new(after, move || up.set(field())).forget();
            };
            let heard = browser::is_touch().then(|| {
                let away = look.clone();
                [
                    browser::on_window("pointerdown", browser::hold_keyboard),
                    browser::on_window("focusin", move || look(0)),
                    browser::on_window("focusout", move || away(SETTLES)),
                ]
            });
            move || drop(heard)
        });
    }
    // All of the field's text is replaced by the first key, and the field stands above the pad.
    use_effect_with(up.as_ref().map(|u| u.0.clone()), |input| {
        if let Some(input) = input {
            input.select();
            browser::lift(input);
        }
    });
    let lower = {
        let up = up.setter();
        Callback::from(move |()| {
            browser::leave_field();
            up.set(None);
        })
    };
    use_step_under(up.is_some(), &lower);
    let Some((_, own)) = up.as_ref() else {
        return html! {};
    };
    let unit = Unit::ALL.into_iter().find(|u| u.label() == own).unwrap_or(props.unit);
    let other = if unit.is_metric() { " in" } else { " mm" };
    let press = Callback::from(move |press: Press| {
        let Some((input, _)) = field() else { return };
        match press {
            Press::Done => lower.emit(()),
            Press::Next => browser::focus_next(&input),
            Press::Clear => input.set_value(""),
            Press::Unit => input.set_value(&[input.value().trim_end(), other].concat()),
            Press::Key(key) => {
                type_key(&input, None, key);
            }
        }
        if !matches!(press, Press::Done | Press::Next) {
            browser::tell_typed(&input);
        }
    });
    html! {
        <div class="dock">{ pad(&press, unit, (other.trim_start(), format!("type{other}"))) }</div>
    }
}
