//! What stands on the page before the app, without it, and the line it says once it is stored.

use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, STORED, dist, visit};
use serde_json::{Value, json};

/// Holds back the answer to the wasm, so that the page before the app can be looked at.
#[test]
fn the_page_is_itself_before_the_app_and_says_plainly_when_it_cannot_start() {
    let browser = Browser::start();
    let mut files = dist();
    files.retain(|name, _| !name.ends_with(".wasm"));
    let site = Site::serve(files, "");
    browser.go(&site.address);
    browser.until("return document.querySelector('[role=alert]') !== null", "a sentence");
    assert!(browser.text("h1").contains("Offsquare"));
    let said = browser.text("[role=alert]");
    assert!(said.contains("is not on its server"), "{said}");
    assert!(!browser.text("[data-test=ask-brace]").is_empty(), "the bench can be read");
    assert_eq!(browser.run(STARTED), Value::Bool(false));
}

#[test]
fn a_browser_without_wasm_or_scripts_is_told_what_is_missing() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "delete globalThis.WebAssembly;"}),
    );
    browser.go(&site.address);
    browser.until("return document.querySelector('[role=alert]') !== null", "a sentence");
    assert!(browser.text("[role=alert]").contains("WebAssembly"));
    drop(browser);

    let browser = Browser::start();
    browser.devtools("Emulation.setScriptExecutionDisabled", json!({"value": true}));
    browser.go(&site.address);
    let seen = browser.seen("body");
    assert!(seen.contains("needs JavaScript"), "{seen}");
    assert!(seen.contains("Offsquare"), "{seen}");
    assert!(!seen.contains("Starting"), "{seen}");
}

/// "Works offline now" stands on the bench in the first visit and in no later one.
#[test]
fn it_says_once_that_it_works_offline() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "a/b/");
    visit(&browser, &site);
    assert!(browser.seen(".masthead").contains("Works offline now"));
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start");
    browser.until(STORED, "the app to be stored");
    assert!(!browser.seen(".masthead").contains("Works offline now"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
