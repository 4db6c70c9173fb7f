//! How far the road falls to its side, from the phone's sense of gravity, and how far it should.
//!
//! The phone lies on its back, its long edge square across the road, and is then turned end for end on the same spot. What
//! its sensor and its back are out by shows once each way, so that half the difference of the two readings is the road's
//! own fall. A straight board under it takes single stones out of the reading.
//!
//! Never here: the cutting angle (`tilt`), and how a road gets its crown.

use crate::angle::Angle;
use crate::source::Source;
use crate::tilt::{Gravity, NoAngle, Place, Series};
use crate::work::Work;

/// What the fall is uncertain by, as a standard deviation, however quiet the readings are: what a browser rounds off, and
/// the laying by hand. What the sensor is out by has been turned out of it.
///
/// Units: degrees.
/// Basis: house default.
pub const FLOOR_DEGREES: f64 = 0.25;

/// A phone whose two readings do not mirror each other within this was not turned end for end, or not on the same spot.
/// It is what a phone itself may be out by.
///
/// Basis: house default.
pub const MOST_OFF_MIRROR: Angle = Angle::whole_degrees(1);

/// What falls more than this is no road.
///
/// Units: per cent.
/// Basis: house default, only there to stop nonsense.
pub const MOST_FALL: f64 = 20.0;

/// The crown of a gravel road, as the road manuals give it: about half an inch in a foot.
///
/// Units: per cent.
/// Basis: published, `Source::GravelManuals`.
pub const GRAVEL_CROWN: f64 = 4.0;

/// Between what the crossfall of gravel and forest roads lies.
///
/// Units: per cent.
/// Basis: published, `Source::Roadex`.
pub const GRAVEL_FALLS: (f64, f64) = (3.0, 7.0);

/// The same in an icy winter.
///
/// Units: per cent.
/// Basis: published, `Source::Roadex`.
pub const ICY_FALLS: (f64, f64) = (3.0, 4.0);

/// A crossfall as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossfall {
    /// How far the road falls, in per cent, whichever way.
    pub fall: f64,
    /// The fall is within this many per cent, either way, 19 times in 20.
    pub uncertainty: f64,
}

/// Why there is no crossfall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoCrossfall {
    /// The readings are none that an angle can be told from.
    Readings(NoAngle),
    /// The two do not mirror each other within [`MOST_OFF_MIRROR`].
    NotTurnedRound {
        /// By how much they are out.
        by: Angle,
    },
    /// It falls more than [`MOST_FALL`].
    NoRoad {
        /// How far it would fall, in per cent.
        fall: f64,
    },
}

/// The crossfall from readings on one spot, the phone turned end for end between them.
///
/// Units: per cent, a hundred times the tangent of the slope.
/// Valid: any readings; a fall of 20 % at most.
/// Errors: [`NoCrossfall`]: bad readings, the first place before the second; not turned round; no road.
/// Basis: plane geometry; the limits and the floor are house defaults.
///
/// ```
/// use evenrow_rules::crossfall::crossfall;
/// use evenrow_rules::tilt::Gravity;
/// // A fall of 4 % is 2.29°: 9.81 · sin and 9.81 · cos of it.
/// let one = [Gravity::new(0.0, 0.392, 9.802).unwrap(); 20];
/// let other = [Gravity::new(0.0, -0.392, 9.802).unwrap(); 20];
/// let measured = crossfall(&one, &other).unwrap();
/// assert!((measured.fall - 4.0).abs() < 0.01);
/// assert!((measured.uncertainty - 0.87).abs() < 0.01);
/// assert!(crossfall(&one, &one).is_err());
/// ```
pub fn crossfall(one: &[Gravity], turned: &[Gravity]) -> Result<Crossfall, NoCrossfall> {
    let place = |readings| Series::of(Place::Road, readings).map_err(NoCrossfall::Readings);
    let (one, turned) = (place(one)?, place(turned)?);
    let (up, down) = (one.rise().in_degrees(), turned.rise().in_degrees());
    let by = Angle::held(f64::midpoint(up, down)).size();
    let slope = Angle::held((up - down) / 2.0).size();
    let fall = slope.tangent() * PER_CENT;
    if MOST_FALL < fall {
        return Err(NoCrossfall::NoRoad { fall });
    }
    if MOST_OFF_MIRROR < by {
        return Err(NoCrossfall::NotTurnedRound { by });
    }
    // Two standard deviations hold about 19 times in 20; of two readings halved, half of each error remains.
    let floor = 2.0 * FLOOR_DEGREES;
    let (error, other) = (one.error_degrees / 2.0, turned.error_degrees / 2.0);
    let uncertain = Angle::held(libm::sqrt(floor * floor + error * error + other * other));
    Ok(Crossfall {
        fall,
        uncertainty: uncertain.tangent() * PER_CENT,
    })
}

/// Per cent in a whole.
///
/// Units: per cent.
/// Basis: arithmetic.
const PER_CENT: f64 = 100.0;

/// The crossfall that a kind of work is to leave behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// About this, in per cent, and who says so; nothing where only the range is published.
    pub about: Option<(f64, Source)>,
    /// From this to this, in per cent.
    pub range: (f64, f64),
    /// Who gives the range.
    pub range_from: Source,
}

/// How a measured fall stands to the one wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fall {
    /// As it should be.
    InRange,
    /// Above the range by so many per cent.
    TooSteep(f64),
    /// Below the range by so many per cent.
    TooFlat(f64),
}

impl Wanted {
    /// How a measured fall stands to it.
    ///
    /// Units: per cent.
    /// Valid: every number; NaN counts as in range.
    /// Basis: arithmetic.
    ///
    /// ```
    /// use evenrow_rules::{crossfall::{Fall, wanted}, work::Work};
    /// let gravel = wanted(Work::Gravel).unwrap();
    /// assert_eq!(gravel.compare(4.0), Fall::InRange);
    /// assert_eq!(gravel.compare(2.0), Fall::TooFlat(1.0));
    /// assert_eq!(gravel.compare(8.0), Fall::TooSteep(1.0));
    /// ```
    pub fn compare(self, fall: f64) -> Fall {
        let (low, high) = self.range;
        if high < fall {
            Fall::TooSteep(fall - high)
        } else if fall < low {
            Fall::TooFlat(low - fall)
        } else {
            Fall::InRange
        }
    }
}

/// The crossfall that a kind of work is to leave behind; nothing where no published source is known: on a hard road the
/// edge does not shape the crossfall, and for a stone base or a path the design of the site has it.
///
/// Valid: every work.
/// Basis: published, `Source::GravelManuals` and `Source::Roadex`; that a soft road under snow counts as one of gravel in
/// an icy winter is a house default.
///
/// ```
/// use evenrow_rules::{crossfall::wanted, work::Work};
/// assert_eq!(wanted(Work::Gravel).unwrap().about.unwrap().0, 4.0);
/// assert_eq!(wanted(Work::PackedSnow), None);
/// ```
pub fn wanted(work: Work) -> Option<Wanted> {
    match work {
        Work::Gravel | Work::TightStone | Work::StonyGravel => Some(Wanted {
            about: Some((GRAVEL_CROWN, Source::GravelManuals)),
            range: GRAVEL_FALLS,
            range_from: Source::Roadex,
        }),
        Work::PackedSnowOnSoft => Some(Wanted {
            about: None,
            range: ICY_FALLS,
            range_from: Source::Roadex,
        }),
        Work::PackedSnow
        | Work::RoadEdge
        | Work::SoftMilling
        | Work::StoneBase
        | Work::RuttedPavement
        | Work::Path => None,
    }
}
