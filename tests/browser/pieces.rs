//! Pieces by touch: from the bench to the boards of a stool of given sizes, a part changed by hand, a variant beside it,
//! two bought together; offline.

use crate::device::start_with;
use crate::{STARTED, dist, visit};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::save::{self, Bench};
use serde_json::json;

/// Opens the app from what is stored, its server stopped.
fn offline(browser: &Browser) -> Site {
    let site = Site::serve(dist(), "");
    visit(browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start without a server");
    site
}

fn has(browser: &Browser, selector: &str, what: &str) {
    browser.until(&format!("return document.querySelector({selector:?}) !== null"), what);
}

/// A tap where a link stood a moment ago would be taken for a second tap of the same.
fn settle() {
    std::thread::sleep(std::time::Duration::from_millis(350));
}

fn type_into(browser: &Browser, selector: &str, text: &str) {
    has(browser, selector, selector);
    browser.run(&format!(
        "const e = document.querySelector({selector:?}); e.focus(); e.value = {text:?}; \
         e.dispatchEvent(new InputEvent('input', {{bubbles: true}})); e.blur();"
    ));
}

#[test]
fn six_taps_and_the_digits_lead_from_the_bench_to_a_stools_boards() {
    let browser = Browser::start();
    let _site = offline(&browser);
    has(&browser, "[data-test=ask-splayed_stool]", "the patterns");
    let mut taps = 0;
    let mut tap = |selector: &str| {
        settle();
        browser.tap(selector);
        taps += 1;
    };
    tap("[data-test=ask-splayed_stool]");
    has(&browser, ".whole [data-field=overall_height]", "the stool");
    tap("[data-field=overall_height]");
    browser.tap("[data-key='2']");
    browser.tap("[data-key='0']");
    tap("[data-key='done']");
    tap("[data-field=top_width]");
    browser.tap("[data-key='1']");
    browser.tap("[data-key='6']");
    tap("[data-key='done']");
    tap("[data-test=face-boards]");
    browser.until("return location.hash === '#/piece/1/boards'", "the boards of the piece");
    has(&browser, "[data-test=board]", "a board of the plan");
    assert_eq!(taps, 6);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_piece_is_changed_by_hand_copied_and_two_are_bought_together() {
    let browser = Browser::start();
    let site = offline(&browser);
    let fresh = |fragment: &str| {
        browser.go("about:blank");
        browser.go(&format!("{}{fragment}", site.address));
        browser.until(STARTED, "the app");
    };
    has(&browser, "[data-test=ask-braced_frame]", "the patterns");
    browser.tap("[data-test=ask-braced_frame]");
    has(&browser, ".whole [data-field=outside_width]", "the frame");
    settle();
    browser.tap("[data-test=face-parts]");
    has(&browser, "[data-test=part]", "its parts");
    // The first part is cut longer, and another is left out.
    let first = browser.text("[data-test=part] b");
    settle();
    browser.tap("[data-test=part]");
    type_into(&browser, "input[id$='-length']", "40");
    browser.until(
        "return document.querySelector('[data-test=part] small').textContent.includes('changed by you')",
        "the override said",
    );
    // It is kept over a new start, when sizes change, and until it is taken back.
    fresh("#/piece/1");
    has(&browser, ".whole [data-field=outside_width]", "the frame");
    browser.tap("[data-field=outside_width]");
    for digit in ["3", "0"] {
        browser.tap(&format!("[data-key='{digit}']"));
    }
    browser.tap("[data-key='done']");
    browser.until(
        "return document.querySelector('[data-test=override]')?.textContent.includes('length')",
        "the override on the piece",
    );
    settle();
    browser.tap("[data-test=face-parts]");
    has(&browser, "[data-test=part]", "its parts");
    assert_eq!(browser.text("[data-test=part] b"), first);
    assert!(browser.text("[data-test=part] small").starts_with("40 in"));
    settle();
    browser.tap("[data-test=face-piece]");
    has(&browser, "[data-test=as-made]", "the way back");
    settle();
    browser.tap("[data-test=as-made]");
    browser.until("return document.querySelector('[data-test=override]') === null", "taken back");

    // A variant is not in the buy until it is put there; then each has its own count and cost.
    browser.tap("[data-test=variant]");
    browser.until("return location.hash === '#/piece/2'", "the variant");
    has(&browser, ".whole [data-field=outside_width]", "its drawing");
    settle();
    browser.tap("[data-field=outside_width]");
    for digit in ["2", "4"] {
        browser.tap(&format!("[data-key='{digit}']"));
    }
    browser.tap("[data-key='done']");
    browser.run(
        "const e = document.querySelector('[data-test=beside]'); e.value = '1'; \
         e.dispatchEvent(new Event('change', {bubbles: true}));",
    );
    has(&browser, "[data-test=beside-table] .differs", "what differs");
    let differs = browser.text("[data-test=beside-table] .differs");
    assert!(differs.contains("24") && differs.contains("30"), "{differs}");
    browser.until(
        "const row = [...document.querySelectorAll('[data-test=beside-table] tr')] \
             .find(r => r.querySelector('th')?.textContent.startsWith('All boards')); \
         return [...row?.querySelectorAll('td') ?? []].filter(c => c.textContent.startsWith('$')).length === 2",
        "what the boards of each cost",
    );
    settle();
    browser.tap("[data-test=face-boards]");
    has(&browser, "[data-test=together] .caution", "that it is not in the buy");
    settle();
    browser.tap("[data-test=buy-2]");
    browser.until(
        "return document.querySelector('[data-test=together] .caution') === null",
        "in the buy",
    );
    type_into(&browser, "input#buy-2", "3");
    browser.until(
        "const all = [...document.querySelectorAll('[data-test=bought] small')]; \
         return all.length === 2 && all.every(e => /^boards for \\$\\d+\\.\\d\\d each$/.test(e.textContent))",
        "what the boards of one of each cost",
    );
    // The bench has both; a piece that is removed comes back by undo.
    fresh("#/");
    browser.until(
        "return document.querySelectorAll('[data-test=my-piece]').length === 2",
        "my pieces",
    );
    assert!(browser.text(".mine").contains("3 of them"));
    browser.tap("[data-test=my-piece]");
    has(&browser, "[data-test=remove-piece]", "the way to remove it");
    settle();
    browser.tap("[data-test=remove-piece]");
    browser.until(
        "return document.querySelectorAll('[data-test=my-piece]').length === 1",
        "one piece",
    );
    settle();
    browser.tap("[aria-label=Undo]");
    browser.until(
        "return document.querySelectorAll('[data-test=my-piece]').length === 2",
        "both again",
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The newest stand on the bench, all of them a tap away, and a name finds one.
#[test]
fn of_many_pieces_the_newest_stand_on_the_bench() {
    let mut work = Work::default();
    for n in 1..=30 {
        let id = work.next_piece();
        work.apply(WorkEdit::AddPiece { pattern: None }, &Shop::default());
        let text = format!("Gate {n} of a row");
        work.apply(WorkEdit::Piece { id, key: "name", text }, &Shop::default());
    }
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    start_with(&browser, &save::write(&Bench { work, ..Bench::default() }));
    let names = "[...document.querySelectorAll('[data-test=my-piece] .ask')].map(e => e.firstChild.textContent)";
    let newest: Vec<String> = (23..=30).rev().map(|n| format!("Gate {n} of a row")).collect();
    browser.until(&format!("return {names}.length === 8"), "the newest");
    assert_eq!(browser.run(&format!("return {names}")), json!(newest));
    browser.tap("[data-test=all-pieces]");
    browser.until(&format!("return {names}.length === 30"), "all of them");
    browser.tap(".mine input");
    browser.type_keys("row 12");
    browser.until(&format!("return {names}.join() === 'Gate 12 of a row'"), "the one");
    browser.type_keys("x");
    browser.until(&format!("return {names}.length === 0"), "none");
    assert!(browser.text(".mine").contains("No piece has that name"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
