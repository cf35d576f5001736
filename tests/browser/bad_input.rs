//! Sizes that cannot be: each gets its sentence on the screen, the last answer stays and is marked old.

use crate::device::until_kept;
use crate::driver::Browser;
use crate::site::Site;
use crate::{dist, visit};
use serde_json::Value;

/// A layout with good sizes, one of them made bad, and what the sentence has to say.
const IMPOSSIBLE: [(&str, &str, &str, &str); 6] = [
    (
        "#/brace?opening_width=24&opening_height=36&strip_width=2&ends=rails",
        "strip_width",
        "30",
        "narrower than 24 in",
    ),
    (
        "#/post_legs?form=leg_length&post_width=3+1/2&footprint=17+1/2&leg_depth=1+1/2&foot=floor&long_point_length=10",
        "footprint",
        "3",
        "more than the post is wide",
    ),
    (
        "#/post_legs?form=leg_length&post_width=3+1/2&footprint=17+1/2&leg_depth=1+1/2&foot=floor&long_point_length=10",
        "long_point_length",
        "5",
        "needs at least 7",
    ),
    (
        "#/end_board?base_width=12&top_width=8&height=9&shoulder_height=3",
        "shoulder_height",
        "12",
        "below the top",
    ),
    (
        "#/brace?form=as_built&bottom=30&right=44&top=30&left=44&diagonal_up=53&strip_width=2",
        "diagonal_up",
        "80",
        "shorter than 74 in",
    ),
    (
        "#/brace?form=as_built&bottom=30&right=44&top=30&left=44&diagonal_up=53&strip_width=2",
        "diagonal_up",
        "10",
        "longer than 14 in",
    ),
];

/// As if typed, in one go: what stands in between is no case of its own.
fn put(browser: &Browser, field: &str, text: &str) {
    // The words follow the answer.
    browser.until(
        &format!("return document.querySelector('[data-test=field-{field}]') !== null"),
        field,
    );
    browser.run(&format!(
        "document.querySelector('details.more').open = true; \
         const e = document.querySelector('[data-test=field-{field}]'); e.value = {text:?}; \
         e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
    ));
}

fn old(browser: &Browser, is: bool, what: &str) {
    browser.until(&format!("return (document.querySelector('.old-mark') !== null) === {is}"), what);
}

#[test]
fn an_impossible_piece_keeps_the_old_answer_and_says_the_limit() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    for (link, field, bad, said) in IMPOSSIBLE {
        browser.go("about:blank");
        browser.go(&format!("{}{link}", site.address));
        browser.until("return document.querySelector('[data-test=setting]') !== null", link);
        old(&browser, false, link);
        let before = browser.text("[data-test=setting]");
        put(&browser, field, bad);
        old(&browser, true, &format!("{link}: {bad}"));
        let sentence = browser.text(&format!("#said-{field}")).replace('\u{2009}', " ");
        assert!(sentence.contains(said), "{field} {bad}: {sentence}");
        assert_eq!(browser.text("[data-test=setting]"), before, "{field} {bad}");
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_text_that_is_no_length_is_told_beside_its_field() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!(
        "{}#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        site.address
    ));
    browser.until("return document.querySelector('[data-test=setting]') !== null", "an answer");
    let before = browser.text("[data-test=setting]");
    for bad in ["", "abc", "1/0", "3/", "-4", "0", "1e308", "1e-400", "NaN", "٣"] {
        put(&browser, "opening_width", bad);
        old(&browser, true, bad);
        let sentence = browser.text("#said-opening_width");
        assert!(sentence.len() > 10, "{bad}: {sentence}");
        assert_eq!(browser.text("[data-test=setting]"), before, "{bad}");
        let invalid = browser.run(
            "return document.querySelector('[data-test=field-opening_width]').getAttribute('aria-invalid')",
        );
        assert_eq!(invalid, Value::from("true"), "{bad}");
        put(&browser, "opening_width", "30");
        old(&browser, false, "a good text");
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A leg 10 in long that rises 9 in lands √(10² − 9²) = 4.3589 in out: round a post 3 1/2 in wide
/// that is a footprint of 12.2178 in, not 17 1/2.
#[test]
fn sizes_that_contradict_each_other_offer_each_in_turn() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}{}", site.address, IMPOSSIBLE[1].0));
    browser.until("return document.querySelector('[data-test=setting]') !== null", "an answer");
    put(&browser, "rise_to_joint_top", "9");
    browser.until(
        "return document.querySelectorAll('[data-test=mend]').length >= 3",
        "each size to be offered",
    );
    browser.run(
        "[...document.querySelectorAll('[data-test=mend]')].find(b => b.textContent.startsWith('Footprint')).click()",
    );
    browser
        .until("return document.querySelector('.wrong, .old-mark') === null", "the sizes to agree");
    let footprint =
        browser.run("return document.querySelector('[data-test=field-footprint]').value");
    assert!(footprint.as_str().expect("text").starts_with("12.2178"), "{footprint}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Ends in a trap where nobody catches it, as a panic of the app would: a module whose one function is `unreachable`.
const TRAP: &str =
    "const bytes = [0,97,115,109,1,0,0,0,1,4,1,96,0,0,3,2,1,0,7,5,1,1,116,0,0,10,5,1,3,0,0,11];
    const trap = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes))).exports.t;
    setTimeout(trap); Promise.resolve().then(trap);";

/// Should the app itself fail, it says so once and gives a way out; another script's error is none of its own.
#[test]
fn a_panic_is_told_plainly() {
    const TOLD: &str = "return document.querySelectorAll('#broken').length";
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.run("location.hash = '#/parts'");
    browser.until("return document.querySelector('[data-test=add-part]') !== null", "the list");
    browser.tap("[data-test=add-part]");
    until_kept(&browser, "file.bench.work.parts.length === 1");
    browser.run("setTimeout(() => { throw new Error('not the app') })");
    browser.wait_for("await new Promise(r => setTimeout(r, 200))", &[]);
    assert_eq!(browser.run(TOLD), Value::from(0));
    browser.run(TRAP);
    browser.until(&format!("{TOLD} > 0"), "the banner");
    assert_eq!(browser.run(TOLD), Value::from(1));
    browser.until(
        "return document.querySelector('#broken').textContent.includes('What you typed is kept')",
        "what is kept to be found",
    );
    browser.run("document.querySelector('#broken button').click()");
    browser.until(&format!("{TOLD} === 0"), "the page anew");
}

/// A bar of 100 mm that measures 4 was measured in inches, a kerf of 400 is no kerf: said with the limits, and not kept.
#[test]
fn settings_out_of_range_are_told_with_their_limits() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/shop", site.address));
    browser.until("return document.querySelector('#bar-across') !== null", "the shop");
    for (id, bad, said) in [
        ("bar-across", "4", "From 80 mm to 125 mm."),
        ("bar-along", "130", "From 80 mm to 125 mm."),
        ("kerf", "400", "More than 0, at most 1 in."),
        ("kerf", "0", "More than 0, at most 1 in."),
    ] {
        browser.run(&format!(
            "const e = document.querySelector('#{id}'); e.value = {bad:?}; e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
        ));
        browser.until(
            &format!(
                "return document.querySelector('#{id}').getAttribute('aria-invalid') === 'true'"
            ),
            bad,
        );
        assert_eq!(browser.text(&format!("#{id}-wrong")), said, "{id}: {bad}");
    }
    // Nothing of it was kept: there is nothing to undo.
    assert_eq!(
        browser.run("return document.querySelector('[aria-label=Undo]').disabled"),
        Value::Bool(true)
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
