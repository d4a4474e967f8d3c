//! Lessons to compile: the demos, and small texts.

use sixrung_lesson::{Arrangement, Lesson, Stretch, Tempo, layout, read};
use sixrung_timeline::{Between, Clicks, CompileError, Event, Plan, Request, compile};

pub(crate) const DEMOS: [(&str, &str); 4] = [
    ("lantern-on-the-quay", include_str!("../../../../assets/lessons/lantern-on-the-quay.lesson.ron")),
    ("ferry-lullaby", include_str!("../../../../assets/lessons/ferry-lullaby.lesson.ron")),
    ("kettle-and-clock", include_str!("../../../../assets/lessons/kettle-and-clock.lesson.ron")),
    ("tin-roof-shuffle", include_str!("../../../../assets/lessons/tin-roof-shuffle.lesson.ron")),
];

pub(crate) fn demos() -> impl Iterator<Item = Lesson> {
    DEMOS.iter().map(|(name, text)| match read(text.as_bytes()) {
        Ok(read) => read.lesson,
        Err(found) => panic!("{name}: {}", found[0]),
    })
}

/// Every section, and the whole form.
pub(crate) fn stretches(lesson: &Lesson) -> Vec<Stretch> {
    let sections = lesson.sections.iter().map(|section| Stretch::Section(section.name.clone()));
    sections.chain([Stretch::Whole]).collect()
}

/// A lesson with patterns `p` and `q` and these entries in one section; `more` are further fields. In 4/4 unless they
/// name a meter.
pub(crate) fn lesson(more: &str, grid: &str, p: &str, q: &str, entries: &str) -> Lesson {
    let meter = if more.contains("meter:") { "" } else { r#"meter: "4/4","# };
    let text = format!(
        r#"Lesson(version: 1, title: "A piece", credit: "a test", {more} {meter}
            shapes: [
                (name: "D", frets: "xx0232", fingers: "---132"),
                (name: "A", frets: "x02220", fingers: "--123-"),
                (name: "G", frets: "320033", fingers: "21--34"),
            ],
            patterns: [(name: "p", grid: "{grid}", strokes: "{p}"), (name: "q", grid: "{grid}", strokes: "{q}")],
            sections: [(name: "Verse", entries: [{entries}])],
        )"#
    );
    match read(text.as_bytes()) {
        Ok(read) => read.lesson,
        Err(found) => panic!("{}", found[0]),
    }
}

pub(crate) fn tempo(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("a tempo")
}

/// A request at 48 kHz without count-in, looped.
pub(crate) fn request(bpm: f64) -> Request {
    let between = Between::Seamless;
    Request {
        id: 1,
        rate: 48_000,
        tempo: tempo(bpm),
        count_in_bars: 0,
        between,
        passes: None,
        clicks: Clicks::default(),
        backing: false,
    }
}

pub(crate) fn compiled(lesson: &Lesson, request: &Request) -> Plan {
    try_compile(lesson, request).expect("it compiles")
}

pub(crate) fn try_compile(lesson: &Lesson, request: &Request) -> Result<Plan, CompileError> {
    let score = layout(lesson, &Stretch::Whole, &Arrangement::default()).expect("it can be laid out");
    compile(lesson, &score, request)
}

/// When an event sounds, in nanoseconds from the start of its segment.
pub(crate) fn nanoseconds(plan: &Plan, event: &Event) -> u64 {
    plan.timeline.grid.nanoseconds(event.at) + u64::from(event.delay_ns)
}
