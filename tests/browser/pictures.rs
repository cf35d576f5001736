//! The pictures of `README.md`, taken of the built app: a question answered, its saw card, boards to buy.
//!
//! `cargo run -p offsquare-tests --features browser --example pictures`, after `cargo xtask build`.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use offsquare_tests::driver::Browser;
use offsquare_tests::site::{self, Site};
use serde_json::json;
use std::path::{Path, PathBuf};

/// No picture is larger, in bytes.
const MOST: usize = 60_000;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("browser/pictures")
}

fn take(browser: &Browser, name: &str) {
    // Fonts and pictures are there, and nothing moves anymore.
    browser.wait_for(
        "await document.fonts.ready; await Promise.all(document.getAnimations().map(a => a.finished.catch(() => 0))); \
         document.activeElement.blur(); \
         await new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r))); return 0;",
        &[],
    );
    let taken =
        browser.devtools("Page.captureScreenshot", json!({"format": "webp", "quality": 70}));
    let bytes = STANDARD.decode(taken["data"].as_str().expect("a picture")).expect("base64");
    let file = folder().join(format!("{name}.webp"));
    println!("{}: {} bytes", file.display(), bytes.len());
    assert!(bytes.len() <= MOST, "{name} is larger than {MOST} bytes");
    std::fs::write(&file, bytes).expect("written");
}

fn main() {
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("../dist");
    let browser = Browser::start();
    let site = Site::serve(site::read(&dist), "");
    browser.light("light");
    browser.devtools("Emulation.setScrollbarsHidden", json!({"hidden": true}));
    browser.go(&site.address);
    browser.until("return document.documentElement.dataset.started !== undefined", "the app");
    let at = |fragment: &str, there: &str| {
        browser.run(&format!("location.hash = {fragment:?};"));
        browser.until(&format!("return document.querySelector({there:?}) !== null"), fragment);
    };
    // A garden gate: crossed braces in a frame.
    at("#/brace?form=crossed", "[data-test=way-rails]");
    take(&browser, "gate");
    // A sundial stand: three legs that splay from its post.
    at("#/post_legs", "[data-test=strip]");
    browser.tap("[data-test=strip]");
    browser.until("return document.querySelector('.on-saw svg path') !== null", "the saw card");
    take(&browser, "card");
    browser.tap("#sheet-close");
    at("#/parts", "[data-test=example-0]");
    browser.tap("[data-test=example-0]");
    at("#/boards", "[data-test=board]");
    browser.until("return document.querySelector('[data-test=stop]') === null", "the plan");
    browser.run("document.querySelector('.stock').scrollIntoView()");
    take(&browser, "boards");
}
