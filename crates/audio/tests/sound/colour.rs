//! How a string sounds: brightness, attack, decay.

use realfft::RealFftPlanner;
use sixrung_timeline::{Direction, Event, EventKind, Pitch, Tick};

use crate::hand_made::{OPEN, pluck, timeline};
use crate::played::Played;

const RATE: u32 = 48_000;

/// Two seconds of one string, from its pluck.
fn string(index: usize, velocity: f32) -> Vec<f32> {
    sound_of(pluck(0, u8::try_from(index).expect("six"), OPEN[index], velocity))
}

/// Two seconds of one event.
fn sound_of(event: Event) -> Vec<f32> {
    let events = vec![event];
    let mut bar = timeline(1, RATE, 60_000, events);
    bar.cycle = Tick(96_000);
    let mut played = Played::new(RATE);
    played.play(bar);
    played.run(2 * RATE as usize + 4000, 480);
    played.left().split_off(played.started(1))
}

/// Where the middle of the spectrum lies, in hertz, over 4096 samples from `from`, by Hann window.
fn centroid(sound: &[f32], from: usize) -> f64 {
    const SIZE: usize = 4096;
    let fft = RealFftPlanner::<f64>::new().plan_fft_forward(SIZE);
    let mut input: Vec<f64> = sound[from..from + SIZE]
        .iter()
        .enumerate()
        .map(|(index, sample)| f64::from(*sample) * (std::f64::consts::PI * index as f64 / SIZE as f64).sin().powi(2))
        .collect();
    let mut spectrum = fft.make_output_vec();
    fft.process(&mut input, &mut spectrum).expect("the lengths fit");
    let levels = spectrum.iter().map(|bin| bin.norm());
    let total: f64 = levels.clone().sum();
    levels.enumerate().map(|(bin, level)| bin as f64 * level).sum::<f64>() / total * f64::from(RATE) / SIZE as f64
}

fn power(sound: &[f32]) -> f64 {
    sound.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / sound.len() as f64
}

/// Jaffe & Smith 1983: the level of a pluck changes its spectrum, not only its size.
#[test]
fn a_harder_stroke_is_brighter_as_well_as_louder() {
    for index in 0..6 {
        let (soft, hard) = (string(index, 0.3), string(index, 0.9));
        assert!(power(&hard) > 4.0 * power(&soft), "string {index}");
        assert!(centroid(&hard, 0) > 1.1 * centroid(&soft, 0), "string {index}");
    }
}

/// Measured on the steel samples of the Debian package fluid-soundfont-gm: all but one string lose brightness from 10
/// to 300 ms.
#[test]
fn brightness_falls_in_the_first_300_ms() {
    for index in 0..6 {
        let sound = string(index, 0.8);
        let (early, late) = (centroid(&sound, 480), centroid(&sound, 14_400));
        assert!(late < 0.95 * early, "string {index}: {early:.0} Hz, then {late:.0} Hz");
    }
}

/// A step-1 band of ours around the decay times given for the strings, 6 to 9 s at the fundamental.
#[test]
fn a_string_rings_for_seconds() {
    for index in 0..6 {
        let sound = string(index, 0.8);
        let second = RATE as usize;
        let fall = 10.0 * (power(&sound[second / 2..second]) / power(&sound[3 * second / 2..2 * second])).log10();
        assert!((5.0..16.0).contains(&fall), "string {index} falls by {fall:.1} dB in a second");
    }
}

/// A design choice of ours: a deadened string starts with a burst at 1.5 to 5 kHz and is soon over. What is left after
/// 120 ms is the box, which rings longer than the string.
#[test]
fn a_chuck_is_short_and_bright() {
    for string in 0..6 {
        let kind = EventKind::Chuck { string, velocity: 0.8, direction: Direction::Down };
        let sound = sound_of(Event { at: Tick::ZERO, delay_ns: 0, kind });
        let fall = 10.0 * (power(&sound[..960]) / power(&sound[5760..6720])).log10();
        assert!(fall > 33.0, "string {string} falls by {fall:.0} dB in 120 ms");
        assert!(centroid(&sound, 0) > 1200.0, "string {string}: {:.0} Hz", centroid(&sound, 0));
    }
}

/// A design choice of ours after recorded palm-muted notes: over within a second, and duller than the open string.
#[test]
fn under_a_palm_a_string_is_short_and_dull_but_keeps_its_pitch() {
    for (index, key) in OPEN.into_iter().enumerate() {
        let (number, pitch) = (u8::try_from(index).expect("six"), Pitch(key));
        let kind = EventKind::PalmMuted { string: number, pitch, velocity: 0.8, direction: Direction::Down };
        let (muted, open) = (sound_of(Event { at: Tick::ZERO, delay_ns: 0, kind }), string(index, 0.8));
        let fall = |sound: &[f32]| 10.0 * (power(&sound[4_800..9_600]) / power(&sound[28_800..33_600])).log10();
        assert!(fall(&muted) > 25.0 && fall(&muted) > 3.0 * fall(&open), "string {index}: {:.0} dB", fall(&muted));
        assert!(centroid(&muted, 0) < 0.9 * centroid(&open, 0), "string {index}");
        assert!(power(&muted[..4_800]) > 0.2 * power(&open[..4_800]), "string {index} is still heard");
        let (at_pitch, beside) = (level_at(&muted, pitch.hertz()), level_at(&muted, pitch.hertz() * 1.12));
        assert!(at_pitch > 3.0 * beside, "string {index}: {at_pitch} at its pitch, {beside} a tone above");
    }
}

/// The level of one frequency over the first half second, by Hann window.
fn level_at(sound: &[f32], hertz: f64) -> f64 {
    let (mut re, mut im) = (0.0, 0.0);
    for (index, sample) in sound.iter().take(RATE as usize / 2).enumerate() {
        let window = (std::f64::consts::PI * index as f64 / f64::from(RATE / 2)).sin().powi(2);
        let angle = std::f64::consts::TAU * hertz * index as f64 / f64::from(RATE);
        re += window * f64::from(*sample) * angle.cos();
        im += window * f64::from(*sample) * angle.sin();
    }
    re.hypot(im)
}
