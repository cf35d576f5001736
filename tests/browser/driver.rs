//! A small WebDriver client over chromedriver: enough to drive one phone-sized page.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A running chromedriver with one Chromium, a touched phone or a desk's with mouse and keyboard; both end with it.
pub struct Browser {
    driver: Child,
    port: u16,
    session: String,
    /// The browser's own process.
    chromium: Option<u64>,
    profile: std::path::PathBuf,
    /// The profile stays when the browser ends.
    keeps_profile: bool,
}

impl Browser {
    /// Starts both, as a phone. A missing browser is a failure, never a skip.
    pub fn start() -> Browser {
        Browser::start_as(
            json!({"deviceMetrics": {"width": 360, "height": 740, "pixelRatio": 2, "touch": true, "mobile": true}}),
        )
    }

    /// Starts both on a desk: 1440 × 900 px, a mouse, a keyboard.
    pub fn start_at_a_desk() -> Browser {
        let browser = Browser::start_as(Value::Null);
        browser.screen_as(1440, 900, false);
        browser
    }

    /// Starts both as a phone that has been used before: all that is kept in this folder.
    pub fn start_again(profile: &std::path::Path) -> Browser {
        let phone = json!({"deviceMetrics": {"width": 360, "height": 740, "pixelRatio": 2, "touch": true, "mobile": true}});
        Browser::start_in(phone, Some(profile))
    }

    /// Ends the browser's own process at once, with no word to it.
    pub fn kill(&self) {
        if let Some(id) = self.chromium {
            let _ = Command::new("kill").args(["-9", &id.to_string()]).status();
        }
    }

    fn start_as(emulated: Value) -> Browser {
        Browser::start_in(emulated, None)
    }

    fn start_in(emulated: Value, kept: Option<&std::path::Path>) -> Browser {
        let port = TcpListener::bind("127.0.0.1:0")
            .and_then(|l| l.local_addr())
            .expect("a free port")
            .port();
        let driver = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect(
                "chromedriver is missing: run `cargo xtask test`, which installs it or says how",
            );
        let own = std::env::temp_dir().join(format!("offsquare-browser-{port}"));
        let profile = kept.map_or(own, std::path::Path::to_path_buf);
        let mut browser = Browser {
            driver,
            port,
            session: String::new(),
            chromium: None,
            profile: profile.clone(),
            keeps_profile: kept.is_some(),
        };
        let until = Instant::now() + Duration::from_secs(20);
        while TcpStream::connect(("127.0.0.1", port)).is_err() {
            assert!(Instant::now() < until, "chromedriver did not start");
            std::thread::sleep(Duration::from_millis(50));
        }
        let user_data = format!("--user-data-dir={}", profile.display());
        let mut options = json!({
            "args": ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                "--disable-background-networking", "--disable-component-update", "--disable-sync", user_data],
        });
        if !emulated.is_null() {
            options["mobileEmulation"] = emulated;
        }
        let reply = browser.call(
            "POST",
            "/session",
            &json!({"capabilities": {"alwaysMatch": {
                "browserName": "chrome",
                // A busy machine is no failure of the app.
                "timeouts": {"script": 120_000},
                "goog:loggingPrefs": {"browser": "ALL"},
                "goog:chromeOptions": options
            }}}),
        );
        browser.chromium = reply["capabilities"]["goog:processID"].as_u64();
        browser.session = reply["sessionId"].as_str().expect("a session").to_owned();
        browser
    }

    fn call(&self, method: &str, path: &str, body: &Value) -> Value {
        let mut stream =
            TcpStream::connect(("127.0.0.1", self.port)).expect("chromedriver answers");
        let body = if body.is_null() { String::new() } else { body.to_string() };
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            self.port,
            body.len()
        )
        .expect("chromedriver listens");
        // The driver keeps the connection open: the answer ends where its length says.
        let mut lines = BufReader::new(stream);
        let mut length = 0;
        loop {
            let mut line = String::new();
            lines.read_line(&mut line).expect("chromedriver answers");
            let line = line.trim().to_lowercase();
            if let Some(n) = line.strip_prefix("content-length:") {
                length = n.trim().parse().expect("a length");
            }
            if line.is_empty() {
                break;
            }
        }
        let mut raw = vec![0; length];
        lines.read_exact(&mut raw).expect("chromedriver answers");
        let body = String::from_utf8_lossy(&raw);
        let reply: Value = serde_json::from_str(&body).expect("a JSON answer");
        let value = reply["value"].clone();
        assert!(value.get("error").is_none(), "{method} {path}: {value}");
        value
    }

    fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        self.call(method, &format!("/session/{}{path}", self.session), body)
    }

    /// The browser's own process.
    pub fn process(&self) -> Option<u64> {
        self.chromium
    }

    pub fn go(&self, url: &str) {
        self.ask("POST", "/url", &json!({ "url": url }));
    }

    /// A command of the DevTools protocol to the page.
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
        self.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": height, "deviceScaleFactor": 2, "mobile": mobile}),
        );
    }

    /// What the system prefers: `light` or `dark`.
    pub fn light(&self, scheme: &str) {
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
        let until = Instant::now() + Duration::from_secs(20);
        while self.run(script) != Value::Bool(true) {
            assert!(Instant::now() < until, "waited in vain for: {what}");
            std::thread::sleep(Duration::from_millis(30));
        }
    }

    /// Taps the middle of the first element with a finger.
    pub fn tap(&self, selector: &str) {
        self.taps(selector, 1);
    }

    /// The same, twice in a hurry.
    pub fn double_tap(&self, selector: &str) {
        self.taps(selector, 2);
    }

    fn taps(&self, selector: &str, times: usize) {
        self.until(&format!("return document.querySelector({selector:?}) !== null"), selector);
        let at = self.run(&format!(
            "const e = document.querySelector({selector:?}); e.scrollIntoView({{block: 'nearest'}}); \
             const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2];"
        ));
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
            &json!({"actions": [{"type": "pointer", "id": "thumb", "parameters": {"pointerType": "touch"}, "actions": actions}]}),
        );
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

impl Drop for Browser {
    fn drop(&mut self) {
        if !self.session.is_empty() {
            // The driver is killed next, whatever it answers.
            let _ = TcpStream::connect(("127.0.0.1", self.port)).and_then(|mut s| {
                write!(
                    s,
                    "DELETE /session/{} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n",
                    self.session
                )?;
                s.read(&mut [0; 64])
            });
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        // A busy browser can outlive its driver.
        if let Some(id) = self.chromium {
            let until = Instant::now() + Duration::from_secs(3);
            // One that has ended and waits to be counted has no command line.
            let alive =
                || std::fs::read(format!("/proc/{id}/cmdline")).is_ok_and(|line| !line.is_empty());
            while alive() && Instant::now() < until {
                std::thread::sleep(Duration::from_millis(20));
            }
            if alive() {
                let _ = Command::new("kill").args(["-9", &id.to_string()]).status();
            }
        }
        if !self.keeps_profile {
            let _ = std::fs::remove_dir_all(&self.profile);
        }
    }
}
