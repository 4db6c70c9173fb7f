//! How the phone lies, as its sensors feel it: through the browser's own override of its sensors.
//!
//! Never here: what the app makes of it (`pages`).

use serde_json::json;

use crate::browser::Phone;
use crate::wait::{self, NotYet};

/// Standard gravity in metres per second squared.
const GRAVITY: f64 = 9.80665;

/// How a phone lies: by how much its top edge is raised, and by how much its right edge is lowered, in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// Its top edge.
    pub top_up: f64,
    /// Its right edge.
    pub right_down: f64,
}

impl Lying {
    /// Level along its short edge, the top edge raised.
    pub const fn top_up(degrees: f64) -> Lying {
        Lying {
            top_up: degrees,
            right_down: 0.0,
        }
    }

    /// What it feels: the reaction to gravity in its own axes.
    fn felt(self) -> [f64; 3] {
        let (up, side) = (self.top_up.to_radians(), self.right_down.to_radians());
        [
            -GRAVITY * side.sin(),
            GRAVITY * side.cos() * up.sin(),
            GRAVITY * side.cos() * up.cos(),
        ]
    }
}

/// Noise that is the same each time: evenly spread between -1 and 1.
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

impl Phone {
    /// It has sensors, and lies flat. To be said before the app listens to them.
    pub async fn has_sensors(&self) {
        for kind in ["accelerometer", "linear-acceleration", "gyroscope"] {
            let metadata =
                json!({ "available": true, "minimumFrequency": 1, "maximumFrequency": 60 });
            let sensor = json!({ "enabled": true, "type": kind, "metadata": metadata });
            self.command("Emulation.setSensorOverrideEnabled", sensor)
                .await;
        }
        self.reads("linear-acceleration", [0.0; 3]).await;
        self.reads("gyroscope", [0.0; 3]).await;
        self.lies(Lying::top_up(0.0)).await;
    }

    /// It lies so, and is still.
    pub async fn lies(&self, how: Lying) {
        self.reads("accelerometer", how.felt()).await;
    }

    /// It lies so and trembles until something is seen: each axis by so much at most, in metres per second squared.
    pub async fn trembles_until(
        &self,
        how: Lying,
        most: f64,
        awaited: &str,
        so: impl AsyncFn() -> bool,
    ) {
        let mut noise = Noise(7);
        wait::until(awaited, async || {
            for _ in 0..20 {
                let felt = how.felt().map(|it| it + most * noise.next());
                self.reads("accelerometer", felt).await;
            }
            if so().await {
                Ok(())
            } else {
                Err(NotYet("not seen while it trembled".to_owned()))
            }
        })
        .await;
        self.lies(how).await;
    }

    async fn reads(&self, kind: &str, [x, y, z]: [f64; 3]) {
        let reading = json!({ "type": kind, "reading": { "xyz": { "x": x, "y": y, "z": z } } });
        self.command("Emulation.setSensorOverrideReadings", reading)
            .await;
    }
}
