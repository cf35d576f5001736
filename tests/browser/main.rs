//! The built app in a real, phone-sized Chromium: first answer, really offline, the same bits.

mod access;
mod bad_input;
mod before;
mod clumsy;
mod device;
mod gauge;
mod hands;
#[path = "../boards/jobs.rs"]
#[allow(dead_code)]
mod jobs;
mod keeping;
mod kept;
mod late;
mod others;
mod parity;
mod parts;
mod pieces;
mod places;
mod planner;
mod price;
mod print;
mod room;
mod saw;
mod screens;
#[cfg(feature = "firefox")]
mod second;
mod sharing;
mod update;
mod whole;
mod yard;

use offsquare_tests::driver::{self, Browser};
use offsquare_tests::site::{self, Files, Site};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn dist() -> Files {
    site::read(&root().join("dist"))
}

/// The app's files, and in `door/` the doors for scripts, built from the sources as they are.
fn with_door() -> Files {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let built = Command::new(cargo)
        .args(["run", "--quiet", "--locked", "--package", "xtask", "--", "door"])
        .current_dir(root())
        .status();
    assert!(built.is_ok_and(|status| status.success()), "cargo xtask door");
    let target = std::env::var("CARGO_TARGET_DIR").unwrap_or_else(|_| "target".into());
    let door = site::read(&root().join(target).join("door"));
    let named = door.into_iter().map(|(name, bytes)| (format!("door/{name}"), bytes));
    dist().into_iter().chain(named).collect()
}

const STARTED: &str = "return document.documentElement.dataset.started !== undefined";
const STORED: &str = "return document.documentElement.dataset.offlineReady !== undefined";

/// Loads the app and waits until every file is stored on the device.
fn visit(browser: &Browser, site: &Site) {
    browser.go(&site.address);
    browser.until(STARTED, "the app to start");
    browser.until(STORED, "the app to be stored");
}

/// LOOK: two taps and eight keys from the bench to every way's setting, with the server stopped for
/// real. 34.3 / 55.7 and 31.6 are the settings of the closed forms atan(30/44), atan(44/30) and
/// 90 − atan(44/30) − asin(2.5/√(30² + 44²)).
#[test]
fn first_answer_offline_in_two_taps_and_eight_keys() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "some/folder/");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start without a server");
    browser.tap("[data-test=ask-brace]");
    // The size stands where the question stood: a tap at once would be taken for that one's repetition.
    std::thread::sleep(std::time::Duration::from_millis(350));
    browser.tap("[data-field=opening_width]");
    for key in ["3", "0", "next", "4", "4", "next", "2", "add 1/2"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    browser.until(
        "return document.querySelector('[data-test=way-corner]').textContent.includes('34.3')",
        "the point in the corner at 34.3",
    );
    let corner = browser.text("[data-test=way-corner]");
    assert!(corner.contains("55.7"), "{corner}");
    let rails = browser.text("[data-test=way-rails]");
    assert!(rails.contains("31.6"), "{rails}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The offline test can fail: with one file left out of the worker's list the app does not start.
#[test]
fn a_file_left_out_of_the_store_is_noticed() {
    let browser = Browser::start();
    let mut files = dist();
    let worker = String::from_utf8(files["sw.js"].clone()).expect("text");
    let kept: Vec<&str> =
        worker.lines().filter(|l| !(l.contains("_bg-") && l.contains(".wasm"))).collect();
    assert!(kept.len() < worker.lines().count(), "the list names the wasm");
    files.insert("sw.js".into(), kept.join("\n").into_bytes());
    let site = Site::serve(files, "");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    std::thread::sleep(std::time::Duration::from_secs(2));
    assert_eq!(browser.run(STARTED), Value::Bool(false));
}

/// A real keyboard, a fraction, clumsy input: the sentence stands by the field, the old answer stays.
#[test]
fn clumsy_input_gets_a_sentence_and_keeps_the_old_answer() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!(
        "{}#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        site.address
    ));
    browser.tap("[data-test=way-rails]");
    browser.tap("[data-field=opening_width]");
    let before = browser.text("[data-test=setting]");
    for bad in ["1/0", "3/", "abc", "-4"] {
        // Pasted, so that no half of it is an answer of its own.
        browser.run(&format!(
            "const e = document.querySelector('[data-test=edit]'); e.value = {bad:?}; \
             e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
        ));
        browser.until(
            "return document.querySelector('.edit .wrong') !== null",
            "a sentence beside the field",
        );
        assert_eq!(browser.text("[data-test=setting]"), before, "{bad}");
        assert!(!browser.text(".old-mark").is_empty(), "{bad}: marked old");
        assert!(!browser.text("body").contains("NaN"), "{bad}");
    }
    browser.run("document.querySelector('[data-test=edit]').select()");
    browser.type_keys("30 1/2");
    browser.until("return document.querySelector('.old-mark') === null", "a new answer");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The PDF that the screen hands over is one: read back from the download's blob.
#[test]
fn a_template_leaves_as_a_pdf() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/brace", site.address));
    browser.tap("[data-test=paper]");
    browser.run(
        "window.taken = []; const make = URL.createObjectURL; \
         URL.createObjectURL = b => { window.taken.push(b); return make.call(URL, b); }; \
         Object.defineProperty(navigator, 'canShare', {value: undefined});",
    );
    // Both ends of the brace are alike: one figure, on the paper of the shop.
    assert_eq!(browser.text("[data-test=file-0]"), "All as PDF: US Letter, 1 page");
    browser.tap("[data-test=file-0]");
    browser.until("return window.taken.length === 1", "the file");
    let head = browser.wait_for(
        "const t = await window.taken[0].text(); return [t.slice(0, 5), t.includes('/PrintScaling /None')];",
        &[],
    );
    assert_eq!(head, json!(["%PDF-", true]));
}
