//! The tabs at the foot of the screen.

use leptos::prelude::*;

use super::icon::{Shape, icon};
use super::live::{drawn, each};

/// One tab.
#[derive(Clone)]
pub struct Tab {
    /// Where it leads.
    pub href: &'static str,
    /// Its icon.
    pub shape: Shape,
    /// Its name.
    pub name: String,
    /// Whether we are there.
    pub here: bool,
}

/// The bar, drawn again with where we are.
pub fn tab_bar(label: String, tabs: impl IntoIterator<Item = Tab>) -> AnyView {
    let tab = |tab: Tab| {
        drawn(view! {
            <a class="tab-bar-tab" href=tab.href aria-current=tab.here.then_some("page")>
                {icon(tab.shape)}
                <span>{tab.name}</span>
            </a>
        })
    };
    drawn(view! { <nav class="tab-bar" aria-label=label>{each(tabs, tab)}</nav> })
}
