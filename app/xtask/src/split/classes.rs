//! Leaves out the classes that crates of the framework offer to scripts.
//!
//! `wasm-bindgen` hands on whatever any crate offers, and what is offered counts as needed: streams that only a server
//! fills came with every start. No script of ours makes an object of a class of Rust. Never here: what the app itself asks
//! of its glue.

use super::sections::{push_number, push_run, with_section};
use crate::Outcome;

const EXPORTS: u8 = 7;

/// The wasm and its glue without the classes, and without what only these call.
pub(super) fn left_out(wasm: &[u8], glue: &str) -> Outcome<(Vec<u8>, String)> {
    let (kept, out) = divided(glue);
    let called = |text: &str| -> Vec<String> {
        let calls = text.split("wasm.").skip(1);
        let is_name = |letter: char| letter.is_alphanumeric() || letter == '_';
        let name = |call: &str| {
            call.split(|letter| !is_name(letter))
                .next()
                .map(str::to_string)
        };
        calls.filter_map(name).collect()
    };
    let (needed, by_classes) = (called(&kept), called(&out));
    let is_left_out = |name: &[u8]| {
        let is = |known: &String| known.as_bytes() == name;
        by_classes.iter().any(is) && !needed.iter().any(is)
    };
    let wasm = with_section(wasm, EXPORTS, |exports| {
        let name = exports.run()?;
        let (kind, at) = (exports.byte()?, exports.number()?);
        let mut export = Vec::new();
        push_run(&mut export, name);
        export.push(kind);
        push_number(&mut export, at);
        Some((!is_left_out(name)).then_some(export))
    });
    let wasm = wasm.ok_or("the wasm does not end where its sections say.")?;
    Ok((wasm, kept))
}

/// The glue without its classes, and the classes.
fn divided(glue: &str) -> (String, String) {
    let (mut kept, mut out) = (String::new(), String::new());
    let mut classes: Vec<&str> = Vec::new();
    // How the last line of what is left out ends.
    let mut until: Option<&str> = None;
    for line in glue.split_inclusive('\n') {
        let text = line.trim_end();
        if until.is_none() {
            let class = text.strip_prefix("export class ");
            let of_class = |before: &str, after: &str| {
                let named = text.strip_prefix(before);
                named.is_some_and(|it| {
                    classes
                        .iter()
                        .any(|class| it.starts_with(&format!("{class}{after}")))
                })
            };
            if let Some(class) = class.and_then(|it| it.strip_suffix(" {")) {
                classes.push(class);
                until = Some("}");
            } else if of_class("if (Symbol.dispose) ", ".") || of_class("const ", "Finalization ") {
                until = Some(";");
            }
        }
        match until {
            None => kept.push_str(line),
            Some(end) => {
                out.push_str(line);
                // The brace that closes a class stands alone at the beginning of its line.
                let is_last = if end == "}" {
                    text == end
                } else {
                    text.ends_with(end)
                };
                if is_last {
                    until = None;
                }
            }
        }
    }
    (kept, out)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GLUE: &str = "\
export class Stream {
    free() {
        wasm.__wbg_stream_free(this.ptr, 0);
    }
    pull() {
        wasm.stream_pull(this.ptr);
        wasm.malloc(1);
    }
}
if (Symbol.dispose) Stream.prototype[Symbol.dispose] = Stream.prototype.free;
function tap() {
    wasm.malloc(2);
    wasm.tap();
}
const StreamFinalization = (typeof FinalizationRegistry === 'undefined')
    ? { register: () => {} }
    : new FinalizationRegistry(ptr => wasm.__wbg_stream_free(ptr, 1));
const OTHER = 1;
";

    fn wasm(names: &[&str]) -> Vec<u8> {
        let mut section = vec![names.len() as u8];
        for (at, name) in names.iter().enumerate() {
            push_run(&mut section, name.as_bytes());
            section.extend([0, at as u8]);
        }
        let mut wasm = b"\0asm\x01\0\0\0".to_vec();
        wasm.push(EXPORTS);
        push_run(&mut wasm, &section);
        wasm.push(10);
        push_run(&mut wasm, b"code");
        wasm
    }

    #[test]
    fn classes_go_with_all_that_only_they_call() {
        let before = wasm(&[
            "memory",
            "malloc",
            "stream_pull",
            "tap",
            "__wbg_stream_free",
        ]);
        let (after, glue) = left_out(&before, GLUE).expect("whole wasm");
        assert_eq!(
            glue,
            "function tap() {\n    wasm.malloc(2);\n    wasm.tap();\n}\nconst OTHER = 1;\n"
        );
        let mut left = wasm(&["memory", "malloc", "tap"]);
        // Which function each of them is stays as it was.
        let tap = left
            .windows(3)
            .position(|it| it == b"tap")
            .expect("its name")
            + 4;
        left[tap] = 3;
        assert_eq!(after, left);
    }

    #[test]
    fn wasm_that_is_cut_short_is_said_to_be_so() {
        let whole = wasm(&["memory"]);
        assert!(left_out(&whole[..whole.len() - 1], GLUE).is_err());
    }
}
