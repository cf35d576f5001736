//! Stock by stock: what it is, lengths and prices, boards on hand, and the rest of its sizes.

use super::trim::trim_question;
use super::yard::Yard;
use crate::io::browser;
use crate::screens::parts::head;
use crate::state::{Dispatch, Edit, sender};
use crate::widgets::cell::{Check, cell};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{Row, Work, WorkEdit};
use offsquare_work::rack::{Blank, By, OWNED, SETTINGS, SOLD, STOCK, Stock, price, section};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct RackProps {
    pub dispatch: Dispatch,
    pub bench: Rc<Bench>,
    pub can_undo: bool,
    pub can_redo: bool,
}

/// What a stock is called and measures.
const NAMED: [&str; 5] = ["name", "nominal", "sheet", "thickness", "width"];

#[component]
pub fn RackPage(props: &RackProps) -> Html {
    let send = sender(&props.dispatch);
    // The stock that was put in just now, and whether its sizes are still to be filled in.
    let new = use_state(|| None::<(u32, bool)>);
    let bench = &props.bench;
    let rack = &bench.work.rack;
    let full = rack.no_row().is_some();
    let look = Look { bench, work: Rc::new(bench.work.clone()), full, send: &send };
    let (is_here, metric) =
        (new.map(|(id, _)| rack.stock(id).is_some()), bench.shop.unit.is_metric());
    use_effect_with((*new, is_here), move |(new, _)| {
        // It opens on the first thing that it needs.
        if let Some((id, unnamed)) = *new {
            let (row, key) = match (unnamed, metric) {
                (false, _) => (Row::Sold(id, 0), "price"),
                (true, false) => (Row::Stock(id), "nominal"),
                (true, true) => (Row::Stock(id), "thickness"),
            };
            browser::focus(&field_id(row, key));
        }
    });
    let added = {
        let new = new.setter();
        Callback::from(move |added| new.set(Some(added)))
    };
    let why = rack.no_stock().or(rack.no_row());
    html! {
        <div class="page" key="rack">
            { head("Rack", "#/shop", "Back to the shop", props.can_undo, props.can_redo, &send) }
            <main class="list">
                if rack.stocks.iter().any(|s| s.sample) {
                    { tag("p", "caution", txt("Prices marked as made up are not your yard\u{2019}s. Put in what it asks.")) }
                }
                { trim_question(bench, &send) }
                { tag("div", "pair inset", list(look.cells(Row::Settings, SETTINGS, |key| key != "trim" || rack.trim.is_some()))) }
                { tag("h2", "section", txt("Stock")) }
                { each(rack.stocks.iter().map(|s| stock(s, new.filter(|n| n.0 == s.id), &look))) }
                { each(why.map(|why| tag("p", "caution", txt(why)))) }
                { tag("h2", "section", txt("Add stock")) }
                <Yard bench={bench.clone()} send={send.clone()} {added} />
            </main>
        </div>
    }
}

/// The id of a field on the page.
fn field_id(row: Row, key: &str) -> String {
    let name: String = format!("{row:?}")
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    format!("{name}-{key}")
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

    /// The fields of one row, as far as they are wanted.
    fn cells(
        &self,
        row: Row,
        blanks: &'static [Blank],
        wanted: impl Fn(&'static str) -> bool,
    ) -> Vec<Html> {
        let unit = self.bench.shop.unit;
        blanks
            .iter()
            .filter(|b| wanted(b.key))
            .map(|blank| {
                let key = blank.key;
                let work = self.work.clone();
                let check: Check = Rc::new(move |text| work.try_rack(row, key, text, unit).err());
                let send = self.send.clone();
                let changed = Callback::from(move |text: String| {
                    send.emit(Edit::Work(WorkEdit::Rack { row, key, text }));
                });
                let text = self.work.rack_text(row, key, unit);
                cell(field_id(row, key), blank, text, check, changed)
            })
            .gather()
    }

    fn row(&self, row: Row, blanks: &'static [Blank], without: &[&str], beside: Html) -> Html {
        let cells = self.cells(row, blanks, |key| !without.contains(&key));
        html! {
            <li class="rack-row">
                { tag("div", "trio", list(cells)) }
                { beside }
                <button aria-label="Remove (can be undone)" onclick={self.on(WorkEdit::RemoveRow(row))}>{ icon(Glyph::Close) }</button>
            </li>
        }
    }
}

fn stock(s: &Stock, new: Option<(u32, bool)>, look: &Look) -> Html {
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
                html! { { each(comes_to.map(|m| tag("span", "comes-to", txt(look.work.currency().print(m))))) } };
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
    let sizes = |title: &'static str, named: bool| {
        let wanted = |key| NAMED.contains(&key) == named && !s.without().contains(&key);
        let cells = list(look.cells(Row::Stock(id), STOCK, wanted));
        list(vec![tag("h4", "", txt(title)), tag("div", "pair", cells)])
    };
    // What has still to be filled in comes first.
    let unnamed = new.is_some_and(|n| n.1);
    let named = sizes("Name and sizes", true);
    let (first, then) = if unnamed { (named, html! {}) } else { (html! {}, named) };
    html! {
        <details class="more rack-stock" key={id.to_string()} open={new.is_some()} data-test={format!("stock-{id}")}>
            <summary><span>{ tag("h3", "", txt(s.name.clone())) }{ tag("small", "", crate::widgets::amount::set(&said)) }</span></summary>
            <div>
                { first }
                { tag("h4", "", txt("Lengths and prices")) }
                { tag("ul", "sold", list(sold)) }
                <button class="key" disabled={look.full} onclick={look.on(WorkEdit::AddSold(id))}>{ "Add a length" }</button>
                { tag("h4", "", txt("On hand")) }
                { tag("ul", "", list(owned)) }
                <button class="key" data-test={format!("add-owned-{id}")} disabled={look.full} onclick={look.on(WorkEdit::AddOwned(id))}>{ if s.sheet { "Add an offcut on hand" } else { "Add a board on hand" } }</button>
                { then }
                { sizes("Trim and pricing", false) }
                <button class="key" onclick={look.on(WorkEdit::RemoveRow(Row::Stock(id)))}>{ "Remove this stock" }</button>
            </div>
        </details>
    }
}
