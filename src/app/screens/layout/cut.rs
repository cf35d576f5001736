//! One cut on the saw card: how the board lies, what is set, how it is marked, what to do past a limit; each fact once.

use super::drawing::{plain, to_look_at};
use crate::widgets::amount::{amount, degrees, sentence, setting, tenth};
use crate::widgets::tags::{each, fold, list, row, tag, txt};
use offsquare_cuts::backwards::{Solved, changed};
use offsquare_cuts::facts::caution;
use offsquare_cuts::layouts::Layout;
use offsquare_cuts::parts::{Cut, Part, Side};
use offsquare_cuts::saw::{
    Advice, ChangedInput, Lay, MarkKind, PartAdvice, Remedy, corrected, off_zero, wording,
};
use offsquare_geometry::scene::Scene;
use offsquare_paper::at_saw::{
    seen_along_blade, seen_from_above, short_on_stick, turned_from_above, two_tape_marks,
};
use offsquare_units::num::Gather;
use offsquare_units::{Angle, Length, Quantity, Style, Text};
use yew::prelude::*;

fn picture(scene: Scene, style: Style, label: &'static str) -> Html {
    tag("div", "on-saw", to_look_at(&scene, &style, label))
}

fn said(all: Vec<Text>, style: Style) -> Html {
    all.into_iter().map(|text| tag("p", "said", sentence(&text, &style))).collect()
}

/// A reading as it is set: which way, the figure in large, the exact one small beside it where it reads otherwise; past
/// the saw the exact one alone.
fn reading(way: String, set: Option<(Angle, MarkKind)>, exact: Angle, more: Option<Html>) -> Html {
    let named = |way, small: Vec<Html>| list(vec![txt(way), tag("small", "", list(small))]);
    let Some((mark, kind)) = set else {
        return row(named(way, more.into_iter().gather()), degrees(exact));
    };
    let mut small = Vec::new();
    if tenth(mark) != tenth(exact) {
        small.extend([txt("exactly "), degrees(exact)]);
        small.extend(more.is_some().then(|| txt(", ")));
    }
    small.extend(more);
    let way = [&way, wording::click(kind)].concat();
    row(named(way, small), tag("span", "big", setting(mark, Angle(0.0))))
}

/// What is set: the swing, then how far the blade leans.
fn settings(a: &Advice) -> Html {
    let s = a.setting();
    let can = a.lay().is_some();
    let swing = match s.swing {
        Side::Neither => "Swing: square".to_owned(),
        side => format!("Swing {}", wording::side(side)),
    };
    let meets = list(vec![txt("meets the edge at "), degrees(a.meets_edge())]);
    let swing = reading(swing, can.then_some((s.set_miter, s.miter_mark)), s.miter, Some(meets));
    let lean = (s.bevel.0 > 0.0).then(|| {
        let way = format!("Blade leans {}", wording::side(s.lean));
        reading(way, can.then_some((s.set_bevel, s.bevel_mark)), s.bevel, None)
    });
    let tested = [("Square", s.swing, s.miter_by), ("Upright", s.lean, s.bevel_by)];
    let tested = tested.into_iter().filter(|t| t.2.0 != 0.0).map(|(what, side, by)| {
        let (name, text) = match side {
            Side::Neither => (format!("{what}, by your test cut"), off_zero(by)),
            _ => ("By your test cut".to_owned(), corrected(by)),
        };
        row(txt(name), tag("span", "", sentence(&text, &Style::default())))
    });
    list(vec![swing, each(lean), each(tested)])
}

/// Everything at the saw for one cut of a part.
pub fn at_the_saw(part: &Part, cut: &Cut, a: &Advice, whole: &PartAdvice, style: Style) -> Html {
    let (can, rip) = (a.lay().is_some(), cut.is_rip());
    let length = |l: Length| amount(Quantity::Length(l), &style);
    let named = |name: &'static str, l: Length| row(txt(name), length(l));
    let stop = a.stop_block.as_ref().filter(|_| can && !a.by_mark);
    let (long, short) = (whole.long_edge, whole.short_edge);
    let edges = match (whole.ripped.is_some(), long.0 - short.0 <= 1e-9 * long.0.abs()) {
        (true, _) => ["Longer edge before ripping", "Shorter edge before ripping"],
        (_, true) => ["Length, either edge", ""],
        _ => ["Longer edge", "Shorter edge"],
    };
    html! {
        <>
            { picture(seen_from_above(part, cut, a), style, "The board on the saw, seen from above") }
            if let Some(scene) = seen_along_blade(part, cut, a) {
                { picture(scene, style, "The leaning blade, seen along the cut from where you stand") }
                { tag("p", "help caption", txt("Seen along the blade from where you stand.")) }
            }
            <dl class="rows" data-test="settings">
                if !rip { { settings(a) } }
                if a.lay() == Some(Lay::Seen) {
                    { row(txt("The setting leaves"), sentence(&wording::gap_in_words(a.open()), &style)) }
                }
            </dl>
            if can {
                { tag("p", "said lies", sentence(&wording::lies(a), &style)) }
                { each(wording::clamp(a).map(|text| tag("p", "caution", sentence(&text, &style)))) }
            }
            <dl class="rows">
                if !rip && a.tape_mark.0 > 0.0 {
                    { named("Tape mark along the far edge", a.tape_mark) }
                }
                { each(a.edge_tape_mark.map(|mark| named("Tape mark on the edge", mark))) }
                { each(stop.map(|s| {
                    let how = sentence(&wording::stop_reaches(s), &style);
                    row(list(vec![txt("Stop block"), tag("small", "", how)]), length(s.setting))
                })) }
                { named(edges[0], long) }
                if !edges[1].is_empty() { { named(edges[1], short) } }
            </dl>
            { said(wording::part(whole), style) }
            if let Some(short) = &whole.short_piece {
                { picture(short_on_stick(part, short), style, "The short piece on its longer stick") }
            }
            { each(whole.cautions.iter().map(|c| tag("p", "caution", sentence(&caution(*c), &style)))) }
            { each(wording::flat(a).filter(|_| a.lay() == Some(Lay::Seen)).map(|text| {
                fold("With its wide side on the table", tag("p", "said", sentence(&text, &style)))
            })) }
            if let (Some(_), Some(scene)) = (a.edge_tape_mark, two_tape_marks(part, cut)) {
                { fold("Marked with a tape, no angle gauge", list(vec![
                    picture(scene, style, "The cut as two tape marks, on the face and on the edge"),
                    said(wording::marking(a), style),
                ])) }
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
