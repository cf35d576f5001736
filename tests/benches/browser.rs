//! How long a person waits in a real Chromium, phone-sized: `cargo xtask bench`; a part of it, after a build,
//! `cargo bench -p offsquare-tests --features browser --bench browser [-- start|keys|price|network]`.
//!
//! Medians of several runs, with the ratio under a processor four times slower. Figures, not tests: a
//! busy machine is slow for reasons that are not the app's.

use offsquare_cuts::inputs::Kind;
use offsquare_cuts::layouts;
use offsquare_tests::driver::Browser;
use offsquare_tests::site::{self, Files, Site};
use offsquare_work::piece::{LOOSE, Shop, Work, WorkEdit};
use offsquare_work::price::{List, PriceRow};
use offsquare_work::save::{self, Bench};
use serde_json::{Value, json};
use std::path::Path;

/// One kind of figures, printed.
type Measured = fn(&Files);

fn main() {
    let dist = Path::new(env!("CARGO_MANIFEST_DIR")).join("../dist");
    let files = site::read(&dist);
    println!(
        "\nIn Chromium, 360 x 740, medians in ms; \"CPU / 4\" with the processor throttled four times"
    );
    let asked: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with('-')).collect();
    let wanted = |part: &str| asked.is_empty() || asked.iter().any(|a| a == part);
    let parts: [(&str, Measured); 4] =
        [("start", start_up), ("keys", typing), ("price", price), ("network", slow_network)];
    for (_, run) in parts.into_iter().filter(|(part, _)| wanted(part)) {
        run(&files);
    }
}

fn throttle(browser: &Browser, rate: u32) {
    browser.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": rate }));
}

/// Notes on `window.shown` when an element has first been painted: a task after the frame's callbacks
/// runs after its paint.
fn note_when_shown(browser: &Browser, selectors: &[&str]) {
    let source = format!(
        "window.shown = {{}}; \
         const wanted = {}; \
         new MutationObserver(() => {{ for (const s of wanted) if (!(s in shown) && document.querySelector(s)) {{ \
           shown[s] = null; const c = new MessageChannel(); c.port1.onmessage = () => {{ shown[s] = performance.now(); window.onshown?.(s); }}; \
           requestAnimationFrame(() => c.port2.postMessage(0)); }} }}).observe(document, {{childList: true, subtree: true}});",
        json!(selectors)
    );
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source }));
}

const BENCH: &str = "[data-test=ask-brace]";
const SETTING: &str = "[data-test=setting]";

fn shown(browser: &Browser, selector: &str) -> f64 {
    browser.until(&format!("return typeof window.shown?.[{selector:?}] === 'number'"), selector);
    let at = browser.run(&format!("return window.shown[{selector:?}]"));
    at.as_f64().expect("a time")
}

/// From navigation to the painted bench: a first visit, and from the device's own store.
fn start_up(files: &Files) {
    let mut rows: Vec<[Vec<f64>; 2]> = Vec::new();
    for rate in [1, 4] {
        let (mut cold, mut warm) = (Vec::new(), Vec::new());
        for _ in 0..5 {
            let browser = Browser::start();
            let site = Site::serve(files.clone(), "");
            note_when_shown(&browser, &[BENCH]);
            throttle(&browser, rate);
            browser.go(&site.address);
            cold.push(shown(&browser, BENCH));
            browser.until(
                "return document.documentElement.dataset.offlineReady !== undefined",
                "the app to be stored",
            );
            for _ in 0..3 {
                browser.go("about:blank");
                browser.go(&site.address);
                warm.push(shown(&browser, BENCH));
            }
        }
        rows.push([cold, warm]);
    }
    println!(
        "\n{:<44}{:>9}{:>9}{:>8}",
        "start-up, navigation to painted bench", "plain", "CPU / 4", "ratio"
    );
    for (i, name) in
        ["first visit (files from this machine)", "from the device's store"].iter().enumerate()
    {
        let (plain, slow) = (median(&rows[0][i]), median(&rows[1][i]));
        println!("{name:<44}{plain:>9.0}{slow:>9.0}{:>8.1}", slow / plain);
    }
}

/// A real key down to the frame that shows its answer.
///
/// *thread* is the processor time of the page's own thread for a key, all told: solving, drawing,
/// laying out, painting, less what driving the page costs; other programs on the machine do not count. *painted* is what a clock says from
/// the key to after the paint, so it holds the wait for the next frame as well, and whatever else the
/// machine does.
fn typing(files: &Files) {
    let browser = Browser::start();
    let site = Site::serve(files.clone(), "");
    println!(
        "\n{:<18}{:>9}{:>9}{:>9}{:>12}{:>13}{:>9}",
        "key to answer", "thread", "painted", "95 %", "thread / 4", "painted / 4", "ratio"
    );
    let mut most = [0.0_f64; 2];
    for layout in layouts::all().iter().filter(|l| l.has_screen()) {
        let Some(field) = layout
            .forms()
            .first()
            .and_then(|f| f.fields.iter().find(|f| matches!(f.kind, Kind::Length(_))))
        else {
            continue;
        };
        let mut cells = Vec::new();
        for rate in [1, 4] {
            browser.go("about:blank");
            browser.go(&format!("{}#/{}", site.address, layout.id()));
            browser.until("return document.querySelector('.drawing svg') !== null", "the drawing");
            open(&browser, field.key);
            throttle(&browser, rate);
            let (thread, painted) = keys(&browser, layout.id());
            throttle(&browser, 1);
            cells.push([thread, median(&painted), high(&painted)]);
        }
        let [plain, slow] = [cells[0], cells[1]];
        most = [most[0].max(plain[0]), most[1].max(slow[0])];
        println!(
            "{:<18}{:>9.1}{:>9.1}{:>9.1}{:>12.1}{:>13.1}{:>9.1}",
            layout.id(),
            plain[0],
            plain[1],
            plain[2],
            slow[0],
            slow[1],
            slow[0] / plain[0]
        );
    }
    println!(
        "most: {:.1} plain (aim 16), {:.1} with the processor throttled (aim 50)",
        most[0], most[1]
    );
    for (name, rate) in [("frames while typing", 1), ("frames while typing, CPU / 4", 4)] {
        throttle(&browser, rate);
        let frames = frames(&browser);
        println!(
            "{name:<30} median {:.1}, longest {:.1}, over 25 ms: {} of {}",
            median(&frames),
            frames.iter().copied().fold(0.0, f64::max),
            frames.iter().filter(|f| **f > 25.0).count(),
            frames.len()
        );
    }
}

/// Opens the field in words, which every field has, whatever the drawing shows.
fn open(browser: &Browser, key: &str) {
    browser.run("document.querySelector('details.more').open = true;");
    browser.run(&format!(
        "const e = document.querySelector('[data-test=field-{key}]'); e.focus(); e.setSelectionRange(e.value.length, e.value.length);"
    ));
}

/// Milliseconds of processor time that the page's thread has spent in tasks.
fn thread_time(browser: &Browser) -> f64 {
    let all = browser.devtools("Performance.getMetrics", json!({}));
    all["metrics"]
        .as_array()
        .into_iter()
        .flatten()
        .find(|m| m["name"] == "TaskDuration")
        .and_then(|m| m["value"].as_f64())
        .expect("the browser counts its tasks")
        * 1000.0
}

/// Types and takes back a digit, over and over: thread time a key, and each key's time to its paint.
fn keys(browser: &Browser, layout: &str) -> (f64, Vec<f64>) {
    browser.run(
        "window.keys = []; let from = 0; \
         addEventListener('keydown', e => { from = e.timeStamp; }, true); \
         addEventListener('input', () => { const t = from; requestAnimationFrame(() => { \
           const c = new MessageChannel(); c.port1.onmessage = () => window.keys.push(performance.now() - t); \
           c.port2.postMessage(0); }); }, true);",
    );
    browser.devtools("Performance.enable", json!({"timeDomain": "threadTicks"}));
    // A key that types nothing tells what driving the page costs.
    let (warm, keys) = (6, 40);
    let run = |typed: bool| -> f64 {
        let mut before = 0.0;
        for n in 1..=keys {
            // A digit, and the key that takes it back; or Shift.
            let key = match (typed, n % 2) {
                (false, _) => "\u{e008}",
                (true, 1) => "1",
                (true, _) => "\u{e003}",
            };
            browser.type_keys(key);
            std::thread::sleep(std::time::Duration::from_millis(30));
            let wanted = if typed { n } else { 0 };
            browser.until(&format!("return window.keys.length === {wanted}"), layout);
            if n == warm {
                before = thread_time(browser);
            }
        }
        (thread_time(browser) - before) / f64::from(keys - warm)
    };
    let idle = run(false);
    let thread = run(true) - idle;
    browser.devtools("Performance.disable", json!({}));
    let all = browser.run("return window.keys");
    let painted = all
        .as_array()
        .into_iter()
        .flatten()
        .skip(warm as usize)
        .filter_map(Value::as_f64)
        .collect();
    (thread, painted)
}

/// A piece of 60 kinds of parts with 20 packs, 2 cans and 5 steps, cut from one stock that has a price.
fn much_to_price() -> Bench {
    let shop = Shop::default();
    let mut bench = Bench::default();
    let work: &mut Work = &mut bench.work;
    let stock = work.rack.stocks.first().expect("a sample").id;
    for i in 0..60 {
        work.apply(WorkEdit::AddPart(LOOSE), &shop);
        let id = work.parts.last().expect("a part").id;
        let (name, length) = (format!("Part {i}"), format!("{}", 6 + i % 23));
        for (key, text) in [("name", name), ("length", length), ("count", "2".into())] {
            work.apply(WorkEdit::Part { id, key, text }, &shop);
        }
        work.apply(WorkEdit::CutFrom { id: Some(id), stock: Some(stock) }, &shop);
    }
    let mut put = |list: List, count: usize, texts: &[(&'static str, &str)]| {
        for at in 0..count {
            let (piece, key, text) = (LOOSE, "name", format!("{} {at}", list.word()));
            work.apply(WorkEdit::AddLine { piece, list, key, text }, &shop);
            for (key, text) in texts {
                let row = PriceRow::Line(list, at);
                work.apply(WorkEdit::Price { piece, row, key, text: (*text).into() }, &shop);
            }
        }
    };
    put(List::Hardware, 20, &[("per_piece", "7"), ("pack", "12"), ("pack_price", "4.50")]);
    put(
        List::Finish,
        2,
        &[("coats", "2"), ("covers", "75"), ("can_price", "18.95"), ("area", "9")],
    );
    put(List::Steps, 5, &[("set_up", "12"), ("each", "9 1/2")]);
    for (row, key, text) in [(PriceRow::Rates, "rate", "24"), (PriceRow::Terms, "want", "12")] {
        work.apply(WorkEdit::Price { piece: LOOSE, row, key, text: text.into() }, &shop);
    }
    bench
}

/// A figure typed in *Price* down to the frame that shows its sums, with all plans here.
fn price(files: &Files) {
    let browser = Browser::start();
    let site = Site::serve(files.clone(), "");
    browser.go(&site.address);
    let started = "return document.documentElement.dataset.started !== undefined";
    browser.until(started, "the app");
    browser.run(&format!(
        "localStorage.setItem('offsquare.bench', {}); delete document.documentElement.dataset.started; \
         location.hash = '#/price'; location.reload()",
        json!(save::write(&much_to_price()))
    ));
    browser.until(started, "the app");
    println!("\na figure typed in the price of 60 parts, 20 packs, 24 batches, ms");
    for (name, rate) in [("plain (aim 16)", 1), ("CPU / 4", 4)] {
        for field in ["hardware-0-pack_price", "rates-rate"] {
            // Each on a page of its own, whose keys nobody else counts.
            browser.run("delete document.documentElement.dataset.started; location.reload()");
            browser.until(started, "the app");
            browser.until(
                "return document.querySelectorAll('.curve circle').length === 24",
                "the costs of all batches",
            );
            // The planner goes on for a while; its plans come beside what is typed.
            std::thread::sleep(std::time::Duration::from_secs(8));
            browser.run(&format!(
                "const e = document.getElementById({field:?}); e.focus(); e.setSelectionRange(e.value.length, e.value.length);"
            ));
            throttle(&browser, rate);
            let (thread, painted) = keys(&browser, field);
            throttle(&browser, 1);
            let (median, high) = (median(&painted), high(&painted));
            println!(
                "{name:<16}{field:<24}thread {thread:.1}, painted {median:.1}, 95 % {high:.1}"
            );
        }
    }
}

/// The time between frames while ten digits a second are typed.
fn frames(browser: &Browser) -> Vec<f64> {
    browser.run(
        "window.frames_seen = []; let last = null; const tick = t => { if (last !== null) window.frames_seen.push(t - last); \
         last = t; requestAnimationFrame(tick); }; requestAnimationFrame(tick);",
    );
    for n in 0..30 {
        browser.type_keys(if n % 2 == 0 { "1" } else { "\u{e003}" });
        std::thread::sleep(std::time::Duration::from_millis(90));
    }
    let all = browser.run("return window.frames_seen");
    all.as_array().into_iter().flatten().filter_map(Value::as_f64).collect()
}

/// First visit to first answer over an emulated slow 4G: 1.6 Mbit/s down, 0.75 up, 150 ms a request.
fn slow_network(files: &Files) {
    let compressed: Files = files.iter().map(|(n, b)| (n.clone(), brotli(b))).collect();
    // When bench and answer were painted; from the bench the first question is tapped.
    let visit = |rate: u32, place: &str| {
        let browser = Browser::start();
        let site = Site::serve_encoded(compressed.clone(), "", "br");
        note_when_shown(&browser, &[BENCH, SETTING]);
        let tap = format!(
            "if (!location.hash) window.onshown = s => {{ if (s === {BENCH:?}) document.querySelector(s).click(); }};"
        );
        browser.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": tap }));
        browser.devtools("Network.enable", json!({}));
        browser.devtools(
            "Network.emulateNetworkConditions",
            json!({
                "offline": false, "latency": 150,
                "downloadThroughput": 1.6e6 / 8.0, "uploadThroughput": 0.75e6 / 8.0,
            }),
        );
        throttle(&browser, rate);
        browser.go(&format!("{}{place}", site.address));
        let bench = place.is_empty().then(|| shown(&browser, BENCH));
        (bench.unwrap_or(f64::NAN), shown(&browser, SETTING))
    };
    let of = |rate: u32, place: &str| {
        let (bench, answer): (Vec<f64>, Vec<f64>) = (0..3).map(|_| visit(rate, place)).unzip();
        (median(&bench), median(&answer))
    };
    let ((bench, answer), (_, slow)) = (of(1, ""), of(4, ""));
    println!("\nfirst visit over a slow 4G (1.6 Mbit/s, 150 ms a request, files as brotli)");
    println!(
        "painted bench {bench:.0}, first answer {answer:.0}, with CPU / 4 {slow:.0} ({:.1} times)",
        slow / answer
    );
    println!("first answer where the address asks for it:");
    for place in ["#/brace", "#/spacing", "#/post_stand"] {
        println!("  {place:<14}{:.0}", of(1, place).1);
    }
    println!(
        "Storing the files for offline use starts after that and is not slowed by the emulation."
    );
}

fn brotli(bytes: &[u8]) -> Vec<u8> {
    let settings =
        brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 24, ..Default::default() };
    let mut out = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut out, &settings).expect("memory takes it");
    out
}

fn sorted(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
}

fn median(values: &[f64]) -> f64 {
    sorted(values).get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// The value that one in twenty is above.
fn high(values: &[f64]) -> f64 {
    sorted(values).get(values.len() * 19 / 20).copied().unwrap_or(f64::NAN)
}
