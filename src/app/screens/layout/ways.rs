//! The ways side by side, each with its settings and whether this saw can.

use super::view::cuts;
use crate::widgets::amount::degrees;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::backwards::Solved;
use offsquare_units::Angle;
use offsquare_work::piece::{Answered, Shop};
use yew::prelude::*;

/// The different settings of a way, in the order of its cuts.
fn readings(s: &Solved) -> Vec<(Angle, Angle)> {
    let mut seen: Vec<(Angle, Angle)> = Vec::new();
    for (_, c) in cuts(s) {
        let same = |x: &(Angle, Angle)| {
            (x.0.0 - c.miter.0).abs() < 0.05 && (x.1.0 - c.bevel.0).abs() < 0.05
        };
        if !seen.iter().any(same) {
            seen.push((c.miter, c.bevel));
        }
    }
    seen
}

pub fn ways(answer: &Answered, chosen: usize, shop: &Shop, pick: &Callback<usize>) -> Html {
    if answer.solved.len() < 2 {
        return html! {};
    }
    html! {
        <div class="ways" role="group" aria-label="Ways to make it">
            { each(answer.solved.iter().enumerate().map(|(i, s)| {
                let pick = pick.clone();
                let can = !shop.saw.rank(&s.solution.parts).cannot;
                html! {
                    <button aria-pressed={(i == chosen).to_string()} data-test={format!("way-{}", s.solution.way)}
                        onclick={move |_| pick.emit(i)}>
                        { tag("b", "", txt(s.solution.title)) }
                        <span class="reads">
                            { each(readings(s).into_iter().take(3).enumerate().map(|(k, (m, b))| html! {
                                <>
                                    if k > 0 { { "\u{200a}/\u{200a}" } }
                                    { degrees(m) }
                                    if b.0 > 0.05 { { "\u{202f}+\u{202f}" }{ degrees(b) } }
                                </>
                            })) }
                        </span>
                        if can { { tag("span", "can", txt("this saw can")) } }
                        else { { tag("span", "cannot", txt("past this saw")) } }
                    </button>
                }
            })) }
        </div>
    }
}
