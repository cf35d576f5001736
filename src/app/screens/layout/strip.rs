//! The answer strip: the saw setting in large figures, its tape mark, the length.

use super::look::{Look, Raised, Turn, Turns, turn};
use super::more::more;
use super::view::{SharedAnswer, advice, chosen, cut_index, cuts, is_odd};
use crate::io::files;
use crate::widgets::amount::{amount, degrees, sentence, set, setting};
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{icon_key, word_key};
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_cuts::parts::Side;
use offsquare_cuts::problem::Problem;
use offsquare_cuts::saw::{Advice, Lay, Setting, wording};
use offsquare_paper::report::{self, Overall};
use offsquare_units::{Angle, Quantity, Style};
use offsquare_work::piece::{Draft, Override, Shop};
use yew::prelude::*;

/// What the strip tells, and where its taps go.
pub struct Strip<'a> {
    pub answer: &'a SharedAnswer,
    /// What is said over the answer where it is old or in doubt.
    pub mark: Html,
    pub draft: &'a Draft,
    pub shop: &'a Shop,
    pub look: &'a Look,
    pub turns: &'a Turns,
    /// What the maker changed of a whole piece's parts.
    pub changes: &'a [Override],
    /// The answer was used (copied), or pinned: worth remembering.
    pub used: Callback<bool>,
}

pub fn strip(props: &Strip) -> Html {
    let turns = props.turns;
    let Some(solved) = chosen(props.answer, props.draft) else {
        return html! {};
    };
    let style = props.shop.style();
    let all = cuts(solved);
    let advices = advice(solved, props.shop);
    let at = cut_index(solved, props.look.cut);
    // A whole piece leads with its size and its parts; its cuts come after that.
    let is_whole = !solved.solution.members.is_empty();
    let whole = more().filter(|_| is_whole && props.look.cut.is_none());
    let whole = whole.and_then(|more| (more.overall)(solved, props.changes));
    let step = |to: Option<usize>| turn(turns, Turn::Cut(to));
    let copy = copying(props);
    let open = turn(turns, Turn::Raise(Raised::Card));
    let pin = pinning(props);
    let told = report::headline(solved);
    let beside = all.get(at).map(|(part, cut)| report::beside(solved, part, cut));
    // Where every cut is square, the answer is what leads, not the saw.
    let leads = !is_whole
        && !all.iter().any(|(_, c)| is_odd(c))
        && !told.is_empty()
        && report::bare_reading(solved, &props.shop.saw).is_none();
    let saw_set = advices.get(at).filter(|_| !leads).map(Advice::setting);
    // Where this saw's 0 is none, by test cuts.
    let off = saw_set.map(|s| wording::off_zeros_of(&props.shop.saw, s.miter, s.bevel));
    let off = off.unwrap_or_default();
    // Then there is nothing on the strip to step through; the card still has every cut.
    let last = if leads { 0 } else { all.len().saturating_sub(1) };
    let at = at.min(last);
    let (before, after) = neighbors((whole.is_some(), is_whole), at, last, all.is_empty());
    html! {
        <>
            { props.mark.clone() }
            <div class="strip-body">
                <button class={classes!("strip-main", (leads || whole.is_some()).then_some("leads"))} data-test="strip" onclick={open}>
                    { tag("span", "unseen", txt("Open the saw card. ")) }
                    if let Some(whole) = whole {
                        { overall(&whole, solved.solution.title, &style) }
                    } else if let (Some((part, cut)), Some(a), Some(set), Some(beside)) = (all.get(at), advices.get(at), saw_set, beside) {
                        <span class="which">
                            if a.lay().is_none() { { tag("span", "cannot", txt(wording::past(a))) } }
                            if a.lay() == Some(Lay::Away) { { tag("span", "cannot", txt("on edge")) } }
                            if all.len() > 1 { { format!("{} of {} · ", at + 1, all.len()) } }
                            { format!("{}: {}", part.name, cut.name) }
                        </span>
                        <span class={classes!("set", (set.bevel.0 > 0.0 && !cut.is_rip()).then_some("two"), a.lay().is_none().then_some("past"))} data-test="setting" aria-live="polite">
                            if a.lay().is_none() {
                                if !cut.is_rip() {
                                    { degrees(set.miter) }
                                    if set.bevel.0 > 0.0 { { tag("small", "and", txt(" + ")) } }
                                }
                                if set.bevel.0 > 0.0 { { degrees(set.bevel) } }
                            }
                            else { { setting(set.set_miter, set.set_bevel) } }
                        </span>
                        <span class="beside">
                            if !cut.is_rip() { { exactly(&set) } }
                            if !off.is_empty() { { sentence(&off, &style) } }
                            if set.lean != Side::Neither { { named("blade leans", txt(wording::side(set.lean))) } }
                            if cut.miter.0 > 0.0 {
                                { named("tape mark", amount(Quantity::Length(a.tape_mark), &style)) }
                            }
                            { named(&beside.0, amount(beside.1, &style)) }
                        </span>
                    } else if let Some((reading, meets)) = report::bare_reading(solved, &props.shop.saw) {
                        <span class="which">
                            if !reading.within { { tag("span", "cannot", txt("past this saw")) } }
                            { format!("{}: off square", solved.solution.title) }
                        </span>
                        <span class={classes!("set", (!reading.within).then_some("past"))} data-test="setting" aria-live="polite">
                            if reading.within { { setting(reading.set, Angle(0.0)) } } else { { degrees(reading.exact) } }
                        </span>
                        <span class="beside">
                            <span>{ "exact " }{ degrees(reading.exact) }</span>
                            { named("meets the edge at", degrees(meets)) }
                            { each(told.iter().filter(|(_, q)| !is_told(*q, &[reading.exact, meets])).map(|(label, q)| named(label, amount(*q, &style)))) }
                        </span>
                    } else {
                        { tag("span", "which", txt(solved.solution.title)) }
                        if let Some((label, q)) = told.first() {
                            <span class="set plain" data-test="setting">{ amount(*q, &style) }</span>
                            <span class="beside">
                                { tag("span", "", txt(label.clone())) }
                                { each(told.iter().skip(1).take(2).map(|(label, q)| named(label, amount(*q, &style)))) }
                            </span>
                        }
                    }
                </button>
                { tag("div", "strip-keys", list(vec![icon_key(Glyph::Previous, "Previous cut", None, before.is_none(), step(before.flatten())), icon_key(Glyph::Next, "Next cut", Some("next-cut"), after.is_none(), step(after.flatten())), word_key(Glyph::Copy, "Copy", "Copy inputs, settings and lengths", Some("copy"), copy), word_key(Glyph::Pin, "Pin", "Pin this answer on top of the recent ones", Some("pin"), pin)])) }
            </div>
            <div role="status">
                if props.look.said.0 > 0 {
                    <span key={props.look.said.0.to_string()} class="told">{ props.look.said.1 }</span>
                }
            </div>
        </>
    }
}

/// Which cut the arrows turn to, to the left and to the right; `Some(None)`: to what a whole piece leads with, which
/// (`leads`) may be what stands there now.
fn neighbors(
    (leads, is_whole): (bool, bool),
    at: usize,
    last: usize,
    bare: bool,
) -> (Option<Option<usize>>, Option<Option<usize>>) {
    if leads {
        return (None, Some(Some(0)).filter(|_| !bare));
    }
    let before = at.checked_sub(1).map(Some);
    (before.or(Some(None).filter(|_| is_whole)), Some(Some(at + 1)).filter(|_| at < last))
}

/// How large a piece is, and how many parts it has.
fn overall(whole: &Overall, title: &'static str, style: &Style) -> Html {
    html! {
        <>
            { tag("span", "which", txt(title)) }
            <span class="set plain sides" data-test="setting" aria-live="polite">{ set(&whole.face(style)) }</span>
            <span class="beside" data-test="overall">
                <span>{ "wide \u{d7} high" }</span>
                { named("deep", amount(Quantity::Length(whole.depth), style)) }
                { tag("b", "", txt(whole.count())) }
            </span>
        </>
    }
}

/// The exact readings, and which way the saw swings.
fn exactly(set: &Setting) -> Html {
    let tilted = set.bevel.0 > 0.0;
    html! {
        <span>
            { "exact " }{ degrees(set.miter) }
            if tilted { { " + " }{ degrees(set.bevel) } }
            if set.swing != Side::Neither {
                if tilted { <br /> } else { { ", " } }
                { "swing " }{ tag("b", "", txt(wording::side(set.swing))) }
            }
        </span>
    }
}

/// A tap that keeps the answer.
fn pinning(props: &Strip) -> Callback<MouseEvent> {
    let (turns, used) = (props.turns.clone(), props.used.clone());
    Callback::from(move |_: MouseEvent| {
        turns.dispatch(Turn::Said("Kept on top of the recent answers."));
        used.emit(true);
    })
}

/// A tap that copies inputs, settings and lengths, with the address that opens them.
fn copying(props: &Strip) -> Callback<MouseEvent> {
    let (answer, draft, shop) = (props.answer.clone(), props.draft.clone(), props.shop.clone());
    let (turns, used) = (props.turns.clone(), props.used.clone());
    Callback::from(move |_: MouseEvent| {
        let Some(more) = more() else {
            turns.dispatch(Turn::Said("One moment: tap again."));
            return;
        };
        let Some(text) = (more.copied)(&answer, &draft, &shop) else {
            return;
        };
        let turns = turns.clone();
        files::copy(&text, move |ok| {
            turns.dispatch(Turn::Said(match ok {
                true => "Copied.",
                false => "This browser does not let it be copied.",
            }));
        });
        used.emit(false);
    })
}

/// One of these angles, so told already.
fn is_told(q: Quantity, all: &[Angle]) -> bool {
    all.iter().any(|a| q == Quantity::Angle(*a))
}

/// An answer that is old or in doubt says so over its figures, with the sentence that says why and what `mends` it;
/// `said` elsewhere already, both are left out.
pub fn mark(old: bool, doubt: Option<&Problem>, said: bool, style: &Style, mends: Html) -> Html {
    if !old && doubt.is_none() {
        return html! {};
    }
    let words = if old { "Old answer: before the last change. " } else { "In doubt. " };
    html! {
        <div class="old-mark" role="status" data-test="doubt">
            { tag("b", "", txt(words)) }
            if let Some(p) = doubt.filter(|_| !said) { { sentence(&p.text, style) }{ mends } }
        </div>
    }
}

/// A figure with its name before it.
#[inline(never)]
fn named(name: &str, value: Html) -> Html {
    let all = vec![txt([name, " "].concat()), tag("b", "", value)];
    tag("span", "", list(all))
}
