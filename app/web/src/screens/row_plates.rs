//! Where a tooth stands: on which plate, and at which place of it, both counted from the left as seen from the cab.
//!
//! Never here: how the tooth is.

use evenrow_journal::Event;
use evenrow_journal::row::SetOfTeeth;
use evenrow_rules::machine::{Machine, fit};
use leptos::prelude::*;

use crate::shell::App;
use crate::words::Words;

/// How many teeth each plate has, from the left.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plates(Vec<u16>);

impl Plates {
    /// The plates that a set fills on a machine.
    pub fn of(machine: &Machine, set: &SetOfTeeth) -> Plates {
        let last = set.teeth.last_key_value().map_or(0, |(last, _)| *last);
        Plates::filled(fit(machine).teeth, last)
    }

    /// So many teeth on plates with so much room, from the left.
    pub fn filled(rooms: Vec<u32>, teeth: u16) -> Plates {
        let mut left = teeth;
        let mut plates: Vec<u16> = rooms
            .into_iter()
            .map(|room| {
                let on_it = u16::try_from(room).unwrap_or(u16::MAX).min(left);
                left -= on_it;
                on_it
            })
            .filter(|teeth| 0 < *teeth)
            .collect();
        // A row that was longer when the set was mounted keeps its last teeth on a plate of their own.
        if 0 < left {
            plates.push(left);
        }
        Plates(plates)
    }

    /// How many plates there are.
    pub fn count(&self) -> usize {
        self.0.len()
    }

    /// How many teeth there are on all of them.
    pub fn teeth(&self) -> u16 {
        self.0.iter().sum()
    }

    /// The positions on a plate, the first plate being 0.
    pub fn positions(&self, plate: usize) -> core::ops::RangeInclusive<u16> {
        let before: u16 = self.0.iter().take(plate).sum();
        let on_it = self.0.get(plate).copied().unwrap_or(0);
        before + 1..=before + on_it
    }

    /// The plate and the place on it, both from 1.
    pub fn place(&self, position: u16) -> (usize, u16) {
        let mut before = 0;
        for (plate, on_it) in self.0.iter().enumerate() {
            if position <= before + on_it {
                return (plate + 1, position - before);
            }
            before += on_it;
        }
        (self.0.len() + 1, position - before)
    }

    /// The short name of the tooth at a position: "2-5" is the fifth on plate 2.
    pub fn short(&self, words: &Words, position: u16) -> String {
        let (plate, nth) = self.place(position);
        words.tooth_short(&plate.to_string(), &nth.to_string())
    }

    /// The short names of several.
    pub fn list(&self, words: &Words, positions: impl IntoIterator<Item = u16>) -> String {
        let names: Vec<String> = positions
            .into_iter()
            .map(|position| self.short(words, position))
            .collect();
        names.join(", ")
    }
}

/// What was recorded, with the names of the teeth of the mounted set.
pub fn happened(app: App, event: &Event) -> String {
    let plates = app.machine.with(|machine| {
        let machine = machine.as_ref()?;
        app.state().with(|state| {
            let set = state.teeth.on(&machine.id)?;
            Some(Plates::of(&machine.machine, set))
        })
    });
    let plates = plates.unwrap_or_default();
    app.words
        .happened(event, &|position| plates.short(app.words, position))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_tooth_stands_on_one_plate_at_one_place() {
        let plates = Plates::filled(vec![26; 4], 104);
        assert_eq!(plates.count(), 4);
        let mut position = 0;
        for plate in 0..4 {
            assert_eq!(plates.positions(plate).count(), 26);
            for (nth, at) in (1..).zip(plates.positions(plate)) {
                position += 1;
                assert_eq!((at, plates.place(at)), (position, (plate + 1, nth)));
            }
        }
        assert_eq!((position, plates.teeth()), (104, 104));
    }

    #[test]
    fn a_set_longer_or_shorter_than_the_row_keeps_all_its_teeth() {
        assert_eq!(Plates::filled(vec![24, 24], 60).0, [24, 24, 12]);
        assert_eq!(Plates::filled(vec![24, 24], 30).0, [24, 6]);
        assert_eq!(Plates::filled(vec![24, 24], 30).place(30), (2, 6));
        assert_eq!(Plates::filled(vec![], 0).count(), 0);
    }
}
