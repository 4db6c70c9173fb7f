//! Random choices that come again from the same number.
//!
//! Never here: what is chosen.

/// A source of choices.
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// The source of this number.
    pub fn new(number: usize) -> Chance {
        Chance(number as u64)
    }

    /// One of so many, counted from 0.
    pub fn below(&mut self, many: usize) -> usize {
        // A step of a counter, its bits mixed until none tells of its neighbour.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        (mixed % many.max(1) as u64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_number_gives_the_same_choices_and_every_choice_is_made() {
        let choices = |number| {
            let mut chance = Chance::new(number);
            (0..60).map(|_| chance.below(6)).collect::<Vec<_>>()
        };
        assert_eq!(choices(7), choices(7));
        assert_ne!(choices(7), choices(8));
        assert!((0..6).all(|one| choices(7).contains(&one)));
    }
}
