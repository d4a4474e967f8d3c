//! Beats proposed for sounds whose beats are known because they were made so.

use sixrung_song::{Anchor, BeatMap, Proposal, propose};
use sixrung_timeline::Tempo;

use crate::made::{self, Noise};

const RATE: u32 = 44_100;

fn mono(sound: &[[f32; 2]]) -> Vec<f32> {
    sound.iter().map(|frame| f32::midpoint(frame[0], frame[1])).collect()
}

fn proposed(sound: &[[f32; 2]], rate: u32, near: Option<f64>) -> Proposal {
    let near = near.and_then(Tempo::from_bpm);
    propose(&mono(sound), rate, near, &mut |_| true).expect("there is a beat in it")
}

/// Share of the wanted beats that have a found one within 25 ms, and of the found ones that have a wanted one.
#[expect(clippy::cast_precision_loss, reason = "counts")]
fn agreement(found: &[f64], wanted: &[f64]) -> (f64, f64) {
    let near = |at: &f64, others: &[f64]| others.iter().any(|other| (other - at).abs() <= 0.025);
    let hit = wanted.iter().filter(|at| near(at, found)).count() as f64;
    let right = found.iter().filter(|at| near(at, wanted)).count() as f64;
    (hit / wanted.len() as f64, right / found.len().max(1) as f64)
}

#[test]
fn beats_of_click_trains_are_found_within_a_millisecond() {
    for rate in [22_050, 44_100, 48_000] {
        for bpm in [66.0, 92.0, 126.0, 171.0] {
            let beats = made::even(bpm, 1.3, 28.0);
            let sound = made::clicks(&beats, 30.0, rate);
            let found = proposed(&sound, rate, Some(bpm * 1.04));
            assert!((found.tempo.bpm() - bpm).abs() < 0.002 * bpm, "{bpm} at {rate}: {}", found.tempo.bpm());
            let off = |at: &f64| beats.iter().map(|beat| at - beat).min_by(|a, b| a.abs().total_cmp(&b.abs()));
            let offs: Vec<f64> = found.beats_s.iter().filter_map(off).collect();
            let worst = offs.iter().fold(0.0_f64, |worst, off| worst.max(off.abs()));
            println!("{bpm} at {rate}: {:.1} ms worst, strength {:.1}", worst * 1000.0, found.strength);
            assert!(worst < 0.001, "{bpm} at {rate}: {worst} s off");
            assert!(found.beats_s.len().abs_diff(beats.len()) <= 1, "{} of {}", found.beats_s.len(), beats.len());
            assert!(found.strength > 2.0, "{}", found.strength);
        }
    }
}

#[test]
fn a_recording_cut_to_its_first_beat_has_that_beat() {
    let beats = made::even(100.0, 0.0, 20.0);
    for sound in [made::clicks(&beats, 20.0, RATE), made::drums(&beats, 20.0, RATE, 11)] {
        let found = proposed(&sound, RATE, Some(98.0));
        assert!(found.beats_s[0] < 0.002, "{:?}", &found.beats_s[..2]);
        assert_eq!(found.beats_s.len(), beats.len());
    }
}

#[test]
fn beats_of_drums_are_found_with_and_without_the_lessons_word() {
    for (seed, bpm) in [(1, 84.0), (2, 104.0), (3, 126.0), (4, 143.0)] {
        let beats = made::even(bpm, 0.7, 24.0);
        let mut sound = made::drums(&beats, 25.0, RATE, seed);
        made::chord(&mut sound, RATE);
        for near in [None, Some(bpm * 0.97)] {
            let found = proposed(&sound, RATE, near);
            // The chord rings on after the last drum, and beats with it.
            let drummed = |at: &&f64| (beats[0] - 0.1..beats[beats.len() - 1] + 0.1).contains(*at);
            let counted: Vec<f64> = found.beats_s.iter().filter(drummed).copied().collect();
            let (hit, right) = agreement(&counted, &beats);
            println!("{bpm}, {near:?}: {:.2} bpm, hit {hit:.3}, right {right:.3}", found.tempo.bpm());
            // Which of two octaves a listener taps is no fact of the sound; the lesson's word settles it.
            let octave = if near.is_some() { 1.0 } else { (found.tempo.bpm() / bpm).log2().round().exp2() };
            let off = found.tempo.bpm() / octave - bpm;
            assert!(off.abs() < 0.005 * bpm, "{bpm}, {near:?}: {}", found.tempo.bpm());
            assert!(hit > 0.95 || octave < 1.0, "{bpm}, {near:?}: {hit}");
            assert!(right > 0.95 || octave > 1.0, "{bpm}, {near:?}: {right}");
        }
    }
}

#[test]
fn players_who_drift_are_followed_and_a_few_anchors_say_where() {
    // From 112 to 121 in the course of half a minute, every beat shaken by up to 6 ms.
    let mut noise = Noise(7);
    let mut at = 0.9;
    let mut beats = Vec::new();
    while at < 34.0 {
        beats.push(at + 0.006 * noise.next());
        at += 60.0 / (112.0 + 9.0 * at / 34.0);
    }
    let sound = made::drums(&beats, 35.0, RATE, 9);
    let found = proposed(&sound, RATE, Some(116.0));
    let (hit, right) = agreement(&found.beats_s, &beats);
    assert!(hit > 0.95 && right > 0.95, "{hit} {right}");
    let anchors = found.anchors(0.015);
    assert!(anchors.len() <= 24, "{} anchors", anchors.len());
    let map = BeatMap::new(anchors[0].at_s, found.tempo, &anchors[1..]).expect("in order");
    let off = |(beat, at): (i32, &f64)| (map.at(f64::from(beat)) - at).abs();
    let worst = (0..).zip(&found.beats_s).map(off).fold(0.0, f64::max);
    println!("{} anchors, {:.1} ms worst", anchors.len(), worst * 1000.0);
    assert!(worst <= 0.0151, "{worst}");
    assert!(anchors.iter().all(|anchor| matches!(anchor, Anchor { beat: 0.., .. })));
}

#[test]
fn where_nothing_begins_nothing_is_proposed() {
    let quiet = vec![0.0; 44_100 * 10];
    #[expect(clippy::cast_possible_truncation, reason = "test samples")]
    let hum: Vec<f32> = (0_u32..441_000).map(|n| (f64::from(n) * 0.0143).sin() as f32).collect();
    let broken = vec![f32::NAN; 441_000];
    for (what, sound) in
        [("silence", &quiet[..]), ("no numbers", &broken), ("too short", &hum[..30_000]), ("none", &[])]
    {
        assert_eq!(propose(sound, RATE, None, &mut |_| true), None, "{what}");
    }
    if let Some(found) = propose(&hum, RATE, None, &mut |_| true) {
        assert!(found.strength < 1.0, "a hum has no beat worth trusting: {}", found.strength);
    }
    assert_eq!(propose(&hum, RATE, None, &mut |_| false), None, "told to stop");
}
