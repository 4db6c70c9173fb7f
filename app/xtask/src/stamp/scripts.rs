//! The scripts of a bundle without what only readers of the source need: whole lines of comment, and what indents a line.
//!
//! Nothing within a line is touched, so what runs is what was written. Never here: what a script does.

use super::Bundle;
use crate::{Outcome, project};

/// Strips every script of the bundle.
pub(super) fn strip(bundle: &mut Bundle) -> Outcome {
    for (path, bytes) in bundle.iter_mut() {
        if project::extension(path) == "js" {
            let script = String::from_utf8_lossy(bytes);
            *bytes = stripped(&script)
                .ok_or_else(|| format!("{path} has a text in backquotes over several lines."))?
                .into_bytes();
        }
    }
    Ok(())
}

/// None where a text goes over several lines: what indents them may belong to it.
fn stripped(script: &str) -> Option<String> {
    let one_line = |line: &str| line.matches('`').count().is_multiple_of(2);
    if !script.lines().all(one_line) {
        return None;
    }
    let mut in_comment = false;
    let runs = |line: &&str| {
        let begins = line.starts_with("/**");
        let skipped = in_comment || begins || line.starts_with("//");
        in_comment = (in_comment || begins) && !line.trim_end().ends_with("*/");
        !skipped && !line.is_empty()
    };
    let lines = script.split_inclusive('\n').map(str::trim_start);
    Some(lines.filter(runs).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_comment_go_and_what_runs_stays() {
        let script = "// Why\n\nfunction a() {\n  /**\n   * @returns {number}\n   */\n  return `b` * 2; // c\n}\n";
        let left = "function a() {\nreturn `b` * 2; // c\n}\n";
        assert_eq!(stripped(script).as_deref(), Some(left));
    }

    #[test]
    fn a_text_over_several_lines_is_not_taken_for_code() {
        assert_eq!(stripped("a = `b\n  c`;\n"), None);
    }
}
