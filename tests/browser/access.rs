//! axe-core over every screen, light and dark: no violation of its rules.

use crate::driver::Browser;
use crate::site::Site;
use crate::{dist, root, visit};
use offsquare_cuts::layouts;
use offsquare_work::patterns;
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
        self.at(&format!("#/piece/{piece}/boards"), "[data-test=together]");
        self.look(&format!("{scheme} boards of two pieces"));
        self.at("#/", "[data-test=my-piece]");
        self.look(&format!("{scheme} bench with pieces"));
    }

    /// Parts, the rack and the boards: empty, then with an example and its plan.
    fn work(&mut self, scheme: &str) {
        let press = |what: &str, there: &str| {
            self.browser.run(&format!("document.querySelector({what:?}).click()"));
            self.browser.until(&format!("return document.querySelector({there:?}) !== null"), what);
        };
        self.at("#/parts", "[data-test=example-0]");
        press("[data-test=example-0]", "[data-test=part]");
        press("[data-test=part]", "[data-test=part][aria-expanded=true]");
        self.look(&format!("{scheme} one part"));
        press("[data-test=paste]", "[role=dialog]");
        self.look(&format!("{scheme} parts pasted"));
        self.lower();
        self.look(&format!("{scheme} parts"));
        self.at("#/rack", "[data-test=add-stock]");
        self.look(&format!("{scheme} rack"));
        self.browser.run("for (const d of document.querySelectorAll('details')) d.open = true");
        self.look(&format!("{scheme} rack, every stock open"));
        self.at("#/boards", "[data-test=money]");
        self.look(&format!("{scheme} boards"));
        press("[data-test=keep]:not([disabled])", "[data-test=keep][aria-pressed=true]");
        self.browser
            .run("for (const s of document.querySelectorAll('[data-test=order]')) s.click()");
        self.browser
            .until("return document.querySelector('.cuts li') !== null", "an order of cuts");
        self.look(&format!("{scheme} boards, one kept, every order of cuts open"));
        self.browser.run("document.querySelector('[data-test=undo]').click()");
        self.at("#/parts", "[data-test=part]");
        self.browser.run("document.querySelector('[data-test=undo]').click()");
    }
}

#[test]
fn no_screen_breaks_a_rule_of_axe() {
    let browser = Browser::start();
    let site = Site::serve(dist(), "");
    let mut checker =
        Checker { browser: &browser, axe: axe(), rules: ALL, found: Vec::new(), screens: 0 };
    for scheme in ["light", "dark"] {
        browser.light(scheme);
        checker.rules = if scheme == "light" { ALL } else { COLORS };
        visit(&browser, &site);
        checker.attach();
        let dark = browser.run("return matchMedia('(prefers-color-scheme: dark)').matches");
        assert_eq!(dark, json!(scheme == "dark"));
        checker.look(&format!("{scheme} bench"));
        for layout in layouts::all().iter().filter(|l| l.has_screen()) {
            checker.layout(*layout);
        }
        for pattern in patterns::all() {
            checker.layout(*pattern);
        }
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
        browser.run("localStorage.clear()");
    }
    let least = 2 * (10 + layouts::all().iter().filter(|l| l.has_screen()).count() * 4);
    assert!(checker.screens >= least, "{} screens", checker.screens);
    assert!(
        checker.found.is_empty(),
        "{} breaches\n{}",
        checker.found.len(),
        checker.found.join("\n")
    );
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
