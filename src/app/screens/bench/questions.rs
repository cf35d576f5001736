//! The questions, each with a small true drawing, and a search over them.

use crate::io::browser;
use crate::screens::layout::thumb;
use crate::widgets::later::use_painted;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::layouts::{self, Layout};
use offsquare_units::num::Gather;
use offsquare_work::patterns;
use offsquare_work::piece::Shop;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct QuestionsProps {
    pub shop: Shop,
}

/// The layouts that are asked first.
const FIRST: usize = 3;

#[component]
pub fn Questions(props: &QuestionsProps) -> Html {
    let wanted = use_state(String::new);
    let on_find = {
        let wanted = wanted.clone();
        Callback::from(move |e: InputEvent| {
            let input: web_sys::HtmlInputElement = e.target_unchecked_into();
            wanted.set(input.value());
        })
    };
    let painted = use_painted();
    // Solved once, not at every word that is looked for, unless the page came with them.
    let thumbs = use_memo(painted, |painted| {
        layouts::all()
            .iter()
            .filter(|l| l.has_screen())
            .filter_map(|l| match browser::drawn_before(l.id()) {
                Some(drawn) => Some((l.id(), Html::from_html_unchecked(drawn.into()))),
                None => painted.then(|| (l.id(), thumb(*l, &props.shop))),
            })
            .gather()
    });
    let needle = wanted.trim().to_ascii_lowercase();
    // Patterns stand above, by themselves; a search goes over them, too.
    let pieces = patterns::here().iter().filter(|_| !needle.is_empty());
    let asked =
        layouts::all().iter().copied().chain(pieces.map(|p| &p.layout as &'static dyn Layout));
    let found: Vec<&'static dyn Layout> =
        asked.filter(|l| l.has_screen() && matches(*l, &needle)).gather();
    let row = |l: &&'static dyn Layout| {
        let forms: Vec<&str> = l.forms().iter().map(|f| f.label).gather();
        let said = if forms.len() > 1 { forms.join(" · ") } else { String::new() };
        let drawn = thumbs.iter().find(|(id, _)| *id == l.id()).map(|(_, h)| h.clone());
        html! {
            <li key={l.id()}>
                <a href={format!("#/{}", l.id())} data-test={format!("ask-{}", l.id())}>
                    <span class="thumb" aria-hidden="true">{ each(drawn) }</span>
                    <span class="ask">{ l.question() }{ tag("span", "forms-said", txt(said)) }</span>
                </a>
            </li>
        }
    };
    let split = if needle.is_empty() { FIRST.min(found.len()) } else { found.len() };
    html! {
        <nav aria-label="Questions">
            <label class="find">
                { tag("span", "unseen", txt("Find a question")) }
                <input type="search" placeholder="Find: gate, leg, box, spacing …" value={(*wanted).clone()} oninput={on_find} />
            </label>
            <ul class="questions">{ each(found[..split].iter().map(row)) }</ul>
            if split < found.len() {
                { tag("h2", "section", txt("Other odd cuts")) }
                <ul class="questions">{ each(found[split..].iter().map(row)) }</ul>
            }
            if found.is_empty() {
                { tag("p", "said", txt("No question has these words. Try one word: leg, frame, box.")) }
            }
        </nav>
    }
}

fn matches(layout: &dyn Layout, needle: &str) -> bool {
    let words = format!("{} {}", layout.question().to_ascii_lowercase(), layout.search_words());
    needle.split_whitespace().all(|n| words.contains(n))
}
