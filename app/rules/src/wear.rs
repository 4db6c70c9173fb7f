//! Wear: how fast the tips wear, when the set is half worn and when it is done, and how evenly the row wears.
//!
//! **Life.** The mean tip length of the row, read now and then, is laid on a straight line over the hours since the set
//! was new. The line is free to start anywhere: the length when new says where half of the life is, and is no reading.
//! The hours at which the line reaches a length come with an interval by inverse prediction (`line::Line::crossing`):
//! from when to when a reading of that length is to be expected. A slope that wild readings cannot move is found beside
//! it, as a cross-check.
//!
//! **Evenness.** What wears a row unevenly shows in the shape of it. Each pattern is a set of shapes; the one that
//! explains most of the differences is named if it is too strong for chance and large enough to matter. A stuck tooth
//! wears fast, so a run of short teeth points to stuck ones; short ends or a short middle to how the board is held and
//! loaded; every nth one to something that repeats along the plates.
//!
//! Never here: today's date (days are numbers, counted by the caller) and which tooth to fit (`spares`).

use alloc::vec::Vec;
use core::num::NonZeroU32;
use core::ops::RangeInclusive;

use crate::line::{self, Crossing, Line};
use crate::quantity::{Confidence, Hours, Length, OutOfRange, within};
use crate::statistics::{Point, sum, theil_sen, upper_t};
use crate::work::End;

/// Which number about the tips was out of range; the app has the word for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TipFigure {
    /// The length of a new tip in millimetres.
    NewTip,
    /// The length at which a tip is done, in millimetres.
    EndTip,
    /// Hours of work a day.
    HoursPerDay,
}

/// How long a new tip may be.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const NEW_TIPS: (f64, f64) = (1.0, 200.0);

/// The least that a new tip must have to lose.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const LEAST_TO_LOSE: f64 = 0.5;

/// How many hours of work a day may have, rest days averaged in.
///
/// Units: hours.
/// Basis: arithmetic, for the most; the least is a house default, only there to stop nonsense.
const HOURS_A_DAY: (f64, f64) = (0.01, 24.0);

/// How long a tip is when new, and how long when it is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tips {
    new: Length,
    end: Length,
}

impl Tips {
    /// From the new length to the end of it.
    ///
    /// Units: lengths of the tip, measured the same way as the readings.
    /// Valid: new 1 to 200 mm; end 0 mm to half a millimetre below new.
    /// Errors: [`OutOfRange`] naming the first that is not.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Length, wear::Tips};
    /// let mm = |mm| Length::millimetres(mm).unwrap();
    /// assert_eq!(Tips::new(mm(20.0), mm(5.0)).unwrap().middle(), mm(12.5));
    /// assert!(Tips::new(mm(5.0), mm(20.0)).is_err());
    /// ```
    pub fn new(new: Length, end: Length) -> Result<Tips, OutOfRange<TipFigure>> {
        let most = within(
            TipFigure::NewTip,
            new.in_millimetres(),
            NEW_TIPS.0,
            NEW_TIPS.1,
        )?;
        let most = most - LEAST_TO_LOSE;
        within(TipFigure::EndTip, end.in_millimetres(), 0.0, most)?;
        Ok(Tips { new, end })
    }

    /// The length of a new tip.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Length, wear::Tips};
    /// let mm = |mm| Length::millimetres(mm).unwrap();
    /// assert_eq!(Tips::new(mm(20.0), mm(5.0)).unwrap().when_new(), mm(20.0));
    /// ```
    pub const fn when_new(self) -> Length {
        self.new
    }

    /// The length at which a tip is done.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: as given.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Length, wear::Tips};
    /// let mm = |mm| Length::millimetres(mm).unwrap();
    /// assert_eq!(Tips::new(mm(20.0), mm(5.0)).unwrap().when_done(), mm(5.0));
    /// ```
    pub const fn when_done(self) -> Length {
        self.end
    }

    /// The length at half of the life: midway between new and done.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: arithmetic; that a second set is fitted at about half of the first one's life is common practice, no
    /// published source.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Length, wear::Tips};
    /// let mm = |mm| Length::millimetres(mm).unwrap();
    /// assert_eq!(Tips::new(mm(20.0), mm(5.0)).unwrap().middle(), mm(12.5));
    /// ```
    pub fn middle(self) -> Length {
        let (new, end) = (self.new.in_millimetres(), self.end.in_millimetres());
        Length::held(f64::midpoint(new, end))
    }
}

/// The mean tip length of the row at some hours since the set was new. Several may be taken at the same hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Blade-hours since the set was new.
    pub at: Hours,
    /// The mean tip length then.
    pub tip: Length,
}

/// The fewest different times at which readings are needed: with two, any line fits.
///
/// Units: times.
/// Basis: statistics: a line takes two, and what is left is what the spread is told from.
pub const FEWEST_TIMES: usize = 3;

/// How far a reading of the row's mean may be off, either way. Readings further apart than two of these at the same
/// hours, or longer by as much as the reading before, contradict each other; one longer than new by more than one of
/// these is not of this set.
///
/// Basis: house default; a calliper on a worn tip is good to half a millimetre.
pub const READING_ROOM: Length = Length::micrometres(1_500);

/// The probability with which the slope has to be one of wear before anything is said.
///
/// Units: as a probability.
/// Basis: house default.
pub const WEAR_SEEN_AT: f64 = 0.9;

/// A slower wear than this is none: a millimetre in a million hours.
///
/// Units: millimetres an hour.
/// Basis: house default, only there to stop nonsense.
pub const LEAST_WEAR: f64 = 1e-6;

/// Why the readings tell nothing yet, with what would be enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refusal {
    /// Readings at too few different times.
    TooFewTimes {
        /// At how many there are.
        got: usize,
        /// How many are enough.
        wanted: usize,
    },
    /// A tip longer than new: another set, or a slip. A reading no longer than `most` is right.
    LongerThanNew {
        /// The reading.
        reading: Reading,
        /// The longest that is believed.
        most: Length,
    },
    /// Readings at the same hours are too far apart. Measure once more and drop the wrong one.
    SameTimeDiffers {
        /// The shortest of them.
        shortest: Reading,
        /// The longest of them.
        longest: Reading,
        /// The most that they may be apart.
        most: Length,
    },
    /// The row's mean has become longer than before. Teeth were changed, or a reading is wrong; readings since the change
    /// are enough.
    Grew {
        /// The mean before.
        before: Reading,
        /// The mean after.
        after: Reading,
        /// The most by which it may seem to grow.
        most: Length,
    },
    /// On the whole the tips do not get shorter, or too slowly to speak of.
    NotWearing {
        /// By how much they get shorter each hour; negative where they grow.
        mm_per_hour: f64,
    },
    /// They seem to get shorter, but the readings scatter too much to be sure.
    LostInScatter {
        /// By how much they seem to get shorter each hour.
        mm_per_hour: f64,
        /// The standard deviation of that.
        sd: f64,
        /// Over how many hours the same readings would have to spread to be enough.
        span_wanted: Hours,
    },
}

/// How fast the tips wear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateFound {
    /// Millimetres per blade-hour.
    pub mm_per_hour: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// The least it may be, with the confidence asked for; never below nothing.
    pub low: f64,
    /// The most it may be.
    pub high: f64,
}

/// One end of an interval in hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// It ends there.
    At(Hours),
    /// The readings set no end to it yet.
    NotYetBounded,
}

/// When the row reaches a length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Life {
    /// Hours since the set was new; nothing where the line lies below that length from the start.
    pub at: Hours,
    /// From when on a reading may show it.
    pub earliest: Side,
    /// Until when a reading may fail to show it.
    pub latest: Side,
}

/// Whether the slope that wild readings cannot move says the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Agreement {
    /// It lies within the interval of the rate.
    Agrees,
    /// It lies outside: some readings pull the line. Look at them before trusting it.
    Contradicts,
}

/// What the readings tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// How fast the tips wear.
    pub rate: RateFound,
    /// When the set is half worn.
    pub half: Life,
    /// When it is done.
    pub done: Life,
    /// Millimetres per blade-hour by the median of the slopes of all pairs of readings.
    pub robust_mm_per_hour: f64,
    /// Whether that agrees with the rate.
    pub agreement: Agreement,
    /// At how many different times there are readings.
    pub times: usize,
    /// The line itself: length in millimetres on hours.
    pub line: Line,
}

/// What the readings of a set tell about its life.
///
/// Units: hours since the set was new; lengths of the tip.
/// Valid: readings at three different times or more, in any order.
/// Errors: [`Refusal`] where they tell nothing yet or contradict each other, with what would be enough.
/// Basis: statistics: least squares with a free intercept; the intervals of half life and end are those of inverse
/// prediction. The limits of what contradicts are house defaults.
///
/// ```
/// use evenrow_rules::quantity::{Confidence, Hours, Length};
/// use evenrow_rules::wear::{Reading, Tips, outlook};
/// let mm = |mm| Length::millimetres(mm).unwrap();
/// let read = |hours, tip| Reading { at: Hours::new(hours).unwrap(), tip: mm(tip) };
/// let readings = [read(0.0, 20.0), read(50.0, 17.5), read(100.0, 15.0)];
/// let outlook = outlook(&readings, Tips::new(mm(20.0), mm(5.0)).unwrap(), Confidence::share(0.95).unwrap()).unwrap();
/// assert!((outlook.rate.mm_per_hour - 0.05).abs() < 1e-12);
/// assert!((outlook.half.at.in_hours() - 150.0).abs() < 1e-9);
/// assert!((outlook.done.at.in_hours() - 300.0).abs() < 1e-9);
/// ```
pub fn outlook(
    readings: &[Reading],
    tips: Tips,
    confidence: Confidence,
) -> Result<Outlook, Refusal> {
    let mut readings = readings.to_vec();
    readings.sort_unstable_by(|a, b| {
        let same_time = a.tip.in_millimetres().total_cmp(&b.tip.in_millimetres());
        in_time(a).total_cmp(&in_time(b)).then(same_time)
    });
    let times = contradictions(&readings, tips)?;
    let points: Vec<Point> = readings
        .iter()
        .filter_map(|it| Point::new(in_time(it), it.tip.in_millimetres()).ok())
        .collect();
    let line = line::fit(&points).map_err(|refused| match refused {
        line::Refusal::TooFew { .. } | line::Refusal::NoSpread => Refusal::TooFewTimes {
            got: times.min(FEWEST_TIMES - 1),
            wanted: FEWEST_TIMES,
        },
    })?;
    let (mm_per_hour, sd) = (-line.slope(), line.slope_sd());
    if mm_per_hour < LEAST_WEAR {
        return Err(Refusal::NotWearing { mm_per_hour });
    }
    let seen = sd * upper_t(1.0 - WEAR_SEEN_AT, line.freedom());
    if mm_per_hour <= seen {
        let first = readings.first().map_or(0.0, in_time);
        let last = readings.last().map_or(0.0, in_time);
        return Err(Refusal::LostInScatter {
            mm_per_hour,
            sd,
            span_wanted: Hours::held((last - first) * seen / mm_per_hour),
        });
    }
    let half_width = line.slope_half_width(confidence);
    let robust = -theil_sen(&points).unwrap_or(line.slope());
    // Readings exactly on a line leave an interval of no width, and rounding must not fall outside it.
    let off = libm::fabs(robust - mm_per_hour) - 1e-9 * mm_per_hour;
    let reaches = |tip: Length| life(&line, tip, confidence);
    Ok(Outlook {
        rate: RateFound {
            mm_per_hour,
            sd,
            low: (mm_per_hour - half_width).max(0.0),
            high: mm_per_hour + half_width,
        },
        half: reaches(tips.middle()),
        done: reaches(tips.end),
        robust_mm_per_hour: robust,
        agreement: if off <= half_width {
            Agreement::Agrees
        } else {
            Agreement::Contradicts
        },
        times,
        line,
    })
}

fn in_time(reading: &Reading) -> f64 {
    reading.at.in_hours()
}

/// Refuses readings that cannot be of one set that wears; else says at how many different times they were taken.
fn contradictions(in_order: &[Reading], tips: Tips) -> Result<usize, Refusal> {
    let room = READING_ROOM.in_millimetres();
    let tip = |reading: &Reading| reading.tip.in_millimetres();
    let most = Length::held(tips.new.in_millimetres() + room);
    if let Some(&reading) = in_order.iter().find(|it| most < it.tip) {
        return Err(Refusal::LongerThanNew { reading, most });
    }
    let twice = READING_ROOM.times(2);
    let mut before: Option<Reading> = None;
    let mut times = 0;
    for moment in in_order.chunk_by(|a, b| a.at >= b.at) {
        let shortest = moment.iter().min_by(|a, b| tip(a).total_cmp(&tip(b)));
        let longest = moment.iter().max_by(|a, b| tip(a).total_cmp(&tip(b)));
        let (Some(&shortest), Some(&longest)) = (shortest, longest) else {
            continue;
        };
        if twice < longest.tip.less(shortest.tip) {
            return Err(Refusal::SameTimeDiffers {
                shortest,
                longest,
                most: twice,
            });
        }
        let mean = sum(moment.iter().map(tip)) / moment.len() as f64;
        let after = Reading {
            at: shortest.at,
            tip: Length::held(mean),
        };
        if let Some(before) = before.filter(|it| twice < after.tip.less(it.tip)) {
            return Err(Refusal::Grew {
                before,
                after,
                most: twice,
            });
        }
        before = Some(after);
        times += 1;
    }
    if times < FEWEST_TIMES {
        return Err(Refusal::TooFewTimes {
            got: times,
            wanted: FEWEST_TIMES,
        });
    }
    Ok(times)
}

/// Beyond what [`Hours`] counts, over a century, there is no end worth the name.
fn life(line: &Line, tip: Length, confidence: Confidence) -> Life {
    let never = Crossing {
        x: f64::MAX,
        low: None,
        high: None,
    };
    let crossing = line.crossing(tip.in_millimetres(), confidence);
    let crossing = crossing.ok().flatten().unwrap_or(never);
    let side = |end: Option<f64>| {
        end.and_then(|hours| Hours::new(hours.max(0.0)).ok())
            .map_or(Side::NotYetBounded, Side::At)
    };
    Life {
        at: Hours::held(crossing.x),
        earliest: side(crossing.low),
        latest: side(crossing.high),
    }
}

/// Hours of work a day: never none.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct HoursPerDay(f64);

impl HoursPerDay {
    /// Blade-hours on a day, rest days averaged in.
    ///
    /// Units: hours per day.
    /// Valid: 0.01 to 24.
    /// Errors: [`OutOfRange`] outside that, and for NaN.
    /// Basis: arithmetic; the lower end is a house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::wear::HoursPerDay;
    /// assert!(HoursPerDay::new(6.0).is_ok());
    /// assert!(HoursPerDay::new(0.0).is_err());
    /// ```
    pub fn new(hours: f64) -> Result<HoursPerDay, OutOfRange<TipFigure>> {
        within(TipFigure::HoursPerDay, hours, HOURS_A_DAY.0, HOURS_A_DAY.1).map(HoursPerDay)
    }
}

/// One end of an interval in days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DaySide {
    /// It ends on that day.
    On(i64),
    /// The readings set no end to it yet.
    NotYetBounded,
}

/// On which day the row reaches a length. Days are counted from any day the caller likes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LifeDays {
    /// The day; in the past where the row is beyond it already.
    pub day: i64,
    /// From which day on a reading may show it, rounded down.
    pub earliest: DaySide,
    /// Until which day a reading may fail to show it, rounded up.
    pub latest: DaySide,
}

impl Life {
    /// The same in days, at so many hours of work a day from a given day on.
    ///
    /// Units: `now` in hours since the set was new, as they stand on the day `today`; days.
    /// Valid: always; the count of days stops at its ends. The day is rounded to the nearest, the ends of the interval
    /// outwards.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::quantity::Hours;
    /// use evenrow_rules::wear::{DaySide, HoursPerDay, Life, Side};
    /// let hours = |hours| Hours::new(hours).unwrap();
    /// let life = Life { at: hours(150.0), earliest: Side::At(hours(140.0)), latest: Side::NotYetBounded };
    /// let days = life.days(hours(100.0), HoursPerDay::new(6.0).unwrap(), 20_000);
    /// assert_eq!((days.day, days.earliest), (20_008, DaySide::On(20_006))); // 50 h are 8.3 days, 40 h are 6.7
    /// assert_eq!(days.latest, DaySide::NotYetBounded);
    /// ```
    pub fn days(&self, now: Hours, per_day: HoursPerDay, today: i64) -> LifeDays {
        let ahead = |at: Hours| (at.in_hours() - now.in_hours()) / per_day.0;
        let side = |side: Side, round: fn(f64) -> f64| match side {
            Side::At(at) => DaySide::On(today.saturating_add(round(ahead(at)) as i64)),
            Side::NotYetBounded => DaySide::NotYetBounded,
        };
        LifeDays {
            day: today.saturating_add(libm::round(ahead(self.at)) as i64),
            earliest: side(self.earliest, libm::floor),
            latest: side(self.latest, libm::ceil),
        }
    }
}

/// One measured tooth of the row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    /// Its position from the left as seen from the cab, the first being 1.
    pub pos: u16,
    /// How long its tip is.
    pub tip: Length,
}

/// The highest position there is.
///
/// Units: positions.
/// Basis: house default: the longest board at the closest pitch, 8 m at 20 mm.
pub const MOST_POSITIONS: u16 = 400;

/// A tooth further from the median than this many robust standard deviations is an outlier.
///
/// Units: robust standard deviations.
/// Basis: house default.
pub const OUTLIER_TIMES: f64 = 3.5;

/// The fewest teeth among which one can be called an outlier.
///
/// Units: teeth.
/// Basis: house default.
pub const FEWEST_FOR_OUTLIERS: usize = 8;

/// Teeth do not differ by less than can be measured: the robust standard deviation is taken to be no less than this
/// many millimetres.
///
/// Units: millimetres.
/// Basis: house default.
pub const LEAST_SPREAD_MM: f64 = 0.2;

/// The fewest teeth that can show a pattern.
///
/// Units: teeth.
/// Basis: house default.
pub const FEWEST_FOR_PATTERN: usize = 12;

/// The most often that plain, normal scatter is taken for a pattern. The limit on `t` is set for it whatever the number
/// of shapes tried, each taking an equal share of it (Bonferroni).
///
/// Units: as a probability.
/// Basis: house default.
pub const FALSE_ALARMS: f64 = 0.001;

/// A pattern that makes less of a difference than this many millimetres is not worth naming.
///
/// Units: millimetres.
/// Basis: house default: half of what still counts as the same wear when teeth are matched.
pub const WORTH_NAMING_MM: f64 = 1.0;

/// How many neighbours make a run.
///
/// Units: teeth.
/// Basis: house default: two may be chance, and far more than half a plate is no patch.
pub const RUN: RangeInclusive<usize> = 3..=16;

/// A longer run than this is one of stuck teeth only if it keeps away from the ends; else it is the end that wears.
///
/// Units: teeth.
/// Basis: house default: a third of a plate.
pub const RUN_AT_END: usize = 8;

/// How many teeth away from an end is away from it.
///
/// Units: teeth.
/// Basis: house default.
const AWAY_FROM_END: usize = 3;

/// Which repeats are looked for: every second to every thirteenth tooth.
///
/// Units: teeth.
/// Basis: house default: up to half of the longer plate, 26 teeth.
pub const REPEATS: RangeInclusive<u16> = 2..=13;

/// From this share of a pattern's depth on a tooth counts as one that the pattern makes short.
///
/// Units: of the depth.
/// Basis: house default.
const DEEP: f64 = 0.75;

/// Up to this share of a pattern's depth a tooth counts as one that the pattern leaves alone.
///
/// Units: of the depth.
/// Basis: house default.
const SHALLOW: f64 = 0.25;

/// The least share of the teeth of a repeat that has to be short; of a run it is all of them.
///
/// Units: of its teeth.
/// Basis: house default.
const REPEAT_SHORT: f64 = 0.75;

/// The fewest teeth on either side of a comparison.
///
/// Units: teeth.
/// Basis: house default.
const FEWEST_COMPARED: usize = 3;

/// Differences count no more than this many robust standard deviations when shapes are compared, so that a broken tooth
/// cannot draw one.
///
/// Units: robust standard deviations.
/// Basis: house default.
const HELD_TIMES: f64 = 4.0;

/// What `t` is said to be where nothing is left unexplained.
///
/// Units: none.
/// Basis: arithmetic: infinity has no place in an answer.
const LARGEST_T: f64 = 1e6;

/// Why a row cannot be judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowRefusal {
    /// No tooth was measured; one is enough for a mean.
    Nothing,
    /// No row has that position.
    NoSuchPosition {
        /// The position given.
        pos: u16,
        /// The highest that there is; the lowest is 1.
        most: u16,
    },
    /// A position was given twice; once is right.
    Twice {
        /// The position.
        pos: u16,
    },
}

/// A tooth that is not like the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlier {
    /// Its position.
    pub pos: u16,
    /// How long its tip is.
    pub tip: Length,
    /// By how many millimetres it is longer than the median; negative where it is shorter.
    pub off_mm: f64,
    /// How many robust standard deviations that is, without its sign.
    pub times: f64,
}

/// The numbers that decided about a pattern.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// By how many millimetres the teeth that it says are short are shorter than those that it says are not: the
    /// difference of the medians of both.
    pub shorter_mm: f64,
    /// How large the pattern is compared with the scatter that it leaves (Student's t).
    pub t: f64,
    /// What `t` had to reach.
    pub limit: f64,
}

/// How the row wears unevenly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// Too few teeth were measured to tell.
    TooLittle {
        /// How many were.
        measured: usize,
        /// How many are enough.
        wanted: usize,
    },
    /// None that is strong and large enough; the strongest, if there is any.
    NoPattern(Option<Evidence>),
    /// One end wears faster.
    OneEnd {
        /// Which.
        end: End,
        /// What decided it.
        evidence: Evidence,
    },
    /// Both ends wear faster than the middle.
    BothEnds(Evidence),
    /// The middle wears faster than the ends.
    Middle(Evidence),
    /// Neighbouring teeth are markedly shorter than the rest: stuck ones wear so.
    StuckRun {
        /// The first of them.
        first: u16,
        /// The last of them.
        last: u16,
        /// What decided it.
        evidence: Evidence,
    },
    /// Every nth tooth is shorter.
    EveryNth {
        /// The n.
        nth: u16,
        /// The first of them that was measured.
        first: u16,
        /// What decided it.
        evidence: Evidence,
    },
}

/// How even a row is.
#[derive(Clone, Debug, PartialEq)]
pub struct Evenness {
    /// How many teeth were measured.
    pub measured: usize,
    /// Their mean.
    pub mean: Length,
    /// Their standard deviation in millimetres; nothing for a single tooth.
    pub sd_mm: f64,
    /// The shortest.
    pub shortest: Length,
    /// The longest.
    pub longest: Length,
    /// Their median.
    pub median: Length,
    /// Their robust standard deviation in millimetres: the median distance from the median, times 1.4826.
    pub robust_sd_mm: f64,
    /// Teeth that are not like the others, by position. None among few teeth.
    pub outliers: Vec<Outlier>,
    /// How the row wears unevenly.
    pub pattern: Pattern,
}

impl Evenness {
    /// How far the shortest and the longest are apart.
    ///
    /// Units: length.
    /// Valid: always.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{quantity::Length, wear::{Tooth, evenness}};
    /// let tooth = |pos, mm| Tooth { pos, tip: Length::millimetres(mm).unwrap() };
    /// let row = evenness(&[tooth(1, 18.0), tooth(2, 16.0)]).unwrap();
    /// assert_eq!(row.range().in_millimetres(), 2.0);
    /// ```
    pub fn range(&self) -> Length {
        self.longest.less(self.shortest)
    }
}

/// The median distance from the median of a normal variable is one standard deviation over this.
///
/// Units: none.
/// Basis: statistics: the reciprocal of the normal quantile of three quarters, 0.67449.
pub const NORMAL_MAD: f64 = 1.482_602_218_505_602;

/// How even a row is, which teeth are not like the others, and how it wears unevenly.
///
/// The order of the decision: too few teeth; then, among all shapes whose `t` reaches the limit and whose teeth differ
/// enough, the one that explains most; of equals, the first of one end, both ends, middle, run, repeat. A run counts
/// only if each of its teeth is short by half of the difference at least, a repeat if three quarters of its teeth are.
///
/// The ends are those of the teeth measured: measure the whole row, or teeth spread over all of it.
///
/// Units: positions from the left as seen from the cab; lengths of the tip.
/// Valid: positions 1 to 400, each once, in any order; 8 teeth for outliers and 12 for patterns.
/// Errors: [`RowRefusal`] for no teeth, a position that is none, or one given twice.
/// Basis: statistics, for mean, deviations and `t`; the limits are house defaults.
///
/// ```
/// use evenrow_rules::quantity::Length;
/// use evenrow_rules::wear::{Pattern, Tooth, evenness};
/// let tip = |pos: u16| if (40..45).contains(&pos) { 14.0 } else { 18.0 + f64::from(pos % 3) * 0.1 };
/// let teeth: Vec<Tooth> = (1..=96)
///     .map(|pos| Tooth { pos, tip: Length::millimetres(tip(pos)).unwrap() })
///     .collect();
/// let row = evenness(&teeth).unwrap();
/// assert!(matches!(row.pattern, Pattern::StuckRun { first: 40, last: 44, .. }));
/// assert_eq!(row.outliers.len(), 5);
/// ```
pub fn evenness(row: &[Tooth]) -> Result<Evenness, RowRefusal> {
    let mut row = row.to_vec();
    row.sort_unstable_by_key(|tooth| tooth.pos);
    let most = MOST_POSITIONS;
    let strange = |tooth: &&Tooth| !(1..=most).contains(&tooth.pos);
    if let Some(&Tooth { pos, .. }) = row.iter().find(strange) {
        return Err(RowRefusal::NoSuchPosition { pos, most });
    }
    if let Some(pair) = row.windows(2).find(|pair| pair[0].pos == pair[1].pos) {
        return Err(RowRefusal::Twice { pos: pair[0].pos });
    }
    let tips: Vec<f64> = row.iter().map(|it| it.tip.in_millimetres()).collect();
    let median = median(&tips).ok_or(RowRefusal::Nothing)?;
    let shortest = tips.iter().copied().fold(median, f64::min);
    let longest = tips.iter().copied().fold(median, f64::max);
    let count = tips.len() as f64;
    let mean = sum(tips.iter().copied()) / count;
    let squares = sum(tips.iter().map(|tip| {
        let off = tip - mean;
        off * off
    }));
    let offs: Vec<f64> = tips.iter().map(|tip| libm::fabs(tip - median)).collect();
    let robust_sd_mm = NORMAL_MAD * self::median(&offs).unwrap_or(0.0);
    let spread = robust_sd_mm.max(LEAST_SPREAD_MM);
    let outliers = row.iter().map(|tooth| {
        let off_mm = tooth.tip.in_millimetres() - median;
        Outlier {
            pos: tooth.pos,
            tip: tooth.tip,
            off_mm,
            times: libm::fabs(off_mm) / spread,
        }
    });
    Ok(Evenness {
        measured: row.len(),
        mean: Length::held(mean),
        sd_mm: libm::sqrt(squares / (count - 1.0).max(1.0)),
        shortest: Length::held(shortest),
        longest: Length::held(longest),
        median: Length::held(median),
        robust_sd_mm,
        outliers: if row.len() < FEWEST_FOR_OUTLIERS {
            Vec::new()
        } else {
            outliers.filter(|it| OUTLIER_TIMES < it.times).collect()
        },
        pattern: pattern(&row, median, spread),
    })
}

/// The number in the middle; of an even count, the mean of the two in the middle.
fn median(numbers: &[f64]) -> Option<f64> {
    let mut in_order = numbers.to_vec();
    in_order.sort_unstable_by(f64::total_cmp);
    let high = *in_order.get(in_order.len() / 2)?;
    let low = *in_order.get(in_order.len().saturating_sub(1) / 2)?;
    Some(f64::midpoint(low, high))
}

/// A shape that wear may have along the row.
#[derive(Clone, Copy, Debug)]
enum Shape {
    /// Rises towards one end over a share of the row.
    RampTo(End, f64),
    /// One end, so large a share of the row, all alike.
    StepAt(End, f64),
    /// Rises towards both ends, over a share of the row each.
    RampToBoth(f64),
    /// Rises towards the middle from both sides, over a share of the row each.
    RampToMiddle(f64),
    /// The middle, so large a share of the row, all alike.
    StepInMiddle(f64),
    /// Neighbours, from one index to another.
    Run(usize, usize),
    /// Every nth position: the n, and the remainder that it leaves.
    Every(u16, u16),
}

/// The shapes of one end, both ends and the middle, in the order in which equals are decided; each reaches over so much
/// of the row.
///
/// Units: of the row.
/// Basis: house default.
const BROAD: [Shape; 13] = [
    Shape::RampTo(End::Left, 1.0),
    Shape::RampTo(End::Right, 1.0),
    Shape::RampTo(End::Left, 0.5),
    Shape::RampTo(End::Right, 0.5),
    Shape::RampTo(End::Left, 0.25),
    Shape::RampTo(End::Right, 0.25),
    Shape::StepAt(End::Left, 0.25),
    Shape::StepAt(End::Right, 0.25),
    Shape::RampToBoth(0.5),
    Shape::RampToBoth(0.25),
    Shape::RampToMiddle(0.5),
    Shape::RampToMiddle(0.25),
    Shape::StepInMiddle(0.5),
];

impl Shape {
    /// How much shorter the shape makes a tooth: 1 at its most, 0 at its least. `along` is 0 at the left end and 1 at the
    /// right.
    fn depth(self, index: usize, pos: u16, along: f64) -> f64 {
        let from = |end: End| match end {
            End::Left => along,
            End::Right => 1.0 - along,
        };
        let ramp = |distance: f64, over: f64| (1.0 - distance / over).max(0.0);
        let step = |inside: bool| if inside { 1.0 } else { 0.0 };
        let from_middle = libm::fabs(along - 0.5);
        match self {
            Shape::RampTo(end, over) => ramp(from(end), over),
            Shape::StepAt(end, over) => step(from(end) < over),
            Shape::RampToBoth(over) => ramp(0.5 - from_middle, over),
            Shape::RampToMiddle(over) => ramp(from_middle, over),
            Shape::StepInMiddle(over) => step(from_middle < over / 2.0),
            Shape::Run(first, last) => step((first..=last).contains(&index)),
            Shape::Every(nth, rest) => step(pos % nth == rest),
        }
    }

    /// How many measured teeth come before the first that it touches, and how many it may touch from there on.
    const fn reach(self, measured: usize) -> (usize, usize) {
        match self {
            Shape::RampTo(..)
            | Shape::StepAt(..)
            | Shape::RampToBoth(_)
            | Shape::RampToMiddle(_)
            | Shape::StepInMiddle(_)
            | Shape::Every(..) => (0, measured),
            Shape::Run(first, last) => (first, last - first + 1),
        }
    }

    /// What share of its short teeth has to be short by half of the difference at least.
    const fn share_short(self) -> f64 {
        match self {
            Shape::RampTo(..)
            | Shape::StepAt(..)
            | Shape::RampToBoth(_)
            | Shape::RampToMiddle(_)
            | Shape::StepInMiddle(_) => 0.0,
            Shape::Run(..) => 1.0,
            Shape::Every(..) => REPEAT_SHORT,
        }
    }

    fn named(self, row: &[Tooth], evidence: Evidence) -> Pattern {
        let pos = |index: usize| row.get(index).map_or(0, |tooth| tooth.pos);
        match self {
            Shape::RampTo(end, _) | Shape::StepAt(end, _) => Pattern::OneEnd { end, evidence },
            Shape::RampToBoth(_) => Pattern::BothEnds(evidence),
            Shape::RampToMiddle(_) | Shape::StepInMiddle(_) => Pattern::Middle(evidence),
            Shape::Run(first, last) => {
                let long = RUN_AT_END <= last - first;
                if long && first < AWAY_FROM_END {
                    let end = End::Left;
                    Pattern::OneEnd { end, evidence }
                } else if long && row.len() <= last + AWAY_FROM_END {
                    let end = End::Right;
                    Pattern::OneEnd { end, evidence }
                } else {
                    Pattern::StuckRun {
                        first: pos(first),
                        last: pos(last),
                        evidence,
                    }
                }
            }
            Shape::Every(nth, rest) => Pattern::EveryNth {
                nth,
                first: row
                    .iter()
                    .find(|tooth| tooth.pos % nth == rest)
                    .map_or(0, |tooth| tooth.pos),
                evidence,
            },
        }
    }
}

/// Every shape that the measured teeth can show.
fn shapes(row: &[Tooth]) -> Vec<Shape> {
    let mut shapes = BROAD.to_vec();
    for first in 0..row.len() {
        let neighbours = |&last: &usize| {
            let ends = row.get(first).zip(row.get(last));
            ends.is_some_and(|(a, b)| usize::from(b.pos - a.pos) == last - first)
        };
        let lasts = RUN.map(|length| first + length - 1).take_while(neighbours);
        shapes.extend(lasts.map(|last| Shape::Run(first, last)));
    }
    for nth in REPEATS {
        shapes.extend((0..nth).map(|rest| Shape::Every(nth, rest)));
    }
    shapes
}

/// The row is sorted by position and has no position twice.
fn pattern(row: &[Tooth], median: f64, spread: f64) -> Pattern {
    let measured = row.len();
    let (Some(first), Some(last)) = (row.first(), row.last()) else {
        return Pattern::NoPattern(None);
    };
    if measured < FEWEST_FOR_PATTERN {
        return Pattern::TooLittle {
            measured,
            wanted: FEWEST_FOR_PATTERN,
        };
    }
    let whole = f64::from(last.pos - first.pos);
    let along = |tooth: &Tooth| f64::from(tooth.pos - first.pos) / whole;
    let depth =
        |shape: Shape, index: usize, tooth: &Tooth| shape.depth(index, tooth.pos, along(tooth));
    let held = HELD_TIMES * spread;
    let short = |tooth: &Tooth| (median - tooth.tip.in_millimetres()).clamp(-held, held);
    let shorts = centred(row.iter().map(short).collect());
    let all: f64 = shorts.iter().map(|short| short * short).sum();
    let shapes = shapes(row);
    // The mean takes one and the shape another.
    let freedom = NonZeroU32::new(measured as u32 - 2).unwrap_or(NonZeroU32::MIN);
    let chance = FALSE_ALARMS / shapes.len() as f64;
    let limit = upper_t(chance, freedom);
    // The share of the differences that each shape explains, the largest first; equals stay in their order.
    let mut ranked: Vec<(f64, Shape)> = shapes
        .into_iter()
        .filter_map(|shape| {
            let (mut once, mut squared, mut both) = (0.0, 0.0, 0.0);
            let (skipped, taken) = shape.reach(measured);
            let places = row.iter().zip(&shorts).enumerate();
            for (index, (tooth, short)) in places.skip(skipped).take(taken) {
                let depth = depth(shape, index, tooth);
                once += depth;
                squared += depth * depth;
                both += depth * short;
            }
            let own = squared - once * once / measured as f64;
            let explained = both / own * (both / all);
            (0.0 < both && 0.0 < explained).then_some((explained.min(1.0), shape))
        })
        .collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut strongest = None;
    for (explained, shape) in ranked {
        let t = libm::sqrt(f64::from(freedom.get()) * explained / (1.0 - explained));
        if t < limit && strongest.is_some() {
            break;
        }
        let tips_where = |wanted: fn(f64) -> bool| -> Vec<f64> {
            let chosen = row.iter().enumerate();
            let chosen = chosen.filter(|&(index, tooth)| wanted(depth(shape, index, tooth)));
            chosen
                .map(|(_, tooth)| tooth.tip.in_millimetres())
                .collect()
        };
        let (deep, shallow) = (tips_where(|it| DEEP <= it), tips_where(|it| it <= SHALLOW));
        let medians = self::median(&deep).zip(self::median(&shallow));
        let Some((low, usual)) =
            medians.filter(|_| FEWEST_COMPARED <= deep.len() && FEWEST_COMPARED <= shallow.len())
        else {
            continue;
        };
        let evidence = Evidence {
            shorter_mm: usual - low,
            t: t.min(LARGEST_T),
            limit,
        };
        let short_ones = deep.iter().filter(|&&tip| tip <= f64::midpoint(usual, low));
        let share = short_ones.count() as f64 / deep.len() as f64;
        if limit <= t && WORTH_NAMING_MM <= evidence.shorter_mm && shape.share_short() <= share {
            return shape.named(row, evidence);
        }
        strongest = strongest.or(Some(evidence));
    }
    Pattern::NoPattern(strongest)
}

/// The same numbers with their mean taken off.
fn centred(mut numbers: Vec<f64>) -> Vec<f64> {
    let mean = sum(numbers.iter().copied()) / numbers.len().max(1) as f64;
    for number in &mut numbers {
        *number -= mean;
    }
    numbers
}
