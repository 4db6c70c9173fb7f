//! Short names for what the wasm asks of its glue.
//!
//! `wasm-bindgen` gives each of them a name with a sum in it, once in the wasm and once in the glue, and a sum does not
//! compress. Never here: names that somebody else gave (a snippet's, those between the parts).

use super::sections::{push_run, with_section};
use crate::Outcome;
use std::fmt::Write;

const IMPORTS: u8 = 2;

/// Shortens the names under a module in the wasm, and in the glue the keys of the table that answers to it.
pub(super) fn shortened(wasm: &[u8], glue: &str, module: &str) -> Outcome<(Vec<u8>, String)> {
    let mut names = Vec::new();
    let wasm = with_imports(wasm, |of, name| {
        if of != module.as_bytes() {
            return name.to_vec();
        }
        let short = short(names.len());
        names.push((String::from_utf8_lossy(name).into_owned(), short.clone()));
        short.into_bytes()
    })
    .ok_or("the wasm does not end where its sections say.")?;
    let mut found = 0;
    let lines = glue.split_inclusive('\n').map(|line| {
        let key = line
            .trim_start()
            .split_once(": ")
            .map_or("", |(key, _)| key);
        let known = names.iter().find(|(name, _)| name == key);
        known.map_or_else(
            || line.to_string(),
            |(name, short)| {
                found += 1;
                line.replacen(name, short, 1)
            },
        )
    });
    let glue: String = lines.collect();
    if found == names.len() {
        Ok((wasm, glue))
    } else {
        Err(format!(
            "the glue answers to {found} of the {} names that the wasm asks for.",
            names.len()
        ))
    }
}

/// `a` to `z`, then `aa` and so on.
fn short(number: usize) -> String {
    const LETTERS: usize = 26;
    let letter = char::from(b'a' + (number % LETTERS) as u8);
    let before = number
        .checked_sub(LETTERS)
        .map(|rest| short(rest / LETTERS));
    let mut name = before.unwrap_or_default();
    // Writing to a text cannot fail.
    let _ = write!(name, "{letter}");
    name
}

/// The wasm with every imported name as `rename` wants it, from its module and the name so far. None where the wasm is
/// cut short.
fn with_imports(wasm: &[u8], mut rename: impl FnMut(&[u8], &[u8]) -> Vec<u8>) -> Option<Vec<u8>> {
    with_section(wasm, IMPORTS, |imports| {
        let (module, name) = (imports.run()?, imports.run()?);
        let mut import = Vec::new();
        push_run(&mut import, module);
        push_run(&mut import, &rename(module, name));
        import.extend(imports.description()?);
        Some(Some(import))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn import(module: &str, name: &str, description: &[u8]) -> Vec<u8> {
        let mut bytes = Vec::new();
        push_run(&mut bytes, module.as_bytes());
        push_run(&mut bytes, name.as_bytes());
        [bytes, description.to_vec()].concat()
    }

    fn wasm(imports: &[Vec<u8>]) -> Vec<u8> {
        let mut wasm = b"\0asm\x01\0\0\0".to_vec();
        wasm.push(1);
        push_run(&mut wasm, &[0; 200]);
        wasm.push(IMPORTS);
        let mut section = vec![imports.len() as u8];
        section.extend(imports.concat());
        push_run(&mut wasm, &section);
        wasm.push(10);
        push_run(&mut wasm, b"code");
        wasm
    }

    #[test]
    fn what_the_wasm_asks_of_its_glue_has_short_names_in_both() {
        let before = wasm(&[
            import("./app_bg.js", "__wbg_tap_0123", &[0, 5]),
            import("./p.js", "ring", &[0, 0x80, 1]),
            import("./app_bg.js", "memory_4567", &[2, 1, 17, 0x80, 1]),
        ]);
        let after = wasm(&[
            import("./app_bg.js", "a", &[0, 5]),
            import("./p.js", "ring", &[0, 0x80, 1]),
            import("./app_bg.js", "b", &[2, 1, 17, 0x80, 1]),
        ]);
        let glue = "{\n  __wbg_tap_0123: function() { __wbg_tap_0123: 1 },\n  memory_4567: m,\n  ring: 2,\n}\n";
        let short = "{\n  a: function() { __wbg_tap_0123: 1 },\n  b: m,\n  ring: 2,\n}\n";
        let found = shortened(&before, glue, "./app_bg.js");
        assert_eq!(found, Ok((after, short.to_string())));
    }

    #[test]
    fn a_name_that_the_glue_does_not_answer_to_fails_the_build() {
        let before = wasm(&[import("./app_bg.js", "__wbg_tap_0123", &[0, 5])]);
        assert!(shortened(&before, "{}", "./app_bg.js").is_err());
        assert!(shortened(&before[..before.len() - 1], "{}", "./app_bg.js").is_err());
    }

    #[test]
    fn no_two_names_are_the_same() {
        let names: std::collections::BTreeSet<_> = (0..2000).map(short).collect();
        assert_eq!(names.len(), 2000);
        assert_eq!(
            [0, 25, 26, 701, 702].map(short),
            ["a", "z", "aa", "zz", "aaa"]
        );
    }
}
