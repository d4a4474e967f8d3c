//! What one learner's month costs.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use sixrung_learners::{Part, months, ours};

fn one_month(criterion: &mut Criterion) {
    let (ours, part) = (ours(), Part::default());
    let mut seed = 0;
    criterion.bench_function("one learner's month", |bench| {
        bench.iter(|| {
            seed += 1;
            months(black_box(&ours), &part, 1, seed, |traits| traits)
        });
    });
}

criterion_group!(benches, one_month);
criterion_main!(benches);
