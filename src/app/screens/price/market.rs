//! What others ask, what was tried, and what is left on the shelf.

use super::form::Look;
use crate::io::browser;
use crate::widgets::keys::key;
use crate::widgets::tags::{each, list, tag, txt};
use offsquare_paper::drawing;
use offsquare_units::num::Gather;
use offsquare_work::piece::WorkEdit;
use offsquare_work::price::{Band, Exact, Figures, List, Market, as_number};
use yew::prelude::*;

/// What others ask, with this piece on it.
pub fn others(look: &Look, figures: &Figures, market: &Market) -> Html {
    let seen = &look.piece.priced.seen;
    html! {
        <section>
            { tag("h2", "section", txt("What others ask for the like")) }
            { each(figures.stand_words(market).map(|words| html! { <p class="said" data-test="band">{ words }</p> })) }
            { each(market.band.as_ref().map(|b| band(b, figures))) }
            { look.lines(List::Seen, seen.len(), |_| html! {}) }
            { tag("div", "actions", look.add(List::Seen, "date", &browser::today(), "Add what someone asks".into())) }
        </section>
    }
}

/// From the lowest to the highest, and where this one stands.
fn band(band: &Band, figures: &Figures) -> Html {
    let (low, high) = (as_number(&band.low), as_number(&band.high));
    let asked = figures.sold.asked.as_ref().map(|a| (as_number(a), figures.money(a)));
    let at = asked.as_ref().map_or(low, |a| a.0);
    let (from, to) = (low.min(at), high.max(at));
    let span = if to - from > 0.0 { to - from } else { 1.0 };
    let x = |v: f64| 30.0 + (v - from) / span * 300.0;
    let word = |v: f64, down: &'static str, text: String| {
        html! { <text class="fig-computed" x={drawing::figure(x(v))} y={down} text-anchor="middle" font-size="12">{ text }</text> }
    };
    let print = |n: &Exact| figures.money(n);
    html! {
        <svg class="curve" viewBox="0 0 360 64" role="img" aria-label="What others ask, and this piece">
            <rect class="fig-stock" x={drawing::figure(x(low))} y="24" height="16" width={drawing::figure((x(high) - x(low)).max(2.0))} />
            { word(low, "56", print(&band.low)) }
            if high > low { { word(high, "56", print(&band.high)) } }
            if let Some((at, said)) = asked {
                <path class="fig-cut" d={format!("M{0} 18L{0} 46", drawing::figure(x(at)))} />
                <text class="fig-computed here" x={drawing::figure(x(at))} y="13" text-anchor="middle" font-size="12">{ said }</text>
            }
        </svg>
    }
}

/// The days on which it was offered, and what they came to.
pub fn tried(look: &Look, figures: &Figures, market: &Market) -> Html {
    let days = &look.piece.priced.tried;
    let day = |at: usize| {
        let outcome = market.days.get(at).and_then(|d| d.as_ref());
        let words = outcome.map(|o| figures.outcome_words(o).join(" "));
        each(words.map(|words| tag("p", "help", txt(words))))
    };
    let all = market.all.as_ref().filter(|_| days.len() > 1);
    let all = all.map(|o| figures.outcome_words(o).join(" "));
    let prices = market.prices.iter().map(|p| tag("li", "", txt(figures.at_price_words(p))));
    let best = market.best.as_ref().map(|p| format!("Sold best: {}", figures.at_price_words(p)));
    html! {
        <section data-test="tried">
            { tag("h2", "section", txt("Tried")) }
            { look.lines(List::Tried, days.len(), day) }
            { tag("div", "actions", look.add(List::Tried, "date", &browser::today(), "Add a day".into())) }
            if let Some(words) = all {
                <p class="said" data-test="all-days">{ format!("All days: {words}") }</p>
            }
            if market.prices.len() > 1 { { tag("ul", "best", list(prices.gather())) } }
            { each(best.map(|words| html! { <p class="said" data-test="sold-best">{ words }</p> })) }
        </section>
    }
}

/// What is opened and not used up; it is used first.
pub fn shelf(look: &Look, figures: &Figures) -> Html {
    let count = look.bench.work.shelf.len();
    let rest = figures.left_over();
    let put = look.on(WorkEdit::Shelve(rest.clone()));
    html! {
        <section data-test="shelf">
            { tag("h2", "section", txt("My shelf: packs and cans that are opened")) }
            { tag("p", "help inset", txt("They are used first. A line counts for hardware and finish of the same name, in every piece.")) }
            { look.lines(List::Shelf, count, |_| html! {}) }
            <div class="actions">
                { look.add(List::Shelf, "name", "", "Add an opened pack or can".into()) }
                { key("key", Some("shelve"), "This batch is made: put the rest here".into(), rest.is_empty(), put) }
            </div>
        </section>
    }
}
