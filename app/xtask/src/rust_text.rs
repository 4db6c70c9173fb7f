//! Rust source as the chores read it: what is code, what is a literal, what is an attribute, what is only for tests.
//!
//! It knows the outer form of the language (comments, quotes, brackets) and never its meaning.

use std::ops::Range;

/// All offsets are bytes of the file's text.
pub(super) struct RustText {
    /// The text with comments and the insides of literals blanked, byte for byte as long as the file.
    pub(super) code: String,
    /// The insides of string literals.
    pub(super) strings: Vec<Range<usize>>,
    attributes: Vec<Range<usize>>,
    tests: Tests,
}

/// What of a file is only for tests.
enum Tests {
    WholeFile,
    Items(Vec<Range<usize>>),
}

impl RustText {
    pub(super) fn of(path: &str, text: &str) -> RustText {
        let Blanked { code, strings } = blanked(text);
        let attributes = attributes(&code);
        let whole_file =
            path.ends_with("/tests.rs") || path.contains("/tests/") || path.contains("/examples/");
        let tests = if whole_file {
            Tests::WholeFile
        } else {
            Tests::Items(test_items(&code, &attributes))
        };
        RustText {
            code,
            strings,
            attributes,
            tests,
        }
    }

    pub(super) fn is_test(&self, offset: usize) -> bool {
        match &self.tests {
            Tests::WholeFile => true,
            Tests::Items(items) => items.iter().any(|range| range.contains(&offset)),
        }
    }

    /// What the function whose first word stands here says that it returns; empty if it returns nothing.
    pub(super) fn answer_of(&self, function: usize) -> &str {
        answer(&self.code[function..])
    }

    pub(super) fn is_attribute(&self, offset: usize) -> bool {
        self.attributes.iter().any(|range| range.contains(&offset))
    }
}

struct Blanked {
    code: String,
    strings: Vec<Range<usize>>,
}

fn blanked(text: &str) -> Blanked {
    let mut code = text.as_bytes().to_vec();
    let mut strings = Vec::new();
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let rest = &bytes[at..];
        let after_word = at > 0 && is_word(bytes[at - 1]);
        let (inside, next) = if rest.starts_with(b"//") {
            let end = at
                + rest
                    .iter()
                    .position(|byte| *byte == b'\n')
                    .unwrap_or(rest.len());
            (at..end, end)
        } else if rest.starts_with(b"/*") {
            let end = at + block_comment(rest);
            (at..end, end)
        } else if let Some((opening, hashes)) = raw_opening(rest).filter(|_| !after_word) {
            let start = at + opening;
            let end = raw_end(bytes, start, hashes);
            strings.push(start..end);
            (start..end, (end + 1 + hashes).min(bytes.len()))
        } else if rest[0] == b'"' {
            let end = at + quoted(rest, b'"');
            strings.push(at + 1..end);
            (at + 1..end, (end + 1).min(bytes.len()))
        } else if let Some(length) = char_literal(rest) {
            (at + 1..at + length - 1, at + length)
        } else {
            (at..at, at + 1)
        };
        for byte in &mut code[inside] {
            if *byte != b'\n' {
                *byte = b' ';
            }
        }
        at = next;
    }
    Blanked {
        code: String::from_utf8_lossy(&code).into_owned(),
        strings,
    }
}

fn is_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || byte == b'_'
}

/// The length of a block comment; they nest.
fn block_comment(rest: &[u8]) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while at < rest.len() {
        if rest[at..].starts_with(b"/*") {
            (depth, at) = (depth + 1, at + 2);
        } else if rest[at..].starts_with(b"*/") {
            (depth, at) = (depth - 1, at + 2);
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    rest.len()
}

/// If a raw literal such as `r"` or `br##"` starts here: the length of its opening, and how many hashes close it.
fn raw_opening(rest: &[u8]) -> Option<(usize, usize)> {
    let letters = [b"r".as_slice(), b"br", b"cr"]
        .into_iter()
        .find(|letters| rest.starts_with(letters))?;
    let after = &rest[letters.len()..];
    let hashes = after.iter().take_while(|byte| **byte == b'#').count();
    (after.get(hashes) == Some(&b'"')).then_some((letters.len() + hashes + 1, hashes))
}

fn raw_end(bytes: &[u8], start: usize, hashes: usize) -> usize {
    let mut closing = vec![b'"'];
    closing.resize(hashes + 1, b'#');
    let found = bytes[start.min(bytes.len())..]
        .windows(closing.len())
        .position(|window| window == closing);
    found.map_or(bytes.len(), |found| start + found)
}

/// The offset of the closing quote from the opening one.
fn quoted(rest: &[u8], quote: u8) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != quote {
        at += if rest[at] == b'\\' { 2 } else { 1 };
    }
    at.min(rest.len())
}

/// The length of a char literal with both quotes, if one starts here; a lifetime is none.
fn char_literal(rest: &[u8]) -> Option<usize> {
    match rest {
        [b'\'', b'\\', ..] => Some((quoted(rest, b'\'') + 1).min(rest.len())),
        [b'\'', first, ..] => {
            let length = match first {
                0..0x80 => 1,
                0x80..0xE0 => 2,
                0xE0..0xF0 => 3,
                0xF0..=0xFF => 4,
            };
            (rest.get(1 + length) == Some(&b'\'')).then_some(length + 2)
        }
        [..] => None,
    }
}

/// The end of the bracket that opens at this offset, one past its closing partner.
pub(super) fn closing(code: &str, opening: usize) -> usize {
    let mut depth = 0_usize;
    for (at, byte) in code.bytes().enumerate().skip(opening) {
        if b"([{".contains(&byte) {
            depth += 1;
        } else if b")]}".contains(&byte) {
            depth = depth.saturating_sub(1);
            if depth == 0 {
                return at + 1;
            }
        }
    }
    code.len()
}

/// What stands between a function's own arrow and its body or its bounds; the arrows inside brackets belong to others.
fn answer(function: &str) -> &str {
    let bytes = function.as_bytes();
    let (mut depth, mut start, mut at) = (0_usize, None, 0);
    while at < bytes.len() {
        let rest = &bytes[at..];
        if rest.starts_with(b"->") {
            if depth == 0 {
                start = start.or(Some(at + 2));
            }
            at += 1;
        } else if depth == 0 && (b"{;".contains(&rest[0]) || rest.starts_with(b"where ")) {
            break;
        } else if b"([{<".contains(&rest[0]) {
            depth += 1;
        } else if b")]}>".contains(&rest[0]) {
            depth = depth.saturating_sub(1);
        }
        at += 1;
    }
    start.map_or("", |start| function[start..at].trim())
}

fn attributes(code: &str) -> Vec<Range<usize>> {
    let openings = code.match_indices("#[").chain(code.match_indices("#!["));
    openings
        .map(|(at, sign)| at..closing(code, at + sign.len() - 1))
        .collect()
}

/// From each `#[cfg(test)]` to the end of the item that it stands before.
fn test_items(code: &str, attributes: &[Range<usize>]) -> Vec<Range<usize>> {
    let for_tests = attributes.iter().filter(|range| {
        let attribute: String = code[(*range).clone()].split_whitespace().collect();
        attribute.starts_with("#[cfg(test") || attribute.starts_with("#[cfg(all(test")
    });
    for_tests
        .map(|range| range.start..end_of_item(code, range.end))
        .collect()
}

/// One past the `;` or the closing brace of the item that starts here.
fn end_of_item(code: &str, start: usize) -> usize {
    let bytes = code.as_bytes();
    let mut at = start;
    while at < bytes.len() {
        match bytes[at] {
            b';' => return at + 1,
            b'{' => return closing(code, at),
            b'(' | b'[' => at = closing(code, at),
            _ => at += 1,
        }
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(text: &str) -> String {
        RustText::of("a.rs", text).code
    }

    fn strings(text: &str) -> Vec<&str> {
        RustText::of("a.rs", text)
            .strings
            .into_iter()
            .map(|range| &text[range])
            .collect()
    }

    #[test]
    fn comments_are_blank_and_keep_their_length() {
        assert_eq!(code("a // b\nc"), "a     \nc");
        assert_eq!(code("a /* b /* c */ d */ e"), "a                   e");
    }

    #[test]
    fn literals_keep_their_quotes_and_lose_their_insides() {
        assert_eq!(
            code(r#"f("a \" // b", 'x', '\'', c)"#),
            r#"f("         ", ' ', '  ', c)"#
        );
        assert_eq!(code("r#\"a \" b\"# c"), "r#\"     \"# c");
        assert_eq!(code("br\"a\\\" c"), "br\"  \" c");
    }

    #[test]
    fn a_lifetime_is_no_literal() {
        assert_eq!(
            code("fn f<'a>(x: &'a str) -> &'a str"),
            "fn f<'a>(x: &'a str) -> &'a str"
        );
    }

    #[test]
    fn letters_of_any_alphabet_pass() {
        assert_eq!(strings("('é', \"über\", 'x', \"b\")"), ["über", "b"]);
    }

    #[test]
    fn strings_are_found_and_comments_are_not_among_them() {
        assert_eq!(
            strings("// \"no\"\nlet a = \"yes\"; let b = r\"raw\";"),
            ["yes", "raw"]
        );
    }

    #[test]
    fn a_test_module_reaches_to_its_closing_brace() {
        let text = "fn a() {}\n#[cfg(test)]\nmod tests { fn b() { \"}\"; } }\nfn c() {}";
        let rust = RustText::of("a.rs", text);
        assert!(!rust.is_test(0));
        assert!(rust.is_test(text.find("fn b").expect("b")));
        assert!(!rust.is_test(text.find("fn c").expect("c")));
    }

    #[test]
    fn a_test_module_in_another_file_ends_at_its_semicolon() {
        let text = "#[cfg(test)]\nmod tests;\nfn c() {}";
        let rust = RustText::of("a.rs", text);
        assert!(!rust.is_test(text.find("fn c").expect("c")));
        assert!(RustText::of("a/tests.rs", "fn c() {}").is_test(0));
    }

    #[test]
    fn what_a_function_returns_stands_behind_its_own_arrow() {
        let answers = [
            ("pub fn a() -> Option<u8> {\n    b()\n}", "Option<u8>"),
            (
                "fn a(\n    b: u8,\n) -> Result<u8, C> { d }",
                "Result<u8, C>",
            ),
            ("fn a(b: [u8; 2]) -> [u8; 2] { b }", "[u8; 2]"),
            ("fn a<F: Fn(u8) -> Result<u8, B>>(f: F) {}", ""),
            ("fn a(f: impl Fn() -> Result<u8, B>) -> u8 { 1 }", "u8"),
            ("fn a<F>(f: F) -> C\nwhere F: Fn() -> Result<u8, B> {}", "C"),
            ("fn a() -> Box<dyn Fn() -> u8> {}", "Box<dyn Fn() -> u8>"),
            ("fn a();\nfn b() -> u8 {}", ""),
        ];
        for (text, expect) in answers {
            assert_eq!(RustText::of("a.rs", text).answer_of(0), expect, "{text}");
        }
    }

    #[test]
    fn an_attribute_reaches_over_its_lines() {
        let text = "#[expect(\n  lint,\n  reason = \"why not\"\n)]\nfn a() { \"b\" }";
        let rust = RustText::of("a.rs", text);
        let inside: Vec<_> = rust
            .strings
            .iter()
            .map(|range| rust.is_attribute(range.start))
            .collect();
        assert_eq!(inside, [true, false]);
    }
}
