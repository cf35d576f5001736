//! The planner's own wasm: the same messages as natively; late, missing, of another version, or without a worker to
//! run it in.

use crate::jobs;
use crate::{STARTED, dist, root};
use offsquare_planner::guillotine::{self, BoardKind, CutKind, PartKind};
use offsquare_planner::message::{Ask, Asked, Message};
use offsquare_planner::{Instance, Request};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::{Files, Site};
use offsquare_units::kept::Kept;
use serde_json::{Value, json};

/// A name of the build that begins so.
fn name(files: &Files, begins: &str, ends: &str) -> String {
    let found = files.keys().find(|n| n.starts_with(begins) && n.ends_with(ends));
    found.unwrap_or_else(|| panic!("{begins}*{ends}")).clone()
}

/// The built app with this as the planner's glue; its wasm is left out.
fn with_planner(glue: &str) -> Files {
    let mut files = dist();
    files.remove(&name(&files, "planner_bg-", ".wasm"));
    if !glue.is_empty() {
        files.insert(name(&files, "planner-", ".js"), glue.into());
    }
    files
}

/// A sheet's worth of parts, on the screen of boards.
fn open_boards(browser: &Browser, site: &Site) {
    browser.go(&format!("{}#/parts", site.address));
    browser.until(STARTED, "the app to start");
    browser.tap("[data-test=example-3]");
    browser.tap("[data-test=to-boards]");
}

const PLANNED: &str = "return document.querySelector('[data-test=board] svg') !== null \
    && document.querySelector('[data-test=try-planner]') === null";

/// The trouble is said on the boards, all else answers; once the whole build is there a tap helps.
fn said_and_tried_again(browser: &Browser, site: &Site, words: &str) {
    browser.until(
        "return document.querySelector('[data-test=try-planner]') !== null",
        "a sentence about the planner",
    );
    let said = browser.text("main");
    assert!(said.contains(words), "{said}");
    browser.run("location.hash = '#/brace?opening_width=30&opening_height=44&strip_width=2.5'");
    browser.until(
        // 34.3 = atan(30/44).
        "return document.querySelector('[data-test=way-corner]')?.textContent.includes('34.3') === true",
        "the brace's answer",
    );
    browser.run("location.hash = '#/boards'");
    browser.until(
        "return document.querySelector('[data-test=try-planner]') !== null",
        "the sentence, still",
    );
    site.replace(dist());
    browser.tap("[data-test=try-planner]");
    browser.until(PLANNED, "the sheet planned after another try");
}

#[test]
fn a_planner_that_is_missing_or_of_another_version_is_said_and_tried_again() {
    // Neither reads the request; the second says what no page understands.
    let deaf = "export default async () => {}; export const ask = () => false; export const step = () => {};";
    let strange = "export default async () => {}; export const ask = () => true; \
                   export const step = () => [{id: 1, about: {about: 'weather'}}];";
    let dies = "export default async () => {}; export const ask = () => true; \
                export const step = () => { throw new WebAssembly.RuntimeError('unreachable'); };";
    for (glue, words) in [
        ("", "could not be loaded"),
        (deaf, "of another version"),
        (strange, "of another version"),
        (dies, "ended with an error"),
    ] {
        let browser = Browser::start();
        let site = Site::serve(with_planner(glue), "");
        open_boards(&browser, &site);
        said_and_tried_again(&browser, &site, words);
        assert_eq!(browser.run("return document.querySelector('#broken')"), Value::Null, "{words}");
    }
}

/// What comes late is waited for, and need not be: a tap asks anew.
#[test]
fn a_planner_that_is_late_is_said_and_tried_again() {
    let browser = Browser::start();
    let site = Site::serve(with_planner("export default () => new Promise(() => {});"), "");
    open_boards(&browser, &site);
    said_and_tried_again(&browser, &site, "still being loaded");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Workers forbidden by the page's policy, or unknown to the browser: the page plans by itself, in small steps, and
/// what is missing there is tried again too.
#[test]
fn where_no_worker_starts_the_page_plans() {
    let none = |mut files: Files| {
        let page = String::from_utf8(files["index.html"].clone()).expect("text");
        let policy = page.replace("default-src 'self';", "default-src 'self'; worker-src 'none';");
        assert_ne!(page, policy);
        files.insert("index.html".into(), policy.into_bytes());
        files
    };
    let browser = Browser::start();
    let site = Site::serve(none(dist()), "");
    open_boards(&browser, &site);
    browser.until(PLANNED, "the sheet planned on the page");

    let browser = Browser::start();
    let site = Site::serve(none(with_planner("")), "");
    open_boards(&browser, &site);
    said_and_tried_again(&browser, &site, "could not be loaded");

    let browser = Browser::start();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "delete globalThis.Worker;"}),
    );
    let site = Site::serve(dist(), "");
    open_boards(&browser, &site);
    browser.until(PLANNED, "the sheet planned on the page");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The search is no part of the app's own wasm: its sentences are not in it, and are in the planner's.
#[test]
fn the_app_has_no_search_of_its_own() {
    let files = dist();
    let holds = |begins: &str, words: &str| {
        let wasm = &files[&name(&files, begins, ".wasm")];
        wasm.windows(words.len()).any(|w| w == words.as_bytes())
    };
    for words in ["There are no boards to cut from.", "There are not enough boards for all parts."]
    {
        let source =
            std::fs::read_to_string(root().join("src/planner/planner.rs")).expect("source");
        assert!(source.contains(words), "{words}");
        assert!(holds("planner_bg-", words), "{words}");
        assert!(!holds("offsquare_bg-", words), "{words}");
    }
}

fn asked<I: Clone>(job: &I, parts: usize) -> Asked<I> {
    let give = |l, w| vec![(l, w); parts];
    Asked { rest: job.clone(), shorter: give(0.125, 0.0), narrower: give(0.0, 0.125) }
}

/// Every message of a whole request, its curve and what nearly fits included.
#[test]
fn the_planner_says_the_same_in_wasm_and_natively() {
    let browser = Browser::start();
    let files = dist();
    let glue = json!(format!("./{}", name(&files, "planner-", ".js")));
    let site = Site::serve(files, "");
    browser.go(&site.address);
    let part = |n: usize, qty, length, width| PartKind::free(&n.to_string(), qty, length, width);
    let sheets = guillotine::Instance {
        boards: vec![BoardKind::unlimited("ply", 96.0, 48.0, 62.0)],
        parts: vec![part(0, 5, 31.3, 17.9), part(1, 4, 22.7, 11.1), part(2, 3, 47.95, 23.9)],
        ..guillotine::Instance::bare(CutKind::Sheets, 0.125, 0.25)
    };
    let mut boards = 0;
    for seed in 0..8 {
        let sticks: Vec<Instance> = vec![jobs::shop(seed).1];
        let ask = Ask {
            id: 7,
            curve: 2,
            sticks: sticks.iter().map(|job| asked(job, job.parts.len())).collect(),
            rectangles: if seed == 0 { vec![asked(&sheets, 3)] } else { Vec::new() },
            one_sticks: sticks.clone(),
            one_rectangles: if seed == 0 { vec![sheets.clone()] } else { Vec::new() },
        };
        let mut native = Vec::new();
        let mut run = Request::new(ask.clone());
        while !run.is_done() {
            native.extend(run.step(20_000_000));
        }
        let wasm = browser.wait_for(
            "const planner = await import(args[0]); await planner.default(); \
             if (!planner.ask(args[1])) return 'unread'; const all = []; \
             for (let said; (said = planner.step(20_000_000)) !== undefined;) all.push(...said); return all;",
            &[glue.clone(), ask.keep()],
        );
        let wasm: Vec<Message> =
            wasm.as_array().into_iter().flatten().filter_map(Message::restore).collect();
        assert_eq!(wasm, native, "seed {seed}");
        boards += native.iter().filter(|m| m.keep().to_string().contains("\"boards\":[{")).count();
    }
    assert!(boards > 8, "{boards}");
}
