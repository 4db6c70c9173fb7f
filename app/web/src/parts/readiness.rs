//! What this phone can and cannot do, line by line: a tick or a triangle, and a sentence.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::{drawn, each, live};

/// One line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ability {
    /// Whether it is as it should be.
    pub good: bool,
    /// The sentence.
    pub text: String,
}

/// The lines.
#[component]
pub fn Readiness(
    /// Line by line.
    lines: Memo<Vec<Ability>>,
) -> impl IntoView {
    let line = |Ability { good, text }: Ability| {
        let shape = if good { Shape::Tick } else { Shape::Care };
        drawn(
            view! { <li class="readiness-line" class:readiness-bad=!good>{icon(shape)}<span>{text}</span></li> },
        )
    };
    drawn(view! { <ul class="readiness">{live(move || each(lines.get(), line))}</ul> })
}
