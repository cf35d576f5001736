//! The saw card: one cut at the saw, or the marks of a part that is only marked; folded below it what is off, how it
//! was found, all figures.

use super::cut::{at_the_saw, ways_out};
use super::lap::laps;
use super::look::{Look, Raised, Turn, Turns, turn};
use super::view::{chosen, cut_index, cuts};
use crate::state::{Dispatch, Edit};
use crate::widgets::amount::{amount, sentence};
use crate::widgets::icon::Glyph;
use crate::widgets::keys::{choice, icon_key, key};
use crate::widgets::sheet::Sheet;
use crate::widgets::tags::{each, fold, list, row, tag, txt};
use offsquare_cuts::backwards::{Steps, advise, if_off};
use offsquare_cuts::inputs::Value;
use offsquare_cuts::parts::Part;
use offsquare_cuts::saw::ChangedInput;
use offsquare_paper::report::{self, RunningMark};
use offsquare_units::num::Gather;
use offsquare_units::{Quantity, Style};
use offsquare_work::piece::{Answered, Draft, Shop, field_text};
use yew::prelude::*;

/// What the card tells, and where its taps go.
pub struct Card<'a> {
    pub dispatch: &'a Dispatch,
    pub answer: &'a Answered,
    pub draft: &'a Draft,
    pub shop: &'a Shop,
    pub look: &'a Look,
    pub turns: &'a Turns,
    /// The way to the parts list.
    pub to_parts: Html,
    pub close: Callback<()>,
}

pub fn saw_card(props: &Card) -> Html {
    let (look, turns) = (props.look, props.turns);
    let (Some(solved), Some(layout)) = (chosen(props.answer, props.draft), props.draft.layout())
    else {
        return html! {};
    };
    let style = props.shop.style();
    let at = cut_index(solved, look.cut);
    let all = cuts(solved);
    let steps = Steps::default();
    let parts = advise(layout, solved, &props.shop.saw, &steps);
    let advices: Vec<_> =
        parts.iter().flat_map(|p| p.cuts.iter().enumerate().map(move |(i, c)| (p, i, c))).gather();
    let step = |to: usize, glyph: Glyph, label: &'static str, test: &'static str, off: bool| {
        icon_key(glyph, label, Some(test), off, turn(turns, Turn::Cut(Some(to))))
    };
    let take = |c: &ChangedInput| {
        let (dispatch, close, key) = (props.dispatch.clone(), props.close.clone(), c.give);
        let text = Value::of(c.value).and_then(|v| field_text(&v, &style));
        let (layout, unit) = (layout.id(), style.unit);
        Callback::from(move |_: MouseEvent| {
            if let Some(text) = text.clone() {
                dispatch.dispatch(Edit::Type { layout, key: key.to_owned(), text, unit });
                close.emit(());
            }
        })
    };
    let saw = all.get(at).zip(advices.get(at)).map(|((part, cut), (whole, i, a))| {
        let hand = |to: bool, words: &'static str| {
            let tap = turn(turns, Turn::OtherHand(to));
            choice(look.other_hand == to, Some(format!("hand-{to}")), words.into(), tap)
        };
        let mirrored = (whole.handed && look.other_hand)
            .then(|| props.shop.saw.advise_other_hand(part, *i, a))
            .flatten();
        let shown = match &mirrored {
            Some((part, a)) => part.cuts.get(*i).map(|cut| at_the_saw(part, cut, a, whole, style)),
            None => Some(at_the_saw(part, cut, a, whole, style)),
        };
        html! {
            <>
                <div class="steps-head">
                    { step(at.saturating_sub(1), Glyph::Previous, "Previous cut", "card-previous", at == 0) }
                    <p role="status">{ tag("b", "", txt(format!("{}: {}", part.name, cut.name))) }{ format!(" \u{b7} cut {} of {}", at + 1, all.len()) }</p>
                    { step(at + 1, Glyph::Next, "Next cut", "card-next", at + 1 >= all.len()) }
                </div>
                if whole.handed {
                    <div class="choices said" role="group" aria-label="Which hand of the pair">
                        { hand(false, "As drawn") }{ hand(true, "The other hand") }
                    </div>
                }
                { ways_out(layout, solved, (part, cut, a), style, &take) }
                { each(shown) }
                { laps(part, whole, style) }
            </>
        }
    });
    let saw = each(saw);
    let marks = report::running_marks(solved);
    let (title, saw) = match marks.is_empty() {
        true => ("Saw card", saw),
        false => ("Marks from one end", fold("Its square ends, at the saw", saw)),
    };
    let offs = if_off(layout, solved, style.unit.is_metric(), &steps);
    let back = turn(turns, Turn::Raise(Raised::Back));
    let gauge = turn(turns, Turn::Raise(Raised::Gauge));
    html! {
        <Sheet key="card" {title} close={props.close.clone()}>
            { each(marks.iter().map(|(part, all)| running(part, all, &style))) }
            { saw }
            if let Some((reading, meets)) = report::bare_reading(solved, &props.shop.saw) {
                { tag("p", "said", sentence(&report::bare_in_words(&reading, meets, &props.shop.saw), &style)) }
            }
            { tag("div", "actions", list(vec![key("primary", None, "Make it land on a mark".into(), false, back), key("key", Some("gauge"), "The screen as a gauge".into(), false, gauge)])) }
            { props.to_parts.clone() }
            { each(steps.problem(true).map(|p| tag("p", "help", sentence(&p.text, &style)))) }
            if !offs.is_empty() {
                { fold("If it\u{2019}s off", each(offs.iter().map(|o| tag("p", "said", sentence(&o.text, &style))))) }
            }
            if !solved.solution.derivation.is_empty() {
                { fold("How it was found", html! {
                    <ol class="steps">
                        { each(solved.solution.derivation.iter().map(|t| tag("li", "", sentence(t, &style)))) }
                    </ol>
                }) }
            }
            { fold("All figures", html! {
                <dl class="rows">
                    { each(report::figures(solved).into_iter().map(|(name, q)| row(txt(name), amount(q, &style)))) }
                </dl>
            }) }
        </Sheet>
    }
}

/// The marks of a part, all from its left end, so that no error adds up.
fn running(part: &Part, all: &[RunningMark], style: &Style) -> Html {
    let one = |mark: &RunningMark| {
        let beside = match mark.figure {
            Some(figure) => list(vec![txt("figure "), amount(Quantity::Figure(figure), style)]),
            None => txt(if mark.long { "long" } else { "" }),
        };
        let at = tag("b", "", amount(Quantity::Length(mark.at), style));
        tag("li", "", list(vec![at, tag("small", "", beside)]))
    };
    let marks = if all.len() == 1 { "mark" } else { "marks" };
    html! {
        <>
            { tag("h3", "", txt(format!("{}: {} {marks}, each from its left end", part.name, all.len()))) }
            <ol class="run" data-test="run">{ each(all.iter().map(one)) }</ol>
        </>
    }
}
