//! What a maker's hand meets: each fact once on the card, marks before the saw, a way out to tap, own answers first.

use super::{STARTED, dist, visit};
use crate::driver::Browser;
use crate::site::Site;
use serde_json::{Value, json};

fn open(fragment: &str) -> (Browser, Site) {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.run(&format!("location.hash = {fragment:?}"));
    browser.until("return document.querySelector('[data-test=strip]') !== null", fragment);
    (browser, site)
}

fn raise_card(browser: &Browser) {
    browser.tap("[data-test=strip]");
    browser.until("return document.querySelector('[role=dialog]') !== null", "the card");
}

/// The card's words that are in sight: no picture, nothing folded.
fn in_sight(browser: &Browser) -> String {
    let words = browser.run(
        "const walk = n => n.nodeType === 3 ? n.data \
           : n.nodeName === 'svg' || (n.nodeName === 'DETAILS' && !n.open) ? ' ' \
           : [...n.childNodes].map(walk).join(n.nodeName === 'DL' ? ' ' : ''); \
         return walk(document.querySelector('.sheet-body'));",
    );
    words.as_str().expect("words").to_owned()
}

fn times(text: &str, what: &str) -> usize {
    text.matches(what).count()
}

/// An opening of 30 by 44 and a strip of 2 1/2, flat on the rails: 90° − atan(44/30) − asin(2.5/√(30² + 44²)) = 31.60° from
/// upright, the usual saw's click stop, and a tape mark of 2.5 tan 31.60° = 1.538 in, 1 9/16 shy.
#[test]
fn the_card_says_each_fact_once() {
    let (browser, _site) =
        open("#/brace?form=single&opening_width=30&opening_height=44&strip_width=2+1/2");
    raise_card(&browser);
    let words = in_sight(&browser);
    for once in
        ["31.6\u{b0}", "58.4\u{b0}", "Swing ", "click stop", "9/16", "at the fence", "11/16"]
    {
        assert_eq!(times(&words, once), 1, "{once}: {words}");
    }
    for folded in ["If it\u{2019}s off", "How it was found", "All figures"] {
        let open = browser.run(&format!(
            "return [...document.querySelectorAll('.sheet details')].find(d => d.textContent.startsWith({folded:?})).open"
        ));
        assert_eq!(open, Value::Bool(false), "{folded}");
    }
}

/// 7 holes 1 1/2 wide in 36 leave 8 gaps of 3 3/16: the first center stands at 3 15/16, the others every 4 11/16.
#[test]
fn running_marks_stand_before_the_saw() {
    let (browser, _site) = open("#/spacing");
    raise_card(&browser);
    let marks = browser
        .run("return [...document.querySelectorAll('[data-test=run] li')].map(e => e.textContent.replace(/\\s/g, ''))");
    let at = ["315/16", "85/8", "135/16", "18", "2211/16", "273/8", "321/16"];
    assert_eq!(marks, json!(at.map(|at| format!("{at}in"))));
    let first = browser.run(
        "const b = document.querySelector('.sheet-body'); return b.querySelector('[data-test=run]').compareDocumentPosition(b.querySelector('.on-saw')) & 4",
    );
    assert_eq!(first, json!(4), "the list comes before the saw");
    assert!(!in_sight(&browser).contains("Swing"), "the square ends are folded");
}

/// A bottom 14 by 8 with sides that lean, the ends mitered: each end is cut with the blade tilted.
#[test]
fn the_strip_says_which_way_the_blade_leans() {
    let (browser, _site) = open("#/sloped_box");
    let strip = browser.text("[data-test=strip]");
    let way = ["left", "right"].into_iter().find(|w| strip.contains(&format!("blade leans {w}")));
    let way = way.unwrap_or_else(|| panic!("{strip}"));
    raise_card(&browser);
    assert!(in_sight(&browser).contains(&format!("Blade leans {way}")), "the card agrees");
}

/// Four legs on a six-sided post are stopped with the posts that take four, and a tap on one of them answers.
#[test]
fn a_problem_that_a_choice_mends_offers_it() {
    let (browser, _site) = open("#/post_legs");
    browser.run(
        "document.querySelector('details.more').open = true; document.querySelector('[data-test=choice-hexagonal]').click()",
    );
    browser.until(
        "return document.querySelectorAll('.old-mark [data-test=mend]').length === 4",
        "the ways out",
    );
    assert_eq!(browser.text(".old-mark [data-test=mend]"), "Post shape: Square");
    browser.tap(".old-mark [data-test=mend]");
    browser.until("return document.querySelector('.old-mark') === null", "an answer");
    let pressed =
        "return document.querySelector('[data-test=choice-square][aria-pressed=true]') !== null";
    assert_eq!(browser.run(pressed), Value::Bool(true));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Which comes first on the bench, of answers, sums and questions.
fn order(browser: &Browser) -> Value {
    browser.run(
        "return [...document.querySelectorAll('main :is(.answers, .lengths, .questions)')].map(e => e.classList.contains('answers') ? 'answers' : e.className)",
    )
}

/// A first visit finds the questions first; a maker who comes back finds what is theirs, and nothing moves under a thumb.
#[test]
fn what_a_maker_has_stands_before_the_questions() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    assert_eq!(order(&browser), json!(["questions", "questions", "lengths"]));
    browser.tap("[data-test=line-0]");
    browser.type_keys("33 - 2");
    browser.until("return document.querySelector('.line output') !== null", "the sum");
    assert_eq!(order(&browser), json!(["questions", "questions", "lengths"]), "while it is typed");
    browser.tap("[data-test=ask-end_board]");
    browser.until("return document.querySelector('[data-test=pin]') !== null", "an answer");
    browser.tap("[data-test=pin]");
    browser.tap("[data-test=back]");
    browser.until("return document.querySelector('[data-test=reopen]') !== null", "the answer");
    assert_eq!(order(&browser), json!(["answers", "lengths", "questions", "questions"]));
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    assert_eq!(order(&browser), json!(["answers", "lengths", "questions", "questions"]));
    // Each question keeps to the width of the screen.
    let wide = "return document.documentElement.scrollWidth <= innerWidth";
    assert_eq!(browser.run(wide), Value::Bool(true));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
