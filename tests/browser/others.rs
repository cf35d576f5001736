//! Layouts that are not asked first come after the first answer: until then they are known, and *not here yet* is never
//! *no answer*, neither to the bench nor to sizes, answers and parts that are kept.

use crate::device::{kept, until_kept};
use crate::driver::Browser;
use crate::late::{MISSING, without};
use crate::site::Site;
use crate::{STARTED, dist};
use offsquare_cuts::layouts;
use offsquare_units::Unit;
use offsquare_work::piece::{Draft, LOOSE, Shop, WorkEdit, to_link};
use offsquare_work::save::{Bench, Recent, to_value};
use serde_json::{Value, json};

const LAYOUTS: &str = "split_layouts-";
const ANSWER: &str = "return document.querySelector('[data-test=setting]') !== null";

/// A bracket on the bench: its sizes, an answer, and its parts on the list.
fn bench() -> Bench {
    let layout = layouts::find("bracket").expect("the bracket");
    let draft = Draft::fresh(layout, &layout.forms()[0], Unit::Inch);
    let mut bench = Bench::default();
    bench.work.apply(WorkEdit::Follow(LOOSE, draft.clone()), &Shop::default());
    assert!(bench.work.parts.len() >= 3, "two legs and a knee");
    let line = "45° at both ends".into();
    bench.remember(Recent { draft: draft.clone(), at_ms: 1.0, line, pinned: true });
    bench.put(draft);
    bench
}

/// The app as it starts with that kept.
fn start(browser: &Browser, site: &Site, kept: &Value, fragment: &str) {
    let source = format!(
        "if (location.protocol === 'http:' && localStorage.getItem('offsquare.kept') === null) \
           localStorage.setItem('offsquare.bench', {});",
        json!(kept.to_string())
    );
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source }));
    browser.go(&format!("{}{fragment}", site.address));
    browser.until(STARTED, "the app to start");
}

#[test]
fn the_bench_is_whole_before_the_other_layouts_are_here() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some(LAYOUTS));
    start(&browser, &site, &to_value(&bench()), "#/");
    let asked: Vec<Value> = layouts::all()
        .iter()
        .filter(|l| l.has_screen())
        .map(|l| json!([l.question(), true]))
        .collect();
    let rows = browser.run(
        "return [...document.querySelectorAll('[aria-label=Questions] .questions a')].map(a => \
           [a.querySelector('.ask').firstChild.textContent, a.querySelector('.thumb svg') !== null])",
    );
    assert_eq!(rows, Value::Array(asked));
    let recent = browser.text(".recent.answers");
    assert!(recent.contains("Bracket with a knee") && recent.contains("45°"), "{recent}");
    browser.tap(".find input");
    browser.type_keys("stretcher");
    browser.until(
        "return [...document.querySelectorAll('[aria-label=Questions] .questions a')].map(a => a.hash)[0] === '#/two_way_splay'",
        "the question with that word",
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn an_address_and_an_answer_wait_for_their_layout() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some(LAYOUTS));
    let mut draft = bench().drafts.remove(0);
    draft.set("leg_a", "17", Unit::Inch);
    start(&browser, &site, &to_value(&bench()), &to_link(&draft));
    browser.until("return document.body.textContent.includes('on its way')", "a word");
    assert_eq!(browser.text("h1"), "Bracket with a knee");
    site.hold(None);
    browser.until(ANSWER, "an answer");
    let size = "return document.querySelector('[data-test=field-leg_a]').value";
    assert_eq!(browser.run(size), json!("17"));
    browser.until("return localStorage.getItem('offsquare.solving') === null", "no mark");

    // From the recent answers, another time: with the sizes that they had.
    until_kept(&browser, "(file.bench.recent ?? []).length > 0");
    let kept = kept(&browser, "file");
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some(LAYOUTS));
    start(&browser, &site, &kept, "#/");
    browser.tap("[data-test=reopen]");
    browser.until("return document.body.textContent.includes('on its way')", "a word");
    site.hold(None);
    browser.until(ANSWER, "the answer again");
    let before = bench().drafts[0].text("leg_a").expect("a size").text.clone();
    assert_eq!(browser.run(size), json!(before));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

/// Parts stand as they were kept, and follow what came meanwhile: a file whose knee is not as long as its layout makes it,
/// opened before that layout was here.
#[test]
fn parts_stand_until_the_layout_that_they_follow_is_here() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    site.hold(Some(LAYOUTS));
    let sound = bench();
    let mut changed = sound.clone();
    let knee = changed.work.parts.iter().position(|e| e.name.contains("nee")).expect("a knee");
    changed.work.parts[knee].length.0 += 3.0;
    start(&browser, &site, &to_value(&sound), "#/parts");
    let row = format!("document.querySelectorAll('[data-test=part]')[{knee}]?.textContent");
    browser.until(&format!("return {row}?.includes('follows Bracket with a knee')"), "the list");
    assert!(!browser.text("main").contains("no answer"), "{}", browser.text("main"));
    let own = browser.run(&format!("return {row}"));

    browser.run("location.hash = '#/shop'");
    browser.until("return document.querySelector('.file input') !== null", "the shop");
    browser.run(&format!(
        "const all = new DataTransfer(); all.items.add(new File([{}], 'offsquare.json')); \
         const i = document.querySelector('.file input'); i.files = all.files; \
         i.dispatchEvent(new Event('change', {{bubbles: true}}));",
        json!(to_value(&changed).to_string())
    ));
    browser.until("return document.querySelector('[data-test=file-replace]') !== null", "the file");
    browser.tap("[data-test=file-replace]");
    browser.until("return document.body.textContent.includes('Done.')", "it to be taken in");
    browser.run("location.hash = '#/parts'");
    browser.until(&format!("return {row} !== undefined && {row} !== {own}"), "the file's knee");
    site.hold(None);
    browser.until(&format!("return {row} === {own}"), "the knee as its layout makes it");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_missing_layout_is_said_and_tried_again_and_the_first_ones_answer() {
    let browser = Browser::start();
    let site = Site::serve(without(LAYOUTS), "");
    browser.go(&format!("{}#/spacing", site.address));
    browser.until(MISSING, "a sentence in the place of the layout");
    browser.run("location.hash = '#/brace'");
    browser.until(ANSWER, "a brace");
    site.replace(dist());
    browser.run("location.hash = '#/spacing'");
    browser.tap("[data-test=fetch-again]");
    browser.until("return document.querySelector('[data-field=diameter]') !== null", "the layout");
}
