//! What the device keeps, as the page's database and journals hold it, read past the app; and what an app of before left.

use crate::STARTED;
use crate::driver::Browser;
use crate::site::Site;
use offsquare_work::save::{self, Bench};
use serde_json::{Value, json};
use std::time::Duration;

/// What the database and the journals hold, as one file.
pub const FILE: &str = "const done = r => new Promise((y, n) => { r.onsuccess = () => y(r.result); r.onerror = n; }); \
    const open = indexedDB.open('offsquare'); open.onupgradeneeded = () => open.transaction.abort(); \
    const db = await done(open).catch(() => null); \
    const texts = db ? await done(db.transaction('records').objectStore('records').getAll()) : []; db?.close(); \
    const join = (a, b) => { for (const k in b) Array.isArray(a[k]) ? a[k] = a[k].concat(b[k]) \
      : a[k] && typeof a[k] === 'object' ? join(a[k], b[k]) : a[k] = b[k]; return a; }; \
    const file = texts.map(t => JSON.parse(t)).filter(f => f.bench).reduce(join, {bench: {drafts: [], work: {parts: []}}}); \
    const journals = Object.keys(localStorage).filter(k => k.startsWith('offsquare.journal.'));";

/// What is in the database, asked by a function of `file` and `journals`.
pub fn kept(browser: &Browser, what: &str) -> Value {
    browser.wait_for(&format!("{FILE} return ({what});"), &[])
}

/// Waits until the database holds something.
pub fn until_kept(browser: &Browser, what: &str) {
    for _ in 0..400 {
        if kept(browser, what) == Value::Bool(true) {
            return;
        }
        std::thread::sleep(Duration::from_millis(30));
    }
    panic!("waited in vain for: {what}");
}

/// The texts typed into all drafts.
pub const TYPED: &str = "file.bench.drafts.flatMap(d => d.typed)";

/// The document in the database, which needs no repair.
pub fn kept_bench(browser: &Browser) -> Bench {
    let opened = save::read(&kept(browser, "file").to_string());
    assert_eq!(opened.repaired, Vec::<String>::new());
    opened.bench
}

/// Starts the app again with a document besides what is kept, as an app from before the database left it.
pub fn start_with(browser: &Browser, document: &str) {
    browser.run(&format!(
        "localStorage.setItem('offsquare.bench', {}); delete document.documentElement.dataset.started; location.reload()",
        json!(document)
    ));
    browser.until(STARTED, "the app to start");
    browser.until("return localStorage.getItem('offsquare.bench') === null", "it to be taken in");
}

/// Empties the device, from a page of the site that is none of the app's.
pub fn forget_all(browser: &Browser, site: &Site) {
    browser.go(&format!("{}sw.js", site.address));
    browser.wait_for(
        "localStorage.clear(); const gone = indexedDB.deleteDatabase('offsquare'); \
         await new Promise((y, n) => { gone.onsuccess = y; gone.onerror = n; });",
        &[],
    );
}
