//! Where a passage begins, ends and meets itself.

use sixrung_song::{BeatMap, Job, Passage, Slowed, looped, once, slow};
use sixrung_timeline::{Tempo, TempoGrid, Tick};

use crate::made;

const RATE: u32 = 48_000;

fn slowed(bpm: f64) -> Slowed {
    let beats = made::even(113.0, 0.5, 17.0);
    let mut sound = made::drums(&beats, 18.0, RATE, 3);
    made::chord(&mut sound, RATE);
    let map = BeatMap::new(0.5, Tempo::from_bpm(113.0).expect("in range"), &[]).expect("bar 1");
    let grid = TempoGrid::new(RATE, Tempo::from_bpm(bpm).expect("in range"), Tick(960));
    let passage = Passage { grid, from: Tick(4 * 960), length: Tick(8 * 960) };
    slow(&Job { sound: &sound, rate: RATE, map: &map, passage, semitones: 0.0 }, &mut |_| true).expect("in range")
}

/// The largest step from one sample to the next, of either side.
fn largest_step<'a>(frames: impl IntoIterator<Item = &'a [f32; 2]>) -> f32 {
    let frames: Vec<_> = frames.into_iter().collect();
    let step = |pair: &[&[f32; 2]]| (pair[1][0] - pair[0][0]).abs().max((pair[1][1] - pair[0][1]).abs());
    frames.windows(2).map(step).fold(0.0, f32::max)
}

#[test]
fn a_loop_steps_no_further_at_its_seam_than_the_sound_itself_does_around_it() {
    for bpm in [56.5, 68.0, 79.0, 96.0, 113.0] {
        let slowed = slowed(bpm);
        let round = looped(&slowed);
        let length = slowed.pass();
        // The sound's own steps, in the 100 ms on either side of where it is cut, from the recording that runs on.
        let frames = slowed.frames();
        let reach = 4_800;
        let begin = slowed.lead();
        let own = largest_step(&frames[begin..begin + reach])
            .max(largest_step(&frames[begin + length - reach..begin + length]));
        let seam = largest_step(round[length - 200..length].iter().chain(&round[..200]));
        println!("{bpm}: {seam:.4} at the seam, {own:.4} its own");
        assert!(seam <= own, "{bpm}: {seam} at the seam, {own} the sound's own");
        // The last frame goes on into the first as the recording itself does.
        let [before, first] = [frames[begin - 1], frames[begin]];
        let own = (first[0] - before[0]).abs() + 0.02;
        assert!((round[0][0] - round[length - 1][0]).abs() <= own);
        assert_eq!(round[length..], round[..round.len() - length]);
    }
}

#[test]
fn played_once_it_rises_from_silence_and_falls_back_and_is_untouched_between() {
    let slowed = slowed(80.0);
    let (whole, lead, pass) = (slowed.frames().to_vec(), slowed.lead(), slowed.pass());
    let (begins, played) = once(slowed);
    assert_eq!((begins, played.len()), (lead, whole.len()));
    assert_eq!(played[lead..lead + pass], whole[lead..lead + pass]);
    let edge = |frame: &[f32; 2]| frame[0].abs().max(frame[1].abs());
    assert!(edge(&played[0]) < 0.002 && edge(&played[played.len() - 1]) < 0.002);
    // The gain's own step from one frame to the next, at full scale, is all that may come on top.
    let most = 1.0 / 1_000.0;
    assert!(largest_step(&played[..=lead]) <= largest_step(&whole[..=lead]) + most);
    assert!(largest_step(&played[lead + pass..]) <= largest_step(&whole[lead + pass..]) + most);
}
