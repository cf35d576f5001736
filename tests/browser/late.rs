//! What comes after the first answer: offline, missing, late, of another build; a store that was emptied, a deployment that
//! is half done.

use crate::device::{TYPED, kept, until_kept};
use crate::driver::Browser;
use crate::site::{Files, Site};
use crate::update::second_build;
use crate::{STARTED, STORED, dist, visit};
use serde_json::{Value, json};
use std::time::Duration;

const WORK: &str = "split_work-";
const MORE: &str = "split_more-";
pub const MISSING: &str = "return document.querySelector('[data-test=missing]') !== null";
const CARD: &str = "return document.body.textContent.includes('All figures')";

/// The name of the one file that starts so.
fn named(files: &Files, start: &str) -> String {
    let found: Vec<&String> = files.keys().filter(|n| n.starts_with(start)).collect();
    assert_eq!(found.len(), 1, "{start}: {found:?}");
    found[0].clone()
}

pub fn without(start: &str) -> Files {
    let mut files = dist();
    files.remove(&named(&files, start));
    files
}

/// A list and its boards, the rack and the shop.
fn use_the_work(browser: &Browser, site: &Site) {
    browser.go(&format!("{}#/parts", site.address));
    browser.tap("[data-test=example-0]");
    browser.tap("[data-test=to-boards]");
    browser.until(
        "return document.querySelector('main svg') !== null",
        "boards with their cuts drawn",
    );
    browser.run("location.hash = '#/rack'");
    browser.until("return document.querySelector('h1')?.textContent === 'Rack'", "the rack");
    browser.run("location.hash = '#/shop'");
    browser.until("return document.querySelector('main.shop') !== null", "the shop");
}

/// Saw card, backwards, templates and the solid of a brace.
fn use_the_more(browser: &Browser, site: &Site) {
    browser.go(&format!("{}#/sloped_box", site.address));
    browser.until("return document.querySelector('[data-test=solid]') !== null", "the solid");
    browser.run("location.hash = '#/brace'");
    browser
        .until("return document.querySelector('[data-field=opening_width]') !== null", "a brace");
    browser.tap("[data-test=strip]");
    browser.until(CARD, "the saw card");
    browser.run("[...document.querySelectorAll('button')].find(b => b.textContent === 'Make it land on a mark').click()");
    browser.until(
        "return document.body.textContent.includes('Which size may give?')",
        "working backwards",
    );
    browser.run("history.back()");
    browser.until("return document.querySelector('[role=dialog]') === null", "the answer");
    browser.tap("[data-test=paper]");
    browser.until("return document.querySelector('[data-test=file-0]') !== null", "a template");
    browser.run("history.back()");
    browser.until("return document.querySelector('[role=dialog]') === null", "the answer");
}

#[test]
fn every_part_works_with_the_server_stopped() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "some/folder/");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start without a server");
    use_the_more(&browser, &site);
    use_the_work(&browser, &site);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// The test above can fail: a part that is not listed is not there without the server. Answers go on.
#[test]
fn a_part_left_out_of_the_store_is_said() {
    let browser = Browser::start();
    let mut files = dist();
    let worker = String::from_utf8(files["sw.js"].clone()).expect("text");
    let kept: Vec<&str> = worker.lines().filter(|l| !l.contains(MORE)).collect();
    assert_eq!(kept.len() + 1, worker.lines().count());
    files.insert("sw.js".into(), kept.join("\n").into_bytes());
    let site = Site::serve(files, "");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&format!("{}#/brace", site.address));
    browser.until(STARTED, "the app to start without a server");
    browser.tap("[data-test=strip]");
    browser.until(MISSING, "a sentence");
    assert!(!browser.text("[data-test=setting]").is_empty(), "the answer stands");
}

/// Nothing else is lost while a part cannot be had, and it comes by a tap or by itself.
#[test]
fn a_missing_part_is_said_and_tried_again_and_answers_go_on() {
    let browser = Browser::start();
    let site = Site::serve(without(MORE), "");
    browser.go(&format!("{}#/brace", site.address));
    browser.tap("[data-test=strip]");
    browser.until(MISSING, "a sentence in the card's place");
    browser.run("history.back()");
    browser.until("return document.querySelector('[role=dialog]') === null", "the answer");
    let before = browser.text("[data-test=setting]");
    browser.tap("[data-field=opening_width]");
    browser.tap("[data-key='3']");
    browser.tap("[data-key='7']");
    browser.tap("[data-key='done']");
    browser.until(
        &format!("return document.querySelector('[data-test=setting]').textContent !== {before:?}"),
        "another answer",
    );
    browser.tap("[data-test=strip]");
    browser.until(MISSING, "a sentence in the card's place");
    site.replace(dist());
    browser.tap("[data-test=fetch-again]");
    browser.until(CARD, "the saw card after a tap");
    drop(browser);

    let browser = Browser::start();
    let site = Site::serve(without(WORK), "");
    browser.go(&format!("{}#/parts", site.address));
    browser.until(MISSING, "a sentence in the place of the list");
    site.replace(dist());
    browser.until(
        "return document.querySelector('[data-test=add-part]') !== null",
        "the list by itself",
    );
}

/// A slow network: the place says that it is on its way, and what was asked meanwhile is done when it comes.
#[test]
fn a_late_part_is_waited_for() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some(WORK));
    browser.go(&format!("{}#/parts", site.address));
    browser.until(STARTED, "the app to start");
    browser.until("return document.body.textContent.includes('on its way')", "a word");
    browser.run("location.hash = '#/brace'");
    browser.tap("[data-test=add-to-parts]");
    browser.until("return document.body.textContent.includes('on its way')", "a word");
    site.hold(None);
    browser.until(
        "return document.querySelector('[data-test=in-parts]') !== null",
        "its parts on the list",
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Before the database's part is here: what is typed is kept in the journal, is undone and done again, and is kept and can
/// be undone like all else when it has come.
#[test]
fn what_is_typed_before_the_database_comes_is_kept_and_undone() {
    let browser = Browser::start();
    let site = Site::serve(without(WORK), "");
    browser.go(&format!("{}#/brace", site.address));
    browser.until(STARTED, "the app to start");
    let sizes = |all: &str| {
        browser.until(
            &format!("return [...document.querySelectorAll('.drawing text.fig-given')].map(t => t.textContent).join() === '{all}'"),
            all,
        );
    };
    let given = |digits: [&str; 2]| {
        browser.tap("[data-field=opening_width]");
        for key in digits.into_iter().chain(["done"]) {
            std::thread::sleep(Duration::from_millis(350));
            browser.tap(&format!("[data-key='{key}']"));
        }
    };
    let tap = |name: &str| {
        std::thread::sleep(Duration::from_millis(350));
        browser.tap(&format!("[aria-label={name}]"));
    };
    sizes("24,36,2");
    given(["3", "0"]);
    sizes("30,36,2");
    tap("Undo");
    sizes("24,36,2");
    tap("Redo");
    sizes("30,36,2");
    given(["2", "8"]);
    sizes("28,36,2");
    assert_eq!(kept(&browser, "journals.length"), json!(1));
    // As if it had been killed before the small text was written.
    browser.go(&format!("{}sw.js", site.address));
    browser.run("localStorage.removeItem('offsquare.small')");
    browser.go(&format!("{}#/brace", site.address));
    sizes("24,36,2");
    given(["2", "6"]);
    sizes("26,36,2");
    site.replace(dist());
    until_kept(&browser, "journals.length === 0");
    assert_eq!(
        kept(&browser, &format!("{TYPED}.filter(f => f.key === 'opening_width').map(f => f.text)")),
        json!(["26"])
    );
    sizes("26,36,2");
    tap("Undo");
    until_kept(&browser, &format!("{TYPED}.every(f => f.text !== '26')"));
}

/// Sound wasm, but not the bytes of this build: an empty section of its own at the end (id 0, one byte long, no name).
#[test]
fn a_part_of_another_build_never_runs() {
    let browser = Browser::start();
    let mut files = dist();
    let name = named(&files, MORE);
    files.get_mut(&name).expect("a part").extend([0, 1, 0]);
    let site = Site::serve(files, "");
    browser.go(&format!("{}#/brace", site.address));
    browser.tap("[data-test=strip]");
    browser.until(MISSING, "a sentence");
    let sound = browser.wait_for(
        "const got = await fetch(args[0]); return WebAssembly.validate(await got.arrayBuffer());",
        &[json!(format!("./{name}"))],
    );
    assert_eq!(sound, json!(true));
}

/// A first visit that a new deployment overtakes: its parts are gone for good, and the new version is offered at once.
#[test]
fn a_deployment_in_a_first_visit_is_offered() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some("split_"));
    browser.go(&format!("{}#/parts", site.address));
    browser.until(STARTED, "the app to start");
    site.replace(second_build());
    site.hold(None);
    browser.until("return document.querySelector('[data-test=use-update]') !== null", "the offer");
    browser.tap("[data-test=use-update]");
    browser.until(
        "return document.documentElement.dataset.build === 'second' && document.querySelector('[data-test=add-part]') !== null",
        "the list of the new version",
    );
}

/// How many files are stored, of how many.
const STOCK: &str = "const all = await Promise.all((await caches.keys()).map(async n => (await (await caches.open(n)).keys()).length)); \
    const worker = await (await fetch('./sw.js', {cache: 'no-store'})).text(); \
    return [all.reduce((a, b) => a + b, 0), worker.match(/sha256-/g).length];";

/// Takes files from the store, those whose names hold one of these.
fn take_away(browser: &Browser, what: &[&str]) {
    let taken = browser.wait_for(
        "let taken = 0; for (const n of await caches.keys()) { const c = await caches.open(n); \
           for (const r of await c.keys()) if (args[0].some(w => r.url.includes(w))) taken += await c.delete(r); } return taken;",
        &[json!(what)],
    );
    assert!(taken.as_u64().is_some_and(|n| n > 0), "{what:?}: {taken}");
}

#[test]
fn an_emptied_store_is_filled_again() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    // All of it, and then some of it.
    for what in [vec![""], vec!["_bg-", WORK, "style-"]] {
        take_away(&browser, &what);
        browser.go("about:blank");
        browser.go(&site.address);
        browser.until(STARTED, "the app to start");
        browser.until("return navigator.serviceWorker.controller !== null", "the worker");
        let mut stock = Value::Null;
        for _ in 0..100 {
            stock = browser.wait_for(STOCK, &[]);
            if stock[0] == stock[1] {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        assert_eq!(stock[0], stock[1], "{what:?}");
    }
    // Without the server, too, it says what is missing.
    site.stop();
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start without a server");
    take_away(&browser, &["_bg-"]);
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until("return document.querySelector('[role=alert]') !== null", "a sentence");
    let said = browser.text("[role=alert]");
    assert!(said.contains("not on this device") && said.contains("network"), "{said}");
}

/// The old page is stored, its wasm is not, and the server has only the next build: that one is offered by the page itself.
#[test]
fn a_page_without_its_wasm_offers_the_version_that_waits() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    take_away(&browser, &["_bg-"]);
    site.replace(second_build());
    browser.go("about:blank");
    browser.go(&site.address);
    browser.until("return document.querySelector('#use-update') !== null", "the offer");
    browser.tap("#use-update");
    browser.until(
        "return document.documentElement.dataset.build === 'second' && document.documentElement.dataset.started !== undefined",
        "the new version to run",
    );
}

/// The page is up already, some of its files are not: it says so, and starts once they are.
#[test]
fn a_half_uploaded_deployment_says_so() {
    let browser = Browser::start();
    for missing in ["offsquare_bg-", "offsquare-", "boot-"] {
        let site = Site::serve(without(missing), "");
        browser.go(&site.address);
        // What the page says by itself, it says late.
        browser.until(
            "document.getAnimations().filter(a => a.effect.target.matches('.late')).forEach(a => a.finish()); \
             return [...document.querySelectorAll('.shell p')].some(p => p.textContent.includes('on its way') && p.checkVisibility({visibilityProperty: true}))",
            missing,
        );
        assert!(!browser.text("[data-test=ask-brace]").is_empty(), "the bench is read meanwhile");
        site.replace(dist());
        browser.go("about:blank");
        browser.go(&site.address);
        browser.until(STARTED, "the app to start");
    }
}

/// What is not ours is answered as the server answers, and fails as the network fails.
#[test]
fn a_file_that_is_not_ours_is_the_networks_affair() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.until("return navigator.serviceWorker.controller !== null", "the worker");
    let fetched =
        "try { return (await fetch('./notes.txt')).status; } catch (e) { return e.name; }";
    assert_eq!(browser.wait_for(fetched, &[]), json!(404));
    site.stop();
    assert_eq!(browser.wait_for(fetched, &[]), json!("TypeError"));
}

/// From a host that lets the browser keep files: each is fetched once, the page's own twice.
#[test]
fn a_first_visit_fetches_each_file_once() {
    let browser = Browser::start();
    let files = dist();
    let site = Site::serve(files.clone(), "");
    site.let_keep();
    browser.go(&format!("{}#/brace", site.address));
    browser.until(STARTED, "the app to start");
    browser.until(STORED, "the app to be stored");
    let asked = site.asked();
    for name in files.keys().filter(|n| !["index.html", "sw.js"].contains(&n.as_str())) {
        assert_eq!(asked.iter().filter(|a| *a == name).count(), 1, "{name}");
    }
    assert!(asked.iter().filter(|a| *a == "index.html").count() <= 2);
}
