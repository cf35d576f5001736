//! Firefox by its own protocol, Marionette: what the other engine makes of the same pages.
//!
//! Messages over one connection, each led by its length: `[0, number, command, parameters]` there, `[1, number, error,
//! result]` back. The commands are those of WebDriver by other names.

use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A running Firefox; it ends with this.
pub struct Firefox {
    process: Child,
    stream: RefCell<TcpStream>,
    sent: Cell<u32>,
    profile: PathBuf,
}

impl Firefox {
    /// A missing browser is a failure, never a skip.
    pub fn start() -> Firefox {
        let profile =
            std::env::temp_dir().join(format!("offsquare-firefox-{}", std::process::id()));
        std::fs::create_dir_all(&profile).expect("a folder for the profile");
        // Any free port, which it then writes into the profile; a finger in the place of a mouse.
        let own = [
            ("marionette.port", 0),
            ("ui.primaryPointerCapabilities", 1),
            ("ui.allPointerCapabilities", 1),
        ];
        let own: String =
            own.iter().map(|(key, n)| format!("user_pref(\"{key}\", {n});\n")).collect();
        std::fs::write(profile.join("user.js"), own).expect("written");
        let mut process = Command::new("firefox-esr")
            // The page's size and light are the browser's own affair.
            .args(["--headless", "--marionette", "--remote-allow-system-access"])
            .args(["--no-remote", "--profile"])
            .arg(&profile)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("firefox-esr is missing: run `cargo xtask check --long`, which installs it or says how");
        let until = Instant::now() + Duration::from_secs(60);
        let stream = loop {
            let port = std::fs::read_to_string(profile.join("MarionetteActivePort"));
            let port = port.ok().and_then(|p| p.trim().parse::<u16>().ok());
            match port.and_then(|port| TcpStream::connect(("127.0.0.1", port)).ok()) {
                Some(stream) => break stream,
                None => {
                    let ended = process.try_wait().ok().flatten();
                    assert!(ended.is_none(), "firefox ended: {ended:?}");
                    assert!(Instant::now() < until, "firefox did not start");
                    std::thread::sleep(Duration::from_millis(50));
                }
            }
        };
        let firefox =
            Firefox { process, stream: RefCell::new(stream), sent: Cell::new(0), profile };
        // It speaks first.
        firefox.hear();
        let timeouts = json!({"script": 120_000, "pageLoad": 60_000});
        firefox.tell(
            "WebDriver:NewSession",
            &json!({"capabilities": {"alwaysMatch": {"timeouts": timeouts}}}),
        );
        firefox
    }

    fn hear(&self) -> Value {
        let mut stream = self.stream.borrow_mut();
        let mut length = 0;
        loop {
            let mut byte = [0];
            stream.read_exact(&mut byte).expect("firefox answers");
            match byte[0] {
                b':' => break,
                digit => length = length * 10 + usize::from(digit - b'0'),
            }
        }
        let mut raw = vec![0; length];
        stream.read_exact(&mut raw).expect("firefox answers");
        serde_json::from_slice(&raw).expect("a JSON answer")
    }

    fn tell(&self, command: &str, given: &Value) -> Value {
        self.sent.set(self.sent.get() + 1);
        let text = json!([0, self.sent.get(), command, given]).to_string();
        write!(self.stream.borrow_mut(), "{}:{text}", text.len()).expect("firefox listens");
        let mut reply = self.hear();
        assert!(reply[2].is_null(), "{command}: {}", reply[2]);
        match reply[3].get_mut("value") {
            Some(value) => value.take(),
            None => reply[3].take(),
        }
    }

    /// The same requests as WebDriver's.
    pub fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        let command = match (method, path) {
            ("POST", "/url") => "WebDriver:Navigate",
            ("POST", "/execute/sync") => "WebDriver:ExecuteScript",
            ("POST", "/execute/async") => "WebDriver:ExecuteAsyncScript",
            ("POST", "/actions") => "WebDriver:PerformActions",
            ("GET", "/screenshot") => "WebDriver:TakeScreenshot",
            _ => panic!("Firefox is not asked {method} {path}"),
        };
        let whole_window = json!({"full": false});
        self.tell(command, if body.is_null() { &whole_window } else { body })
    }

    /// A script of the browser's own, not of the page.
    fn own(&self, script: &str) {
        self.tell("Marionette:SetContext", &json!({"value": "chrome"}));
        self.tell("WebDriver:ExecuteScript", &json!({"script": script, "args": []}));
        self.tell("Marionette:SetContext", &json!({"value": "content"}));
    }

    /// The page's screen in CSS pixels: its window cannot be as narrow, the page in it can.
    pub fn screen(&self, width: u32, height: u32) {
        self.own(&format!(
            "for (const [key, px] of [['width', {width}], ['height', {height}]]) for (const most of ['min', 'max']) \
               gBrowser.selectedBrowser.style.setProperty(`${{most}}-${{key}}`, `${{px}}px`);"
        ));
    }

    /// What the system prefers: `light` or `dark`.
    pub fn light(&self, scheme: &str) {
        let dark = u32::from(scheme != "dark");
        self.own(&format!(
            "Services.prefs.setIntPref('layout.css.prefers-color-scheme.content-override', {dark});"
        ));
    }
}

impl Drop for Firefox {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}
