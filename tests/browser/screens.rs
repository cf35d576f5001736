//! Every layout's screen driven with a finger: the reading that it shows is the native solve's.

use super::{STARTED, dist};
use crate::driver::Browser;
use crate::site::Site;
use offsquare_cuts::inputs::Value;
use offsquare_cuts::layouts::{self, Form, Layout};
use offsquare_cuts::parts::Cut;
use offsquare_geometry::scene::{Item, Source};
use offsquare_paper::report;
use offsquare_units::{Length, num, say};
use offsquare_work::piece::{Answered, Draft, Shop, answer, length_text};
use serde_json::Value as Json;

const RIGHT_ARROW: &str = "\u{e014}";

/// What is typed on one form: the field, the text, and what the core makes of it natively.
struct Typing {
    key: &'static str,
    text: String,
    /// Stands on the drawing (else it is typed in the list).
    drawn: bool,
    answered: Answered,
}

/// A size of the first visit a quarter of an inch larger (or smaller, or another angle): the first on
/// the drawing with which there is still an answer, and another one.
fn typing(layout: &'static dyn Layout, form: &'static Form) -> Typing {
    let shop = Shop::default();
    let fresh = Draft::fresh(layout, form, shop.unit);
    let first = answer(&fresh, &shop);
    let before = shown(&first);
    let on_drawing: Vec<&str> = first.solved[0]
        .solution
        .figure
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Dimension { source: Source::Given(key), .. } => Some(*key),
            _ => None,
        })
        .collect();
    let mut fields: Vec<_> = form.fields.iter().collect();
    fields.sort_by_key(|f| !on_drawing.contains(&f.key));
    for field in fields {
        for by in [0.25, -0.25, 1.0] {
            let text = match first.given.inputs.get(field.key) {
                Some(Value::Length(l)) => length_text(*l + Length(by), shop.unit),
                Some(Value::Angle(a)) => (a.0 + by).to_string(),
                Some(Value::Number(n)) => (n + 1.0).to_string(),
                Some(Value::Points(all)) => all
                    .iter()
                    .enumerate()
                    .map(|(i, (x, y))| {
                        let more = if i + 1 == all.len() { by } else { 0.0 };
                        let one = |l| length_text(l, shop.unit);
                        format!("{}, {}", one(*x + Length(more)), one(*y))
                    })
                    .collect::<Vec<_>>()
                    .join("; "),
                Some(Value::Lengths(all)) => all
                    .iter()
                    .map(|l| length_text(*l + Length(by), shop.unit))
                    .collect::<Vec<_>>()
                    .join(", "),
                _ => continue,
            };
            let mut draft = fresh.clone();
            draft.set(field.key, &text, shop.unit);
            let answered = answer(&draft, &shop);
            if answered.is_good() && answered.problems.is_empty() && shown(&answered) != before {
                return Typing {
                    key: field.key,
                    text,
                    drawn: on_drawing.contains(&field.key),
                    answered,
                };
            }
        }
    }
    panic!("{} {}: no size changes the answer", layout.id(), form.id);
}

/// What the answer strip must say of the first way: the exact reading of its first odd cut, or what
/// the layout leads with where every cut is square. Blanks are not compared.
fn shown(answered: &Answered) -> String {
    let solved = &answered.solved[0];
    let odd = |c: &&Cut| c.miter.0 > 0.0 || c.bevel.0 > 0.0;
    let tenth = |a: f64| format!("{:.1}\u{b0}", num::round_half_up(a * 10.0) / 10.0);
    let style = Shop::default().style();
    let text = match solved.solution.parts.iter().flat_map(|p| &p.cuts).find(odd) {
        Some(cut) => {
            let a = answered_advice(solved, cut);
            match a.bevel.0 > 0.0 {
                true => format!("exact {} + {}", tenth(a.miter.0), tenth(a.bevel.0)),
                false => format!("exact {}", tenth(a.miter.0)),
            }
        }
        None => say!(report::headline(solved)[0].1).render(&style),
    };
    bare(&text)
}

fn answered_advice(
    solved: &offsquare_cuts::backwards::Solved,
    cut: &Cut,
) -> offsquare_cuts::saw::Setting {
    let part = solved.solution.parts.iter().find(|p| p.cuts.contains(cut)).expect("the cut's part");
    Shop::default().saw.advise(part, cut).setting()
}

fn bare(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

fn type_it(browser: &Browser, t: &Typing, at: &str) {
    if t.drawn {
        browser.tap(&format!("[data-field={}]", t.key));
        browser.until(
            "return document.activeElement === document.querySelector('[data-test=edit]')",
            &format!("{at}: the field {} to take the focus", t.key),
        );
        browser.run("document.querySelector('[data-test=edit]').select()");
        browser.type_keys(&t.text);
        browser.tap("[data-key=done]");
    } else {
        browser.run("document.querySelector('details.more').open = true");
        browser.run(&format!(
            "const e = document.querySelector('[data-test=field-{}]'); e.focus(); e.select()",
            t.key
        ));
        browser.type_keys(&t.text);
    }
}

fn wait_for_answer(browser: &Browser, t: &Typing, at: &str) {
    let wanted = shown(&t.answered);
    let script = format!(
        "return document.querySelector('[data-test=strip]').textContent.replace(/\\s/g, '').includes({wanted:?})"
    );
    browser.until(&script, &format!("{at}: {} = {} to give {wanted}", t.key, t.text));
    assert!(!browser.text("body").contains("NaN"), "{at}");
}

/// The picture changes under an arrow key, the words with it, and the first view comes back.
fn turn_the_solid(browser: &Browser, at: &str) {
    let picture = "return document.querySelector('[data-test=solid] svg').innerHTML";
    // The solid follows a moment after the answer: its timer was set before this one.
    browser.wait_for(
        "await new Promise(r => setTimeout(r, 150)); await new Promise(r => requestAnimationFrame(r)); return true;",
        &[],
    );
    let before = browser.run(picture);
    let words = browser.text("[data-test=solid-words]");
    browser.run("document.querySelector('[data-test=solid]').focus()");
    for _ in 0..3 {
        browser.type_keys(RIGHT_ARROW);
    }
    browser.until(
        &format!(
            "return document.querySelector('[data-test=solid-words]').textContent !== {words:?}"
        ),
        "the words to follow",
    );
    assert_ne!(browser.run(picture), before, "{at}: the solid was turned");
    browser.tap("[data-test=solid-first]");
    browser.until(
        &format!(
            "return document.querySelector('[data-test=solid-words]').textContent === {words:?}"
        ),
        "the first view",
    );
    assert_eq!(browser.run(picture), before, "{at}: the first view is back");
}

/// The saw card: each cut has its picture, one after the other.
fn step_the_cuts(browser: &Browser, t: &Typing, at: &str) {
    browser.tap("[data-test=strip]");
    browser.until("return document.querySelector('.sheet') !== null", "the saw card");
    // Where marks lead, the saw is folded below them.
    browser.run("document.querySelectorAll('.sheet details').forEach(d => { d.open = true; })");
    let cuts: usize = t.answered.solved[0].solution.parts.iter().map(|p| p.cuts.len()).sum();
    if cuts > 0 {
        browser.until(
            "return document.querySelector('.on-saw svg path') !== null",
            "the board on the saw",
        );
    }
    for n in 2..=cuts.min(4) {
        let head = browser.text(".steps-head p");
        if !head.contains(&format!("cut {} of", n - 1)) {
            break; // It opened at a later cut, the first odd one.
        }
        browser.tap("[data-test=card-next]");
        browser.until(
            &format!("return document.querySelector('.steps-head p').textContent.includes('cut {n} of {cuts}')"),
            "the next cut",
        );
        assert!(!browser.text(".sheet").contains("NaN"), "{at}: cut {n}");
    }
    browser.tap("#sheet-close");
}

/// What the paper sheet hands over first is a PDF.
fn take_a_template(browser: &Browser, at: &str) {
    browser.tap("[data-test=paper]");
    browser.until("return document.querySelector('.sheet') !== null", "the paper sheet");
    if browser.run("return document.querySelector('[data-test=file-0]') !== null")
        == Json::Bool(true)
    {
        browser.run("window.taken = []");
        browser.tap("[data-test=file-0]");
        browser.until("return window.taken.length === 1", "the file");
        let head = browser.wait_for("return (await window.taken[0].text()).slice(0, 5);", &[]);
        assert_eq!(head, Json::from("%PDF-"), "{at}");
    }
    browser.tap("#sheet-close");
}

/// Every layout, each of its forms: a size typed where it stands, the reading compared; then the
/// card, the solid, a template, and back to the bench.
#[test]
fn every_screen_shows_what_the_core_computes() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    browser.go(&site.address);
    browser.until(STARTED, "the app to start");
    browser.run(
        "window.taken = []; const make = URL.createObjectURL; \
         URL.createObjectURL = b => { window.taken.push(b); return make.call(URL, b); }; \
         Object.defineProperty(navigator, 'canShare', {value: undefined});",
    );
    let mut forms = 0;
    let mut turned = 0;
    for layout in layouts::all().iter().copied().filter(|l| l.has_screen()) {
        browser.tap(&format!("[data-test=ask-{}]", layout.id()));
        for form in layout.forms() {
            let at = format!("{} {}", layout.id(), form.id);
            if layout.forms().len() > 1 {
                browser.tap(&format!("[data-test=form-{}]", form.id));
            }
            browser
                .until("return document.querySelector('[data-test=fresh]') !== null", "the layout");
            browser.run("document.querySelector('[data-test=fresh]').click()");
            browser.settle();
            let t = typing(layout, form);
            type_it(&browser, &t, &at);
            wait_for_answer(&browser, &t, &at);
            let solids = !t.answered.solved[0].solution.solids.is_empty();
            let seen = browser.run("return document.querySelector('[data-test=solid]') !== null");
            assert_eq!(seen, Json::Bool(solids), "{at}: a solid is shown where there is one");
            if solids {
                turn_the_solid(&browser, &at);
                turned += 1;
            }
            if form.id == layout.forms()[0].id {
                step_the_cuts(&browser, &t, &at);
                take_a_template(&browser, &at);
            }
            forms += 1;
            assert_eq!(browser.complaints(), Vec::<String>::new(), "{at}");
        }
        browser.tap("[data-test=back]");
        browser.until("return document.querySelector('.questions') !== null", "the bench");
    }
    assert!(forms > 30 && turned > 3, "{forms} forms, {turned} solids");
}
