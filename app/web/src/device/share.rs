//! The share sheet and the clipboard.
//!
//! <https://developer.mozilla.org/docs/Web/API/Navigator/share>,
//! <https://developer.mozilla.org/docs/Web/API/Clipboard/writeText>.

use wasm_bindgen_futures::JsFuture;

/// What came of handing something over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handed {
    /// Done, or handed to another app.
    Done,
    /// The operator changed their mind.
    Cancelled,
    /// The browser would not.
    Refused,
}

/// Whether this phone has a share sheet.
pub fn can_share() -> bool {
    js_sys::Reflect::has(&navigator(), &"share".into()).unwrap_or(false)
}

/// Opens the share sheet with a text. To be called straight from a tap.
pub async fn share(title: &str, text: &str) -> Handed {
    let data = web_sys::ShareData::new();
    data.set_title(title);
    data.set_text(text);
    match JsFuture::from(navigator().share_with_data(&data)).await {
        Ok(_) => Handed::Done,
        Err(error) => {
            let name = js_sys::Reflect::get(&error, &"name".into())
                .ok()
                .and_then(|name| name.as_string());
            if name.as_deref() == Some("AbortError") {
                Handed::Cancelled
            } else {
                Handed::Refused
            }
        }
    }
}

/// Puts a text on the clipboard. To be called straight from a tap.
pub async fn copy(text: &str) -> Handed {
    let navigator = navigator();
    // Absent on pages that are not secure, whatever the binding says.
    if !js_sys::Reflect::get(&navigator, &"clipboard".into()).is_ok_and(|it| it.is_object()) {
        return Handed::Refused;
    }
    match JsFuture::from(navigator.clipboard().write_text(text)).await {
        Ok(_) => Handed::Done,
        Err(_) => Handed::Refused,
    }
}

fn navigator() -> web_sys::Navigator {
    super::page::window().navigator()
}
