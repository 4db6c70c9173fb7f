//! The site: the built app, served to this computer. It can die in the middle of a story and come back.

use std::net::TcpStream;
use std::path::PathBuf;
use std::process::Command;

use crate::network::Network;
use crate::process::{Group, required};

/// A site that serves the built app.
#[derive(Debug)]
pub struct Site {
    folder: PathBuf,
    port: u16,
    host: Option<Group>,
    network: Option<Network>,
}

impl Site {
    /// Serves the app as it was built.
    pub fn open() -> Site {
        Site::of(required("EVENROW_DIST").into())
    }

    /// Serves the app that panics when its address asks for it.
    pub fn that_panics() -> Site {
        Site::of(required("EVENROW_DIST_PANIC").into())
    }

    /// Serves a folder.
    pub fn of(folder: PathBuf) -> Site {
        let (host, port) = serve(&folder, 0);
        Site {
            folder,
            port,
            host: Some(host),
            network: None,
        }
    }

    /// Serves the app as it was built, through a network that can be told to do harm.
    pub fn behind_a_network() -> Site {
        let site = Site::open();
        let network = Some(Network::to(site.port));
        Site { network, ..site }
    }

    /// The network before it.
    ///
    /// # Panics
    ///
    /// When it stands behind none.
    pub fn network(&self) -> &Network {
        self.network.as_ref().expect("a site behind a network")
    }

    /// Where it is, with the slash at the end.
    pub fn address(&self) -> String {
        format!("{}/", self.origin())
    }

    /// Its origin, as browsers write it.
    pub fn origin(&self) -> String {
        let port = self.network.as_ref().map_or(self.port, |it| it.port);
        format!("http://127.0.0.1:{port}")
    }

    /// The server dies; nothing listens any more.
    ///
    /// # Panics
    ///
    /// When something still listens: an offline story would then prove nothing.
    pub fn die(&mut self) {
        if let Some(host) = self.host.take() {
            host.end();
        }
        let answer = TcpStream::connect(("127.0.0.1", self.port));
        assert!(
            answer.is_err(),
            "something still listens on port {}",
            self.port
        );
    }

    /// The server comes back at the same address.
    pub fn come_back(&mut self) {
        let (host, _) = serve(&self.folder, self.port);
        self.host = Some(host);
    }
}

fn serve(folder: &PathBuf, port: u16) -> (Group, u16) {
    Group::start(
        Command::new(required("EVENROW_HOST"))
            .arg("host")
            .arg(folder)
            .args(["--port", &port.to_string()]),
        "http://127.0.0.1:",
    )
}
