//! My saw: its limits, its marks, its blade.

use super::field::{angle_reader, field, length_reader, length_said, marks_reader, marks_text};
use crate::widgets::amount::sentence;
use crate::widgets::keys::{choice, key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_cuts::parts::Side;
use offsquare_cuts::saw::{Axis, Limit, SawProfile, corrected, off_zero, wording};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Text, say};
use offsquare_work::piece::Shop;
use offsquare_work::rack::Typed;
use yew::prelude::*;

pub fn saw_form(shop: &Shop, changed: &Callback<Shop>) -> Html {
    let marks = |id: &'static str,
                 label: &'static str,
                 now: &[Angle],
                 change: fn(&mut SawProfile, Vec<Angle>)| {
        let (shop, changed) = (shop.clone(), changed.clone());
        let typed = Callback::from(move |m: Vec<Angle>| {
            let mut shop = shop.clone();
            change(&mut shop.saw, m);
            changed.emit(shop);
        });
        let text = (marks_text(now), (Typed::Words, None));
        field(id, (label, "with commas between"), text, marks_reader(), typed)
    };
    let number = |id: &'static str,
                  label: &'static str,
                  help: &'static str,
                  key: &'static str,
                  change: fn(&mut SawProfile)| {
        let limit = Limit::find(key);
        let (least, most) = limit.map_or((0.0, 0.0), |l| (l.least, l.most));
        let now = limit.map_or(0.0, |l| *(l.of)(&mut shop.saw.clone()));
        let (shop_now, changed) = (shop.clone(), changed.clone());
        let typed = move |x: f64| {
            let mut shop = shop_now.clone();
            if let Some(l) = limit {
                *(l.of)(&mut shop.saw) = x;
            }
            change(&mut shop.saw);
            changed.emit(shop);
        };
        if key.ends_with("_deg") {
            let typed = Callback::from(move |a: Angle| typed(a.0));
            let text = (now.to_string(), (Typed::Number, None));
            field(id, (label, help), text, angle_reader(least, most), typed)
        } else {
            let typed = Callback::from(move |l: Length| typed(l.0));
            let read = length_reader(shop, Length(least), Length(most));
            let text = (length_said(shop, Length(now)), (Typed::Length, None));
            field(id, (label, help), text, read, typed)
        }
    };
    let both = {
        let (shop, changed) = (shop.clone(), changed.clone());
        Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            shop.saw.both_readings = !shop.saw.both_readings;
            changed.emit(shop);
        })
    };
    let confirm = {
        let (shop, changed) = (shop.clone(), changed.clone());
        Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            shop.saw.kerf_assumed = false;
            changed.emit(shop);
        })
    };
    let saw = &shop.saw;
    html! {
        <section>
            { tag("h2", "section", txt("My saw")) }
            { tag("p", "help", txt("Read these off your saw and its manual. Until then a usual saw is assumed.")) }
            { tag("div", "pair", list(vec![number("miter-left", "Miter, left", "", "miter_left_deg", |_| ()), number("miter-right", "Miter, right", "", "miter_right_deg", |_| ()), number("bevel-left", "Bevel, left", "", "bevel_left_deg", |_| ()), number("bevel-right", "Bevel, right", "", "bevel_right_deg", |_| ())])) }
            { marks("detents", "Click stops of the miter scale", &saw.detents, |s, m| s.detents = m) }
            { marks("bevel-stops", "Bevel stops", &saw.bevel_stops, |s, m| s.bevel_stops = m) }
            { number("finest", "Finest mark on the scale", "", "finest_mark_deg", |_| ()) }
            { number("kerf", "Blade kerf", if saw.kerf_assumed { "assumed: measure a cut" } else { "" }, "kerf", |s| s.kerf_assumed = false) }
            if saw.kerf_assumed {
                { key("key", None, "Yes, that is my kerf".into(), false, confirm) }
            }
            { tag("div", "pair", list(vec![number("width-square", "Widest cut, square", "", "width_square", |_| ()), number("width-45", "Widest cut at 45\u{b0}", "", "width_at_45", |_| ()), number("height-upright", "Highest cut, upright", "", "height_upright", |_| ()), number("height-45", "Highest at 45\u{b0} bevel", "", "height_at_45_bevel", |_| ())])) }
            { number("hold", "Shortest piece held by hand", "your manual says more", "hold_length", |_| ()) }
            { corrections(shop, changed) }
            { tag("div", "choices", choice(saw.both_readings, None, "Miter and bevel can be set at once".into(), both)) }
        </section>
    }
}

/// What test cuts have shown, each to be forgotten.
fn corrections(shop: &Shop, changed: &Callback<Shop>) -> Html {
    let one = |c: &offsquare_cuts::saw::Correction| {
        let of = match c.axis {
            Axis::Miter => "Swung",
            Axis::Bevel => "Leaning",
        };
        let said = |mut of: Text, by: Text| {
            of.extend(by);
            of
        };
        let text = match (c.side, c.axis) {
            (Side::Neither, Axis::Miter) => said(say!("Square: "), off_zero(c.by)),
            (Side::Neither, Axis::Bevel) => said(say!("Upright: "), off_zero(c.by)),
            (side, _) => {
                let of = say!("{}{}: ", format!("{of} {} to ", wording::side(side)), c.reading);
                said(of, corrected(c.by))
            }
        };
        let (axis, side, reading) = (c.axis, c.side, c.reading);
        let (shop, changed) = (shop.clone(), changed.clone());
        let style = shop.style();
        let forget = Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            shop.saw.forget(axis, side, reading);
            changed.emit(shop);
        });
        let forget = key("key", Some("forget"), "Forget it".into(), false, forget);
        tag("li", "", list(vec![sentence(&text, &style), forget]))
    };
    let all: Vec<Html> = shop.saw.corrections.iter().map(one).gather();
    if all.is_empty() {
        return html! {};
    }
    html! {
        <>
            { tag("h3", "", txt("By test cuts in scrap")) }
            { tag("ul", "corrections", each(all)) }
        </>
    }
}
