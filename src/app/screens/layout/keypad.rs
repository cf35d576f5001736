//! The keypad for touch screens, with adding keys: a help over a normal text field.

use offsquare_units::Unit;
use offsquare_work::piece::keypad::Key;
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

pub fn pad(pressed: &Callback<Press>, unit: Unit) -> Html {
    let unit_label = unit.label();
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
            <button type="button" tabindex="-1" data-key="unit" aria-label={format!("{}, change the unit", unit_label)} onpointerdown={on_unit}>{ unit_label }</button>
            // Feet take the place of the point, which nobody needs with them.
            { if unit == Unit::FeetInches { key("ft", "feet", Press::Key(Key::Char('\'')), "small") } else { digit(".", '.') } }{ digit("0", '0') }
            { key("done", "done", Press::Done, "small") }
            { add("+\u{2009}1/16", "add 1/16", 16) }{ operator("\u{f7}", "divided by", '/') }
            { key("next", "next", Press::Next, "goes") }
        </div>
    }
}
