//! `cargo xtask serve`: builds, then serves `dist/` to this machine or to the home network.

use crate::build;
use crate::pinned::STABLE;
use crate::shell::Failed;
use std::net::UdpSocket;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tiny_http::{Header, Method, Request, Response, Server};

const PORT: u16 = 8730;

/// Serves until it is stopped.
pub fn run(words: &[&str]) -> Result<(), Failed> {
    let (host, port) = read(words)?;
    let folder = build::run()?;
    let address = if host { "0.0.0.0" } else { "127.0.0.1" };
    let server = Server::http((address, port))
        .map_err(|e| format!("Port {port} cannot be served ({e}). Another one: --port N"))?;
    println!("Offsquare is at http://127.0.0.1:{port}/");
    if host {
        match home_address() {
            Some(ip) => println!("On the home network: http://{ip}:{port}/"),
            None => println!("On the home network: this machine's address, port {port}"),
        }
        println!(
            "A phone can use it there; installing it or using it offline needs https or localhost."
        );
    }
    let page = Arc::new(Site::open(folder)?);
    let server = Arc::new(server);
    let workers: Vec<_> = (0..4)
        .map(|_| {
            let (server, page) = (server.clone(), page.clone());
            std::thread::spawn(move || {
                while let Ok(request) = server.recv() {
                    page.answer(request);
                }
            })
        })
        .collect();
    for worker in workers {
        let _ = worker.join();
    }
    Err("The server stopped.".into())
}

fn read(words: &[&str]) -> Result<(bool, u16), Failed> {
    let (mut host, mut port) = (false, PORT);
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match *word {
            "--host" => host = true,
            "--port" => {
                port = words
                    .next()
                    .and_then(|n| n.parse().ok())
                    .filter(|n| *n > 0)
                    .ok_or("--port wants a number from 1 to 65535")?;
            }
            other => return Err(format!("serve does not know {other}: [--host] [--port N]")),
        }
    }
    Ok((host, port))
}

/// This machine's address on its own network. Nothing is sent: a UDP socket only picks its side.
fn home_address() -> Option<std::net::IpAddr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    let ip = socket.local_addr().ok()?.ip();
    (!ip.is_loopback() && !ip.is_unspecified()).then_some(ip)
}

struct Site {
    folder: PathBuf,
    policy: String,
}

impl Site {
    fn open(folder: PathBuf) -> Result<Site, Failed> {
        let page = std::fs::read_to_string(folder.join("index.html"))
            .map_err(|e| format!("dist/index.html: {e}"))?;
        Ok(Site {
            policy: policy(&page).ok_or("dist/index.html carries no Content-Security-Policy")?,
            folder,
        })
    }

    fn answer(&self, request: Request) {
        let known = matches!(request.method(), Method::Get | Method::Head);
        let file = known.then(|| self.find(request.url())).flatten();
        let (status, kind, bytes) = match file {
            Some((path, bytes)) => (200, media_type(&path), bytes),
            None if known => (404, "text/plain", b"Not found\n".to_vec()),
            None => (405, "text/plain", b"Only reading\n".to_vec()),
        };
        // Every other name tells its bytes, so a browser may keep the file.
        let lasting =
            status == 200 && file_name(request.url()).is_some_and(|n| !STABLE.contains(&n));
        let headers = [
            ("Content-Type", kind),
            ("Content-Security-Policy", &self.policy),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cache-Control", if lasting { "max-age=31536000, immutable" } else { "no-cache" }),
        ];
        let mut response = Response::from_data(bytes).with_status_code(status);
        for (name, value) in headers {
            if let Ok(header) = Header::from_bytes(name, value) {
                response.add_header(header);
            }
        }
        // A browser that went away is no failure of the server.
        let _ = request.respond(response);
    }

    fn find(&self, url: &str) -> Option<(PathBuf, Vec<u8>)> {
        let name = file_name(url)?;
        let path = self.folder.join(name);
        std::fs::read(&path).ok().map(|bytes| (path, bytes))
    }
}

/// The file that a request asks for, or none if it points out of the folder.
fn file_name(url: &str) -> Option<&str> {
    let path = url.split(['?', '#']).next()?.strip_prefix('/')?;
    let path = if path.is_empty() { "index.html" } else { path };
    let inside = path
        .split('/')
        .all(|part| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', '%', ':']));
    inside.then_some(path)
}

/// The page's own policy, and that no other page may frame it (which only a header can say).
fn policy(page: &str) -> Option<String> {
    let (_, rest) = page.split_once("Content-Security-Policy\" content=\"")?;
    let (policy, _) = rest.split_once('"')?;
    Some(format!("{policy}; frame-ancestors 'none'"))
}

fn media_type(path: &Path) -> &'static str {
    match path.extension().and_then(|e| e.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webmanifest") => "application/manifest+json",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn requests_stay_in_the_folder() {
        assert_eq!(file_name("/"), Some("index.html"));
        assert_eq!(file_name("/icons/a.png?x=1"), Some("icons/a.png"));
        for outside in ["/../Cargo.toml", "/a/../../b", "//etc/passwd", "/%2e%2e/b", "x"] {
            assert_eq!(file_name(outside), None, "{outside}");
        }
    }

    #[test]
    fn words_are_read() {
        assert_eq!(read(&[]), Ok((false, PORT)));
        assert_eq!(read(&["--port", "9000", "--host"]), Ok((true, 9000)));
        assert!(read(&["--port"]).is_err());
        assert!(read(&["--port", "0"]).is_err());
        assert!(read(&["--hots"]).is_err());
    }

    #[test]
    fn the_header_repeats_the_page() {
        let page = r#"<meta http-equiv="Content-Security-Policy" content="default-src 'self'">"#;
        assert_eq!(policy(page).as_deref(), Some("default-src 'self'; frame-ancestors 'none'"));
    }
}
