//! Parts from a spreadsheet: what was understood, and line by line what was not.

use crate::state::Edit;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, tag, txt};
use offsquare_work::piece::WorkEdit;
use offsquare_work::save::Bench;
use yew::prelude::*;

/// Into this piece; the table is kept in `typed` as long as the sheet is up.
pub fn paste_sheet(
    bench: &Bench,
    piece: u32,
    text: &str,
    typed: &UseStateHandle<Option<String>>,
    send: &Callback<Edit>,
) -> Html {
    let on_input = {
        let typed = typed.clone();
        Callback::from(move |e: InputEvent| {
            let area: web_sys::HtmlTextAreaElement = e.target_unchecked_into();
            typed.set(Some(area.value()));
        })
    };
    let read = bench.work.pasted(text, bench.shop.unit);
    let good = read.entries.len();
    let add = {
        let (send, typed, now, left) =
            (send.clone(), typed.clone(), text.to_owned(), read.left_over());
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::Paste(piece, now.clone())));
            typed.set(Some(left.clone()).filter(|left| !left.is_empty()));
        })
    };
    let close = {
        let typed = typed.clone();
        Callback::from(move |()| typed.set(None))
    };
    html! {
        <Sheet title="Paste a table" {close}>
            { tag("p", "said", txt("One part a line; tabs, commas or semicolons between. A first line with names of columns says which is which: part, quantity, stock, length, width, thickness, left end, right end, note. Without one: name, quantity, length.")) }
            <div class="field pasted">
                <label class="unseen" for="pasted">{ "The table" }</label>
                <textarea id="pasted" data-test="pasted" rows="8" autocomplete="off" spellcheck="false"
                    placeholder={"Rail\t3\t27 1/2"} value={text.to_owned()} oninput={on_input} />
            </div>
            <div role="status" data-test="paste-report">
                if !text.trim().is_empty() {
                    { tag("p", "said", txt(format!("Columns: {}. {good} understood, {} not.", read.columns, read.skipped.len()))) }
                }
                { each(read.said.iter().map(|s| tag("p", "caution", txt(s.clone())))) }
                <ul class="skipped">
                    { each(read.skipped.iter().take(100).map(|s| html! {
                        <li class="wrong">{ tag("b", "", txt(format!("Line {}: ", s.line))) }{ &s.why }{ tag("code", "", txt(s.text.clone())) }</li>
                    })) }
                </ul>
            </div>
            <div class="actions">
                <button class="primary" data-test="paste-add" disabled={good == 0} onclick={add}>
                    { match good { 1 => "Add 1 part".to_owned(), n => format!("Add {n} parts") } }
                </button>
                if good > 0 && !read.skipped.is_empty() {
                    { tag("p", "help", txt("Lines that were not understood stay here to be put right.")) }
                }
            </div>
        </Sheet>
    }
}
