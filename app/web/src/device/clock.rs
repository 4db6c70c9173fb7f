//! The present moment, the zone, and the second tick.
//!
//! <https://developer.mozilla.org/docs/Web/JavaScript/Reference/Global_Objects/Date>. Moments are absolute; only what is
//! shown or typed passes through the phone's zone.

use evenrow_journal::event::TimeOfDay;
use evenrow_rules::quantity::Instant;
use wasm_bindgen::prelude::*;

/// Now, by the phone's clock.
pub fn now() -> Instant {
    Instant::from_unix_ms(js_sys::Date::now() as i64)
}

/// What the phone's zone is ahead of UTC at a moment, in minutes.
pub fn offset_minutes(at: Instant) -> i16 {
    // JavaScript counts westward; no zone is more than a day away.
    -date(at).get_timezone_offset() as i16
}

/// The moment of a time of day on the phone's calendar, so many days after the day of `day`.
pub fn on_day(day: Instant, days_later: i32, time: TimeOfDay) -> Instant {
    let date = date(day);
    let moment = js_sys::Date::new_with_year_month_day_hr_min(
        date.get_full_year(),
        date.get_month().cast_signed(),
        date.get_date().cast_signed() + days_later,
        i32::from(time.minutes() / 60),
        i32::from(time.minutes() % 60),
    );
    Instant::from_unix_ms(moment.get_time() as i64)
}

/// Calls back every second, and whenever the page comes back to the eye.
pub fn every_second(tick: impl Fn() + Clone + 'static) {
    let window = super::page::window();
    let on_timer = Closure::<dyn Fn()>::new(tick.clone());
    let started = window.set_interval_with_callback_and_timeout_and_arguments_0(
        on_timer.as_ref().unchecked_ref(),
        1000,
    );
    // Without a timer the events below still tick.
    drop(started);
    on_timer.forget();
    for event in ["focus", "pageshow", "resume", "visibilitychange"] {
        let on_event = Closure::<dyn Fn()>::new(tick.clone());
        // Capturing on the window hears what happens to the document as well.
        let heard = window.add_event_listener_with_callback_and_bool(
            event,
            on_event.as_ref().unchecked_ref(),
            true,
        );
        drop(heard);
        on_event.forget();
    }
}

fn date(at: Instant) -> js_sys::Date {
    js_sys::Date::new(&JsValue::from_f64(at.unix_ms() as f64))
}
