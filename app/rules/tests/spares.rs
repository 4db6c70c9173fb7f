//! Spares: the best match against every match there is, how many to carry, when to order, and any input at all.
//!
//! That a spare be of the same kind and wear is common practice, no published source; the numbers are house defaults.
//! Never here: the probabilities themselves (`statistics`).

mod tries;

use std::cmp::Reverse;
use tries::tries;

use evenrow_rules::quantity::{Confidence, Hours, Length};
use evenrow_rules::setup::ToothKind;
use evenrow_rules::spares::{
    Bad, MOST_BAD, MOST_SPARES, Match, PRIOR, Record, Refusal, SAME_WEAR, Spare, carry,
    match_spares, reorder,
};
use evenrow_rules::statistics::Rate;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

fn hours(hours: f64) -> Hours {
    Hours::new(hours).unwrap()
}

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

fn bad(pos: u16, kind: ToothKind, tenths: u32) -> Bad {
    Bad {
        pos,
        kind,
        tip: Length::micrometres(tenths * 100),
    }
}

fn spare(kind: ToothKind, tenths: u32) -> Spare {
    Spare {
        kind,
        tip: Length::micrometres(tenths * 100),
    }
}

/// Bad teeth at positions 1, 2, ... and spares, all of one kind, with their lengths in tenths of a millimetre.
#[track_caller]
fn check(teeth: &[u32], spares: &[u32], pairs: &[(u16, usize)], unmatched: &[u16]) {
    let kind = ToothKind::WidePointed;
    let teeth: Vec<Bad> = (1..)
        .zip(teeth)
        .map(|(pos, &tip)| bad(pos, kind, tip))
        .collect();
    let spares: Vec<Spare> = spares.iter().map(|&tip| spare(kind, tip)).collect();
    let found = match_spares(&teeth, &spares, SAME_WEAR).unwrap();
    let got: Vec<(u16, usize)> = found.pairs.iter().map(|it| (it.pos, it.spare)).collect();
    assert_eq!(
        (got.as_slice(), found.unmatched.as_slice()),
        (pairs, unmatched)
    );
}

/// House default: most pairs first, then the least total difference; two millimetres are the same wear.
#[test]
fn most_pairs_come_before_the_closest_pair() {
    check(&[140, 150], &[150, 165], &[(1, 0), (2, 1)], &[]);
    check(&[140], &[150], &[(1, 0)], &[]);
    check(&[140], &[160], &[(1, 0)], &[]);
    check(&[140], &[161], &[], &[1]);
    check(&[140], &[119], &[], &[1]);
    check(&[140], &[158, 137, 144], &[(1, 1)], &[]);
    check(&[], &[150], &[], &[]);
    check(&[140, 100], &[], &[], &[1, 2]);
    // The one in the middle fits either; the other spare fits only one.
    check(&[120, 140], &[130, 159], &[(1, 0), (2, 1)], &[]);
    check(&[160, 140], &[150], &[(2, 0)], &[1]);
}

#[test]
fn of_equals_the_tooth_further_left_and_the_spare_earlier_in_the_list_is_used() {
    check(&[140, 140, 140], &[140, 140], &[(1, 0), (2, 1)], &[3]);
    check(&[140], &[140, 140, 140], &[(1, 0)], &[]);
}

/// Common practice, no published source: the same kind.
#[test]
fn a_spare_of_another_kind_is_none() {
    for of_tooth in ToothKind::ALL {
        for of_spare in ToothKind::ALL {
            let found =
                match_spares(&[bad(9, of_tooth, 140)], &[spare(of_spare, 140)], SAME_WEAR).unwrap();
            assert_eq!(found.pairs.len(), usize::from(of_tooth == of_spare));
            assert_eq!(found.unmatched.len(), usize::from(of_tooth != of_spare));
        }
    }
}

#[test]
fn positions_given_twice_and_endless_lists_are_refused() {
    let kind = ToothKind::WideBlunt;
    let twice = [bad(4, kind, 100), bad(9, kind, 100), bad(4, kind, 120)];
    assert_eq!(
        match_spares(&twice, &[], SAME_WEAR),
        Err(Refusal::Twice { pos: 4 })
    );
    let many: Vec<Bad> = (0..=MOST_BAD as u16)
        .map(|pos| bad(pos, kind, 100))
        .collect();
    assert_eq!(
        match_spares(&many, &[], SAME_WEAR),
        Err(Refusal::TooManyBad {
            got: MOST_BAD + 1,
            most: MOST_BAD
        })
    );
    let many = vec![spare(kind, 100); MOST_SPARES + 1];
    assert_eq!(
        match_spares(&[], &many, SAME_WEAR),
        Err(Refusal::TooManySpares {
            got: MOST_SPARES + 1,
            most: MOST_SPARES
        })
    );
}

#[test]
fn the_longest_lists_that_are_taken_are_matched() {
    let kind = ToothKind::WideBlunt;
    let teeth: Vec<Bad> = (1..=MOST_BAD as u16)
        .map(|pos| bad(pos, kind, 100))
        .collect();
    let spares = vec![spare(kind, 110); MOST_SPARES];
    let found = match_spares(&teeth, &spares, SAME_WEAR).unwrap();
    is_sound(&found, &teeth, &spares, SAME_WEAR);
    assert!(found.unmatched.is_empty());
}

/// The best of every way to match, tried one after the other: pairs, then the total in micrometres.
fn best_of_all(
    teeth: &[Bad],
    spares: &[Spare],
    used: &mut Vec<bool>,
    within: u32,
) -> (usize, Reverse<u64>) {
    let Some((tooth, rest)) = teeth.split_first() else {
        return (0, Reverse(0));
    };
    let mut best = best_of_all(rest, spares, used, within);
    for place in 0..spares.len() {
        let spare = spares[place];
        let off = tooth
            .tip
            .in_micrometres()
            .abs_diff(spare.tip.in_micrometres());
        if used[place] || spare.kind != tooth.kind || within < off {
            continue;
        }
        used[place] = true;
        let (pairs, Reverse(total)) = best_of_all(rest, spares, used, within);
        best = best.max((pairs + 1, Reverse(total + u64::from(off))));
        used[place] = false;
    }
    best
}

fn worth(found: &Match) -> (usize, Reverse<u64>) {
    let total = found
        .pairs
        .iter()
        .map(|it| u64::from(it.off.in_micrometres()))
        .sum();
    (found.pairs.len(), Reverse(total))
}

#[track_caller]
fn is_sound(found: &Match, teeth: &[Bad], spares: &[Spare], within: Length) {
    let mut used = vec![false; spares.len()];
    for pair in &found.pairs {
        let tooth = teeth.iter().find(|it| it.pos == pair.pos).unwrap();
        let spare = spares[pair.spare];
        assert!(
            !std::mem::replace(&mut used[pair.spare], true),
            "a spare used twice"
        );
        assert_eq!(tooth.kind, spare.kind);
        let off = tooth
            .tip
            .in_micrometres()
            .abs_diff(spare.tip.in_micrometres());
        assert_eq!(pair.off.in_micrometres(), off);
        assert!(off <= within.in_micrometres());
    }
    let mut all: Vec<u16> = found
        .pairs
        .iter()
        .map(|it| it.pos)
        .chain(found.unmatched.iter().copied())
        .collect();
    assert!(found.pairs.is_sorted_by(|a, b| a.pos < b.pos) && found.unmatched.is_sorted());
    all.sort_unstable();
    let mut given: Vec<u16> = teeth.iter().map(|it| it.pos).collect();
    given.sort_unstable();
    assert_eq!(all, given);
}

fn any_kind() -> impl Strategy<Value = ToothKind> {
    select(ToothKind::ALL.to_vec())
}

proptest! {
    #![proptest_config(tries(1_500))]

    #[test]
    fn no_other_match_has_more_pairs_or_as_many_with_a_smaller_difference(
        teeth in vec((0_usize..2, 100_u32..150), 0..=6),
        spares in vec((0_usize..2, 100_u32..150), 0..=6),
        within in 0_u32..=4_000,
    ) {
        let teeth: Vec<Bad> = (1..).zip(teeth).map(|(pos, (kind, tip))| bad(pos, ToothKind::ALL[kind], tip)).collect();
        let spares: Vec<Spare> = spares.into_iter().map(|(kind, tip)| spare(ToothKind::ALL[kind], tip)).collect();
        let found = match_spares(&teeth, &spares, Length::micrometres(within)).unwrap();
        is_sound(&found, &teeth, &spares, Length::micrometres(within));
        let best = best_of_all(&teeth, &spares, &mut vec![false; spares.len()], within);
        prop_assert_eq!(worth(&found), best);
    }

    #[test]
    fn the_order_in_which_teeth_are_given_does_not_matter(
        tips in vec(100_u32..150, 1..20),
        spares in vec(100_u32..150, 0..20),
        turn in 0_usize..20,
    ) {
        let kind = ToothKind::NarrowPointed;
        let teeth: Vec<Bad> = (1..).zip(tips).map(|(pos, tip)| bad(pos, kind, tip)).collect();
        let spares: Vec<Spare> = spares.into_iter().map(|tip| spare(kind, tip)).collect();
        let mut turned = teeth.clone();
        turned.rotate_left(turn % teeth.len());
        prop_assert_eq!(
            match_spares(&teeth, &spares, SAME_WEAR),
            match_spares(&turned, &spares, SAME_WEAR)
        );
    }

    #[test]
    fn any_teeth_and_spares_are_matched_soundly_or_refused(
        teeth in vec((any::<u16>(), any_kind(), any::<u32>()), 0..110),
        spares in vec((any_kind(), any::<u32>()), 0..110),
        within in any::<u32>(),
    ) {
        let length = |um: u32| Length::micrometres(um % 1_100_000_000);
        let teeth: Vec<Bad> =
            teeth.into_iter().map(|(pos, kind, um)| Bad { pos, kind, tip: length(um) }).collect();
        let spares: Vec<Spare> = spares.into_iter().map(|(kind, um)| Spare { kind, tip: length(um) }).collect();
        if let Ok(found) = match_spares(&teeth, &spares, length(within)) {
            is_sound(&found, &teeth, &spares, length(within));
        }
    }

    #[test]
    fn any_record_says_how_many_to_carry_and_when_to_order(
        shape in 0.01..=1_000.0,
        believed in 0.01..=100_000.0,
        broken in prop_oneof![any::<u32>(), 0_u32..200],
        seen in 0.0..=1_000_000.0,
        ahead in prop_oneof![0.0..=1_000_000.0, 0.0..200.0],
        on_hand in prop_oneof![any::<u32>(), 0_u32..50],
        share in 0.5..0.999,
    ) {
        let prior = Rate::believed(shape, believed).unwrap();
        let record = Record { broken, hours: hours(seen) };
        let carry = carry(prior, record, hours(ahead), sure(share));
        prop_assert!(carry.expected.is_finite());
        prop_assert!(carry.teeth == u32::MAX || carry.short <= (1.0 - share) * (1.0 + 1e-8));
        let reorder = reorder(prior, record, on_hand, hours(ahead), sure(share));
        prop_assert_eq!(reorder.point, carry.teeth);
        prop_assert_eq!(reorder.order_now, on_hand <= reorder.point);
        prop_assert_eq!(reorder.below_by, reorder.point.saturating_sub(on_hand));
        prop_assert!((0.0..=1.0).contains(&reorder.short));
    }
}

/// House default: one in a shift is believed before there is a record; for 8 hours at 95 % it gives 4.
#[test]
fn without_a_record_four_are_carried_for_a_shift() {
    let nothing = Record {
        broken: 0,
        hours: hours(0.0),
    };
    let four = carry(PRIOR, nothing, hours(8.0), sure(0.95));
    assert_eq!((four.teeth, four.expected), (4, 1.0));
    // P(N > 4) = 2^-5.
    assert!((four.short - 0.031_25).abs() < 1e-15);
    assert_eq!((PRIOR.events(), PRIOR.in_hours()), (1.0, 8.0));
}

#[test]
fn a_record_without_breakage_asks_for_fewer_and_one_with_much_for_more() {
    let teeth = |broken, seen| {
        let record = Record {
            broken,
            hours: hours(seen),
        };
        carry(PRIOR, record, hours(8.0), sure(0.95)).teeth
    };
    assert_eq!(teeth(0, 400.0), 0);
    assert_eq!(teeth(3, 120.0), 1);
    assert!(4 < teeth(40, 80.0));
}

/// The order is due at the point itself: ordered one later, what is left is not enough with the confidence asked for.
#[test]
fn the_order_is_due_at_the_point_and_not_before() {
    let record = Record {
        broken: 3,
        hours: hours(120.0),
    };
    let at = |on_hand| reorder(PRIOR, record, on_hand, hours(80.0), sure(0.95));
    assert_eq!(at(6).point, 6);
    assert!(!at(7).order_now && at(6).order_now && at(5).order_now);
    assert_eq!((at(6).below_by, at(2).below_by), (0, 4));
    assert!(at(6).short <= 0.05 && 0.05 < at(5).short);
    // With no time to wait there is nothing to wait for, as long as one is left.
    let at_once = |on_hand| reorder(PRIOR, record, on_hand, hours(0.0), sure(0.95)).order_now;
    assert!(at_once(0) && !at_once(1));
}
