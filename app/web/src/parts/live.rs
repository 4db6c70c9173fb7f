//! What follows the values that it reads, each kind of it of one type.
//!
//! Leptos makes its code anew for every type of view, of value and of closure that it is handed. Here each is handed over
//! as the one type of its kind. Never here: what is shown.

use std::sync::{Arc, Mutex};

use leptos::prelude::*;

/// A view as one of the many that may stand in a place.
pub fn drawn<V: RenderHtml + Send + 'static>(view: View<V>) -> AnyView {
    view.into_inner().into_any()
}

/// Nothing in a place where something else may stand.
pub fn nothing() -> AnyView {
    ().into_any()
}

/// What may stand in a place.
pub fn perhaps(view: Option<AnyView>) -> AnyView {
    view.unwrap_or_else(nothing)
}

/// A view drawn again whenever something that it reads has changed. What is the same stays where it is, with the focus
/// that it has; so nothing that is live by itself belongs into it, for that would be made anew each time.
pub fn live(draw: impl FnMut() -> AnyView + Send + 'static) -> AnyView {
    let draw: Arc<Mutex<dyn FnMut() -> AnyView + Send>> = Arc::new(Mutex::new(draw));
    draw.into_any()
}

/// A view that is there while something holds, and drawn once each time that it begins to.
pub fn when(
    holds: impl Fn() -> bool + Send + Sync + 'static,
    draw: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    let holds = settled(holds);
    live(move || if holds.get() { draw() } else { nothing() })
}

/// One after the other.
pub fn each<T>(items: impl IntoIterator<Item = T>, draw: impl Fn(T) -> AnyView) -> AnyView {
    let views: Vec<AnyView> = items.into_iter().map(draw).collect();
    views.into_any()
}

/// A value worked out again when something that it reads has changed, and passed on when it is another one.
pub fn settled<T: PartialEq + Send + Sync + 'static>(
    read: impl Fn() -> T + Send + Sync + 'static,
) -> Memo<T> {
    let read: Box<dyn Fn() -> T + Send + Sync> = Box::new(read);
    Memo::new(move |_| read())
}

/// Does something now, and again whenever something that it reads has changed.
pub fn follow(act: impl FnMut() + 'static) {
    let mut act: Box<dyn FnMut()> = Box::new(act);
    Effect::new(move |_: Option<()>| act());
}

/// A value as it stands, for a part that follows it. A `Signal` would bring along every way in which one can be made.
#[derive(Clone)]
pub struct Reads<T>(Arc<dyn Fn() -> T + Send + Sync>);

impl<T: 'static> Reads<T> {
    /// What is read.
    pub fn of(read: impl Fn() -> T + Send + Sync + 'static) -> Reads<T> {
        Reads(Arc::new(read))
    }

    /// Reads it, and follows it.
    pub fn get(&self) -> T {
        (self.0)()
    }
}

impl<T: Clone + Send + Sync + 'static> From<Signal<T>> for Reads<T> {
    fn from(signal: Signal<T>) -> Reads<T> {
        Reads::of(move || signal.get())
    }
}

impl<T: Clone + Send + Sync + 'static> From<Memo<T>> for Reads<T> {
    fn from(memo: Memo<T>) -> Reads<T> {
        Reads::of(move || memo.get())
    }
}

impl<T: Clone + Send + Sync + 'static> From<RwSignal<T>> for Reads<T> {
    fn from(signal: RwSignal<T>) -> Reads<T> {
        Reads::of(move || signal.get())
    }
}

impl From<bool> for Reads<bool> {
    fn from(it: bool) -> Reads<bool> {
        Reads::of(move || it)
    }
}
