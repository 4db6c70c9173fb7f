//! Every combination of bands that a set-up sheet can be asked for.
//!
//! Both sides of every limit are among the values, and "not known" is among them for every condition. Never here: what
//! the sheet ought to say.

use evenrow_rules::machine::{FOOT, LONG_PLATE, Machine, SHORT_PLATE, USUAL_PITCH};
use evenrow_rules::quantity::{Length, Temperature};
use evenrow_rules::setup::{Sheet, advise};
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};

/// One thing the sheet may depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Axis {
    Work,
    Surface,
    Soft,
    Layer,
    Skids,
    Bite,
    Stones,
    Moisture,
    Path,
    Strip,
    CuttingEnd,
    Machine,
}

impl Axis {
    /// All of them, each at its own number.
    pub(crate) const ALL: [Axis; 12] = [
        Axis::Work,
        Axis::Surface,
        Axis::Soft,
        Axis::Layer,
        Axis::Skids,
        Axis::Bite,
        Axis::Stones,
        Axis::Moisture,
        Axis::Path,
        Axis::Strip,
        Axis::CuttingEnd,
        Axis::Machine,
    ];
}

/// One sheet that is asked for.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) work: Work,
    pub(crate) known: Conditions,
    pub(crate) machine: Machine,
}

impl Case {
    pub(crate) fn sheet(&self) -> Sheet {
        advise(self.work, &self.known, &self.machine)
    }

    /// The same case with other conditions.
    pub(crate) fn with(&self, change: impl FnOnce(&mut Conditions)) -> Case {
        let mut case = self.clone();
        change(&mut case.known);
        case
    }
}

/// The values of every axis.
pub(crate) struct Bands {
    pub(crate) surfaces: Vec<Option<Temperature>>,
    pub(crate) softness: [Option<bool>; 3],
    pub(crate) layers: Vec<Option<Length>>,
    pub(crate) skids: [Option<bool>; 3],
    pub(crate) bites: Vec<Option<Length>>,
    pub(crate) stones: [Option<Stones>; 3],
    pub(crate) moistures: [Option<Moisture>; 3],
    pub(crate) paths: Vec<Option<Length>>,
    pub(crate) strips: Vec<Option<Length>>,
    pub(crate) ends: [Option<End>; 3],
    pub(crate) machines: Vec<Machine>,
}

impl Bands {
    pub(crate) fn all() -> Bands {
        Bands {
            surfaces: or_unknown([-20.0, 4.9, 5.0, 14.9, 15.0, 40.0], |degrees| {
                Temperature::celsius(degrees).unwrap()
            }),
            softness: [None, Some(true), Some(false)],
            layers: or_unknown([20.0, 30.0, 31.0, 150.0], mm),
            skids: [None, Some(true), Some(false)],
            bites: or_unknown([10.0, 50.0], mm),
            stones: [None, Some(Stones::Few), Some(Stones::Many)],
            moistures: [None, Some(Moisture::Dusty), Some(Moisture::Moist)],
            paths: or_unknown([300.0, 900.0, 1500.0, 2500.0, 10_000.0], mm),
            strips: or_unknown([300.0, 800.0, 1200.0, 5000.0], mm),
            ends: [None, Some(End::Left), Some(End::Right)],
            machines: machines(),
        }
    }

    fn size(&self, axis: Axis) -> usize {
        match axis {
            Axis::Work => Work::ALL.len(),
            Axis::Surface => self.surfaces.len(),
            Axis::Soft => self.softness.len(),
            Axis::Layer => self.layers.len(),
            Axis::Skids => self.skids.len(),
            Axis::Bite => self.bites.len(),
            Axis::Stones => self.stones.len(),
            Axis::Moisture => self.moistures.len(),
            Axis::Path => self.paths.len(),
            Axis::Strip => self.strips.len(),
            Axis::CuttingEnd => self.ends.len(),
            Axis::Machine => self.machines.len(),
        }
    }

    /// How many cases the product of these axes has.
    pub(crate) fn product(&self, axes: &[Axis]) -> usize {
        axes.iter().map(|&axis| self.size(axis)).product()
    }

    /// Every combination of these axes. The other axes are not held still: they turn through their values on the way.
    pub(crate) fn every(&self, axes: &[Axis]) -> impl Iterator<Item = Case> {
        (0..self.product(axes)).map(move |number| {
            let mut rest = number;
            let mut at = Axis::ALL.map(|axis| turning(number, axis) % self.size(axis));
            for &axis in axes {
                at[axis as usize] = rest % self.size(axis);
                rest /= self.size(axis);
            }
            self.case(at)
        })
    }

    /// Every so-manieth combination of all axes.
    ///
    /// A step that shares no factor with the size of any axis meets all values of any few axes in equal shares.
    pub(crate) fn every_nth(&self, step: usize) -> impl Iterator<Item = Case> {
        for axis in Axis::ALL {
            assert_eq!(shared_factor(step, self.size(axis)), 1, "{axis:?}");
        }
        (0..self.product(&Axis::ALL))
            .step_by(step)
            .map(move |mut rest| {
                self.case(Axis::ALL.map(|axis| {
                    let at = rest % self.size(axis);
                    rest /= self.size(axis);
                    at
                }))
            })
    }

    fn case(&self, at: [usize; 12]) -> Case {
        let at = |axis: Axis| at[axis as usize];
        Case {
            work: Work::ALL[at(Axis::Work)],
            known: Conditions {
                surface: self.surfaces[at(Axis::Surface)],
                soft: self.softness[at(Axis::Soft)],
                layer: self.layers[at(Axis::Layer)],
                skids: self.skids[at(Axis::Skids)],
                bite: self.bites[at(Axis::Bite)],
                stones: self.stones[at(Axis::Stones)],
                moisture: self.moistures[at(Axis::Moisture)],
                path: self.paths[at(Axis::Path)],
                strip: self.strips[at(Axis::Strip)],
                cutting_end: self.ends[at(Axis::CuttingEnd)],
            },
            machine: self.machines[at(Axis::Machine)],
        }
    }
}

/// A length in millimetres.
pub(crate) fn mm(millimetres: f64) -> Length {
    Length::millimetres(millimetres).unwrap()
}

fn or_unknown<Value, const N: usize>(
    values: [f64; N],
    make: fn(f64) -> Value,
) -> Vec<Option<Value>> {
    std::iter::once(None)
        .chain(values.map(|value| Some(make(value))))
        .collect()
}

fn machines() -> Vec<Machine> {
    let usual = (SHORT_PLATE, LONG_PLATE);
    [
        (FOOT.times(12), usual, USUAL_PITCH),
        (FOOT.times(13), usual, USUAL_PITCH),
        (FOOT.times(14), usual, USUAL_PITCH),
        (mm(2400.0), usual, USUAL_PITCH),
        // Room for one plate only.
        (mm(1200.0), usual, USUAL_PITCH),
        // One plate length to be had.
        (mm(4000.0), (mm(600.0), mm(600.0)), USUAL_PITCH),
        // A pitch that divides no plate evenly, plates given the longer first, and both lengths on the board.
        (mm(3700.0), (mm(1000.0), mm(850.0)), mm(41.7)),
    ]
    .map(|(moldboard, plates, pitch)| Machine::new(moldboard, plates, pitch).unwrap())
    .to_vec()
}

/// A number that changes from case to case and differently for each axis, in step with no other.
fn turning(number: usize, axis: Axis) -> usize {
    const SPREAD: u64 = 0x9E37_79B9_7F4A_7C15; // two to the 64th over the golden ratio
    let mixed = (number as u64 ^ (axis as u64) << 40).wrapping_mul(SPREAD);
    ((mixed ^ mixed >> 29).wrapping_mul(SPREAD) >> 40) as usize
}

fn shared_factor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { shared_factor(b, a % b) }
}
