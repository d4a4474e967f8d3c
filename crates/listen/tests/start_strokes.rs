//! Four muted strokes: when they start a pass, and what does not. Every sound here is made by nothing of ours.

#[path = "common/bystanders.rs"]
mod bystanders;
mod common;

use bystanders::{Bystander, RATE, between, muted, noisy};
use common::{Dice, frames, strummed};
use sixrung_listen::{Listener, StartEar};

/// When the fourth stroke of four was heard, each time.
fn hear(sound: &[f32], block: usize) -> Vec<f64> {
    let mut listener = Listener::new(RATE).expect("a rate we take");
    let mut ear = StartEar::new();
    let blocks = (0_u64..).step_by(block).zip(sound.chunks(block));
    blocks.filter_map(|(frame, block)| ear.take_in(listener.feed(frame, block))).collect()
}

#[test]
fn four_even_muted_strokes_start_at_the_fourth() {
    const TRIES: u32 = 200;
    let mut started = 0;
    for seed in 0..TRIES {
        let dice = &mut Dice(1000 + u64::from(seed));
        let (sound, fourth_s) = muted(2.0, between(dice, 0.35, 1.05), dice);
        let found = hear(&noisy(sound, dice), 512);
        assert!(found.len() <= 1, "seed {seed}: {found:?}");
        match found.first() {
            Some(at_s) => {
                assert!((at_s - fourth_s).abs() < 0.03, "seed {seed}: {at_s} for {fourth_s}");
                started += 1;
            }
            None => println!("seed {seed} did not start"),
        }
    }
    println!("started {started} of {TRIES}");
    assert!(started * 100 >= TRIES * 95, "{started} of {TRIES}");
}

#[test]
fn nothing_else_starts_in_half_an_hour() {
    const LENGTH_S: f64 = 12.0;
    let mut false_starts = Vec::new();
    for kind in Bystander::ALL {
        for seed in 0..15 {
            let dice = &mut Dice(7000 + seed);
            let sound = kind.sound(LENGTH_S, dice);
            let found = hear(&noisy(sound, dice), 512);
            false_starts.extend(found.into_iter().map(|at_s| (kind, seed, at_s)));
        }
    }
    assert!(false_starts.is_empty(), "{false_starts:?}");
}

#[test]
fn three_are_none_five_start_once_and_what_is_uneven_never() {
    let dice = &mut Dice(5);
    let (four, fourth_s) = muted(1.0, 0.6, dice);
    let at = |seconds: f64| frames(seconds * f64::from(RATE));
    let three = &four[..at(fourth_s - 0.1)];
    assert_eq!(hear(three, 512), []);
    // One more of them, as far from the fourth as the others are.
    let more = [&four[..at(fourth_s + 0.5)], &four[at(fourth_s - 0.1)..]].concat();
    assert_eq!(hear(&more, 512).len(), 1);
    // The last a third too late.
    let late = [&four[..at(fourth_s - 0.1)], &vec![0.0; at(0.2)], &four[at(fourth_s - 0.1)..]].concat();
    assert_eq!(hear(&late, 512), []);
    // Four chords that ring, as far apart.
    assert_eq!(hear(&strummed(&[1.0, 1.6, 2.2, 2.8], RATE, 5.0), 512), []);
}

#[test]
fn the_next_four_start_too() {
    let dice = &mut Dice(6);
    let (four, _) = muted(1.0, 0.5, dice);
    assert_eq!(hear(&[&four[..], &four[..]].concat(), 512).len(), 2);
}

#[test]
fn blocks_of_any_length_are_heard_alike() {
    let dice = &mut Dice(7);
    let (four, _) = muted(1.0, 0.5, dice);
    let whole = hear(&four, four.len());
    assert_eq!(whole.len(), 1);
    for length in [1, 64, 999, 8_000] {
        assert_eq!(hear(&four, length), whole, "blocks of {length}");
    }
}

#[test]
fn strokes_around_lost_sound_are_not_put_together() {
    let (four, _) = muted(1.0, 0.5, &mut Dice(8));
    let mut listener = Listener::new(RATE).expect("a rate we take");
    let mut ear = StartEar::new();
    // A hundredth of a second is lost between the second stroke and the third.
    for (from, part) in [(0, &four[..28_000]), (28_160, &four[28_160..])] {
        for (frame, block) in (from..).step_by(400).zip(part.chunks(400)) {
            assert_eq!(ear.take_in(listener.feed(frame, block)), None);
        }
    }
}

#[test]
fn while_we_sound_ourselves_nothing_starts() {
    let (four, _) = muted(2.0, 0.5, &mut Dice(9));
    let square = |frame: usize| if (frame / 20).is_multiple_of(2) { 0.1 } else { -0.1 };
    let starts = |played_until_s: f64| {
        let mut listener = Listener::new(RATE).expect("a rate we take");
        let mut ear = StartEar::new();
        let played: Vec<f32> = (0..four.len())
            .map(|frame| if frame < frames(played_until_s * f64::from(RATE)) { square(frame) } else { 0.0 })
            .collect();
        // What is played is told a twentieth of a second before it may arrive.
        let blocks = (0_u32..).step_by(800).zip(four.chunks(800).zip(played.chunks(800).skip(1)));
        listener.played(0.0, RATE, &played[..800]);
        let heard = |(frame, (block, played)): (u32, (&[f32], &[f32]))| {
            listener.played(f64::from(frame + 800) / f64::from(RATE), RATE, played);
            ear.take_in(listener.feed(u64::from(frame), block))
        };
        blocks.filter_map(heard).count()
    };
    assert_eq!(starts(0.0), 1);
    assert_eq!(starts(1.0), 1);
    assert_eq!(starts(2.2), 0);
    assert_eq!(starts(9.0), 0);
}
