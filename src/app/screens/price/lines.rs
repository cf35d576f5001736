//! The figures, each opening to its sum in words, and what is missing.

use crate::widgets::tags::{each, list, tag, txt};
use offsquare_work::price::{Figures, Group, Line};
use yew::prelude::*;

/// One figure.
fn line(line: &Line) -> Html {
    let both =
        list(vec![tag("span", "", txt(line.label.clone())), tag("b", "", txt(line.value.clone()))]);
    let strong = ["cost_each", "asked", "earned_per_hour"].contains(&line.key);
    html! {
        <details key={line.key} class={classes!("sum", strong.then_some("strong"))} data-test={format!("sum-{}", line.key)}>
            <summary>{ both }</summary>
            { tag("div", "", each(line.sum.iter().map(|words| tag("p", "help", txt(words.clone()))))) }
        </details>
    }
}

/// All figures by what they are about.
pub fn lines(figures: &Figures) -> Html {
    let all = figures.lines();
    let group = |name: &'static str, of: Group| {
        let mine: Vec<Html> = all.iter().filter(|l| l.group == of).map(line).collect();
        if mine.is_empty() {
            return html! {};
        }
        html! { <section class="sums">{ tag("h2", "section", txt(name)) }{ list(mine) }</section> }
    };
    list(vec![
        group("What it costs", Group::Cost),
        group("What to ask", Group::Ask),
        group("What that earns", Group::Earn),
    ])
}

/// What is missing for a price, a line each.
pub fn missing(figures: &Figures) -> Html {
    let lines = figures.missing.iter().map(|what| tag("li", "", txt(what.clone())));
    html! {
        <div role="status" data-test="missing">
            if !figures.missing.is_empty() {
                <div class="caution open-figures">
                    { tag("p", "", txt("Not a price yet. Still missing:")) }
                    { tag("ul", "", each(lines)) }
                </div>
            }
        </div>
    }
}

/// The asked price and what an hour earns, at the thumb.
pub fn strip(figures: &Figures) -> Html {
    let money = |n: &offsquare_work::price::Exact| figures.money(n);
    let asked = figures.sold.asked.as_ref().map(money);
    let earned = figures.sold.earned_per_hour.as_ref().and_then(|e| e.as_ref()).map(money);
    let each = figures.costs.each.as_ref().map(money);
    let named = |name: &'static str, value: String| {
        tag("span", "", list(vec![txt(format!("{name} ")), tag("b", "", txt(value))]))
    };
    html! {
        <footer class="strip asked" aria-label="Price">
            <div class="tape" aria-hidden="true"></div>
            <div class="strip-main leads" role="status" data-test="price-strip">
                <span class="which">{ format!("Asked for {}", figures.sale()) }</span>
                <span class="set plain" data-test="asked">{ asked.unwrap_or_else(|| "no price yet".into()) }</span>
                <span class="beside">
                    { crate::widgets::tags::each(earned.map(|e| named("an hour earns", e))) }
                    { crate::widgets::tags::each(each.map(|e| named("one costs", e))) }
                </span>
            </div>
        </footer>
    }
}
