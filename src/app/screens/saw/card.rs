//! The card of one step, at arm's length, and the key on the lower half of the screen.

use super::at::{At, Raised};
use crate::screens::layout::picture;
use crate::widgets::amount::{amount, degrees, sentence, setting, tenth};
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, row, tag, txt};
use offsquare_cuts::saw::{corrected, wording};
use offsquare_paper::at_saw::step_picture;
use offsquare_units::{Angle, Quantity, Style};
use offsquare_work::piece::WorkEdit;
use offsquare_work::walk::{Reading, Stage};
use yew::prelude::*;

pub fn card(at: &At, stage: &Stage) -> Html {
    let (shop, style) = (&at.bench.shop, at.bench.shop.style());
    let card = at.walk.card(stage, &shop.saw, &style);
    let tests = at.next.is_some_and(|n| at.walk.offers_test(n)) && !card.tests.is_empty();
    let test = key(
        "key",
        Some("test-cut"),
        "New setting: test it in scrap".into(),
        false,
        at.raise(Some(Raised::Test)),
    );
    let rows = card.rows.iter().map(|(name, text)| row(txt(*name), sentence(text, &style)));
    html! {
        <div key={format!("{:?}", stage.tick)} class="step">
            { tag("h2", "", txt(card.title.clone())) }
            if !card.readings.is_empty() {
                <div class="sets" data-test="sets">{ each(card.readings.iter().map(|r| reading(r, &style))) }</div>
            }
            { each(card.measure.map(|l| tag("p", "measure", amount(Quantity::Length(l), &style)))) }
            { each(card.cautions.iter().map(|t| tag("p", "caution", sentence(t, &style)))) }
            <dl class="rows">{ each(rows) }</dl>
            if tests { { test } }
        </div>
    }
}

/// One reading in large figures, with its side; the exact one where it reads otherwise, and what a test cut has put to it.
fn reading(r: &Reading, style: &Style) -> Html {
    let mut small = Vec::new();
    if r.is_off_zero() {
        small.push(txt("by your test cut"));
    } else if tenth(r.set) != tenth(r.exact) {
        small.extend([txt("exactly "), degrees(r.exact)]);
    }
    if r.by.0 != 0.0 && !r.is_off_zero() {
        let text = offsquare_units::say!("; by your test cut ");
        let mut text =
            if small.is_empty() { offsquare_units::say!("by your test cut ") } else { text };
        text.extend(corrected(r.by));
        small.push(sentence(&text, style));
    }
    let way = [&r.words(), wording::click(r.mark)].concat();
    html! {
        <p class="reading">
            { tag("span", "way", list(vec![txt(way), tag("small", "", list(small))])) }
            { tag("span", "big", setting(r.set, Angle(0.0))) }
        </p>
    }
}

/// The whole lower half: done, next. The board lies on it as it lies at the saw.
pub fn done_key(at: &At, stage: &Stage) -> Html {
    let shop = &at.bench.shop;
    let drawn = step_picture(at.walk, stage, &shop.saw, (340.0, 210.0), &shop.style());
    // Another step is another key: the second tap of a hasty thumb falls on nothing.
    html! {
        <button key={format!("{:?}", stage.tick)} class="done-next" data-test="done" onclick={at.work(WorkEdit::Tick(stage.tick))}>
            { each(drawn.map(|d| tag("span", "on-saw", picture(&d, "The board at the blade")))) }
            { tag("b", "", txt("Done, next")) }
        </button>
    }
}
