//! A test cut in scrap: what was measured gives this saw's correction for that side and reading.

use crate::widgets::amount::{degrees, sentence};
use crate::widgets::cell::{Cell, Check, choices};
use crate::widgets::keys::key;
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::parts::Side;
use offsquare_cuts::saw::{Axis, TestCut, corrected, off_zero};
use offsquare_units::{Angle, Length, Text, parse_angle, parse_length, say};
use offsquare_work::piece::Shop;
use offsquare_work::rack;
use offsquare_work::walk::Reading;
use std::rc::Rc;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct TestCutProps {
    pub shop: Shop,
    pub readings: Vec<Reading>,
    pub changed: Callback<Shop>,
    pub close: Callback<()>,
}

#[component]
pub fn TestCutSheet(props: &TestCutProps) -> Html {
    let one = |r: &Reading| {
        html! { <One key={r.words()} shop={props.shop.clone()} reading={*r} changed={props.changed.clone()} /> }
    };
    html! {
        <Sheet key="test" title="Test cut in scrap" close={props.close.clone()}>
            { each(props.readings.iter().map(one)) }
        </Sheet>
    }
}

#[derive(Properties, PartialEq)]
struct OneProps {
    shop: Shop,
    reading: Reading,
    changed: Callback<Shop>,
}

/// How it was measured, as it is typed.
#[derive(Clone, PartialEq, Default)]
struct Typed {
    by_gap: bool,
    angle: String,
    gap: String,
    along: String,
    at_long_point: bool,
    off_right: bool,
}

impl Typed {
    /// None while something is missing.
    fn test(&self, shop: &Shop, square: bool) -> Option<TestCut> {
        let length = |text: &str| parse_length(text, shop.unit).ok().map(|p| p.length);
        if square || self.by_gap {
            let (gap, along) = (length(&self.gap)?, length(&self.along)?);
            let (off_left, at_long_point) = (!self.off_right, self.at_long_point);
            return (along > Length(0.0) && gap >= Length(0.0)).then_some(match square {
                true => TestCut::Halves { gap, along, off_left },
                false => TestCut::Gap { gap, along, at_long_point },
            });
        }
        parse_angle(&self.angle).ok().map(|p| TestCut::Measured(p.angle))
    }
}

#[component]
fn One(props: &OneProps) -> Html {
    let typed = use_state(Typed::default);
    let said = use_state(String::new);
    let (shop, r) = (&props.shop, props.reading);
    let style = shop.style();
    let put = |change: fn(&mut Typed, String)| {
        let typed = typed.clone();
        Callback::from(move |text: String| {
            let mut new = (*typed).clone();
            change(&mut new, text);
            typed.set(new);
        })
    };
    let cell = |id: &str,
                label: &'static str,
                help: &'static str,
                text: &str,
                check: Check,
                changed| {
        let of = if r.axis == Axis::Miter { "miter" } else { "bevel" };
        let id = format!("{id}-{of}");
        let key = id.clone();
        let typed =
            if key.starts_with("measured") { rack::Typed::Number } else { rack::Typed::Length };
        html! { <Cell {key} {id} {label} {help} {typed} text={text.to_owned()} {check} {changed} /> }
    };
    let length: Check = {
        let unit = shop.unit;
        Rc::new(move |t| parse_length(t, unit).err().map(|e| e.to_string()))
    };
    let angle: Check = Rc::new(|t| parse_angle(t).err().map(|e| e.to_string()));
    let square = r.side == Side::Neither;
    // At 0 what is set is where the test cuts before have put it.
    let set = if square { r.by } else { r.set };
    let test = typed.test(shop, square);
    let keep = {
        let (shop, changed, said) = (shop.clone(), props.changed.clone(), said.setter());
        Callback::from(move |_: MouseEvent| {
            let Some(test) = test else { return };
            let mut shop = shop.clone();
            match shop.saw.learn(r.axis, r.side, r.exact, set, test.cut(r.exact)) {
                Ok(()) => {
                    said.set(String::new());
                    changed.emit(shop);
                }
                Err(sentence) => said.set(sentence),
            }
        })
    };
    let forget = {
        let (shop, changed) = (shop.clone(), props.changed.clone());
        Callback::from(move |_: MouseEvent| {
            let mut shop = shop.clone();
            shop.saw.forget(r.axis, r.side, r.exact);
            changed.emit(shop);
        })
    };
    let ways = two(["Its angle", "A gap"], typed.by_gap);
    let ends = two(["At the shorter edge", "At the long point"], typed.at_long_point);
    let halves = if r.axis == Axis::Miter { SWING } else { LEAN };
    let now = (r.by.0 != 0.0).then(|| {
        let forget = key("key", Some("forget-test"), "Forget it".into(), false, forget);
        let said = tag("p", "said", sentence(&known(r), &style));
        html! { <div data-test="corrected">{ said }{ forget }</div> }
    });
    let open = two(halves.1, typed.off_right);
    html! {
        <section class="test-cut">
            { tag("h3", "", heading(r)) }
            { each(now) }
            { tag("p", "said", txt(if square { halves.0 } else { ANGLE })) }
            if !square {
                { choices("What was measured", ways, &put(|t, key| t.by_gap = key == "second")) }
            }
            if square || typed.by_gap {
                { cell("gap", "Gap", "at its widest", &typed.gap, length.clone(), put(|t, text| t.gap = text)) }
                { cell("along", "Length of the cut", "", &typed.along, length, put(|t, text| t.along = text)) }
                if square {
                    { choices("Where it is open", open, &put(|t, key| t.off_right = key == "second")) }
                } else {
                    { choices("Where it stands off", ends, &put(|t, key| t.at_long_point = key == "second")) }
                }
            } else {
                { cell("measured", "Measured angle", "degrees off square", &typed.angle, angle, put(|t, text| t.angle = text)) }
            }
            if !said.is_empty() { <p class="wrong" role="status">{ (*said).clone() }</p> }
            { each(test.map(|t| {
                let off = t.cut(r.exact) - r.exact;
                let text = if square { found_at_zero(off) } else { found(t.cut(r.exact) - r.set) };
                html! { <p class="said" role="status">{ sentence(&text, &style) }</p> }
            })) }
            { tag("div", "actions", key("primary", Some("keep-test"), "Keep this correction".into(), test.is_none(), keep)) }
        </section>
    }
}

/// Two answers, the second one given or the first.
fn two([first, second]: [&str; 2], is_second: bool) -> Vec<(String, String, bool)> {
    vec![
        ("first".to_owned(), first.to_owned(), !is_second),
        ("second".to_owned(), second.to_owned(), is_second),
    ]
}

/// "Square", or what is set and what it should cut.
fn heading(r: Reading) -> Html {
    if r.side == Side::Neither {
        return txt(if r.axis == Axis::Miter { "Square" } else { "Upright" });
    }
    let set = [txt(": set to "), degrees(r.set), txt(", should cut "), degrees(r.exact)];
    each(core::iter::once(txt(r.words())).chain(set))
}

/// What test cuts have shown of a reading.
fn known(r: Reading) -> Text {
    let (mut text, by) = match (r.side, r.axis) {
        (Side::Neither, Axis::Miter) => (say!("By a test cut square is "), off_zero(r.by)),
        (Side::Neither, Axis::Bevel) => (say!("By a test cut upright is "), off_zero(r.by)),
        _ => (say!("By a test cut this reading is set "), corrected(r.by)),
    };
    text.extend(by);
    text.push(".");
    text
}

/// What a test cut shows that is off by this from the scale.
fn found(off: Angle) -> Text {
    if off.0.abs() < 0.05 {
        return say!("The scale is right: nothing to correct.");
    }
    let more = if off.0 > 0.0 { "more" } else { "less" };
    say!("This saw cuts {} {} than its scale says.", Angle(off.0.abs()), more)
}

/// What halves show that were cut at 0.
fn found_at_zero(off: Angle) -> Text {
    if off.0.abs() < 0.05 {
        return say!("The cut is true: nothing to correct.");
    }
    let side = if off.0 > 0.0 { "left" } else { "right" };
    say!("The cut is {} off to the {}.", off.abs(), side)
}

/// How halves are made and laid, and where they may be open: off to the left, off to the right.
type Halves = (&'static str, [&'static str; 2]);

const ANGLE: &str = "Cut a piece of scrap at this setting. Measure its angle, or hold it to a gauge set to the exact angle and measure where it stands off.";

const SWING: Halves = (
    "Cut a wide piece of scrap with parallel edges in two. Turn the right half over along its length, so that its other edge is near you. Push both halves against a straight edge on the far side, cut ends together. The gap shows twice the error.",
    ["Near you", "At the straight edge"],
);

const LEAN: Halves = (
    "Cut the thickest scrap that your saw takes in two. Turn the right half over along its length, so that its lower face is up. Lay both halves on a flat top, cut ends together. The gap shows twice the error.",
    ["At the top", "At the bottom"],
);
