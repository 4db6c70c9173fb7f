//! Who wants to be told of a change that the browser makes by itself.

use std::cell::RefCell;
use std::rc::Rc;

/// Those who want to be told; for as long as the app lives.
pub struct Listeners(RefCell<Vec<Rc<dyn Fn()>>>);

impl Listeners {
    /// Nobody yet.
    pub const fn none() -> Listeners {
        Listeners(RefCell::new(Vec::new()))
    }

    /// One more.
    pub fn add(&self, changed: impl Fn() + 'static) {
        self.0.borrow_mut().push(Rc::new(changed));
    }

    /// Tells all of them.
    pub fn tell(&self) {
        // Whoever is told may want to be told of more.
        let all = self.0.borrow().clone();
        for changed in &all {
            changed();
        }
    }
}
