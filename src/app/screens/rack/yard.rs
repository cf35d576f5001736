//! The sections that a yard usually has: a tap puts one in the rack.

use crate::state::Edit;
use crate::widgets::cell::{Cell, Check};
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::facts::{Section, yard_sections};
use offsquare_units::num::Gather;
use offsquare_work::piece::WorkEdit;
use offsquare_work::rack::{Stock, section};
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct YardProps {
    pub bench: Rc<Bench>,
    pub send: Callback<Edit>,
    /// Told the id of the stock that a tap puts in, and whether the maker has to fill in its sizes.
    pub added: Callback<(u32, bool)>,
}

#[component]
pub fn Yard(props: &YardProps) -> Html {
    let wood = use_state(String::new);
    let (rack, unit) = (&props.bench.work.rack, props.bench.shop.unit);
    let add = |of: Option<Section>| {
        let (send, added, wood, id) =
            (props.send.clone(), props.added.clone(), (*wood).clone(), rack.next_id());
        Callback::from(move |_: MouseEvent| {
            send.emit(Edit::Work(WorkEdit::AddStock { of, wood: wood.clone() }));
            added.emit((id, of.is_none()));
        })
    };
    let full = rack.no_stock().or(rack.no_row()).is_some();
    let one = |of: &Section| {
        let stock = Stock::of(of, &wood, unit);
        let is_here = rack.stocks.iter().any(|s| s.name == stock.name);
        let measures = match (is_here, of.nominal) {
            (true, _) => "in the rack".to_owned(),
            (_, None) => String::new(),
            _ => section(&stock, unit),
        };
        html! {
            <button data-test="yard" disabled={full || is_here} onclick={add(Some(*of))}>
                { tag("b", "", txt(stock.name)) }
                if !measures.is_empty() { { tag("small", "", crate::widgets::amount::set(&measures)) } }
            </button>
        }
    };
    let check: Check =
        Rc::new(|text| (text.chars().count() > 40).then(|| "At most 40 letters.".into()));
    let typed = {
        let wood = wood.clone();
        Callback::from(move |text| wood.set(text))
    };
    let sections = yard_sections(unit.is_metric());
    html! {
        <section class="inset yard">
            { tag("p", "help", txt("What your yard usually has: tap a section, then put in its prices. Boards differ: measure yours.")) }
            <Cell id="yard-wood" label="Species or grade" help="goes behind the name; may be empty" text={(*wood).clone()} {check} changed={typed} />
            { tag("div", "choices", each(sections.iter().map(one).gather())) }
            <div class="actions flush">
                <button class="key" data-test="add-stock" disabled={full} onclick={add(None)}>{ "Another size, or a sheet" }</button>
            </div>
        </section>
    }
}
