//! What the drawing keeps of a phone's screen, upright and lying, with the keypad and without.

use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist, visit};
use serde_json::Value;

const READY: &str = "return document.querySelector('[data-test=strip]') !== null";

fn at(fragment: &str, width: u32, height: u32) -> (Browser, Site) {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.screen(width, height);
    browser.go(&format!("{}{fragment}", site.address));
    browser.until(STARTED, "the app to start");
    browser.until(READY, "an answer");
    (browser, site)
}

/// Its box less what lies under another element or outside of what scrolls: (top, bottom, height).
fn visible(browser: &Browser, selector: &str) -> (f64, f64, f64) {
    let script = format!(
        "const e = document.querySelector('{selector}').getBoundingClientRect(), w = document.querySelector('.work').getBoundingClientRect();
         const top = Math.max(e.top, w.top), bottom = Math.min(e.bottom, w.bottom); return [top, bottom, bottom - top];"
    );
    let found = browser.run(&script);
    let of = |i: usize| found[i].as_f64().expect("a number");
    (of(0), of(1), of(2))
}

const PLACES: &str = "return ['.strip-body', '.edit input', '[data-key=next]', '.drawing'].map(s => Math.round(document.querySelector(s).getBoundingClientRect().top)).join()";

/// With the keypad up on a phone of 360 × 740 the frame of the first brace (24 × 36 in) is over 100 px high, 48 before;
/// ways and keys stay large enough for a thumb.
#[test]
fn the_drawing_stays_readable_above_the_keypad() {
    let (browser, _site) = at("#/brace", 360, 740);
    browser.tap("[data-field=opening_width]");
    browser.until("return document.querySelector('.keypad') !== null", "the keypad");
    browser.until(
        "const s = document.querySelector('.drawing svg'); return Math.abs(s.viewBox.baseVal.height - s.getBoundingClientRect().height) < 2",
        "the drawing to follow",
    );
    let (_, _, frame) = visible(&browser, ".fig-frame");
    assert!(frame >= 100.0, "{frame} px");
    let (_, _, drawing) = visible(&browser, ".drawing");
    assert!(drawing >= 200.0, "{drawing} px");
    let small = browser.run(
        "return [...document.querySelectorAll('.keypad button, .ways button, .edit input')].filter(e => e.getBoundingClientRect().height < 44).length",
    );
    assert_eq!(small, Value::from(0));
    for way in ["corner", "edge"] {
        let (_, _, seen) = visible(&browser, &format!("[data-test=way-{way}]"));
        assert!(seen >= 40.0, "{way}: {seen} px of it are seen");
    }
    // A sum comes, another field comes, one with a longer help: nothing moves.
    let before = browser.run(PLACES);
    for key in ["3", "0", "minus", "2"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    browser
        .until("return document.querySelector('.edit .sum')?.textContent === '= 28 in'", "the sum");
    assert_eq!(browser.run(PLACES), before, "for a sum");
    browser.tap("[data-key=next]");
    browser.until("return document.querySelector('.edit .sum') === null", "the next field");
    assert_eq!(browser.run(PLACES), before, "for another field");
    // Whatever the answer's lines take, the drawing is whole above them, and marked old with a sentence below, too.
    for keys in [&["4", "divided by"][..], &["clear", "1", "8", "add 1/16"]] {
        for key in keys {
            browser.tap(&format!("[data-key='{key}']"));
        }
        browser.until(
            "const d = document.querySelector('.drawing').getBoundingClientRect(), w = document.querySelector('.work').getBoundingClientRect(); return d.top >= w.top - 1 && d.bottom <= w.bottom + 1",
            "the whole drawing",
        );
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A browser's own bars leave 640 px: the frame is still larger than it was with 740.
#[test]
fn under_a_browsers_bars_the_drawing_stays_readable() {
    let (browser, _site) = at("#/brace", 360, 640);
    browser.tap("[data-field=opening_width]");
    browser.until(
        "const s = document.querySelector('.editing .drawing svg'); return s && Math.abs(s.viewBox.baseVal.height - s.getBoundingClientRect().height) < 2",
        "the drawing to follow",
    );
    let (_, _, frame) = visible(&browser, ".fig-frame");
    assert!(frame >= 52.0, "{frame} px");
    let (_, _, seen) = visible(&browser, "[data-test=way-edge]");
    assert!(seen >= 40.0, "{seen} px of the last way are seen");
}

/// A phone lying down shows the whole drawing beside the answer; field, sentence, answer and keypad fit at once.
#[test]
fn a_phone_lying_down_shows_the_whole_drawing() {
    for fragment in ["#/brace", "#/post_legs", "#/end_board"] {
        let (browser, _site) = at(fragment, 740, 360);
        let (_, _, drawing) = visible(&browser, ".drawing");
        let whole = browser.run("return document.querySelector('.drawing').offsetHeight");
        assert!(drawing > 240.0, "{fragment}: {drawing} px");
        assert!((whole.as_f64().expect("px") - drawing).abs() < 2.0, "{fragment}");
        if fragment != "#/brace" {
            continue;
        }
        browser.tap("[data-field=opening_width]");
        browser.until("return document.querySelector('.keypad') !== null", "the keypad");
        let (_, _, drawing) = visible(&browser, ".drawing");
        assert!(drawing > 170.0, "{drawing} px");
        for key in ["3", "plus"] {
            browser.tap(&format!("[data-key='{key}']"));
        }
        browser.until("return document.querySelector('.edit .wrong') !== null", "a sentence");
        let seen = browser.run(
            "return ['.edit .wrong', '.edit input', '[data-key=next]', '[data-test=setting]', '.old-mark'].filter(s => {
               const r = document.querySelector(s).getBoundingClientRect(), at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
               return !(r.top >= 0 && r.bottom <= innerHeight + 1 && r.left >= 0 && at?.closest(s));
             }).join()",
        );
        assert_eq!(seen, Value::from(""), "all in view, none covered");
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

/// In feet and inches the keypad has a key for feet in place of the point: 3'4 is 40 in, 1016 mm.
#[test]
fn feet_are_tapped() {
    let (browser, _site) = at("#/brace", 360, 740);
    browser.tap("[data-field=opening_height]");
    browser.tap("[data-key=unit]");
    for key in ["clear", "3", "feet", "4"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    let value = "return document.querySelector('[data-test=edit]').value";
    assert_eq!(browser.run(value), Value::from("3'4"));
    browser.tap("[data-key=unit]");
    assert_eq!(browser.run(value), Value::from("1016"), "40 in in mm");
    assert_eq!(
        browser.run("return document.querySelector('[data-key=feet]')"),
        Value::Null,
        "a point for mm"
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Legs by default with a footprint of 20 and a rise of 7 cannot be: the answer says so in words over its figures, in both
/// lights, and the whole sentence that says why is in sight, under nothing.
#[test]
fn an_answer_in_doubt_says_so_in_sight() {
    let legs = "#/post_legs?form=leg_length&post_width=3%201/2&footprint=20&leg_depth=1%201/2&long_point_length=9%205/8";
    let (browser, site) = at(legs, 360, 740);
    assert!(browser.text(".old-mark").is_empty(), "these sizes agree");
    for scheme in ["light", "dark"] {
        browser.light(scheme);
        browser.go("about:blank");
        browser.go(&format!("{}{legs}&rise_to_joint_top=7", site.address));
        browser.until("return document.querySelector('.doubt .old-mark') !== null", "the doubt");
        let said = browser.text(".strip .old-mark");
        assert!(said.starts_with("In doubt.") && said.contains("cannot all be true"), "{said}");
        let covered = browser.run(
            "return ['.old-mark', '[data-test=setting]'].filter(s => {
                const e = document.querySelector(s), b = e.getBoundingClientRect();
                const at = y => e.contains(document.elementFromPoint(b.left + 8, y)) || e === document.elementFromPoint(b.left + 8, y);
                return b.top < 0 || b.bottom > innerHeight || b.height < 10 || (s === '.old-mark' && !(at(b.top + 4) && at(b.bottom - 4)));
            }).join()",
        );
        assert_eq!(covered, Value::from(""), "{scheme}");
        let (_, _, drawing) = visible(&browser, ".drawing");
        assert!(drawing >= 160.0, "{drawing} px");
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A rise of 12 on a run of 20: strip, drawing and card say 59.0° off square, 31.0° to the edge, past the usual saw.
#[test]
fn an_angle_from_a_tape_is_one_thing_everywhere() {
    let (browser, _site) = at("#/three_measures?form=rise_run&rise=12&run=20", 360, 740);
    let strip = browser.text("[data-test=strip]");
    for words in ["past this saw", "off square", "59.0°", "meets the edge at 31.0°"] {
        assert!(strip.contains(words), "{words}: {strip}");
    }
    let drawing = browser.text(".drawing");
    assert!(drawing.contains("59.0°") && drawing.contains("31.0°"), "{drawing}");
    browser.tap("[data-test=strip]");
    browser.until("return document.querySelector('.sheet') !== null", "the card");
    let card = browser.text(".sheet");
    assert!(card.contains("Past this saw: 59.0° off square, and it swings 50.0°."), "{card}");
    assert!(card.contains("The cut meets the edge at 31.0°."), "{card}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
