//! Which way is down, as the phone feels it.
//!
//! <https://developer.mozilla.org/docs/Web/API/DeviceMotionEvent>. Some browsers ask the operator first, from a tap; others
//! just begin. Phones differ in the sign of all three axes, which the rules cope with. Never here: what the readings mean.

use std::cell::{Cell, RefCell};

use evenrow_rules::tilt::Gravity;
use wasm_bindgen::prelude::*;

use super::platform;

/// Why nothing is felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numb {
    /// The operator, or a setting of the browser, has refused it.
    Refused,
    /// Nothing came in all the time that a sensor needs to begin.
    Missing,
}

/// How long a sensor may take to begin, in milliseconds. House default: one that is there begins at once.
const PATIENCE_MS: u32 = 2_000;

type Felt = Closure<dyn Fn(f64, f64, f64)>;
type Failed = Closure<dyn Fn(bool)>;

thread_local! {
    /// Whoever listens now.
    static LISTENER: RefCell<Option<(Felt, Failed)>> = const { RefCell::new(None) };
    /// How many have listened so far.
    static LISTENERS: Cell<u32> = const { Cell::new(0) };
}

/// Listens for as long as it is held, unless another one has begun since.
#[derive(Debug)]
pub struct Feeling(u32);

impl Drop for Feeling {
    fn drop(&mut self) {
        if LISTENERS.get() == self.0 {
            // What was called stays until the next one begins: it may be what drops this.
            platform::stop_feeling();
        }
    }
}

/// Calls back with every reading for as long as what it gives is held, or once with why there is none; whoever listened
/// before hears nothing more. To be called straight from a tap.
pub fn feel(felt: impl Fn(Gravity) + 'static, failed: impl Fn(Numb) + 'static) -> Feeling {
    let felt = Felt::new(move |x, y, z| {
        // What no phone can feel is left out.
        if let Ok(reading) = Gravity::new(x, y, z) {
            felt(reading);
        }
    });
    let failed = Failed::new(move |refused| {
        failed(if refused {
            Numb::Refused
        } else {
            Numb::Missing
        });
    });
    platform::feel_gravity(&felt, &failed, PATIENCE_MS);
    LISTENER.set(Some((felt, failed)));
    LISTENERS.set(LISTENERS.get().wrapping_add(1));
    Feeling(LISTENERS.get())
}
