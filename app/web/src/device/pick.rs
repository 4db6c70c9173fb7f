//! A file that the operator picks, or that another app has handed over.
//!
//! <https://developer.mozilla.org/docs/Web/HTML/Reference/Elements/input/file>. Never here: what stands in it.

use std::cell::RefCell;

use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;

/// What came of picking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    /// A file with its bytes.
    File(Vec<u8>),
    /// One that is larger than was asked for; so many bytes. It was not read.
    TooLarge(u64),
    /// One that the browser could not read.
    Unread,
    /// None.
    Nothing,
}

thread_local! {
    /// On its way to the screen that takes it in.
    static HANDED: RefCell<Option<Picked>> = const { RefCell::new(None) };
}

/// Hands a file to the screen that takes files in, and that opens next.
pub fn hand(file: Picked) {
    HANDED.set(Some(file));
}

/// The file that was handed over, once.
pub fn handed() -> Option<Picked> {
    HANDED.take()
}

/// The file that was picked in a field of files, if it has no more than so many bytes. The field is emptied, so that the
/// same file can be picked again.
pub fn file(picked: &web_sys::Event, most: u64) -> impl Future<Output = Picked> + use<> {
    let field = picked
        .target()
        .and_then(|it| it.dyn_into::<web_sys::HtmlInputElement>().ok());
    let file = field.as_ref().and_then(|it| it.files()?.get(0));
    if let Some(field) = field {
        field.set_value("");
    }
    async move {
        let Some(file) = file else {
            return Picked::Nothing;
        };
        let size = file.size() as u64;
        if most < size {
            return Picked::TooLarge(size);
        }
        match JsFuture::from(file.array_buffer()).await {
            Ok(bytes) => Picked::File(js_sys::Uint8Array::new(&bytes).to_vec()),
            Err(_) => Picked::Unread,
        }
    }
}
