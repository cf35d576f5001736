//! Parts from a spreadsheet: what was understood, and line by line what was not.

use crate::parts::sheet::Sheet;
use crate::state::Edit;
use offsquare_core::piece::WorkEdit;
use offsquare_core::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct PasteProps {
    pub bench: Rc<Bench>,
    pub send: Callback<Edit>,
    pub close: Callback<()>,
}

#[component]
pub fn PasteSheet(props: &PasteProps) -> Html {
    let text = use_state(String::new);
    let on_input = {
        let text = text.clone();
        Callback::from(move |e: InputEvent| {
            text.set(
                e.target_unchecked_into::<web_sys::HtmlTextAreaElement>()
                    .value(),
            );
        })
    };
    let read = props.bench.work.pasted(&text, props.bench.shop.unit);
    let good = read.entries.len();
    let add = {
        let (send, close, now, text, left) = (
            props.send.clone(),
            props.close.clone(),
            (*text).clone(),
            text.clone(),
            read.left_over(),
        );
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::Paste(now.clone())));
            text.set(left.clone());
            if left.is_empty() {
                close.emit(());
            }
        })
    };
    html! {
        <Sheet title="Paste a table" close={props.close.clone()}>
            <p class="said">{ "One part a line; tabs, commas or semicolons between. A first line with names of columns says which is which: part, quantity, stock, length, width, thickness, left end, right end, note. Without one: name, quantity, length." }</p>
            <div class="field pasted">
                <label class="unseen" for="pasted">{ "The table" }</label>
                <textarea id="pasted" data-test="pasted" rows="8" autocomplete="off" spellcheck="false"
                    placeholder={"Rail\t3\t27 1/2"} value={(*text).clone()} oninput={on_input} />
            </div>
            <div role="status" data-test="paste-report">
                if !text.trim().is_empty() {
                    <p class="said">{ format!("Columns: {}. {good} understood, {} not.", read.columns, read.skipped.len()) }</p>
                }
                { for read.said.iter().map(|s| html! { <p class="caution">{ s }</p> }) }
                <ul class="skipped">
                    { for read.skipped.iter().take(100).map(|s| html! {
                        <li class="wrong"><b>{ format!("Line {}: ", s.line) }</b>{ &s.why }<code>{ &s.text }</code></li>
                    }) }
                </ul>
            </div>
            <div class="actions">
                <button class="primary" data-test="paste-add" disabled={good == 0} onclick={add}>
                    { match good { 1 => "Add 1 part".to_owned(), n => format!("Add {n} parts") } }
                </button>
                if good > 0 && !read.skipped.is_empty() {
                    <p class="help">{ "Lines that were not understood stay here to be put right." }</p>
                }
            </div>
        </Sheet>
    }
}
