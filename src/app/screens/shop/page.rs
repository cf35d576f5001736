//! The shop as a page.

use super::backup::Backup;
use super::field::{field, length_reader, length_said};
use super::saw_form::saw_form;
use crate::state::{Dispatch, Edit, on};
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{back, choice, icon_key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_units::{Fraction, Length, Unit};
use offsquare_work::piece::{Paper, Shop, Theme};
use offsquare_work::rack::Typed;
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

pub fn shop_page(bench: &Rc<Bench>, can_undo: bool, dispatch: &Dispatch) -> Html {
    let shop = &bench.shop;
    let changed = {
        let dispatch = dispatch.clone();
        Callback::from(move |shop: Shop| dispatch.dispatch(Edit::Shop(Box::new(shop))))
    };
    let pick = |label: &'static str, on: bool, change: Box<dyn Fn(&mut Shop)>| {
        let (shop, changed) = (shop.clone(), changed.clone());
        let tapped = Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            change(&mut shop);
            changed.emit(shop);
        });
        html! { { choice(on, None, label.into(), tapped) } }
    };
    let bar = |id: &'static str, label: &'static str, now: f64, change: fn(&mut Shop, f64)| {
        let (shop2, changed) = (shop.clone(), changed.clone());
        let metric = Shop { unit: Unit::Millimeter, ..shop.clone() };
        let typed = Callback::from(move |l: Length| {
            let mut shop = shop2.clone();
            change(&mut shop, l.as_mm());
            changed.emit(shop);
        });
        field(
            id,
            (label, "in mm; 100 if it prints true"),
            (length_said(&metric, Length::mm(now)), (Typed::Length, Some(Unit::Millimeter))),
            length_reader(&metric, Length::mm(80.0), Length::mm(125.0)),
            typed,
        )
    };
    html! {
        <div class="page" key="shop">
            <header class="top">
                { back("#/", "Back to the bench") }
                { tag("h1", "", txt("Shop")) }
                { icon_key(Glyph::Undo, "Undo", None, !can_undo, on(dispatch, Edit::Undo)) }
            </header>
            <main class="shop">
                { tag("h2", "section", txt("Lengths are shown in")) }
                <div class="choices">
                    { each(Unit::ALL.map(|u| pick(u.label(), shop.unit == u, Box::new(move |s| {
                        s.unit = u;
                        s.fraction = s.fraction.suited_to(u);
                    })))) }
                </div>
                { tag("h2", "section", txt("To the nearest")) }
                <div class="choices">
                    { each(Fraction::ALL.iter().filter(|f| f.is_metric() == shop.unit.is_metric()).map(|f| {
                        let f = *f;
                        pick(f.label(), shop.fraction == f, Box::new(move |s| s.fraction = f))
                    })) }
                </div>
                { saw_form(shop, &changed) }
                { tag("h2", "section", txt("My rack")) }
                { tag("p", "help", txt("Stock by section, lengths and prices of your yard, boards and offcuts on hand.")) }
                <div class="actions flush"><a class="key link" data-test="rack" href="#/rack">{ "Open the rack" }</a></div>
                { tag("h2", "section", txt("Paper")) }
                { tag("div", "choices", list(vec![pick("US Letter", shop.paper == Paper::Letter, Box::new(|s| s.paper = Paper::Letter)), pick("A4", shop.paper == Paper::A4, Box::new(|s| s.paper = Paper::A4))])) }
                { tag("p", "help", txt("Print a template, measure its 100 mm bars, and put in what they measured: the next one comes out true.")) }
                { tag("div", "pair", list(vec![bar("bar-across", "Bar across", shop.bar_mm.0, |s, mm| s.bar_mm.0 = mm), bar("bar-along", "Bar along", shop.bar_mm.1, |s, mm| s.bar_mm.1 = mm)])) }
                { tag("h2", "section", txt("Light")) }
                { tag("div", "choices", list(vec![pick("As the device", shop.theme == Theme::System, Box::new(|s| s.theme = Theme::System)), pick("Light", shop.theme == Theme::Light, Box::new(|s| s.theme = Theme::Light)), pick("Dark", shop.theme == Theme::Dark, Box::new(|s| s.theme = Theme::Dark))])) }
                <Backup bench={bench.clone()} dispatch={dispatch.clone()} />
            </main>
        </div>
    }
}
