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

/// So many shifts are taken in by a copy of the many, which is made seldom.
const SHIFTS: usize = 50;

/// So many copies are made.
const ROUNDS: usize = 20;

/// The two are timed in turn, shift by shift: what else the computer does falls on both alike, and their ratio is what
/// counts. Criterion times one after the other.
fn one_more(_: &mut Criterion) {
    let all = ten_seasons::records(2 * ten_seasons::MANY);
    let starts = |from: usize| {
        let shift = |at: &usize| all[*at].contains("shift_started");
        let within = from..from + ten_seasons::MANY - TIMED - FEW - WARM;
        within.filter(shift).collect::<Vec<usize>>()
    };
    let before = [journal(&all[..1]), journal(&all[..ten_seasons::MANY])];
    let known = before.each_ref().map(State::fold);
    // Never from the last shift to the first: what stands among the others is folded anew.
    let (few, many) = (starts(0), starts(ten_seasons::MANY));
    let mut took = [Vec::new(), Vec::new()];
    for (few, many) in few
        .chunks_exact(SHIFTS)
        .zip(many.chunks_exact(SHIFTS))
        .take(ROUNDS)
    {
        let (mut old, mut state) = (before[1].clone(), known[1].clone());
        for (&few, &many) in few.iter().zip(many) {
            took[0].push(shift(
                &mut before[0].clone(),
                &mut known[0].clone(),
                &all[few..],
            ));
            took[1].push(shift(&mut old, &mut state, &all[many..]));
        }
    }
    for (count, took) in [FEW, ten_seasons::MANY].into_iter().zip(&mut took) {
        took.sort();
        let quarter = |quarters: usize| took[took.len() * quarters / 4].as_secs_f64() * 1e6;
        let [low, middle, high] = [1, 2, 3].map(quarter);
        println!(
            "one more record after {count}  time:   [{low:.3} µs {middle:.3} µs {high:.3} µs]"
        );
    }
}

/// What one record of a shift takes, on average.
fn shift(journal: &mut Journal, state: &mut State, records: &[String]) -> Duration {
    let mut take = |records: &[String]| {
        for record in records {
            let change = journal.take_all(core::slice::from_ref(record));
            state.follow(journal, change);
        }
    };
    take(&records[..WARM]);
    let clock = Instant::now();
    take(&records[WARM..WARM + TIMED]);
    clock.elapsed() / TIMED as u32
}

criterion_group! {
    name = many_records;
    config = Criterion::default().sample_size(20).measurement_time(Duration::from_secs(2));
    targets = all_of_them, one_more
}
criterion_main!(many_records);
