//! The learner's own recording in a timeline: copied to the frame, faded when something else is played.

use std::sync::Arc;

use sixrung_audio::{Command, Part, Prepared, Report, Song};
use sixrung_timeline::{Tick, Timeline};

use crate::hand_made::{clicks, timeline};
use crate::played::{Played, prepared};

const RATE: u32 = 48_000;

/// Frames that tell their own place, never loud enough for the limiter.
fn marked(length: u16) -> Box<[[f32; 2]]> {
    (0..length).map(|n| [f32::from(n) / 131_072.0, -f32::from(n) / 131_072.0]).collect()
}

/// A bar whose pass lies on its second and third beat.
fn counted_in(id: u64, milli_bpm: u32, song: &Arc<Song>) -> Box<Prepared> {
    let bar = timeline(id, RATE, milli_bpm, clicks());
    let bar = Timeline { pass_at: Tick(960), pass: Tick(1920), ..bar };
    Box::new(prepared(bar).with_song(Arc::clone(song)))
}

#[test]
fn every_pass_has_it_on_its_first_frame_its_lead_before_and_its_tail_after() {
    let song = Arc::new(Song::new(1_000, marked(40_000)));
    let mut played = Played::only(RATE, Part::Song);
    // A tempo whose beats are no whole frames.
    played.send(Command::Play(counted_in(1, 137_300, &song)));
    played.run(5 * RATE as usize, 480);
    let left = played.left();
    let mut passes = 0;
    for report in &played.reports {
        let Report::CycleStarted { fine, .. } = report else { continue };
        let grid = timeline(0, RATE, 137_300, Vec::new()).grid;
        let pass = usize::try_from(grid.frame(*fine, 960).0).expect("fits");
        if pass + 39_000 > left.len() {
            continue;
        }
        passes += 1;
        for (n, frame) in marked(40_000).iter().enumerate() {
            assert_eq!(left[pass - 1_000 + n], frame[0], "frame {n} of pass {passes}");
        }
        assert!(left[pass - 1_040..pass - 1_000].iter().all(|sample| *sample == 0.0), "nothing before its lead");
    }
    assert!(passes >= 2, "{passes}");
    assert!(played.sound.chunks_exact(2).all(|frame| frame[0] == -frame[1]), "both sides");
}

#[test]
fn where_nothing_comes_before_the_pass_the_lead_is_left_out() {
    let song = Arc::new(Song::new(300, marked(9_000)));
    let mut played = Played::only(RATE, Part::Song);
    let bar = timeline(1, RATE, 120_000, clicks());
    played.send(Command::Play(Box::new(prepared(bar).with_song(song))));
    played.run(RATE as usize, 480);
    let start = played.started(1);
    assert_eq!(played.left()[start..start + 100], marked(9_000)[300..400].iter().map(|f| f[0]).collect::<Vec<_>>());
}

#[test]
fn what_is_played_over_it_silences_it_without_a_step_and_it_is_freed_at_home() {
    let loud: Box<[[f32; 2]]> = vec![[0.25; 2]; 96_000].into();
    let song = Arc::new(Song::new(0, loud));
    let mut played = Played::only(RATE, Part::Song);
    played.send(Command::Play(counted_in(1, 120_000, &song)));
    played.run(RATE as usize, 480);
    played.play(timeline(2, RATE, 120_000, clicks()));
    let cut = played.sound.len() / 2;
    played.run(RATE as usize / 2, 480);
    let left = played.left();
    assert!(left[cut - 10] > 0.2);
    assert!(left[cut + 3_000..].iter().all(|sample| sample.abs() < 1e-5));
    let steps = left[cut - 10..cut + 3_000].windows(2).map(|pair| (pair[1] - pair[0]).abs()).fold(0.0, f32::max);
    assert!(steps < 0.002, "{steps}");
    assert_eq!(Arc::strong_count(&song), 1, "its timeline came home");
    assert_eq!(played.controls.timelines_out(), 1);
}

#[test]
fn samples_that_are_no_numbers_are_silence() {
    let song = Arc::new(Song::new(0, vec![[f32::NAN, f32::INFINITY]; 4_000].into()));
    let mut played = Played::only(RATE, Part::Song);
    played.send(Command::Play(counted_in(1, 120_000, &song)));
    played.run(RATE as usize, 480);
    assert!(played.sound.iter().all(|sample| *sample == 0.0));
}
