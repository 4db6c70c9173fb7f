//! The plainest things, which stand on a screen many times: a sentence, a button, a link. Each is put together in one
//! place, for each place would weigh in the program. Never here: what they say, and how they look.

use leptos::prelude::*;

use super::live::drawn;

/// A button that says something.
pub fn button(class: &'static str, said: String, on_press: impl Fn() + 'static) -> AnyView {
    put_together(class, said, Box::new(on_press))
}

fn put_together(class: &'static str, said: String, on_press: Box<dyn Fn()>) -> AnyView {
    drawn(view! { <button type="button" class=class on:click=move |_| on_press()>{said}</button> })
}

/// A link to somewhere in the app.
pub fn link(class: &'static str, href: &'static str, said: String) -> AnyView {
    drawn(view! { <a class=class href=href>{said}</a> })
}

/// A sentence.
pub fn sentence(class: &'static str, said: String) -> AnyView {
    drawn(view! { <p class=class>{said}</p> })
}

/// Words within a line.
pub fn within(class: &'static str, said: String) -> AnyView {
    drawn(view! { <span class=class>{said}</span> })
}

/// The title of a screen, which gets the focus when it is drawn.
pub fn title(said: String) -> AnyView {
    drawn(view! { <h1 tabindex="-1">{said}</h1> })
}

/// What stands in a place until it has come.
pub fn is_coming(said: String) -> AnyView {
    drawn(view! { <p class="later" role="status">{said}</p> })
}

/// What stands in the place of what did not come, with a button that asks for it again.
pub fn did_not_come(said: String, again: String, on_press: impl Fn() + 'static) -> AnyView {
    drawn(view! {
        <p class="later caution" role="alert">{said}</p>
        {button("main-action", again, on_press)}
    })
}
