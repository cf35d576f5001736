//! Stock by stock: sizes and trims, lengths and prices, boards on hand.

use crate::screens::parts::head;
use crate::state::Edit;
use crate::widgets::cell::{Check, cell};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{Row, Work, WorkEdit};
use offsquare_work::rack::{Blank, By, OWNED, SETTINGS, SOLD, STOCK, Stock, price, section};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

pub fn rack_page(bench: &Bench, can_undo: bool, can_redo: bool, send: &Callback<Edit>) -> Html {
    let full = bench.work.rack.no_row().is_some();
    let look = Look { bench, work: Rc::new(bench.work.clone()), full, send };
    let rack = &bench.work.rack;
    let stocks = &rack.stocks;
    html! {
        <div class="page" key="rack">
            { head("Rack", "#/shop", "Back to the shop", can_undo, can_redo, send) }
            <main class="list">
                if stocks.iter().any(|s| s.sample) {
                    { tag("p", "caution", txt("Prices marked as made up are not your yard\u{2019}s. Put in what it asks.")) }
                }
                { tag("div", "pair inset", list(look.cells(Row::Settings, SETTINGS, &[]))) }
                { each(stocks.iter().map(|s| stock(s, &look))) }
                { each(rack.no_stock().or(rack.no_row()).map(|why| tag("p", "caution", txt(why)))) }
                <div class="actions">
                    <button class="key" data-test="add-stock" disabled={rack.no_stock().is_some()} onclick={look.on(WorkEdit::AddStock)}>{ "Add a stock" }</button>
                </div>
            </main>
        </div>
    }
}

struct Look<'a> {
    bench: &'a Bench,
    work: Rc<Work>,
    /// No length and no board can be added.
    full: bool,
    send: &'a Callback<Edit>,
}

impl Look<'_> {
    fn on(&self, edit: WorkEdit) -> Callback<MouseEvent> {
        let send = self.send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    }

    /// The fields of one row, without some.
    fn cells(&self, row: Row, blanks: &'static [Blank], without: &[&str]) -> Vec<Html> {
        let unit = self.bench.shop.unit;
        let name: String = format!("{row:?}")
            .chars()
            .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
            .collect();
        blanks
            .iter()
            .filter(|b| !without.contains(&b.key))
            .map(|blank| {
                let key = blank.key;
                let work = self.work.clone();
                let check: Check = Rc::new(move |text| work.try_rack(row, key, text, unit).err());
                let send = self.send.clone();
                let changed = Callback::from(move |text: String| {
                    send.emit(Edit::Work(WorkEdit::Rack { row, key, text }));
                });
                let text = self.work.rack_text(row, key, unit);
                cell(format!("{name}-{key}"), blank, text, check, changed)
            })
            .gather()
    }

    fn row(&self, row: Row, blanks: &'static [Blank], without: &[&str], beside: Html) -> Html {
        html! {
            <li class="rack-row">
                { tag("div", "trio", list(self.cells(row, blanks, without))) }
                { beside }
                <button aria-label="Remove (can be undone)" onclick={self.on(WorkEdit::RemoveRow(row))}>{ icon(Glyph::Close) }</button>
            </li>
        }
    }
}

fn stock(s: &Stock, look: &Look) -> Html {
    let id = s.id;
    let by_piece = s.by == By::Piece;
    let tax = look.bench.work.rack.tax;
    let sold: Vec<Html> = s
        .sold
        .iter()
        .enumerate()
        .map(|(i, one)| {
            // What one comes to, where it is not simply the price.
            let comes_to = (!by_piece || s.taxed).then(|| price(s, one, tax)).flatten();
            let beside =
                html! { { each(comes_to.map(|m| tag("span", "comes-to", txt(m.to_string())))) } };
            look.row(Row::Sold(id, i), SOLD, s.without(), beside)
        })
        .gather();
    let owned: Vec<Html> = (0..s.owned.len())
        .map(|i| look.row(Row::Owned(id, i), OWNED, s.without_owned(), html! {}))
        .gather();
    let pieces: u32 = s.owned.iter().map(|o| o.count).sum();
    let mut said = section(s, look.bench.shop.unit);
    if pieces > 0 {
        said.push_str(&format!(" \u{b7} {pieces} on hand"));
    }
    if !s.without_price(tax).is_empty() {
        said.push_str(" \u{b7} a price is missing");
    }
    if s.sample {
        said.push_str(" \u{b7} made-up prices");
    }
    html! {
        <details class="more rack-stock" key={id.to_string()} data-test={format!("stock-{id}")}>
            <summary><span>{ tag("h2", "", txt(s.name.clone())) }{ tag("small", "", crate::widgets::amount::set(&said)) }</span></summary>
            <div>
                { tag("h3", "", txt("Lengths and prices")) }
                { tag("ul", "", list(sold)) }
                <button class="key" disabled={look.full} onclick={look.on(WorkEdit::AddSold(id))}>{ "Add a length" }</button>
                { tag("h3", "", txt("On hand")) }
                { tag("ul", "", list(owned)) }
                <button class="key" data-test={format!("add-owned-{id}")} disabled={look.full} onclick={look.on(WorkEdit::AddOwned(id))}>{ if s.sheet { "Add an offcut on hand" } else { "Add a board on hand" } }</button>
                { tag("h3", "", txt("Sizes")) }
                { tag("div", "pair", list(look.cells(Row::Stock(id), STOCK, s.without()))) }
                <button class="key" onclick={look.on(WorkEdit::RemoveRow(Row::Stock(id)))}>{ "Remove this stock" }</button>
            </div>
        </details>
    }
}
