//! A bare page with one counter, in the same framework, built and packed the same way: the least that the app's start could
//! cost. Nothing of it is shipped.

use leptos::prelude::*;

fn main() {
    mount_to_body(|| {
        let count = RwSignal::new(0);
        view! { <button on:click=move |_| count.update(|it| *it += 1)>"Tapped: " {count}</button> }
    });
}
