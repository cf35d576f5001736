//! The keypad for touch screens, with adding keys: a help over a normal text field.

use offsquare_units::Unit;
use offsquare_work::piece::keypad::{self, Key};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// What a key of the pad asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    Key(Key),
    Unit,
    Clear,
    Next,
    Done,
}

/// `unit_key`: its label, and how it is read aloud.
pub fn pad(pressed: &Callback<Press>, unit: Unit, unit_key: (&'static str, String)) -> Html {
    let key = |label: &'static str, said: &'static str, press: Press, class: &'static str| {
        let on_tap = {
            let emit = pressed.clone();
            // The field keeps the focus: pressing a key must not take it.
            Callback::from(move |e: PointerEvent| {
                e.prevent_default();
                if press != Press::Done {
                    emit.emit(press);
                }
            })
        };
        // Done takes the keypad away: on the way down, the rest of the tap would fall on what lay under it.
        let on_click = (press == Press::Done).then(|| {
            let emit = pressed.clone();
            Callback::from(move |_: MouseEvent| emit.emit(press))
        });
        let hold = Callback::from(|e: MouseEvent| e.prevent_default());
        html! {
            <button type="button" tabindex="-1" {class} aria-label={said} data-key={said}
                onpointerdown={on_tap} onmousedown={hold} onclick={on_click}>{ label }</button>
        }
    };
    let digit = |label: &'static str, c: char| key(label, label, Press::Key(Key::Char(c)), "");
    let add = |label: &'static str, said: &'static str, n: u32| {
        key(label, said, Press::Key(Key::Add(n)), "adds")
    };
    let operator = |label: &'static str, said: &'static str, c: char| {
        key(label, said, Press::Key(Key::Operator(c)), "")
    };
    let on_unit = {
        let emit = pressed.clone();
        Callback::from(move |e: PointerEvent| {
            e.prevent_default();
            emit.emit(Press::Unit);
        })
    };
    html! {
        <div class="keypad" role="group" aria-label="Keypad">
            { digit("7", '7') }{ digit("8", '8') }{ digit("9", '9') }
            { add("+\u{2009}1/2", "add 1/2", 2) }{ operator("+", "plus", '+') }
            { key("\u{232b}", "delete", Press::Key(Key::Delete), "") }
            { digit("4", '4') }{ digit("5", '5') }{ digit("6", '6') }
            { add("+\u{2009}1/4", "add 1/4", 4) }{ operator("\u{2212}", "minus", '-') }
            { key("clear", "clear", Press::Clear, "small") }
            { digit("1", '1') }{ digit("2", '2') }{ digit("3", '3') }
            { add("+\u{2009}1/8", "add 1/8", 8) }{ operator("\u{d7}", "times", '*') }
            <button type="button" tabindex="-1" data-key="unit" aria-label={unit_key.1} onpointerdown={on_unit}>{ unit_key.0 }</button>
            // Feet take the place of the point, which nobody needs with them.
            { if unit == Unit::FeetInches { key("ft", "feet", Press::Key(Key::Char('\'')), "small") } else { digit(".", '.') } }{ digit("0", '0') }
            { key("done", "done", Press::Done, "small") }
            { add("+\u{2009}1/16", "add 1/16", 16) }{ operator("\u{f7}", "divided by", '/') }
            { key("next", "next", Press::Next, "goes") }
        </div>
    }
}

/// The text of a field and its caret after a key; the field has them then. `before`: what they are, where the field does
/// not show it yet.
pub fn type_key(
    input: &HtmlInputElement,
    before: Option<(String, usize)>,
    key: Key,
) -> (String, usize) {
    let (text, caret) = before.unwrap_or_else(|| at_caret(input));
    let (text, caret) = keypad::press(&text, caret, key);
    input.set_value(&text);
    let place = u32::try_from(caret).unwrap_or(0);
    // The caret of a text field can always be set.
    let _ = input.set_selection_range(place, place);
    (text, caret)
}

/// The text of the field and where its caret stands; a selection is what the next key replaces.
fn at_caret(input: &HtmlInputElement) -> (String, usize) {
    let text = input.value();
    let start = input.selection_start().ok().flatten();
    let end = input.selection_end().ok().flatten();
    match (start, end) {
        (Some(s), Some(e)) if e > s => {
            let (s, e) = (s as usize, e as usize);
            let kept = text.chars().take(s).chain(text.chars().skip(e)).collect();
            (kept, s)
        }
        (Some(s), _) => (text, s as usize),
        _ => {
            let n = text.chars().count();
            (text, n)
        }
    }
}
