//! What the teeth leave behind: tracks across the road, and the ridge between two of them.
//!
//! Teeth a pitch `p` apart along a moldboard at grading angle `g` run in tracks `p · sin g` apart across the road. `n`
//! passes, each offset by an even part of that, leave tracks `1 / n` of it apart: the second pass by half.
//!
//! The ridge is what stands between the bottoms of two neighbouring tracks, on a surface that keeps the shape that the
//! tips cut. A round tip is a ball and cuts the same shape at any angle; cone and flat are taken as seen along the
//! travel. Real ridges crumble: the number compares settings, and promises nothing.
//!
//! A tip worn by a length is cut off square at that height above its lowest point: the track gets a flat bottom, and the
//! ridge is lower by that length. A tooth that turns wears rounder than that, and one that is stuck wears at a slant.
//!
//! Never here: how much a tip has worn (`wear`).

use core::num::NonZeroU8;

use crate::angle::Angle;
use crate::quantity::{Figure, Length, OutOfRange, Volume, within};
use crate::setup::ToothKind;
use crate::source::{Basis, Source};

/// How far apart the tracks of neighbouring teeth are across the road: `pitch · sin(grading angle)`.
///
/// Units: lengths; the grading angle from the direction of travel.
/// Valid: 0° to 90°.
/// Basis: plane geometry.
///
/// ```
/// use evenrow_rules::{angle::Angle, finish::track_spacing, machine::USUAL_PITCH};
/// let spacing = track_spacing(USUAL_PITCH, Angle::whole_degrees(60));
/// assert!((spacing.in_millimetres() - 32.996).abs() < 0.0005);
/// ```
pub fn track_spacing(pitch: Length, grading: Angle) -> Length {
    pitch.share(grading.sine())
}

/// The radius that a round tip may have, and the width that a blunt one may have.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const TIP_SIZES: (f64, f64) = (0.5, 100.0);

/// The full angle that a pointed tip may have.
///
/// Units: degrees.
/// Basis: house default, only there to stop nonsense.
const CONE_ANGLES: (f64, f64) = (10.0, 170.0);

/// The mean diameter that a patch of sand may have.
///
/// Units: millimetres.
/// Basis: house default, only there to stop nonsense.
const PATCHES: (f64, f64) = (10.0, 2000.0);

/// The full angle of a pointed tip, until somebody has measured one.
///
/// Basis: house default.
pub const USUAL_POINT: Angle = Angle::whole_degrees(120);

/// How wide a blunt tip is, until somebody has measured one.
///
/// Basis: house default.
pub const USUAL_BLUNT: Length = Length::micrometres(19_000);

/// What a tip has lost when half of its life is over: half of what lies between 20 mm when new and 5 mm when worn out.
///
/// Basis: house default.
pub const HALF_WORN: Length = Length::micrometres(7_500);

/// The shape of a tip that touches the road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tip(Shape);

#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    /// A ball of this radius, in millimetres.
    Round(f64),
    /// A cone; the tangent of half its full angle.
    Cone(f64),
    /// A flat end of this width, in millimetres.
    Flat(f64),
}

impl Tip {
    /// A round tip: a ball of this radius.
    ///
    /// Units: length.
    /// Valid: 0.5 to 100 mm.
    /// Errors: [`OutOfRange`] outside that.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::{finish::Tip, quantity::Length};
    /// assert!(Tip::round(Length::millimetres(20.0).unwrap()).is_ok());
    /// assert!(Tip::round(Length::ZERO).is_err());
    /// ```
    pub fn round(radius: Length) -> Result<Tip, OutOfRange<Figure>> {
        let (least, most) = TIP_SIZES;
        within(Figure::TipRadius, radius.in_millimetres(), least, most)
            .map(|mm| Tip(Shape::Round(mm)))
    }

    /// A pointed tip: a cone of this full angle, long enough to reach from the track's bottom to the ridge.
    ///
    /// Units: degrees, from flank to flank.
    /// Valid: 10° to 170°.
    /// Errors: [`OutOfRange`] outside that.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::{angle::Angle, finish::Tip};
    /// assert!(Tip::cone(Angle::whole_degrees(90)).is_ok());
    /// assert!(Tip::cone(Angle::whole_degrees(180)).is_err());
    /// ```
    pub fn cone(full: Angle) -> Result<Tip, OutOfRange<Figure>> {
        let (least, most) = CONE_ANGLES;
        within(Figure::ConeAngle, full.in_degrees(), least, most)
            .map(|degrees| Tip(Shape::Cone(Angle::held(degrees / 2.0).tangent())))
    }

    /// A blunt tip: a flat end of this width, straight up at its sides.
    ///
    /// Units: length.
    /// Valid: 0.5 to 100 mm.
    /// Errors: [`OutOfRange`] outside that.
    /// Basis: house default, only there to stop nonsense.
    ///
    /// ```
    /// use evenrow_rules::{finish::Tip, quantity::Length};
    /// assert!(Tip::blunt(Length::millimetres(19.0).unwrap()).is_ok());
    /// assert!(Tip::blunt(Length::ZERO).is_err());
    /// ```
    pub fn blunt(width: Length) -> Result<Tip, OutOfRange<Figure>> {
        let (least, most) = TIP_SIZES;
        within(Figure::FlatWidth, width.in_millimetres(), least, most)
            .map(|mm| Tip(Shape::Flat(mm)))
    }

    /// The usual tip of a kind of tooth: a cone, or a flat end.
    ///
    /// Valid: every kind.
    /// Basis: house default, [`USUAL_POINT`] and [`USUAL_BLUNT`].
    ///
    /// ```
    /// use evenrow_rules::{finish::{Tip, USUAL_BLUNT, USUAL_POINT}, setup::ToothKind};
    /// assert_eq!(Tip::usual(ToothKind::WidePointed), Tip::cone(USUAL_POINT).unwrap());
    /// assert_eq!(Tip::usual(ToothKind::WideBlunt), Tip::blunt(USUAL_BLUNT).unwrap());
    /// ```
    pub fn usual(kind: ToothKind) -> Tip {
        if kind.is_pointed() {
            Tip(Shape::Cone(
                Angle::held(USUAL_POINT.in_degrees() / 2.0).tangent(),
            ))
        } else {
            Tip(Shape::Flat(USUAL_BLUNT.in_millimetres()))
        }
    }

    /// How high the surface stands above the bottom of a track, so far to the side of its middle; none where the tip does
    /// not reach.
    ///
    /// Round: `R - sqrt(R² - x²)` up to `R`. Cone: `x / tan(a / 2)`. Blunt: nothing up to half its width. Less by what it
    /// is worn.
    ///
    /// Units: lengths.
    /// Valid: always.
    /// Basis: plane geometry, with the cut described at the head of this file.
    ///
    /// ```
    /// use evenrow_rules::{finish::Tip, quantity::Length};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let tip = Tip::round(mm(5.0)).unwrap();
    /// assert_eq!(tip.rise(mm(4.0), Length::ZERO), Some(mm(2.0)));
    /// assert_eq!(tip.rise(mm(4.0), mm(3.0)), Some(Length::ZERO));
    /// assert_eq!(tip.rise(mm(6.0), Length::ZERO), None);
    /// ```
    pub fn rise(self, aside: Length, worn: Length) -> Option<Length> {
        let aside = aside.in_millimetres();
        let new = match self.0 {
            Shape::Round(radius) if aside <= radius => {
                radius - libm::sqrt(radius * radius - aside * aside)
            }
            Shape::Cone(tangent) => aside / tangent,
            Shape::Flat(width) if 2.0 * aside <= width => 0.0,
            Shape::Round(_) | Shape::Flat(_) => return None,
        };
        Some(Length::held(new - worn.in_millimetres()))
    }

    /// How wide the track's flat bottom is once the tip is worn by a length.
    ///
    /// Round: `2 · sqrt(2 R d - d²)`, at most `2 R`. Cone: `2 d · tan(a / 2)`. Blunt: its width, however worn.
    ///
    /// Units: lengths.
    /// Valid: always.
    /// Basis: plane geometry, with the cut described at the head of this file.
    ///
    /// ```
    /// use evenrow_rules::{finish::Tip, quantity::Length};
    /// let mm = |mm: f64| Length::millimetres(mm).unwrap();
    /// let flat = Tip::round(mm(5.0)).unwrap().flat(mm(2.0));
    /// assert!((flat.in_millimetres() - 8.0).abs() < 1e-12);
    /// ```
    pub fn flat(self, worn: Length) -> Length {
        let worn = worn.in_millimetres();
        Length::held(match self.0 {
            Shape::Round(radius) => {
                let worn = worn.min(radius);
                2.0 * libm::sqrt(2.0 * radius * worn - worn * worn)
            }
            Shape::Cone(tangent) => 2.0 * worn * tangent,
            Shape::Flat(width) => width,
        })
    }

    /// What stands between two tracks so far apart, in millimetres.
    fn left(self, spacing: f64, worn: f64) -> Left {
        let half = spacing / 2.0;
        let ridge = |new: f64| Left::Ridge(Length::held(new - worn));
        let strip = |width: f64| Left::Strip(Length::held(spacing - width));
        match self.0 {
            Shape::Round(radius) if half <= radius => {
                ridge(radius - libm::sqrt(radius * radius - half * half))
            }
            Shape::Round(radius) => strip(2.0 * radius),
            Shape::Cone(tangent) => ridge(half / tangent),
            Shape::Flat(width) if spacing <= width => Left::Ridge(Length::ZERO),
            Shape::Flat(width) => strip(width),
        }
    }
}

/// What is left between two tracks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Left {
    /// A ridge of this height above the bottom of the tracks; none where the tracks meet.
    Ridge(Length),
    /// The tips do not reach each other: a strip of this width stays uncut, as high as the cut is deep.
    Strip(Length),
}

/// The tracks and what is left between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finish {
    /// How far apart the tracks are across the road, after all passes.
    pub spacing: Length,
    /// What is left between two of them.
    pub left: Left,
}

/// What so many passes leave on the road, each offset by an even part of the spacing: the second by half.
///
/// Round tip of radius `R`, tracks `s` apart: `R - sqrt(R² - (s / 2)²)` as long as `s <= 2 R`. Cone of full angle `a`:
/// `(s / 2) / tan(a / 2)`. Blunt: nothing as long as `s` is no more than its width. A worn tip: less by what it is worn.
///
/// Units: lengths; the grading angle from the direction of travel.
/// Valid: grading angle 0° to 90°; any pitch, tip, wear and number of passes.
/// Basis: plane geometry.
///
/// ```
/// use core::num::NonZeroU8;
/// use evenrow_rules::angle::Angle;
/// use evenrow_rules::finish::{Left, Tip, finish};
/// use evenrow_rules::machine::USUAL_PITCH;
/// use evenrow_rules::quantity::Length;
/// let tip = Tip::round(Length::millimetres(20.0).unwrap()).unwrap();
/// let one = finish(USUAL_PITCH, Angle::whole_degrees(60), tip, Length::ZERO, NonZeroU8::MIN);
/// assert!((one.spacing.in_millimetres() - 32.996).abs() < 0.0005);
/// assert!(matches!(one.left, Left::Ridge(ridge) if (ridge.in_millimetres() - 8.694).abs() < 0.0005));
/// ```
pub fn finish(pitch: Length, grading: Angle, tip: Tip, worn: Length, passes: NonZeroU8) -> Finish {
    let spacing = track_spacing(pitch, grading).share(1.0 / f64::from(passes.get()));
    Finish {
        spacing,
        left: tip.left(spacing.in_millimetres(), worn.in_millimetres()),
    }
}

/// The mean texture depth from a patch of sand: `4 V / (π D²)`.
///
/// Units: volume and the patch's mean diameter in, length out.
/// Valid: a patch of 10 mm to 2 m (house default, only there to stop nonsense).
/// Errors: [`OutOfRange`] for another patch.
/// Basis: published, `Source::SandPatch`; the formula is that of a flat cylinder.
///
/// ```
/// use evenrow_rules::{finish::texture_depth, quantity::{Length, Volume}};
/// let sand = Volume::cubic_millimetres(25_000.0).unwrap();
/// let depth = texture_depth(sand, Length::millimetres(180.0).unwrap()).unwrap();
/// assert!((depth.in_millimetres() - 0.9824).abs() < 0.00005);
/// ```
pub fn texture_depth(sand: Volume, patch: Length) -> Result<Length, OutOfRange<Figure>> {
    let (least, most) = PATCHES;
    let radius = within(Figure::Patch, patch.in_millimetres(), least, most)? / 2.0;
    let area = core::f64::consts::PI * radius * radius;
    Ok(Length::held(sand.in_cubic_metres() * 1e9 / area))
}

/// A ridge on a milled road that somebody wrote down, to hold ours against: from where to where, and whose number it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Yardstick {
    /// What it says.
    pub says: Milled,
    /// The least of it.
    pub low: Length,
    /// The most of it.
    pub high: Length,
    /// Who says so.
    pub basis: Basis,
}

/// What a yardstick says of a milled road.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Milled {
    /// Specified: no higher than this.
    Specified,
    /// Beyond this it has to be put right.
    ToBePutRight,
    /// Found where the road was smooth.
    FoundSmooth,
    /// Found where it was rough.
    FoundRough,
}

/// Ridges, from top to valley, on asphalt milled by a drum. A yardstick on the screen, no limit for a toothed edge.
///
/// Basis: published, `Source::GeorgiaMicromilling2009` and `Source::Trb2012`: the first specified and to be put right,
/// the second 2.5 ± 0.9 mm found smooth and 4.6 ± 1.1 mm found rough.
pub const YARDSTICKS: [Yardstick; 4] = [
    Yardstick {
        says: Milled::Specified,
        low: Length::ZERO,
        high: Length::micrometres(1_600),
        basis: Basis::Published(Source::GeorgiaMicromilling2009),
    },
    Yardstick {
        says: Milled::ToBePutRight,
        low: Length::micrometres(3_200),
        high: Length::micrometres(3_200),
        basis: Basis::Published(Source::GeorgiaMicromilling2009),
    },
    Yardstick {
        says: Milled::FoundSmooth,
        low: Length::micrometres(1_600),
        high: Length::micrometres(3_400),
        basis: Basis::Published(Source::Trb2012),
    },
    Yardstick {
        says: Milled::FoundRough,
        low: Length::micrometres(3_500),
        high: Length::micrometres(5_700),
        basis: Basis::Published(Source::Trb2012),
    },
];
