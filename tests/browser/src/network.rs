//! A network that does harm on the way from the site: it breaks off, changes what arrives, or answers for the site.
//!
//! It stands between the phone and the site, and carries one request a connection as the site does. Never here: the site.

use std::io::{self, Read, Write};
use std::net::{Ipv4Addr, Shutdown, TcpListener, TcpStream};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// What becomes of a file on its way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Harm {
    /// The site is said to be out of order (status 503).
    OutOfOrder,
    /// The file is said not to be there (status 404).
    NotThere,
    /// A page of somebody else arrives in its place, and all seems well: so do networks where one has to sign in first.
    PageOfAnother,
    /// All of its bytes arrive as the wrong type.
    WrongType,
    /// The connection breaks off in the middle of the file.
    BrokenOff,
    /// Half of the file arrives, and seems to be the whole.
    Half,
}

impl Harm {
    /// All of them.
    pub const ALL: [Harm; 6] = [
        Harm::OutOfOrder,
        Harm::NotThere,
        Harm::PageOfAnother,
        Harm::WrongType,
        Harm::BrokenOff,
        Harm::Half,
    ];

    /// What the phone is told in place of this answer.
    fn done_to(self, answer: &[u8]) -> Vec<u8> {
        const PAGE: &str = "<!doctype html><title>Sign in</title><p>Sign in to go on.</p>";
        let end = answer.windows(4).position(|it| it == b"\r\n\r\n");
        let (head, body) = answer.split_at(end.map_or(answer.len(), |end| end + 4));
        let head = String::from_utf8_lossy(head);
        let half = &body[..body.len() / 2];
        let with = |status: &str, kind: &str, body: &[u8]| {
            let length = body.len();
            let head = format!(
                "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n"
            );
            [head.as_bytes(), body].concat()
        };
        match self {
            Harm::OutOfOrder => with("503 Service Unavailable", "text/html", PAGE.as_bytes()),
            Harm::NotThere => with("404 Not Found", "text/html", PAGE.as_bytes()),
            Harm::PageOfAnother => with("200 OK", "text/html", PAGE.as_bytes()),
            Harm::WrongType => with("200 OK", "text/plain", body),
            Harm::BrokenOff => [head.as_bytes(), half].concat(),
            Harm::Half => with("200 OK", kind_in(&head), half),
        }
    }
}

/// The type that the head of an answer states.
fn kind_in(head: &str) -> &str {
    let mut headers = head.lines().filter_map(|line| line.split_once(": "));
    let kind = headers.find(|(name, _)| name.eq_ignore_ascii_case("content-type"));
    kind.map_or("text/plain", |(_, kind)| kind)
}

/// The files that come to harm, by how their address ends, and the harm.
type Harmed = Arc<Mutex<Option<(String, Harm)>>>;

/// A network between a phone and a site.
#[derive(Debug)]
pub struct Network {
    /// Where the phone finds the site through it.
    pub port: u16,
    harmed: Harmed,
}

impl Network {
    /// A network to the site at this port of this computer. It does no harm yet. It ends with the program.
    pub fn to(site: u16) -> Network {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
        let port = listener.local_addr().expect("its own address").port();
        let harmed = Harmed::default();
        let known = Arc::clone(&harmed);
        thread::spawn(move || {
            for phone in listener.incoming() {
                let known = Arc::clone(&known);
                // A browser that hangs up half way is its own affair.
                thread::spawn(move || phone.and_then(|phone| carry(&phone, site, &known)));
            }
        });
        Network { port, harmed }
    }

    /// From now on this comes to files whose address ends so, and to no others.
    pub fn harms(&self, ending: &str, harm: Harm) {
        self.set(Some((ending.to_owned(), harm)));
    }

    /// From now on everything arrives as it was sent.
    pub fn is_well_again(&self) {
        self.set(None);
    }

    fn set(&self, harmed: Option<(String, Harm)>) {
        *self.harmed.lock().unwrap_or_else(PoisonError::into_inner) = harmed;
    }
}

fn carry(mut phone: &TcpStream, site: u16, harmed: &Harmed) -> io::Result<()> {
    let mut asked = Vec::new();
    let mut bytes = [0; 4096];
    while !asked.ends_with(b"\r\n\r\n") {
        match phone.read(&mut bytes)? {
            0 => return Ok(()),
            count => asked.extend_from_slice(&bytes[..count]),
        }
    }
    let mut site = TcpStream::connect((Ipv4Addr::LOCALHOST, site))?;
    site.write_all(&asked)?;
    let mut answer = Vec::new();
    site.read_to_end(&mut answer)?;
    let first = String::from_utf8_lossy(&asked);
    let file = first.split_whitespace().nth(1).unwrap_or_default();
    let harmed = harmed
        .lock()
        .unwrap_or_else(PoisonError::into_inner)
        .clone();
    let answer = match harmed {
        Some((ending, harm)) if file.ends_with(&ending) => harm.done_to(&answer),
        Some(_) | None => answer,
    };
    phone.write_all(&answer)?;
    phone.shutdown(Shutdown::Both)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_harm_leaves_the_phone_with_something_else_than_was_sent() {
        let sent = b"HTTP/1.1 200 OK\r\nContent-Type: text/css\r\nContent-Length: 4\r\n\r\na{b}";
        let told = |harm: Harm| String::from_utf8_lossy(&harm.done_to(sent)).into_owned();
        assert!(told(Harm::OutOfOrder).starts_with("HTTP/1.1 503 "));
        assert!(told(Harm::NotThere).starts_with("HTTP/1.1 404 "));
        assert!(told(Harm::PageOfAnother).contains("Sign in"));
        assert!(
            told(Harm::WrongType).contains("text/plain") && told(Harm::WrongType).ends_with("a{b}")
        );
        assert!(
            told(Harm::BrokenOff).contains("Length: 4")
                && told(Harm::BrokenOff).ends_with("\r\n\r\na{")
        );
        assert!(told(Harm::Half).contains("text/css") && told(Harm::Half).contains("Length: 2"));
    }
}
