//! The device's database: kills at any moment, two tabs, older tabs, storage that fails.

use crate::device::{FILE, TYPED, kept, until_kept};
use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist, visit};
use offsquare_tests::dice::Dice;
use serde_json::{Value, json};
use std::time::Duration;

fn go(browser: &Browser, site: &Site, place: &str) {
    browser.go(&format!("{}{place}", site.address));
    browser.until(STARTED, "the app to start");
}

fn count_parts(browser: &Browser, n: usize) {
    browser.until(
        &format!("return document.querySelectorAll('[data-test=part]').length === {n}"),
        &format!("{n} parts"),
    );
}

fn tap(browser: &Browser, selector: &str) {
    std::thread::sleep(Duration::from_millis(350));
    browser.tap(selector);
}

/// The list with a part that is kept.
fn with_a_part() -> (Browser, Site) {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    go(&browser, &site, "#/parts");
    tap(&browser, "[data-test=add-part]");
    until_kept(&browser, "file.bench.work.parts.length === 1");
    (browser, site)
}

/// An Undo in one tab takes back its own part and leaves those of another; both tabs show what both did, and so does the
/// next start, which can undo what was done before it.
#[test]
fn two_tabs_are_one_list_and_undo_outlives_a_restart() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    go(&browser, &site, "#/parts");
    tap(&browser, "[data-test=add-part]");
    count_parts(&browser, 1);
    until_kept(&browser, "file.bench.work.parts.length === 1");
    let first = browser.tab();
    let second = browser.new_tab();
    go(&browser, &site, "#/parts");
    count_parts(&browser, 1);
    for n in 2..=6 {
        tap(&browser, "[data-test=add-part]");
        count_parts(&browser, n);
    }
    until_kept(&browser, "file.bench.work.parts.length === 6");
    browser.to_tab(&first);
    count_parts(&browser, 6);
    tap(&browser, "[data-test=undo]");
    count_parts(&browser, 5);
    until_kept(&browser, "file.bench.work.parts.length === 5");
    browser.to_tab(&second);
    count_parts(&browser, 5);
    until_kept(&browser, "journals.length === 0");
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    count_parts(&browser, 5);
    for n in (0..5).rev() {
        tap(&browser, "[data-test=undo]");
        count_parts(&browser, n);
    }
    until_kept(&browser, "file.bench.work.parts.length === 0");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// How often the browser is killed: more where a run is told so.
fn kills() -> usize {
    std::env::var("OFFSQUARE_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(8)
}

/// Killed at any moment while lines of sums are typed, one a number: what was told as kept is there at the next start,
/// and the numbers have no gap; at most what was typed after that is lost.
#[test]
fn a_browser_that_is_killed_has_kept_what_it_said() {
    let profile = std::env::temp_dir().join(format!("offsquare-killed-{}", std::process::id()));
    let site = Site::serve(dist(), "");
    let mut dice = Dice(11);
    let mut told = 0;
    for kill in 0..kills() {
        let browser = Browser::start_again(&profile);
        go(&browser, &site, "#/brace");
        if told > 0 {
            // What the first answer shows may be older for a moment.
            let shown = "Number(document.querySelector('[data-test=field-opening_width]')?.value)";
            browser.until(
                &format!("return {shown} >= {told}"),
                &format!("kill {kill}: {told}, which was kept"),
            );
            assert_eq!(browser.text(".notice"), "", "kill {kill}");
            std::thread::sleep(Duration::from_millis(100));
        }
        browser.tap("[data-field=opening_width]");
        browser.until("return document.querySelector('[data-test=edit]') !== null", "the field");
        let now = browser.run("return Number(document.querySelector('[data-test=edit]').value)");
        let from = (now.as_f64().unwrap_or(0.0) as u64).max(told);
        // The page types on by itself, and says in its title what the database has.
        browser.run(&format!(
            "window.typed = {from}; const e = document.querySelector('[data-test=edit]'); \
             setInterval(() => {{ window.typed++; e.value = String(window.typed); \
               e.dispatchEvent(new InputEvent('input', {{bubbles: true}})); }}, 15); \
             (async () => {{ for (;;) {{ await new Promise(r => setTimeout(r, 5)); {FILE} \
               const own = {TYPED}.filter(t => t.key === 'opening_width').map(t => Number(t.text)); \
               if (own.length) window.kept = Math.max(...own); }} }})();"
        ));
        browser.until(
            "return (window.kept ?? 0) > window.typed - 60 && window.kept > 0",
            "the first to be kept",
        );
        let until = std::time::Instant::now() + Duration::from_millis(dice.below(900) as u64);
        loop {
            let kept = browser.run("return window.kept").as_u64().unwrap_or(0);
            told = told.max(kept);
            if std::time::Instant::now() > until {
                break;
            }
        }
        browser.kill();
    }
    let _ = std::fs::remove_dir_all(&profile);
}

/// A database that the browser has lost is said, with what can be done; the sizes typed last are here again, and kept.
#[test]
fn a_database_that_is_lost_is_said_and_what_was_typed_last_is_here() {
    let (browser, site) = with_a_part();
    go(&browser, &site, "#/brace");
    tap(&browser, "[data-field=opening_width]");
    browser.tap("[data-key='3']");
    browser.tap("[data-key='1']");
    let typed = format!("{TYPED}.some(t => t.text === '31') && journals.length === 0");
    until_kept(&browser, &typed);
    browser
        .until("return localStorage.getItem('offsquare.small').includes('31')", "the small text");
    browser.go(&format!("{}sw.js", site.address));
    browser.wait_for(
        "const gone = indexedDB.deleteDatabase('offsquare'); \
         await new Promise((y, n) => { gone.onsuccess = y; gone.onerror = n; });",
        &[],
    );
    go(&browser, &site, "#/brace");
    browser.until("return document.querySelector('.notice') !== null", "a sentence");
    let said = browser.text(".notice");
    assert!(said.contains("has lost what") && !said.contains("Another tab"), "{said}");
    until_kept(&browser, &typed);
    let shown =
        browser.run("return document.querySelector('[data-test=field-opening_width]').value");
    assert_eq!(shown, json!("31"));
    // Once said, it is said no more.
    go(&browser, &site, "#/parts");
    browser.run("delete document.documentElement.dataset.started; location.reload()");
    browser.until(STARTED, "the app to start");
    until_kept(&browser, &typed);
    assert_eq!(browser.text(".notice"), "");
    count_parts(&browser, 0);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A page that dies between a key and the database has lost nothing: its journal is taken in at the next start.
#[test]
fn a_page_that_dies_before_the_database_has_it_loses_nothing() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    go(&browser, &site, "#/parts");
    tap(&browser, "[data-test=add-part]");
    until_kept(&browser, "file.bench.work.parts.length === 1 && journals.length === 0");
    // From now on no transaction comes to its end.
    browser.run(
        "const begin = IDBDatabase.prototype.transaction; IDBDatabase.prototype.transaction = function (s, mode) { \
           const all = begin.apply(this, arguments); if (mode === 'readwrite') setTimeout(() => { try { all.abort(); } catch {} }); return all; };",
    );
    tap(&browser, "[data-test=add-part]");
    tap(&browser, "[data-test=add-part]");
    count_parts(&browser, 3);
    browser.until("return document.querySelector('.notice') !== null", "a sentence");
    assert!(browser.text(".notice").contains("Save a file"));
    assert_eq!(kept(&browser, "[file.bench.work.parts.length, journals.length]"), json!([1, 1]));
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    count_parts(&browser, 3);
    until_kept(&browser, "file.bench.work.parts.length === 3 && journals.length === 0");
    assert_eq!(browser.text(".notice"), "");
}

/// No room, a database that is blocked, closed or forgotten: said at once, with a file to save; all goes on, and is kept
/// as soon as it can be.
#[test]
fn storage_that_fails_is_said_with_a_file_to_save() {
    let (browser, _site) = with_a_part();
    let mut parts = 1;
    for (what, word) in [
        (
            "IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }",
            "full",
        ),
        (
            "IDBObjectStore.prototype.get_ = 0; IDBObjectStore.prototype.getAll = () => { throw new DOMException('x', 'UnknownError'); }",
            "keeps nothing",
        ),
        (
            "IDBDatabase.prototype.transaction = () => { throw new DOMException('closing', 'InvalidStateError'); }",
            "keeps nothing",
        ),
    ] {
        browser.run(&format!(
            "window.whole ??= {{put: IDBObjectStore.prototype.put, getAll: IDBObjectStore.prototype.getAll, transaction: IDBDatabase.prototype.transaction}}; {what}"
        ));
        tap(&browser, "[data-test=add-part]");
        parts += 1;
        count_parts(&browser, parts);
        browser.until("return document.querySelector('.notice') !== null", "a sentence");
        let said = browser.text(".notice");
        assert!(said.contains(word) && said.contains("Save a file"), "{said}");
        browser.run(
            "IDBObjectStore.prototype.put = whole.put; IDBObjectStore.prototype.getAll = whole.getAll; \
             IDBDatabase.prototype.transaction = whole.transaction;",
        );
        until_kept(&browser, &format!("file.bench.work.parts.length === {parts}"));
        browser.until("return document.querySelector('.notice') === null", "no sentence any more");
    }
    // No database from the start.
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "window.opens = IDBFactory.prototype.open; IDBFactory.prototype.open = () => { throw new DOMException('blocked', 'SecurityError'); };"}),
    );
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start without a database");
    browser.until("return document.querySelector('.notice') !== null", "a sentence");
    tap(&browser, "[data-test=add-part]");
    count_parts(&browser, 1);
    browser.run("IDBFactory.prototype.open = window.opens");
    count_parts(&browser, parts + 1);
    until_kept(&browser, &format!("file.bench.work.parts.length === {}", parts + 1));
}

/// A tab older than what is stored says so and writes nothing.
#[test]
fn a_tab_older_than_what_is_stored_stops_writing() {
    let (browser, _site) = with_a_part();
    browser.wait_for(
        "const done = r => new Promise((y, n) => { r.onsuccess = () => y(r.result); r.onerror = n; }); \
         const db = await done(indexedDB.open('offsquare')); \
         await done(db.transaction('marks', 'readwrite').objectStore('marks').put('99', 'offsquare')); db.close();",
        &[],
    );
    tap(&browser, "[data-test=add-part]");
    browser.until("return document.querySelector('.notice') !== null", "a sentence");
    assert!(browser.text(".notice").contains("newer version"));
    let small = browser.run("return localStorage.getItem('offsquare.small')");
    tap(&browser, "[data-test=add-part]");
    assert_eq!(kept(&browser, "file.bench.work.parts.length"), json!(1));
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    browser.until("return document.querySelector('.notice') !== null", "a sentence");
    assert!(browser.text(".notice").contains("newer version"));
    count_parts(&browser, 1);
    assert_eq!(browser.run("return localStorage.getItem('offsquare.small')"), small);
    assert_eq!(kept(&browser, "file.bench.work.parts.length"), json!(1));
}

/// What the device kept as one text is taken in once, and a tab of an older Offsquare that goes on with it is heard.
#[test]
fn what_was_kept_before_there_was_a_database_is_taken_in() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    let part = |id: u32, name: &str| json!({"id": id, "name": name, "length": 31.0, "count": 2});
    let old = |parts: Value| json!({"offsquare": 2, "bench": {"lengths": ["33 - 2"], "work": {"batch": 1, "parts": parts}}});
    let first = old(json!([part(1, "Rail")])).to_string();
    browser.run(&format!("localStorage.setItem('offsquare.bench', {first:?}); location.hash = '#/parts'; location.reload()"));
    browser.until(STARTED, "the app to start");
    count_parts(&browser, 1);
    until_kept(&browser, "file.bench.work.parts.length === 1");
    browser.until(
        "return localStorage.getItem('offsquare.bench') === null",
        "the text to be put away",
    );
    tap(&browser, "[data-test=add-part]");
    until_kept(&browser, "file.bench.work.parts.length === 2");
    // The older tab knows nothing of that.
    let again = old(json!([part(1, "Stile"), part(9, "Slat")])).to_string();
    browser.run(&format!("localStorage.setItem('offsquare.bench', {again:?}); location.reload()"));
    browser.until(STARTED, "the app to start");
    count_parts(&browser, 3);
    let names = "file.bench.work.parts.map(p => p.name).sort().join()";
    until_kept(&browser, &format!("{names} === ',Slat,Stile'"));
    assert_eq!(browser.text(".notice"), "");
    assert_eq!(kept(&browser, "file.bench.lengths"), json!(["33 - 2"]));
}

/// A record that cannot be read is set aside as it was, said, and offered as a file; all else is there.
#[test]
fn a_damaged_record_is_set_aside_and_the_rest_is_there() {
    let (browser, _site) = with_a_part();
    for text in [
        "{",
        "{\"bench\":{\"recent\":7}}",
        "\\u0000",
        "{\"offsquare\":4,\"bench\":{\"recent\":[5]}}",
    ] {
        browser.wait_for(
            &format!(
                "const done = r => new Promise((y, n) => {{ r.onsuccess = () => y(r.result); r.onerror = n; }}); \
                 const db = await done(indexedDB.open('offsquare')); \
                 await done(db.transaction('records', 'readwrite').objectStore('records').put({text:?}, 'recent')); db.close();"
            ),
            &[],
        );
        browser.run("delete document.documentElement.dataset.started; location.reload()");
        browser.until(STARTED, "the app to start");
        count_parts(&browser, 1);
        browser.until("return document.querySelector('.notice') !== null", text);
        assert!(browser.text(".notice").contains("set aside"), "{text}");
        browser.run("location.hash = '#/shop'");
        browser.until(
            "return !!document.querySelector('[data-test=save-aside]')",
            "Backup to offer the copy",
        );
        browser.run("location.hash = '#/parts'");
        count_parts(&browser, 1);
    }
    browser.run("delete document.documentElement.dataset.started; location.reload()");
    browser.until(STARTED, "the app to start");
    count_parts(&browser, 1);
    assert_eq!(browser.text(".notice"), "", "said once");
}
