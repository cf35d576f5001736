//! A piece's price by hand: from parts to an asked price, each figure opened to its sum, the batches' plot read back
//! from the page, what was tried kept over a new start and in two tabs.

use crate::device::{kept_bench, until_kept};
use crate::{STARTED, dist, visit};
use offsquare_planner::Request;
use offsquare_tests::driver::Browser;
use offsquare_tests::site::Site;
use offsquare_work::cutlist::{Planned, Summary};
use offsquare_work::piece::LOOSE;
use serde_json::{Value, json};

fn has(browser: &Browser, selector: &str) {
    browser.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
}

/// Types into the field of that id, as a keyboard does.
fn put(browser: &Browser, id: &str, text: &str) {
    has(browser, &format!("#{id}"));
    browser.run(&format!(
        "const e = document.getElementById({id:?}); e.focus(); e.value = {text:?}; \
         e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
    ));
    browser.settle();
}

fn tap(browser: &Browser, selector: &str) {
    has(browser, selector);
    browser.run(&format!("document.querySelector({selector:?}).click()"));
    browser.settle();
}

/// Taps a key by its words.
fn key(browser: &Browser, words: &str) {
    browser.run(&format!(
        "[...document.querySelectorAll('.price button')].find(b => b.textContent.trim() === {words:?}).click()"
    ));
    browser.settle();
}

/// The garden gate of the examples, priced: a rate, two steps, hooks by the pack, a wanted margin.
fn priced(browser: &Browser, site: &Site) {
    visit(browser, site);
    browser.run("location.hash = '#/parts'");
    tap(browser, "[data-test=example-0]");
    has(browser, "[data-test=part]");
    tap(browser, "[data-test=face-price]");
    has(browser, "[data-test=missing] li");
    // Nothing is a price yet.
    assert_eq!(browser.text("[data-test=asked]"), "no price yet");
    put(browser, "rates-rate", "24");
    key(browser, "At the saw");
    put(browser, "steps-0-set_up", "25");
    put(browser, "steps-0-each", "18 1/2");
    key(browser, "Hooks");
    put(browser, "hardware-0-per_piece", "4");
    put(browser, "hardware-0-pack", "12");
    put(browser, "hardware-0-pack_price", "6.95");
    key(browser, "A margin");
    put(browser, "terms-want", "30");
    key(browser, "As bought");
    has(browser, "[data-test=sum-asked]");
    browser
        .until("return document.querySelectorAll('.curve circle').length === 24", "the whole plot");
}

/// The label and the value of every figure, as they stand.
fn told(browser: &Browser) -> Value {
    browser.run(
        "return [...document.querySelectorAll('.sum')].map(d => [d.dataset.test, d.querySelector('summary b').textContent, \
         [...d.querySelectorAll('p')].map(p => p.textContent)])",
    )
}

#[test]
fn a_price_is_what_the_core_works_out_and_the_plot_shows_it() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    priced(&browser, &site);
    until_kept(&browser, "JSON.stringify(file).includes('bought')");
    let bench = kept_bench(&browser);
    let (work, shop) = (&bench.work, &bench.shop);
    let piece = work.piece(LOOSE).expect("the piece");
    let (jobs, one) = (work.jobs(shop), work.jobs_of(LOOSE, 1, shop));
    let mut planned = Planned::new(1, &jobs);
    let mut run = Request::new(planned.request(&jobs, 24, &one));
    while !run.is_done() {
        for message in run.step(20_000_000) {
            planned.hear(message);
        }
    }
    let summary = Summary::of(&jobs, &planned, false, &work.rack, &work.parts);
    let area = work.surface(LOOSE, shop);
    assert!(area.is_some());
    let made = work.made(piece, area, (&jobs, &planned, &summary), &shop.style());
    let figures = work.priced(piece, &made);
    let lines: Vec<Value> =
        figures.lines().iter().map(|l| json!([format!("sum-{}", l.key), l.value, l.sum])).collect();
    assert!(lines.len() > 10, "{lines:?}");
    assert_eq!(told(&browser), Value::from(lines));
    let asked = figures.money(figures.sold.asked.as_ref().expect("a price"));
    assert_eq!(browser.text("[data-test=asked]"), asked);

    // The plot: each point stands as high as its cost, and the table says the same.
    let wood = work.wood_by_batch(piece, &made, &work.planned_by_batch(&one, &planned));
    let points = figures.batches(&wood);
    assert_eq!(points.len(), 24);
    let costs: Vec<String> = points.iter().map(|p| figures.money(&p.each)).collect();
    let table = browser.run(
        "return [...document.querySelectorAll('[data-test=batch-table] tbody tr')].map(r => r.cells[1].textContent)",
    );
    assert_eq!(table, json!(costs));
    let drawn = browser.run(
        "return [...document.querySelectorAll('.curve circle')].map(c => [+c.dataset.pieces, +c.getAttribute('cx'), +c.getAttribute('cy')])",
    );
    let drawn: Vec<[f64; 3]> = serde_json::from_value(drawn).expect("points");
    let each: Vec<f64> = points.iter().map(|p| offsquare_work::price::as_number(&p.each)).collect();
    let top = each.iter().copied().fold(0.0, f64::max);
    let low = each.iter().copied().fold(top, f64::min);
    let [high, deep] = [each.iter().position(|e| *e == top), each.iter().position(|e| *e == low)]
        .map(|at| drawn[at.expect("a point")][2]);
    for (i, [n, x, y]) in drawn.iter().enumerate() {
        assert_eq!(*n, (i + 1) as f64);
        let along = drawn[0][1] + (drawn[23][1] - drawn[0][1]) * (n - 1.0) / 23.0;
        let down = high + (deep - high) * (top - each[i]) / (top - low);
        assert!((x - along).abs() < 0.02 && (y - down).abs() < 0.02, "{n}: {x} {y}");
    }
    let best = figures.best(&points, &wood);
    assert!(browser.text("[data-test=best]").contains(&best[0].1), "{best:?}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn bad_figures_get_a_sentence_and_the_last_price_stays() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    priced(&browser, &site);
    let before = told(&browser);
    for (id, bad) in [
        ("rates-rate", "-3"),
        ("hardware-0-pack", "0"),
        ("hardware-0-pack_price", "1/0"),
        ("steps-0-each", "ten"),
    ] {
        let good = browser.run(&format!("return document.getElementById({id:?}).value"));
        put(&browser, id, bad);
        has(&browser, &format!("#{id}-wrong"));
        assert_eq!(told(&browser), before, "{id} {bad}");
        put(&browser, id, good.as_str().expect("a text"));
        browser.until(&format!("return document.getElementById('{id}-wrong') === null"), "mended");
    }
    // All of the price: refused beside the field, and nothing is asked.
    put(&browser, "terms-want", "100");
    browser.until(
        "return document.querySelector('.asked-price > section .wrong') !== null",
        "why not",
    );
    assert_eq!(browser.text("[data-test=asked]"), "no price yet");
    assert!(!browser.text("body").contains("NaN"));
    // Undo brings the price back.
    tap(&browser, "[data-test=undo]");
    browser.until("return document.querySelector('[data-test=sum-asked]') !== null", "the price");
    assert_eq!(told(&browser), before);
}

#[test]
fn what_was_tried_is_kept_over_a_new_start_and_in_two_tabs() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    priced(&browser, &site);
    tap(&browser, "[data-test=add-seen]");
    put(&browser, "seen-0-low", "40");
    put(&browser, "seen-0-high", "300");
    browser.until(
        "return document.querySelector('[data-test=band]')?.textContent.includes('$40.00 to $300.00')",
        "the band",
    );
    tap(&browser, "[data-test=add-tried]");
    put(&browser, "tried-0-asked", "60");
    put(&browser, "tried-0-taken", "6");
    put(&browser, "tried-0-sold", "4");
    put(&browser, "tried-0-hours", "7");
    let earned = "return document.querySelector('[data-test=tried-0] .grow > .help')?.textContent.includes('an hour earned')";
    browser.until(earned, "what the day came to");
    let words = browser.text("[data-test=tried-0] .grow > .help");
    assert_eq!(browser.text("[data-test=sold-best]"), "Sold best: $60.00: 4 of 6 sold.");

    // Another tab adds a day; the first one shows both, and keeps both.
    let first = browser.tab();
    let second = browser.new_tab();
    browser.go(&format!("{}#/price", site.address));
    browser.until(STARTED, "the app");
    browser.until(earned, "the same day");
    tap(&browser, "[data-test=add-tried]");
    put(&browser, "tried-1-asked", "75");
    put(&browser, "tried-1-sold", "1");
    put(&browser, "tried-1-hours", "5");
    until_kept(&browser, "JSON.stringify(file).includes('\"75\"')");
    browser.to_tab(&first);
    has(&browser, "#tried-1-hours");
    put(&browser, "tried-0-place", "spring market");
    until_kept(&browser, "JSON.stringify(file).includes('spring market')");
    browser.close_tab(&second);
    browser.run("location.reload()");
    browser.until(STARTED, "the app");
    has(&browser, "#tried-1-asked");
    let tried = kept_bench(&browser).work.piece(LOOSE).expect("the piece").priced.tried.clone();
    let texts: Vec<(&str, &str)> =
        tried.iter().map(|t| (t.text("asked"), t.text("place"))).collect();
    assert_eq!(texts, [("60", "spring market"), ("75", "")]);
    browser.until(earned, "what the days came to");
    assert_eq!(browser.text("[data-test=tried-0] .grow > .help"), words);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Every `$` of the page: words, fields, what is read aloud.
const DOLLARS: &str = "
    const words = [document.body.textContent, ...[...document.querySelectorAll('input')].map(e => e.value),
        ...[...document.querySelectorAll('[aria-label], [placeholder]')].map(e => `${e.ariaLabel} ${e.placeholder ?? ''}`)];
    return words.filter(w => w.includes('$'));
";

/// The sign and the decimals of the maker's money hold on every screen where money is shown or typed, in what is copied
/// and in the cut sheet.
#[test]
fn another_money_leaves_no_dollar_anywhere() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    priced(&browser, &site);
    browser.run("document.querySelector('[data-test=rates]').open = true");
    put(&browser, "rates-sign", "kr");
    for (group, choice) in [("The sign stands", "Behind"), ("Decimals", "None")] {
        browser.run(&format!(
            "[...document.querySelectorAll(\"[aria-label='{group}'] button\")].find(b => b.textContent === '{choice}').click()"
        ));
        browser.settle();
    }
    put(&browser, "hardware-0-pack_price", "69");
    browser.until(
        "return document.querySelector('[data-test=sum-asked]')?.textContent.includes(' kr')",
        "crowns",
    );
    let nothing = |at: &str| assert_eq!(browser.run(DOLLARS), json!([]), "{at}");
    nothing("price");
    browser.run("document.querySelectorAll('details').forEach(d => d.open = true)");
    nothing("price, opened");
    // A price typed to less than a crown is refused in the same money.
    put(&browser, "hardware-0-pack_price", "6.95");
    has(&browser, "#hardware-0-pack_price-wrong");
    nothing("a refusal");
    put(&browser, "hardware-0-pack_price", "69 kr");
    // Boards: sums, proofs, batches, the order copied and printed.
    tap(&browser, "[data-test=face-boards]");
    has(&browser, "[data-test=paper-cuts]");
    browser.until("return document.querySelector('[data-test=stop]') === null", "the plan");
    assert!(
        browser.text("[data-test=money]").ends_with(" kr"),
        "{}",
        browser.text("[data-test=money]")
    );
    nothing("boards");
    browser.run(
        "window.taken = []; const make = URL.createObjectURL; \
         URL.createObjectURL = b => { window.taken.push(b); return make.call(URL, b); }; \
         Object.defineProperty(navigator, 'canShare', {value: undefined}); \
         Object.defineProperty(navigator, 'clipboard', {value: {writeText: t => { window.copied = t; return Promise.resolve(); }}});",
    );
    tap(&browser, "[data-test=copy-boards]");
    browser.until("return window.copied?.includes(' kr')", "the copied text");
    assert_eq!(browser.run("return window.copied.includes('$')"), json!(false));
    tap(&browser, "[data-test=paper-cuts]");
    tap(&browser, "[data-test=cut-sheet]");
    browser.until("return window.taken.length === 1", "the file");
    let bytes =
        browser.wait_for("return [...new Uint8Array(await window.taken[0].arrayBuffer())];", &[]);
    let bytes: Vec<u8> = serde_json::from_value(bytes).expect("bytes");
    let file = lopdf::Document::load_mem(&bytes).expect("a PDF");
    let all: Vec<u32> = file.get_pages().into_keys().collect();
    let words = file.extract_text(&all).expect("words");
    assert!(
        words.contains(" kr") && words.contains("Order of cuts") && !words.contains('$'),
        "{words}"
    );
    tap(&browser, "#sheet-close");
    // The rack: a typed price is what is shown again.
    browser.run("location.hash = '#/rack'");
    has(&browser, ".rack-stock");
    browser.run("document.querySelectorAll('details').forEach(d => d.open = true)");
    nothing("rack");
    let price = browser.run("return document.querySelector('.sold input[id$=-price]').id");
    let price = price.as_str().expect("a field");
    put(&browser, price, "1,250 kr");
    has(&browser, &format!("#{price}"));
    tap(&browser, "h1");
    browser.run(&format!("document.getElementById({price:?}).blur()"));
    until_kept(&browser, "JSON.stringify(file).includes('1250')");
    browser.run("location.hash = '#/parts'");
    has(&browser, "[data-test=part]");
    nothing("parts");
    browser.run("location.hash = '#/saw'");
    browser.settle();
    nothing("saw");
    browser.run("location.hash = '#/'");
    browser.settle();
    nothing("bench");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
