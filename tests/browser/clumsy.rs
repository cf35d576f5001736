//! What a hurried person does to a page: turns, goes back, opens it twice, loads it again.

use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist, visit};
use serde_json::{Value, json};

pub const EDIT: &str = "return document.querySelector('[data-test=edit]').value";

pub fn open_brace() -> (Browser, Site) {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/brace", site.address));
    browser.tap("[data-field=opening_width]");
    browser.until("return document.querySelector('[data-test=edit]') !== null", "the field");
    (browser, site)
}

pub fn typed(browser: &Browser, text: &str) {
    browser.until(
        &format!("return document.querySelector('[data-test=edit]').value === {text:?}"),
        text,
    );
}

/// Keys go on from what stands in the field, whoever wrote it there: 30 in is 762 mm.
#[test]
fn another_unit_and_undo_in_the_middle_of_typing_are_not_overwritten() {
    let (browser, _site) = open_brace();
    for key in ["3", "0"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    typed(&browser, "30");
    browser.tap("[data-key=unit]");
    browser.tap("[data-key=unit]");
    typed(&browser, "762");
    browser.tap("[data-key=plus]");
    browser.tap("[data-key='8']");
    typed(&browser, "762 + 8");
    browser.tap("[data-test=undo]");
    typed(&browser, "24");
    browser.tap("[aria-label=Redo]");
    typed(&browser, "762 + 8");
    browser.tap("[data-test=undo]");
    browser.tap("[data-key='1']");
    // What is selected is replaced, otherwise the digit is added: never the text before the undo.
    let now = browser.run(EDIT);
    assert!([json!("1"), json!("241")].contains(&now), "{now}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The back button takes a sheet away first, then the screen; the way forward opens no sheet.
#[test]
fn the_back_button_lowers_a_sheet() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.tap("[data-test=ask-end_board]");
    browser.tap("[data-test=strip]");
    let sheet = "return document.querySelector('[role=dialog]') !== null";
    browser.until(sheet, "the saw card");
    browser.run("history.back()");
    browser.until("return document.querySelector('[role=dialog]') === null", "no sheet");
    assert_eq!(browser.run("return location.hash"), json!("#/end_board"));
    browser.tap("[data-test=paper]");
    browser.until(sheet, "the paper sheet");
    browser.tap("#sheet-close");
    browser.until(
        "return document.querySelector('[role=dialog]') === null && !/^sheet/.test(history.state)",
        "no sheet, and its step taken back",
    );
    // The keypad is taken like a sheet.
    let keypad = "return document.querySelector('.keypad') !== null";
    let gone = "return document.querySelector('.keypad') === null && !/^sheet/.test(history.state)";
    browser.tap("[data-field=base_width]");
    browser.until(keypad, "the keypad");
    browser.run("history.back()");
    browser.until(gone, "no keypad");
    assert_eq!(browser.run("return location.hash"), json!("#/end_board"));
    // Left by the arrow with the keypad up, the history stands at the bench of before: one step on is the piece without it.
    browser.tap("[data-field=base_width]");
    browser.until(keypad, "the keypad");
    let bench = "return document.querySelector('.bench') !== null";
    browser.tap("[data-test=back]");
    browser.until(bench, "the bench");
    browser.run("history.forward()");
    browser.until("return document.querySelector('.layout') !== null", "the piece");
    assert_eq!(browser.run(keypad), json!(false));
    browser.run("history.back()");
    browser.until(bench, "the bench");
    // Loaded anew under the keypad: its step is gone with it.
    browser.tap("[data-test=ask-end_board]");
    browser.tap("[data-field=base_width]");
    browser.until(keypad, "the keypad");
    browser.run("document.documentElement.dataset.before = ''; location.reload()");
    browser.until(
        "return document.documentElement.dataset.before === undefined && document.querySelector('.layout') !== null",
        "the piece, loaded anew",
    );
    browser.until(gone, "no keypad and no step of it");
    browser.run("history.back()");
    browser.until(bench, "the bench");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The browser takes a step of the history back in its own time: a keypad that is up again by then stays.
#[test]
fn the_next_size_may_be_tapped_at_once() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.tap("[data-test=ask-end_board]");
    browser.tap("[data-field=base_width]");
    browser.until(
        "return document.querySelector('.keypad') !== null && /^sheet/.test(history.state)",
        "the keypad",
    );
    let left = browser.wait_for(
        "const tap = s => document.querySelector(s).dispatchEvent(new MouseEvent('click', {bubbles: true})); \
         const keypad = () => document.querySelector('.keypad') !== null; \
         const back = history.back; let asked = false; \
         history.back = () => { asked = true; setTimeout(() => back.call(history), 400); }; \
         const soon = () => new Promise(go => setTimeout(go)); \
         let taken = 0; addEventListener('popstate', () => taken += 1); \
         tap('[data-key=done]'); while (keypad() || !asked) await soon(); \
         tap('[data-field=base_width]'); while (!keypad()) await soon(); \
         const early = taken; while (!taken) await soon(); \
         await new Promise(go => setTimeout(go, 300)); delete history.back; return [early, keypad()];",
        &[],
    );
    assert_eq!(left, json!([0, true]), "up again before the step is taken, and stays");
    browser.run("history.back()");
    browser.until(
        "return document.querySelector('.keypad') === null && !/^sheet/.test(history.state)",
        "no keypad",
    );
    assert_eq!(browser.run("return location.hash"), json!("#/end_board"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Two taps where one is meant: the second finds no key of the screen that the first has opened.
#[test]
fn a_double_tap_is_one_tap() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    let quiet = "return document.querySelector('.keypad') === null && !document.querySelector('.sheet-ground')";
    browser.double_tap("[data-test=ask-brace]");
    browser.until("return document.querySelector('[data-test=strip]') !== null", "an answer");
    assert_eq!(browser.run(quiet), Value::Bool(true), "from the bench");
    // The size stands where the question stood: a tap at once would be taken for that one's repetition.
    std::thread::sleep(std::time::Duration::from_millis(350));
    browser.double_tap("[data-field=opening_width]");
    browser.until("return document.querySelector('.keypad') !== null", "the keypad");
    assert_eq!(
        browser.run("return document.querySelector('.sheet-ground') === null"),
        Value::Bool(true),
        "from a size"
    );
    // At once, and twice on one key: every one is taken.
    browser.tap("[data-key=clear]");
    browser.double_tap("[data-key='1']");
    browser.until("return document.querySelector('#edit-field').value === '11'", "both ones");
    browser.double_tap("[data-key=done]");
    browser.until(quiet, "no keypad");
    std::thread::sleep(std::time::Duration::from_millis(400));
    assert_eq!(browser.run(quiet), Value::Bool(true), "from done");
    browser.double_tap("[data-test=strip]");
    browser.until("return document.querySelector('.sheet') !== null", "the saw card");
    assert_eq!(browser.text(".sheet h2"), "Saw card");
    // Escape is heard after a tap on the sheet's text, too.
    browser.tap(".sheet-body dt");
    browser.type_keys("\u{e00c}");
    browser.until(quiet, "no sheet");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A second finger on the drawing neither drags the handle that the first one holds nor lets it go.
#[test]
fn a_second_finger_does_not_drag() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/brace", site.address));
    let width = "return document.querySelector('[data-field=opening_width]') && document.querySelector('[data-test=field-opening_width]')?.value";
    browser.until(
        &format!("{} === '24'", width.replace("return ", "return (") + ")"),
        "the first sizes",
    );
    let finger = |id: u32, kind: &str, on: &str, x: i32| {
        browser.wait_for(
            &format!(
                "const h = document.querySelector('[data-handle=opening_width]').getBoundingClientRect(); \
                 document.querySelector('{on}').dispatchEvent(new PointerEvent('{kind}', {{bubbles: true, cancelable: true, pointerId: {id}, \
                 clientX: h.x + h.width / 2 + {x}, clientY: h.y + h.height / 2}})); \
                 await new Promise(r => requestAnimationFrame(() => setTimeout(r)));"
            ),
            &[],
        );
    };
    finger(1, "pointerdown", "[data-handle=opening_width] circle", 0);
    finger(2, "pointermove", ".drawing", 90);
    assert_eq!(browser.run(width), json!("24"), "moved by another finger");
    finger(2, "pointerup", ".drawing", 90);
    finger(1, "pointermove", ".drawing", 60);
    let wider = browser.run(width);
    assert_ne!(wider, json!("24"), "held all the same");
    finger(1, "pointercancel", ".drawing", 60);
    finger(1, "pointermove", ".drawing", 90);
    assert_eq!(browser.run(width), wider, "let go");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Addresses that nobody made: a screen with words on it, every time.
#[test]
fn strange_addresses_still_show_a_screen() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    let long = format!("#/brace?opening_width={}", "9".repeat(9_000));
    for fragment in [
        "#/brace?opening_width=%F0%9F%AA%9A&strip_width=%00",
        "#/brace?form=nope&opening_width=1e308",
        "#/nowhere?x=1",
        "#/brace?&&==&",
        "#/post_legs?legs=77&post_width=-3",
        "#%2Fbrace",
        "#/brace#/shop",
        "#/end_board?base_width=%ZZ",
        long.as_str(),
    ] {
        browser.go("about:blank");
        browser.go(&format!("{}{fragment}", site.address));
        browser.until(STARTED, "the app to start");
        assert!(browser.seen("h1").len() > 3, "{fragment:.60}");
        let seen = browser.seen("body");
        assert!(seen.len() > 60 && !seen.contains("NaN"), "{fragment:.60}: {seen}");
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Turned, narrow, with letters twice as large: no screen is wider than the device, keys are in reach.
#[test]
fn narrow_turned_and_large_print_screens_hold_together() {
    let (browser, site) = open_brace();
    let fits = "return document.documentElement.scrollWidth <= innerWidth + 1";
    let reach = "const r = document.querySelector('[data-key=next]').getBoundingClientRect(); return r.bottom <= innerHeight + 1 && r.right <= innerWidth + 1";
    for (width, height) in [(360, 740), (740, 360), (320, 640), (360, 740)] {
        browser.screen(width, height);
        browser.until(fits, &format!("{width} x {height} fits"));
        browser.until(reach, &format!("{width} x {height}: the keypad in reach"));
        // The drawing is as large as its frame again.
        browser.until(
            "const s = document.querySelector('.drawing svg'); const r = s.getBoundingClientRect(); return Math.abs(s.viewBox.baseVal.width - r.width) < 2",
            "the drawing to follow",
        );
    }
    browser.tap("[data-key=done]");
    browser.screen(320, 640);
    for fragment in ["#/", "#/shop", "#/brace", "#/post_legs", "#/end_board"] {
        browser.go(&format!("{}{fragment}", site.address));
        browser.until(STARTED, "the app to start");
        browser.until(fits, &format!("{fragment} fits in 320"));
    }
}

/// With a keyboard alone: into the saw card, round within it, out by Escape, back where it was.
#[test]
fn the_keyboard_stays_in_a_sheet_and_comes_back() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/brace", site.address));
    browser.until("return document.querySelector('[data-test=strip]') !== null", "an answer");
    browser.run("document.querySelector('[data-test=strip]').focus()");
    browser.type_keys("\u{e007}");
    let inside =
        "return document.querySelector('.sheet')?.contains(document.activeElement) === true";
    browser.until(inside, "the focus in the sheet");
    for back in [false, true] {
        for _ in 0..12 {
            if back {
                browser.chord('\u{e008}', '\u{e004}');
            } else {
                browser.type_keys("\u{e004}");
            }
            browser.until(inside, "the focus to stay in the sheet");
        }
    }
    browser.type_keys("\u{e00c}");
    browser.until(
        "return document.querySelector('.sheet') === null && document.activeElement.matches('[data-test=strip]')",
        "the focus back on the strip",
    );
}
