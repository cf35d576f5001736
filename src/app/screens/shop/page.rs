//! The shop as a page.

use super::backup::Backup;
use super::field::{Setting, length_reader, length_said};
use super::saw_form::SawForm;
use crate::app::Dispatch;
use crate::parts::icon::{Glyph, icon};
use crate::state::Edit;
use offsquare_core::piece::{Paper, Shop, Theme};
use offsquare_core::save::Bench;
use offsquare_core::units::{Fraction, Length, Unit};
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct ShopProps {
    pub bench: Rc<Bench>,
    pub can_undo: bool,
}

#[component]
pub fn ShopPage(props: &ShopProps) -> Html {
    let dispatch = use_context::<Dispatch>();
    let shop = props.bench.shop.clone();
    let changed = {
        let dispatch = dispatch.clone();
        Callback::from(move |shop: Shop| {
            if let Some(d) = &dispatch {
                d.dispatch(Edit::Shop(Box::new(shop)));
            }
        })
    };
    let undo = Callback::from(move |_: MouseEvent| {
        if let Some(d) = &dispatch {
            d.dispatch(Edit::Undo);
        }
    });
    let pick = |label: &'static str, on: bool, change: Box<dyn Fn(&mut Shop)>| {
        let (shop, changed) = (shop.clone(), changed.clone());
        let tapped = Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            change(&mut shop);
            changed.emit(shop);
        });
        html! { <button aria-pressed={on.to_string()} onclick={tapped}>{ label }</button> }
    };
    let bar = |id: &'static str, label: &'static str, now: f64, change: fn(&mut Shop, f64)| {
        let (shop2, changed) = (shop.clone(), changed.clone());
        let metric = Shop {
            unit: Unit::Millimeter,
            ..shop.clone()
        };
        html! {
            <Setting<Length> {id} {label} help="in mm; 100 if it prints true"
                text={length_said(&metric, Length::mm(now))} read={length_reader(&metric, Length::mm(80.0))}
                changed={Callback::from(move |l: Length| {
                    let mut shop = shop2.clone();
                    change(&mut shop, l.as_mm().clamp(80.0, 125.0));
                    changed.emit(shop);
                })} />
        }
    };
    html! {
        <div class="page">
            <header class="top">
                <a href="#/" aria-label="Back to the bench">{ icon(Glyph::Back) }</a>
                <h1>{ "Shop" }</h1>
                <button aria-label="Undo" disabled={!props.can_undo} onclick={undo}>{ icon(Glyph::Undo) }</button>
            </header>
            <main class="shop">
                <h2 class="section">{ "Lengths are shown in" }</h2>
                <div class="choices">
                    { for Unit::ALL.map(|u| pick(u.label(), shop.unit == u, Box::new(move |s| {
                        s.unit = u;
                        s.fraction = s.fraction.suited_to(u);
                    }))) }
                </div>
                <h2 class="section">{ "To the nearest" }</h2>
                <div class="choices">
                    { for Fraction::ALL.iter().filter(|f| f.is_metric() == shop.unit.is_metric()).map(|f| {
                        let f = *f;
                        pick(f.label(), shop.fraction == f, Box::new(move |s| s.fraction = f))
                    }) }
                </div>
                <SawForm shop={shop.clone()} changed={changed.clone()} />
                <h2 class="section">{ "My rack" }</h2>
                <p class="help">{ "Stock by section, lengths and prices of your yard, boards and offcuts on hand." }</p>
                <div class="actions flush"><a class="key link" data-test="rack" href="#/rack">{ "Open the rack" }</a></div>
                <h2 class="section">{ "Paper" }</h2>
                <div class="choices">
                    { pick("US Letter", shop.paper == Paper::Letter, Box::new(|s| s.paper = Paper::Letter)) }
                    { pick("A4", shop.paper == Paper::A4, Box::new(|s| s.paper = Paper::A4)) }
                </div>
                <p class="help">{ "Print a template, measure its 100 mm bars, and put in what they measured: the next one comes out true." }</p>
                <div class="pair">
                    { bar("bar-across", "Bar across", shop.bar_mm.0, |s, mm| s.bar_mm.0 = mm) }
                    { bar("bar-along", "Bar along", shop.bar_mm.1, |s, mm| s.bar_mm.1 = mm) }
                </div>
                <h2 class="section">{ "Light" }</h2>
                <div class="choices">
                    { pick("As the device", shop.theme == Theme::System, Box::new(|s| s.theme = Theme::System)) }
                    { pick("Light", shop.theme == Theme::Light, Box::new(|s| s.theme = Theme::Light)) }
                    { pick("Dark", shop.theme == Theme::Dark, Box::new(|s| s.theme = Theme::Dark)) }
                </div>
                <Backup bench={props.bench.clone()} />
            </main>
        </div>
    }
}
