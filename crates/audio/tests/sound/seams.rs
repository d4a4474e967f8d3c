//! No step that the music did not make: at a loop's seam, when a hand stops a string, when a gain moves, at the end.

use sixrung_audio::{Command, Decibels, Part};
use sixrung_timeline::{Event, EventKind, Tick};

use crate::hand_made::{busy_bar, pluck, timeline};
use crate::played::{Played, largest_step, prepared};

const RATE: u32 = 48_000;
const SECOND: usize = RATE as usize;

/// A string rings; after a second `command` is given. The second that follows holds no step larger than the one before.
fn check(command: Option<Command>, events: Vec<Event>) -> Vec<f32> {
    let mut bar = timeline(1, RATE, 120_000, events);
    bar.cycle = Tick(19_200);
    let mut played = Played::new(RATE);
    played.play(bar);
    played.run(SECOND, 64);
    if let Some(command) = command {
        played.send(command);
    }
    played.run(SECOND, 64);
    let (before, after) = (&played.left()[SECOND / 2..SECOND], &played.left()[SECOND..]);
    let (own, found) = (largest_step(before), largest_step(after));
    assert!(own > 1e-3, "something sounds");
    assert!(found <= own, "a step of {found} after one of {own}");
    after.to_vec()
}

fn ringing() -> Vec<Event> {
    vec![pluck(0, 0, 40, 1.0), pluck(0, 3, 55, 1.0), pluck(0, 5, 64, 1.0)]
}

#[test]
fn stopping_closes_without_a_step_and_ends_in_silence() {
    let after = check(Some(Command::Stop), ringing());
    let ramp = SECOND * 6 / 100;
    assert!(after[..ramp * 8 / 10].iter().rev().take(100).any(|sample| *sample != 0.0), "it takes 60 ms");
    assert!(after[ramp + 200..].iter().all(|sample| *sample == 0.0), "and then it is silent");
}

#[test]
fn gains_move_without_a_step() {
    check(Some(Command::Gain(Part::Guitar, Decibels(-40.0))), ringing());
    check(Some(Command::Master(Decibels::SILENCE)), ringing());
    check(Some(Command::Mute), ringing());
}

#[test]
fn a_hand_stops_the_strings_without_a_step() {
    let damp = |string| Event { at: Tick(2100), delay_ns: 0, kind: EventKind::Damp { string } };
    let mut events = ringing();
    events.extend([0, 3, 5].map(damp));
    let after = check(None, events);
    let late = &after[SECOND / 2..SECOND * 6 / 10];
    assert!(late.iter().all(|sample| sample.abs() < 1e-3), "the hand has stopped them");
}

#[test]
fn a_swap_in_full_sound_makes_no_step() {
    check(Some(Command::Play(prepared(timeline(2, RATE, 100_000, Vec::new())))), ringing());
}

#[test]
fn a_string_struck_again_makes_no_larger_step_than_both_its_notes_together() {
    let left = |events| {
        let mut played = Played::new(RATE);
        played.play(timeline(1, RATE, 120_000, events));
        played.run(2 * SECOND, 64);
        played.left().split_off(played.started(1))
    };
    let again = SECOND / 2;
    for key in [40, 41, 47] {
        let both = left(vec![pluck(0, 0, 40, 1.0), pluck(960, 0, key, 1.0)]);
        let (old, new) = (left(vec![pluck(0, 0, 40, 1.0)]), left(vec![pluck(960, 0, key, 1.0)]));
        let allowed = largest_step(&old[again - 2000..again]) + largest_step(&new[again..]);
        let found = largest_step(&both[again - 1..]);
        assert!(found <= allowed, "{found} for {allowed}, key {key}");
        assert!(largest_step(&both[again - 1..again + 20]) <= largest_step(&old[again - 2000..again]), "key {key}");
    }
}

/// The same music as one long cycle, as short ones, and as timelines that follow each other.
#[test]
fn a_loop_has_no_seam_at_all() {
    let sound = |cycle: u32, next: bool| {
        let mut music = timeline(1, RATE, 120_000, Vec::new());
        (music.intro, music.intro_events) = (Tick(960), ringing().into());
        music.cycle = Tick(cycle);
        let mut played = Played::new(RATE);
        played.play(music);
        if next {
            let mut follows = timeline(2, RATE, 120_000, Vec::new());
            follows.cycle = Tick(cycle);
            played.send(Command::PlayNext(prepared(follows)));
        }
        played.run(3 * SECOND, 480);
        played.sound
    };
    let whole = sound(96_000, false);
    assert!(whole == sound(960, false), "looped");
    assert!(whole == sound(961, true), "swapped");
}

#[test]
fn the_blocks_asked_for_change_nothing() {
    let sound = |block| {
        let mut played = Played::new(RATE);
        played.play(timeline(1, RATE, 137_300, busy_bar()));
        played.send(Command::PlayNext(prepared(timeline(2, RATE, 91_700, busy_bar()))));
        played.run(6 * SECOND, block);
        played.sound.into_iter().map(f32::to_bits).collect::<Vec<_>>()
    };
    let expected = sound(64);
    for block in [1, 480, 682, 4096] {
        assert!(sound(block) == expected, "blocks of {block}");
    }
}

#[test]
fn what_has_rung_out_is_exactly_silent() {
    let mut bar = timeline(1, RATE, 120_000, busy_bar());
    bar.passes = Some(1);
    bar.cycle_events = ringing().into();
    let mut played = Played::new(RATE);
    played.play(bar);
    played.run(60 * SECOND, 1024);
    assert!(played.sound[100 * SECOND..].iter().all(|sample| sample.to_bits() == 0), "after 50 s");
    assert_eq!(played.controls.timelines_out(), 0, "and its timeline has come home");
}

#[test]
fn nothing_passes_the_ceiling() {
    let mut played = Played::new(RATE);
    for part in Part::ALL {
        played.send(Command::Gain(part, Decibels(12.0)));
    }
    played.send(Command::Master(Decibels(12.0)));
    played.play(timeline(1, RATE, 120_000, busy_bar()));
    played.run(4 * SECOND, 480);
    let peak = played.sound.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
    // −1 dBFS = 0.8913.
    assert!((0.85..=0.8913).contains(&peak), "{peak}");
}
