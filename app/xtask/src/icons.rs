//! `icons`: draws the PNG icons from the SVG ones with a browser. The PNGs are kept with the sources, as not every
//! build has a browser; call this after changing a drawing.

use crate::{Outcome, nothing_more, project, run, setup};
use std::process::Command;

struct Drawing {
    from: &'static str,
    to: &'static str,
    pixels: u32,
}

const DRAWINGS: [Drawing; 7] = [
    Drawing {
        from: "icon.svg",
        to: "icon-192.png",
        pixels: 192,
    },
    Drawing {
        from: "icon.svg",
        to: "icon-512.png",
        pixels: 512,
    },
    Drawing {
        from: "icon-maskable.svg",
        to: "icon-maskable-512.png",
        pixels: 512,
    },
    // iOS rounds the corners itself and paints what is transparent black, so it gets the full ground.
    Drawing {
        from: "icon-maskable.svg",
        to: "apple-touch-icon.png",
        pixels: 180,
    },
    Drawing {
        from: "shortcut-start.svg",
        to: "shortcut-start-96.png",
        pixels: 96,
    },
    Drawing {
        from: "shortcut-oiled.svg",
        to: "shortcut-oiled-96.png",
        pixels: 96,
    },
    Drawing {
        from: "shortcut-note.svg",
        to: "shortcut-note-96.png",
        pixels: 96,
    },
];

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let browser = setup::for_drawing()?;
    let root = project::root()?;
    let icons = root.join("public/icons");
    // The browser's own files and its fresh drawings: a drawing that fails leaves the kept icon alone.
    let desk = root.join("target/icons");
    for drawing in &DRAWINGS {
        let fresh = desk.join(drawing.to);
        let drawn = run::answer(
            Command::new(&browser)
                .args(["--headless=new", "--no-sandbox", "--disable-gpu"])
                .args(["--no-first-run", "--disable-background-networking"])
                .args(["--disable-component-update", "--disable-sync"])
                .args(["--hide-scrollbars", "--default-background-color=00000000"])
                .arg(format!(
                    "--user-data-dir={}",
                    desk.join("browser").display()
                ))
                .arg(format!("--window-size={0},{0}", drawing.pixels))
                .arg(format!("--screenshot={}", fresh.display()))
                .arg(icons.join(drawing.from)),
        );
        if drawn.is_none() {
            return Err(format!("the browser did not draw {}.", drawing.to));
        }
        let png = project::read(&fresh)?;
        if png_size(&png) != Some((drawing.pixels, drawing.pixels)) {
            return Err(format!("the browser drew {} in another size.", drawing.to));
        }
        project::write(&icons.join(drawing.to), &png)?;
        println!("{} from {}", drawing.to, drawing.from);
    }
    std::fs::remove_dir_all(&desk)
        .map_err(|error| format!("{} cannot be removed: {error}.", desk.display()))
}

/// Width and height as a PNG's header tells them: PNG specification, 11.2.2.
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    bytes.starts_with(b"\x89PNG\r\n\x1a\n").then_some(())?;
    Some((number(16)?, number(20)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_icon_that_is_kept_has_its_size() {
        let icons = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../public/icons");
        for drawing in &DRAWINGS {
            let bytes = std::fs::read(icons.join(drawing.to)).expect("an icon");
            assert_eq!(
                png_size(&bytes),
                Some((drawing.pixels, drawing.pixels)),
                "{}",
                drawing.to
            );
        }
    }

    #[test]
    fn other_bytes_are_no_png() {
        assert_eq!(png_size(b"GIF89a"), None);
    }
}
