//! One part, opened: its shape, and every size of it.

use crate::screens::layout::figure;
use crate::state::Edit;
use crate::widgets::amount::set;
use crate::widgets::cell::{Check, cell, choices};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, fold, list, tag, txt};
use offsquare_paper::at_saw::part_on_saw;
use offsquare_units::Text;
use offsquare_units::num::Gather;
use offsquare_work::cutlist::{Entry, FIELDS};
use offsquare_work::piece::{Override, WorkEdit};
use offsquare_work::rack::Written;
use offsquare_work::save::Bench;
use std::rc::Rc;
use yew::prelude::*;

/// Fields that a part takes from its layout as long as it follows it. Of a pattern's part its length and ends can be
/// changed here all the same, and stay so.
const FOLLOWED: &[&str] = &[
    "length",
    "seen",
    "away",
    "left",
    "left_long",
    "left_bevel",
    "right",
    "right_long",
    "right_bevel",
];

pub fn form(entry: &Entry, bench: &Bench, send: &Callback<Edit>) -> Html {
    let (id, unit) = (entry.id, bench.shop.unit);
    let on = |edit: Edit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(edit.clone()))
    };
    let follows = entry.from.as_ref().map(|f| f.source);
    let patterns = bench.work.pattern_of(entry).is_some();
    let followed =
        |key: &str| FOLLOWED.contains(&key) && !(patterns && Override::key_of(key).is_some());
    let fields: Vec<Html> = FIELDS
        .iter()
        .filter(|b| follows.is_none() || !followed(b.key))
        .map(|blank| {
            let key = blank.key;
            let check: Check = {
                let entry = Rc::new(entry.clone());
                Rc::new(move |text| (*entry).clone().write(key, text, unit).err())
            };
            let changed = {
                let send = send.clone();
                Callback::from(move |text: String| {
                    send.emit(Edit::Work(WorkEdit::Part { id, key, text }));
                })
            };
            cell(format!("part-{id}-{key}"), blank, entry.text(key, unit), check, changed)
        })
        .gather();
    let width = bench.work.rack.stock_of(entry.stock).map(|s| s.width);
    html! {
        <div class="part-form">
            { tag("div", "on-saw", figure(&part_on_saw(entry, width), &bench.shop.style(), 344.0, 120.0, "The part as it lies on the saw")) }
            if let Some(source) = follows {
                if patterns {
                    { tag("p", "help", txt("It follows the piece\u{2019}s sizes. What you change here stays changed when they do.")) }
                } else {
                    { tag("p", "help", txt("Sizes and ends come from its layout and follow it.")) }
                    { tag("div", "actions", list(vec![key("key", Some("take-up"), "Change them there".into(), false, on(Edit::TakeUp(source))), key("key", None, "Change them here".into(), false, on(Edit::Work(WorkEdit::LetGo(id))))])) }
                }
            }
            { stocks("Cut from", bench, Some(id), entry.stock, send) }
            { tag("div", "pair", list(fields)) }
            <div class="actions">
                { key("key", None, "Copy this part".into(), bench.work.no_room(1).is_some(), on(Edit::Work(WorkEdit::CopyPart(id)))) }
                if !entry.done {
                    { key("key", None, "Cut already".into(), false, on(Edit::Work(WorkEdit::Done { id, done: true }))) }
                }
            </div>
        </div>
    }
}

/// The rack's stock that fits a part, or (no id) some of those that have none, to pick from; why the rest does not; and
/// the size that is missing, to add.
#[inline(never)]
pub fn stocks(
    label: &'static str,
    bench: &Bench,
    id: Option<u32>,
    now: Option<u32>,
    send: &Callback<Edit>,
) -> Html {
    let (unit, style) = (bench.shop.unit, bench.shop.style());
    let fitting = bench.work.fitting(id, unit);
    let one = |(stock, words): (u32, String)| (stock.to_string(), words, now == Some(stock));
    let fits = fitting.fits.into_iter().map(one).gather();
    let edit = |edit: WorkEdit| {
        let send = send.clone();
        Callback::from(move |_: MouseEvent| send.emit(Edit::Work(edit.clone())))
    };
    let pick = {
        let send = send.clone();
        Callback::from(move |key: String| {
            let stock = key.parse().ok();
            send.emit(Edit::Work(WorkEdit::CutFrom { id, stock }));
        })
    };
    let why = |(name, why): (&String, &Text)| {
        let both = [name, ": ", &why.render(&style)].concat();
        tag("li", "", set(&both))
    };
    let wrong = fitting.others.iter().find(|o| now == Some(o.0));
    let rest = each(fitting.others.iter().map(|o| why((&o.1, &o.2))));
    let missing = fitting.missing.map(|(part, stock)| {
        let words = format!("Add {} to the rack", stock.name);
        let label = html! { { set(&words) } };
        html! { <button class="key" data-test="add-size" onclick={edit(WorkEdit::AddStockFor(part))}>{ label }</button> }
    });
    html! {
        <>
            { choices(label, fits, &pick) }
            { each(wrong.map(|o| tag("p", "wrong", set(&format!("{} does not fit: {}.", o.1, o.2.render(&style)))))) }
            { each(missing.map(|key| tag("div", "actions", key))) }
            if !fitting.others.is_empty() {
                { fold("What does not fit", tag("ul", "misfits", rest)) }
            }
        </>
    }
}
