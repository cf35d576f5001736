//! The price's forms: lines of hardware, finish and work, what is wanted, and the maker's usual figures.

use crate::state::{Dispatch, Edit, on};
use crate::widgets::cell::{Check, cell};
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::num::Gather;
use offsquare_work::piece::{Piece, Work, WorkEdit};
use offsquare_work::price::{Ask, List, PriceRow};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// What all forms are made with.
pub struct Look<'a> {
    pub bench: &'a Rc<Bench>,
    pub piece: &'a Piece,
    pub dispatch: &'a Dispatch,
}

/// Blanks of one form.
#[derive(Properties)]
struct CellsProps {
    bench: Rc<Bench>,
    piece: u32,
    row: PriceRow,
    asks: Vec<Ask>,
    dispatch: Dispatch,
}

impl PartialEq for CellsProps {
    /// Of the document, only the form itself and the money have a say in its blanks: of a price with many lines, those
    /// that nobody types in stay as they are.
    fn eq(&self, other: &CellsProps) -> bool {
        let (a, b) = (&self.bench.work, &other.bench.work);
        let text = |work: &Work, ask: &Ask| {
            work.price_text(self.piece, self.row, ask.blank.key).to_owned()
        };
        (self.piece, self.row) == (other.piece, other.row)
            && self.asks == other.asks
            && a.currency() == b.currency()
            && self.row.asks().iter().copied().flatten().all(|ask| text(a, ask) == text(b, ask))
    }
}

#[component]
fn Cells(props: &CellsProps) -> Html {
    let (piece, row) = (props.piece, props.row);
    let one = |ask: &Ask| {
        let (key, bench) = (ask.blank.key, props.bench.clone());
        let check: Check = Rc::new(move |text| bench.work.try_price(piece, row, key, text).err());
        let dispatch = props.dispatch.clone();
        let changed = Callback::from(move |text: String| {
            dispatch.dispatch(Edit::Work(WorkEdit::Price { piece, row, key, text }));
        });
        let text = |key: &str| props.bench.work.price_text(piece, row, key).to_owned();
        let blank = PriceRow::blank(ask, text);
        let name = match row {
            PriceRow::Rates => format!("rates-{key}"),
            PriceRow::Terms => format!("terms-{key}"),
            PriceRow::Line(list, at) => format!("{}-{at}-{key}", list.word()),
        };
        cell(name, &blank, text(key), check, changed)
    };
    list(props.asks.iter().map(one).gather())
}

impl Look<'_> {
    pub fn on(&self, edit: WorkEdit) -> Callback<MouseEvent> {
        on(self.dispatch, Edit::Work(edit))
    }

    /// The blanks of a form that `wanted` takes.
    pub fn cells(&self, row: PriceRow, wanted: impl Fn(&str) -> bool) -> Html {
        let asks = row.asks().iter().copied().flatten();
        let asks = asks.copied().filter(|ask| wanted(ask.blank.key)).gather();
        let (bench, dispatch) = (self.bench.clone(), self.dispatch.clone());
        html! { <Cells {bench} piece={self.piece.id} {row} {asks} {dispatch} /> }
    }

    /// The lines of a list with their keys; `beside`: what else stands in a line.
    pub fn lines(&self, of: List, count: usize, beside: impl Fn(usize) -> Html) -> Html {
        let piece = self.piece.id;
        let line = |at: usize| {
            let remove = self.on(WorkEdit::RemoveLine { piece, list: of, at });
            html! {
                <li class="rack-row" key={at.to_string()} data-test={format!("{}-{at}", of.word())}>
                    <div class="grow">
                        { tag("div", "trio", self.cells(PriceRow::Line(of, at), |_| true)) }
                        { beside(at) }
                    </div>
                    <button aria-label="Remove (can be undone)" onclick={remove}>{ icon(Glyph::Close) }</button>
                </li>
            }
        };
        html! { <ul class="inset">{ each((0..count).map(line)) }</ul> }
    }

    /// A key that adds a line.
    pub fn add(&self, list: List, key_of: &'static str, text: &str, label: String) -> Html {
        let (piece, text) = (self.piece.id, text.to_owned());
        let test = match list {
            List::Hardware => "add-hardware",
            List::Finish => "add-finish",
            List::Steps => "add-steps",
            List::Seen => "add-seen",
            List::Tried => "add-tried",
            List::Shelf => "add-shelf",
        };
        let full = self.bench.work.price_list_len(piece, list) >= offsquare_work::price::MOST_LINES;
        let add = self.on(WorkEdit::AddLine { piece, list, key: key_of, text });
        key("key", Some(test), label.into(), full, add)
    }

    /// A list with its usual kinds to fill in.
    pub fn kinds(&self, list: List, other: &str) -> Html {
        let count = self.bench.work.price_list_len(self.piece.id, list);
        let has = |name: &str| {
            (0..count).any(|at| {
                let row = PriceRow::Line(list, at);
                self.bench.work.price_text(self.piece.id, row, "name").trim() == name
            })
        };
        let kinds = list.kinds().iter().filter(|name| !has(name));
        html! {
            <>
                { self.lines(list, count, |_| html! {}) }
                <div class="actions">
                    { each(kinds.map(|name| self.add(list, "name", name, (*name).to_owned()))) }
                    { self.add(list, "name", "", other.to_owned()) }
                </div>
            </>
        }
    }
}

/// Keys of the terms that stand in the section of what is wanted.
const WANTED: [&str; 5] = ["want_by", "want", "sold_as", "set_of", "basis"];

/// What is wanted of a sale, and how it is counted; `wrong`: why nothing can be asked so.
pub fn wanted(look: &Look, wrong: Option<&str>) -> Html {
    let set = look.piece.priced.terms.text("sold_as") == "set";
    let mine = |key: &str| WANTED.contains(&key) && (key != "set_of" || set);
    html! {
        <section>
            { tag("h2", "section", txt("What I want of it")) }
            { tag("div", "pair inset", look.cells(PriceRow::Terms, mine)) }
            { each(wrong.map(|why| tag("p", "wrong", txt(why.to_owned())))) }
        </section>
    }
}

/// What holds for one piece in place of the usual, folded.
pub fn own_terms(look: &Look) -> Html {
    let cells = look.cells(PriceRow::Terms, |key| !WANTED.contains(&key));
    html! {
        <details class="more" data-test="own-terms">
            <summary>{ "For this piece only" }</summary>
            <div>
                { tag("p", "help", txt("What is empty here is as in my usual figures.")) }
                { tag("div", "pair", cells) }
            </div>
        </details>
    }
}

/// The maker's usual figures that stand with the work.
const OF_WORK: [&str; 3] = ["rate", "saw_change", "saw_cut"];

/// The maker's other usual figures, folded.
pub fn rates(look: &Look) -> Html {
    let cells = look.cells(PriceRow::Rates, |key| !OF_WORK.contains(&key));
    html! {
        <details class="more" data-test="rates">
            <summary>{ "My usual figures, for every piece" }</summary>
            <div>{ tag("div", "pair", cells) }</div>
        </details>
    }
}
