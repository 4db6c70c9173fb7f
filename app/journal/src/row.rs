//! The teeth: sets on machines and in store, what is known of each tooth, the spares in stock, and what was scrapped.
//!
//! Applied event by event; nothing here refuses. No tooth appears or vanishes but by an event that says so: what was
//! taken in stands on a machine, lies in store or in stock, or was scrapped. Never here: what wear means (the rules), and
//! whether something may be done (`state`).

use std::collections::BTreeMap;

use evenrow_rules::checklist::Item;
use evenrow_rules::quantity::{Instant, Length, Span};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::wear::Tips;

use crate::event::{Id, NewSet, ToothState};

/// What is known of one tooth of a set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    /// Its kind.
    pub kind: ToothKind,
    /// How long its tip was when it was last measured, or when it was put in.
    pub tip: Length,
    /// How it was found last.
    pub state: ToothState,
    /// When that was.
    pub tip_at: Instant,
    /// When it was put in.
    pub placed: Instant,
    /// When anything was last noted of it.
    pub noted: Instant,
}

impl Tooth {
    fn put_in(kind: ToothKind, tip: Length, at: Instant) -> Tooth {
        Tooth {
            kind,
            tip,
            state: ToothState::Turning,
            tip_at: at,
            placed: at,
            noted: at,
        }
    }
}

/// Where a set is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whereabouts {
    /// On a machine, since when.
    On {
        /// Which machine.
        machine: Id,
        /// Since when.
        since: Instant,
    },
    /// In store, laid up.
    Stored,
    /// Its teeth have become spares, or were scrapped.
    Gone,
}

/// One tip that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredTip {
    /// When.
    pub at: Instant,
    /// At which position.
    pub position: u16,
    /// How long it was.
    pub tip: Length,
    /// Whether the tooth was one of those that the set began with.
    pub first: bool,
}

/// A set of teeth.
#[derive(Clone, Debug, PartialEq)]
pub struct SetOfTeeth {
    /// The entry that mounted it first.
    pub id: Id,
    /// How long a tip of it is when new, and when done.
    pub tips: Tips,
    /// How long every tip was when the set was first mounted.
    pub first_tip: Length,
    /// Of which kind its teeth were.
    pub kind: ToothKind,
    /// With how many teeth it began.
    pub first_teeth: u16,
    /// When it was first mounted.
    pub first_mounted: Instant,
    /// Its teeth by position, the first being 1; none where a tooth is gone for good.
    pub teeth: BTreeMap<u16, Tooth>,
    /// Where it is.
    pub whereabouts: Whereabouts,
    /// On which machine it was before, and from when to when.
    pub mounted: Vec<(Id, Span)>,
    /// What was measured, in the order of the records.
    pub measured: Vec<MeasuredTip>,
    /// Notes on it.
    pub notes: Vec<(Instant, String)>,
    /// What was done when it was laid up last.
    pub laid_up: Vec<Item>,
}

impl SetOfTeeth {
    /// The machine that it is on.
    pub fn machine(&self) -> Option<&Id> {
        match &self.whereabouts {
            Whereabouts::On { machine, .. } => Some(machine),
            Whereabouts::Stored | Whereabouts::Gone => None,
        }
    }

    /// When it was on which machine, up to `until`.
    pub fn times_on(&self, until: Instant) -> Vec<(&Id, Span)> {
        let before = self.mounted.iter().map(|(id, span)| (id, *span));
        let on = match &self.whereabouts {
            Whereabouts::On { machine, since } => {
                Some((machine, Span::new(*since, until.max(*since))))
            }
            Whereabouts::Stored | Whereabouts::Gone => None,
        };
        before
            .chain(on)
            .filter(|(_, span)| span.start() < until)
            .map(|(id, span)| (id, Span::new(span.start(), span.end().min(until))))
            .collect()
    }

    /// How many teeth are in each of some states.
    pub fn count(&self, states: &[ToothState]) -> u16 {
        let matching = self
            .teeth
            .values()
            .filter(|tooth| states.contains(&tooth.state));
        u16::try_from(matching.count()).unwrap_or(u16::MAX)
    }

    fn come_off(&mut self, at: Instant) {
        if let Whereabouts::On { machine, since } = &self.whereabouts {
            self.mounted
                .push((machine.clone(), Span::new(*since, at.max(*since))));
        }
    }
}

/// How long a tip is by now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipNow {
    /// How long.
    pub tip: Length,
    /// Whether that was measured, or is what wear has left of it by the look of the others.
    pub measured: bool,
}

/// A kind of spare: tooth kind and tip length in micrometres.
pub type SpareKind = (ToothKind, u32);

/// A tooth that broke or was lost, on which machine and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breakage {
    /// On which machine.
    pub machine: Id,
    /// When it was noted.
    pub at: Instant,
}

/// A tooth whose place a spare took.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// Of which set.
    pub set: Id,
    /// On which machine the set was; none in store.
    pub machine: Option<Id>,
    /// When.
    pub at: Instant,
    /// At which position.
    pub position: u16,
    /// The tooth that came out.
    pub out: Tooth,
    /// The kind of the spare.
    pub kind: ToothKind,
    /// How long its tip was.
    pub tip: Length,
}

/// All teeth there are, and those that are no more.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Teeth {
    /// Every set, in the order in which they were first mounted.
    pub sets: Vec<SetOfTeeth>,
    /// Spares, and how many of each, in the order of their kinds. They are few: a list takes a fraction of a map's code.
    pub stock: Vec<(SpareKind, u32)>,
    /// How many teeth were scrapped.
    pub scrapped: u64,
    /// How many teeth were ever taken in, corrections of the stock counted.
    pub taken_in: i64,
    /// Every tooth that broke or was lost.
    pub breakages: Vec<Breakage>,
    /// Every tooth whose place a spare took, in the order of the records.
    pub replaced: Vec<Replacement>,
}

impl Teeth {
    /// The set on a machine.
    pub fn on(&self, machine: &Id) -> Option<&SetOfTeeth> {
        self.sets.iter().find(|set| set.machine() == Some(machine))
    }

    /// A set by its id.
    pub fn set(&self, id: &Id) -> Option<&SetOfTeeth> {
        self.sets.iter().find(|set| set.id == *id)
    }

    /// How many spares of a kind there are.
    pub fn spares(&self, kind: ToothKind, tip: Length) -> u32 {
        let place = self.in_stock((kind, tip.in_micrometres()));
        place.map_or(0, |at| self.stock[at].1)
    }

    /// Where a kind of spares stands, or where it would have to.
    fn in_stock(&self, kind: SpareKind) -> Result<usize, usize> {
        self.stock.binary_search_by_key(&kind, |(known, _)| *known)
    }

    /// From now on there are so many spares of a kind; says how many there were.
    fn set_stock(&mut self, kind: SpareKind, count: u32) -> u32 {
        match self.in_stock(kind) {
            Ok(at) if count == 0 => self.stock.remove(at).1,
            Ok(at) => std::mem::replace(&mut self.stock[at].1, count),
            Err(at) => {
                if 0 < count {
                    self.stock.insert(at, (kind, count));
                }
                0
            }
        }
    }

    /// How many teeth stand in sets.
    pub fn in_sets(&self) -> usize {
        self.sets.iter().map(|set| set.teeth.len()).sum()
    }

    pub(crate) fn mount_new(&mut self, id: &Id, at: Instant, machine: &Id, new: &NewSet) {
        self.make_room(machine, at);
        let tooth = Tooth::put_in(new.kind, new.tip, at);
        self.taken_in += i64::from(new.teeth);
        // One by one, here and in `tips_now`: a map that is collected brings a sort into the wasm.
        let mut teeth = BTreeMap::new();
        for position in 1..=new.teeth {
            teeth.insert(position, tooth);
        }
        self.sets.push(SetOfTeeth {
            id: id.clone(),
            tips: new.tips,
            first_tip: new.tip,
            kind: new.kind,
            first_teeth: new.teeth,
            first_mounted: at,
            teeth,
            whereabouts: Whereabouts::On {
                machine: machine.clone(),
                since: at,
            },
            mounted: Vec::new(),
            measured: Vec::new(),
            notes: Vec::new(),
            laid_up: Vec::new(),
        });
    }

    /// Whatever set is on a machine goes into store.
    fn make_room(&mut self, machine: &Id, at: Instant) {
        for set in &mut self.sets {
            if set.machine() == Some(machine) {
                set.come_off(at);
                set.whereabouts = Whereabouts::Stored;
            }
        }
    }

    pub(crate) fn take_off(&mut self, id: &Id, at: Instant, done: &[Item]) {
        if let Some(set) = self.set_mut(id).filter(|set| set.machine().is_some()) {
            set.come_off(at);
            set.whereabouts = Whereabouts::Stored;
            set.laid_up = done.to_vec();
        }
    }

    pub(crate) fn note_on_set(&mut self, id: &Id, at: Instant, text: &str) {
        if let Some(set) = self.set_mut(id) {
            set.notes.push((at, text.to_owned()));
        }
    }

    pub(crate) fn put_back(&mut self, id: &Id, at: Instant, machine: &Id) {
        let stored = self
            .set(id)
            .is_some_and(|set| set.whereabouts == Whereabouts::Stored);
        if !stored {
            return;
        }
        self.make_room(machine, at);
        if let Some(set) = self.set_mut(id) {
            set.whereabouts = Whereabouts::On {
                machine: machine.clone(),
                since: at,
            };
        }
    }

    /// The teeth of a set that are whole go into stock with the lengths that they have by now; the others are scrapped.
    pub(crate) fn break_up(
        &mut self,
        id: &Id,
        at: Instant,
        keep: bool,
        tips: &BTreeMap<u16, TipNow>,
    ) {
        let Some(set) = self
            .set_mut(id)
            .filter(|set| set.whereabouts != Whereabouts::Gone)
        else {
            return;
        };
        set.come_off(at);
        set.whereabouts = Whereabouts::Gone;
        for (position, tooth) in std::mem::take(&mut set.teeth) {
            if keep && tooth.state.is_whole() {
                let tip = tips.get(&position).map_or(tooth.tip, |known| known.tip);
                let one_more = self.spares(tooth.kind, tip).saturating_add(1);
                self.set_stock((tooth.kind, tip.in_micrometres()), one_more);
            } else {
                self.scrapped += 1;
            }
        }
    }

    pub(crate) fn note(&mut self, id: &Id, at: Instant, position: u16, state: ToothState) {
        let Some(set) = self.set_mut(id) else { return };
        let machine = set.machine().cloned();
        let Some(tooth) = set.teeth.get_mut(&position) else {
            return;
        };
        let was_there = !tooth.state.is_lost();
        (tooth.state, tooth.noted) = (state, at);
        if let Some(machine) = machine.filter(|_| was_there && state.is_lost()) {
            self.breakages.push(Breakage { machine, at });
        }
    }

    /// Every tooth of the set on a machine that is there turns.
    pub(crate) fn all_turn(&mut self, machine: &Id, at: Instant) {
        let on = self
            .sets
            .iter_mut()
            .filter(|set| set.machine() == Some(machine));
        for tooth in on.flat_map(|set| set.teeth.values_mut()) {
            if matches!(tooth.state, ToothState::Stiff | ToothState::Stuck) {
                (tooth.state, tooth.noted) = (ToothState::Turning, at);
            }
        }
    }

    pub(crate) fn measure(&mut self, id: &Id, at: Instant, tips: &[(u16, Length)]) {
        let Some(set) = self.set_mut(id) else { return };
        for &(position, tip) in tips {
            if let Some(tooth) = set.teeth.get_mut(&position) {
                (tooth.tip, tooth.tip_at, tooth.noted) = (tip, at, at);
                set.measured.push(MeasuredTip {
                    at,
                    position,
                    tip,
                    first: tooth.placed <= set.first_mounted,
                });
            }
        }
    }

    /// A spare takes the place of a tooth, which is scrapped. Without that spare in stock it was one that nobody counted.
    pub(crate) fn replace(
        &mut self,
        id: &Id,
        at: Instant,
        position: u16,
        kind: ToothKind,
        tip: Length,
    ) {
        let Some(set) = self.set_mut(id) else { return };
        let Some(tooth) = set.teeth.get_mut(&position) else {
            return;
        };
        let out = std::mem::replace(tooth, Tooth::put_in(kind, tip, at));
        let machine = set.machine().cloned();
        self.replaced.push(Replacement {
            set: id.clone(),
            machine,
            at,
            position,
            out,
            kind,
            tip,
        });
        self.scrapped += 1;
        match self.spares(kind, tip).checked_sub(1) {
            Some(left) => {
                self.set_stock((kind, tip.in_micrometres()), left);
            }
            None => self.taken_in += 1,
        }
    }

    pub(crate) fn count_stock(&mut self, kind: ToothKind, tip: Length, count: u32) {
        let before = self.set_stock((kind, tip.in_micrometres()), count);
        self.taken_in += i64::from(count) - i64::from(before);
    }

    fn set_mut(&mut self, id: &Id) -> Option<&mut SetOfTeeth> {
        self.sets.iter_mut().find(|set| set.id == *id)
    }
}
