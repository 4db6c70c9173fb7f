//! The alarm's sound and its trembling, and the two that tell hands whose eyes are elsewhere how something has gone.
//!
//! <https://developer.mozilla.org/docs/Web/API/Web_Audio_API>, <https://developer.mozilla.org/docs/Web/API/AudioSession>,
//! <https://developer.mozilla.org/docs/Web/API/Navigator/vibrate>. Browsers give no sound before a tap, and some take it
//! away again when the phone was locked. Never here: when to ring, and how often.

use std::cell::{Cell, RefCell};

use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{AudioContext, AudioContextState, OscillatorType};

use super::listeners::Listeners;
use super::{page, platform};

/// Whether this phone can be heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sound {
    /// This browser has no sound.
    Missing,
    /// It gives none before the next tap.
    Locked,
    /// It sounds when asked to.
    Ready,
}

/// What a sound is to say: how urgent an alarm is, or how something has gone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Strength {
    /// Three even beeps, not loud.
    Gentle,
    /// A quick change of two tones, as loud as the phone can.
    Strong,
    /// No alarm: something that was waited for is done. Two tones that rise.
    Done,
    /// No alarm: it has to be done again. Two tones that fall.
    Again,
}

/// One pattern: its beeps one after the other, all of one length.
struct Pattern {
    /// The tone of each beep, in hertz. A phone's loudspeaker has little below 500.
    tones: &'static [f32],
    /// How long each beep lasts, in seconds.
    beep: f64,
    /// From the start of one beep to the start of the next, in seconds.
    step: f64,
    /// From 0 to 1.
    loudness: f32,
    /// Overtones carry through the noise of a cab.
    shape: OscillatorType,
    /// Milliseconds of trembling and of rest in turn.
    trembling: &'static [u32],
}

/// House default, no published source: none speaks of a phone in a cab.
const GENTLE: Pattern = Pattern {
    tones: &[880.0, 880.0, 880.0],
    beep: 0.25,
    step: 0.45,
    loudness: 0.4,
    shape: OscillatorType::Triangle,
    trembling: &[200, 250, 200],
};

/// House default, no published source: none speaks of a phone in a cab.
const STRONG: Pattern = Pattern {
    tones: &[988.0, 1319.0, 988.0, 1319.0, 988.0, 1319.0, 988.0, 1319.0],
    beep: 0.16,
    step: 0.18,
    loudness: 1.0,
    shape: OscillatorType::Square,
    trembling: &[400, 100, 400, 100, 400],
};

/// House default, no published source.
const DONE: Pattern = Pattern {
    tones: &[880.0, 1319.0],
    beep: 0.2,
    step: 0.22,
    loudness: 0.7,
    shape: OscillatorType::Triangle,
    trembling: &[300],
};

/// House default, no published source.
const AGAIN: Pattern = Pattern {
    tones: &[880.0, 587.0],
    beep: 0.3,
    step: 0.32,
    trembling: &[100, 100, 100, 100, 100],
    ..DONE
};

/// How long a beep takes to swell and to fade, in seconds; without it each would begin with a click.
const SOFT: f64 = 0.015;

thread_local! {
    static CONTEXT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
    static KEEPS_READY: Cell<bool> = const { Cell::new(false) };
    static SOUNDING: Cell<u32> = const { Cell::new(0) };
    static CHANGED: Listeners = const { Listeners::none() };
    static ON_CHANGE: Closure<dyn Fn()> = Closure::new(tell);
    static ON_END: Closure<dyn Fn()> = Closure::new(one_less_sounds);
}

/// Makes the phone able to sound. To be called straight from a tap.
pub fn unlock() {
    // Refused where there is no sound; the state then says so.
    drop(try_unlock());
}

/// Whether this phone can be heard now, as far as the browser says: it knows nothing of a switch that mutes.
pub fn state() -> Sound {
    if !js_sys::Reflect::has(&page::window(), &"AudioContext".into()).unwrap_or(false) {
        return Sound::Missing;
    }
    // Some phones know more states than the standard; in none of them is anything heard.
    match context().map(|context| context.state()) {
        Some(AudioContextState::Running) => Sound::Ready,
        Some(_) | None => Sound::Locked,
    }
}

/// Calls back whenever that may have changed.
pub fn on_change(changed: impl Fn() + 'static) {
    CHANGED.with(|listeners| listeners.add(changed));
}

/// From now on every tap makes the phone able to sound again if it is not.
pub fn keep_ready() {
    if KEEPS_READY.replace(true) {
        return;
    }
    // A finger's tap counts from its end. Not from its start: what is said of the sound would change under the finger.
    page::listen(&["pointerup", "keydown"], || {
        if state() == Sound::Locked {
            unlock();
        }
    });
}

/// Sounds once, for a second and a half at most. Nothing is heard unless the state is ready.
pub fn play(strength: Strength) {
    if state() == Sound::Ready
        && let Some(context) = context()
    {
        // A beep that the browser would not give leaves those that it gives.
        drop(play_pattern(&context, pattern(strength)));
    }
}

/// Trembles once, where the phone can.
pub fn vibrate(strength: Strength) {
    let navigator = page::window().navigator();
    if js_sys::Reflect::has(&navigator, &"vibrate".into()).unwrap_or(false) {
        let trembling = pattern(strength).trembling;
        let trembling: js_sys::Array = trembling.iter().copied().map(JsValue::from).collect();
        // False when the page is out of sight; the sound is what counts.
        navigator.vibrate_with_pattern(&trembling);
    }
}

fn pattern(strength: Strength) -> &'static Pattern {
    match strength {
        Strength::Gentle => &GENTLE,
        Strength::Strong => &STRONG,
        Strength::Done => &DONE,
        Strength::Again => &AGAIN,
    }
}

fn context() -> Option<AudioContext> {
    CONTEXT.with_borrow(Clone::clone)
}

fn try_unlock() -> Result<(), JsValue> {
    let usable = context().filter(|context| context.state() != AudioContextState::Closed);
    let context = match usable {
        Some(context) => context,
        None => {
            let context = AudioContext::new()?;
            ON_CHANGE.with(|changed| {
                context.set_onstatechange(Some(changed.as_ref().unchecked_ref()));
            });
            CONTEXT.set(Some(context.clone()));
            context
        }
    };
    let resumed = JsFuture::from(context.resume()?);
    page::run(async move {
        // Refused without a tap; the state says so.
        drop(resumed.await);
        tell();
    });
    // Some phones begin only when something is played within the tap: here, nothing.
    let silence = context.create_buffer(1, 1, context.sample_rate())?;
    let source = context.create_buffer_source()?;
    source.set_buffer(Some(&silence));
    source.connect_with_audio_node(&context.destination())?;
    source.start()
}

fn play_pattern(context: &AudioContext, pattern: &Pattern) -> Result<(), JsValue> {
    // A session that cannot be had leaves the sound as it is.
    drop(platform::play_in_spite_of_the_switch(true));
    let mut start = context.current_time() + SOFT;
    for tone in pattern.tones {
        let loudness = context.create_gain()?;
        loudness.connect_with_audio_node(&context.destination())?;
        let swell = loudness.gain();
        swell.set_value_at_time(0.0, start)?;
        swell.linear_ramp_to_value_at_time(pattern.loudness, start + SOFT)?;
        swell.set_value_at_time(pattern.loudness, start + pattern.beep - SOFT)?;
        swell.linear_ramp_to_value_at_time(0.0, start + pattern.beep)?;

        let beep = context.create_oscillator()?;
        beep.set_type(pattern.shape);
        beep.frequency().set_value(*tone);
        beep.connect_with_audio_node(&loudness)?;
        ON_END.with(|ended| beep.set_onended(Some(ended.as_ref().unchecked_ref())));
        beep.start_with_when(start)?;
        beep.stop_with_when(start + pattern.beep)?;
        SOUNDING.set(SOUNDING.get() + 1);
        start += pattern.step;
    }
    Ok(())
}

/// Other apps get their sound back with the last beep.
fn one_less_sounds() {
    SOUNDING.set(SOUNDING.get().saturating_sub(1));
    if SOUNDING.get() == 0 {
        drop(platform::play_in_spite_of_the_switch(false));
    }
}

fn tell() {
    CHANGED.with(Listeners::tell);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_alarm_sounds_and_trembles_for_a_second_and_a_half_at_most() {
        for pattern in [GENTLE, STRONG, DONE, AGAIN] {
            let steps = pattern.tones.len() as f64 - 1.0;
            assert!(steps * pattern.step + pattern.beep + SOFT <= 1.5);
            assert!(pattern.trembling.iter().sum::<u32>() <= 1500);
        }
    }

    #[test]
    fn beeps_do_not_run_into_each_other_and_end_softly() {
        for pattern in [GENTLE, STRONG, DONE, AGAIN] {
            assert!(pattern.beep < pattern.step && 2.0 * SOFT < pattern.beep);
        }
    }
}
