//! The share sheet, downloads and the clipboard.
//!
//! <https://developer.mozilla.org/docs/Web/API/Navigator/share>,
//! <https://developer.mozilla.org/docs/Web/API/HTMLAnchorElement/download>,
//! <https://developer.mozilla.org/docs/Web/API/Clipboard/writeText>.

use wasm_bindgen::prelude::*;
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
    hand_over(&data).await
}

/// Hands a file over: by the share sheet where that takes files of this kind, else as a download. To be called straight
/// from a tap.
pub async fn file(name: &str, mime: &str, text: &str) -> Handed {
    if let Some(data) = sharable(name, mime, text) {
        return hand_over(&data).await;
    }
    match download(name, mime, text) {
        Ok(()) => Handed::Done,
        Err(_) => Handed::Refused,
    }
}

async fn hand_over(data: &web_sys::ShareData) -> Handed {
    match JsFuture::from(navigator().share_with_data(data)).await {
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

/// The file as the share sheet wants it, where it takes it. Browsers share some kinds of files and refuse others.
fn sharable(name: &str, mime: &str, text: &str) -> Option<web_sys::ShareData> {
    let navigator = navigator();
    if !js_sys::Reflect::has(&navigator, &"canShare".into()).unwrap_or(false) {
        return None;
    }
    let kind = web_sys::FilePropertyBag::new();
    kind.set_type(mime);
    let file = web_sys::File::new_with_str_sequence_and_options(
        &js_sys::Array::of1(&text.into()),
        name,
        &kind,
    )
    .ok()?;
    let data = web_sys::ShareData::new();
    data.set_files(&js_sys::Array::of1(&file));
    navigator.can_share_with_data(&data).then_some(data)
}

fn download(name: &str, mime: &str, text: &str) -> Result<(), JsValue> {
    let kind = web_sys::BlobPropertyBag::new();
    kind.set_type(mime);
    let blob =
        web_sys::Blob::new_with_str_sequence_and_options(&js_sys::Array::of1(&text.into()), &kind)?;
    let window = super::page::window();
    let document = window.document().ok_or(JsValue::UNDEFINED)?;
    let link: web_sys::HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    let address = web_sys::Url::create_object_url_with_blob(&blob)?;
    link.set_href(&address);
    link.set_download(name);
    link.click();
    let taken = Closure::once_into_js(move || drop(web_sys::Url::revoke_object_url(&address)));
    // A browser may ask where to put the file before it reads it.
    window.set_timeout_with_callback_and_timeout_and_arguments_0(
        taken.unchecked_ref(),
        DOWNLOAD_TAKEN_MS,
    )?;
    Ok(())
}

const DOWNLOAD_TAKEN_MS: i32 = 60_000;

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
