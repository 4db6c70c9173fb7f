//! The present moment, the zone, the second tick, and one timer.
//!
//! <https://developer.mozilla.org/docs/Web/JavaScript/Reference/Global_Objects/Date>. Moments are absolute; only what is
//! shown or typed passes through the phone's zone.

use core::time::Duration;
use std::cell::RefCell;
use std::rc::Rc;

use evenrow_journal::event::TimeOfDay;
use evenrow_journal::watch::Reading;
use evenrow_rules::quantity::Instant;
use wasm_bindgen::prelude::*;

use super::platform;

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

/// What both clocks say now.
pub fn reading() -> Reading {
    let steady = super::page::window().performance();
    read(
        js_sys::Date::now(),
        steady.map_or(0.0, |steady| steady.now()),
        super::page::is_hidden(),
    )
}

/// Calls back every second, and whenever the page comes back to the eye, with what both clocks say.
pub fn every_second(tick: impl Fn(Reading) + 'static) {
    let tick = Closure::<dyn Fn(f64, f64, bool)>::new(move |wall, steady, hidden| {
        #[cfg(feature = "panic-on-purpose")]
        super::page::panic_if_asked();
        tick(read(wall, steady, hidden));
    });
    platform::every_second(&tick);
    tick.forget();
}

/// A reading in milliseconds: the time of day, how long this page has been open by a clock that nobody can set (it may stop
/// while the phone sleeps), and whether nobody sees the page.
fn read(wall: f64, steady: f64, hidden: bool) -> Reading {
    Reading {
        wall: Instant::from_unix_ms(wall as i64),
        steady: Duration::try_from_secs_f64(steady / 1000.0).unwrap_or_default(),
        hidden,
    }
}

/// Calls back once at a moment, in place of whatever was asked for before; without a moment nothing is. The browser may
/// be late, and is early for a moment more than 24 days away: look at the clock, and ask again.
pub fn wake_at(moment: Option<Instant>, wake: impl Fn() + 'static) {
    WAKE.set(Rc::new(wake));
    let milliseconds = moment.map(|moment| {
        let left = moment.unix_ms().saturating_sub(now().unix_ms());
        left.clamp(0, LONGEST_TIMER_MS) as f64
    });
    ON_TIMER.with(|on_timer| platform::wake_in(milliseconds, on_timer));
}

/// A longer timer overflows in the browser, and fires at once.
const LONGEST_TIMER_MS: i64 = i32::MAX as i64;

thread_local! {
    static WAKE: RefCell<Rc<dyn Fn()>> = RefCell::new(Rc::new(|| ()));
    static ON_TIMER: Closure<dyn Fn()> = Closure::new(|| {
        // The call may ask for another one, which takes its place.
        let wake = WAKE.with_borrow(Rc::clone);
        wake();
    });
}

fn date(at: Instant) -> js_sys::Date {
    js_sys::Date::new(&JsValue::from_f64(at.unix_ms() as f64))
}
