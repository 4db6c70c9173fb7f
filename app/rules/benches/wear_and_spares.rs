//! How long the line takes over few and many readings, and the match over a whole row of bad teeth.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use evenrow_rules::line::fit;
use evenrow_rules::quantity::Length;
use evenrow_rules::setup::ToothKind;
use evenrow_rules::spares::{Bad, SAME_WEAR, Spare, match_spares};
use evenrow_rules::statistics::{Point, theil_sen};
use evenrow_rules::wear::{Tooth, evenness};

/// Numbers from 0 to 999 in no order.
fn shuffled(index: usize) -> f64 {
    (index * 7_919 % 1_000) as f64
}

fn readings(count: usize) -> Vec<Point> {
    (0..count)
        .map(|index| {
            let at = index as f64 * 200.0 / count as f64;
            Point::new(at, 20.0 - 0.05 * at + shuffled(index) / 1000.0).unwrap()
        })
        .collect()
}

fn lines(bench: &mut Criterion) {
    for count in [100, 10_000] {
        let points = readings(count);
        bench.bench_function(&format!("line of {count} readings"), |it| {
            it.iter(|| fit(black_box(&points)));
        });
    }
    let points = readings(100);
    bench.bench_function("robust slope of 100 readings", |it| {
        it.iter(|| theil_sen(black_box(&points)));
    });
}

fn rows(bench: &mut Criterion) {
    let tip = |index: usize| Length::millimetres(10.0 + shuffled(index) / 100.0).unwrap();
    let kind = ToothKind::WidePointed;
    let bad: Vec<Bad> = (0..104)
        .map(|index| Bad {
            pos: index as u16 + 1,
            kind,
            tip: tip(index),
        })
        .collect();
    let spares: Vec<Spare> = (0..104)
        .map(|index| Spare {
            kind,
            tip: tip(index + 500),
        })
        .collect();
    bench.bench_function("match of 104 bad teeth and 104 spares", |it| {
        it.iter(|| match_spares(black_box(&bad), black_box(&spares), SAME_WEAR));
    });
    let row: Vec<Tooth> = bad
        .iter()
        .map(|it| Tooth {
            pos: it.pos,
            tip: it.tip,
        })
        .collect();
    bench.bench_function("evenness of 104 teeth", |it| {
        it.iter(|| evenness(black_box(&row)));
    });
}

criterion_group!(wear_and_spares, lines, rows);
criterion_main!(wear_and_spares);
