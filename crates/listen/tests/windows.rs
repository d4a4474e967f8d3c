//! The timing window: never more than 0.40 of a slot, never meeting its neighbour, and patient enough.

use sixrung_lesson::{BeatUnit, Criterion, Grid, Level, Tempo};
use sixrung_listen::{LARGEST_SHARE_OF_SLOT, allowed_extras, allowed_faults, bias_limit_s, window_s};
use sixrung_timeline::TempoGrid;

const LEVELS: [Level; 3] = [Level::Beginner, Level::Improver, Level::Advanced];

#[test]
fn windows_take_at_most_two_fifths_of_a_slot_and_never_meet_at_any_tempo_on_any_grid() {
    let swings = [(2, 1), (3, 1), (3, 2), (1, 1), (16, 1), (1, 16)];
    let mut grids = vec![Grid::Quarters, Grid::Eighths, Grid::Triplets, Grid::Sixteenths];
    grids.extend(swings.map(|(long, short)| Grid::SwungEighths { long, short }));
    for bpm in 40..=240 {
        let tempo = Tempo::from_bpm(f64::from(bpm)).expect("within range");
        let time = TempoGrid::new(48_000, tempo, BeatUnit::Quarter.ticks());
        for grid in &grids {
            let starts: Vec<f64> = (0..=16).map(|slot| time.seconds(grid.slot_start(slot))).collect();
            let lengths: Vec<f64> = starts.windows(2).map(|pair| pair[1] - pair[0]).collect();
            let shorter = |slot: usize| lengths[slot].min(lengths[slot.saturating_sub(1)]);
            for level in LEVELS {
                for slot in 0..15 {
                    let (here, next) = (window_s(level, shorter(slot)), window_s(level, shorter(slot + 1)));
                    assert!(here <= LARGEST_SHARE_OF_SLOT * lengths[slot] + 1e-12, "{bpm} {grid:?} {slot}");
                    assert!(starts[slot] + here < starts[slot + 1] - next, "{bpm} {grid:?} {slot}");
                }
            }
        }
    }
}

#[test]
fn the_windows_and_the_forgiven_bias_are_those_of_the_level() {
    let check = |level, window_ms: f64, bias_ms: f64| {
        assert!((window_s(level, 10.0) - window_ms / 1000.0).abs() < 1e-12);
        assert!((bias_limit_s(level) - bias_ms / 1000.0).abs() < 1e-12);
    };
    check(Level::Beginner, 80.0, 50.0);
    check(Level::Improver, 60.0, 30.0);
    check(Level::Advanced, 40.0, 20.0);
}

#[test]
fn one_stroke_in_sixteen_may_be_a_fault_and_one_from_eight_on() {
    let check = |strokes, faults, extras| {
        assert_eq!(allowed_faults(&Criterion::default(), strokes), faults, "{strokes} strokes");
        assert_eq!(allowed_extras(strokes), extras, "{strokes} strokes");
    };
    for (strokes, faults, extras) in
        [(0, 0, 0), (7, 0, 0), (8, 1, 0), (16, 1, 0), (31, 1, 0), (32, 2, 1), (48, 3, 1), (160, 10, 5)]
    {
        check(strokes, faults, extras);
    }
    let strict = Criterion { allowed_faults: Some(0), ..Criterion::default() };
    assert_eq!(allowed_faults(&strict, 160), 0);
}
