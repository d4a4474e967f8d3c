//! Shapes against a published chord collection: what they sound, and that nothing is said against them.

use sixrung_lesson::{Pitch, Read, Tuning, content_hash, frets_text, read};

/// Source, version and licence stand at the head of the file.
const SHAPES: &str = include_str!("data/chord-shapes.txt");

struct Row {
    name: &'static str,
    frets: &'static str,
    fingers: &'static str,
    keys: Vec<u8>,
    warnings: Vec<&'static str>,
}

fn rows() -> Vec<Row> {
    let row = |line: &'static str| {
        let [shape, keys, warnings] = line.split('|').collect::<Vec<_>>()[..] else { panic!("three columns: {line}") };
        let [name, frets, fingers] = shape.split_whitespace().collect::<Vec<_>>()[..] else { panic!("{line}") };
        let keys = keys.split_whitespace().map(|key| key.parse().expect("a MIDI key")).collect();
        Row { name, frets, fingers, keys, warnings: warnings.split_whitespace().collect() }
    };
    SHAPES.lines().filter(|line| !line.starts_with("# ")).map(row).collect()
}

fn lesson_with(head: &str, shape: &str) -> Read {
    let text = format!(
        "Lesson(version: 1, title: \"One shape\", tempo: 90, meter: \"4/4\", {head} shapes: [{shape}],
        patterns: [(name: \"rest\", grid: \"quarters\", strokes: \". . . .\")],
        sections: [(name: \"All\", entries: [(chord: \"N.C.\", pattern: \"rest\")])])"
    );
    read(text.as_bytes()).unwrap_or_else(|findings| panic!("{shape}: {findings:?}"))
}

#[test]
fn published_shapes_sound_their_published_keys() {
    let rows = rows();
    assert_eq!(rows.len(), 103);
    for row in rows {
        let shape = format!("(name: \"{}\", frets: \"{}\", fingers: \"{}\")", row.name, row.frets, row.fingers);
        let lesson = lesson_with("", &shape).lesson;
        let pitches = lesson.shapes[0].pitches(&lesson.tuning, lesson.capo);
        let keys: Vec<u8> = pitches.into_iter().flatten().map(|pitch| pitch.0).collect();
        assert_eq!(keys, row.keys, "{}", row.name);
        assert_eq!(frets_text(&lesson.shapes[0].strings), row.frets, "{}", row.name);
    }
}

#[test]
fn published_shapes_are_warned_of_only_where_their_names_do_not_fit() {
    let mut warned = 0;
    for row in rows() {
        let shape = format!("(name: \"{}\", frets: \"{}\", fingers: \"{}\")", row.name, row.frets, row.fingers);
        let mut codes: Vec<&str> = lesson_with("", &shape).warnings.iter().map(|finding| finding.code).collect();
        codes.sort_unstable();
        assert_eq!(codes, row.warnings, "{} {}", row.name, row.frets);
        warned += usize::from(!codes.is_empty());
    }
    assert_eq!(warned, 10);
}

/// MIDI keys of standard guitar tuning, E2 A2 D3 G3 B3 E4 (MIDI 1.0: 60 is middle C, C4).
#[test]
fn standard_tuning_has_the_keys_of_the_midi_standard() {
    let lesson = lesson_with("", "").lesson;
    assert_eq!(lesson.tuning.open(), [40, 45, 50, 55, 59, 64].map(Pitch));
    assert_eq!(lesson.tuning, Tuning::standard_guitar());
    assert_eq!(lesson_with("tuning: \"E2 A2 D3 G3 B3 E4\",", "").lesson.tuning, Tuning::standard_guitar());
}

/// Capo 2 and shape G sound A: every key is two higher.
#[test]
fn a_capo_raises_what_sounds_and_not_what_is_named() {
    let g = "(name: \"G\", frets: \"320003\")";
    let plain = lesson_with("", g);
    let raised = lesson_with("capo: 2,", g);
    assert!(raised.warnings.is_empty());
    let keys = |read: &Read| read.lesson.shapes[0].pitches(&read.lesson.tuning, read.lesson.capo);
    let up: Vec<Option<Pitch>> = keys(&plain).into_iter().map(|pitch| pitch.map(|pitch| pitch.up(2))).collect();
    assert_eq!(keys(&raised), up);
}

/// FNV-1a 64 test vectors of IETF RFC 9923 and of the authors' reference code.
#[test]
fn the_fingerprint_is_fnv_1a() {
    assert_eq!(content_hash(b""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(content_hash(b"a"), 0xaf63_dc4c_8601_ec8c);
    assert_eq!(content_hash(b"foobar"), 0x8594_4171_f739_67e8);
}
