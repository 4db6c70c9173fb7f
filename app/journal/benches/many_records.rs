//! What many records cost: reading and folding ten seasons, and one record more after few and after many.

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use evenrow_journal::{Journal, State, wire};

#[path = "../examples/ten_seasons.rs"]
#[expect(dead_code, reason = "here nothing is printed")]
mod ten_seasons;

fn journal(records: &[String]) -> Journal {
    let mut journal = Journal::default();
    journal.take_all(records);
    journal
}

fn all_of_them(bench: &mut Criterion) {
    let records = ten_seasons::records(ten_seasons::MANY);
    let bytes: usize = records.iter().map(String::len).sum();
    println!("{} bytes a record", bytes / records.len());
    let many = journal(&records);
    bench.bench_function("reading a record", |it| {
        let mut records = records.iter().cycle();
        it.iter(|| wire::read(records.next().map_or("", |it| it)));
    });
    bench.bench_function("fold of 100,000 records", |it| {
        it.iter_with_large_drop(|| State::fold(black_box(&many)));
    });
}

/// Few records: a shift that has begun.
const FEW: usize = 10;

/// What is timed after either: no more than a shift has, and no shift twice in a row, or the processor knows it by heart.
const TIMED: usize = 40;

/// So many are taken in before the clock runs: a copy that was made just now lies nowhere near the processor, as no journal
/// does that is worked with.
const WARM: usize = 10;

fn one_more(bench: &mut Criterion) {
    let all = ten_seasons::records(2 * ten_seasons::MANY);
    let starts = |from: usize| {
        let shift = |at: &usize| all[*at].contains("shift_started");
        let within = from..from + ten_seasons::MANY - TIMED - FEW - WARM;
        within.filter(shift).collect::<Vec<usize>>()
    };
    let (machine, many) = (journal(&all[..1]), journal(&all[..ten_seasons::MANY]));
    for (count, before, starts) in [
        (FEW, &machine, starts(0)),
        (ten_seasons::MANY, &many, starts(ten_seasons::MANY)),
    ] {
        let known = State::fold(before);
        // Large ones are copied seldom.
        let shifts = if count == FEW { 1 } else { 50 };
        // Never from the last shift to the first: what stands among the others is folded anew.
        let mut in_turn = starts.chunks(shifts).cycle();
        bench.bench_function(&format!("one more record after {count}"), |it| {
            it.iter_custom(|iterations| {
                let (mut left, mut took) = (iterations as usize, Duration::ZERO);
                while 0 < left {
                    let (mut journal, mut state) = (before.clone(), known.clone());
                    let mut take = |records: &[String]| {
                        for record in records {
                            let change = journal.take_all(core::slice::from_ref(record));
                            state.follow(&journal, change);
                        }
                    };
                    for &start in in_turn.next().unwrap_or_default() {
                        take(&all[start..start + WARM]);
                        let some = left.min(TIMED);
                        let clock = Instant::now();
                        take(&all[start + WARM..start + WARM + some]);
                        took += clock.elapsed();
                        left -= some;
                    }
                }
                took
            });
        });
    }
}

criterion_group! {
    name = many_records;
    config = Criterion::default().sample_size(20).measurement_time(Duration::from_secs(2));
    targets = all_of_them, one_more
}
criterion_main!(many_records);
