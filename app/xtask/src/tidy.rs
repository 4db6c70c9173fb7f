//! `tidy`: the nevers of this project that a search of its text can hold.
//!
//! [`checks::CHECKS`] is the one table of them. Each finding says where, what, and what to do instead. What a compiler
//! or clippy can hold is held there and not repeated here.

mod bare;
mod checks;
mod pinned;
mod style_text;

use crate::tree::Tree;
use crate::{Outcome, nothing_more, project};
use checks::CHECKS;

pub(crate) fn run(arguments: &[String]) -> Outcome {
    nothing_more(arguments)?;
    let tree = Tree::of_project(&project::root()?)?;
    let mut count = 0;
    for check in CHECKS {
        let findings = (check.find)(&tree);
        for finding in &findings {
            println!("{finding}");
        }
        if !findings.is_empty() {
            println!(
                "    never: {}\n    instead: {}\n",
                check.never, check.instead
            );
        }
        count += findings.len();
    }
    match count {
        0 => Ok(()),
        1 => Err("one place to put right.".to_string()),
        more => Err(format!("{more} places to put right.")),
    }
}
