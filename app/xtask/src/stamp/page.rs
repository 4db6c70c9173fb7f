//! The page of the bundle: its style sheet's name, its languages with the words of its shell, and its content policy.

use super::bytes::integrity;
use crate::Outcome;
use std::collections::BTreeMap;

const STYLE_MARK: &str = "<!-- style -->";
const POLICY_MARK: &str = "INLINE-SCRIPTS";
const LANGUAGES_MARK: &str = "data-languages=\"LANGUAGES\"";
const WORD_MARK: &str = "{word ";
const START_MARK: &str = "const wasm = await init(";
const PRELOAD_START: &str = "<link rel=\"preload\"";

/// What Trunk's script awaits before it fetches the program: the first paint, so that what was last known is read while
/// the program is still on its way. A page out of sight is not painted, and starts at once.
const FIRST_PAINT: &str = "await new Promise((painted) => document.hidden ? painted() : requestAnimationFrame(() => setTimeout(painted)));\n";

/// The page with its style sheet linked, its languages named, the words of its shell in each of them, comments dropped,
/// and the sum of each inline script in its policy.
pub(super) fn finished(
    page: &str,
    sheet: &str,
    languages: &BTreeMap<String, String>,
) -> Outcome<String> {
    let link = format!("<link rel=\"stylesheet\" href=\"{sheet}\">");
    let page = put_at_mark(page, STYLE_MARK, &link)?;
    let page = with_words(&without_comments(&page), languages)?;
    let codes: Vec<_> = languages.keys().map(String::as_str).collect();
    let named = format!("data-languages=\"{}\"", codes.join(" "));
    let page = put_at_mark(&page, LANGUAGES_MARK, &named)?;
    let page = painted_first(&page)?;
    let sums: Vec<_> = inline_scripts(&page)
        .into_iter()
        .map(|script| format!("'{}'", integrity(script.as_bytes())))
        .collect();
    put_at_mark(&page, POLICY_MARK, &sums.join(" "))
}

/// Puts the text where the mark stands outside of other comments; the mark must stand there once.
fn put_at_mark(page: &str, mark: &str, text: &str) -> Outcome<String> {
    match page.matches(mark).count() {
        1 => Ok(page.replace(mark, text)),
        count => Err(format!(
            "the page should hold {mark} once, and holds it {count} times."
        )),
    }
}

/// The page that is painted before its program is fetched. Trunk would have it fetched beside the style sheet, and on a
/// slow network the first paint would wait for its share of it.
fn painted_first(page: &str) -> Outcome<String> {
    let (before, after) = page
        .split_once(PRELOAD_START)
        .ok_or("Trunk should have asked for the program in the page's head, and has not.")?;
    let (preload, after) = after.split_once('>').unwrap_or((after, ""));
    if !preload.contains(".wasm") || after.contains(PRELOAD_START) {
        return Err(format!(
            "Trunk should preload the program alone, and preloads{preload}."
        ));
    }
    let start = format!("{FIRST_PAINT}{START_MARK}");
    put_at_mark(&format!("{before}{after}"), START_MARK, &start)
}

/// The page with `{word key}` replaced by what each language says for that key. `boot.js` leaves one of them.
fn with_words(page: &str, languages: &BTreeMap<String, String>) -> Outcome<String> {
    let mut parts = page.split(WORD_MARK);
    let mut filled = parts.next().unwrap_or_default().to_string();
    for part in parts {
        let (key, after) = part.split_once('}').unwrap_or((part, ""));
        for (code, words) in languages {
            let mut lines = words.lines().filter_map(|line| line.split_once(" = "));
            let said = lines.find_map(|(known, text)| (known == key).then_some(text));
            let text = said.ok_or_else(|| {
                format!("app/web/index.html wants the word {key}, and {code} has none.")
            })?;
            if text.contains(['<', '&', '{']) {
                return Err(format!(
                    "the word {key} cannot stand in app/web/index.html as it is: {text}"
                ));
            }
            filled = format!("{filled}<span lang=\"{code}\">{text}</span>");
        }
        filled += after;
    }
    Ok(filled)
}

/// Comments are for readers of the source, and go together with the line they leave empty.
fn without_comments(page: &str) -> String {
    let mut kept = String::with_capacity(page.len());
    let mut rest = page;
    while let Some((before, after)) = rest.split_once("<!--") {
        kept.push_str(before);
        rest = after.split_once("-->").map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    let lines = kept.lines().filter(|line| !line.trim().is_empty());
    lines.fold(String::new(), |text, line| text + line + "\n")
}

/// The text of every script element that has no `src`, byte for byte as a browser hashes it.
fn inline_scripts(page: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = page;
    while let Some((_, after)) = rest.split_once("<script") {
        let Some((attributes, after)) = after.split_once('>') else {
            break;
        };
        let Some((text, after)) = after.split_once("</script>") else {
            break;
        };
        if !attributes
            .split_whitespace()
            .any(|attribute| attribute.starts_with("src="))
        {
            found.push(text);
        }
        rest = after;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<html data-languages=\"LANGUAGES\"><head>\n<!-- INLINE is explained here -->\n<meta content=\"script-src 'self' INLINE-SCRIPTS;\">\n\
        <script src=\"boot.js\"></script>\n<!-- style -->\n</head>\n<p>{word opening}</p>\n<script type=\"module\">\nconst wasm = await init('a.wasm');\n</script>\n\
        <link rel=\"modulepreload\" href=\"a.js\"><link rel=\"preload\" href=\"a.wasm\" as=\"fetch\">\n";

    fn languages(english: &str) -> BTreeMap<String, String> {
        let finnish = "opening = Merkintöjä avataan\n";
        let both = [("en", english), ("fi", finnish)];
        both.map(|(code, words)| (code.to_string(), words.to_string()))
            .into()
    }

    const WORDS: &str = "# Shell\nopening = Opening your records\n";

    #[test]
    fn the_words_of_the_shell_are_those_of_the_app_in_each_language() {
        let page = finished(PAGE, "style-1.css", &languages(WORDS)).expect("a page");
        let both = "<p><span lang=\"en\">Opening your records</span><span lang=\"fi\">Merkintöjä avataan</span></p>";
        assert!(page.contains(both), "{page}");
        for wrong in ["closing = Closing", "opening = <b>"] {
            assert!(
                finished(PAGE, "style-1.css", &languages(wrong)).is_err(),
                "{wrong}"
            );
        }
    }

    #[test]
    fn the_policy_names_the_inline_script_and_no_other() {
        let page = finished(PAGE, "style-1.css", &languages(WORDS)).expect("a page");
        let script = format!("\n{FIRST_PAINT}const wasm = await init('a.wasm');\n");
        let sum = integrity(script.as_bytes());
        assert!(
            page.contains(&format!("script-src 'self' '{sum}';")),
            "{page}"
        );
        assert_eq!(page.matches("sha256-").count(), 1);
    }

    #[test]
    fn the_program_is_fetched_after_the_first_paint() {
        let page = finished(PAGE, "style-1.css", &languages(WORDS)).expect("a page");
        assert!(page.contains(FIRST_PAINT), "{page}");
        assert!(!page.contains("rel=\"preload\""), "{page}");
        assert!(page.contains("rel=\"modulepreload\""), "{page}");
        let preloads_words = PAGE.replace("a.wasm\" as", "a.txt\" as");
        assert!(finished(&preloads_words, "style-1.css", &languages(WORDS)).is_err());
    }

    #[test]
    fn the_sheet_is_linked_and_the_comments_are_gone() {
        let page = finished(PAGE, "style-1.css", &languages(WORDS)).expect("a page");
        assert!(page.contains("<link rel=\"stylesheet\" href=\"style-1.css\">"));
        assert!(!page.contains("<!--") && !page.contains("explained"));
    }

    #[test]
    fn the_page_names_the_languages_that_there_are_words_for() {
        let page = finished(PAGE, "style-1.css", &languages(WORDS)).expect("a page");
        assert!(page.contains("<html data-languages=\"en fi\">"), "{page}");
    }

    #[test]
    fn a_page_without_its_marks_is_refused() {
        assert!(finished("<head></head>", "style-1.css", &languages(WORDS)).is_err());
        assert!(finished("<!-- style -->", "style-1.css", &languages(WORDS)).is_err());
    }
}
