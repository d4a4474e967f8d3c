//! The changes a looped stretch needs.

use approx::assert_abs_diff_eq;
use sixrung_lesson::{BeatUnit, Score, Stretch, Tempo, layout};
use sixrung_practice::hands::needed_changes;

fn score(entries: &str) -> Score {
    let text = format!(
        r#"Lesson(
            version: 1,
            title: "Changes",
            tempo: 92,
            meter: "4/4",
            shapes: [
                (name: "D", frets: "xx0232", fingers: "---132"),
                (name: "A", frets: "x02220", fingers: "--123-"),
                (name: "G", frets: "320033", fingers: "21--34"),
            ],
            patterns: [
                (name: "plain", grid: "eighths", strokes: "D - D> U - U D> U"),
                (name: "one", grid: "quarters", strokes: "D . . ."),
                (name: "two", grid: "quarters", strokes: "D . ^D ."),
                (name: "early", grid: "eighths", strokes: "D - D U - U - ^U"),
                (name: "knock", grid: "quarters", strokes: "X . X ."),
            ],
            sections: [(name: "Verse", entries: [{entries}])],
        )"#
    );
    let lesson = sixrung_lesson::read(text.as_bytes()).expect("the lesson is well").lesson;
    layout(&lesson, &Stretch::Section("Verse".into()), &lesson.arrangements[0]).expect("it is laid out")
}

/// Rows: from, to, times, shortest in ticks (a quarter is 960).
fn check(entries: &str, expected: &[(&str, &str, u32, u32)]) {
    let score = score(entries);
    let name = |shape: usize| score.shapes[shape].name.as_str();
    let found: Vec<_> = needed_changes(&score)
        .iter()
        .map(|change| (name(change.from), name(change.to), change.times, change.shortest.0))
        .collect();
    assert_eq!(found, expected, "{entries}");
}

#[test]
fn changes_are_counted_around_the_loop() {
    check(
        r#"(chord: "D", pattern: "plain", times: 2), (chord: "A", pattern: "plain", times: 2)"#,
        &[("D", "A", 1, 480), ("A", "D", 1, 480)],
    );
    check(
        r#"(chord: "D", pattern: "one"), (chord: "A", pattern: "plain"), (chord: "D", pattern: "plain"), (chord: "A", pattern: "one"), (chord: "G", pattern: "one")"#,
        &[("D", "A", 2, 480), ("A", "D", 1, 480), ("A", "G", 1, 3840), ("G", "D", 1, 3840)],
    );
    check(r#"(chord: "D", pattern: "plain", times: 4)"#, &[]);
}

#[test]
fn no_way_back_where_the_loop_ends_as_it_begins() {
    check(
        r#"(chord: "D", pattern: "one"), (chord: "A", pattern: "one"), (chord: "D", pattern: "one")"#,
        &[("D", "A", 1, 3840), ("A", "D", 1, 3840)],
    );
}

#[test]
fn changes_within_a_bar_and_early_ones_have_their_own_time() {
    check(r#"(chords: ["D", "G"], pattern: "two")"#, &[("D", "G", 1, 1920), ("G", "D", 1, 1920)]);
    // From the & of 3 to the & of 4; then from the & of 4 to 1, which is no change.
    check(
        r#"(chord: "D", pattern: "early"), (chord: "A", pattern: "plain")"#,
        &[("D", "A", 1, 960), ("A", "D", 1, 480)],
    );
}

#[test]
fn deadened_strings_between_two_shapes_give_time() {
    check(
        r#"(chord: "D", pattern: "one"), (chord: "N.C.", pattern: "knock"), (chord: "A", pattern: "one"), (chord: "N.C.", pattern: "knock"), (chord: "A", pattern: "plain")"#,
        &[("D", "A", 1, 7680), ("A", "D", 1, 480)],
    );
}

#[test]
fn ticks_are_seconds_at_a_tempo() {
    let score = score(r#"(chord: "D", pattern: "plain"), (chord: "A", pattern: "plain")"#);
    let change = needed_changes(&score)[0];
    let tempo = Tempo::from_bpm(92.0).expect("a tempo");
    // Half a quarter at 92 quarters a minute; at 92 eighths a minute a whole beat.
    assert_abs_diff_eq!(change.available_s(tempo, BeatUnit::Quarter), 0.5 * 60.0 / 92.0, epsilon = 1e-9);
    assert_abs_diff_eq!(change.available_s(tempo, BeatUnit::Eighth), 60.0 / 92.0, epsilon = 1e-9);
}
