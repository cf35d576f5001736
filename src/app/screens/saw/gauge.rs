//! The screen as a gauge: a reading as a line against the phone's long edge; true size, once a card was held to it.

use super::true_size::{TrueSizeSheet, now_shown};
use crate::io::browser;
use crate::io::display::window_size;
use crate::state::{Dispatch, Edit};
use crate::widgets::amount::tenth;
use crate::widgets::icon::{Glyph, icon};
use crate::widgets::keys::{choice, key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_cuts::parts::{Cut, Part, Side};
use offsquare_geometry::Point;
use offsquare_paper::gauge::{Gauge, reaches, rule};
use offsquare_units::num::Gather;
use offsquare_units::{Length, say};
use offsquare_work::piece::{Shop, TrueSize};
use yew::prelude::*;

#[derive(Properties, PartialEq, Clone)]
pub struct GaugeProps {
    pub shop: Shop,
    /// What can be shown: its name, its reading, the width that the cut runs over.
    pub lines: Vec<(String, Gauge, Option<Length>)>,
    pub changed: Callback<Shop>,
    pub close: Callback<()>,
}

/// For a cut of a layout.
pub fn gauge_of_cut(
    shop: &Shop,
    (part, cut): (&Part, &Cut),
    dispatch: &Dispatch,
    close: Callback<()>,
) -> Html {
    let set = shop.saw.advise(part, cut).setting();
    let line = |name: String, reading, hand, across| {
        (name, Gauge { reading, hand, complement: false }, across)
    };
    let mut lines = vec![line("Miter".to_owned(), set.miter, set.swing, Some(part.seen))];
    if set.bevel.0 > 0.0 {
        lines.push(line("Bevel".to_owned(), set.bevel, set.lean, part.away));
    }
    let changed = {
        let dispatch = dispatch.clone();
        Callback::from(move |shop: Shop| dispatch.dispatch(Edit::Shop(Box::new(shop))))
    };
    let shop = shop.clone();
    html! { <GaugeSheet key="gauge" {shop} {lines} {changed} {close} /> }
}

/// The size of what is drawn on, to the fraction of a px.
#[hook]
fn use_size(frame: &NodeRef) -> (f64, f64) {
    let size = use_state_eq(window_size);
    let measure = {
        let (frame, size) = (frame.clone(), size.setter());
        move || {
            if let Some(e) = frame.cast::<web_sys::Element>() {
                let r = e.get_bounding_client_rect();
                if r.width() > 10.0 && r.height() > 10.0 {
                    size.set((r.width(), r.height()));
                }
            }
        }
    };
    let frame = frame.clone();
    use_effect_with((), move |()| {
        measure();
        let watched = frame.cast().map(|e| browser::on_resize(&e, measure));
        move || drop(watched)
    });
    *size
}

/// With digits enough that the line is off by nothing that shows.
fn at(x: f64) -> String {
    format!("{x:.4}")
}

fn line(class: &'static str, (a, b): (Point, Point)) -> Html {
    html! { <line {class} x1={at(a.x)} y1={at(a.y)} x2={at(b.x)} y2={at(b.y)} /> }
}

#[component]
pub fn GaugeSheet(props: &GaugeProps) -> Html {
    let picked = use_state_eq(|| 0_usize);
    let hand = use_state_eq(|| None::<Side>);
    let complement = use_state_eq(|| false);
    let sized = use_state_eq(|| false);
    let measuring = use_state_eq(|| false);
    let frame = use_node_ref();
    let (w, h) = use_size(&frame);
    use_effect_with((), |()| {
        let before = browser::focused();
        browser::focus("gauge-close");
        move || {
            if let Some(e) = before {
                // An element that is gone takes no focus.
                let _ = e.focus();
            }
        }
    });
    let close = {
        let close = props.close.clone();
        Callback::from(move |_: MouseEvent| close.emit(()))
    };
    let escape = {
        let close = props.close.clone();
        Callback::from(move |e: KeyboardEvent| {
            if e.key() == "Escape" {
                e.stop_propagation();
                close.emit(());
            }
        })
    };
    let Some((_, given, across)) = props.lines.get(*picked).or(props.lines.first()) else {
        return html! {};
    };
    let own = if given.hand == Side::Neither { Side::Left } else { given.hand };
    let gauge = Gauge { hand: hand.unwrap_or(own), complement: *complement, ..*given };
    if *measuring {
        let done = {
            let (measuring, sized) = (measuring.setter(), sized.setter());
            Callback::from(move |kept: bool| {
                measuring.set(false);
                sized.set(kept);
            })
        };
        return html! { <TrueSizeSheet shop={props.shop.clone()} changed={props.changed.clone()} {done} /> };
    }
    let holds = props.shop.true_size.filter(|t| t.holds(now_shown()));
    let shown = holds.filter(|_| *sized);
    let picks = props.lines.iter().enumerate().map(|(i, (name, g, _))| {
        let to = picked.setter();
        let tap = Callback::from(move |_: MouseEvent| to.set(i));
        let label = format!("{name} {}\u{b0}", tenth(g.reading));
        choice(i == *picked, Some(format!("gauge-line-{i}")), label.into(), tap)
    });
    let picks: Vec<Html> = picks.gather();
    let keys = list(vec![
        hands(&gauge, &hand, &complement),
        tag("div", "choices", size_key(&props.shop, holds.is_some(), &sized, &measuring)),
    ]);
    html! {
        <div class="gauge" role="dialog" aria-modal="true" aria-label="The screen as a gauge" onkeydown={escape}>
            <div class="gauge-field" ref={frame}>
                <svg width={at(w)} height={at(h)} viewBox={format!("0 0 {} {}", at(w), at(h))} role="img" data-test="gauge"
                    aria-label={format!("A line at {}\u{b0} to the long edge", tenth(gauge.to_edge()))}>
                    { match shown {
                        Some(size) => in_true_size(&gauge, &size, *across, (w, h), &props.shop),
                        None => line("gauge-line", gauge.line(w, h)),
                    } }
                </svg>
                { tag("p", "gauge-said", said(&gauge, shown, *across, h, &props.shop)) }
                <button id="gauge-close" class="gauge-close" aria-label="Close" onclick={close}>{ icon(Glyph::Close) }</button>
            </div>
            <div class="gauge-keys">
                if picks.len() > 1 { { tag("div", "choices", list(picks)) } }
                { keys }
            </div>
        </div>
    }
}

fn flag(state: &UseStateHandle<bool>, to: bool) -> Callback<MouseEvent> {
    let state = state.setter();
    Callback::from(move |_: MouseEvent| state.set(to))
}

/// Both hands, and both angles that a reading can be taken for; nothing of what is square.
fn hands(
    gauge: &Gauge,
    hand: &UseStateHandle<Option<Side>>,
    complement: &UseStateHandle<bool>,
) -> Html {
    if gauge.reading.0 == 0.0 {
        return html! {};
    }
    let one = |(side, words, test): (Side, &'static str, &'static str)| {
        let state = hand.setter();
        let tap = Callback::from(move |_: MouseEvent| state.set(Some(side)));
        choice(gauge.hand == side, Some(test.into()), words.into(), tap)
    };
    let both =
        [(Side::Left, "Swung left", "hand-left"), (Side::Right, "Swung right", "hand-right")];
    let edge = format!("To the edge {}\u{b0}", tenth(gauge.reading.complement()));
    let off = format!("Complement {}\u{b0}", tenth(gauge.reading));
    let angles = [
        choice(!gauge.complement, Some("to-edge".into()), edge.into(), flag(complement, false)),
        choice(gauge.complement, Some("complement".into()), off.into(), flag(complement, true)),
    ];
    list(vec![
        tag("div", "choices two", each(both.map(one))),
        tag("div", "choices two", each(angles)),
    ])
}

/// True size on or off, or how to come by it.
fn size_key(
    shop: &Shop,
    holds: bool,
    sized: &UseStateHandle<bool>,
    measuring: &UseStateHandle<bool>,
) -> Html {
    if holds {
        return choice(
            **sized,
            Some("true-size".into()),
            "True size".into(),
            flag(sized, !**sized),
        );
    }
    let words = match shop.true_size {
        Some(_) => "The zoom has changed: hold a card to it again",
        None => "True size: hold a bank card to it",
    };
    key("key", Some("measure"), words.into(), false, flag(measuring, true))
}

/// What the line is, so that it is not taken for another.
fn said(
    gauge: &Gauge,
    shown: Option<TrueSize>,
    across: Option<Length>,
    h: f64,
    shop: &Shop,
) -> Html {
    let figure = tag("b", "", txt(format!("{}\u{b0} to the long edge", tenth(gauge.to_edge()))));
    let hand = match gauge.hand {
        Side::Right => "swung right",
        _ => "swung left",
    };
    let whole = match (gauge.reading.0 == 0.0, gauge.complement) {
        (true, _) => " square. The stock of the gauge on the left long edge.".to_owned(),
        (_, true) => format!(
            " the complement: {}\u{b0} off square is {}\u{b0} to the edge. The stock of the gauge on the left long edge.",
            tenth(gauge.reading),
            tenth(gauge.reading.complement())
        ),
        (_, false) => format!(
            " {}\u{b0} off square, {hand}. The left long edge is the board\u{2019}s edge at the fence, the phone\u{2019}s top to the right.",
            tenth(gauge.reading)
        ),
    };
    let mut out = vec![figure, txt(whole)];
    if let Some(size) = shown {
        let style = shop.style();
        let reach = reaches(h, size.px_per_mm);
        let over = if shop.unit.is_metric() { Length::mm(100.0) } else { Length(4.0) };
        let mut text = say!(" True size, good to {} over {}", size.good_to(over), over);
        text.extend(say!("; the screen reaches {}.", reach));
        if across.is_none() {
            text.extend(say!(" The width of the board is not known."));
        }
        out.push(txt(text.render(&style)));
    }
    list(out)
}

/// The cut on a board as wide as it is, with a rule down the long edge.
fn in_true_size(
    gauge: &Gauge,
    size: &TrueSize,
    across: Option<Length>,
    (w, h): (f64, f64),
    shop: &Shop,
) -> Html {
    let wide = across.map_or(w, |a| size.px(a));
    let metric = shop.unit.is_metric();
    let run = gauge.across(wide, 0.0).1.y;
    // From where the whole cut is on the screen, on a whole mark of the rule.
    let unit = size.px_per_mm * if metric { 10.0 } else { offsquare_units::MM_PER_INCH };
    let room = if run < 0.0 { -run } else { 0.0 };
    let from = offsquare_units::num::ceil((room + unit) / unit) * unit;
    let marks = rule(size.px_per_mm, h, metric);
    let one = |m: &offsquare_paper::gauge::RuleMark| {
        let y = at(m.y);
        let figure = m
            .figure
            .map(|n| html! { <text class="gauge-figure" x="26" y={at(m.y + 4.0)}>{ n }</text> });
        html! { <><line class="gauge-rule" x1="0" y1={y.clone()} x2={at(m.long)} y2={y} />{ figure.unwrap_or_default() }</> }
    };
    html! {
        <>
            { each(marks.iter().map(one)) }
            { line("gauge-edge", (Point::new(wide, 0.0), Point::new(wide, h))) }
            { line("gauge-line", gauge.across(wide.min(4.0 * w), from)) }
        </>
    }
}
