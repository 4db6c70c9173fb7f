//! The typed face of `platform.js`. Never here: logic; each call is wrapped by the module that needs it.

use wasm_bindgen::prelude::*;

#[wasm_bindgen(module = "/src/device/platform.js")]
extern "C" {
    #[wasm_bindgen(js_name = openRecords, catch)]
    pub(super) async fn open_records() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = readRecords, catch)]
    pub(super) async fn read_records() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = appendRecords, catch)]
    pub(super) async fn append_records(
        keys: Vec<String>,
        records: Vec<String>,
    ) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = registerWorker, catch)]
    pub(super) async fn register_worker(
        url: &str,
        waits: &Closure<dyn Fn()>,
    ) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = takeOver, catch)]
    pub(super) async fn take_over() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = tellOtherWindows)]
    pub(super) fn tell_other_windows();
    #[wasm_bindgen(js_name = hearOtherWindows)]
    pub(super) fn hear_other_windows(heard: &Closure<dyn Fn()>);
    #[wasm_bindgen(js_name = askToPersist, catch)]
    pub(super) async fn ask_to_persist() -> Result<JsValue, JsValue>;
}
