//! Whose turn it is: how many stories have browsers at a time, of whatever engine.

use std::cell::RefCell;
use std::sync::{Arc, Weak};

use tokio::sync::{Semaphore, SemaphorePermit};

/// How many stories have browsers at a time. A browser keeps more than one core busy while it starts.
static TURNS: Semaphore = Semaphore::const_new(2);

/// The turn of one story. Its browsers share it: two stories that each held one and waited for a second one would wait
/// for each other for ever.
#[derive(Debug)]
pub(crate) struct Turn {
    _permit: SemaphorePermit<'static>,
}

thread_local! {
    /// The turn of the story on this thread, as long as it has a browser. Each story has a thread of its own.
    static OF_THIS_STORY: RefCell<Weak<Turn>> = const { RefCell::new(Weak::new()) };
}

impl Turn {
    /// The turn that this story has, or waits for one.
    pub(crate) async fn of_this_story() -> Arc<Turn> {
        if let Some(turn) = OF_THIS_STORY.with_borrow(Weak::upgrade) {
            return turn;
        }
        let permit = TURNS.acquire().await.expect("nobody closes the queue");
        let turn = Arc::new(Turn { _permit: permit });
        OF_THIS_STORY.set(Arc::downgrade(&turn));
        turn
    }
}
