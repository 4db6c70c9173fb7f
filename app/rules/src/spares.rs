//! Spare teeth: which one fits where, how many to carry, and when to order.
//!
//! A broken or lost tooth is replaced at once by one of the same kind and the same wear: that is common practice. What
//! counts as the same wear is a house default.
//!
//! How often teeth break is not known but learned: a weak belief before there is a record, and the machine's own record
//! on top of it. Because the rate itself is uncertain, more are carried than a fixed rate would ask for; the surplus
//! melts away as the record grows.
//!
//! Never here: whether a tooth is bad (`wear`, and the operator), and what a tooth costs (`cost`).

use alloc::vec::Vec;
use core::cmp::Reverse;

use crate::quantity::{Confidence, Hours, Length};
use crate::setup::ToothKind;
use crate::statistics::Rate;

/// Tips that differ by no more than this count as of the same wear.
///
/// Basis: house default; that it be the same wear is common practice, no published source.
pub const SAME_WEAR: Length = Length::micrometres(2_000);

/// What is believed of breakage before there is a record: one tooth in a shift of eight hours, and no surer than having
/// seen that once.
///
/// Basis: house default; weak, so that a record soon outweighs it.
pub const PRIOR: Rate = Rate::of_house(1.0, 8.0);

/// The most bad teeth that are matched at once.
///
/// Units: teeth.
/// Basis: house default, only there to stop nonsense: four times the longest row.
pub const MOST_BAD: usize = 400;

/// The most spares that are looked through at once.
///
/// Units: teeth.
/// Basis: house default, only there to stop nonsense.
pub const MOST_SPARES: usize = 10_000;

/// A tooth that has to go, and what should take its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bad {
    /// Its position from the left as seen from the cab, the first being 1.
    pub pos: u16,
    /// Its kind.
    pub kind: ToothKind,
    /// How long the tip in its place should be: what it was when it broke, or what its neighbours have.
    pub tip: Length,
}

/// A spare tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spare {
    /// Its kind.
    pub kind: ToothKind,
    /// How long its tip is.
    pub tip: Length,
}

/// A spare that goes to a position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The position.
    pub pos: u16,
    /// Which spare: its place in the list given, the first being 0.
    pub spare: usize,
    /// By how much the tips differ.
    pub off: Length,
}

/// Which spare goes where.
#[derive(Clone, Debug, PartialEq)]
pub struct Match {
    /// By position.
    pub pairs: Vec<Pair>,
    /// The positions for which there is no spare, in order.
    pub unmatched: Vec<u16>,
}

/// Why nothing was matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// A position was given twice; once is right.
    Twice {
        /// The position.
        pos: u16,
    },
    /// More bad teeth than any row has.
    TooManyBad {
        /// How many were given.
        got: usize,
        /// The most that are taken.
        most: usize,
    },
    /// More spares than are looked through.
    TooManySpares {
        /// How many were given.
        got: usize,
        /// The most that are taken.
        most: usize,
    },
}

/// The best matching spare for each bad tooth, all at once: of the same kind and no further off than allowed; as many
/// pairs as can be, and among those the least difference in total.
///
/// Teeth and spares of a kind are put in order of length. Two pairs that cross can always be uncrossed without a larger
/// difference, in total or in the worse of the two, so it is enough to look at pairs in order: a table of so many
/// first teeth by so many first spares holds the best of each, found from its three neighbours.
///
/// Equals are decided going from the shortest tip up: a pair is made where it may be, and of two teeth or spares of the
/// same length the one further left, or earlier in the list, is used first. The same lists give the same pairs.
///
/// Units: lengths, to the micrometre.
/// Valid: positions once each; up to [`MOST_BAD`] teeth and [`MOST_SPARES`] spares.
/// Errors: [`Refusal`] otherwise.
/// Basis: common practice, no published source, for the same kind and the same wear; what counts as the same, and that more
/// pairs go before closer ones, are house defaults.
///
/// ```
/// use evenrow_rules::quantity::Length;
/// use evenrow_rules::setup::ToothKind::WidePointed;
/// use evenrow_rules::spares::{Bad, SAME_WEAR, Spare, match_spares};
/// let mm = |mm| Length::millimetres(mm).unwrap();
/// let bad = [14.0, 15.0].map(|tip| Bad { pos: tip as u16, kind: WidePointed, tip: mm(tip) });
/// let spares = [15.0, 16.5].map(|tip| Spare { kind: WidePointed, tip: mm(tip) });
/// // The first spare is closest to the second tooth; but then the first tooth would have none.
/// let found = match_spares(&bad, &spares, SAME_WEAR).unwrap();
/// assert_eq!(found.pairs.iter().map(|it| (it.pos, it.spare)).collect::<Vec<_>>(), [(14, 0), (15, 1)]);
/// assert!(found.unmatched.is_empty());
/// ```
pub fn match_spares(bad: &[Bad], spares: &[Spare], within: Length) -> Result<Match, Refusal> {
    if MOST_BAD < bad.len() {
        return Err(Refusal::TooManyBad {
            got: bad.len(),
            most: MOST_BAD,
        });
    }
    if MOST_SPARES < spares.len() {
        return Err(Refusal::TooManySpares {
            got: spares.len(),
            most: MOST_SPARES,
        });
    }
    let mut unmatched: Vec<u16> = bad.iter().map(|it| it.pos).collect();
    unmatched.sort_unstable();
    if let Some(pair) = unmatched.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(Refusal::Twice { pos: pair[0] });
    }
    let mut pairs = Vec::new();
    for kind in [
        ToothKind::NarrowPointed,
        ToothKind::WidePointed,
        ToothKind::WideBlunt,
    ] {
        let teeth = bad.iter().filter(|it| it.kind == kind);
        let teeth = teeth.map(|it| (it.tip.in_micrometres(), it.pos)).collect();
        let fitting = spares.iter().enumerate().filter(|(_, it)| it.kind == kind);
        let fitting = fitting
            .map(|(place, it)| (it.tip.in_micrometres(), place))
            .collect();
        pairs.extend(of_one_kind(teeth, fitting, within.in_micrometres()));
    }
    pairs.sort_unstable_by_key(|pair| pair.pos);
    unmatched.retain(|pos| pairs.binary_search_by_key(pos, |pair| pair.pos).is_err());
    Ok(Match { pairs, unmatched })
}

/// How good the best pairing of some first teeth and some first spares is; the larger, the better.
type Worth = (u32, Reverse<u64>);

/// What the best pairing does with the last tooth and the last spare of those looked at.
#[derive(Clone, Copy)]
enum Last {
    Paired,
    ToothLeftOut,
    SpareLeftOut,
}

fn of_one_kind(
    mut teeth: Vec<(u32, u16)>,
    mut spares: Vec<(u32, usize)>,
    within: u32,
) -> Vec<Pair> {
    // The longest first, so that the way back through the table begins with the shortest.
    teeth.sort_unstable_by_key(|&tooth| Reverse(tooth));
    spares.sort_unstable_by_key(|&spare| Reverse(spare));
    // The row for no teeth at all, and for each tooth one more: only the last one is looked back at.
    let mut before: Vec<Worth> = alloc::vec![(0, Reverse(0)); spares.len() + 1];
    let mut choices: Vec<Vec<Last>> = Vec::with_capacity(teeth.len());
    for &(tooth, _) in &teeth {
        let mut worths: Vec<Worth> = Vec::with_capacity(before.len());
        worths.push((0, Reverse(0)));
        let mut chosen = Vec::with_capacity(spares.len());
        let mut beside: Worth = (0, Reverse(0));
        for (&(spare, _), above) in spares.iter().zip(before.windows(2)) {
            let off = tooth.abs_diff(spare);
            let (pairs, Reverse(total)) = above[0];
            let paired = (pairs + 1, Reverse(total + u64::from(off)));
            let (worth, last) = if off <= within && above[1].max(beside) <= paired {
                (paired, Last::Paired)
            } else if above[1] <= beside {
                (beside, Last::SpareLeftOut)
            } else {
                (above[1], Last::ToothLeftOut)
            };
            worths.push(worth);
            chosen.push(last);
            beside = worth;
        }
        choices.push(chosen);
        before = worths;
    }
    let mut pairs = Vec::new();
    let (mut first_teeth, mut first_spares) = (teeth.len(), spares.len());
    while 0 < first_teeth && 0 < first_spares {
        match choices[first_teeth - 1][first_spares - 1] {
            Last::Paired => {
                first_teeth -= 1;
                first_spares -= 1;
                let ((tooth, pos), (tip, spare)) = (teeth[first_teeth], spares[first_spares]);
                pairs.push(Pair {
                    pos,
                    spare,
                    off: Length::micrometres(tooth.abs_diff(tip)),
                });
            }
            Last::ToothLeftOut => first_teeth -= 1,
            Last::SpareLeftOut => first_spares -= 1,
        }
    }
    pairs
}

/// What the machine's own record says about breakage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Record {
    /// How many teeth broke or were lost.
    pub broken: u32,
    /// In how many blade-hours.
    pub hours: Hours,
}

/// How many spares to carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carry {
    /// How many.
    pub teeth: u32,
    /// How many are to be expected on average.
    pub expected: f64,
    /// The probability that they are not enough.
    pub short: f64,
}

/// How many spares are enough for hours ahead, with a given confidence.
///
/// Units: blade-hours; teeth.
/// Valid: always; cut to the largest `u32`.
/// Basis: statistics: the predictive distribution of a count whose rate is gamma distributed (`statistics::Rate`). The
/// belief before the record is [`PRIOR`] unless the user has set another: house default.
///
/// ```
/// use evenrow_rules::quantity::{Confidence, Hours};
/// use evenrow_rules::spares::{PRIOR, Record, carry};
/// let hours = |hours| Hours::new(hours).unwrap();
/// let sure = Confidence::share(0.95).unwrap();
/// let nothing_known = Record { broken: 0, hours: hours(0.0) };
/// assert_eq!(carry(PRIOR, nothing_known, hours(8.0), sure).teeth, 4);
/// let known = Record { broken: 3, hours: hours(120.0) };
/// assert_eq!(carry(PRIOR, known, hours(8.0), sure).teeth, 1);
/// ```
pub fn carry(prior: Rate, record: Record, ahead: Hours, confidence: Confidence) -> Carry {
    let rate = prior.after(record.broken, record.hours);
    let teeth = rate.at_most(ahead, confidence);
    Carry {
        teeth,
        expected: rate.mean_in(ahead),
        short: rate.more_than(teeth, ahead),
    }
}

/// Whether to order, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reorder {
    /// Order when no more than this many are left: what may break until the delivery, with the confidence asked for.
    pub point: u32,
    /// Whether that is so now.
    pub order_now: bool,
    /// By how many the stock is below that point already; none if it is not.
    pub below_by: u32,
    /// The probability that the stock on hand runs out before a delivery ordered now.
    pub short: f64,
}

/// Whether to order spares now, with so many on hand and a delivery that takes so many hours of work.
///
/// Ordered at the point itself, what is left lasts until the delivery with the confidence asked for; ordered one later,
/// it may not. So the order is due at the point and not below it. With nothing on hand it is always due.
///
/// Units: teeth; `lead` in blade-hours that will be worked until the delivery.
/// Valid: always.
/// Basis: statistics, as [`carry`]; that the point is where to order is arithmetic.
///
/// ```
/// use evenrow_rules::quantity::{Confidence, Hours};
/// use evenrow_rules::spares::{PRIOR, Record, reorder};
/// let hours = |hours| Hours::new(hours).unwrap();
/// let record = Record { broken: 3, hours: hours(120.0) };
/// let sure = Confidence::share(0.95).unwrap();
/// let reorder = reorder(PRIOR, record, 6, hours(80.0), sure);
/// assert_eq!((reorder.point, reorder.order_now, reorder.below_by), (6, true, 0));
/// ```
pub fn reorder(
    prior: Rate,
    record: Record,
    on_hand: u32,
    lead: Hours,
    confidence: Confidence,
) -> Reorder {
    let rate = prior.after(record.broken, record.hours);
    let point = rate.at_most(lead, confidence);
    Reorder {
        point,
        order_now: on_hand <= point,
        below_by: point.saturating_sub(on_hand),
        short: rate.more_than(on_hand, lead),
    }
}
