//! The screen as a gauge: its line measured in the pixels of the screen, and true size by a bank card.

use crate::saw::shot;
use crate::{dist, visit};
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use serde_json::json;
use std::time::Duration;

/// The angle between a dark line and the screen's long edge, fitted to the pixels of a screenshot: in each row (or column)
/// of the frame the middle of what is darker than the ground, weighted by how much. `[left, top, right, bottom]` in px.
const FIT: &str = "const bytes = Uint8Array.from(atob(args[0]), c => c.charCodeAt(0)); \
    const map = await createImageBitmap(new Blob([bytes], {type: 'image/png'})); \
    const canvas = new OffscreenCanvas(map.width, map.height); const g = canvas.getContext('2d'); g.drawImage(map, 0, 0); \
    const [l, t, r, b] = args[1].map(v => Math.round(v * args[2])); const steep = args[3]; \
    const d = g.getImageData(l, t, r - l, b - t); const light = (x, y) => d.data[4 * (y * d.width + x)]; \
    const xs = [], ys = []; \
    for (let i = 0; i < (steep ? d.height : d.width); i++) { let sum = 0, at = 0; \
      for (let j = 0; j < (steep ? d.width : d.height); j++) { \
        const w = Math.max(0, 235 - (steep ? light(j, i) : light(i, j))); sum += w; at += w * (j + 0.5); } \
      if (sum > 200) { xs.push(i + 0.5); ys.push(at / sum); } } \
    const n = xs.length, mx = xs.reduce((a, b) => a + b) / n, my = ys.reduce((a, b) => a + b) / n; \
    let xy = 0, xx = 0; for (let i = 0; i < n; i++) { xy += (xs[i] - mx) * (ys[i] - my); xx += (xs[i] - mx) ** 2; } \
    const slope = xy / xx; return [n, steep ? 90 - Math.atan(slope) * 180 / Math.PI : Math.atan(slope) * 180 / Math.PI];";

/// How far off square the gauge's line is seen to be, down to the right positive.
fn seen(browser: &Browser, ratio: f64, steep: bool) -> f64 {
    let png = browser.devtools("Page.captureScreenshot", json!({"format": "png"}));
    let frame = browser.run(
        "const r = document.querySelector('[data-test=gauge]').getBoundingClientRect(); \
         const top = document.querySelector('.gauge-said').getBoundingClientRect().bottom; \
         return [r.left + 2, Math.max(r.top, top) + 2, r.right - 2, r.bottom - 2];",
    );
    let fit = browser.wait_for(FIT, &[png["data"].clone(), frame, json!(ratio), json!(steep)]);
    assert!(fit[0].as_f64().is_some_and(|n| n > 100.0 * ratio), "{fit}");
    fit[1].as_f64().expect("an angle")
}

/// 31.6° and more: the brace's closed form 90 - atan(44/30) - asin(2.5/sqrt(30² + 44²)), read back from the pixels.
#[test]
fn the_gauges_line_is_true_at_every_ratio() {
    let exact = 90.0
        - (44.0_f64 / 30.0).atan().to_degrees()
        - (2.5 / (30.0_f64.powi(2) + 44.0_f64.powi(2)).sqrt()).asin().to_degrees();
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    browser.screen(360, 640);
    visit(&browser, &site);
    browser.light("light");
    browser.go(&format!(
        "{}#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        site.address
    ));
    browser.tap("[data-test=way-rails]");
    let mut worst = 0.0_f64;
    for ratio in [1.0, 1.5, 2.0, 2.625, 3.0] {
        browser.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": 360, "height": 640, "deviceScaleFactor": ratio, "mobile": true}),
        );
        open_gauge(&browser);
        browser.settle();
        for (hand, sign) in [("hand-left", 1.0), ("hand-right", -1.0)] {
            browser.run(&format!("document.querySelector('[data-test={hand}]').click()"));
            browser.run("document.querySelector('[data-test=to-edge]').click()");
            browser.settle();
            let off = (seen(&browser, ratio, false) - sign * exact).abs();
            worst = worst.max(off);
            assert!(off <= 0.05, "{hand} at {ratio}: off by {off}");
            let text = browser.text(".gauge-said");
            let side = if sign > 0.0 { "swung left" } else { "swung right" };
            assert!(text.contains("58.4\u{b0} to the long edge") && text.contains(side), "{text}");
            browser.run("document.querySelector('[data-test=complement]').click()");
            browser.settle();
            let steep = seen(&browser, ratio, true);
            let want = 90.0 - exact;
            let off = (steep.rem_euclid(180.0) - (sign * want).rem_euclid(180.0)).abs();
            worst = worst.max(off);
            assert!(off <= 0.05, "complement, {hand} at {ratio}: {steep}, off by {off}");
            let text = browser.text(".gauge-said");
            assert!(
                text.contains("31.6\u{b0} to the long edge") && text.contains("complement"),
                "{text}"
            );
        }
        shot(&browser, &format!("gauge-{ratio}"));
        browser.run("document.querySelector('#gauge-close').click()");
        browser.settle();
    }
    println!("the gauge's line is off by {worst:.4} degrees at most");
    // Square to the app's own reading.
    assert!((exact - 31.6).abs() < 0.05);
}

/// A card of 85.60 mm shown as 500 px: from then on lengths are drawn at 500/85.6 px to the mm; another zoom is told.
#[test]
fn true_size_holds_until_the_zoom_changes() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    browser.screen(360, 640);
    visit(&browser, &site);
    browser.go(&format!(
        "{}#/brace?opening_width=30&opening_height=44&strip_width=2+1/2",
        site.address
    ));
    let open = || {
        open_gauge(&browser);
        browser.settle();
    };
    open();
    browser.run("document.querySelector('[data-test=measure]').click()");
    browser.until("return document.querySelector('[data-test=card]') !== null", "the card");
    let tall = "parseFloat(document.querySelector('.gauge-card').getAttribute('height'))";
    let at = |y: f64| {
        browser.run(&format!(
            "document.querySelector('.gauge').dispatchEvent(new PointerEvent('pointermove', {{bubbles: true, buttons: 1, clientX: 40, clientY: {y}}}))"
        ));
        browser.settle();
    };
    at(499.0);
    browser.run("document.querySelector('[data-test=\"card0.5\"]').click()");
    browser.settle();
    browser.run("document.querySelector('[data-test=\"card0.5\"]').click()");
    browser.until(&format!("return {tall} === 500"), "the line at 500 px");
    shot(&browser, "card");
    browser.run("document.querySelector('[data-test=keep-size]').click()");
    browser.until("return document.querySelectorAll('.gauge-rule').length > 20", "the rule");
    shot(&browser, "true-size");
    // An inch apart: 25.4 · 500 / 85.6.
    let inch = browser.run(
        "const all = [...document.querySelectorAll('.gauge-rule')].map(l => +l.getAttribute('y1')); return all[16] - all[0];",
    );
    assert!((inch.as_f64().expect("px") - 25.4 * 500.0 / 85.6).abs() < 0.01, "{inch}");
    let said = browser.text(".gauge-said");
    assert!(said.contains("good to"), "{said}");
    // The strip is 2 1/2 in wide.
    let edge = browser.run("return +document.querySelector('.gauge-edge').getAttribute('x1')");
    assert!((edge.as_f64().expect("px") - 2.5 * 25.4 * 500.0 / 85.6).abs() < 0.01, "{edge}");
    browser.run("document.querySelector('#gauge-close').click()");
    std::thread::sleep(Duration::from_millis(300));
    browser.devtools(
        "Emulation.setDeviceMetricsOverride",
        json!({"width": 327, "height": 582, "deviceScaleFactor": 2.2, "mobile": true}),
    );
    open();
    let key = browser.text("[data-test=measure]");
    assert!(key.contains("zoom has changed"), "{key}");
}

/// From a layout's answer over its saw card to the gauge.
fn open_gauge(browser: &Browser) {
    browser.until("return document.querySelector('[data-test=strip]') !== null", "the strip");
    std::thread::sleep(Duration::from_millis(350));
    browser.tap("[data-test=strip]");
    browser.run("document.querySelector('[data-test=gauge]').click()");
    browser.until("return document.querySelector('svg[data-test=gauge]') !== null", "the gauge");
}
