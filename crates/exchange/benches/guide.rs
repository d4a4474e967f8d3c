//! How long a guide takes, from the lesson to the bytes: 20 ms is a target of ours, so that a preview follows a choice
//! without a wait.

#[path = "../tests/support/mod.rs"]
mod support;

use criterion::{Criterion, criterion_group, criterion_main};
use sixrung_exchange::guide::{GuideOptions, lay_out, pdf, svg};

use support::{FONTS, WORDS, demos};

fn guides(criterion: &mut Criterion) {
    for (name, lesson) in demos() {
        let options = GuideOptions { arrangement: lesson.arrangements[0].clone(), ..GuideOptions::default() };
        criterion.bench_function(&format!("{name} as PDF"), |bencher| {
            bencher.iter(|| {
                let guide = lay_out(&lesson, &options, &WORDS, &FONTS).expect("a demo can be laid out");
                pdf::write(&guide, &FONTS).expect("a demo can be written")
            });
        });
        let guide = lay_out(&lesson, &options, &WORDS, &FONTS).expect("a demo can be laid out");
        criterion.bench_function(&format!("{name}, first page as SVG"), |bencher| {
            bencher.iter(|| svg::write(&guide, 0, &FONTS).expect("a demo can be written"));
        });
    }
}

criterion_group!(benches, guides);
criterion_main!(benches);
