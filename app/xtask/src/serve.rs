//! `serve`: builds the app and serves it to this computer, to try it in a browser.

use crate::{Outcome, build, host, nothing_more, port_and_rest, setup};
use std::net::TcpListener;

const USUAL_PORT: u16 = 8420;
const PORTS_TO_TRY: u16 = 50;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    let (port, rest) = port_and_rest(arguments)?;
    nothing_more(&rest)?;
    let dist = build::build(&setup::for_building()?)?;
    let listener = match port {
        Some(port) => host::listen(port)?,
        None => first_free_port()?,
    };
    host::serve(&dist, &listener, |address| {
        println!("\nEvenrow is at {address} for this computer alone. Ctrl-C ends it.");
    })
}

fn first_free_port() -> Outcome<TcpListener> {
    (USUAL_PORT..USUAL_PORT + PORTS_TO_TRY)
        .find_map(|port| host::listen(port).ok())
        .ok_or_else(|| {
            format!("ports {USUAL_PORT} and the {PORTS_TO_TRY} after it are taken. Name a free one with --port.")
        })
}
