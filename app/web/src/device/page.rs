//! The page itself: its theme, the shell painted before the app, where the focus goes, whether anybody
//! sees it, and the signs by which `boot.js` knows that the app lives.
//!
//! <https://developer.mozilla.org/docs/Web/API/Document>.

use std::cell::RefCell;

use wasm_bindgen::prelude::*;

use super::platform;

/// The window. There is always one: the app runs in no worker.
pub(super) fn window() -> web_sys::Window {
    web_sys::window().unwrap_throw()
}

fn document() -> Option<web_sys::Document> {
    window().document()
}

/// Calls back at each of these events for as long as the app lives, before the screen hears of them. Capturing on the
/// window hears what happens to the document as well.
pub(super) fn listen(events: &[&str], heard: impl Fn() + 'static) {
    let heard = Closure::<dyn Fn()>::new(heard);
    let listener = heard.as_ref().unchecked_ref();
    for event in events {
        // Refused only for a listener that is none.
        drop(window().add_event_listener_with_callback_and_bool(event, listener, true));
    }
    heard.forget();
}

/// Tells of a panic: `boot.js`, which keeps the message and shows a way out at once, and the browser's console. A bare
/// trap says nothing.
pub fn report_panics() {
    std::panic::set_hook(Box::new(|panic| {
        let message = panic.to_string();
        set_root("data-crash", &message);
        web_sys::console::error_1(&message.into());
    }));
}

/// Panics once when the address asks for it, so that a story can see what an operator would. Not in the app that is
/// shipped.
#[cfg(feature = "panic-on-purpose")]
pub(super) fn panic_if_asked() {
    if super::address::hash() == "panic" {
        // The next start must not find it there.
        super::address::replace("shift");
        panic!("this panic happens on purpose");
    }
}

/// Runs something that waits for the browser, beside everything else.
pub fn run(waiting: impl Future<Output = ()> + 'static) {
    wasm_bindgen_futures::spawn_local(waiting);
}

/// Takes the static shell away and tells `boot.js` that the app has started. From now on the focus is never lost.
pub fn started() {
    platform::keep_focus();
    let Some(document) = document() else { return };
    if let Some(shell) = document.get_element_by_id("shell") {
        shell.remove();
    }
    set_root("data-started", "yes");
}

/// Sets an attribute of the root element, which the styles look at.
pub fn set_root(name: &str, value: &str) {
    if let Some(root) = document().and_then(|document| document.document_element()) {
        // Refused only for a name that is no attribute name; ours are literals.
        drop(root.set_attribute(name, value));
    }
}

/// An attribute of the root element; empty where it has none.
pub fn root(name: &str) -> String {
    let root = document().and_then(|document| document.document_element());
    root.and_then(|root| root.get_attribute(name))
        .unwrap_or_default()
}

/// Moves the focus to the first thing on the screen that a selector finds, after it has been drawn.
pub fn focus(selector: &'static str) {
    once_drawn(move || focus_first(selector));
}

/// Moves the focus to the first thing that matches.
pub fn focus_first(selector: &str) {
    let found = document().and_then(|document| document.query_selector(selector).ok().flatten());
    if let Some(found) = found.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
        drop(found.focus());
    }
}

fn once_drawn(then: impl FnOnce() + 'static) {
    let then = Closure::once_into_js(then);
    // Refused by no browser.
    drop(window().request_animation_frame(then.unchecked_ref()));
}

/// Whether nobody can see the page: another app is in front, or the phone is locked.
pub fn is_hidden() -> bool {
    document().is_some_and(|document| document.hidden())
}

/// Calls back whenever the page comes into sight or goes out of it.
pub fn on_visibility(changed: impl Fn() + 'static) {
    listen(&["visibilitychange"], changed);
}

thread_local! {
    /// Where the focus was before an alarm took it.
    static FOCUSED: RefCell<Option<web_sys::HtmlElement>> = const { RefCell::new(None) };
}

/// Holds back the screen behind an alarm, which takes the focus; or gives both back.
pub fn hold_back(hold: bool) {
    let Some(document) = document() else { return };
    let html = |element: web_sys::Element| element.dyn_into::<web_sys::HtmlElement>().ok();
    if hold {
        let focused = document.active_element().and_then(html);
        FOCUSED.with_borrow_mut(|it| *it = focused);
    }
    for part in [".top-bar", ".screen", ".tab-bar"] {
        if let Some(part) = document.query_selector(part).ok().flatten() {
            // Refused only for a name that is no attribute name.
            drop(part.toggle_attribute_with_force("inert", hold));
        }
    }
    let next = if hold {
        let done = document.query_selector(".alarm-done").ok().flatten();
        done.and_then(html)
    } else {
        FOCUSED.with_borrow_mut(Option::take)
    };
    if let Some(next) = next {
        drop(next.focus());
    }
}

/// Does something a quarter of a second from now, when a tap that has just begun to count is over.
pub fn in_a_moment(later: impl FnOnce() + 'static) {
    let later = Closure::once_into_js(later);
    let timer =
        window().set_timeout_with_callback_and_timeout_and_arguments_0(later.unchecked_ref(), 250);
    // Refused by no browser.
    drop(timer);
}

/// Lets the browser draw and hear taps, in the middle of long work.
pub async fn breathe() {
    let next = js_sys::Promise::new(&mut |resolve, _| {
        // Refused by no browser.
        drop(window().set_timeout_with_callback(&resolve));
    });
    drop(wasm_bindgen_futures::JsFuture::from(next).await);
}

/// Whether the app was opened from the home screen, and not in a browser.
pub fn is_on_home_screen() -> bool {
    let mode = window().match_media("(display-mode: standalone)");
    // What browsers said before there was that mode.
    let navigator = window().navigator();
    let said = js_sys::Reflect::get(&navigator, &"standalone".into());
    mode.ok().flatten().is_some_and(|mode| mode.matches())
        || said.is_ok_and(|said| said.is_truthy())
}

/// The number of the grid cell that has the focus; the first where none has.
pub fn focused_cell() -> usize {
    let focused = document().and_then(|document| document.active_element());
    let number = focused.and_then(|cell| cell.get_attribute("data-cell"));
    number.and_then(|it| it.parse().ok()).unwrap_or(0)
}

/// Moves the focus to a grid cell.
pub fn focus_cell(number: usize) {
    focus_first(&format!("[data-cell=\"{number}\"]"));
}

/// How many cells stand in the first line of a grid, as it is drawn now.
pub fn cells_per_line(grid: &str) -> usize {
    let at = format!("{grid} [data-cell]");
    let cells = document().and_then(|document| document.query_selector_all(&at).ok());
    let tops = cells.into_iter().flat_map(|cells| {
        (0..cells.length()).filter_map(move |index| {
            let cell = cells.get(index)?.dyn_into::<web_sys::HtmlElement>().ok()?;
            Some(cell.offset_top())
        })
    });
    let tops: Vec<i32> = tops.collect();
    tops.iter()
        .take_while(|top| Some(*top) == tops.first())
        .count()
}

/// Whether this browser prints. Some that are built into other apps do not.
pub fn can_print() -> bool {
    js_sys::Reflect::get(&window(), &"print".into()).is_ok_and(|it| it.is_function())
}

/// Opens the print dialog.
pub fn print() {
    // Refused in a frame that may not; the dialog is the only answer that there is.
    drop(window().print());
}

/// Whether the system asks for a dark screen.
pub fn prefers_dark() -> bool {
    window()
        .match_media("(prefers-color-scheme: dark)")
        .ok()
        .flatten()
        .is_some_and(|query| query.matches())
}

/// Calls back when the system changes between light and dark.
pub fn on_scheme_change(changed: impl Fn() + 'static) {
    let Some(query) = window()
        .match_media("(prefers-color-scheme: dark)")
        .ok()
        .flatten()
    else {
        return;
    };
    let changed = Closure::<dyn Fn()>::new(changed);
    query.set_onchange(Some(changed.as_ref().unchecked_ref()));
    changed.forget();
}

/// Moves the focus to the heading of the screen and scrolls to its top, after the screen has been drawn.
pub fn to_top() {
    once_drawn(|| {
        window().scroll_to_with_x_and_y(0.0, 0.0);
        focus_first("main h1");
    });
}
