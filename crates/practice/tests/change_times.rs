//! Times of changes and the tempo they fit, against numbers worked out by hand.

use sixrung_lesson::{BeatUnit, Score, Stretch, layout, read};
use sixrung_practice::{ChangeTimes, beats_between};

fn times(took_s: &[f64]) -> ChangeTimes {
    took_s.iter().copied().collect()
}

#[test]
fn median_and_spread_are_those_of_the_middle() {
    // Sorted .7 .8 .9 1.2 3.0: the middle is .9; deviations .2 .1 0 .3 2.1, sorted 0 .1 .2 .3 2.1: the middle is .2.
    let times = times(&[0.9, 3.0, 0.7, 1.2, 0.8]);
    assert_eq!((times.count(), times.median()), (5, Some(0.9)));
    assert!((times.spread().expect("some") - 0.2).abs() < 1e-12);
    // Of an even number the mean of the middle two.
    assert_eq!(times.newest(2).median(), Some(1.0));
    assert_eq!((ChangeTimes::default().median(), ChangeTimes::default().spread()), (None, None));
}

#[test]
fn what_is_no_time_is_left_out() {
    assert_eq!(times(&[f64::NAN, f64::INFINITY, -0.1, 0.5]).count(), 1);
}

#[test]
fn the_tempo_is_the_fastest_whose_beats_last_as_long() {
    let check = |took_s: f64, beats: f64, bpm: Option<f64>| {
        assert_eq!(times(&[took_s]).fits(beats).map(sixrung_lesson::Tempo::bpm), bpm, "{took_s} s, {beats} beats");
    };
    // G to D in 0.9 s: a beat of 0.9 s is 66.67 a minute, so 66 leaves 0.909 s; a beat and a half: 100 exactly.
    check(0.9, 1.0, Some(66.0));
    check(0.9, 1.5, Some(100.0));
    // 60 / 0.7 = 85.7; half a beat in 0.36 s: 83.33.
    check(0.7, 1.0, Some(85.0));
    check(0.36, 0.5, Some(83.0));
    // Never above the fastest tempo; none so slow that it is no tempo (below 10), none without room.
    check(0.01, 4.0, Some(400.0));
    check(7.0, 1.0, None);
    check(0.9, 0.0, None);
    assert_eq!(ChangeTimes::default().fits(1.0), None);
}

#[test]
fn steady_is_eight_alike_that_no_longer_fall() {
    let check = |took_s: &[f64], steady: bool| assert_eq!(times(took_s).is_steady(), steady, "{took_s:?}");
    check(&[0.9; 7], false);
    check(&[0.9; 8], true);
    // What came long before does not matter.
    check(&[3.0, 2.5, 2.0, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9], true);
    // Median 1.0, deviations .2 but for two: more than 15 %.
    check(&[0.8, 1.2, 0.8, 1.2, 1.0, 0.8, 1.2, 1.0], false);
    // Older four 1.06, newer four 1.0: 5.7 % faster. 1.04 to 1.0 is 3.8 %.
    check(&[1.06, 1.06, 1.06, 1.06, 1.0, 1.0, 1.0, 1.0], false);
    check(&[1.04, 1.04, 1.04, 1.04, 1.0, 1.0, 1.0, 1.0], true);
    // Slower at the end is no longer falling.
    check(&[1.0, 1.0, 1.0, 1.0, 1.06, 1.06, 1.06, 1.06], true);
}

/// Two bars, D then A, of one pattern in eighths.
fn score(strokes: &str) -> Score {
    let text = format!(
        r#"Lesson(
            version: 1, title: "Two", tempo: 80, beat: "quarter", meter: "4/4", key: "D major",
            shapes: [
                (name: "D", frets: "xx0232", fingers: "---132"),
                (name: "A", frets: "x02220", fingers: "--123-"),
            ],
            patterns: [(name: "one", grid: "eighths", strokes: "{strokes}")],
            sections: [(name: "All", entries: [(chord: "D", pattern: "one"), (chord: "A", pattern: "one")])],
            form: ["All"],
        )"#
    );
    let lesson = read(text.as_bytes()).expect("a lesson").lesson;
    layout(&lesson, &Stretch::Section("All".to_owned()), &lesson.arrangements[0]).expect("a score")
}

#[test]
fn beats_run_from_the_last_old_stroke_to_the_first_new_one() {
    let check = |strokes: &str, beat: BeatUnit, beats: f64| {
        assert_eq!(beats_between(&score(strokes), beat, 0, 1), Some(beats), "{strokes}");
    };
    // The last stroke is on 4, the next on 1.
    check("D - D - D - D -", BeatUnit::Quarter, 1.0);
    check("D - D - D - D -", BeatUnit::Half, 0.5);
    check("D - - - - - - -", BeatUnit::Quarter, 4.0);
    // The up-stroke on the last `&` may be open: from the stroke on 4.
    check("D - D U - U D U", BeatUnit::Quarter, 1.0);
    // From the `&` of 3 where 4 is silent and the last `&` is open.
    check("D - D - - U - U", BeatUnit::Quarter, 1.5);
    // An up-stroke further away has to sound the chord, and so has a last down-stroke.
    check("D - D - D - U -", BeatUnit::Quarter, 1.0);
    check("D - D - D - U D", BeatUnit::Quarter, 0.5);
    assert_eq!(beats_between(&score("D - D - D - D -"), BeatUnit::Quarter, 1, 0), None);
}
