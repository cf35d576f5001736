//! From parts to boards on a phone: pasted, planned beside the page, stopped, put away, undone; offline.

use crate::device::until_kept;
use crate::{STARTED, dist, visit};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use serde_json::Value;

/// Sixty parts, mitered in ways that do not go into one another, so that the search is long; one line is nonsense.
fn table() -> String {
    let mut seed = 77u64;
    let mut next = move |n: u64| {
        seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (seed >> 33) % n
    };
    let angles = ["0", "15", "22.5", "30", "45", "37.3", "41.9", "12.7"];
    let mut text = String::from("Part\tQty\tLength\tStock\tLeft end\tRight end\tGood face\n");
    text.push_str("Slat\t1\t30\t1x2\t0\t0\tboth\n");
    for i in 1..60 {
        let length = 128 + next(960);
        let (left, right) = (angles[next(8) as usize], angles[next(8) as usize]);
        let sign = if next(2) == 0 { "" } else { "-" };
        let face = if next(3) == 0 { "one" } else { "both" };
        text.push_str(&format!(
            "Part {}\t1\t{} {}/16\t1x4\t{left}\t{sign}{right}\t{face}\n",
            i + 1,
            length / 16,
            length % 16
        ));
    }
    text.push_str("Nonsense\t1\tabout a foot\t1x4\t0\t0\tboth\n");
    text
}

/// Puts a text into a field as a paste does.
fn put(browser: &Browser, selector: &str, text: &str) {
    browser.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
    browser.run(&format!(
        "const e = document.querySelector({selector:?}); e.value = {text:?}; \
         e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
    ));
}

fn count(browser: &Browser, selector: &str) -> u64 {
    browser
        .run(&format!("return document.querySelectorAll({selector:?}).length"))
        .as_u64()
        .unwrap_or(0)
}

#[test]
fn sixty_parts_are_planned_beside_a_page_that_answers() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    site.stop();
    browser.go("about:blank");
    browser.go(&format!("{}#/parts", site.address));
    browser.until(STARTED, "the app to start without a server");
    // Every message of the planner is noted with its time.
    browser.run(
        "window.said = []; const W = window.Worker; \
         window.Worker = class extends W { constructor(...a) { super(...a); \
         this.addEventListener('message', e => window.said.push([performance.now(), e.data])); } };",
    );
    browser.tap("[data-test=paste]");
    put(&browser, "[data-test=pasted]", &table());
    browser.until(
        "return document.querySelector('[data-test=paste-report]').textContent.includes('60 understood, 1 not.')",
        "the report",
    );
    let report = browser.text("[data-test=paste-report]");
    assert!(report.contains("Line 62:") && report.contains("about a foot"), "{report}");
    browser.tap("[data-test=paste-add]");
    let left = browser.run("return document.querySelector('[data-test=pasted]').value");
    assert!(left.as_str().is_some_and(|t| t.lines().count() == 2), "{left}");
    browser.tap("#sheet-close");
    assert_eq!(count(&browser, "[data-test=part]"), 60);

    browser.tap("[data-test=to-boards]");
    browser.until(
        "return document.querySelector('[data-test=stop]') !== null \
         && (document.querySelector('[data-test=proof]')?.textContent ?? '').includes('cheapest')",
        "a plan of everything, the search still on",
    );
    // A tap while the planner works is answered, and the planner is still at work then.
    let answered = browser.wait_for(
        "const order = document.querySelector('[data-test=order]'); const said = window.said.length; order.click(); \
         while (!order.parentElement.open) await new Promise(r => requestAnimationFrame(r)); \
         return [said > 0, document.querySelector('[data-test=stop]') !== null];",
        &[],
    );
    assert_eq!(answered, serde_json::json!([true, true]));

    browser.tap("[data-test=stop]");
    browser
        .until("return document.querySelector('[data-test=stop]') === null", "the search stopped");
    let money = browser.text("[data-test=money]");
    let proof = browser.text("[data-test=proof]");
    assert!(money.starts_with('$') && money != "$0.00", "{money}");
    assert!(proof.contains("cheapest"), "{proof}");
    std::thread::sleep(std::time::Duration::from_millis(1500));
    assert_eq!(browser.text("[data-test=money]"), money, "late answers are dropped");

    // Everything is cut: what is left goes to the rack, and one undo brings all of it back.
    let plan = count(&browser, "[data-test=board]");
    browser.tap("[data-test=put-away]");
    browser.until(
        "return document.body.textContent.includes('Everything on the list is cut')",
        "the parts marked as cut",
    );
    let kept = "file.bench.work.rack.stocks.reduce((n, s) => n + s.owned.length, 0)";
    browser
        .until("return document.querySelector('[data-test=put-away]') === null", "the plan gone");
    // Kept in the browser's own time, once the page is painted.
    until_kept(&browser, &format!("{kept} > 0"));
    browser.tap("[data-test=undo]");
    browser.until(
        &format!("return document.querySelectorAll('[data-test=board]').length >= {}", plan.min(1)),
        "the plan again",
    );
    until_kept(&browser, &format!("{kept} === 0"));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// A brace on the parts list follows its opening; let go, it does not. 30 × 44, strip 2 1/2.
#[test]
fn parts_of_a_brace_follow_its_inputs() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!(
        "{}#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        site.address
    ));
    browser.tap("[data-test=add-to-parts]");
    browser.tap("[data-test=in-parts]");
    browser.until("return document.querySelector('[data-test=part]') !== null", "the part");
    let first = browser.text("[data-test=part]");
    assert!(first.contains("1\u{d7}3 pine") && first.contains("follows"), "{first}");
    browser.tap("[data-test=part]");
    browser.tap("[data-test=take-up]");
    browser.tap("[data-field=opening_width]");
    put(&browser, "[data-test=edit]", "36");
    browser
        .until("return document.querySelector('[data-test=edit]').value === '36'", "the new width");
    browser.run("location.hash = '#/parts'");
    browser.until("return document.querySelector('[data-test=part]') !== null", "the list");
    let second = browser.text("[data-test=part]");
    assert_ne!(first, second);
    browser.tap("[data-test=undo]");
    browser.until(
        &format!("return document.querySelector('[data-test=part]').textContent === {:?}", first),
        "the part as it was",
    );
    assert_eq!(browser.run("return document.body.textContent.includes('NaN')"), Value::Bool(false));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_sheet_is_bought_drawn_and_cut() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.go(&format!("{}#/parts", site.address));
    browser.tap("[data-test=example-3]");
    browser.tap("[data-test=to-boards]");
    let cut = "return document.querySelector('[data-test=board] svg') !== null \
               && document.querySelector('[data-test=stop]') === null";
    browser.until(cut, "the sheet, all searched");
    let title = browser.text("[data-test=board] figcaption");
    assert!(title.contains("Sheet 1, 48 in by 48 in"), "{title}");
    let drawn = browser.text("[data-test=board] svg");
    // Two tops of 16 and a kerf between them end at 32 1/8.
    assert!(drawn.contains("Stool top") && drawn.contains("32"), "{drawn}");
    // Kept as it is, it is the same after the page was loaded again. Each tap waits for the end of the search, which
    // moves what is below it.
    let kept = |yes: bool| {
        format!(
            "return document.querySelector('[data-test=keep]:not([disabled])')?.getAttribute('aria-pressed') === '{yes}' \
             && document.querySelector('[data-test=board] svg') !== null \
             && document.querySelector('[data-test=stop]') === null"
        )
    };
    browser.until(&kept(false), "the sheet planned");
    browser.tap("[data-test=keep]");
    browser.until(&kept(true), "the sheet kept");
    let held = browser.text("[data-test=board] svg");
    browser.run("location.reload()");
    browser.until(&kept(true), "the sheet still kept");
    assert_eq!(browser.text("[data-test=board] svg"), held);
    browser.tap("[data-test=keep]");
    browser.until(&kept(false), "the sheet let go");
    browser.tap("[data-test=order]");
    let cuts = browser.text(".cuts");
    assert!(cuts.starts_with("The whole sheet: rip at "), "{cuts}");
    browser.tap("[data-test=put-away]");
    browser.go(&format!("{}#/rack", site.address));
    browser.until("return document.querySelector('[data-test=stock-6]') !== null", "the rack");
    let kept = browser.text("[data-test=stock-6] summary");
    assert!(kept.contains("1 on hand"), "{kept}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
