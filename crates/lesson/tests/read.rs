//! What each word of a lesson text comes to in the lesson.

use sixrung_lesson::{
    Action, Arrangement, Barre, BeatUnit, ChordRef, Criterion, Direction, Dynamic, Entry, Exception, Finger, Grid,
    LadderRules, Lesson, Level, Meter, MuteNote, Occasion, Optional, Pattern, Pitch, Play, Section, Shape, StringUse,
    Stroke, Syllable, Tempo, Tuning, WordLine, content_hash, read,
};

const FULL: &str = r#"Lesson(
    version: 1, title: " Two strings more ", credit: "the Tuesday class", tempo: 92.5, beat: "half", meter: "3/4",
    key: "G major", tuning: "B1 E2 A2 D3 G3 B3 E4", capo: 2, count_in: 2,
    shapes: [
        (name: "Bm", frets: "xx24432", fingers: "--13421", stand_in: "Em", mute: { 6: "the thumb" }),
        (name: "Em", frets: "x-0-2-2-0-0-0"),
    ],
    patterns: [
        (name: "waltz", grid: "swung eighths 3:2", strokes: "B> - D, X ^. S"),
        (name: "plain", grid: "quarters", strokes: "D . ."),
    ],
    sections: [(
        name: "Verse",
        entries: [
            (chords: ["Bm", "Em"], pattern: "waltz", times: 3, nth: { 2: (chord: "Em", pattern: "plain") }, last: (chords: ["Em", "N.C."])),
            (optional: "more", fuller: [(chord: "Bm", pattern: "plain")], instead: [(chord: "N.C.", pattern: "waltz", meter: "6/8")]),
        ],
        endings: [[], [(chord: "Em", pattern: "plain")]],
        words: ["Oh ^burn-ing ^"],
    )],
    form: ["Verse", "Verse"],
    arrangements: [(name: "full", options: ["more"], stand_ins: true, capo_shift: 3)],
    ladder: (bpm: [60, 92.5], up_after: 2, down_after: 4),
    clean: (level: "advanced", faults: 3),
)"#;

fn lesson(text: &str) -> Lesson {
    read(text.as_bytes()).unwrap_or_else(|findings| panic!("{findings:?}")).lesson
}

fn tempo(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("a tempo")
}

fn play(pattern: &str, chords: &[&str]) -> Play {
    let chord = |name: &&str| if *name == "N.C." { ChordRef::None } else { ChordRef::Shape((*name).to_owned()) };
    Play { pattern: pattern.to_owned(), chords: chords.iter().map(chord).collect() }
}

fn once(play: Play, meter: Option<Meter>) -> Entry {
    Entry::Played { play, times: 1, exceptions: vec![], meter }
}

#[test]
fn the_head_is_as_written() {
    // In 3/4 with a 6/8 bar among them: equally long, yet other bars, so the option is refused; see below.
    let text = FULL.replace(", meter: \"6/8\"", "");
    let lesson = lesson(&text);
    assert_eq!((lesson.title.as_str(), lesson.credit.as_str()), ("Two strings more", "the Tuesday class"));
    assert_eq!((lesson.tempo, lesson.beat), (tempo(92.5), BeatUnit::Half));
    assert_eq!((Some(lesson.meter), lesson.key.as_str()), (Meter::new(3, 4), "G major"));
    assert_eq!(lesson.tuning, Tuning::new([35, 40, 45, 50, 55, 59, 64].map(Pitch).to_vec()).expect("seven strings"));
    assert_eq!((lesson.capo, lesson.count_in_bars), (2, Some(2)));
    assert_eq!(lesson.form, ["Verse", "Verse"]);
    let plain = Arrangement { name: "plain".to_owned(), ..Arrangement::default() };
    let options = vec!["more".to_owned()];
    let full = Arrangement { name: "full".to_owned(), stand_ins: true, options, capo_shift: 3 };
    assert_eq!(lesson.arrangements, [plain, full]);
    let named = vec![tempo(60.0), tempo(92.5)];
    assert_eq!(lesson.ladder, LadderRules { named, up_after: 2, down_after: 4, ..LadderRules::default() });
    assert_eq!(lesson.criterion, Criterion { level: Level::Advanced, allowed_faults: Some(3) });
    assert_eq!(read(text.as_bytes()).expect("as before").hash, content_hash(text.as_bytes()));
}

#[test]
fn an_option_of_other_bars_is_refused_even_when_equally_long() {
    let findings = read(FULL.as_bytes()).expect_err("one bar of 6/8 is no bar of 3/4");
    let codes: Vec<&str> = findings.iter().map(|finding| finding.code).collect();
    assert_eq!(codes, ["optional-length", "strum-without-chord"], "and the waltz strums where there is no chord");
}

#[test]
fn shapes_are_as_written_with_their_barres() {
    let lesson = lesson(&FULL.replace(", meter: \"6/8\"", ""));
    let fret = StringUse::Fret;
    let (index, middle, ring, little) = (Finger::Index, Finger::Middle, Finger::Ring, Finger::Little);
    let bm = Shape {
        name: "Bm".to_owned(),
        strings: vec![StringUse::Muted, StringUse::Muted, fret(2), fret(4), fret(4), fret(3), fret(2)],
        fingers: vec![None, None, Some(index), Some(ring), Some(little), Some(middle), Some(index)],
        barres: vec![Barre { fret: 2, from: 2, to: 6, finger: index }],
        stand_in: Some("Em".to_owned()),
        mute_notes: vec![MuteNote { string: 1, with: "the thumb".to_owned() }],
    };
    assert_eq!(lesson.shapes[0], bm);
    assert_eq!(
        lesson.shapes[1].strings.iter().map(|string| string.fret()).collect::<Vec<_>>(),
        [None, Some(0), Some(2), Some(2), Some(0), Some(0), Some(0)]
    );
}

#[test]
fn patterns_are_as_written_with_the_pendulum_where_they_leave_it_open() {
    let lesson = lesson(&FULL.replace(", meter: \"6/8\"", ""));
    let (down, up, plain) = (Direction::Down, Direction::Up, Dynamic::Plain);
    let stroke = |action, direction, dynamic, changes| Stroke { action, direction, dynamic, changes };
    let strokes = vec![
        stroke(Action::Bass, down, Dynamic::Accent, false),
        stroke(Action::Air, up, plain, false),
        stroke(Action::Strum, down, Dynamic::Soft, false),
        stroke(Action::Chuck, up, plain, false),
        stroke(Action::Ring, down, plain, true),
        stroke(Action::Stop, up, plain, false),
    ];
    let grid = Grid::SwungEighths { long: 3, short: 2 };
    assert_eq!(lesson.patterns[0], Pattern { name: "waltz".to_owned(), grid, strokes });
}

#[test]
fn sections_are_as_written_with_what_exceptions_leave_out() {
    let lesson = lesson(&FULL.replace(", meter: \"6/8\"", ""));
    let exceptions = vec![
        Exception { on: Occasion::Nth(2), play: play("plain", &["Em"]) },
        Exception { on: Occasion::Last, play: play("waltz", &["Em", "N.C."]) },
    ];
    let first = Entry::Played { play: play("waltz", &["Bm", "Em"]), times: 3, exceptions, meter: None };
    let option = Optional {
        name: "more".to_owned(),
        fuller: vec![once(play("plain", &["Bm"]), None)],
        instead: vec![once(play("waltz", &["N.C."]), None)],
    };
    let syllable = |text: &str, takes_change, ends_word| Syllable { text: text.to_owned(), takes_change, ends_word };
    let syllables = vec![
        syllable("Oh", false, true),
        syllable("burn", true, false),
        syllable("ing", false, true),
        syllable("", true, true),
    ];
    let verse = Section {
        name: "Verse".to_owned(),
        entries: vec![first, Entry::Optional(option)],
        endings: vec![vec![], vec![once(play("plain", &["Em"]), None)]],
        words: vec![WordLine { syllables }],
    };
    assert_eq!(lesson.sections, [verse]);
}

#[test]
fn what_is_left_out_has_the_defaults() {
    let text = r#"Lesson(version: 1, title: "Short", tempo: 60, meter: "6/8",
        patterns: [(name: "rest", grid: "eighths", strokes: ". . . . . .")],
        sections: [
            (name: "B", entries: [(chord: "N.C.", pattern: "rest")]),
            (name: "A", entries: [(chord: "N.C.", pattern: "rest", meter: "3/4")]),
        ])"#;
    let lesson = lesson(text);
    assert_eq!((lesson.credit.as_str(), lesson.key.as_str()), ("", ""));
    assert_eq!(lesson.beat, BeatUnit::DottedQuarter, "the felt beat of 6/8");
    assert_eq!(lesson.tuning, Tuning::standard_guitar());
    assert_eq!((lesson.capo, lesson.count_in_bars), (0, None));
    assert_eq!(lesson.form, ["B", "A"], "each section once, in order");
    assert_eq!(lesson.arrangements, [Arrangement { name: "plain".to_owned(), ..Arrangement::default() }]);
    assert_eq!((lesson.ladder, lesson.criterion), (LadderRules::default(), Criterion::default()));
    assert_eq!(lesson.sections[1].entries, [once(play("rest", &["N.C."]), Meter::new(3, 4))]);
    assert_eq!(lesson.shapes, []);
}
