//! What many records cost: reading and folding ten seasons, and one record more after few and after many.

use std::hint::black_box;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
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
        it.iter(|| State::fold(black_box(&many)));
    });
}

fn one_more(bench: &mut Criterion) {
    for count in [10, ten_seasons::MANY] {
        let mut records = ten_seasons::records(count + 1);
        let mut more = records.split_off(count);
        more.truncate(1);
        let journal = journal(&records);
        let state = State::fold(&journal);
        bench.bench_function(&format!("one more record after {count}"), |it| {
            it.iter_batched_ref(
                || (journal.clone(), state.clone()),
                |(journal, state)| {
                    let change = journal.take_all(&more);
                    state.follow(journal, change);
                },
                BatchSize::PerIteration,
            );
        });
    }
}

criterion_group! {
    name = many_records;
    config = Criterion::default().sample_size(20);
    targets = all_of_them, one_more
}
criterion_main!(many_records);
