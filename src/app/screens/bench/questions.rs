//! The questions, each with a small true drawing, and a search over them.

use crate::io::browser;
use crate::screens::layout::thumb;
use crate::state::{Late, Part};
use crate::widgets::later::use_painted;
use crate::widgets::tags::{each, tag, txt};
use offsquare_cuts::layouts;
use offsquare_units::num::Gather;
use offsquare_work::patterns::{self, IDS};
use offsquare_work::piece::Shop;
use yew::prelude::*;

#[derive(Properties, PartialEq)]
pub struct QuestionsProps {
    pub shop: Shop,
    /// Layouts and patterns come after the bench.
    pub late: Late,
}

/// The layouts that are asked first.
const FIRST: usize = 3;

/// A question as the bench asks it.
struct Asked {
    id: &'static str,
    question: &'static str,
    search_words: &'static str,
    /// What stands on its forms' buttons.
    labels: Vec<&'static str>,
    /// What `boot.js` fetches ahead where the address asks it.
    part: Option<Part>,
}

impl Asked {
    fn has(&self, needle: &str) -> bool {
        let words = [&self.question.to_ascii_lowercase(), " ", self.search_words].concat();
        needle.split_whitespace().all(|n| words.contains(n))
    }
}

/// The layouts that have a screen.
fn asked() -> Vec<Asked> {
    let names = layouts::names().iter().filter(|n| n.has_screen);
    let one = |n: &'static layouts::Name| Asked {
        id: n.id,
        question: n.question,
        search_words: n.search_words,
        labels: n.labels().gather(),
        part: Part::of(n.id),
    };
    names.map(one).gather()
}

/// The patterns that are here.
fn pieces() -> Vec<Asked> {
    let one = |id: &&'static str| {
        let pattern = patterns::asked(id)?;
        Some(Asked {
            id,
            question: pattern.question(),
            search_words: pattern.search_words(),
            labels: pattern.forms().iter().map(|f| f.label).gather(),
            part: Part::of(id),
        })
    };
    IDS.iter().filter_map(one).gather()
}

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
    let thumbs = use_memo((painted, props.late.layouts), |(painted, _)| {
        asked()
            .into_iter()
            .filter_map(|l| match browser::drawn_before(l.id) {
                Some(drawn) => Some((l.id, Html::from_html_unchecked(drawn.into()))),
                None => {
                    let here = patterns::asked(l.id).filter(|_| *painted)?;
                    Some((l.id, thumb(here, &props.shop)))
                }
            })
            .gather()
    });
    let needle = wanted.trim().to_ascii_lowercase();
    let mut found = asked();
    // Patterns stand above, by themselves; a search goes over them, too.
    if !needle.is_empty() {
        found.extend(pieces());
    }
    found.retain(|l| l.has(&needle));
    let row = |l: &Asked| {
        let label = |(i, label): (usize, &&str)| match i {
            0 => tag("span", "", txt(*label)),
            _ => tag("span", "", txt(format!("\u{b7} {label}"))),
        };
        let several = Some(&l.labels).filter(|all| all.len() > 1);
        let said = each(several.into_iter().flat_map(|all| all.iter().enumerate()).map(label));
        let drawn = thumbs.iter().find(|(id, _)| *id == l.id).map(|(_, h)| h.clone());
        html! {
            <li key={l.id}>
                <a href={format!("#/{}", l.id)} data-test={format!("ask-{}", l.id)} data-part={l.part.map(Part::name)}>
                    <span class="thumb" aria-hidden="true">{ each(drawn) }</span>
                    <span class="ask">{ l.question }{ tag("span", "forms-said in-line", said) }</span>
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
