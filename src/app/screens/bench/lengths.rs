//! *Lengths*: a running tape of sums. Each line keeps its sum as typed, its value beside it.

use crate::state::{Dispatch, Edit};
use crate::widgets::amount::amount;
use crate::widgets::tags::{each, tag, txt};
use offsquare_units::{Quantity, parse_length};
use offsquare_work::piece::Shop;
use offsquare_work::save::MOST_LENGTHS;
use yew::prelude::*;

pub fn tape(lines: &[String], shop: &Shop, dispatch: &Dispatch) -> Html {
    let style = shop.style();
    // One empty line is ready at the end, while there is room for it.
    let full = lines.len() >= MOST_LENGTHS;
    let lines = lines.iter().map(String::as_str).chain((!full).then_some(""));
    html! {
        <section>
            { tag("h2", "section", txt("Lengths")) }
            <div class="lengths">
                { each(lines.enumerate().map(|(index, text)| {
                    let dispatch = dispatch.clone();
                    let on_input = Callback::from(move |e: InputEvent| {
                        let input: web_sys::HtmlInputElement = e.target_unchecked_into();
                        dispatch.dispatch(Edit::Line { index, text: input.value() });
                    });
                    let read = parse_length(text, shop.unit);
                    let empty = text.trim().is_empty();
                    html! {
                        <div class="line" key={index}>
                            <input type="text" aria-label={format!("Sum {}", index + 1)} autocomplete="off" data-pad=""
                                placeholder={empty.then_some("33 - 2 * 2 1/2")}
                                data-test={format!("line-{index}")} value={text.to_owned()} oninput={on_input} />
                            if let Ok(p) = &read {
                                <output>{ amount(Quantity::Length(p.length), &style) }</output>
                            }
                            if let (Err(e), false) = (&read, empty) {
                                { tag("p", "wrong", txt(e.to_string())) }
                            }
                        </div>
                    }
                })) }
                if full {
                    { tag("p", "caution", txt(format!("The tape is full: {MOST_LENGTHS} sums. Clear some first."))) }
                }
            </div>
        </section>
    }
}
