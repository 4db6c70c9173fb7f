//! The typed face of `platform.js`. Never here: logic; each call is wrapped by the module that needs it.

use wasm_bindgen::prelude::*;

#[wasm_bindgen(module = "/src/device/platform.js")]
extern "C" {
    #[wasm_bindgen(js_name = openRecords, catch)]
    pub(super) async fn open_records() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = readRecords, catch)]
    pub(super) async fn read_records() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = readRecordsFrom, catch)]
    pub(super) async fn read_records_from(key: &str) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = countRecords, catch)]
    pub(super) async fn count_records() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = appendRecords, catch)]
    pub(super) async fn append_records(
        keys: Vec<String>,
        records: Vec<String>,
    ) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = takeInRecords, catch)]
    pub(super) async fn take_in_records(
        keys: Vec<String>,
        records: Vec<String>,
        there: &Closure<dyn Fn(u32)>,
    ) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = stopTakingIn)]
    pub(super) fn stop_taking_in();
    #[wasm_bindgen(js_name = eraseRecords, catch)]
    pub(super) async fn erase_records() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = everySecond)]
    pub(super) fn every_second(tick: &Closure<dyn Fn(f64, f64, bool)>);
    #[wasm_bindgen(js_name = registerWorker, catch)]
    pub(super) async fn register_worker(
        url: &str,
        waits: &Closure<dyn Fn()>,
    ) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = takeOver, catch)]
    pub(super) async fn take_over() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = tellOtherWindows)]
    pub(super) fn tell_other_windows(erased: bool);
    #[wasm_bindgen(js_name = hearOtherWindows)]
    pub(super) fn hear_other_windows(heard: &Closure<dyn Fn(bool)>);
    #[wasm_bindgen(js_name = askToPersist, catch)]
    pub(super) async fn ask_to_persist() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = storageUsed, catch)]
    pub(super) async fn storage_used() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = wakeIn)]
    pub(super) fn wake_in(milliseconds: Option<f64>, wake: &Closure<dyn Fn()>);
    #[wasm_bindgen(js_name = canStayAwake)]
    pub(super) fn can_stay_awake() -> bool;
    #[wasm_bindgen(js_name = isAwake)]
    pub(super) fn is_awake() -> bool;
    #[wasm_bindgen(js_name = stayAwake, catch)]
    pub(super) async fn stay_awake(lost: &JsValue) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = letSleep, catch)]
    pub(super) async fn let_sleep() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = playInSpiteOfTheSwitch, catch)]
    pub(super) fn play_in_spite_of_the_switch(on: bool) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = mayNotify)]
    pub(super) fn may_notify() -> Option<String>;
    #[wasm_bindgen(js_name = askToNotify, catch)]
    pub(super) async fn ask_to_notify() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(catch)]
    pub(super) async fn notify(title: &str, body: &str, again: bool) -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = clearNotifications, catch)]
    pub(super) async fn clear_notifications() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = feelGravity)]
    pub(super) fn feel_gravity(
        felt: &Closure<dyn Fn(f64, f64, f64)>,
        failed: &Closure<dyn Fn(bool)>,
        patience_milliseconds: u32,
    );
    #[wasm_bindgen(js_name = stopFeeling)]
    pub(super) fn stop_feeling();
    #[wasm_bindgen(catch)]
    pub(super) async fn badge(count: u32) -> Result<(), JsValue>;
    #[wasm_bindgen(catch)]
    pub(super) async fn lock(name: &str, patience_milliseconds: u32) -> Result<JsValue, JsValue>;
    #[wasm_bindgen]
    pub(super) fn speak(language: &str) -> char;
    #[wasm_bindgen(js_name = pluralOf)]
    pub(super) fn plural_of(number: f64) -> String;
    #[wasm_bindgen(js_name = dayOf)]
    pub(super) fn day_of(milliseconds: f64) -> Option<String>;
    #[wasm_bindgen(js_name = ownName)]
    pub(super) fn own_name(language: &str) -> String;
    #[wasm_bindgen(js_name = wantToRing)]
    pub(super) fn want_to_ring();
    #[wasm_bindgen(js_name = canInstall)]
    pub(super) fn can_install() -> bool;
    #[wasm_bindgen(js_name = hearInstallOffer)]
    pub(super) fn hear_install_offer(changed: &Closure<dyn Fn()>);
    #[wasm_bindgen(catch)]
    pub(super) async fn install() -> Result<(), JsValue>;
    #[wasm_bindgen(js_name = takeShared, catch)]
    pub(super) async fn take_shared() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(js_name = isRinger)]
    pub(super) fn is_ringer() -> bool;
    #[wasm_bindgen(js_name = keepFocus)]
    pub(super) fn keep_focus();
}
