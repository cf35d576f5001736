//! A small WebDriver client: enough to drive one phone-sized page.

use crate::chromium::Chromium;
#[cfg(feature = "firefox")]
use crate::firefox::Firefox;
use serde_json::{Value, json};
use std::time::{Duration, Instant};

/// A running browser, a touched phone or a desk's with mouse and keyboard; it ends with this.
pub struct Browser {
    engine: Engine,
}

enum Engine {
    Chromium(Chromium),
    #[cfg(feature = "firefox")]
    Firefox(Firefox),
}

fn phone() -> Value {
    json!({"deviceMetrics": {"width": 360, "height": 740, "pixelRatio": 2, "touch": true, "mobile": true}})
}

impl Browser {
    /// Chromium, as a phone. A missing browser is a failure, never a skip.
    pub fn start() -> Browser {
        Browser { engine: Engine::Chromium(Chromium::start(phone())) }
    }

    /// A phone that has been used before: Chromium with all that is kept in this folder.
    pub fn start_again(profile: &std::path::Path) -> Browser {
        Browser { engine: Engine::Chromium(Chromium::start_in(phone(), Some(profile))) }
    }

    /// Ends a Chromium's own process at once, with no word to it, and waits until it is gone: another one beside it would
    /// find its database locked.
    pub fn kill(&self) {
        let Some(id) = self.process().map(|id| id.to_string()) else { return };
        let _ = std::process::Command::new("kill").args(["-9", &id]).status();
        let runs = || {
            let asked = std::process::Command::new("ps").args(["-o", "stat=", "-p", &id]).output();
            asked.is_ok_and(|out| !out.stdout.is_empty() && out.stdout[0] != b'Z')
        };
        while runs() {
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Chromium on a desk: 1440 × 900 px, a mouse, a keyboard.
    pub fn start_at_a_desk() -> Browser {
        let browser = Browser { engine: Engine::Chromium(Chromium::start(Value::Null)) };
        browser.screen_as(1440, 900, false);
        browser
    }

    /// Firefox, as narrow as a phone.
    #[cfg(feature = "firefox")]
    pub fn start_firefox() -> Browser {
        let browser = Browser { engine: Engine::Firefox(Firefox::start()) };
        browser.screen(360, 740);
        browser
    }

    fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        match &self.engine {
            Engine::Chromium(chromium) => chromium.ask(method, path, body),
            #[cfg(feature = "firefox")]
            Engine::Firefox(firefox) => firefox.ask(method, path, body),
        }
    }

    /// The process of a Chromium.
    pub fn process(&self) -> Option<u64> {
        match &self.engine {
            Engine::Chromium(chromium) => chromium.process(),
            #[cfg(feature = "firefox")]
            Engine::Firefox(_) => None,
        }
    }

    pub fn go(&self, url: &str) {
        self.ask("POST", "/url", &json!({ "url": url }));
    }

    /// A command of the DevTools protocol to a Chromium's page.
    pub fn devtools(&self, cmd: &str, params: Value) -> Value {
        self.ask("POST", "/goog/cdp/execute", &json!({"cmd": cmd, "params": params}))
    }

    /// Opens a new tab, as a new visit does, and goes on in it.
    pub fn new_tab(&self) -> Value {
        let tab = self.ask("POST", "/window/new", &json!({"type": "tab"}))["handle"].clone();
        self.to_tab(&tab);
        tab
    }

    /// The tab that is driven.
    pub fn tab(&self) -> Value {
        self.ask("GET", "/window", &Value::Null)
    }

    pub fn to_tab(&self, tab: &Value) {
        self.ask("POST", "/window", &json!({ "handle": tab }));
    }

    pub fn close_tab(&self, next: &Value) {
        self.ask("DELETE", "/window", &Value::Null);
        self.to_tab(next);
    }

    /// The screen of a device: CSS pixels, touched, two device pixels to each.
    pub fn screen(&self, width: u32, height: u32) {
        self.screen_as(width, height, true);
    }

    fn screen_as(&self, width: u32, height: u32, mobile: bool) {
        #[cfg(feature = "firefox")]
        if let Engine::Firefox(firefox) = &self.engine {
            return firefox.screen(width, height);
        }
        self.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": height, "deviceScaleFactor": 2, "mobile": mobile}),
        );
    }

    /// What the system prefers: `light` or `dark`.
    pub fn light(&self, scheme: &str) {
        #[cfg(feature = "firefox")]
        if let Engine::Firefox(firefox) = &self.engine {
            return firefox.light(scheme);
        }
        self.media("prefers-color-scheme", scheme);
    }

    /// A feature that style sheets ask for.
    pub fn media(&self, name: &str, value: &str) {
        self.devtools(
            "Emulation.setEmulatedMedia",
            json!({"features": [{"name": name, "value": value}]}),
        );
    }

    /// Runs a script in the page; `return` gives the value back.
    pub fn run(&self, script: &str) -> Value {
        self.ask("POST", "/execute/sync", &json!({"script": script, "args": []}))
    }

    /// Runs an async function body in the page and waits for what it returns.
    pub fn wait_for(&self, body: &str, args: &[Value]) -> Value {
        let script = format!(
            "const done = arguments[arguments.length - 1]; const args = [...arguments]; \
             (async () => {{ {body} }})().then(done, e => done('failed: ' + e));"
        );
        self.ask("POST", "/execute/async", &json!({"script": script, "args": args}))
    }

    /// Two frames: what was tapped is painted, and nothing moves under the next tap.
    pub fn settle(&self) {
        self.wait_for(
            "await new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r))); return 0;",
            &[],
        );
    }

    /// Waits until a script is true.
    pub fn until(&self, script: &str, what: &str) {
        let until = Instant::now() + Duration::from_secs(40);
        while self.run(script) != Value::Bool(true) {
            assert!(Instant::now() < until, "waited in vain for: {what}");
            std::thread::sleep(Duration::from_millis(30));
        }
    }

    /// Taps the middle of the first element with a finger. A hand takes its time where another screen comes: what stands
    /// there in the place of a question is not meant by a second tap within 0.3 s.
    pub fn tap(&self, selector: &str) {
        self.taps(selector, 1);
        if selector.starts_with("[data-test=ask-") {
            std::thread::sleep(Duration::from_millis(350));
        }
    }

    /// The same, twice in a hurry.
    pub fn double_tap(&self, selector: &str) {
        self.taps(selector, 2);
    }

    fn taps(&self, selector: &str, times: usize) {
        self.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
        // A hand taps what lies still; for 2 s it waits for that.
        let still = "const e = () => document.querySelector(args[0]); \
             const frame = () => new Promise(r => requestAnimationFrame(r)); \
             e().scrollIntoView({block: 'nearest'}); \
             const lies = () => { const r = e()?.getBoundingClientRect(); \
               return r && [r.x + r.width / 2, r.y + r.height / 2]; }; \
             let at = lies(); const until = performance.now() + 2000; \
             for (let calm = 0; calm < 2 && performance.now() < until;) { await frame(); const now = lies(); \
               calm = now && String(now) === String(at) ? calm + 1 : 0; at = now ?? at; } \
             return at;";
        let at = self.wait_for(still, &[json!(selector)]);
        let whole = |v: &Value| v.as_f64().expect("a place").round();
        let mut actions = vec![
            json!({"type": "pointerMove", "duration": 0, "x": whole(&at[0]), "y": whole(&at[1])}),
        ];
        for _ in 0..times {
            actions.push(json!({"type": "pointerDown", "button": 0}));
            actions.push(json!({"type": "pointerUp", "button": 0}));
            actions.push(json!({"type": "pause", "duration": 60}));
        }
        // The last tap is waited for no longer.
        actions.pop();
        self.ask(
            "POST",
            "/actions",
            &json!({"actions": [{"type": "pointer", "id": "thumb", "parameters": {"pointerType": self.pointer()}, "actions": actions}]}),
        );
    }

    /// What taps: Firefox on a desk makes no click of a finger.
    fn pointer(&self) -> &'static str {
        match &self.engine {
            Engine::Chromium(_) => "touch",
            #[cfg(feature = "firefox")]
            Engine::Firefox(_) => "mouse",
        }
    }

    /// Types on a real keyboard.
    pub fn type_keys(&self, text: &str) {
        let keys: Vec<Value> = text
            .chars()
            .flat_map(|c| {
                [
                    json!({"type": "keyDown", "value": c.to_string()}),
                    json!({"type": "keyUp", "value": c.to_string()}),
                ]
            })
            .collect();
        self.ask(
            "POST",
            "/actions",
            &json!({"actions": [{"type": "key", "id": "keyboard", "actions": keys}]}),
        );
    }

    /// Holds one key down while it presses another.
    pub fn chord(&self, held: char, key: char) {
        let one = |kind: &str, c: char| json!({"type": kind, "value": c.to_string()});
        self.ask(
            "POST",
            "/actions",
            &json!({"actions": [{"type": "key", "id": "keyboard", "actions": [
                one("keyDown", held), one("keyDown", key), one("keyUp", key), one("keyUp", held)
            ]}]}),
        );
    }

    /// The page's text in an element.
    pub fn text(&self, selector: &str) -> String {
        let text = self.run(&format!(
            "const e = document.querySelector({selector:?}); return e ? e.textContent : '';"
        ));
        text.as_str().unwrap_or_default().to_owned()
    }

    /// The text of an element as it is seen: what is hidden is left out.
    pub fn seen(&self, selector: &str) -> String {
        let element =
            self.ask("POST", "/element", &json!({"using": "css selector", "value": selector}));
        let id = element
            .as_object()
            .and_then(|e| e.values().next())
            .and_then(Value::as_str)
            .expect("an element");
        let text = self.ask("GET", &format!("/element/{id}/text"), &Value::Null);
        text.as_str().unwrap_or_default().to_owned()
    }

    /// The screen as it stands, a PNG in base64.
    pub fn picture(&self) -> String {
        let taken = self.ask("GET", "/screenshot", &Value::Null);
        taken.as_str().expect("a picture").to_owned()
    }

    /// What the console said since the last time, warnings and errors only.
    pub fn complaints(&self) -> Vec<String> {
        let log = self.ask("POST", "/se/log", &json!({"type": "browser"}));
        log.as_array()
            .into_iter()
            .flatten()
            .filter(|l| l["level"] == "SEVERE" || l["level"] == "WARNING")
            .map(|l| l["message"].to_string())
            .collect()
    }
}
