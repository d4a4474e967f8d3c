//! Time is exact: beat n lies at round(n·60·rate/bpm), and nothing adds up however long it plays. The closed form is
//! arithmetic; it is checked here against exact rationals.

use sixrung_lesson::{TICKS_PER_QUARTER, Tick};
use sixrung_timeline::{EventKind, FineFrames, Frames, TempoGrid, expected_seconds};

use crate::support::{compiled, demos, request, tempo};

const RATES: [u32; 3] = [44_100, 48_000, 96_000];
const TEMPI: [f64; 6] = [40.0, 76.0, 93.0, 126.0, 137.3, 240.0];
const QUARTER: Tick = Tick(TICKS_PER_QUARTER);

/// Whether `frame` is within half a frame of beat `n`: |frame − n·60000·rate/milli| ≤ ½.
fn within_half_a_frame(frame: Frames, n: u64, rate: u32, milli_bpm: u32) -> bool {
    let milli = u128::from(milli_bpm);
    let exact = u128::from(n) * 60_000 * u128::from(rate);
    2 * (u128::from(frame.0) * milli).abs_diff(exact) <= milli
}

#[test]
fn every_beat_of_ten_hours_is_within_half_a_frame() {
    for rate in RATES {
        for bpm in TEMPI {
            let grid = TempoGrid::new(rate, tempo(bpm), QUARTER);
            let beats = (bpm * 600.0) as u64;
            for n in 0..=beats {
                let frame = grid.frame(FineFrames::default(), n * u64::from(QUARTER.0));
                assert!(within_half_a_frame(frame, n, rate, tempo(bpm).milli_bpm()), "beat {n} at {bpm}, {rate} Hz");
            }
        }
    }
}

#[test]
fn looped_for_ten_hours_every_click_is_within_half_a_frame() {
    let lantern = demos().next().expect("a demo");
    for rate in RATES {
        let timeline = compiled(&lantern, &sixrung_timeline::Request { rate, ..request(137.3) }).timeline;
        let clicks = timeline.cycle_events.iter().filter(|event| matches!(event.kind, EventKind::Click(_)));
        let clicks: Vec<u64> = clicks.map(|event| u64::from(event.at.0)).collect();
        let mut beat = 0;
        for cycle in 0.. {
            for click in &clicks {
                let frame = timeline.grid.frame(FineFrames::default(), timeline.cycle_start(cycle) + click);
                assert!(within_half_a_frame(frame, beat, rate, 137_300), "beat {beat}, {rate} Hz");
                beat += 1;
            }
            if beat > 82_380 {
                break;
            }
        }
    }
}

#[test]
fn a_hundred_thousand_changes_of_tempo_do_not_drift() {
    let (rate, changes) = (44_100, 99_999);
    // Lengths that leave a fraction of a frame at each tempo.
    let segments = [(93_000_u128, 30_720_u128), (137_300, 11_520), (126_000, 2_881)];
    let grids = segments.map(|(milli, _)| TempoGrid::new(rate, tempo(milli as f64 / 1000.0), QUARTER));
    let mut anchor = FineFrames::default();
    for change in 0..changes {
        anchor = grids[change % 3].fine(anchor, segments[change % 3].1 as u64);
    }
    let each = changes as u128 / 3;
    let denominator: u128 = segments.iter().map(|(milli, _)| milli * 960).product();
    let share = |&(milli, ticks): &(u128, u128)| denominator / (milli * 960) * ticks * 60_000 * u128::from(rate);
    let exact = each * segments.iter().map(share).sum::<u128>();
    let off = (u128::from(anchor.round().0) * denominator).abs_diff(exact);
    // Half a frame for the one rounding shown; 10⁵ roundings of 2⁻⁴¹ frame add at most 5·10⁻⁸.
    assert!(off <= denominator / 2 + denominator / 10_000_000, "{} frames off", off as f64 / denominator as f64);
}

#[test]
fn strokes_are_expected_at_the_frames_their_first_strings_sound() {
    for lesson in demos() {
        let plan = compiled(&lesson, &request(101.7));
        let timeline = &plan.timeline;
        let anchor = timeline.grid.fine(FineFrames::from_frames(Frames(12_345)), 7);
        let anchor = timeline.grid.fine(anchor, timeline.cycle_start(1000));
        let first_strings: Vec<f64> = timeline
            .cycle_events
            .iter()
            .filter(|event| event.delay_ns == 0)
            .filter(|event| matches!(event.kind, EventKind::Pluck { .. } | EventKind::Chuck { .. }))
            .map(|event| timeline.grid.frame(anchor, u64::from(event.at.0)).0 as f64 / 48_000.0)
            .collect();
        assert_eq!(expected_seconds(&plan, anchor), first_strings, "{}", lesson.title);
    }
}

#[test]
fn milliseconds_become_enough_ticks() {
    for bpm in TEMPI {
        let grid = TempoGrid::new(48_000, tempo(bpm), QUARTER);
        let ticks = grid.ticks_in_ms(1300);
        assert!(grid.seconds(ticks) >= 1.3 - 1e-12 && grid.seconds(ticks - Tick(1)) < 1.3, "{bpm}");
    }
}
