//! Every page on paper: nothing cut off at its edge, nothing folded, nothing to tap.

use crate::{STARTED, dist};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use serde_json::{Value, json};

/// US Letter and A4 (ISO 216) in inches.
const PAPERS: [(&str, f64, f64); 2] = [("Letter", 8.5, 11.0), ("A4", 8.268, 11.693)];

/// What runs over the paper's right edge, what can be tapped, what is folded; and how many lines of orders of cuts stand
/// there, how many boards and how many rows of buttons. Called with the page as wide as the paper between its margins.
const LOOK: &str = "
    dispatchEvent(new Event('beforeprint'));
    await null;
    await new Promise(r => setTimeout(r, 0));
    const seen = e => e.checkVisibility() && e.getBoundingClientRect().width > 1;
    const all = [...document.querySelectorAll('body *')].filter(seen);
    const name = e => `${e.tagName} ${e.getAttribute('class')} ${e.dataset.test ?? ''}`;
    const inside = e => e.closest('svg') && e.tagName !== 'svg';
    const over = all.filter(e => !inside(e) && e.getBoundingClientRect().right > innerWidth + 1).map(name);
    const taps = all.filter(e => e.matches('.keypad, .edit, .places, .planning, .actions, .top button, .top a, [data-test=keep], input[type=range]')).map(name);
    const folded = [...document.querySelectorAll('details')].filter(d => !d.open).map(name);
    const count = s => all.filter(e => e.matches(s)).length;
    const found = {over, taps, folded, wide: document.documentElement.scrollWidth - innerWidth,
        cuts: count('.cuts li'), boards: count('.board-rows svg'), orders: count('[data-test=order]'), words: document.body.innerText.length,
        ground: getComputedStyle(document.body).backgroundColor, color: getComputedStyle(document.body).color};
    dispatchEvent(new Event('afterprint'));
    found.unfolded = document.querySelectorAll('[data-unfolded]').length;
    return found;
";

/// What the place *Price* has, unfolded.
const PRICED: [&str; 10] = [
    "Batch",
    "What I want of it",
    "The work",
    "Hardware, by the pack",
    "Finish, by the can",
    "My usual figures",
    "For this piece only",
    "What others ask",
    "Tried",
    "My shelf",
];

struct Printer<'a> {
    browser: &'a Browser,
    printed: usize,
}

impl Printer<'_> {
    /// Both papers; gives what was seen on Letter, and the words of the file.
    fn print(&mut self, page: &str) -> (Value, String) {
        let mut first = (Value::Null, String::new());
        for (paper, width, height) in PAPERS {
            let at = format!("{page} on {paper}");
            // First, so that what it unfolds is unfolded by the browser's own event.
            let file = self.browser.devtools(
                "Page.printToPDF",
                json!({"paperWidth": width, "paperHeight": height, "preferCSSPageSize": true, "printBackground": true}),
            );
            let bytes = STANDARD.decode(file["data"].as_str().expect("a file")).expect("base64");
            let file = lopdf::Document::load_mem(&bytes).expect("a PDF");
            assert!(!file.get_pages().is_empty() && file.get_pages().len() < 12, "{at}");
            // An inch of CSS is 96 px; the margins are half an inch each.
            let px = ((width - 1.0) * 96.0).floor();
            self.browser.devtools("Emulation.setEmulatedMedia", json!({"media": "print", "features": [{"name": "prefers-color-scheme", "value": "dark"}]}));
            self.browser.devtools(
                "Emulation.setDeviceMetricsOverride",
                json!({"width": px, "height": 960, "deviceScaleFactor": 1, "mobile": false}),
            );
            let seen = self.browser.wait_for(LOOK, &[]);
            for what in ["over", "taps", "folded"] {
                assert_eq!(seen[what], json!([]), "{at}: {what}");
            }
            assert!(seen["wide"].as_f64().is_some_and(|w| w <= 0.0), "{at}: {seen}");
            assert!(seen["words"].as_u64().is_some_and(|n| n > 60), "{at}: {seen}");
            // Ink is dear: dark on white, whatever the screen wears.
            assert_eq!(seen["ground"], json!("rgb(255, 255, 255)"), "{at}");
            assert_eq!(seen["color"], json!("rgb(29, 34, 38)"), "{at}");
            assert_eq!(seen["unfolded"], json!(0), "{at}: folded again");
            self.browser.devtools("Emulation.setEmulatedMedia", json!({"media": ""}));
            self.printed += 1;
            if first.0.is_null() {
                let all: Vec<u32> = file.get_pages().into_keys().collect();
                first = (seen, file.extract_text(&all).unwrap_or_default());
            }
        }
        self.browser.screen(360, 740);
        first
    }

    fn at(&self, fragment: &str, there: &str) {
        self.browser.run(&format!("location.hash = {fragment:?};"));
        self.browser.until(&format!("return document.querySelector({there:?}) !== null"), fragment);
    }
}

#[test]
fn every_page_prints_whole() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start");
    let mut printer = Printer { browser: &browser, printed: 0 };
    printer.print("bench");
    for id in ["brace", "post_legs", "marks", "sloped_box"] {
        printer.at(&format!("#/{id}"), "[data-test=strip]");
        printer.print(id);
    }
    browser.tap("[data-test=strip]");
    browser.until("return document.querySelector('[role=dialog]') !== null", "the saw card");
    printer.print("card");
    browser.tap("#sheet-close");
    // A size that is being typed: the keypad is no part of the page.
    printer.at("#/brace", "[data-field=opening_width]");
    browser.tap("[data-field=opening_width]");
    browser.until("return document.querySelector('.keypad') !== null", "the keypad");
    printer.print("editing");
    browser.tap("[data-key=done]");
    for (n, example, step) in
        [("0", "sticks", "Stop block at "), ("3", "sheets", "The whole sheet: rip at ")]
    {
        printer.at("#/parts", &format!("[data-test=example-{n}]"));
        browser.tap(&format!("[data-test=example-{n}]"));
        browser.until("return document.querySelector('[data-test=part]') !== null", "its parts");
        printer.print(&format!("parts, {example}"));
        printer.at("#/boards", "[data-test=board]");
        browser.until("return document.querySelector('[data-test=stop]') === null", "the plan");
        let (seen, words) = printer.print(&format!("boards, {example}"));
        let count = |what: &str| seen[what].as_u64().expect("a count");
        assert!(count("boards") > 0 && count("orders") > 0, "{seen}");
        assert!(count("cuts") > count("orders"), "an order of cuts has lines: {seen}");
        // So they stand in the file itself.
        assert!(words.contains(step), "{words}");
        printer.at("#/price", "[data-test=missing]");
        let (_, words) = printer.print(&format!("price, {example}"));
        // Every section stands in the file, with what is folded on the screen.
        for section in PRICED {
            assert!(words.contains(section), "{section}: {words}");
        }
        printer.at("#/parts", "[data-test=undo]");
        browser.tap("[data-test=undo]");
        browser.until("return document.querySelector('[data-test=part]') === null", "no parts");
    }
    printer.at("#/rack", "[data-test=add-stock]");
    printer.print("rack");
    printer.at("#/shop", ".shop");
    printer.print("shop");
    assert_eq!(printer.printed, 2 * 15);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
