//! At the saw on a phone of 360 by 640 px: a batch of gates walked to its end offline, twice left and found again; skipped,
//! read aloud, kept awake; test cuts.

use crate::device::{kept, start_with, until_kept};
use crate::{STARTED, dist, visit};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use offsquare_work::piece::{Shop, Work, WorkEdit};
use offsquare_work::save::{self, Bench};
use serde_json::{Value, json};
use std::time::Duration;

/// A bench with the gate of the examples, made so often.
fn gates(batch: &str) -> String {
    let shop = Shop::default();
    let mut work = Work::default();
    let id = work.next_piece();
    work.apply(WorkEdit::AddPiece { pattern: None }, &shop);
    work.apply(WorkEdit::Example(id, 0), &shop);
    work.apply(WorkEdit::Piece { id, key: "batch", text: batch.to_owned() }, &shop);
    save::write(&Bench { work, ..Bench::default() })
}

/// The app with that bench, at the place at the saw; what is kept is kept before the app starts.
fn at_the_saw(browser: &Browser, site: &Site, bench: &str) {
    browser.screen(360, 640);
    visit(browser, site);
    browser.go("about:blank");
    browser.go(&format!("{}#/", site.address));
    browser.until(STARTED, "the app to start");
    start_with(browser, bench);
    browser.screen(360, 640);
    browser.run("location.hash = '#/piece/1/saw';");
}

fn start(browser: &Browser) {
    browser.until(
        "const e = document.querySelector('[data-test=start-run]'); return e !== null && !e.disabled",
        "the boards to be planned",
    );
    // The search may still go on: what is shown when it ends is what is cut.
    browser.until("return !document.body.textContent.includes('being planned')", "the plan");
    browser.tap("[data-test=start-run]");
    browser.until("return document.querySelector('[data-test=done]') !== null", "the first card");
}

fn reopen(browser: &Browser, site: &Site) {
    browser.go("about:blank");
    browser.go(&format!("{}#/piece/1/saw", site.address));
    browser.until(STARTED, "the app to start without a server");
    browser.screen(360, 640);
    browser.until("return document.querySelector('[data-test=done]') !== null", "the run again");
}

fn count(browser: &Browser) -> (u64, u64) {
    let text = browser.text("[data-test=count]");
    let mut numbers = text.split(" of ").map(|n| n.parse().expect("a number"));
    (numbers.next().expect("which"), numbers.next().expect("of how many"))
}

/// Goes on by so many steps, each tapped when the one before is painted; gives the longest time from a tap to the frame
/// in which the next card stands, in ms, and in how many frames it stood there.
fn on(browser: &Browser, steps: u64) -> (f64, u64) {
    let took = browser.wait_for(
        "const frame = () => new Promise(r => requestAnimationFrame(r)); \
         let longest = 0, most = 0; \
         for (let i = 0; i < args[0]; i++) { \
           const key = document.querySelector('[data-test=done]'); if (!key) break; \
           const before = document.querySelector('[data-test=count]').textContent; \
           await frame(); const t = performance.now(); key.click(); let frames = 0; \
           do { await frame(); frames++; } while (document.querySelector('[data-test=count]').textContent === before && frames < 60); \
           longest = Math.max(longest, performance.now() - t); most = Math.max(most, frames); \
         } return [longest, most];",
        &[json!(steps)],
    );
    (took[0].as_f64().expect("ms"), took[1].as_u64().expect("frames"))
}

pub fn shot(browser: &Browser, name: &str) {
    let Ok(folder) = std::env::var("SHOTS") else { return };
    let png = browser.devtools("Page.captureScreenshot", json!({"format": "png"}));
    let script = png["data"].as_str().expect("a picture").to_owned();
    let bytes = base64(&script);
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(format!("{folder}/{name}.png"), bytes).expect("a picture");
}

fn base64(text: &str) -> Vec<u8> {
    use base64::Engine as _;
    base64::engine::general_purpose::STANDARD.decode(text).expect("base64")
}

#[test]
fn twelve_gates_are_walked_to_the_end_and_found_again_twice() {
    let profile = std::env::temp_dir().join(format!("offsquare-saw-{}", std::process::id()));
    let browser = Browser::start_again(&profile);
    let site = Site::serve(dist(), "some/folder/");
    at_the_saw(&browser, &site, &gates("12"));
    site.stop();
    start(&browser);
    shot(&browser, "first");
    let (first, all) = count(&browser);
    assert_eq!(first, 1);
    assert!(all >= 180, "{all}");
    // A thumb: the key is the lower half of the screen.
    let half = browser.run(
        "const r = document.querySelector('[data-test=done]').getBoundingClientRect(); \
         return [r.top, r.bottom, r.left, r.right, innerHeight, innerWidth];",
    );
    assert_eq!(half[4], json!(640));
    let px = |i: usize| half[i].as_f64().expect("px");
    assert!(px(0) <= px(4) / 2.0 + 1.0 && px(1) >= px(4) - 1.0, "{half}");
    assert!(px(2) <= 1.0 && px(3) >= px(5) - 1.0, "{half}");
    // A hasty second tap is none.
    browser.double_tap("[data-test=done]");
    browser.settle();
    assert_eq!(count(&browser).0, 2);
    for n in 3..=6 {
        std::thread::sleep(Duration::from_millis(350));
        browser.tap("[data-test=done]");
        browser.settle();
        assert_eq!(count(&browser).0, n);
    }
    press(&browser, "[data-test=untick]");
    browser.settle();
    assert_eq!(count(&browser).0, 5);
    let (longest, frames) = on(&browser, all / 3);
    println!("a tap to the next card: {longest:.1} ms at most, {frames} frames at most");
    assert!(frames <= 1, "{frames} frames");
    let place = count(&browser);
    let title = browser.text(".step h2");
    let browser = killed(browser, &site, &profile, place.0);
    assert_eq!((count(&browser), browser.text(".step h2")), (place, title));
    shot(&browser, "middle");
    on(&browser, all / 3);
    let place = count(&browser);
    let browser = killed(browser, &site, &profile, place.0);
    assert_eq!(count(&browser), place);
    on(&browser, all);
    browser.until("return document.querySelector('[data-test=end-run]') !== null", "the end");
    shot(&browser, "end");
    until_kept(&browser, &format!("file.bench.work.begun?.[0].done.length === {all}"));
    let done = kept(&browser, "file.bench.work.begun[0].done");
    let mut ticks: Vec<String> =
        done.as_array().expect("ticks").iter().map(Value::to_string).collect();
    ticks.sort();
    ticks.dedup();
    assert_eq!(ticks.len() as u64, all, "every step once");
    end_all_cut(&browser);
    drop(browser);
    let _ = std::fs::remove_dir_all(&profile);
}

/// The browser's own process is ended once it has kept the steps before this one; another one opens the app.
fn killed(browser: Browser, site: &Site, profile: &std::path::Path, step: u64) -> Browser {
    until_kept(&browser, &format!("file.bench.work.begun?.[0].done.length === {}", step - 1));
    browser.kill();
    drop(browser);
    let browser = Browser::start_again(profile);
    reopen(&browser, site);
    browser
}

/// After each single step of a small run the page is loaded anew: the place is the same.
#[test]
fn the_place_is_kept_at_every_step() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    at_the_saw(&browser, &site, &gates("1"));
    start(&browser);
    let (_, all) = count(&browser);
    for n in 1..=all {
        assert_eq!(count(&browser), (n, all));
        on(&browser, 1);
        if n < all {
            reopen(&browser, &site);
        }
    }
    browser.until("return document.querySelector('[data-test=end-run]') !== null", "the end");
}

/// A knot: the part is planned anew beside the page, what changed is said, and the run comes to its end; taken back, it is
/// as if it had not been.
#[test]
fn what_is_skipped_is_planned_anew() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    at_the_saw(&browser, &site, &gates("1"));
    start(&browser);
    let (_, all) = count(&browser);
    on(&browser, 4);
    browser.tap("[data-test=more]");
    browser.tap("[data-test=skip]");
    std::thread::sleep(Duration::from_millis(350));
    shot(&browser, "skip");
    browser.tap("[data-test=skip-knot]");
    browser.until(
        "return /planned anew, cut from board|no board is left/.test(document.querySelector('[data-test=skipped]')?.textContent ?? '')",
        "what changed to be said",
    );
    shot(&browser, "skipped");
    let said = browser.text("[data-test=skipped]");
    assert!(said.starts_with("Knot: ") && said.contains("planned anew"), "{said}");
    let before = count(&browser);
    assert!(before.1 >= all, "{before:?}");
    reopen(&browser, &site);
    assert_eq!(count(&browser), before);
    browser.tap("[data-test=untick]");
    browser.settle();
    assert_eq!(count(&browser), (5, all));
    on(&browser, 1);
    browser.tap("[data-test=more]");
    browser.tap("[data-test=skip]");
    press(&browser, "[data-test=skip-board]");
    browser.until(
        "return /planned anew/.test(document.querySelector('[data-test=skipped]')?.textContent ?? '')",
        "the board's parts to be planned anew",
    );
    on(&browser, 400);
    end_all_cut(&browser);
}

/// Put in before the page's own scripts.
fn before(browser: &Browser, script: &str) {
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script }));
}

#[test]
fn the_screen_is_kept_awake_where_it_can_be() {
    let absent =
        "Object.defineProperty(navigator, 'wakeLock', {value: undefined, configurable: true});";
    let refused = "Object.defineProperty(navigator, 'wakeLock', {configurable: true, \
        value: {request: () => Promise.reject(new DOMException('no', 'NotAllowedError'))}});";
    let working = "window.locks = 0; window.lock = null; Object.defineProperty(navigator, 'wakeLock', {configurable: true, \
        value: {request: kind => { window.locks += kind === 'screen'; const l = new EventTarget(); \
        l.release = () => { window.locks -= 1; l.dispatchEvent(new Event('release')); return Promise.resolve(); }; \
        window.lock = l; return Promise.resolve(l); }}});";
    for (script, sign) in [(absent, "not"), (refused, "not"), (working, "held")] {
        let browser = Browser::start();
        before(&browser, script);
        let site = Site::serve(dist(), "");
        at_the_saw(&browser, &site, &gates("1"));
        start(&browser);
        browser.until(
            &format!(
                "return document.querySelector('[data-test=awake]').dataset.awake === {sign:?}"
            ),
            "the sign",
        );
        browser.tap("[data-test=done]");
        browser.settle();
        assert_eq!(count(&browser).0, 2, "the run goes on");
        if sign == "held" {
            assert_eq!(browser.run("return window.locks"), json!(1));
            // Taken back, as it is when another page is looked at, and asked for again when this one is seen.
            browser.run("window.lock.dispatchEvent(new Event('release')); window.locks = 0;");
            browser.until(
                "return document.querySelector('[data-test=awake]').dataset.awake === 'not'",
                "the sign that it is gone",
            );
            browser.run("document.dispatchEvent(new Event('visibilitychange'));");
            browser.until(
                "return document.querySelector('[data-test=awake]').dataset.awake === 'held'",
                "it to be held again",
            );
            browser.run("location.hash = '#/';");
            browser.until("return window.locks === 0", "it to be let go of");
        }
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

#[test]
fn a_card_is_read_aloud_where_it_can_be() {
    let absent = "delete window.speechSynthesis; Object.defineProperty(window, 'speechSynthesis', {value: undefined, configurable: true});";
    let voice = |then: &str| {
        format!(
            "window.heard = []; window.SpeechSynthesisUtterance = class {{ constructor(t) {{ this.text = t; }} }}; \
             Object.defineProperty(window, 'speechSynthesis', {{configurable: true, value: {{cancel() {{}}, \
             speak(u) {{ window.heard.push(u.text); {then} }}}}}});"
        )
    };
    let (works, fails) =
        (voice(""), voice("setTimeout(() => u.onerror?.({error: 'not-allowed'}), 20);"));
    for (script, said) in [
        (absent, "This browser does not read aloud."),
        (&fails, "This browser does not read aloud."),
        (&works, "Reading."),
    ] {
        let browser = Browser::start();
        before(&browser, script);
        let site = Site::serve(dist(), "");
        at_the_saw(&browser, &site, &gates("1"));
        start(&browser);
        let title = browser.text(".step h2");
        browser.tap("[data-test=more]");
        std::thread::sleep(Duration::from_millis(350));
        browser.tap("[data-test=read]");
        browser.until(
            &format!("return document.querySelector('[data-test=voice]').textContent === {said:?}"),
            "what is said of it",
        );
        if script != absent {
            let heard = browser.run("return window.heard[0]");
            assert!(
                heard.as_str().is_some_and(|t| t.starts_with(&title) && t.contains("Mark")),
                "{heard}"
            );
        }
    }
}

/// A measured angle is typed, told on the card, kept over a reload, and forgotten with one tap.
#[test]
fn a_test_cut_corrects_the_card() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    at_the_saw(&browser, &site, &gates("1"));
    start(&browser);
    let mut tests = false;
    for _ in 0..60 {
        tests = browser.run(
            "return document.querySelector('[data-test=test-cut]') !== null \
               && document.querySelector('.reading .big').textContent !== '0\u{b0}'",
        ) == json!(true);
        if tests {
            break;
        }
        on(&browser, 1);
    }
    assert!(tests, "a setting that is not square");
    shot(&browser, "setting");
    // Cap sides are cut at 45.
    let big = browser.text(".reading .big");
    assert!(big.starts_with("45"), "{big}");
    press(&browser, "[data-test=test-cut]");
    std::thread::sleep(Duration::from_millis(350));
    browser.run("document.querySelector('#measured-miter').focus()");
    browser.type_keys("46.5");
    shot(&browser, "test-cut");
    keep_test(&browser);
    browser.until(
        "return document.querySelector('.reading .big').textContent.startsWith('43')",
        "the corrected setting",
    );
    let way = browser.text(".reading .way");
    assert!(way.contains("test cut") && way.contains("1.5\u{b0} less"), "{way}");
    std::thread::sleep(Duration::from_millis(300));
    reopen(&browser, &site);
    assert!(browser.text(".reading .big").starts_with("43"));
    forget_test(&browser);
    browser.until(
        "return document.querySelector('.reading .big').textContent.startsWith('45')",
        "the scale to be believed again",
    );
}

/// Two halves of a square test cut: the gap over the cut's length, typed, is told on the card as half its angle, kept over
/// a reload, and forgotten with one tap.
#[test]
fn a_square_test_cut_is_told_wherever_the_saw_is_square() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    at_the_saw(&browser, &site, &gates("1"));
    start(&browser);
    assert_eq!(browser.text(".reading .big"), "0\u{b0}");
    browser.tap("[data-test=test-cut]");
    std::thread::sleep(Duration::from_millis(350));
    for (id, text) in [("gap-miter", "1/16"), ("along-miter", "5 1/2")] {
        browser.run(&format!("document.querySelector('#{id}').focus()"));
        browser.type_keys(text);
    }
    shot(&browser, "square-test");
    browser.run("document.activeElement.blur()");
    browser.settle();
    keep_test(&browser);
    browser.settle();
    // atan(0.0625 / 11) = 0.33°; open near you, it was cut to the left.
    let told = |browser: &Browser| {
        let (big, way) = (browser.text(".reading .big"), browser.text(".reading .way"));
        assert!(big.starts_with("0.3") && way.starts_with("Square, right of the 0"), "{big} {way}");
    };
    told(&browser);
    shot(&browser, "off-square");
    std::thread::sleep(Duration::from_millis(300));
    reopen(&browser, &site);
    told(&browser);
    on(&browser, 1);
    told(&browser);
    forget_test(&browser);
    browser.settle();
    assert_eq!(browser.text(".reading .big"), "0\u{b0}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// While a run is on, the bench, its piece and its boards say so, with the way back to it.
#[test]
fn a_run_is_told_elsewhere_with_the_way_back() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    at_the_saw(&browser, &site, &gates("1"));
    start(&browser);
    let (_, all) = count(&browser);
    on(&browser, 3);
    for place in ["#/", "#/piece/1", "#/piece/1/boards"] {
        browser.run(&format!("location.hash = '{place}'"));
        let said = format!("3 of {all} steps done");
        browser.until(
            &format!("return document.querySelector('[data-test=at-the-saw] small')?.textContent === {said:?}"),
            place,
        );
        shot(&browser, &format!("told-{}", place.len()));
        std::thread::sleep(Duration::from_millis(350));
        browser.tap("[data-test=at-the-saw]");
        browser.until("return document.querySelector('[data-test=done]') !== null", "the run");
        assert_eq!(count(&browser), (4, all));
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A tap where something stood a moment ago would be taken for a second tap of the same.
fn press(browser: &Browser, selector: &str) {
    std::thread::sleep(Duration::from_millis(350));
    browser.tap(selector);
}

/// The measured test cut corrects the saw from now on.
fn keep_test(browser: &Browser) {
    browser.tap("[data-test=keep-test]");
    browser
        .until("return document.querySelector('[data-test=corrected]') !== null", "the correction");
    browser.tap("#sheet-close");
}

/// The saw's scale is believed again.
fn forget_test(browser: &Browser) {
    browser.tap("[data-test=more]");
    press(browser, "[data-test=test]");
    press(browser, "[data-test=forget-test]");
    browser
        .until("return document.querySelector('[data-test=corrected]') === null", "it to be gone");
    browser.tap("#sheet-close");
}

/// Ends the run: all parts count as cut, and nothing was complained of.
fn end_all_cut(browser: &Browser) {
    browser.tap("[data-test=end-run]");
    until_kept(
        browser,
        "!file.bench.work.begun?.length && file.bench.work.parts.every(p => p.done)",
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
