//! My saw: its limits, its marks, its blade.

use super::field::{
    HAIR, angle_reader, field, length_reader, length_said, marks_reader, marks_text,
};
use crate::parts::keys::{choice, key};
use crate::parts::tags::{list, tag, txt};
use offsquare_core::piece::Shop;
use offsquare_core::saw::SawProfile;
use offsquare_core::units::{Angle, Length};
use yew::prelude::*;

pub fn saw_form(shop: &Shop, changed: &Callback<Shop>) -> Html {
    let with = |change: fn(&mut SawProfile, Length)| {
        let (shop, changed) = (shop.clone(), changed.clone());
        Callback::from(move |l: Length| {
            let mut shop = shop.clone();
            change(&mut shop.saw, l);
            changed.emit(shop);
        })
    };
    let with_angle = |change: fn(&mut SawProfile, Angle)| {
        let (shop, changed) = (shop.clone(), changed.clone());
        Callback::from(move |a: Angle| {
            let mut shop = shop.clone();
            change(&mut shop.saw, a);
            changed.emit(shop);
        })
    };
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
        field(id, (label, "with commas between"), marks_text(now), marks_reader(), typed)
    };
    let angle = |id: &'static str,
                 label: &'static str,
                 now: Angle,
                 least: f64,
                 most: f64,
                 change: fn(&mut SawProfile, Angle)| {
        field(id, (label, ""), now.0.to_string(), angle_reader(least, most), with_angle(change))
    };
    let length = |id: &'static str,
                  label: &'static str,
                  help: &'static str,
                  now: Length,
                  most: f64,
                  change: fn(&mut SawProfile, Length)| {
        field(
            id,
            (label, help),
            length_said(shop, now),
            length_reader(shop, HAIR, Length(most)),
            with(change),
        )
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
            { tag("div", "pair", list(vec![angle("miter-left", "Miter, left", saw.miter_left, 0.0, 75.0, |s, a| s.miter_left = a), angle("miter-right", "Miter, right", saw.miter_right, 0.0, 75.0, |s, a| s.miter_right = a), angle("bevel-left", "Bevel, left", saw.bevel_left, 0.0, 60.0, |s, a| s.bevel_left = a), angle("bevel-right", "Bevel, right", saw.bevel_right, 0.0, 60.0, |s, a| s.bevel_right = a)])) }
            { marks("detents", "Click stops of the miter scale", &saw.detents, |s, m| s.detents = m) }
            { marks("bevel-stops", "Bevel stops", &saw.bevel_stops, |s, m| s.bevel_stops = m) }
            { angle("finest", "Finest mark on the scale", saw.finest_mark, 0.05, 5.0, |s, a| s.finest_mark = a) }
            { length("kerf", "Blade kerf", if saw.kerf_assumed { "assumed: measure a cut" } else { "" }, saw.kerf, 1.0, |s, l| { s.kerf = l; s.kerf_assumed = false; }) }
            if saw.kerf_assumed {
                { key("key", None, "Yes, that is my kerf".into(), false, confirm) }
            }
            { tag("div", "pair", list(vec![length("width-square", "Widest cut, square", "", saw.width_square, 60.0, |s, l| s.width_square = l), length("width-45", "Widest cut at 45\u{b0}", "", saw.width_at_45, 60.0, |s, l| s.width_at_45 = l), length("height-upright", "Highest cut, upright", "", saw.height_upright, 60.0, |s, l| s.height_upright = l), length("height-45", "Highest at 45\u{b0} bevel", "", saw.height_at_45_bevel, 60.0, |s, l| s.height_at_45_bevel = l)])) }
            { length("hold", "Shortest piece held by hand", "your manual says more", saw.hold_length, 60.0, |s, l| s.hold_length = l) }
            { tag("div", "choices", choice(saw.both_readings, None, "Miter and bevel can be set at once".into(), both)) }
        </section>
    }
}
