//! How long the longest demo's whole form takes to lay out and to compile.

use criterion::{Criterion, criterion_group, criterion_main};
use sixrung_lesson::{Arrangement, Stretch, layout, read};
use sixrung_timeline::{Between, Clicks, Request, compile};

const LANTERN: &str = include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron");

fn whole_form(criterion: &mut Criterion) {
    let lesson = read(LANTERN.as_bytes()).expect("the demo reads").lesson;
    let plain = Arrangement::default();
    let score = layout(&lesson, &Stretch::Whole, &plain).expect("the demo can be laid out");
    let between = Between::Rest { bars: 1 };
    let request = Request {
        id: 0,
        rate: 48_000,
        tempo: lesson.tempo,
        count_in_bars: 2,
        between,
        passes: None,
        clicks: Clicks::default(),
        backing: true,
    };
    criterion.bench_function("lay out the whole form", |bencher| {
        bencher.iter(|| layout(&lesson, &Stretch::Whole, &plain));
    });
    criterion.bench_function("compile the whole form", |bencher| {
        bencher.iter(|| compile(&lesson, &score, &request));
    });
}

criterion_group!(benches, whole_form);
criterion_main!(benches);
