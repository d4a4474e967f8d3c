//! Lessons built by hand, so that laying out is tested apart from reading.

use sixrung_lesson::{
    Action, Arrangement, BeatUnit, ChordRef, Criterion, Direction, Dynamic, Entry, Exception, Grid, LadderRules,
    Lesson, Meter, Occasion, Optional, Pattern, Play, Section, Shape, StringUse, Stroke, Syllable, Tempo, Tuning,
    WordLine,
};

pub(crate) fn meter(count: u8, unit: u8) -> Meter {
    Meter::new(count, unit).expect("a meter")
}

pub(crate) fn chord(name: &str) -> ChordRef {
    if name == "N.C." { ChordRef::None } else { ChordRef::Shape(name.to_owned()) }
}

/// `D A` with `half`: a pattern on its chords.
pub(crate) fn play(chords: &str, pattern: &str) -> Play {
    Play { pattern: pattern.to_owned(), chords: chords.split(' ').map(chord).collect() }
}

pub(crate) fn times(times: u16, chords: &str, pattern: &str) -> Entry {
    Entry::Played { play: play(chords, pattern), times, exceptions: Vec::new(), meter: None }
}

pub(crate) fn except(times: u16, chords: &str, pattern: &str, exceptions: &[(Occasion, Play)]) -> Entry {
    let exceptions = exceptions.iter().map(|(on, play)| Exception { on: *on, play: play.clone() }).collect();
    Entry::Played { play: play(chords, pattern), times, exceptions, meter: None }
}

pub(crate) fn in_meter(meter: Meter, chords: &str, pattern: &str) -> Entry {
    Entry::Played { play: play(chords, pattern), times: 1, exceptions: Vec::new(), meter: Some(meter) }
}

pub(crate) fn optional(name: &str, fuller: Vec<Entry>, instead: Vec<Entry>) -> Entry {
    Entry::Optional(Optional { name: name.to_owned(), fuller, instead })
}

pub(crate) fn section(name: &str, entries: Vec<Entry>) -> Section {
    Section { name: name.to_owned(), entries, endings: Vec::new(), words: Vec::new() }
}

/// Lines of words: syllables parted by blanks, `^` before one that takes a change.
pub(crate) fn words(lines: &[&str]) -> Vec<WordLine> {
    let syllable = |token: &str| {
        let text = token.trim_start_matches('^').to_owned();
        Syllable { text, takes_change: token.starts_with('^'), ends_word: true }
    };
    lines.iter().map(|line| WordLine { syllables: line.split(' ').map(syllable).collect() }).collect()
}

/// Strokes parted by blanks: `D U X B - . S`, with `^` before a change point.
pub(crate) fn pattern(name: &str, grid: Grid, strokes: &str) -> Pattern {
    let stroke = |token: &str| Stroke {
        action: match token.trim_start_matches('^') {
            "X" => Action::Chuck,
            "B" => Action::Bass,
            "-" => Action::Air,
            "." => Action::Ring,
            "S" => Action::Stop,
            _ => Action::Strum,
        },
        direction: if token.ends_with('U') { Direction::Up } else { Direction::Down },
        dynamic: Dynamic::Plain,
        changes: token.starts_with('^'),
    };
    Pattern { name: name.to_owned(), grid, strokes: strokes.split(' ').map(stroke).collect() }
}

fn shape(name: &str, frets: &str, stand_in: Option<&str>) -> Shape {
    let string = |fret: char| match fret {
        'x' => StringUse::Muted,
        '0' => StringUse::Open,
        fret => StringUse::Fret(u8::try_from(fret.to_digit(10).expect("a fret")).expect("a small fret")),
    };
    let strings: Vec<_> = frets.chars().map(string).collect();
    Shape {
        name: name.to_owned(),
        fingers: vec![None; strings.len()],
        strings,
        barres: Vec::new(),
        stand_in: stand_in.map(str::to_owned),
        mute_notes: Vec::new(),
    }
}

/// A lesson of these sections in this order, with chords D A G Bm Bm7 (which stands in for Bm).
pub(crate) fn lesson(meter: Meter, patterns: Vec<Pattern>, sections: Vec<Section>) -> Lesson {
    Lesson {
        title: String::new(),
        credit: String::new(),
        tempo: Tempo::from_milli_bpm(120_000).expect("a tempo"),
        beat: BeatUnit::Quarter,
        meter,
        key: String::new(),
        tuning: Tuning::standard_guitar(),
        capo: 0,
        count_in_bars: None,
        shapes: vec![
            shape("D", "xx0232", None),
            shape("A", "x02220", None),
            shape("G", "320033", None),
            shape("Bm", "x24432", Some("Bm7")),
            shape("Bm7", "x20202", None),
        ],
        patterns,
        form: sections.iter().map(|section| section.name.clone()).collect(),
        sections,
        arrangements: vec![Arrangement { name: "plain".to_owned(), ..Arrangement::default() }],
        ladder: LadderRules::default(),
        criterion: Criterion::default(),
    }
}
