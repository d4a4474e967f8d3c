//! A journal of a hundred thousand passes and as many changes of chord: opened, and looked back on. Once with nine of
//! ten passes in one section, since a plot of it is the most that is ever read at once.

use criterion::{Criterion, criterion_group, criterion_main};
use sixrung_journal::{Journal, LAST_PASSES, PassPlace, Table, Wanted};
use sixrung_practice::{Day, Moment, UtcOffset};

#[path = "../tests/support/many.rs"]
mod many;
#[path = "../tests/support/mod.rs"]
mod support;

const PASSES: u32 = 100_000;
const TODAY: Day = Day(20_664);
const ZONE: UtcOffset = UtcOffset(3_600);

fn hundred_thousand(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut journal = Journal::open(&path, TODAY).expect("opens").journal;
    many::fill(&mut journal, PASSES, 9).expect("filled");
    drop(journal);
    let size = std::fs::metadata(&path).expect("there").len();
    println!("{PASSES} passes and as many changes: {} MB", size >> 20);
    criterion.bench_function("open", |bencher| bencher.iter(|| Journal::open(&path, TODAY).expect("opens")));

    let journal = Journal::open(&path, TODAY).expect("opens").journal;
    let verse = many::section("Verse");
    let mut bench = |name: &str, ask: &dyn Fn()| {
        criterion.bench_function(name, |bencher| bencher.iter(ask));
    };
    bench("tempo, offset and spread of 90 000 passes by day", &|| {
        assert!(!journal.practice_days(&verse, None, ZONE).expect("read").is_empty());
    });
    bench("rungs held", &|| drop(journal.held_rungs(&verse).expect("read")));
    bench("minutes of 100 000 passes by day", &|| {
        assert!(!journal.playing_days(None, ZONE).expect("read").is_empty());
    });
    bench("100 000 times of one change by day", &|| {
        assert!(!journal.change_history(&many::pair(), None, ZONE).expect("read").days.is_empty());
    });
    bench("bars of the last passes", &|| {
        assert!(!journal.bar_troubles(&verse, LAST_PASSES).expect("read").is_empty());
    });
    bench("the newest passes of a song", &|| {
        assert_eq!(journal.passes_before(Some("Many Days"), PassPlace::NEWEST, 20).expect("read").len(), 20);
    });
    let middle = PassPlace { ended: Moment(1_815_000_000), ..PassPlace::NEWEST };
    bench("a page of passes half way down", &|| {
        assert_eq!(journal.passes_before(None, middle, 20).expect("read").len(), 20);
    });
    let newest = journal.passes_before(None, PassPlace::NEWEST, 1).expect("read")[0].0;
    bench("one pass with its strokes", &|| drop(journal.kept_pass(newest).expect("read").expect("there")));
    let last = journal.practice_days(&verse, None, ZONE).expect("read").last().expect("a day").day;
    let wanted =
        Wanted { sections: many::sections(), changes: vec![many::pair()], since: Some(Day(last.0 - 27)), zone: ZONE };
    bench("the page of the last four weeks, 8 000 passes", &|| drop(journal.look_back(&wanted).expect("read")));
    bench("all passes as CSV", &|| journal.export(Table::PassesCsv, &mut std::io::sink()).expect("written"));
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = hundred_thousand
}
criterion_main!(benches);
