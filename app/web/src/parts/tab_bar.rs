//! The tabs at the foot of the screen.

use leptos::prelude::*;

use super::icon::{Icon, Shape};

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
    pub here: Signal<bool>,
}

/// The bar.
#[component]
pub fn TabBar(
    /// What the bar is called.
    label: String,
    /// The tabs.
    tabs: Vec<Tab>,
) -> impl IntoView {
    let tab = |tab: Tab| {
        view! {
            <a class="tab-bar-tab" href=tab.href aria-current=move || tab.here.get().then_some("page")>
                <Icon shape=tab.shape/>
                <span>{tab.name}</span>
            </a>
        }
    };
    view! { <nav class="tab-bar" aria-label=label>{tabs.into_iter().map(tab).collect_view()}</nav> }
}
