//! The saw card: exact figures, the board on the saw seen from above, how it was derived, if it's off.

use super::drawing::Plain;
use super::page::Raised;
use super::view::{SharedAnswer, advice, chosen, cut_index, cuts};
use crate::parts::amount::{Amount, Degrees, Say, Setting};
use crate::parts::sheet::Sheet;
use offsquare_core::backwards::if_off;
use offsquare_core::drawing::on_saw;
use offsquare_core::layouts::Answer;
use offsquare_core::parts::Side;
use offsquare_core::piece::{Draft, Shop};
use offsquare_core::report::label;
use offsquare_core::units::{Angle, Quantity};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct CardProps {
    pub answer: SharedAnswer,
    pub draft: Draft,
    pub shop: Shop,
    pub cut: usize,
    pub raise: Callback<Raised>,
    pub close: Callback<()>,
}

#[component]
pub fn SawCard(props: &CardProps) -> Html {
    let Some(solved) = chosen(&props.answer, &props.draft) else {
        return html! {};
    };
    let style = props.shop.style();
    let at = cut_index(solved, props.cut);
    let all = cuts(solved);
    let advices = advice(solved, &props.shop);
    let length = |l| html! { <Amount quantity={Quantity::Length(l)} {style} /> };
    let saw = all.get(at).zip(advices.get(at)).map(|((part, cut), a)| {
        html! {
            <>
                <p class="said"><b>{ format!("{}: {}", part.name, cut.name) }</b></p>
                <div class="on-saw"><Plain scene={on_saw(part, cut)} /></div>
                <dl class="rows">
                    <div><dt>{ "Set the saw to" }</dt><dd><Setting miter={a.set_miter} bevel={a.set_bevel} /></dd></div>
                    <div><dt>{ "Exactly, off square" }</dt><dd><Degrees angle={cut.miter} /></dd></div>
                    <div><dt>{ "The cut meets the edge at" }</dt><dd><Degrees angle={Angle(90.0 - cut.miter.0)} /></dd></div>
                    if cut.bevel.0 > 0.0 {
                        <div><dt>{ "Blade tilt" }</dt><dd><Degrees angle={cut.bevel} /></dd></div>
                    }
                    <div><dt>{ "Swing" }</dt><dd>{ side(cut.swing) }</dd></div>
                    <div><dt>{ "Tape mark along the far edge" }</dt><dd>{ length(a.tape_mark) }</dd></div>
                    <div><dt>{ "Gap that the setting leaves" }</dt><dd>{ length(a.gap) }</dd></div>
                    <div><dt>{ "Edge at the fence" }</dt><dd>{ length(part.edge_b) }</dd></div>
                    <div><dt>{ "Edge toward you" }</dt><dd>{ length(part.edge_a) }</dd></div>
                    <div><dt>{ "Whole length, for buying" }</dt><dd>{ length(part.length) }</dd></div>
                </dl>
                { for a.said().into_iter().map(|t| html! { <p class="said"><Say text={t} {style} /></p> }) }
            </>
        }
    });
    let offs = solved
        .inputs
        .form_of(&props.draft.layout)
        .map(|l| if_off(l, solved, style.unit.is_metric()))
        .unwrap_or_default();
    let back = {
        let raise = props.raise.clone();
        Callback::from(move |_: MouseEvent| raise.emit(Raised::Back))
    };
    html! {
        <Sheet title="Saw card" close={props.close.clone()}>
            { for saw }
            <div class="actions"><button class="primary" onclick={back}>{ "Make it land on a mark" }</button></div>
            if !offs.is_empty() {
                <h3>{ "If it\u{2019}s off" }</h3>
                <dl class="rows">
                    { for offs.iter().map(|o| html! {
                        <div>
                            <dt>{ label(o.answer) }{ " off by " }<Amount quantity={o.by} {style} /></dt>
                            <dd>
                                if let Some(g) = o.gap { { "gap " }{ length(g) } }
                                if let Some(v) = o.value { { format!(" {} ", label(o.give)) }<Amount quantity={v} {style} /> }
                            </dd>
                        </div>
                    }) }
                </dl>
            }
            <h3>{ "How it was found" }</h3>
            <ol class="steps">
                { for solved.solution.derivation.iter().map(|t| html! { <li><Say text={t.clone()} {style} /></li> }) }
            </ol>
            <h3>{ "All figures" }</h3>
            <dl class="rows">
                { for figures(solved).into_iter().map(|(name, q)| html! {
                    <div><dt>{ name }</dt><dd><Amount quantity={q} {style} /></dd></div>
                }) }
            </dl>
        </Sheet>
    }
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Neither => "square",
    }
}

/// Every figure of the answer with its words.
fn figures(solved: &offsquare_core::backwards::Solved) -> Vec<(String, Quantity)> {
    let mut out = Vec::new();
    for (key, a) in &solved.solution.answers.0 {
        match a {
            Answer::Quantity(q) => out.push((label(key), *q)),
            _ => {
                let mut one = offsquare_core::layouts::Answers::new();
                one.put(key.clone(), a.clone());
                one.each_quantity(&mut |path, q| out.push((label(path), q)));
            }
        }
    }
    out
}
