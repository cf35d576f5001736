//! The saw card: exact figures, the board on the saw seen from above, how it was derived, if it's off.

use super::drawing::Figure;
use super::page::Raised;
use super::view::{SharedAnswer, chosen, cut_index, cuts};
use crate::parts::amount::{Amount, Degrees, Say, Setting};
use crate::parts::sheet::Sheet;
use offsquare_core::backwards::{Solved, advise, if_off};
use offsquare_core::layouts::Answers;
use offsquare_core::piece::{Draft, Shop};
use offsquare_core::report::label;
use offsquare_core::saw::{seen_from_above, wording};
use offsquare_core::units::{Quantity, Text};
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct CardProps {
    pub answer: SharedAnswer,
    pub draft: Draft,
    pub shop: Shop,
    pub cut: Option<usize>,
    pub raise: Callback<Raised>,
    pub close: Callback<()>,
}

#[component]
pub fn SawCard(props: &CardProps) -> Html {
    let (Some(solved), Some(layout)) = (chosen(&props.answer, &props.draft), props.draft.layout())
    else {
        return html! {};
    };
    let style = props.shop.style();
    let at = cut_index(solved, props.cut);
    let all = cuts(solved);
    let parts = advise(layout, solved, &props.shop.saw);
    let advices: Vec<_> = parts
        .iter()
        .flat_map(|p| p.cuts.iter().map(move |c| (p, c)))
        .collect();
    let length = |l| html! { <Amount quantity={Quantity::Length(l)} {style} /> };
    let said = |all: Vec<Text>| -> Html {
        all.into_iter()
            .map(|t| html! { <p class="said"><Say text={t} {style} /></p> })
            .collect()
    };
    let saw = all.get(at).zip(advices.get(at)).map(|((part, cut), (whole, a))| {
        html! {
            <>
                <p class="said"><b>{ format!("{}: {}", part.name, cut.name) }</b></p>
                <div class="on-saw">
                    <Figure scene={seen_from_above(part, cut, a)} {style} label="The board on the saw, seen from above" />
                </div>
                <dl class="rows">
                    <div><dt>{ "Set the saw to" }</dt><dd class="big"><Setting miter={a.set_miter} bevel={a.set_bevel} /></dd></div>
                    <div><dt>{ "Exactly, off square" }</dt><dd><Degrees angle={cut.miter} /></dd></div>
                    <div><dt>{ "The cut meets the edge at" }</dt><dd><Degrees angle={a.meets_edge()} /></dd></div>
                    if cut.bevel.0 > 0.0 {
                        <div><dt>{ "Blade tilt, exactly" }</dt><dd><Degrees angle={cut.bevel} /></dd></div>
                    }
                    <div><dt>{ "Swing" }</dt><dd>{ wording::side(a.swing) }</dd></div>
                    <div><dt>{ "Tape mark along the far edge" }</dt><dd>{ length(a.tape_mark) }</dd></div>
                    if let Some(mark) = a.edge_tape_mark {
                        <div><dt>{ "The same on the edge" }</dt><dd>{ length(mark) }</dd></div>
                    }
                    <div><dt>{ "Gap that the setting leaves" }</dt><dd>{ length(a.gap) }</dd></div>
                    <div><dt>{ "Longer edge" }</dt><dd>{ length(whole.long_edge) }</dd></div>
                    <div><dt>{ "Shorter edge" }</dt><dd>{ length(whole.short_edge) }</dd></div>
                    <div><dt>{ "Whole length, for buying" }</dt><dd>{ length(part.length) }</dd></div>
                </dl>
                { said(wording::cut(a)) }
                { said(wording::part(whole)) }
            </>
        }
    });
    let offs = if_off(layout, solved, style.unit.is_metric());
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
                { for offs.iter().map(|o| html! { <p class="said"><Say text={o.text.clone()} {style} /></p> }) }
            }
            if !solved.solution.derivation.is_empty() {
                <h3>{ "How it was found" }</h3>
                <ol class="steps">
                    { for solved.solution.derivation.iter().map(|t| html! { <li><Say text={t.clone()} {style} /></li> }) }
                </ol>
            }
            <h3>{ "All figures" }</h3>
            <dl class="rows">
                { for figures(solved).into_iter().map(|(name, q)| html! {
                    <div><dt>{ name }</dt><dd><Amount quantity={q} {style} /></dd></div>
                }) }
            </dl>
        </Sheet>
    }
}

/// Every figure of the answer with its words.
fn figures(solved: &Solved) -> Vec<(String, Quantity)> {
    let mut out = Vec::new();
    let answers: &Answers = &solved.solution.answers;
    answers.each_quantity(&mut |path, q| out.push((label(path), q)));
    out
}
