//! The day's plan: road sections in order, when each of them is done, and what the day's own pace says of the rest.
//!
//! A section takes the hours that `plan` says. The sections follow each other from a moment on; breaks put them off, and
//! so does each oil stop, wherever it falls. Once sections are done, the working time that they took over the time that
//! was planned for them is the day's pace, and the rest is planned anew by it.
//!
//! Never here: when oil falls due (`oiling`), and which section has been done (`journal`).

use alloc::vec::Vec;
use core::time::Duration;

use crate::oiling::{Break, after_work};
use crate::plan::{Edge, Leg, OIL_STOP, work_time};
use crate::quantity::{
    Distance, Efficiency, Hours, Instant, Length, OutOfRange, Span, Speed, within,
};

/// How long a section of road may be.
///
/// Units: kilometres.
/// Basis: house default, only there to stop nonsense.
const SECTION_LENGTHS: (f64, f64) = (0.01, 500.0);

/// How wide a road may be.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const ROAD_WIDTHS: (f64, f64) = (300.0, 50_000.0);

/// How many passes a layer may take in a day's plan, and how many layers there may be.
///
/// Units: passes or layers.
/// Basis: house default, only there to stop nonsense.
const COUNTS: (f64, f64) = (1.0, 99.0);

/// How many minutes of an hour may be work.
///
/// Units: minutes.
/// Basis: house default for the lower end, only there to stop nonsense; the upper end is arithmetic.
const MINUTES_OF_WORK: (f64, f64) = (5.0, 60.0);

/// The minutes of an hour in which a section gets longer, until the operator says better: turning, waiting for traffic
/// and looking take the rest.
///
/// Units: minutes.
/// Basis: house default; the printed examples count with 36 and 45.
pub const USUAL_MINUTES_OF_WORK: u8 = 45;

/// How far a pass laps over the one beside it, until the operator says better.
///
/// Basis: house default.
pub const USUAL_OVERLAP: Length = Length::micrometres(300_000);

/// So much planned work has to be done before the day has a pace of its own.
///
/// Basis: house default.
pub const LEAST_FOR_A_PACE: Duration = Duration::from_mins(30);

/// A day is not taken to be faster or slower than this, in working time taken to working time planned.
///
/// Units: to one.
/// Basis: house default, only there to stop nonsense: a section ticked by mistake.
const PACES: (f64, f64) = (0.25, 4.0);

/// Which figure of a section was out of range; the app has the word for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SectionFigure {
    /// Its length in kilometres.
    Length,
    /// Its width in millimetres.
    Width,
    /// The passes for each layer.
    Passes,
    /// The layers.
    Layers,
    /// The speed in kilometres per hour.
    Speed,
    /// The minutes of an hour that are work.
    MinutesOfWork,
}

/// A section of road: how long and how wide it is, and how it is worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    length: Distance,
    width: Option<Length>,
    passes: u16,
    layers: u16,
    speed: Speed,
    minutes_of_work: u8,
}

impl Section {
    /// A section with its length and width, the passes for each layer and the layers, the speed, and the minutes of an
    /// hour that are work. As typed in: what cannot be is refused by its name.
    ///
    /// Units: kilometres, millimetres; passes, layers; km/h; minutes.
    /// Valid: 10 m to 500 km long, 0.3 to 50 m wide where that is known, 1 to 99 passes and layers, 0.1 to 100 km/h, 5 to
    /// 60 minutes.
    /// Errors: [`OutOfRange`] naming the first figure that is not, and for NaN.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::day::{Section, SectionFigure};
    /// assert!(Section::new(4.0, Some(6000.0), (3, 1), 8.0, 45).is_ok());
    /// assert_eq!(Section::new(0.0, None, (3, 1), 8.0, 45).unwrap_err().what, SectionFigure::Length);
    /// assert_eq!(Section::new(4.0, None, (0, 1), 8.0, 45).unwrap_err().what, SectionFigure::Passes);
    /// ```
    pub fn new(
        kilometres: f64,
        width_mm: Option<f64>,
        (passes, layers): (u16, u16),
        kilometres_per_hour: f64,
        minutes_of_work: u8,
    ) -> Result<Section, OutOfRange<SectionFigure>> {
        use SectionFigure as What;
        let held = |what, got, (least, most): (f64, f64)| within(what, got, least, most);
        held(What::Passes, f64::from(passes), COUNTS)?;
        held(What::Layers, f64::from(layers), COUNTS)?;
        held(
            What::MinutesOfWork,
            f64::from(minutes_of_work),
            MINUTES_OF_WORK,
        )?;
        let width = width_mm.map(|mm| held(What::Width, mm, ROAD_WIDTHS));
        let speed = Speed::kilometres_per_hour(kilometres_per_hour).map_err(|range| OutOfRange {
            what: What::Speed,
            got: range.got,
            min: range.min,
            max: range.max,
        });
        Ok(Section {
            length: Distance::held(held(What::Length, kilometres, SECTION_LENGTHS)?),
            width: width.transpose()?.map(Length::held),
            passes,
            layers,
            speed: speed?,
            minutes_of_work,
        })
    }

    /// How long it is.
    ///
    /// Units: kilometres.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 1), 8.0, 45).unwrap().length().in_kilometres(), 4.0);
    /// ```
    pub const fn length(&self) -> Distance {
        self.length
    }

    /// How wide the road is, where that is known.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 1), 8.0, 45).unwrap().width(), None);
    /// ```
    pub const fn width(&self) -> Option<Length> {
        self.width
    }

    /// How many passes each layer takes.
    ///
    /// Units: passes.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 2), 8.0, 45).unwrap().passes(), 3);
    /// ```
    pub const fn passes(&self) -> u16 {
        self.passes
    }

    /// In how many layers it is taken.
    ///
    /// Units: layers.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 2), 8.0, 45).unwrap().layers(), 2);
    /// ```
    pub const fn layers(&self) -> u16 {
        self.layers
    }

    /// How fast it is driven.
    ///
    /// Units: km/h.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 1), 8.0, 45).unwrap().speed().in_kilometres_per_hour(), 8.0);
    /// ```
    pub const fn speed(&self) -> Speed {
        self.speed
    }

    /// How many minutes of an hour are work.
    ///
    /// Units: minutes.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 1), 8.0, 45).unwrap().minutes_of_work(), 45);
    /// ```
    pub const fn minutes_of_work(&self) -> u8 {
        self.minutes_of_work
    }

    /// How long it takes, stops and breaks not counted.
    ///
    /// Units: hours.
    /// Valid: always.
    /// Basis: that of [`work_time`], every pass of every layer driven at the same speed.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// let section = Section::new(4.0, None, (3, 2), 8.0, 45).unwrap();
    /// assert_eq!(section.hours().in_hours(), 4.0); // 24 km at 8 km/h, three quarters of the hour
    /// ```
    pub fn hours(&self) -> Hours {
        // Five minutes at least are within what an efficiency may be.
        let share = f64::from(self.minutes_of_work) / MINUTES_OF_WORK.1;
        let efficiency = Efficiency::share(share).unwrap_or(Efficiency::ALL);
        work_time(&[self.leg()], efficiency).total
    }

    /// How far the machine is driven for it.
    ///
    /// Units: kilometres.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::day::Section;
    /// assert_eq!(Section::new(4.0, None, (3, 2), 8.0, 45).unwrap().driven().in_kilometres(), 24.0);
    /// ```
    pub fn driven(&self) -> Distance {
        work_time(&[self.leg()], Efficiency::ALL).driven
    }

    fn leg(&self) -> Leg {
        Leg {
            // 99 times 99 fits.
            passes: self.passes * self.layers,
            distance: self.length,
            speed: self.speed,
            edge: Edge::Down,
        }
    }
}

/// How the day goes against its plan: working time taken to working time planned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayPace(f64);

impl DayPace {
    /// The pace of a day in which so much planned work was done in so much working time, breaks and oil stops taken out of
    /// both. None while less than [`LEAST_FOR_A_PACE`] of the plan is done: one short section says too little.
    ///
    /// Units: hours, working time.
    /// Valid: always; held between a quarter and four times, so that a section ticked by mistake upsets nothing.
    /// Basis: house default: the rest is taken to go as what was done, whatever the road.
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::{day::DayPace, quantity::Hours};
    /// let hours = |hours| Hours::new(hours).unwrap();
    /// let pace = DayPace::of(hours(2.0), Duration::from_mins(150)).unwrap();
    /// assert_eq!((pace.in_share(), pace.takes(hours(4.0))), (1.25, hours(5.0)));
    /// assert_eq!(DayPace::of(hours(0.4), Duration::from_mins(60)), None);
    /// ```
    pub fn of(planned: Hours, worked: Duration) -> Option<DayPace> {
        if planned.as_duration() < LEAST_FOR_A_PACE {
            return None;
        }
        let (fastest, slowest) = PACES;
        let share = worked.as_secs_f64() / planned.as_duration().as_secs_f64();
        Some(DayPace(share.clamp(fastest, slowest)))
    }

    /// The pace, 1 being as planned and more being slower.
    ///
    /// Units: to one.
    /// Valid: always.
    /// Basis: that of [`DayPace::of`].
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::{day::DayPace, quantity::Hours};
    /// let pace = DayPace::of(Hours::new(2.0).unwrap(), Duration::from_mins(90)).unwrap();
    /// assert_eq!(pace.in_share(), 0.75);
    /// ```
    pub const fn in_share(self) -> f64 {
        self.0
    }

    /// What planned hours come to at this pace.
    ///
    /// Units: hours.
    /// Valid: always; held to a million hours.
    /// Basis: that of [`DayPace::of`].
    ///
    /// ```
    /// use core::time::Duration;
    /// use evenrow_rules::{day::DayPace, quantity::Hours};
    /// let hours = |hours| Hours::new(hours).unwrap();
    /// let pace = DayPace::of(hours(2.0), Duration::from_mins(90)).unwrap();
    /// assert_eq!(pace.takes(hours(4.0)), hours(3.0));
    /// ```
    #[must_use]
    pub fn takes(self, planned: Hours) -> Hours {
        Hours::held(planned.in_hours() * self.0)
    }
}

/// When each of the sections that are left is worked, one after the other from a moment on. Breaks put them off, and each
/// oil stop that falls before a section's end puts that off by [`OIL_STOP`]. The first is not done before now: it has not
/// been ticked yet.
///
/// Units: hours; moments.
/// Valid: breaks in order that do not overlap, as [`breaks`](crate::oiling::breaks) gives them; stops in order, none
/// before `from`.
/// Basis: arithmetic; how long a stop lasts is a house default.
///
/// ```
/// use evenrow_rules::day::schedule;
/// use evenrow_rules::oiling::breaks;
/// use evenrow_rules::quantity::{Hours, Instant, Span};
/// let at = |hours: i64, minutes: i64| Instant::from_unix_ms((hours * 60 + minutes) * 60_000);
/// let noon = breaks(&[Span::new(at(11, 0), at(11, 30))], &[]);
/// let two = [3.0, 2.0].map(|hours| Hours::new(hours).unwrap());
/// let when = schedule(&two, at(7, 0), at(7, 0), &[at(7, 0), at(9, 40)], &noon);
/// assert_eq!(when[0], Span::new(at(7, 0), at(10, 20)));
/// assert_eq!(when[1], Span::new(at(10, 20), at(12, 50)));
/// ```
pub fn schedule(
    sections: &[Hours],
    from: Instant,
    now: Instant,
    stops: &[Instant],
    breaks: &[Break],
) -> Vec<Span> {
    let (mut at, mut left, mut least) = (from, stops, now);
    let mut when = Vec::with_capacity(sections.len());
    for section in sections {
        let stood =
            |count: usize| OIL_STOP.saturating_mul(u32::try_from(count).unwrap_or(u32::MAX));
        let mut count = 0;
        // Each stop puts off the end, which may let in the next one.
        let end = loop {
            let needed = section.as_duration().saturating_add(stood(count));
            let end = after_work(at, needed, breaks).max(least);
            let before = left.iter().take_while(|&&stop| stop < end).count();
            if before == count {
                break end;
            }
            count = before;
        };
        left = left.get(count..).unwrap_or_default();
        when.push(Span::new(at, end));
        (at, least) = (end, end);
    }
    when
}
