//! Shares and their differences: the printed examples, the equation that the interval solves, and the whole of small
//! counts.
//!
//! Never here: what is counted.

mod table;

use evenrow_rules::proportion::{MOST_TIMES, Share, difference, times_enough};
use evenrow_rules::quantity::Confidence;
use statrs::distribution::{ContinuousCDF, Normal};
use table::{Row, rows};

const NEWCOMBE: &str = include_str!("../../../tests/tables/newcombe.csv");

fn sure(share: f64) -> Confidence {
    Confidence::share(share).unwrap()
}

fn share(seen: u32, of: u32) -> Share {
    Share::new(seen, of).unwrap()
}

/// Source: the table's own head.
#[test]
fn the_difference_of_two_shares_is_that_of_the_printed_examples() {
    let check = |row: &Row| {
        let count = |column: &str| row.number(column) as u32;
        let one = share(count("seen_one"), count("of_one"));
        let other = share(count("seen_other"), count("of_other"));
        let found = difference(one, other, sure(0.95)).unwrap();
        for (got, expect) in [
            (found.low, row.number("low")),
            (found.high, row.number("high")),
        ] {
            assert!((got - expect).abs() <= 0.000_051, "{one:?} {other:?} {got}");
        }
        // The other way round it is the same with the sign turned.
        let turned = difference(other, one, sure(0.95)).unwrap();
        assert_eq!((turned.low, turned.high), (-found.high, -found.low));
    };
    rows(NEWCOMBE).iter().for_each(check);
}

/// Source: identity. At an end of Wilson's interval the share seen lies just `z` standard deviations off, as `statrs`
/// has `z`.
#[test]
fn each_end_of_a_share_is_one_that_the_score_test_just_lets_pass() {
    for confidence in [0.8, 0.95, 0.99] {
        let normal = Normal::new(0.0, 1.0).unwrap();
        let z = normal.inverse_cdf(0.5 + confidence / 2.0);
        for of in 1..=40 {
            for seen in 0..=of {
                let (low, high) = share(seen, of).interval(sure(confidence)).unwrap();
                let p = f64::from(seen) / f64::from(of);
                assert!((0.0..=p).contains(&low) && (p..=1.0).contains(&high));
                for end in [low, high] {
                    if end <= 0.0 || 1.0 <= end {
                        continue;
                    }
                    let off = (p - end).abs() / (end * (1.0 - end) / f64::from(of)).sqrt();
                    assert!((off - z).abs() < 1e-7, "{seen} of {of}: {off} for {z}");
                }
            }
        }
    }
}

#[test]
fn a_difference_stays_within_what_one_can_be_and_holds_what_was_seen() {
    for (m, n) in [(1, 1), (3, 17), (12, 12), (40, 5)] {
        for seen in 0..=m {
            for other in 0..=n {
                let found = difference(share(seen, m), share(other, n), sure(0.95)).unwrap();
                assert!(-1.0 - 1e-12 <= found.low && found.high <= 1.0 + 1e-12);
                assert!(found.low <= found.seen && found.seen <= found.high);
            }
        }
    }
}

#[test]
fn more_of_the_same_tells_sooner_or_later_and_never_where_nothing_differs() {
    let (one, other) = (share(4, 10), share(3, 10));
    let times = times_enough(one, other, sure(0.95)).unwrap();
    let clear = |times: u32| {
        let more = |it: Share| share(it.seen() * times, it.of() * times);
        difference(more(one), more(other), sure(0.95))
            .unwrap()
            .is_clear()
    };
    assert!(1 < times && clear(times) && !clear(times - 1));
    assert_eq!(times_enough(share(0, 10), share(0, 4), sure(0.95)), None);
    assert_eq!(times_enough(share(1, 2), share(0, 0), sure(0.95)), None);
    // Nearly the same: not even a thousand times as many.
    let (one, other) = (share(500, 1000), share(499, 1000));
    assert_eq!(times_enough(one, other, sure(0.95)), None);
    assert_eq!(MOST_TIMES, 1_000);
}
