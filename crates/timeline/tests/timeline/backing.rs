//! The bass and the brushes.

use sixrung_timeline::{Brush, EventKind, Pitch, Request};

use crate::support::{DEMOS, compiled, lesson, request};

/// What sounds at each eighth of the first so many: a bass pitch, `s` a sweep, `t` a tap.
fn played(more: &str, entries: &str, eighths: u32) -> Vec<String> {
    let asked = Request { backing: true, ..request(100.0) };
    let strokes = if more.contains("3/4") { "D - D - D -" } else { "D - D - D - D -" };
    let timeline = compiled(&lesson(more, "eighths", strokes, strokes, entries), &asked).timeline;
    let at = |eighth: u32| {
        let here = timeline.cycle_events.iter().filter(|event| event.at.0 == eighth * 480);
        here.filter_map(|event| match event.kind {
            EventKind::Bass { pitch: Pitch(key), .. } => Some(key.to_string()),
            EventKind::BassStop => Some("-".to_owned()),
            EventKind::Brush { brush: Brush::Sweep, .. } => Some("s".to_owned()),
            EventKind::Brush { brush: Brush::Tap, .. } => Some("t".to_owned()),
            _ => None,
        })
        .collect::<Vec<_>>()
        .join(" ")
    };
    (0..eighths).map(at).collect()
}

#[test]
fn the_bass_has_the_root_on_one_and_three_and_claps_are_on_two_and_four() {
    let common = r#"tempo: 100, meter: "4/4", beat: "quarter","#;
    // D2 is key 38, A1 key 33 (MIDI).
    let bar = played(common, r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#, 16);
    let four = |root: &str| {
        let strong = format!("s {root}");
        [strong.clone(), String::new(), "s t".into(), String::new(), strong, String::new(), "s t".into(), String::new()]
    };
    let sorted = |bar: &[String]| {
        let sorted = bar.iter().map(|at| {
            let mut words: Vec<&str> = at.split(' ').collect();
            words.sort_unstable_by_key(|word| (*word != "s", word.parse::<u8>().is_ok()));
            words.join(" ")
        });
        sorted.collect::<Vec<_>>()
    };
    assert_eq!(sorted(&bar[..8]), four("38"));
    assert_eq!(sorted(&bar[8..]), four("33"));
}

#[test]
fn in_three_the_bass_is_on_one_and_the_brush_answers() {
    let three = r#"tempo: 100, meter: "3/4", beat: "quarter","#;
    let bar = played(three, r#"(chord: "D", pattern: "p")"#, 6);
    assert_eq!(bar.iter().filter(|at| at.contains("38")).count(), 1);
    assert_eq!(bar.iter().filter(|at| at.contains('t')).count(), 2);
    assert!(bar[0].contains("38"));
}

#[test]
fn every_bass_of_the_demos_lies_in_its_octave_and_is_the_chords_own() {
    for (name, text) in DEMOS {
        let lesson = sixrung_lesson::read(text.as_bytes()).expect("a demo").lesson;
        let plan = compiled(&lesson, &Request { backing: true, ..request(90.0) });
        let mut basses = 0;
        for event in &plan.timeline.cycle_events {
            if let EventKind::Bass { pitch: Pitch(key), .. } = event.kind {
                basses += 1;
                assert!((33..45).contains(&key), "{name}: {key}");
            }
        }
        assert!(basses >= plan.cues.len(), "{name}: {basses} bass notes for {} changes", plan.cues.len());
        let without = compiled(&lesson, &request(90.0)).timeline;
        let is_backing =
            |kind: &EventKind| matches!(kind, EventKind::Bass { .. } | EventKind::BassStop | EventKind::Brush { .. });
        assert!(without.cycle_events.iter().all(|event| !is_backing(&event.kind)), "{name}: none unless asked for");
    }
}

#[test]
fn transposed_the_strings_move_and_the_bass_stays_in_its_octave() {
    let (_, text) = DEMOS[0];
    let lesson = sixrung_lesson::read(text.as_bytes()).expect("a demo").lesson;
    let timeline = compiled(&lesson, &Request { backing: true, ..request(90.0) }).timeline;
    for semitones in [-7_i8, -1, 0, 5, 12] {
        let moved = timeline.clone().transposed(semitones);
        for (before, after) in timeline.cycle_events.iter().zip(&moved.cycle_events) {
            let by = i16::from(semitones);
            match (before.kind, after.kind) {
                (EventKind::Pluck { pitch: Pitch(a), .. }, EventKind::Pluck { pitch: Pitch(b), .. }) => {
                    assert_eq!(i16::from(b) - i16::from(a), by);
                }
                (EventKind::Bass { pitch: Pitch(a), .. }, EventKind::Bass { pitch: Pitch(b), .. }) => {
                    assert_eq!((i16::from(b) - i16::from(a) - by).rem_euclid(12), 0);
                    assert!((33..45).contains(&b));
                }
                (before, after) => assert_eq!(before, after),
            }
        }
    }
    let far = timeline.transposed(i8::MAX);
    assert!(far.cycle_events.iter().all(|event| !matches!(event.kind, EventKind::Pluck { pitch: Pitch(128..), .. })));
}

#[test]
fn without_strums_clicks_bass_and_brushes_stay_where_they_were() {
    let (_, text) = DEMOS[0];
    let lesson = sixrung_lesson::read(text.as_bytes()).expect("a demo").lesson;
    let timeline = compiled(&lesson, &Request { backing: true, ..request(90.0) }).timeline;
    let quiet = timeline.clone().without_strums();
    let is_strum = |kind: &EventKind| {
        matches!(kind, EventKind::Pluck { .. } | EventKind::PalmMuted { .. } | EventKind::Chuck { .. })
    };
    let rest: Vec<_> = timeline.cycle_events.iter().filter(|event| !is_strum(&event.kind)).copied().collect();
    assert!(rest.len() < timeline.cycle_events.len());
    assert_eq!(quiet.cycle_events[..], rest[..]);
    assert_eq!((quiet.cycle, quiet.pass_at, quiet.pass), (timeline.cycle, timeline.pass_at, timeline.pass));
}
