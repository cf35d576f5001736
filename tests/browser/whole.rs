//! Whole pieces by touch: one is started, sized on its drawing, turned, taken apart and added; offline.

use crate::{STARTED, dist, visit};
use offsquare_cuts::layouts::{Detail, Layout};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use offsquare_units::{Length, Style, Unit, print_length};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, to_link};

const DRAWN: &str = "return document.querySelector('.whole [data-field=overall_height]') !== null";

/// The stand of that overall height as it is solved natively: its parts' names, counts and lengths.
fn stand(overall: f64) -> Vec<(String, u32, String)> {
    let pattern = patterns::find("post_stand").expect("a stand");
    let mut inputs = pattern.forms[0].start_inputs(false);
    inputs.set("overall_height", offsquare_cuts::inputs::Value::Length(Length(overall)));
    let solution = pattern.solve(&inputs, Detail::Full).solutions.remove(0);
    let length = |l| print_length(l, &Style::default()).to_string();
    let parts = solution.parts.iter();
    parts.map(|p| (p.name.to_string(), p.count, length(p.length))).collect()
}

fn type_height(browser: &Browser, digits: [&str; 2]) {
    browser.tap("[data-field=overall_height]");
    for digit in digits {
        browser.tap(&format!("[data-key='{digit}']"));
    }
    browser.tap("[data-key='done']");
    let said = format!("Overall height: {}", digits.concat());
    browser.until(
        &format!("return document.querySelector('[data-field=overall_height]')?.ariaLabel.startsWith({said:?})"),
        "the size on the drawing",
    );
}

/// Where the middle of an element is, and a drag to the right from there by so many px, as a finger does it.
fn drag(browser: &Browser, by: i32) {
    browser.run(&format!(
        "const d = document.querySelector('.whole .drawing'); const r = d.getBoundingClientRect(); \
         const at = (type, x) => d.querySelector('svg').dispatchEvent(new PointerEvent(type, {{bubbles: true, pointerId: 7, \
             buttons: type === 'pointerup' ? 0 : 1, clientX: r.left + r.width / 2 + x, clientY: r.top + r.height / 2}})); \
         at('pointerdown', 0); at('pointermove', {by} / 2); at('pointermove', {by}); at('pointerup', {by});"
    ));
}

#[test]
fn a_piece_is_started_sized_turned_and_added_with_the_server_stopped() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "some/folder/");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start without a server");
    let drawn = format!(
        "return document.querySelectorAll('.pieces svg path').length >= {}",
        patterns::all().len()
    );
    browser.until(&drawn, "a small drawing of every pattern");
    browser.tap("[data-test=ask-post_stand]");
    browser.until(DRAWN, "the stand");
    assert_eq!(browser.text("[data-test=solid-words]"), "seen from the front right, above");
    type_height(&browser, ["4", "0"]);

    // 100 px at 0.6 degrees each to the left of 35: 335 degrees, the front left's nearest eighth is the front.
    drag(&browser, 100);
    browser.until(
        "return document.querySelector('[data-test=solid-words]').textContent === 'seen from the front left, above'",
        "the piece turned by a finger",
    );
    browser.tap("[data-test=solid-first]");
    browser.tap("[data-test=apart]");
    browser.until(
        "return document.querySelector('[data-field=overall_height]') === null",
        "sizes put away",
    );
    assert!(browser.text(".whole svg").contains("Leg × 3"), "{}", browser.text(".whole svg"));
    browser.tap("[data-test=apart]");
    browser.until(DRAWN, "sizes again");

    // A tap in the middle of the drawing, where the post stands.
    browser.tap(".whole .drawing");
    browser.until(
        "return document.querySelector('[role=dialog] .steps-head')?.textContent.includes('Post:')",
        "the post's cuts",
    );
    browser.run("history.back()");
    browser.until("return document.querySelector('[role=dialog]') === null", "the drawing");

    // Its first size typed has made it a piece of the maker's.
    browser.tap("[data-test=face-parts]");
    let list = "[data-test=parts]";
    let holds = |overall: f64| {
        browser.until("return document.querySelector('[data-test=parts]') !== null", "the list");
        let squeezed = |text: &str| text.split_whitespace().collect::<String>();
        let text = squeezed(&browser.text(list));
        let parts = stand(overall);
        assert_eq!(parts.len(), 2);
        for (name, count, length) in parts {
            let row = squeezed(&format!("{count} × {name} {length}"));
            assert!(text.contains(&row), "{row}: {text}");
        }
    };
    holds(40.0);
    // The parts follow; and the list is whole after the app has started anew, before the patterns have come.
    browser.run("history.back()");
    browser.until(DRAWN, "the stand");
    type_height(&browser, ["4", "4"]);
    browser.go("about:blank");
    browser.go(&format!("{}#/piece/1/parts", site.address));
    holds(44.0);
    assert!(!browser.text("main").contains("no longer"), "{}", browser.text("main"));
    // Sizes that an address brings wait for their pattern.
    browser.go("about:blank");
    let pattern = patterns::asked("post_stand").expect("a stand");
    let mut draft = Draft::fresh(pattern, &pattern.forms()[0], Unit::Inch);
    draft.set("overall_height", "41", Unit::Inch);
    browser.go(&format!("{}{}", site.address, to_link(&draft)));
    browser.until(
        "return document.querySelector('[data-field=overall_height]')?.ariaLabel.startsWith('Overall height: 41')",
        "the address's size",
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
