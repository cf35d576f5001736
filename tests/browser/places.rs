//! Places as a keyboard, a screen reader and the history meet them: titles, focus, scroll, steps back, colors of the system.

use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist};
use serde_json::{Value, json};

const TAB: &str = "\u{e004}";
const ENTER: &str = "\u{e007}";
const ESCAPE: &str = "\u{e00c}";

fn open(browser: &Browser, fragment: &str) -> Site {
    let site = Site::serve(dist(), "");
    browser.go(&format!("{}{fragment}", site.address));
    browser.until(STARTED, "the app to start");
    site
}

/// The Tab key is pressed until the focus is there.
fn tab_to(browser: &Browser, selector: &str) {
    let there = format!("return document.activeElement?.matches({selector:?}) === true");
    for _ in 0..80 {
        if browser.run(&there) == Value::Bool(true) {
            return;
        }
        browser.type_keys(TAB);
    }
    panic!("Tab does not reach {selector}");
}

fn has(browser: &Browser, selector: &str) {
    browser.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
}

const TYPE_WIDTH: &str = "document.querySelector('[data-field=opening_width]').dispatchEvent(new MouseEvent('click', {bubbles: true}))";
const HEADED: &str = "return document.activeElement === document.querySelector('h1')";

/// Each place has its own title; a place that is gone to has the focus on its heading, and is read from its top; the bench is
/// found as far down as it was left.
#[test]
fn every_place_says_where_it_is() {
    let browser = Browser::start();
    let _site = open(&browser, "");
    assert_eq!(browser.run("return document.title"), json!("Offsquare"));
    let at_first = "return document.activeElement === document.body";
    assert_eq!(browser.run(at_first), json!(true), "opening the app takes no focus");
    let mut titles = vec!["Offsquare".to_owned()];
    for place in ["brace", "post_legs", "shop", "parts", "boards", "rack"] {
        browser.run("location.hash = '#/'");
        has(&browser, ".questions");
        browser.run("scrollTo(0, 500); return new Promise(requestAnimationFrame)");
        browser.run(&format!("location.hash = '#/{place}'"));
        browser.until(
            "return document.querySelector('.questions') === null && document.activeElement === document.querySelector('h1')",
            "the focus on the heading",
        );
        assert_eq!(browser.run("return scrollY"), json!(0), "{place}");
        let title = browser.run("return document.title").as_str().expect("a title").to_owned();
        let heading = browser.text("h1");
        // A face of a piece is told before the piece's name.
        let named = format!("{heading} \u{b7} Offsquare");
        assert!(title.ends_with(&named), "{title}: {named}");
        titles.push(title);
        browser.run("history.back()");
        has(&browser, ".questions");
        browser.until("return scrollY === 500", "the bench where it was");
        assert_eq!(browser.run(HEADED), json!(true), "back from {place}");
        assert_eq!(browser.run("return document.title"), json!("Offsquare"));
    }
    titles.dedup();
    assert_eq!(titles.len(), 7, "{titles:?}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Ten times out and back by the app's own arrow, with a size being typed and without, leave the history no longer than
/// once does.
#[test]
fn the_arrow_back_does_not_pile_up_history() {
    for browser in [Browser::start(), Browser::start_at_a_desk()] {
        let _site = open(&browser, "");
        let round = |typing: bool| {
            browser.run("document.querySelector('[data-test=ask-brace]').click()");
            has(&browser, "[data-field=opening_width]");
            if typing {
                browser.run(TYPE_WIDTH);
                has(&browser, ".edit");
            }
            // A finger this quick would tap twice in one place, which is another gesture.
            browser.run("document.querySelector('[data-test=back]').click()");
            has(&browser, ".questions");
            browser.until("return location.hash === '#/' || location.hash === ''", "the bench");
        };
        round(true);
        let first = browser.run("return history.length");
        for n in 0..10 {
            round(n % 2 == 0);
        }
        let last = browser.run("return history.length");
        assert!(
            last.as_i64() <= first.as_i64(),
            "{first} steps after one round, {last} after eleven"
        );
        // Opened from a link there is no step to go back to: the bench takes the place of the page.
        browser.go("about:blank");
        let _site = open(&browser, "#/shop");
        let before = browser.run("return history.length");
        browser.run("document.querySelector('[data-test=back]').click()");
        has(&browser, ".questions");
        assert_eq!(browser.run("return history.length"), before);
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

/// With a mouse, too, Back takes the size that is typed and not the screen; the focus is then on that size.
#[test]
fn back_closes_what_is_typed_with_a_mouse() {
    let browser = Browser::start_at_a_desk();
    let _site = open(&browser, "#/brace");
    browser.run(TYPE_WIDTH);
    has(&browser, ".edit");
    assert_eq!(browser.run("return document.querySelector('.keypad')"), Value::Null, "a mouse");
    browser.run("history.back()");
    browser.until("return document.querySelector('.edit') === null", "the bar to close");
    assert_eq!(browser.run("return location.hash"), json!("#/brace"));
    let back = "return document.activeElement?.dataset.field === 'opening_width'";
    assert_eq!(browser.run(back), json!(true));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// From the bench to parts by keyboard alone. The reading of a point in the corner of 30 by 44 is atan(30 / 44) = 34.3°.
#[test]
fn the_main_job_by_keyboard_alone() {
    let browser = Browser::start_at_a_desk();
    let _site = open(&browser, "");
    tab_to(&browser, "[data-test=ask-brace]");
    browser.type_keys(ENTER);
    browser.until(HEADED, "the brace");
    tab_to(&browser, "[data-field=opening_width]");
    let said = "return document.activeElement.ariaLabel";
    assert_eq!(browser.run(said), json!("Opening width: 24 in"));
    browser.type_keys(ENTER);
    has(&browser, ".edit");
    browser.type_keys(&format!("30{ENTER}44{ENTER}2 1/2{ESCAPE}"));
    browser.until("return document.querySelector('.edit') === null", "the bar to close");
    browser.until(
        "return document.activeElement?.ariaLabel?.endsWith('2 1/2 in') === true",
        "the focus on the size that was typed",
    );
    tab_to(&browser, "[data-test=way-corner]");
    browser.type_keys(ENTER);
    browser.until(
        "return document.querySelector('[data-test=strip]').textContent.includes('34.3')",
        "the reading",
    );
    tab_to(&browser, "[data-test=strip]");
    browser.type_keys(ENTER);
    has(&browser, "[role=dialog]");
    let card = browser.text("[role=dialog]");
    assert!(card.contains("34.3"), "{card}");
    browser.type_keys(ESCAPE);
    browser.until(
        "return document.querySelector('[role=dialog]') === null && document.activeElement?.dataset.test === 'strip'",
        "the focus back on the strip",
    );
    browser.run("document.querySelector('h1').focus()");
    tab_to(&browser, "[data-test=add-to-parts]");
    browser.type_keys(ENTER);
    has(&browser, "[data-test=in-parts]");
    tab_to(&browser, "[data-test=in-parts]");
    browser.type_keys(ENTER);
    browser.until(HEADED, "the parts");
    assert_eq!(browser.text("h1"), "Loose parts");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// With the reader's own colors, what is chosen is seen apart from what is not, and every line of the drawing from the ground.
#[test]
fn forced_colors_show_what_is_chosen() {
    let browser = Browser::start();
    let _site = open(&browser, "#/brace");
    browser.light("dark");
    browser.media("forced-colors", "active");
    has(&browser, "[data-test=strip]");
    let same = "const all = s => new Set([...document.querySelectorAll(s)].map(e => { const c = getComputedStyle(e); return c.backgroundColor + c.color })); \
        const on = [...all(args[0] + '[aria-pressed=true]')], off = all(args[0] + '[aria-pressed=false]'); \
        return on.length === 0 || off.size === 0 || on.some(c => off.has(c));";
    for row in [".ways button", ".forms button"] {
        assert_eq!(browser.wait_for(same, &[json!(row)]), json!(false), "{row}");
    }
    let unseen = browser.run(
        "const ground = getComputedStyle(document.body).backgroundColor; \
         return [...document.querySelectorAll('.drawing path')].filter(p => { const c = getComputedStyle(p); \
           return c.stroke === ground || c.stroke === 'none' && c.fill === ground; }).map(p => p.getAttribute('class')).join()",
    );
    assert_eq!(unseen, json!(""));
    browser.run("location.hash = '#/shop'");
    has(&browser, ".shop .choices");
    assert_eq!(browser.wait_for(same, &[json!(".choices button")]), json!(false), "choices");
}

/// A theme that is chosen by hand colors the browser's bars, too, whatever the system prefers.
#[test]
fn a_theme_chosen_by_hand_colors_the_bars() {
    let browser = Browser::start();
    let _site = open(&browser, "#/shop");
    let bar = "return [...document.querySelectorAll('meta[name=theme-color]')].filter(m => matchMedia(m.media || 'all').matches).map(m => m.content.toUpperCase()).join()";
    let pick = |word: &str| {
        let key = format!(
            "[...document.querySelectorAll('.choices button')].find(b => b.textContent === {word:?})"
        );
        browser.until(&format!("return {key} !== undefined"), word);
        browser.run(&format!("{key}.click()"));
        browser.until(&format!("return {key}.ariaPressed === 'true'"), word);
    };
    // The grounds of both themes, as the style sheet has them.
    for (system, word, color) in [
        ("light", "Dark", "#15181B"),
        ("light", "As the device", "#F7F3EA"),
        ("dark", "As the device", "#15181B"),
        ("dark", "Light", "#F7F3EA"),
    ] {
        browser.light(system);
        pick(word);
        browser.until(&format!("{bar} === {color:?}"), &format!("{word} with a {system} system"));
    }
}
