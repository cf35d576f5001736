//! The app's own screens while sixty parts are planned: frames, and how soon a tap is answered.

use super::figures::three;
use offsquare_tests::driver::Browser;
use offsquare_tests::site::{Files, Site};
use serde_json::{Value, json};

/// Sixty parts, mitered in ways that do not go into one another, so that the search is long.
fn table() -> String {
    let mut dice = super::jobs::Dice(77);
    let angles = ["0", "15", "22.5", "30", "45", "37.3", "41.9", "12.7"];
    let mut text = String::from("Part\tQty\tLength\tStock\tLeft end\tRight end\tGood face\n");
    for i in 0..60 {
        let length = dice.between(128, 1088);
        let (left, right) =
            (angles[dice.between(0, 7) as usize], angles[dice.between(0, 7) as usize]);
        let sign = if dice.chance(0.5) { "" } else { "-" };
        let face = if dice.chance(0.3) { "one" } else { "both" };
        text.push_str(&format!(
            "Part {}\t1\t{} {}/16\t1x4\t{left}\t{sign}{right}\t{face}\n",
            i + 1,
            length / 16,
            length % 16
        ));
    }
    text
}

pub fn run(files: &Files) {
    for (name, rate) in [("", 1), (", CPU / 4", 4)] {
        let browser = Browser::start();
        let site = Site::serve(files.clone(), "");
        browser.go(&format!("{}#/parts", site.address));
        browser.until("return document.querySelector('[data-test=paste]') !== null", "the app");
        browser.run(
            "window.said = []; const W = window.Worker; \
             window.Worker = class extends W { constructor(...a) { super(...a); \
             this.addEventListener('message', e => window.said.push(performance.now())); } }; \
             window.taps = []; \
             addEventListener('click', e => { if (!window.counting) return; requestAnimationFrame(() => { \
               const c = new MessageChannel(); c.port1.onmessage = () => taps.push(performance.now() - e.timeStamp); \
               c.port2.postMessage(0); }); }, true); \
             window.frames_seen = []; let last = null; const tick = t => { \
               if (window.counting && last !== null) frames_seen.push(t - last); last = t; requestAnimationFrame(tick); }; \
             requestAnimationFrame(tick);",
        );
        browser.tap("[data-test=paste]");
        browser.run(&format!(
            "const e = document.querySelector('[data-test=pasted]'); e.value = {:?}; \
             e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));",
            table()
        ));
        browser.until(
            "return document.querySelector('[data-test=paste-report]').textContent.includes('60 understood')",
            "the report",
        );
        browser.tap("[data-test=paste-add]");
        // With nothing left over the sheet closes by itself.
        browser.run("document.getElementById('sheet-close')?.click();");
        browser.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": rate }));
        browser.tap("[data-test=to-boards]");
        browser.until(
            "return document.querySelector('[data-test=stop]') !== null && document.querySelector('[data-test=order]') !== null",
            "a first plan, the search still on",
        );
        let at_work = taps(&browser);
        let stop = browser.run("return document.querySelector('[data-test=stop]') !== null");
        if stop == Value::Bool(true) {
            browser.tap("[data-test=stop]");
        }
        browser.until(
            "return document.querySelector('[data-test=stop]') === null",
            "the search stopped",
        );
        std::thread::sleep(std::time::Duration::from_millis(300));
        let at_rest = taps(&browser);
        for (when, seen) in [("planned", at_work), ("at rest", at_rest)] {
            println!(
                "60 parts{name}, {when:<8} frames {} ms, a tap to its paint {} ms (median / 95th / most), the page's thread at work {:.0} ms ({:.0} code, {:.0} style and layout), {} messages meanwhile",
                three(&seen.frames),
                three(&seen.taps),
                seen.thread[0],
                seen.thread[1],
                seen.thread[2],
                seen.messages
            );
        }
        if stop != Value::Bool(true) {
            println!("    the search ended before the last tap");
        }
    }
}

/// What the page did meanwhile, in milliseconds.
struct Taps {
    frames: Vec<f64>,
    taps: Vec<f64>,
    /// Processor time of all its tasks, of its code, of styles and layout.
    thread: [f64; 3],
    messages: u64,
}

/// Opens and shuts the order of cuts ten times.
fn taps(browser: &Browser) -> Taps {
    browser.devtools("Performance.enable", json!({"timeDomain": "threadTicks"}));
    let before = thread_time(browser);
    browser.run("taps.length = frames_seen.length = said.length = 0; window.counting = true;");
    for _ in 0..10 {
        browser.tap("[data-test=order]");
        std::thread::sleep(std::time::Duration::from_millis(60));
    }
    std::thread::sleep(std::time::Duration::from_millis(100));
    let all = browser.run("window.counting = false; return [frames_seen, taps, said.length]");
    let after = thread_time(browser);
    let thread = [0, 1, 2].map(|i| after[i] - before[i]);
    browser.devtools("Performance.disable", json!({}));
    let list = |v: &Value| -> Vec<f64> {
        v.as_array().into_iter().flatten().filter_map(Value::as_f64).collect()
    };
    Taps {
        frames: list(&all[0]),
        taps: list(&all[1]),
        thread,
        messages: all[2].as_u64().unwrap_or(0),
    }
}

/// Milliseconds of processor time that the page's thread has spent: all tasks, code, styles and layout.
fn thread_time(browser: &Browser) -> [f64; 3] {
    let all = browser.devtools("Performance.getMetrics", json!({}));
    let list = all["metrics"].as_array().expect("metrics");
    let spent = |name: &str| {
        let found = list.iter().find(|m| m["name"] == name);
        let seconds = found.and_then(|m| m["value"].as_f64());
        seconds.expect("the browser counts its tasks") * 1000.0
    };
    [
        spent("TaskDuration"),
        spent("ScriptDuration"),
        spent("RecalcStyleDuration") + spent("LayoutDuration"),
    ]
}
