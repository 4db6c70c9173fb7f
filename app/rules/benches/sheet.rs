//! How long the set-up sheet takes: the screen asks for it anew at each answer.

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use evenrow_rules::machine::{FOOT, Machine};
use evenrow_rules::quantity::{Length, Temperature};
use evenrow_rules::setup::advise;
use evenrow_rules::work::{Conditions, End, Moisture, Stones, Work};

/// Every question answered, so that each work takes its longer way.
fn all_known() -> Conditions {
    let metres = |metres: f64| Some(Length::millimetres(1000.0 * metres).unwrap());
    Conditions {
        surface: Some(Temperature::whole_celsius(12)),
        soft: Some(true),
        layer: metres(0.08),
        skids: Some(true),
        bite: metres(0.02),
        stones: Some(Stones::Many),
        moisture: Some(Moisture::Dusty),
        path: metres(2.5),
        strip: metres(1.2),
        cutting_end: Some(End::Left),
    }
}

fn sheets(bench: &mut Criterion) {
    let machine = Machine::with_moldboard(FOOT.times(13)).unwrap();
    let mut group = bench.benchmark_group("sheets of all ten works");
    group.throughput(Throughput::Elements(Work::ALL.len() as u64));
    for (name, known) in [
        ("nothing known", Conditions::default()),
        ("all known", all_known()),
    ] {
        group.bench_function(name, |it| {
            it.iter(|| {
                for work in Work::ALL {
                    black_box(advise(black_box(work), black_box(&known), &machine));
                }
            });
        });
    }
    group.finish();
}

criterion_group!(sheet, sheets);
criterion_main!(sheet);
