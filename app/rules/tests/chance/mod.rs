//! Numbers that look like chance, for simulated rows and readings. Never here: what is simulated.

/// A row of numbers that look like chance and are the same everywhere.
pub struct Chance(pub u64);

impl Chance {
    /// A number above 0 and below 1.
    pub fn next(&mut self) -> f64 {
        // Knuth's multiplier and increment for 64 bits (from memory); the upper bits are the good ones.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// A number of the normal distribution, mean 0 and standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        let (radius, turn) = (self.next(), self.next());
        (-2.0 * radius.ln()).sqrt() * (std::f64::consts::TAU * turn).cos()
    }
}
