//! A metronome is exact or it is nothing.

use sixrung_audio::{Command, Decibels, Part, Render, RenderOptions, Report};
use sixrung_timeline::FineFrames;

use crate::hand_made::{clicks, timeline};
use crate::played::{Played, prepared};

/// Frames at which sound begins after silence, every beat's sound being the same as the first of its kind.
fn onsets(mut blocks: impl FnMut(&mut [f32]) -> usize) -> Vec<u64> {
    const SILENCE: u64 = 400;
    let (mut onsets, mut quiet, mut at) = (Vec::new(), SILENCE, 0_u64);
    let mut block = vec![0.0; 2 * 4801];
    loop {
        let made = blocks(&mut block);
        if made == 0 {
            return onsets;
        }
        for frame in block[..2 * made].chunks_exact(2) {
            if frame[0] == 0.0 {
                quiet += 1;
            } else {
                if quiet >= SILENCE {
                    onsets.push(at);
                }
                quiet = 0;
            }
            at += 1;
        }
    }
}

/// Frames from the start to beat `beat`, as a fraction: `60 · rate · beat / bpm`.
fn exact(rate: u32, milli_bpm: u32, beat: usize) -> f64 {
    60_000.0 * f64::from(rate) * beat as f64 / f64::from(milli_bpm)
}

fn check(rate: u32, milli_bpm: u32, minutes: u32) {
    let mut bars = timeline(1, rate, milli_bpm, clicks());
    let beats = minutes * milli_bpm / 1000 / 4 * 4;
    bars.passes = Some(beats / 4);
    let options = RenderOptions { guitar: Decibels::SILENCE, ..RenderOptions::default() };
    let mut render = Render::new(bars, &options).expect("it ends");
    let found = onsets(|block| render.next_block(block));
    assert_eq!(found.len(), beats as usize);
    for (beat, onset) in found.into_iter().enumerate() {
        let off = onset as f64 - exact(rate, milli_bpm, beat);
        assert!(off.abs() <= 0.5, "beat {beat}: {off} samples");
    }
}

#[test]
fn every_click_of_ten_minutes_lies_within_half_a_sample_at_44100() {
    check(44_100, 137_300, 10);
}

#[test]
fn every_click_of_ten_minutes_lies_within_half_a_sample_at_48000() {
    check(48_000, 137_300, 10);
}

#[test]
fn a_tempo_change_at_the_end_of_a_cycle_carries_the_position_unrounded() {
    let (rate, slow, fast) = (44_100, 137_300, 143_700);
    let mut played = Played::only(rate, Part::Click);
    played.play(timeline(1, rate, slow, clicks()));
    played.run(4 * rate as usize, 480);
    played.send(Command::PlayNext(prepared(timeline(2, rate, fast, clicks()))));
    played.run(8 * rate as usize, 480);

    let mut sound = played.left().into_iter();
    let found = onsets(|block| {
        let frames = block.chunks_exact_mut(2).zip(&mut sound).map(|(frame, sample)| frame.fill(sample));
        frames.count()
    });
    let start = played.started(1) as f64;
    // The first timeline is asked to end during its third cycle of four beats.
    let seam = start + exact(rate, slow, 12);
    for (beat, onset) in found.into_iter().enumerate() {
        let expected = if beat < 12 { start + exact(rate, slow, beat) } else { seam + exact(rate, fast, beat - 12) };
        assert!((onset as f64 - expected).abs() <= 0.5, "beat {beat}: {onset} for {expected}");
    }
    let cycles: Vec<(u64, u64, FineFrames)> = played
        .reports
        .iter()
        .filter_map(|report| match report {
            Report::CycleStarted { id, cycle, fine, .. } => Some((*id, *cycle, *fine)),
            _ => None,
        })
        .collect();
    let ids: Vec<(u64, u64)> = cycles.iter().map(|(id, cycle, _)| (*id, *cycle)).collect();
    assert_eq!(ids[..5], [(1, 0), (1, 1), (1, 2), (2, 0), (2, 1)]);
    let grid = timeline(1, rate, slow, Vec::new()).grid;
    assert_eq!(cycles[3].2, grid.fine(cycles[0].2, 12 * 960));
}

#[test]
fn no_click_is_louder_than_six_decibels_under_full_scale() {
    let mut bars = timeline(1, 48_000, 100_000, clicks());
    bars.passes = Some(1);
    let sound = Render::new(bars, &RenderOptions::default()).expect("it ends").samples();
    let peak = sound.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
    assert!((0.4..=0.5012).contains(&peak), "{peak}");
}
