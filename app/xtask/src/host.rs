//! `host`: a small server for a folder of static files, for this computer alone.
//!
//! It answers as a careful static host would: true content types, names that carry their hash kept for ever, all others
//! asked for again each time, and packed where the folder holds a packed copy beside the file. It never writes, never
//! leaves its folder, and never listens beyond the loopback.
//!
//! Each connection has a thread of its own and carries one request. A pool of threads that keeps connections open stands
//! still as soon as a browser holds more of them than the pool has threads.

use crate::{Outcome, headers, nothing_more, port_and_rest};
use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

/// Browsers open connections ahead of need; one that stays silent this long is given up.
const PATIENCE: Duration = Duration::from_mins(1);
const LONGEST_REQUEST_BYTES: u64 = 64 * 1024;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let (port, rest) = port_and_rest(arguments)?;
    let Some((folder, more)) = rest.split_first() else {
        return Err("it wants the folder to serve: cargo xtask host dist".to_string());
    };
    nothing_more(more)?;
    serve(Path::new(folder), &listen(port.unwrap_or(0))?, |address| {
        println!("serving {address}");
    })
}

/// A listener on the loopback; port 0 means any free one.
pub(crate) fn listen(port: u16) -> Outcome<TcpListener> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port))
        .map_err(|error| format!("port {port} cannot be used: {error}. Name another with --port."))
}

/// Serves the folder until the program is ended. Announces the address once it answers.
pub(crate) fn serve(folder: &Path, listener: &TcpListener, announce: impl FnOnce(&str)) -> Outcome {
    let folder = folder
        .canonicalize()
        .map_err(|error| format!("{} cannot be served: {error}.", folder.display()))?;
    let address = listener
        .local_addr()
        .map_err(|error| format!("the server's own address cannot be read: {error}."))?;
    let folder: Arc<Path> = folder.into();
    announce(&format!("http://{address}/"));
    // A test reads the address through a pipe, where a line would wait for the buffer to fill.
    io::stdout()
        .flush()
        .map_err(|error| format!("the address cannot be printed: {error}."))?;
    for connection in listener.incoming() {
        let folder = Arc::clone(&folder);
        // A browser that hangs up half way is its own affair.
        std::thread::spawn(move || {
            connection.and_then(|connection| converse(&connection, &folder))
        });
    }
    Ok(())
}

fn converse(connection: &TcpStream, folder: &Path) -> io::Result<()> {
    connection.set_read_timeout(Some(PATIENCE))?;
    let request = Request::read(BufReader::new(connection.take(LONGEST_REQUEST_BYTES)))?;
    let (mut answer, with_body) = match &request {
        Some(request) if request.method == "GET" => (answer(folder, request), true),
        Some(request) if request.method == "HEAD" => (answer(folder, request), false),
        Some(_) => (
            Answer::plain(405, "Only GET and HEAD are answered here."),
            true,
        ),
        None => (Answer::plain(400, "That is no request."), true),
    };
    if let Some(request) = request {
        answer.also_say(folder, &request.target);
    }
    answer.write(connection, with_body)
}

/// What the first line of a request asks for, and the one header that changes the answer.
struct Request {
    method: String,
    target: String,
    unpacks_brotli: bool,
}

impl Request {
    /// Reads up to the empty line that ends the headers; `None` where it is no request.
    fn read(mut from: impl BufRead) -> io::Result<Option<Request>> {
        let mut first = String::new();
        from.read_line(&mut first)?;
        let mut unpacks_brotli = false;
        let mut line = String::new();
        while 2 < from.read_line(&mut line)? {
            let header = line.trim_end().to_ascii_lowercase();
            if let Some(packings) = header.strip_prefix("accept-encoding:") {
                unpacks_brotli = packings.split(',').any(|packing| packing.trim() == "br");
            }
            line.clear();
        }
        let words: Vec<_> = first.split_whitespace().collect();
        Ok(match words.as_slice() {
            [method, target, version] if version.starts_with("HTTP/1.") => Some(Request {
                method: (*method).to_string(),
                target: (*target).to_string(),
                unpacks_brotli,
            }),
            [..] => None,
        })
    }
}

struct Answer {
    status: u16,
    headers: Vec<(&'static str, String)>,
    /// What the folder asks for in its own file of headers.
    more: Vec<(String, String)>,
    body: Vec<u8>,
}

impl Answer {
    /// Takes over what the folder's file of headers says of an address and this server does not say anyway.
    fn also_say(&mut self, folder: &Path, address: &str) {
        let text = std::fs::read_to_string(folder.join(headers::FILE)).unwrap_or_default();
        let path = address.split(['?', '#']).next().unwrap_or_default();
        let said = |name: &str| self.headers.iter().any(|(it, _)| *it == name);
        let more = headers::of(&text, path);
        self.more = more.into_iter().filter(|(name, _)| !said(name)).collect();
    }

    fn write(&self, mut to: impl Write, with_body: bool) -> io::Result<()> {
        let reason = match self.status {
            200 => "OK",
            301 => "Moved Permanently",
            400 => "Bad Request",
            404 => "Not Found",
            _ => "Method Not Allowed",
        };
        let mut head = format!("HTTP/1.1 {} {reason}\r\n", self.status);
        let length = ("Content-Length", self.body.len().to_string());
        let close = ("Connection", "close".to_string());
        for (name, value) in self.headers.iter().chain([&length, &close]) {
            head = head + name + ": " + value + "\r\n";
        }
        for (name, value) in &self.more {
            head = head + name + ": " + value + "\r\n";
        }
        to.write_all(head.as_bytes())?;
        to.write_all(b"\r\n")?;
        if with_body {
            to.write_all(&self.body)?;
        }
        to.flush()
    }

    fn plain(status: u16, sentence: &str) -> Answer {
        Answer {
            status,
            headers: usual_headers("text/plain; charset=utf-8", "no-store"),
            more: Vec::new(),
            body: sentence.as_bytes().to_vec(),
        }
    }
}

fn usual_headers(content_type: &str, cache_control: &str) -> Vec<(&'static str, String)> {
    vec![
        ("Content-Type", content_type.to_string()),
        ("Cache-Control", cache_control.to_string()),
        ("X-Content-Type-Options", "nosniff".to_string()),
    ]
}

/// The answer to a GET.
fn answer(folder: &Path, request: &Request) -> Answer {
    let path = request.target.split(['?', '#']).next().unwrap_or_default();
    let Some(relative) = relative_path(path) else {
        return Answer::plain(404, "Not found.");
    };
    let mut file = folder.join(&relative);
    if file.is_dir() {
        if !path.ends_with('/') {
            let mut moved = Answer::plain(301, "Moved.");
            moved.headers.push(("Location", format!("{path}/")));
            return moved;
        }
        file.push("index.html");
    }
    // A link inside the folder may still point out of it.
    let inside = file
        .canonicalize()
        .is_ok_and(|real| real.starts_with(folder));
    let mut headers = usual_headers(content_type(&file), cache_control(&file));
    let packed = packed_name(&file).filter(|_| request.unpacks_brotli && inside);
    if let Some(body) = packed.and_then(|packed| std::fs::read(packed).ok()) {
        headers.push(("Content-Encoding", "br".to_string()));
        headers.push(("Vary", "Accept-Encoding".to_string()));
        return Answer {
            status: 200,
            headers,
            more: Vec::new(),
            body,
        };
    }
    match std::fs::read(&file) {
        Ok(body) if inside => Answer {
            status: 200,
            headers,
            more: Vec::new(),
            body,
        },
        Ok(_) | Err(_) => Answer::plain(404, "Not found."),
    }
}

/// Where the packed copy of a file stands, if there is one.
fn packed_name(file: &Path) -> Option<PathBuf> {
    let name = file.file_name()?.to_str()?;
    Some(file.with_file_name(format!("{name}.br")))
}

/// The path below the folder that an address names; `None` where it would lead out of it or to a hidden file.
fn relative_path(path: &str) -> Option<PathBuf> {
    let decoded = percent_decoded(path)?;
    let mut relative = PathBuf::new();
    for part in decoded.strip_prefix('/')?.split('/') {
        if part.starts_with('.') || part.contains(['\\', ':', '\0']) {
            return None;
        }
        relative.push(part);
    }
    Some(relative)
}

fn percent_decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let digits = [rest.next()?, rest.next()?];
            let digits = std::str::from_utf8(&digits).ok()?;
            bytes.push(u8::from_str_radix(digits, 16).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

fn content_type(file: &Path) -> &'static str {
    match file.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("webmanifest") => "application/manifest+json",
        Some("json") => "application/json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("txt") => "text/plain; charset=utf-8",
        Some(_) | None => "application/octet-stream",
    }
}

fn cache_control(file: &Path) -> &'static str {
    let name = file
        .file_name()
        .and_then(|name| name.to_str())
        .unwrap_or_default();
    headers::cache_control(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .canonicalize()
            .expect("the folder of this package")
    }

    fn header<'a>(answer: &'a Answer, wanted: &str) -> Option<&'a str> {
        let found = answer.headers.iter().find(|(name, _)| *name == wanted);
        found.map(|(_, value)| value.as_str())
    }

    fn get(address: &str) -> Request {
        Request {
            method: "GET".to_string(),
            target: address.to_string(),
            unpacks_brotli: false,
        }
    }

    fn request(text: &str) -> Option<(String, String)> {
        let request = Request::read(text.as_bytes()).expect("text can be read");
        request.map(|request| (request.method, request.target))
    }

    #[test]
    fn a_request_is_its_first_line() {
        let asked = request("GET /a?b HTTP/1.1\r\nHost: x\r\n\r\nGET /c HTTP/1.1\r\n\r\n");
        assert_eq!(asked, Some(("GET".to_string(), "/a?b".to_string())));
        for text in ["", "\r\n", "GET /a", "hello HTTP/1.1\r\n\r\n"] {
            assert_eq!(request(text), None, "{text:?}");
        }
    }

    #[test]
    fn an_answer_to_head_tells_the_length_and_holds_no_body() {
        let mut written = Vec::new();
        let answer = Answer::plain(404, "Not found.");
        answer
            .write(&mut written, false)
            .expect("memory can be written");
        let text = String::from_utf8(written).expect("text");
        assert!(text.starts_with("HTTP/1.1 404 Not Found\r\n"));
        assert!(text.contains("\r\nContent-Length: 10\r\n") && text.ends_with("\r\n\r\n"));
    }

    #[test]
    fn a_silent_connection_does_not_keep_others_waiting() {
        let listener = listen(0).expect("a free port");
        let address = listener.local_addr().expect("an address");
        std::thread::spawn(move || serve(&folder(), &listener, |_| ()));
        let silent: Vec<_> = (0..32).map(|_| TcpStream::connect(address)).collect();
        let mut asking = TcpStream::connect(address).expect("a connection");
        asking
            .write_all(b"GET /Cargo.toml HTTP/1.1\r\n\r\n")
            .expect("a request");
        let mut text = String::new();
        asking.read_to_string(&mut text).expect("an answer");
        assert!(text.starts_with("HTTP/1.1 200 OK") && silent.iter().all(Result::is_ok));
    }

    #[test]
    fn a_file_is_served_with_its_bytes_whatever_the_query() {
        let answer = answer(&folder(), &get("/src/host.rs?fresh=1"));
        assert_eq!(answer.status, 200);
        assert_eq!(answer.body, include_bytes!("host.rs"));
    }

    #[test]
    fn no_address_leads_out_of_the_folder() {
        for address in [
            "/../xtask/Cargo.toml",
            "/%2e%2e/xtask/Cargo.toml",
            "/src/..%2f..%2frules/Cargo.toml",
            "/..%5crules",
            "/src/%00",
            "Cargo.toml",
            "/%zz",
            "/.git/config",
        ] {
            assert_eq!(answer(&folder(), &get(address)).status, 404, "{address}");
        }
    }

    #[test]
    fn a_folder_without_its_slash_is_moved_so_that_relative_addresses_hold() {
        let answer = answer(&folder(), &get("/src"));
        assert_eq!(
            (answer.status, header(&answer, "Location")),
            (301, Some("/src/"))
        );
    }

    #[test]
    fn a_packed_copy_goes_to_those_who_can_unpack_it_and_to_nobody_else() {
        let folder = std::env::temp_dir().join(format!("evenrow-host-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        for (name, body) in [("a.js", "whole"), ("a.js.br", "packed"), ("b.js", "alone")] {
            std::fs::write(folder.join(name), body).expect("a file");
        }
        let got = |name: &str, packings: &str| {
            let text = format!("GET /{name} HTTP/1.1\r\nAccept-Encoding: {packings}\r\n\r\n");
            let request = Request::read(text.as_bytes()).expect("text can be read");
            let answer = answer(
                &folder.canonicalize().expect("it"),
                &request.expect("a request"),
            );
            let packing = header(&answer, "Content-Encoding").map(ToString::to_string);
            assert!(
                header(&answer, "Content-Type").is_some_and(|it| it.starts_with("text/javascript"))
            );
            (answer.body, packing)
        };
        assert_eq!(
            got("a.js", "gzip, br"),
            (b"packed".to_vec(), Some("br".to_string()))
        );
        assert_eq!(got("a.js", "gzip"), (b"whole".to_vec(), None));
        assert_eq!(got("b.js", "gzip, br"), (b"alone".to_vec(), None));
        std::fs::remove_dir_all(&folder).expect("the folder can go");
    }

    #[test]
    fn only_names_that_carry_their_hash_are_kept_for_ever() {
        assert!(
            cache_control(Path::new("evenrow-web-0123456789abcdef.wasm")).contains("immutable")
        );
        for name in ["index.html", "sw.js", "boot.js", "words/en.txt"] {
            assert_eq!(cache_control(Path::new(name)), "no-cache", "{name}");
        }
    }

    #[test]
    fn what_a_browser_is_strict_about_has_its_true_type() {
        assert_eq!(content_type(Path::new("a.wasm")), "application/wasm");
        assert_eq!(
            content_type(Path::new("a.webmanifest")),
            "application/manifest+json"
        );
        assert!(content_type(Path::new("a.js")).starts_with("text/javascript"));
    }
}
