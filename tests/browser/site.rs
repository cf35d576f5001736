//! A static server over a folder that can be stopped for real: its listener and every connection.

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// Files by their path, and what the server answers with.
pub type Files = BTreeMap<String, Vec<u8>>;

/// What the server does beside answering.
#[derive(Default)]
struct Manner {
    /// The start of the names of files that are asked for in vain, until they are let go.
    held: Option<String>,
    /// Everything but page and service worker may be kept by the browser.
    lasting: bool,
    /// Every file that was asked for.
    asked: Vec<String>,
}

/// A running server.
pub struct Site {
    pub address: String,
    files: Arc<Mutex<Files>>,
    manner: Arc<Mutex<Manner>>,
    stopped: Arc<AtomicBool>,
    open: Arc<Mutex<Vec<TcpStream>>>,
}

/// All files of a folder.
pub fn read(folder: &Path) -> Files {
    let mut files = Files::new();
    let mut rest = vec![folder.to_path_buf()];
    while let Some(next) = rest.pop() {
        for entry in std::fs::read_dir(&next).expect("dist/ is there: build first") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                rest.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("below the folder");
                let name = name.to_string_lossy().replace('\\', "/");
                files.insert(name, std::fs::read(&path).expect("a file"));
            }
        }
    }
    files
}

impl Site {
    /// Serves the files under `/{base}`; `base` is empty or ends with a slash.
    pub fn serve(files: Files, base: &str) -> Site {
        Site::serve_encoded(files, base, "identity")
    }

    /// The same with every file already in that content coding (`br`, `gzip`).
    pub fn serve_encoded(files: Files, base: &str, coding: &'static str) -> Site {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
        let address = format!("http://{}/{base}", listener.local_addr().expect("an address"));
        let stopped = Arc::new(AtomicBool::new(false));
        let open: Arc<Mutex<Vec<TcpStream>>> = Arc::default();
        let (files, base) = (Arc::new(Mutex::new(files)), base.to_owned());
        let manner = Arc::<Mutex<Manner>>::default();
        let (gone, connections, served) = (stopped.clone(), open.clone(), files.clone());
        let own_manner = manner.clone();
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                if gone.load(Ordering::SeqCst) {
                    return;
                }
                if let Ok(copy) = stream.try_clone() {
                    connections.lock().expect("no panic holds it").push(copy);
                }
                let (files, base) = (served.clone(), base.clone());
                let manner = own_manner.clone();
                std::thread::spawn(move || answer(stream, &files, &manner, &base, coding));
            }
        });
        Site { address, files, manner, stopped, open }
    }

    /// Holds back the files whose names start so; `None` lets them go.
    pub fn hold(&self, start: Option<&str>) {
        self.manner.lock().expect("no panic holds it").held = start.map(str::to_owned);
    }

    /// As a static host does: the browser may keep every file whose name tells its bytes.
    pub fn let_keep(&self) {
        self.manner.lock().expect("no panic holds it").lasting = true;
    }

    /// Every file that was asked for so far, in that order.
    pub fn asked(&self) -> Vec<String> {
        self.manner.lock().expect("no panic holds it").asked.clone()
    }

    /// From now on serves another build at the same address.
    pub fn replace(&self, files: Files) {
        *self.files.lock().expect("no panic holds it") = files;
    }

    /// Stops listening and cuts every connection.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::SeqCst);
        for stream in self.open.lock().expect("no panic holds it").drain(..) {
            // Already closed is closed.
            let _ = stream.shutdown(Shutdown::Both);
        }
        // Wakes the listener, which then leaves.
        let host = self.address.trim_start_matches("http://");
        let _ = TcpStream::connect(host.split('/').next().unwrap_or(host));
    }
}

fn answer(
    stream: TcpStream,
    files: &Mutex<Files>,
    manner: &Mutex<Manner>,
    base: &str,
    coding: &str,
) {
    let held = |name: &str| {
        let manner = manner.lock().expect("no panic holds it");
        manner.held.as_ref().is_some_and(|start| name.starts_with(start.as_str()))
    };
    let Ok(mut out) = stream.try_clone() else {
        return;
    };
    let mut lines = BufReader::new(stream);
    loop {
        let mut first = String::new();
        if lines.read_line(&mut first).unwrap_or(0) == 0 {
            return;
        }
        let mut header = String::new();
        while lines.read_line(&mut header).unwrap_or(0) > 2 {
            header.clear();
        }
        let path = first.split(' ').nth(1).unwrap_or("/").split('?').next().unwrap_or("/");
        let name = path.trim_start_matches('/').strip_prefix(base).unwrap_or("\0");
        let name = if name.is_empty() { "index.html" } else { name };
        manner.lock().expect("no panic holds it").asked.push(name.to_owned());
        while held(name) {
            std::thread::sleep(Duration::from_millis(20));
        }
        let lasting = manner.lock().expect("no panic holds it").lasting;
        let keep = match lasting && !["index.html", "sw.js"].contains(&name) {
            true => "max-age=31536000, immutable",
            false => "no-store",
        };
        let found = files.lock().expect("no panic holds it").get(name).cloned();
        let (status, body, kind) = match found {
            Some(bytes) => ("200 OK", bytes, kind(name)),
            // Asked for by the browser itself where a page names none.
            None if name == "favicon.ico" => ("204 No Content", Vec::new(), "text/plain"),
            None => ("404 Not Found", Vec::new(), "text/plain"),
        };
        let head = format!(
            "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Encoding: {coding}\r\nContent-Length: {}\r\nCache-Control: {keep}\r\n\r\n",
            body.len()
        );
        if out.write_all(head.as_bytes()).and_then(|()| out.write_all(&body)).is_err() {
            return;
        }
    }
}

fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    }
}
