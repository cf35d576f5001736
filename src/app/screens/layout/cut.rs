//! One cut on the saw card: how the board lies, what is set, how it is marked, what to do past a limit.

use super::drawing::{plain, to_look_at};
use crate::widgets::amount::{amount, degrees, sentence, setting};
use crate::widgets::tags::{self, each, tag, txt};
use offsquare_cuts::backwards::{Solved, changed};
use offsquare_cuts::facts::caution;
use offsquare_cuts::layouts::Layout;
use offsquare_cuts::parts::{Cut, Part};
use offsquare_cuts::saw::{Advice, ChangedInput, Lay, PartAdvice, Remedy, wording};
use offsquare_geometry::scene::Scene;
use offsquare_paper::at_saw::{
    seen_along_blade, seen_from_above, short_on_stick, turned_from_above, two_tape_marks,
};
use offsquare_units::{Length, Quantity, Style, Text};
use yew::prelude::*;

fn picture(scene: Scene, style: Style, label: &'static str) -> Html {
    tag("div", "on-saw", to_look_at(&scene, &style, label))
}

fn said(all: Vec<Text>, style: Style) -> Html {
    all.into_iter().map(|text| tag("p", "said", sentence(&text, &style))).collect()
}

fn row(name: &'static str, value: Html) -> Html {
    tags::row(txt(name), value)
}

/// Everything at the saw for one cut of a part.
pub fn at_the_saw(part: &Part, cut: &Cut, a: &Advice, whole: &PartAdvice, style: Style) -> Html {
    let (s, rip) = (a.setting(), cut.is_rip());
    let length = |l: Length| amount(Quantity::Length(l), &style);
    html! {
        <>
            { picture(seen_from_above(part, cut, a), style, "The board on the saw, seen from above") }
            if let Some(scene) = seen_along_blade(part, cut, a) {
                { tag("p", "said", txt(format!("Along the blade from where you stand: its top leans {}.", wording::side(s.lean)))) }
                { picture(scene, style, "The leaning blade, seen along the cut") }
            }
            <dl class="rows">
                if a.lay().is_some() {
                    { row("Set the saw to", tag("span", "big", setting(s.set_miter, s.set_bevel))) }
                }
                if !rip {
                    { row("Exactly, off square", degrees(s.miter)) }
                }
                if s.bevel.0 > 0.0 {
                    { row("Blade tilt, exactly", degrees(s.bevel)) }
                    { row("Blade leans", txt(wording::side(s.lean))) }
                }
                if !rip {
                    { row("Swing", txt(wording::side(s.swing))) }
                    { row("The cut meets the edge at", degrees(a.meets_edge())) }
                    if a.tape_mark.0 > 0.0 {
                        { row("Tape mark along the far edge", length(a.tape_mark)) }
                    }
                }
                if let Some(mark) = a.edge_tape_mark {
                    { row("Tape mark on the edge", length(mark)) }
                }
                if a.lay() == Some(Lay::Seen) {
                    { row("The setting leaves", sentence(&wording::gap_in_words(a.open()), &style)) }
                }
                if whole.ripped.is_some() {
                    { row("Longer edge before ripping", length(whole.long_edge)) }
                    { row("Shorter edge before ripping", length(whole.short_edge)) }
                } else {
                    { row("Longer edge", length(whole.long_edge)) }
                    { row("Shorter edge", length(whole.short_edge)) }
                }
            </dl>
            if a.lay().is_some() { { said(wording::cut_in_short(a), style) } }
            { said(wording::part(whole), style) }
            if let Some(short) = &whole.short_piece {
                { picture(short_on_stick(part, short), style, "The short piece on its longer stick") }
            }
            { each(whole.cautions.iter().map(|c| tag("p", "caution", sentence(&caution(*c), &style)))) }
            if let (Some(_), Some(scene)) = (a.edge_tape_mark, two_tape_marks(part, cut)) {
                { tag("h3", "", txt("Marked with a tape, no angle gauge")) }
                { picture(scene, style, "The cut as two tape marks, on the face and on the edge") }
                { said(wording::marking(a), style) }
            }
        </>
    }
}

/// The ways out past the saw's limit, safest first, each with its picture.
pub fn ways_out(
    layout: &'static dyn Layout,
    solved: &Solved,
    (part, cut, a): (&Part, &Cut, &Advice),
    style: Style,
    take: &dyn Fn(&ChangedInput) -> Callback<MouseEvent>,
) -> Html {
    if a.remedies.is_empty() {
        return html! {};
    }
    let one = |r: &Remedy| {
        let more = match r {
            Remedy::ChangeInput(c) => html! {
                <div class="changed">
                    if let Some(s) = changed(layout, solved, c) { { plain(&s.figure) } }
                    <button class="key" data-test="take-change" onclick={take(c)}>
                        { "Take " }{ amount(c.value, &style) }
                    </button>
                </div>
            },
            Remedy::TapeMark { .. } => two_tape_marks(part, cut)
                .map(|s| picture(s, style, "The line to mark with a tape"))
                .unwrap_or_default(),
            Remedy::TurnedWork(_) => turned_from_above(part, cut, a)
                .map(|s| {
                    picture(s, style, "Turned work: auxiliary fence and clamp, seen from above")
                })
                .unwrap_or_default(),
            Remedy::NotOnThisSaw | Remedy::Rip { .. } => html! {},
        };
        html! { <li>{ sentence(&wording::remedy(r), &style) }{ more }</li> }
    };
    html! {
        <>
            { said(wording::cut_in_short(a), style) }
            { tag("h3", "", txt("Past this saw: what to do, safest first")) }
            <ol class="steps" data-test="ways-out">{ each(a.remedies.iter().map(one)) }</ol>
        </>
    }
}
