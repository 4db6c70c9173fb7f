//! How long the due times of a usual day take, and what has become of them: the screen asks for both anew each second.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use evenrow_rules::oiling::{ShiftFacts, Stretch, plan, reconcile};
use evenrow_rules::quantity::{Instant, Span};

fn clock(hours: i64, minutes: i64) -> Instant {
    Instant::from_unix_ms((hours * 60 + minutes) * 60_000)
}

/// Gravel in the morning, a path from half past twelve on, and two breaks that were planned and taken.
fn usual_day() -> ShiftFacts {
    ShiftFacts {
        planned: Span::new(clock(7, 0), clock(15, 30)),
        planned_breaks: vec![
            Span::new(clock(9, 0), clock(9, 15)),
            Span::new(clock(11, 30), clock(12, 0)),
        ],
        taken_breaks: vec![
            Span::new(clock(9, 2), clock(9, 15)),
            Span::new(clock(11, 25), clock(12, 0)),
        ],
        works: vec![
            Stretch {
                from: clock(7, 0),
                per_shift: 3,
            },
            Stretch {
                from: clock(12, 30),
                per_shift: 2,
            },
        ],
        looks: vec![],
        usual_kept: vec![],
        until: clock(15, 30),
    }
}

fn usual_days(bench: &mut Criterion) {
    let shift = usual_day();
    let oiled = [clock(6, 55), clock(9, 5), clock(13, 20)];
    let now = clock(14, 0);
    bench.bench_function("due times of a usual day", |it| {
        it.iter(|| plan(black_box(&shift)));
    });
    bench.bench_function("due times of a usual day with what became of them", |it| {
        it.iter(|| {
            let dues = plan(black_box(&shift));
            reconcile(&dues, black_box(&oiled), black_box(now), false)
        });
    });
}

criterion_group!(oilings, usual_days);
criterion_main!(oilings);
