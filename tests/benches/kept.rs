//! A device that holds 500 pieces and 200 pictures beside an empty one, in a real Chromium:
//! `cargo bench -p offsquare-tests --features browser --bench kept`, after a build.
//!
//! What is asked: the first answer at most a tenth later than on an empty device, a change kept within 20 ms, a piece
//! opened within 100 ms, a backup of everything within 3 s.

use offsquare_tests::driver::Browser;
use offsquare_tests::site::{self, Site};
use offsquare_work::patterns;
use offsquare_work::piece::{Draft, Shop, Work, WorkEdit};
use offsquare_work::save::{Bench, to_value};
use serde_json::{Value, json};
use std::path::Path;

const PIECES: usize = 500;
const PICTURES: usize = 200;
const FEW: usize = 12;
const STARTED: &str = "return document.documentElement.dataset.started !== undefined";
const RUNS: usize = 9;

fn main() {
    let files = site::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../dist"));
    let site = Site::serve(files, "");
    let [empty, full] = [Browser::start(), Browser::start()];
    for browser in [&empty, &full] {
        browser.go(&site.address);
        browser.until(STARTED, "the app");
        browser.until(
            "return document.documentElement.dataset.offlineReady !== undefined",
            "the app to be stored",
        );
        note_what_is_shown(browser);
    }
    fill(&full, PIECES, PICTURES);
    println!("\n{PIECES} pieces, {PICTURES} pictures: medians of {RUNS}, in ms");
    for (place, shown) in [("#/brace", "[data-test=setting]"), ("#/", "[data-test=ask-brace]")] {
        let mut took = [Vec::new(), Vec::new()];
        for _ in 0..RUNS {
            for (n, browser) in [&empty, &full].into_iter().enumerate() {
                took[n].push(start(browser, &site, place, shown));
            }
        }
        let [empty, full] = took.map(|t| median(&t));
        println!(
            "start to {shown:<24} empty {empty:.0}, full {full:.0} ({:.2} times)",
            full / empty
        );
    }
    // What is left of each of these on a device with a few pieces is not the number's.
    fill(&empty, FEW, 0);
    for (browser, pieces) in [(&empty, FEW), (&full, PIECES)] {
        println!("with {pieces} pieces:");
        opened(browser);
        kept(browser);
    }
    backup(&full);
}

/// When each was first painted, on `window.shown`.
fn note_what_is_shown(browser: &Browser) {
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": "window.shown = {}; window.note = s => { if (!(s in shown) && document.querySelector(s)) { \
            shown[s] = null; const c = new MessageChannel(); c.port1.onmessage = () => shown[s] = performance.now(); \
            requestAnimationFrame(() => c.port2.postMessage(0)); } }; \
          new MutationObserver(() => { note('[data-test=setting]'); note('[data-test=ask-brace]'); }) \
            .observe(document, {childList: true, subtree: true});"}),
    );
}

fn start(browser: &Browser, site: &Site, place: &str, shown: &str) -> f64 {
    browser.go("about:blank");
    browser.go(&format!("{}{place}", site.address));
    browser.until(&format!("return typeof window.shown?.[{shown:?}] === 'number'"), shown);
    let at = browser.run(&format!("return window.shown[{shown:?}]"));
    browser.until(STARTED, "the app");
    at.as_f64().expect("a time")
}

/// Pieces of every pattern in turn, each with its parts; a picture for two pieces of five.
fn pieces(pieces: usize, pictures: usize) -> Bench {
    let mut work = Work::default();
    let shop = Shop::default();
    let all = patterns::all();
    for n in 0..pieces {
        let id = work.next_piece();
        let pattern = all[n % all.len()];
        let draft = Draft::fresh(&pattern.layout, &pattern.forms[0], shop.unit);
        work.apply(WorkEdit::AddPiece { pattern: Some(draft) }, &shop);
        let name = format!("Piece {n}");
        work.apply(WorkEdit::Piece { id, key: "name", text: name }, &shop);
        if n < pictures {
            work.apply(WorkEdit::AddPicture { piece: id, id: picture(n) }, &shop);
        }
    }
    Bench { work, ..Bench::default() }
}

/// Of now, so that no picture counts as left over.
fn picture(n: usize) -> String {
    format!("19d00000000-{n:x}")
}

fn fill(browser: &Browser, count: usize, pictures: usize) {
    browser.run("location.hash = '#/shop'");
    browser.until("return document.querySelector('.file input') !== null", "the shop");
    let text = to_value(&pieces(count, pictures)).to_string();
    println!("a file of {count} pieces: {} KB of text", text.len() / 1000);
    browser.wait_for(
        "const all = new DataTransfer(); all.items.add(new File([args[0]], 'offsquare.json')); \
         const i = document.querySelector('.file input'); i.files = all.files; \
         i.dispatchEvent(new Event('change', {bubbles: true}));",
        &[json!(text)],
    );
    browser.until("return document.querySelector('[data-test=file-replace]') !== null", "the file");
    browser.run("document.querySelector('[data-test=file-replace]').click()");
    browser.until("return document.body.textContent.includes('Done.')", "it to be taken in");
    browser.until(
        "return !Object.keys(localStorage).some(k => k.startsWith('offsquare.journal.'))",
        "all to be in the database",
    );
    let picture_ids: Vec<String> = (0..pictures).map(picture).collect();
    browser.wait_for(
        "const canvas = new OffscreenCanvas(900, 700), brush = canvas.getContext('2d'); \
         const done = r => new Promise((y, n) => { r.onsuccess = () => y(r.result); r.onerror = n; }); \
         const db = await done(indexedDB.open('offsquare')); let size = 0; \
         for (const id of args[0]) { \
           for (let i = 0; i < 900; i++) { brush.fillStyle = `hsl(${Math.random() * 360} 50% 50%)`; \
             brush.fillRect(Math.random() * 900, Math.random() * 700, 60, 60); } \
           const blob = await canvas.convertToBlob({type: 'image/webp', quality: .9}); size += blob.size; \
           const bytes = new Uint8Array(await blob.arrayBuffer()); \
           await done(db.transaction('pictures', 'readwrite').objectStore('pictures').put({mime: 'image/webp', bytes}, id)); } \
         db.close(); return size;",
        &[json!(picture_ids)],
    );
}

/// From a tap on a piece of the bench to its painted drawing.
fn opened(browser: &Browser) {
    let mut took = Vec::new();
    for n in 0..RUNS {
        browser.run("location.hash = '#/'");
        browser.until(
            "return document.querySelectorAll('[data-test=my-piece]').length === 8",
            "the bench",
        );
        std::thread::sleep(std::time::Duration::from_millis(1500));
        let ms = browser.wait_for(
            "const frame = () => new Promise(r => requestAnimationFrame(r)); \
             await frame(); const t = performance.now(); \
             document.querySelectorAll('[data-test=my-piece]')[args[0]].click(); \
             do { await frame(); } while (!document.querySelector('.drawing svg')); \
             await new Promise(r => { const c = new MessageChannel(); c.port1.onmessage = r; c.port2.postMessage(0); }); \
             return performance.now() - t;",
            &[json!(n % 8)],
        );
        took.push(ms.as_f64().expect("ms"));
    }
    println!("  a piece opened, tap to painted drawing: {:.0}", median(&took));
}

/// From a change to the end of the transaction that keeps it; and the time that the page's thread had no room for anything else.
fn kept(browser: &Browser) {
    browser.run("location.hash = '#/'");
    browser.until("return document.querySelector('[data-test=my-piece]') !== null", "the bench");
    browser.run("document.querySelector('[data-test=my-piece]').click()");
    browser.until("return document.querySelector('[data-test=about] input') !== null", "the piece");
    browser.run(
        "const begin = IDBDatabase.prototype.transaction; window.whole = () => {}; \
         IDBDatabase.prototype.transaction = function (stores, mode) { const all = begin.apply(this, arguments); \
           if (mode === 'readwrite') all.addEventListener('complete', () => window.whole(performance.now())); return all; };",
    );
    let took = browser.wait_for(
        "const all = []; for (let i = 0; i < 20; i++) { \
           await new Promise(r => setTimeout(r, 300)); \
           const t = performance.now(); const done = new Promise(r => window.whole = r); \
           const name = document.querySelector('[data-test=about] input'); name.value = `Stand ${i}`; \
           name.dispatchEvent(new InputEvent('input', {bubbles: true})); all.push(await done - t); } return all;",
        &[],
    );
    let took: Vec<f64> = took.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    println!("  a change of a piece kept, key to complete transaction: {:.0}", median(&took));
}

fn backup(browser: &Browser) {
    browser.run("location.hash = '#/shop'");
    browser.until("return document.querySelector('[data-test=save-all]') !== null", "the shop");
    let mut took = Vec::new();
    let mut size = 0.0;
    for _ in 0..3 {
        let made = browser.wait_for(
            "const make = URL.createObjectURL; let bytes = 0; const t = performance.now(); \
             await new Promise(r => { URL.createObjectURL = b => { bytes = b.size; r(); return make.call(URL, b); }; \
               document.querySelector('[data-test=save-all]').click(); }); URL.createObjectURL = make; \
             return [performance.now() - t, bytes];",
            &[],
        );
        took.push(made[0].as_f64().expect("ms"));
        size = made[1].as_f64().expect("a size");
    }
    println!("a backup of all, {:.1} MB: {:.0}", size / 1e6, median(&took));
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(f64::NAN)
}
