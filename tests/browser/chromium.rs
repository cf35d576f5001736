//! Chromium by WebDriver, over chromedriver.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A running chromedriver with one Chromium; both end with it.
pub struct Chromium {
    driver: Child,
    port: u16,
    session: String,
    /// The browser's own process.
    chromium: Option<u64>,
    profile: std::path::PathBuf,
    /// The profile stays when the browser ends.
    keeps_profile: bool,
}

impl Chromium {
    /// Starts both, as the device of that description. A missing browser is a failure, never a skip.
    pub fn start(emulated: Value) -> Chromium {
        Chromium::start_in(emulated, None)
    }

    /// The same with a profile that was used before, and stays.
    pub fn start_in(emulated: Value, kept: Option<&std::path::Path>) -> Chromium {
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
        let mut browser = Chromium {
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

    pub fn ask(&self, method: &str, path: &str, body: &Value) -> Value {
        self.call(method, &format!("/session/{}{path}", self.session), body)
    }

    /// The browser's own process.
    pub fn process(&self) -> Option<u64> {
        self.chromium
    }
}

impl Drop for Chromium {
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
