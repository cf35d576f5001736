//! What is typed is kept: two tabs, a page that goes, a store that is broken, full or closed, a run that died.

use crate::clumsy::{EDIT, open_brace, typed};
use crate::device::{TYPED, until_kept};
use crate::driver::Browser;
use crate::site::Site;
use crate::{STARTED, dist, visit, with_door};
use serde_json::{Value, json};

/// Two tabs show one bench: neither writes over what the other has kept.
#[test]
fn two_tabs_lose_nothing() {
    let kept = |browser: &Browser, texts: &[&str]| {
        until_kept(
            browser,
            &format!(
                "JSON.stringify({TYPED}.filter(t => ['opening_width', 'base_width'].includes(t.key)).map(t => t.text).sort()) \
                 === JSON.stringify({})",
                json!(texts)
            ),
        );
    };
    let (browser, site) = open_brace();
    let first = browser.tab();
    let second = browser.new_tab();
    browser.go(&format!("{}#/end_board", site.address));
    browser.tap("[data-field=base_width]");
    browser.tap("[data-key='1']");
    browser.tap("[data-key='5']");
    typed(&browser, "15");
    kept(&browser, &["15"]);
    browser.to_tab(&first);
    browser.tap("[data-key='3']");
    browser.tap("[data-key='3']");
    typed(&browser, "33");
    kept(&browser, &["15", "33"]);
    browser.to_tab(&second);
    browser.tap("[data-key='add 1/2']");
    typed(&browser, "15 1/2");
    kept(&browser, &["15 1/2", "33"]);
}

/// What is typed is kept a moment later, and at once when the page goes: loaded again, closed or put
/// aside right after a key, it has lost nothing.
#[test]
fn a_page_that_goes_right_after_a_key_keeps_it() {
    let press = |key: &str| {
        format!(
            "document.querySelector('[data-key=\"{key}\"]').dispatchEvent(\
               new PointerEvent('pointerdown', {{bubbles: true, cancelable: true}}));"
        )
    };
    let kept = "JSON.parse(localStorage.getItem('offsquare.small')).bench.drafts \
                .flatMap(d => d.typed).find(t => t.key === 'opening_width')?.text";
    let (browser, site) = open_brace();
    browser.run(&format!("{} location.reload();", press("7")));
    browser.until(STARTED, "the app to start");
    assert_eq!(browser.run(&format!("return {kept}")), json!("7"));

    let first = browser.tab();
    browser.new_tab();
    browser.go(&format!("{}#/brace", site.address));
    browser.tap("[data-field=opening_width]");
    browser.until(&format!("{EDIT} === '7'"), "the field");
    browser.run(&press("1"));
    browser.close_tab(&first);
    assert_eq!(browser.run(&format!("return {kept}")), json!("1"));

    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    browser.tap("[data-field=opening_width]");
    browser.until(&format!("{EDIT} === '1'"), "the field");
    let aside = browser.wait_for(
        &format!(
            "{} await new Promise(r => requestAnimationFrame(() => setTimeout(r))); \
             window.dispatchEvent(new Event('blur')); return {kept};",
            press("8")
        ),
        &[],
    );
    assert_eq!(aside, json!("8"));
}

/// A bad text is there again after loading the page again, with its sentence and its field in view.
#[test]
fn loading_again_in_the_middle_of_a_bad_text_keeps_it() {
    let (browser, _site) = open_brace();
    browser.tap("[data-key='3']");
    browser.tap("[data-key='divided by']");
    typed(&browser, "3 / ");
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    browser.until(
        "return document.querySelector('[data-test=field-opening_width]')?.checkVisibility() === true",
        "the field",
    );
    let text =
        browser.run("return document.querySelector('[data-test=field-opening_width]').value");
    assert_eq!(text, json!("3 / "));
    assert!(browser.text("#said-opening_width").contains("missing"));
}

/// What was set aside last.
fn aside(browser: &Browser) -> String {
    let last = browser.wait_for(
        "const done = r => new Promise((y, n) => { r.onsuccess = () => y(r.result); r.onerror = n; }); \
         const db = await done(indexedDB.open('offsquare')); const all = db.transaction('aside').objectStore('aside'); \
         const keys = (await done(all.getAllKeys())).filter(k => k !== 'before'); \
         const text = await done(all.get(keys.at(-1))); db.close(); return text;",
        &[],
    );
    last.as_str().unwrap_or_default().to_owned()
}

/// What cannot be read is said, set aside as it was, and the app starts.
#[test]
fn a_broken_store_is_set_aside_and_said() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    for broken in
        ["{", "[]", "{\"offsquare\":1,\"bench\":{\"drafts\":[5],\"shop\":{\"unit\":\"parsec\"}}}"]
    {
        browser.run(&format!("localStorage.setItem('offsquare.bench', {broken:?})"));
        browser.run("delete document.documentElement.dataset.started; location.reload()");
        browser.until(STARTED, "the app to start");
        browser.until("return document.querySelector('.notice') !== null", "a sentence");
        assert!(browser.text(".notice").contains("set aside"), "{broken}");
        assert!(aside(&browser).contains(&json!(broken).to_string()), "{broken}");
        browser.run("location.hash = '#/shop'");
        browser.until(
            "return !!document.querySelector('[data-test=save-aside]')",
            "Backup to offer the copy",
        );
        browser.run("location.hash = '#/'");
        assert_ne!(
            browser.run("return document.querySelector('[data-test=ask-brace]')"),
            Value::Null
        );
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// JSON nested 2,500 deep, as a foreign file may be: the page opens, says so and hands out the text as it was.
#[test]
fn a_text_nested_without_end_does_not_end_the_app() {
    let browser = Browser::start();
    let site = Site::serve(with_door(), "");
    visit(&browser, &site);
    let deep = |n: usize| {
        format!("{{\"offsquare\":2,\"bench\":{{\"drafts\":{}{}}}}}", "[".repeat(n), "]".repeat(n))
    };
    for text in [deep(2_500), deep(100_000)] {
        // Put there while no page of the app is open, so that the one that says so is the one that is read.
        browser.go(&format!("{}sw.js", site.address));
        browser.run(&format!("localStorage.setItem('offsquare.bench', {text:?})"));
        browser.go(&site.address);
        browser.until(STARTED, "the app to start");
        browser.until("return document.querySelector('.notice') !== null", "a sentence");
        assert!(browser.text(".notice").contains("more than 64 deep"));
        assert!(aside(&browser).contains(&json!(text).to_string()));
        assert_eq!(browser.run("return document.querySelector('#broken')"), Value::Null);
        browser.run("location.hash = '#/shop'");
        browser.until(
            "return !!document.querySelector('[data-test=save-aside]')",
            "Backup to offer the copy",
        );
    }
    // The door of scripts refuses it too, and goes on.
    let door = "const m = await import('./door/door.js'); await m.default(); \
                let deep = []; for (let i = 0; i < 2500; i++) deep = [deep]; \
                let said = ''; try { m.solve([{id: deep}]); } catch (e) { said = String(e); } \
                return [said.includes('recursion limit'), m.solve([{id: 1, layout: 'brace'}])[0].id];";
    assert_eq!(browser.wait_for(door, &[]), json!([true, 1]));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A page whose app dies before it shows anything, with no wasm that could help: glue whose start traps a moment later.
#[test]
fn a_page_that_dies_at_its_start_hands_out_what_is_kept() {
    const STUB: &str = "export default async () => {}; \
        export function app_main() { \
          const bytes = [0,97,115,109,1,0,0,0,1,4,1,96,0,0,3,2,1,0,7,5,1,1,116,0,0,10,5,1,3,0,0,11]; \
          const module = new WebAssembly.Module(new Uint8Array(bytes)); \
          Promise.resolve().then(new WebAssembly.Instance(module).exports.t); \
        }";
    let mut files = dist();
    let glue: Vec<String> = files
        .keys()
        .filter(|n| n.starts_with("offsquare") && n.ends_with(".js"))
        .cloned()
        .collect();
    assert_eq!(glue.len(), 1, "{glue:?}");
    files.insert(glue[0].clone(), STUB.into());
    let browser = Browser::start();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "const make = URL.createObjectURL; URL.createObjectURL = b => { window.taken = b; return make.call(URL, b); };"}),
    );
    let site = Site::serve(files, "");
    browser.go(&site.address);
    browser.until("return document.querySelector('#broken') !== null", "the banner");
    // Nothing is kept yet, so nothing is handed out.
    assert_eq!(browser.run("return document.querySelector('#broken a')"), Value::Null);
    let kept = "{\"offsquare\":2,\"bench\":{\"lengths\":[\"33 - 2 \u{bd}\"]}}";
    browser.run(&format!("localStorage.setItem('offsquare.bench', {})", json!(kept)));
    browser.run("location.reload()");
    browser.until("return document.querySelector('#broken a') !== null", "the banner");
    assert_eq!(browser.run("return document.querySelectorAll('#broken').length"), json!(1));
    assert_eq!(browser.run("return document.querySelector('.shell .wait')"), Value::Null);
    assert!(browser.text("#broken").contains("What you typed is kept"));
    let file = browser.wait_for(
        "const a = document.querySelector('#broken a'); return [a.download, await window.taken.text()];",
        &[],
    );
    assert_eq!(file, json!(["offsquare.json", kept]));
    // The way out of dying at every start.
    browser.run("[...document.querySelectorAll('#broken button')].at(-1).click()");
    browser.until("return localStorage.getItem('offsquare.bench') === null", "it to be set aside");
    assert_eq!(browser.run("return localStorage.getItem('offsquare.aside')"), json!(kept));
}

/// A store that is full beside the database, or closed: all goes on.
#[test]
fn a_full_or_closed_store_loses_nothing_and_answers_go_on() {
    let (browser, site) = open_brace();
    browser.run(
        "let s = 'x'.repeat(1 << 20), i = 0; while (s.length) { try { localStorage.setItem('f' + i++, s); } catch { s = s.slice(0, s.length >> 1); } }",
    );
    for key in ["3", "1", "plus", "1", "plus", "1", "plus", "1"] {
        browser.tap(&format!("[data-key='{key}']"));
    }
    assert!(browser.text(".old-mark").is_empty(), "the answer is new");
    // The database has it.
    until_kept(&browser, &format!("{TYPED}.some(t => t.text.startsWith('31 + 1 + 1'))"));
    assert_eq!(browser.text(".notice"), "");
    drop(browser);

    let browser = Browser::start();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "for (const s of ['localStorage', 'sessionStorage']) Object.defineProperty(window, s, {get() { throw new DOMException('closed', 'SecurityError'); }});"}),
    );
    browser.go(&format!("{}#/brace", site.address));
    browser.until(STARTED, "the app to start without a store");
    browser.until("return document.querySelector('[data-test=setting]') !== null", "an answer");
}

/// A run that ended while it solved is told at the next start, its sizes kept among the recent answers;
/// a run that went well leaves no such mark.
#[test]
fn a_run_that_died_while_solving_does_not_die_again() {
    let (browser, site) = open_brace();
    browser.tap("[data-key='3']");
    browser.tap("[data-key='7']");
    typed(&browser, "37");
    let mark = "return localStorage.getItem('offsquare.solving')";
    browser.run("location.reload()");
    browser.until(STARTED, "the app to start");
    browser.until(&format!("{mark} === null"), "no mark after a good start");
    browser.run("localStorage.setItem('offsquare.solving', 'brace')");
    browser.go("about:blank");
    browser.go(&format!("{}#/", site.address));
    browser.until(STARTED, "the app to start");
    assert!(browser.text(".notice").contains("stopped while solving"));
    browser.tap("[data-test=reopen]");
    browser.tap("[data-field=opening_width]");
    typed(&browser, "37");
    browser.until(&format!("{mark} === null"), "no mark");
}
