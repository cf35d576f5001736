//! What the drawing keeps of a phone's screen, upright and lying, with the keypad and without.

use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist, visit};
use offsquare_cuts::layouts;
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

/// Its box less what lies outside of all that scrolls around it: (top, bottom, height).
fn visible(browser: &Browser, selector: &str) -> (f64, f64, f64) {
    let script = format!(
        "const e = document.querySelector('{selector}'), b = e.getBoundingClientRect(); let top = Math.max(b.top, 0), bottom = Math.min(b.bottom, innerHeight);
         for (let p = e; p && p !== document.body; p = getComputedStyle(p).position === 'absolute' ? p.offsetParent : p.parentElement) {{
           const r = p.getBoundingClientRect();
           if (getComputedStyle(p).overflowY !== 'visible' && p !== e && r.height) {{ top = Math.max(top, r.top); bottom = Math.min(bottom, r.bottom) }}
         }}
         return [top, bottom, bottom - top];"
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

/// A browser's own bars leave 640 px of a small phone: every way is whole below a drawing to read; while a size is typed the
/// frame is over 80 px high, 40 before.
#[test]
fn under_a_browsers_bars_all_is_in_sight() {
    for (width, height) in [(320, 640), (360, 640)] {
        let (browser, _site) = at("#/brace", width, height);
        for fragment in ["#/brace", "#/brace?form=as_built", "#/post_legs", "#/end_board"] {
            browser.run(&format!("location.hash = {fragment:?}"));
            browser.until(&format!("return location.hash === {fragment:?}"), fragment);
            browser.until(READY, "an answer");
            let (_, _, drawing) = visible(&browser, ".drawing");
            assert!(drawing >= 160.0, "{fragment}: {drawing} px");
            assert_eq!(browser.run(WHOLE), Value::from(""), "{width} by {height}: {fragment}");
        }
        browser.run("location.hash = '#/brace?form=single'");
        browser.until(
            "return document.querySelector('[data-test=form-single]').ariaPressed === 'true'",
            "one brace",
        );
        browser.tap("[data-field=opening_width]");
        browser.until(
            "const s = document.querySelector('.editing .drawing svg'); return s && Math.abs(s.viewBox.baseVal.height - s.getBoundingClientRect().height) < 2",
            "the drawing to follow",
        );
        let (_, _, frame) = visible(&browser, ".fig-frame");
        assert!(frame >= 80.0, "{frame} px at {width} by {height}");
        assert_eq!(browser.run(WHOLE), Value::from(""), "{width} by {height}, typing");
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

/// Ways of which a part is under the answer or out of sight.
const WHOLE: &str = "return [...document.querySelectorAll('.ways button')].filter(e => { const b = e.getBoundingClientRect(); \
    return [b.top + 2, b.bottom - 2].some(y => !e.contains(document.elementFromPoint(b.left + b.width / 2, y))); }).map(e => e.textContent).join()";

/// A phone lying down has the ways beside the drawing, whole, and the words to scroll to.
#[test]
fn a_phone_lying_down_has_the_ways_beside_the_drawing() {
    let (browser, _site) = at("#/brace", 844, 390);
    assert_eq!(browser.run(WHOLE), Value::from(""));
    let beside = browser.run(
        "const d = document.querySelector('.drawing').getBoundingClientRect(), w = document.querySelector('.ways').getBoundingClientRect(), s = document.querySelector('.strip').getBoundingClientRect(); \
         return w.left >= d.right - 1 && s.left >= d.right - 1 && w.bottom <= s.top + 1 && d.bottom >= innerHeight - 1",
    );
    assert_eq!(beside, Value::Bool(true));
    browser.run("const w = document.querySelector('.work'); w.scrollTop = w.scrollHeight");
    let (_, _, words) = visible(&browser, "[data-test=fields]");
    assert!(words >= 47.0, "{words} px of the way to the words");
}

/// With letters twice as large, as a style or as the reader's own size, every key of the keypad can be scrolled to, and no
/// word runs out of its key.
#[test]
fn letters_twice_as_large_keep_every_key_in_reach() {
    for (width, height) in [(320, 640), (360, 640), (390, 844), (844, 390)] {
        let (browser, _site) = at("#/brace", width, height);
        for own in [false, true] {
            if own {
                browser.run("document.documentElement.style.fontSize = ''");
                browser.devtools(
                    "Page.setFontSizes",
                    serde_json::json!({"fontSizes": {"standard": 32, "fixed": 26}}),
                );
            } else {
                browser.run("document.documentElement.style.fontSize = '200%'");
            }
            browser.run("document.querySelector('[data-field=opening_width]').dispatchEvent(new MouseEvent('click', {bubbles: true}))");
            browser.until("return document.querySelector('.keypad') !== null", "the keypad");
            browser.settle();
            let lost = browser.run(
                "const out = []; for (const k of document.querySelectorAll('.edit input, .keypad button')) { \
                   k.scrollIntoView({block: 'nearest'}); const b = k.getBoundingClientRect(); \
                   const seen = [b.top + 3, b.bottom - 3].every(y => document.elementFromPoint(b.left + b.width / 2, y) === k); \
                   if (!seen || k.tagName === 'BUTTON' && (k.scrollWidth > k.clientWidth + 1 || k.scrollHeight > k.clientHeight + 1)) out.push(k.textContent || 'field'); \
                 } return out.join(' ')",
            );
            assert_eq!(lost, Value::from(""), "{width} by {height}, the reader's own: {own}");
            browser.run("document.querySelector('[data-key=done]').click()");
            browser.until("return document.querySelector('.keypad') === null", "the keypad to go");
        }
    }
}

/// Figures of the drawing that touch or can be read as one, and figures outside of it, by their boxes on the screen: side by
/// side they are a third of their height apart.
const COLLIDING: &str = "const out = [], svg = document.querySelector('.drawing svg'), f = svg.getBoundingClientRect(); \
    const all = [...svg.querySelectorAll('text.fig-given, text.fig-computed')].map(t => [t.textContent, t.getBoundingClientRect()]); \
    all.forEach(([n, a], i) => { \
      if (a.left < f.left - 1 || a.right > f.right + 1) out.push(`${n} runs out`); \
      for (const [m, b] of all.slice(i + 1)) { \
        const apart = Math.max(a.left, b.left) - Math.min(a.right, b.right), level = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top); \
        if (level > 4 && apart < Math.min(a.height, b.height) / 3) out.push(`${n} at ${m}: ${apart} px`); \
      } }); \
    return out.join();";

/// No size of any form touches another, on small phones, upright and lying, looked at and typed.
#[test]
fn no_figure_touches_another_on_a_small_screen() {
    let (browser, _site) = at("#/brace", 360, 640);
    let mut found = Vec::new();
    let mut look = |what: String| {
        browser.settle();
        let said = browser.run(COLLIDING);
        if said != "" {
            found.push(format!("{what}: {said}"));
        }
    };
    let legs = "#/post_legs?form=leg_length&post_width=3%201/2&footprint=20&leg_depth=1%201/2&long_point_length=9%205/8";
    let forms = layouts::all().iter().filter(|l| l.has_screen());
    let forms = forms.flat_map(|l| l.forms().iter().map(|f| format!("#/{}?form={}", l.id(), f.id)));
    for fragment in forms.chain([legs.to_owned()]) {
        browser.run(&format!("location.hash = {fragment:?}"));
        browser.until(&format!("return location.hash === {fragment:?}"), &fragment);
        browser.until(READY, "an answer");
        for (width, height) in [(320, 640), (360, 640), (844, 390)] {
            browser.screen(width, height);
            look(format!("{fragment} at {width} by {height}"));
            let typed = browser.run(
                "const s = document.querySelector('[data-field]'); s?.dispatchEvent(new MouseEvent('click', {bubbles: true})); return s !== null",
            );
            if typed == Value::Bool(true) {
                browser.until("return document.querySelector('.keypad') !== null", "the keypad");
                look(format!("{fragment} at {width} by {height}, typing"));
                browser.tap("[data-key=done]");
            }
        }
    }
    assert!(found.is_empty(), "{} collisions\n{}", found.len(), found.join("\n"));
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
