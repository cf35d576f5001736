//! axe-core over every screen, light and dark: no violation of its rules.

use crate::device::forget_all;
use crate::driver::Browser;
use crate::late::{MISSING, without};
use crate::site::Site;
use crate::{STARTED, dist, root, visit};
use offsquare_cuts::layouts;
use offsquare_work::patterns::{self, Pattern};
use serde_json::json;

/// The pinned axe-core, which `cargo xtask test` puts there from `package-lock.json`.
fn axe() -> String {
    let path = root().join("tests/browser/node_modules/axe-core/axe.min.js");
    std::fs::read_to_string(&path).unwrap_or_else(|e| {
        panic!("{}: {e}. Run `cargo xtask test`, or `npm ci` in tests/browser.", path.display())
    })
}

const ALL: &str = "{}";
const COLORS: &str = r#"{"runOnly": ["color-contrast"]}"#;

struct Checker<'a> {
    browser: &'a Browser,
    axe: String,
    /// All rules, or those about color where the same screens have been looked at in another light.
    rules: &'static str,
    found: Vec<String>,
    screens: usize,
}

impl Checker<'_> {
    /// Puts axe on the page: once a page, as going to a fragment keeps it.
    fn attach(&self) {
        self.browser.run(&format!("{}; return true;", self.axe));
        assert_eq!(self.browser.run("return window.axe.version"), json!("4.14.1"));
    }

    /// Looks at the screen as it stands.
    fn look(&mut self, screen: &str) {
        let found = self.browser.wait_for(
            // A sheet that is still rising is half seen through.
            "await Promise.all(document.getAnimations().map(a => a.finished)); \
             const r = await axe.run(document, {resultTypes: ['violations'], ...args[0]}); \
             if (r.passes.length < (args[0].runOnly ?? [1, 2, 3, 4, 5]).length) return ['axe looked at almost nothing']; \
             return r.violations.flatMap(v => v.nodes.map(n => `${v.id}: ${n.target} ${n.failureSummary}`));",
            &[serde_json::from_str(self.rules).expect("options of axe")],
        );
        let all = found.as_array().unwrap_or_else(|| panic!("{screen}: {found}"));
        self.found
            .extend(all.iter().map(|v| format!("{screen}: {}", v.as_str().unwrap_or_default())));
        self.screens += 1;
    }

    fn all_well(&self) {
        let found = &self.found;
        assert!(found.is_empty(), "{} breaches\n{}", found.len(), found.join("\n"));
    }

    fn at(&self, fragment: &str, there: &str) {
        self.browser.run(&format!("location.hash = {fragment:?};"));
        self.browser.until(&format!("return document.querySelector({there:?}) !== null"), fragment);
    }

    fn sheet(&mut self, open: &str, screen: &str) {
        self.browser.run(&format!("document.querySelector({open:?}).click()"));
        self.browser.until("return document.querySelector('[role=dialog]') !== null", screen);
        self.look(screen);
    }

    fn lower(&self) {
        self.browser.run("document.querySelector('#sheet-close').click()");
        self.browser.until(
            // Its step in the history goes a little later.
            "return document.querySelector('[role=dialog]') === null && !/^sheet/.test(history.state)",
            "the sheet to go",
        );
    }

    fn layout(&mut self, layout: &'static dyn layouts::Layout) {
        let id = layout.id();
        for form in layout.forms() {
            self.at(&format!("#/{id}?form={}", form.id), ".layout [data-test=fields]");
            self.browser.until(
                &format!(
                    "const t = document.querySelector('[data-test=form-{}]'); return !t || t.ariaPressed === 'true'",
                    form.id
                ),
                form.id,
            );
            self.browser.run("document.querySelector('details.more').open = true;");
            self.look(&format!("{id} {}", form.id));
        }
        self.sheet("[data-test=strip]", &format!("{id} saw card"));
        self.browser.run("[...document.querySelectorAll('[role=dialog] .primary')].at(0).click();");
        self.browser.until(
            "return document.querySelector('[data-test^=give-]') !== null || document.querySelector('[role=dialog] .said') !== null",
            "the back sheet",
        );
        self.look(&format!("{id} back sheet"));
        self.lower();
        self.sheet("[data-test=paper]", &format!("{id} paper sheet"));
        self.lower();
    }

    /// Clicks on the first of those, and waits for what comes of it.
    fn press(&self, what: &str, there: &str) {
        self.browser.run(&format!("document.querySelector({what:?}).click()"));
        self.browser.until(&format!("return document.querySelector({there:?}) !== null"), what);
    }

    /// A whole piece, besides its form and sheets: turned, taken apart, a size typed where it stands.
    fn pattern(&mut self, pattern: &'static Pattern) {
        let id = pattern.layout.id;
        self.layout(&pattern.layout);
        let turn = "for (let i = 0; i < 3; i++) document.querySelector('.turn-keys [aria-label=\"Walk to the left\"]').click();";
        self.browser.run(turn);
        self.look(&format!("{id} turned"));
        self.press("[data-test=apart]", "[data-test=apart][aria-pressed=true]");
        self.look(&format!("{id} apart"));
        self.press("[data-test=apart]", "[data-test=apart][aria-pressed=false]");
        self.press("[data-test=solid-first]", ".whole [data-field]");
        self.browser.tap(".whole [data-field]");
        self.browser
            .until("return document.querySelector('[data-key=done]') !== null", "a size to type");
        self.look(&format!("{id} typing"));
        self.browser.tap("[data-key=done]");
    }

    /// The faces of a piece that a pattern makes, the bench with it, and a piece of parts only.
    fn faces(&mut self, scheme: &str) {
        self.at("#/post_stand", "button[data-test=face-parts]");
        self.press("[data-test=face-parts]", "a[data-test=face-parts][aria-current]");
        self.browser.until("return document.querySelector('[data-test=part]') !== null", "parts");
        self.look(&format!("{scheme} parts of a piece"));
        self.press("[data-test=part]", "[data-test=part][aria-expanded=true]");
        self.look(&format!("{scheme} one part of a piece"));
        self.press("[data-test=face-boards]", "a[data-test=face-boards][aria-current]");
        self.look(&format!("{scheme} boards of a piece"));
        self.press("[data-test=face-piece]", ".whole [data-field]");
        self.look(&format!("{scheme} a piece"));
        self.at("#/", "[data-test=my-piece]");
        self.look(&format!("{scheme} bench with a piece"));
        self.press("[data-test=empty-piece]", "a[data-test=face-piece]");
        self.look(&format!("{scheme} parts of an empty piece"));
        self.press("[data-test=face-piece]", "a[data-test=face-piece][aria-current]");
        self.look(&format!("{scheme} an empty piece"));
    }

    /// A piece of the maker's with a variant beside it, from each of its sides.
    fn piece(&mut self, scheme: &str) {
        self.at("#/trug", "[data-test=face-boards]");
        self.browser.run("document.querySelector('[data-test=face-parts]').click()");
        self.browser
            .until("return document.querySelector('[data-test=part]') !== null", "its parts");
        let piece = self.browser.run("return location.hash.split('/')[2]");
        let piece = piece.as_str().expect("a piece's place").to_owned();
        self.at(&format!("#/piece/{piece}"), "[data-test=variant]");
        self.browser.run("document.querySelector('[data-test=variant]').click()");
        self.browser
            .until("return document.querySelector('[data-test=beside]') !== null", "a variant");
        self.browser.run(&format!(
            "const e = document.querySelector('[data-test=beside]'); e.value = {piece:?}; \
             e.dispatchEvent(new Event('change', {{bubbles: true}}));"
        ));
        self.browser.until("return document.querySelector('.beside td') !== null", "both beside");
        self.look(&format!("{scheme} piece"));
        self.sheet("[data-test=share]", &format!("{scheme} piece shared"));
        self.browser.until(
            "return document.querySelector('[data-test=share-code]') !== null",
            "the ways to share",
        );
        let link = self.browser.run("return document.querySelector('[data-test=share-link]').hash");
        self.browser.run("document.querySelector('[data-test=share-code]').click()");
        self.browser
            .until("return document.querySelector('[data-test=code]') !== null", "the code");
        self.look(&format!("{scheme} square code"));
        self.at(link.as_str().expect("a link"), "[data-test=open-add]");
        self.look(&format!("{scheme} piece offered"));
        self.at("#/", "[data-test=my-piece]");
        self.at("#/open", "[data-test=bring]");
        self.look(&format!("{scheme} a link or file to open"));
        self.at(&format!("#/piece/{piece}/boards"), "[data-test=together]");
        self.look(&format!("{scheme} boards of two pieces"));
        self.at("#/", "[data-test=my-piece]");
        self.look(&format!("{scheme} bench with pieces"));
    }

    /// A price with a line of every list, its plot and its sums open.
    fn price(&mut self, scheme: &str) {
        self.at("#/price", "[data-test=missing]");
        self.look(&format!("{scheme} price, nothing known"));
        for list in ["steps", "hardware", "finish", "seen", "tried", "shelf"] {
            self.browser.run(&format!(
                "const all = document.querySelectorAll('[data-test=add-{list}]'); all[all.length - 1].click();"
            ));
            self.browser.until(
                &format!("return document.querySelector('[data-test={list}-0]') !== null"),
                list,
            );
        }
        let typed = [
            ("rates-rate", "24"),
            ("terms-want", "9"),
            ("steps-0-set_up", "30"),
            ("hardware-0-per_piece", "4"),
            ("hardware-0-pack", "12"),
            ("hardware-0-pack_price", "6.95"),
            ("finish-0-coats", "2"),
            ("finish-0-covers", "90"),
            ("finish-0-can_price", "18.50"),
            ("finish-0-area", "12"),
            ("seen-0-low", "40"),
            ("tried-0-asked", "60"),
            ("tried-0-sold", "2"),
            ("tried-0-hours", "5"),
            // Read last, and wrong.
            ("shelf-0-left", "some"),
        ];
        for (id, text) in typed {
            self.browser.run(&format!(
                "const e = document.getElementById({id:?}); e.value = {text:?}; \
                 e.dispatchEvent(new InputEvent('input', {{bubbles: true}}));"
            ));
        }
        let all = "return document.querySelectorAll('.curve').length === 2 && document.querySelector('[data-test=sold-best]') !== null";
        self.browser.until(all, "plot and band");
        self.browser.run("for (const d of document.querySelectorAll('details')) d.open = true");
        self.look(&format!("{scheme} price, every sum open"));
    }

    /// Parts, the rack and the boards: empty, then with an example and its plan.
    fn work(&mut self, scheme: &str) {
        self.price(scheme);
        self.at("#/parts", "[data-test=example-0]");
        self.press("[data-test=example-0]", "[data-test=part]");
        self.press("[data-test=part]", "[data-test=part][aria-expanded=true]");
        self.look(&format!("{scheme} one part"));
        self.press("[data-test=paste]", "[role=dialog]");
        self.look(&format!("{scheme} parts pasted"));
        self.lower();
        self.look(&format!("{scheme} parts"));
        self.at("#/rack", "[data-test=add-stock]");
        self.look(&format!("{scheme} rack"));
        self.browser.run("for (const d of document.querySelectorAll('details')) d.open = true");
        self.look(&format!("{scheme} rack, every stock open"));
        self.at("#/boards", "[data-test=money]");
        self.look(&format!("{scheme} boards"));
        self.press("[data-test=keep]:not([disabled])", "[data-test=keep][aria-pressed=true]");
        self.browser
            .run("for (const s of document.querySelectorAll('[data-test=order]')) s.click()");
        self.browser
            .until("return document.querySelector('.cuts li') !== null", "an order of cuts");
        self.look(&format!("{scheme} boards, one kept, every order of cuts open"));
        self.browser.run("document.querySelector('[data-test=undo]').click()");
        self.saw(scheme);
        self.at("#/parts", "[data-test=part]");
        self.browser.run("document.querySelector('[data-test=undo]').click()");
    }

    /// A run at the saw: before it, in it with what rises over its card, and the gauge.
    fn saw(&mut self, scheme: &str) {
        self.at("#/saw", "[data-test=start-run]:not([disabled])");
        self.look(&format!("{scheme} saw, before a run"));
        self.browser.run("document.querySelector('[data-test=start-run]').click()");
        // On to a setting that can be tested.
        self.browser.until(
            "if (document.querySelector('[data-test=test-cut]')) return true; \
             document.querySelector('[data-test=done]')?.click(); return false;",
            "a setting that is not square",
        );
        self.look(&format!("{scheme} saw, a card"));
        for (key, raised) in
            [("skip", "skip"), ("test", "test-cut"), ("gauge", "gauge"), ("paper", "cut sheet")]
        {
            self.sheet("[data-test=more]", &format!("{scheme} saw, more"));
            self.browser.run(&format!("document.querySelector('[data-test={key}]').click()"));
            self.browser.settle();
            self.look(&format!("{scheme} saw, {raised}"));
            self.browser.run("document.querySelector('#gauge-close, #sheet-close').click()");
            self.browser.until(
                "return document.querySelector('[role=dialog]') === null && !/^sheet/.test(history.state)",
                "the sheet to go",
            );
        }
        self.browser.run("document.querySelector('[data-test=more]').click()");
        self.browser
            .until("return document.querySelector('[data-test=stop-run]') !== null", "more");
        self.browser.run("document.querySelector('[data-test=stop-run]').click()");
        self.browser.until("return document.querySelector('.saw-run') === null", "the run to end");
        self.browser.run("document.querySelector('[data-test=undo]').click()");
        self.browser.until("return document.querySelector('.saw-run') !== null", "the run again");
        self.at("#/boards", "[data-test=money]");
        self.browser.run("document.querySelector('[data-test=undo]').click()");
    }
}

#[test]
fn no_screen_breaks_a_rule_of_axe() {
    every_screen(&Browser::start());
}

/// Another engine lays out, names and colors by itself.
#[cfg(feature = "firefox")]
#[test]
fn no_screen_breaks_a_rule_of_axe_in_firefox() {
    every_screen(&Browser::start_firefox());
}

fn every_screen(browser: &Browser) {
    let site = Site::serve(dist(), "");
    let mut checker = Checker { browser, axe: axe(), rules: ALL, found: Vec::new(), screens: 0 };
    for scheme in ["light", "dark"] {
        browser.light(scheme);
        checker.rules = if scheme == "light" { ALL } else { COLORS };
        visit(browser, &site);
        checker.attach();
        let dark = browser.run("return matchMedia('(prefers-color-scheme: dark)').matches");
        assert_eq!(dark, json!(scheme == "dark"));
        checker.look(&format!("{scheme} bench"));
        for layout in layouts::all().iter().filter(|l| l.has_screen()) {
            checker.layout(*layout);
        }
        for pattern in patterns::all() {
            checker.pattern(pattern);
        }
        checker.faces(scheme);
        // A size being typed wrong, with the keypad, its sentence and the old answer, upright and lying.
        checker.at("#/brace?opening_width=30&opening_height=44&strip_width=2+1/2", ".layout");
        browser.tap("[data-field=opening_width]");
        browser.tap("[data-key='divided by']");
        for (width, height) in [(844, 390), (320, 640), (360, 740)] {
            browser.screen(width, height);
            checker.look(&format!("{scheme} editing, {width} by {height}"));
        }
        browser.tap("[data-key=done]");
        // What cannot be, and a question without words.
        checker.at("#/brace?opening_width=-3&opening_height=44&strip_width=2", ".layout .wrong");
        checker.look(&format!("{scheme} no answer"));
        checker.at("#/", ".find input");
        browser.tap(".find input");
        browser.type_keys("zzz");
        checker.look(&format!("{scheme} nothing found"));
        checker.at("#/shop", ".shop");
        checker.look(&format!("{scheme} shop"));
        checker.work(scheme);
        checker.piece(scheme);
        // A bench with recent answers and a sum that says nothing.
        browser
            .run("location.hash = '#/brace?opening_width=31&opening_height=44&strip_width=2+1/2';");
        browser.tap("[data-test=pin]");
        checker.at("#/", "[data-test=reopen]");
        browser.tap("[data-test=line-0]");
        browser.type_keys("3 //");
        checker.look(&format!("{scheme} bench with answers"));
        forget_all(browser, &site);
    }
    let asked = layouts::all().iter().filter(|l| l.has_screen()).count();
    let least = 2 * (17 + asked * 4 + patterns::all().len() * 7);
    assert!(checker.screens >= least, "{} screens", checker.screens);
    checker.all_well();
}

/// What stands in the place of a part that is on its way, and of one that cannot be had.
#[test]
fn a_part_that_is_not_here_breaks_no_rule_of_axe() {
    let browser = Browser::start();
    for (start, place) in
        [("split_layouts-", "#/spacing"), ("split_more-", "#/"), ("split_work-", "#/parts")]
    {
        let site = Site::serve(dist(), "");
        site.hold(Some(start));
        browser.go("about:blank");
        browser.go(&format!("{}{place}", site.address));
        browser.until(STARTED, "the app to start");
        let mut checker =
            Checker { browser: &browser, axe: axe(), rules: ALL, found: Vec::new(), screens: 0 };
        checker.attach();
        checker.look(&format!("{place}, {start} on its way"));
        site.replace(without(start));
        site.hold(None);
        browser.until(MISSING, "a sentence");
        checker.look(&format!("{place}, {start} missing"));
        checker.all_well();
    }
}

/// The rules can be broken: a picture without words and a gray too light are seen.
#[test]
fn axe_sees_a_broken_rule() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    visit(&browser, &site);
    browser.run(
        "const i = document.createElement('img'); i.src = './'; \
         const p = document.createElement('p'); p.textContent = 'faint'; p.style.color = '#ccc'; \
         document.querySelector('main').append(i, p);",
    );
    let mut checker =
        Checker { browser: &browser, axe: axe(), rules: ALL, found: Vec::new(), screens: 0 };
    checker.attach();
    checker.look("broken");
    let seen = |rule: &str| checker.found.iter().any(|f| f.contains(rule));
    assert!(seen("image-alt"), "{:?}", checker.found);
    assert!(seen("color-contrast"), "{:?}", checker.found);
}
