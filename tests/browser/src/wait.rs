//! Waiting: look again and again until something is so, or say what was awaited and what was seen instead.
//!
//! The only file of the stories that may sleep.

use std::time::{Duration, Instant};

use thirtyfour::error::WebDriverError;
use tokio::time::{sleep, timeout};

/// How long anything may take. Generous, since a loaded computer with two cores must pass; no story waits it out.
const PATIENCE: Duration = Duration::from_secs(30);

/// How long between two looks.
const BETWEEN_LOOKS: Duration = Duration::from_millis(25);

/// What was seen while it is not yet so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotYet(pub String);

impl From<WebDriverError> for NotYet {
    fn from(error: WebDriverError) -> NotYet {
        // The rest is the driver's stack.
        NotYet(
            error
                .to_string()
                .lines()
                .take(3)
                .collect::<Vec<_>>()
                .join(" "),
        )
    }
}

/// Looks until a look succeeds, and gives what it found. A failing call to the browser counts as not yet.
///
/// # Panics
///
/// When patience runs out: with what was awaited, and what the last look saw.
pub async fn until<T>(awaited: &str, mut look: impl AsyncFnMut() -> Result<T, NotYet>) -> T {
    let started = Instant::now();
    let mut seen = "nothing, for the first look never ended".to_owned();
    while let Some(left) = PATIENCE.checked_sub(started.elapsed()) {
        match timeout(left, look()).await {
            Ok(Ok(found)) => return found,
            Ok(Err(NotYet(instead))) => seen = instead,
            // Keep what the look before saw.
            Err(_) => break,
        }
        sleep(BETWEEN_LOOKS).await;
    }
    panic!(
        "Awaited for {} s: {awaited}.\nSeen: {seen}",
        PATIENCE.as_secs()
    );
}
