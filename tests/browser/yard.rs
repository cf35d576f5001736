//! The rack as a yard sells, with a thumb: sections to tap, the keypad under a form, what fits, end trim, batch.

use crate::device::{kept, until_kept};
use crate::driver::Browser;
use crate::site::Site;
use crate::{dist, visit};
use serde_json::{Value, json};

fn at(fragment: &str, there: &str) -> (Browser, Site) {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    go(&browser, fragment, there);
    (browser, site)
}

fn go(browser: &Browser, fragment: &str, there: &str) {
    browser.run(&format!("location.hash = {fragment:?}"));
    browser.until(&format!("return document.querySelector({there:?}) !== null"), fragment);
}

/// A tap where the one before may have brought something new.
fn tap(browser: &Browser, selector: &str) {
    std::thread::sleep(std::time::Duration::from_millis(350));
    browser.tap(selector);
}

fn value(browser: &Browser, selector: &str, wanted: &str) {
    browser.until(
        &format!("return document.querySelector({selector:?})?.value === {wanted:?}"),
        &format!("{selector}: {wanted}"),
    );
}

const PAD: &str = "return document.querySelector('.dock .keypad') !== null";
const NO_PAD: &str =
    "return document.querySelector('.keypad') === null && !/^sheet/.test(history.state)";
const FITS: &str = "return document.documentElement.scrollWidth <= innerWidth \
    && [...document.querySelectorAll('.board-rows, .board-rows svg')].every(e => e.getBoundingClientRect().right <= innerWidth && e.scrollWidth <= e.clientWidth + 1)";

/// A 1×4 of cedar: a tap, and the first price is ready to be typed; no length has one yet.
#[test]
fn a_section_is_tapped_and_asks_for_its_prices() {
    let (browser, _site) = at("#/rack", "[data-test=yard]");
    tap(&browser, "#yard-wood");
    browser.type_keys("cedar");
    let names =
        "return [...document.querySelectorAll('[data-test=yard] b')].map(b => b.textContent)";
    browser.until(
        "return document.querySelector('[data-test=yard] b').textContent.endsWith('cedar')",
        "the words behind the names",
    );
    let all = browser.run(names);
    assert_eq!(all[2], json!("1\u{d7}4 cedar"), "{all}");
    let tapped = "[data-test=yard]:nth-child(3)";
    assert!(browser.text(tapped).replace('\u{2009}', " ").contains("3/4 \u{d7} 3 1/2"));
    tap(&browser, tapped);
    browser.until(
        "return document.querySelector('[data-test=stock-7]')?.open === true \
         && document.activeElement.id === 'Sold-7--0--price'",
        "the new stock open at its first price",
    );
    assert!(browser.text("[data-test=stock-7] summary").contains("a price is missing"));
    browser.type_keys("6.25");
    let prices = "file.bench.work.rack?.stocks[6]?.sold.map(s => s.price)";
    until_kept(&browser, &format!("{prices}?.[0] === 625"));
    assert_eq!(kept(&browser, prices), json!([625, 0, 0, 0, 0]));
    // It is there now; another wood is another stock.
    assert_eq!(
        browser.run(&format!("return document.querySelector('{tapped}').disabled")),
        Value::Bool(true)
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// 8 ft is typed over as 96 1/2: the field keeps the focus, next goes on, the back button takes the pad and not the screen.
#[test]
fn lengths_of_a_form_have_the_keypad() {
    let (browser, _site) = at("#/rack", "[data-test=stock-3]");
    tap(&browser, "[data-test=stock-3] summary");
    let length = "[id='Sold-3--0--length']";
    tap(&browser, length);
    browser.until(PAD, "the keypad");
    for key in ["9", "6", "add 1/4", "add 1/4"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    value(&browser, length, "96 1/2");
    until_kept(&browser, "file.bench.work.rack?.stocks[2].sold[0].length === 96.5");
    // A half that says nothing yet has its sentence; the last length stays.
    browser.tap("[data-key='divided by']");
    browser.until(
        "return document.querySelector('[data-test=stock-3] .wrong') !== null",
        "a sentence beside the field",
    );
    browser.tap("[data-key=delete]");
    browser.until("return document.querySelector('[data-test=stock-3] .wrong') === null", "well");
    // Above the pad, and a real keyboard types in the same field.
    assert_eq!(
        browser.run(&format!(
            "const f = document.querySelector({length:?}).getBoundingClientRect(); const p = document.querySelector('.dock').getBoundingClientRect(); \
             return f.top > 0 && f.bottom <= p.top && p.bottom <= innerHeight && document.activeElement.id === 'Sold-3--0--length'"
        )),
        Value::Bool(true)
    );
    browser.run(&format!("document.querySelector({length:?}).select()"));
    browser.type_keys("8 ft");
    value(&browser, length, "8 ft");
    browser.tap("[data-key=clear]");
    for key in ["2", "4", "4", "0", "unit"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    value(&browser, length, "2440 mm");
    // The price beside it is no length: the pad makes room.
    browser.tap("[data-key=next]");
    browser.until(
        "return document.activeElement.id === 'Sold-3--0--price' && document.querySelector('.keypad') === null",
        "the price",
    );
    browser.until(NO_PAD, "its step in the history gone");
    tap(&browser, "[id='Sold-3--1--length']");
    browser.until(PAD, "the keypad again");
    browser.run("history.back()");
    browser.until(NO_PAD, "no keypad");
    assert_eq!(browser.run("return location.hash"), json!("#/rack"));
    tap(&browser, "[id='Sold-3--1--length']");
    browser.until(PAD, "the keypad once more");
    browser.tap("[data-key=done]");
    browser.until(NO_PAD, "done");
    // The shop's lengths have it, too, and its bars in millimeters.
    go(&browser, "#/shop", "#kerf");
    tap(&browser, "#bar-across");
    browser.until(PAD, "the keypad in the shop");
    assert_eq!(browser.text("[data-key=unit]"), "in");
    browser.tap("[data-key=done]");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Left by a link with the pad up: the way back leads to the screen before, without an extra step.
#[test]
fn leaving_with_the_keypad_up_costs_no_step() {
    let (browser, _site) = at("#/rack", "[data-test=stock-3]");
    go(&browser, "#/shop", "[data-test=rack]");
    tap(&browser, "#kerf");
    browser.until(PAD, "the keypad");
    tap(&browser, "[data-test=rack]");
    browser.until("return document.querySelector('[data-test=yard]') !== null", "the rack");
    browser.run("history.back()");
    browser.until("return document.querySelector('#kerf') !== null", "the shop");
    browser.until(NO_PAD, "no keypad, and no step of it");
    browser.run("history.back()");
    browser.until("return document.querySelector('[data-test=yard]') !== null", "the rack before");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A part of 2 1/4 by 3/4: what fits stands there with what has to be done, what does not says why, and the missing
/// size is a tap.
#[test]
fn a_part_is_offered_what_fits_it() {
    let (browser, _site) = at("#/parts", "[data-test=add-part]");
    tap(&browser, "[data-test=add-part]");
    browser.until("return document.querySelector('#part-1-seen') !== null", "its form");
    for (key, size) in [("seen", "2 1/4"), ("away", "3/4")] {
        browser.run(&format!("document.querySelector('#part-1-{key}').focus()"));
        browser.type_keys(size);
    }
    browser.until(
        "return document.querySelector('[data-test=add-size]') !== null",
        "the missing size",
    );
    let offered = browser.text("[aria-label='Cut from'] .choices");
    assert!(
        offered.contains("1\u{d7}4 pine, ripped") && !offered.contains("1\u{d7}2 pine"),
        "{offered}"
    );
    let misfits = browser.text(".misfits").replace('\u{2009}', " ");
    assert!(misfits.contains("1\u{d7}2 pine: too narrow: 1 1/2 in"), "{misfits}");
    assert_eq!(
        browser.text("[data-test=add-size]").replace('\u{2009}', " "),
        "Add 3/4 \u{d7} 2 1/4 to the rack"
    );
    browser.tap("[data-key=done]");
    tap(&browser, "[data-test=add-size]");
    browser.until(
        "return document.querySelector('[aria-label=\"Cut from\"] [aria-pressed=true]')?.textContent === '3/4 \u{d7} 2 1/4'",
        "the new stock picked",
    );
    browser
        .until("return document.querySelector('[data-test=add-size]') === null", "nothing missing");
    // One step: undone, the rack is without it.
    tap(&browser, "[data-test=undo]");
    browser.until("return document.querySelector('[data-test=add-size]') !== null", "as before");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A brace's row shows the edge and what is bought for it.
#[test]
fn a_row_shows_edge_and_length_to_buy() {
    let (browser, _site) = at(
        "#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        "[data-test=add-to-parts]",
    );
    browser.tap("[data-test=add-to-parts]");
    browser.tap("[data-test=in-parts]");
    browser.until("return document.querySelector('[data-test=part]') !== null", "the part");
    let row = browser.text("[data-test=part] small");
    assert!(row.starts_with("edge ") && row.contains(", to buy "), "{row}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// End trim is asked on the boards, once; the plan says with which it counts. Boards fit the narrowest screen, and the
/// batch is stepped, typed and slid.
#[test]
fn boards_ask_for_the_trim_fit_the_screen_and_step_the_batch() {
    let (browser, _site) = at("#/parts", "[data-test=example-0]");
    browser.tap("[data-test=example-0]");
    tap(&browser, "[data-test=to-boards]");
    browser.until(
        "return document.querySelector('[data-test=board] svg') !== null && document.querySelector('[data-test=stop]') === null",
        "a plan",
    );
    let main = || browser.text("main").replace('\u{2009}', " ");
    assert!(main().contains("until you say how much you cut off"));
    tap(&browser, "[data-test='trim-1/2']");
    browser
        .until("return document.querySelector('[data-test=trim-question]') === null", "asked once");
    browser.until(
        "return document.querySelector('main').textContent.includes('trimmed off each end of a board you buy')",
        "the plan says it",
    );
    browser.run("location.reload()");
    browser
        .until("return document.querySelector('[data-test=board] svg') !== null", "loaded again");
    assert_eq!(
        browser.run("return document.querySelector('[data-test=trim-question]') === null"),
        json!(true)
    );
    for (width, height) in [(320, 640), (360, 740), (1280, 900)] {
        browser.screen(width, height);
        browser.until(FITS, &format!("boards fit {width} px"));
    }
    browser.screen(360, 740);
    let batch = "return document.querySelector('#batch').value";
    for key in ["batch-more", "batch-more", "batch-fewer"] {
        browser.tap(&format!("[data-test={key}]"));
    }
    value(&browser, "#batch", "2");
    let size = browser.run(
        "const r = document.querySelector('[data-test=batch-more]').getBoundingClientRect(); return [r.width >= 48, r.height >= 48]",
    );
    assert_eq!(size, json!([true, true]));
    browser
        .run("document.querySelector('#batch').focus(); document.querySelector('#batch').select()");
    browser.type_keys("0");
    browser.until("return document.querySelector('#batch-wrong') !== null", "no batch of none");
    browser.run("document.querySelector('#batch').select()");
    browser.type_keys("12");
    let at_once = "file.bench.work.pieces?.[0].batch";
    until_kept(&browser, &format!("{at_once} === 12"));
    browser.run(
        "const s = document.querySelector('[data-test=batch-slide]'); s.value = 5; s.dispatchEvent(new InputEvent('input', {bubbles: true}))",
    );
    until_kept(&browser, &format!("{at_once} === 5"));
    assert_eq!(browser.run(batch), json!("5"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
